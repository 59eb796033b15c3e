"""What must be in the van for a plan, and how much of it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from planner.day import Day
from planner.day.names import called
from planner.plan.called_for import Cause, called_for
from planner.plan.containers_taken import containers_taken
from planner.plan.exposed import worn_for
from planner.plan.out_again import out_again
from planner.plan.plan import Plan, Stay, Work
from planner.trade.cautions import all_cautions

SHEETS = "Floor protection sheets"
TANK_WATER = "Water in the van's tank"
TAP = "tap"

LoadKind = Literal["kit", "attachment", "material", "bag", "protection", "wear", "consumable", "safety"]

OTHER_GROUPS: dict[LoadKind, str] = {
    "kit": "everything else",
    "attachment": "everything else",
    "material": "material",
    "bag": "small things",
    "protection": "small things",
    "consumable": "small things",
    "wear": "to wear",
    "safety": "for safety",
}
"""The group of what has none in the day; these come after the van's own groups."""


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
    expected: float | None = None
    """Of material, the containers that the work is reckoned to use; the others come back."""
    litres: float | None = None
    """Of water in the tank."""
    comes_back: float | None = None
    """Of bags, what they and what is in them weigh on the way home, in kg."""


@dataclass(frozen=True, slots=True)
class Used:
    """Containers of a material that a stage takes, and how many it is reckoned to use up."""

    job: str
    stage: str
    material: str
    count: int
    at: int
    expected: float | None = None


@dataclass(frozen=True, slots=True)
class Drawn:
    """Water that a stage draws, in litres, from a tap on the ground or from the van's tank."""

    job: str
    stage: str
    litres: float
    at: int
    from_tap: bool


def loads(day: Day, plan: Plan) -> list[Load]:
    """The load list in the order in which it comes out of the van.

    The van's groups in their order, then the other groups by name; in a group what is needed first comes first, and
    the attachments of a kit come right after it.
    """
    known = list(day.van.groups)
    makers = (_kit, _wheels, _attachments, _materials, _bags, _tank_water, _protection, _small_things, _safety)
    found = [load for make in makers for load in make(day, plan)]

    def place(load: Load) -> tuple[int, str, int, str, bool, str]:
        rank = known.index(load.group) if load.group in known else len(known)
        group = "" if load.group in known else load.group
        return rank, group, load.needed_at, load.key, load.kind == "attachment", load.name

    return sorted(found, key=place)


def uses(day: Day, plan: Plan) -> list[Used]:
    """The material that each planned stage uses, in order of time."""
    found = []
    for w in sorted(plan.works, key=lambda w: w.start):
        method = day.jobs[w.job].stages[w.stage].methods[w.method]
        for material in dict.fromkeys([*method.uses, *method.expected]):
            count, expected = method.uses.get(material, 0), method.expected.get(material)
            if count or expected:
                found.append(Used(w.job, w.stage, material, count, w.start, expected))
    return found


def reckoned(used: Iterable[Used]) -> float | None:
    """The containers that are expected to be used of those taken; None when a stage that takes some does not say."""
    listed = list(used)
    if any(one.expected is None for one in listed):
        return None
    return sum(one.expected or 0.0 for one in listed)


def water(day: Day, plan: Plan) -> list[Drawn]:
    """The water that each planned stage draws, in order of time."""
    found = []
    for w in sorted(plan.works, key=lambda w: w.start):
        method = day.jobs[w.job].stages[w.stage].methods[w.method]
        if method.draws:
            from_tap = any(TAP in day.kit[key].supply for key in day.kit_closure(method.kit))
            found.append(Drawn(w.job, w.stage, method.draws, w.start, from_tap))
    return found


def water_from(drawn: Drawn) -> str:
    """From where it comes, in words."""
    return "Water from the tap" if drawn.from_tap else "Water from the van's tank"


def _kit(day: Day, plan: Plan) -> Iterator[Load]:
    for key, kit in day.kit.items():
        stays = [s for s in plan.stays if s.kit == key]
        if stays:
            out = [_out(day, plan, s) for s in stays]
            jobs, first = _once(s.job for s in stays), min(start for start, _ in out)
            group = kit.group or OTHER_GROUPS["kit"]
            yield Load(group, "kit", key, called(kit, key), _at_once(out), jobs, first, mass=kit.mass)


def _wheels(day: Day, plan: Plan) -> Iterator[Load]:
    """Sack trucks and barrows: they go along on crossings and have no stays."""
    for key, kit in day.kit.items():
        rolling = [c for c in plan.crossings if c.wheels == key]
        if rolling:
            jobs, first = _once(c.job for c in rolling), min(c.start for c in rolling)
            count = _at_once([(c.start, c.end) for c in rolling])
            group = kit.group or OTHER_GROUPS["kit"]
            yield Load(group, "kit", key, called(kit, key), count, jobs, first, mass=kit.mass)


