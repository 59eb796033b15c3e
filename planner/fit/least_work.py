"""How much work a day is at the very least: sums that need no search and that no order of the work can get below."""

import math
from dataclasses import dataclass

from planner.day import Day, Job
from planner.trade.lifting import KG_OF_AN_ARMFUL
from planner.trade.units import show_minutes


@dataclass(frozen=True, slots=True)
class LeastWork:
    """Minutes of hands' work that no plan can do without, the shortest driving, and the hands it is shared among.

    Each stage by its quickest method; kit that every method takes set up and packed down once on each ground; as many
    crossings as its loads need; floor protection once.
    """

    work: int
    setting_up: int
    carrying: int
    driving: int
    hands: int

    @property
    def by_hands(self) -> int:
        """All that is shared among the hands."""
        return self.work + self.setting_up + self.carrying

    @property
    def minutes(self) -> int:
        """No plan is home sooner than this after it leaves, even with all hands busy all the time."""
        return self.driving + math.ceil(self.by_hands / self.hands)

    @property
    def words(self) -> str:
        """What comes to how much."""
        shared = "" if self.hands == 1 else f", shared among {self.hands} hands,"
        return f"hands-on work, setting up, carrying and driving alone{shared} come to {show_minutes(self.minutes)}"


def least_work(day: Day) -> LeastWork:
    """The least that a day asks of its hands."""
    work = setting_up = carrying = 0
    for key, job in day.jobs.items():
        sure = [s for s, stage in job.stages.items() if not stage.only_if_needed]
        work += sum(_quickest(job, s) for s in sure)
        for ground in job.grounds:
            stages = [s for s in sure if job.ground_of(s) == ground]
            if stages:
                up, carried = _fetching(day, key, ground, stages)
                setting_up, carrying = setting_up + up, carrying + carried
    return LeastWork(work, setting_up, carrying, _shortest_driving(day), len(day.hands))


def _quickest(job: Job, stage: str) -> int:
    methods = job.stages[stage].methods
    return min(job.likely_minutes(stage, m) * method.hands for m, method in methods.items())


def _fetching(day: Day, key: str, ground: str, stages: list[str]) -> tuple[int, int]:
    """Least minutes of setting up and packing down, and of carrying, on one ground."""
    job = day.jobs[key]
    way = job.grounds[ground].way_in
    sure: set[str] = set()
    load = 0.0
    for stage in stages:
        methods = job.stages[stage].methods.values()
        sure |= set.intersection(*(set(day.kit_closure(m.kit)) for m in methods))
        load += min(sum(day.materials[m].load * count for m, count in method.uses.items()) for method in methods)
    pieces = [day.kit[k] for k in sure]
    chores = sum((k.set_up + k.pack_down + k.rinsing) * (k.lift if way.is_open else 1) for k in pieces)
    if way.is_open:
        return chores, 0
    load += sum(k.load for k in pieces)
    rolling = [k.wheels / KG_OF_AN_ARMFUL for k in day.kit.values() if k.wheels and k.own and way.wheeled]
    crossings = max(1, math.ceil(load / max([way.load_limit, *rolling]) - 1e-9))
    protection = way.lay + way.lift if way.protection == "ours" else 0
    return chores, 2 * way.minutes * crossings + protection


def _shortest_driving(day: Day) -> int:
    """Each job is reached from somewhere, and the last leads home."""
    places = {job.place for job in day.jobs.values()}

    def least(ends: list[tuple[str, str]]) -> int:
        return min((day.drive_minutes(*pair) for pair in ends), default=0)

    to = sum(least([(a, p) for a in {day.van.starts_at, *places} - {p}]) for p in places)
    return to + least([(p, day.van.ends_at) for p in places])
