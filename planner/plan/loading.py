"""What must be in the van for a plan, and how much of it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from planner.day import Day
from planner.plan.plan import Plan

SHEETS = "Floor protection sheets"

LoadKind = Literal["kit", "attachment", "material", "protection", "wear", "consumable"]


@dataclass(frozen=True, slots=True)
class Load:
    """One line of the load list: what, how many, for which jobs, and when it is first needed."""

    group: str
    kind: LoadKind
    key: str
    name: str
    count: int
    jobs: tuple[str, ...]
    needed_at: int
    container: str = ""
    mass: float | None = None
    """Of one, in kg."""


@dataclass(frozen=True, slots=True)
class Used:
    """Containers of a material that a stage uses."""

    job: str
    stage: str
    material: str
    count: int
    at: int


def loads(day: Day, plan: Plan) -> list[Load]:
    """The load list: groups in the van's order, then others by name; inside one, what is needed last comes first."""
    known = list(day.van.groups)
    found = [*_kit(day, plan), *_materials(day, plan), *_protection(day, plan), *_small_things(day, plan)]

    def place(load: Load) -> tuple[int, str, int, str]:
        rank = known.index(load.group) if load.group in known else len(known)
        return rank, "" if load.group in known else load.group, -load.needed_at, load.name

    return sorted(found, key=place)


def uses(day: Day, plan: Plan) -> list[Used]:
    """The material that each planned stage uses, in order of time."""
    return [
        Used(w.job, w.stage, material, count, w.start)
        for w in sorted(plan.works, key=lambda w: w.start)
        for material, count in day.jobs[w.job].stages[w.stage].methods[w.method].uses.items()
        if count
    ]


def _kit(day: Day, plan: Plan) -> Iterator[Load]:
    for key, kit in day.kit.items():
        stays = [s for s in plan.stays if s.kit == key]
        if not stays:
            continue
        walks = [_walk(day, s.job, s.ground) for s in stays]
        out = [(s.carried_in - w, s.carried_out + w) for s, w in zip(stays, walks, strict=True)]
        count = max(sum(one <= start < two for one, two in out) for start, _ in out)
        jobs, first = _once(s.job for s in stays), min(start for start, _ in out)
        yield Load(kit.group, "kit", key, kit.name or key, max(1, count), jobs, first, mass=kit.mass)
        for attachment in kit.attachments:
            yield Load(kit.group, "attachment", key, attachment, max(1, count), jobs, first)


def _walk(day: Day, job: str, ground: str) -> int:
    way_in = day.jobs[job].grounds[ground].way_in
    return 0 if way_in.is_open else way_in.minutes


def _materials(day: Day, plan: Plan) -> Iterator[Load]:
    used = uses(day, plan)
    for key, material in day.materials.items():
        own = [u for u in used if u.material == key]
        if own:
            count, jobs, first = sum(u.count for u in own), _once(u.job for u in own), own[0].at
            name, mass = material.name or key, material.mass
            yield Load(material.group, "material", key, name, count, jobs, first, material.container, mass)


def _protection(day: Day, plan: Plan) -> Iterator[Load]:
    """A set of sheets for each way in that we protect; a set is used again at the next job."""
    laid = [c for c in plan.chores if c.what == "lay"]
    if laid:
        at_once = max(_down_at(plan, chore.start) for chore in laid)
        first = min(c.start for c in laid)
        yield Load("", "protection", "", SHEETS, max(1, at_once), _once(c.job for c in laid), first, "set")


def _down_at(plan: Plan, minute: int) -> int:
    """How many ways in have our sheets down at a minute."""
    down = 0
    for lay in plan.chores:
        if lay.what == "lay" and lay.start <= minute:
            here = (lay.job, lay.visit, lay.ground)
            lifts = [c.end for c in plan.chores if c.what == "lift" and (c.job, c.visit, c.ground) == here]
            down += not lifts or minute < lifts[0]
    return down


def _small_things(day: Day, plan: Plan) -> Iterator[Load]:
    """What is worn, one for each hand of the stages that ask for it, and what is used up in passing."""
    kinds: tuple[tuple[LoadKind, str], ...] = (("wear", "wear"), ("consumable", "consumables"))
    for kind, field in kinds:
        found: dict[str, list[tuple[int, str, tuple[str, ...]]]] = {}
        for w in plan.works:
            for name in getattr(day.jobs[w.job].stages[w.stage], field):
                found.setdefault(name, []).append((w.start, w.job, w.hands))
        for name, times in found.items():
            hands = {hand for _, _, who in times for hand in who}
            count = len(hands) if kind == "wear" else len(times)
            yield Load("", kind, "", name, count, _once(job for _, job, _ in times), min(t for t, _, _ in times))


def _once(keys: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(keys))