def _bags(day: Day, plan: Plan) -> Iterator[Load]:
    """Empty bags for what the work leaves; a bag that is full stays in the van."""
    waste = [one for one in out_again(day, plan) if one.is_waste]
    for key in dict.fromkeys(one.material for one in waste):
        material, own = day.materials[key], [one for one in waste if one.material == key]
        group, first = material.group or OTHER_GROUPS["bag"], min(one.ready for one in own)
        name, count, jobs = called(material, key), sum(one.count for one in own), _once(one.job for one in own)
        mass, back = material.empty_mass or None, sum(one.mass(day) for one in own) or None
        yield Load(group, "bag", key, name, count, jobs, first, material.container, mass, comes_back=back)


def _attachments(day: Day, plan: Plan) -> Iterator[Load]:
    """What goes with kit, each once, beside the kit that needs it first: kit that is not out at once shares it."""
    with_it = dict[str, list[Stay]]()
    for stay in sorted(plan.stays, key=lambda s: (_out(day, plan, s), s.kit)):
        for name in day.kit[stay.kit].attachments:
            with_it.setdefault(name, []).append(stay)
    for name, stays in with_it.items():
        key, out = stays[0].kit, [_out(day, plan, s) for s in stays]
        group = day.kit[key].group or OTHER_GROUPS["kit"]
        yield Load(group, "attachment", key, name, _at_once(out), _once(s.job for s in stays), out[0][0])


def _out(day: Day, plan: Plan, stay: Stay) -> tuple[int, int]:
    """From when to when kit is away from the van; where it lies between two stays there is no walk."""
    walk = _walk(day, stay.job, stay.ground)
    come, go = stay.follows is None, stay.key not in plan.followed
    return stay.carried_in - walk * come, stay.carried_out + walk * go


def _at_once(out: Sequence[tuple[int, int]]) -> int:
    """How many are out at the most at one minute."""
    return max(1, *(sum(one <= start < two for one, two in out) for start, _ in out))


def _walk(day: Day, job: str, ground: str) -> int:
    way_in = day.jobs[job].grounds[ground].way_in
    return 0 if way_in.is_open else way_in.minutes


def _materials(day: Day, plan: Plan) -> Iterator[Load]:
    used = uses(day, plan)
    for key, material in day.materials.items():
        own = [u for u in used if u.material == key]
        if own:
            count, jobs, first = containers_taken(day, plan, key), _once(u.job for u in own), own[0].at
            group, name, mass = material.group or OTHER_GROUPS["material"], called(material, key), material.mass
            yield Load(group, "material", key, name, count, jobs, first, material.container, mass, reckoned(own))


def _tank_water(day: Day, plan: Plan) -> Iterator[Load]:
    """What the tank must hold, or be filled up with on the way where it holds less."""
    drawn = [one for one in water(day, plan) if not one.from_tap]
    if drawn:
        litres, jobs = sum(one.litres for one in drawn), _once(one.job for one in drawn)
        group = OTHER_GROUPS["material"]
        yield Load(group, "material", "", TANK_WATER, 1, jobs, drawn[0].at, "tank", mass=litres, litres=litres)


def _protection(day: Day, plan: Plan) -> Iterator[Load]:
    """A set of sheets for each way in that we protect; a set is used again at the next job."""
    laid = [c for c in plan.chores if c.what == "lay"]
    if laid:
        at_once = max(_down_at(plan, chore.start) for chore in laid)
        first = min(c.start for c in laid)
        jobs, group = _once(c.job for c in laid), OTHER_GROUPS["protection"]
        yield Load(group, "protection", "", SHEETS, max(1, at_once), jobs, first, "set")


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
    worn, used_up = dict[str, list[Work]](), dict[str, list[Work]]()
    for work in plan.works:
        stage = day.jobs[work.job].stages[work.stage]
        for name in worn_for(day, work):
            worn.setdefault(name, []).append(work)
        for name in (*stage.consumables, *stage.methods[work.method].consumables):
            used_up.setdefault(name, []).append(work)
    for name, works in worn.items():
        yield _small_thing("wear", name, len({hand for work in works for hand in work.hands}), works)
    for name, works in used_up.items():
        yield _small_thing("consumable", name, len(works), works)


def _small_thing(kind: LoadKind, name: str, count: int, works: list[Work]) -> Load:
    first = min(work.start for work in works)
    return Load(OTHER_GROUPS[kind], kind, "", name, count, _once(work.job for work in works), first)


def _safety(day: Day, plan: Plan) -> Iterator[Load]:
    """What the cautions of the day ask for, each once; what goes with the kit anyway is not listed again."""
    called, listed = called_for(day, plan), {name for stay in plan.stays for name in day.kit[stay.kit].attachments}
    wanted: dict[str, list[Cause]] = {}
    for caution in all_cautions():
        for name in caution.bring:
            if caution.tag in called and name not in listed:
                wanted.setdefault(name, []).extend(called[caution.tag])
    for name, causes in wanted.items():
        jobs = _once(cause.job for cause in causes if cause.job)
        first = min(cause.at for cause in causes)
        yield Load(OTHER_GROUPS["safety"], "safety", "", name, 1, jobs, first)


def _once(keys: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(keys))
