"""A day and its plan as the picture reads them: things, zones, lanes, and where the van goes."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from planner.day import Day
from planner.day.names import Names
from planner.plan.plan import Drive, Plan, Visit
from planner.sheet.chart.things import Bar, Pool, Stripe, Tread, Zone
from planner.trade.units import show_clock


@dataclass(slots=True)
class Scene:
    """All that the picture shows of a plan, in minutes."""

    day: Day
    plan: Plan
    names: Names
    jobs: list[str] = field(default_factory=list)
    lanes: list[list[str]] = field(default_factory=list)
    bars: list[Bar] = field(default_factory=list)
    steps: list[Tread] = field(default_factory=list)
    pools: list[Pool] = field(default_factory=list)
    bands: list[Stripe] = field(default_factory=list)

    def zones(self, job: str) -> list[Zone]:
        """The zones of a job from the top: at the van, then each ground behind a threshold."""
        closed = [key for key, ground in self.day.jobs[job].grounds.items() if not ground.way_in.is_open]
        return [(job, None), *((job, key) for key in closed)]

    def open_grounds(self, job: str) -> list[str]:
        """The names of a job's grounds whose way in is open."""
        grounds = self.day.jobs[job].grounds.items()
        return [self.names.ground(job, key) for key, ground in grounds if ground.way_in.is_open]

    def way_words(self, zone: Zone) -> str:
        """How a ground is reached: "through the house, 2 min"."""
        way = self.day.jobs[zone[0]].grounds[zone[1] or ""].way_in
        through = self.names.way(zone[0], zone[1] or "") if way.through else "restricted" if way.restricted else ""
        return f"{through}, {way.minutes}\N{NO-BREAK SPACE}min" if through else f"{way.minutes} min away"

    def job_words(self, job: str) -> str:
        """A job in words: its title, where, when somebody is there, and how its grounds are reached."""
        start, end = self.extent(job)
        told = [f"{self.names.job(job)}, {self.names.place(self.day.jobs[job].place)}"]
        told.append(f"from {show_clock(start)} to {show_clock(end)}")
        told += [f"{self.names.ground(job, key)} {self.way_words((job, key))}" for _, key in self.zones(job) if key]
        return ", ".join(told)

    def extent(self, job: str) -> tuple[int, int]:
        """From the first arrival at a job to the last departure."""
        visits = [visit for visit in self.plan.visits if visit.job == job]
        return min(visit.arrive for visit in visits), max(visit.depart for visit in visits)

    def lane_of(self, job: str) -> int:
        """The number of a job's lane from the top."""
        return next(number for number, lane in enumerate(self.lanes) if job in lane)

    def visit_at(self, drive: Drive, *, is_end: bool) -> Visit | None:
        """The visit that a drive leaves or leads to; None on the way from or to a place without a job."""
        for visit in self.plan.visits:
            if visit.arrive == drive.end if is_end else visit.depart == drive.start:
                return visit
        return None

    def drives_through(self, job: str, *, below: bool) -> list[tuple[int, int]]:
        """From and to of the drives that lead through a job's lane, above or below its track at the van."""
        lane, spans = self.lane_of(job), []
        for drive in self.plan.drives:
            visits = (self.visit_at(drive, is_end=is_end) for is_end in (False, True))
            ends = [-1 if visit is None else self.lane_of(visit.job) for visit in visits]
            is_passed = min(ends) <= lane < max(ends) if below else min(ends) < lane <= max(ends)
            if is_passed or (not below and ends == [lane, lane]):
                spans.append((drive.start, drive.end))
        return spans

    def hands_in(self, zones: Sequence[Zone]) -> list[str]:
        """The hands that are ever in any of these, in the order of the day."""
        there: set[str] = set()
        for job, ground in zones:
            if ground is not None:
                there |= {step.hand for step in self.steps if step.zone == (job, ground)}
                continue
            here = {hand for hand, own in self.day.hands.items() if not own.own_transport}
            here |= {a.hand for a in self.plan.attendances if a.job == job}
            there |= here & {bar.hand for bar in self.bars if bar.zone[0] == job} or here
        return [hand for hand in self.day.hands if hand in there]
