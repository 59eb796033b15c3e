"""Names in a day that stand for nothing, and things that are named twice."""

from collections.abc import Hashable, Iterable, Iterator

from planner.day.day import Day
from planner.day.faults import Fault, Where, nearest, shown, suggestion
from planner.day.jobs import Job, Stage
from planner.trade.library import library


def unknown_names(day: Day) -> list[Fault]:
    """Every name that refers to nothing in the day, with what was likely meant, and every repetition."""
    return [
        *_of_day(day),
        *_of_kit(day),
        *(f for key, job in day.jobs.items() for f in _of_job(day, key, job)),
    ]


def _unknown(place: Where, names: Iterable[str], known: Iterable[str], kind: str) -> Iterator[Fault]:
    known = list(known)
    for name in names:
        if name not in known:
            yield Fault(place, None, f"unknown {kind} {shown(name)}", suggestion(name, _meant(name, known, kind), kind))


def _meant(name: str, known: list[str], kind: str) -> list[str]:
    """The names among which what was meant is: those known; of kit, which may be the library's, else one from there."""
    near = nearest(name, library().kit) if kind == "kit" and nearest(name, known) is None else None
    return known if near is None else [near]


def _repeated(place: Where, names: Iterable[Hashable], what: str) -> Iterator[Fault]:
    seen: set[Hashable] = set()
    for name in names:
        if name in seen:
            said = name if isinstance(name, str) else " and ".join(str(part) for part in name)  # type: ignore[attr-defined]
            yield Fault(place, None, f"{what} {shown(said)} stands here twice", "name it once")
        seen.add(name)


def _named(place: Where, names: tuple[str, ...], known: Iterable[str], kind: str) -> Iterator[Fault]:
    """A list of names: each known, none twice."""
    yield from _unknown(place, names, known, kind)
    yield from _repeated(place, names, kind)


def _of_day(day: Day) -> Iterator[Fault]:
    yield from _unknown(("van", "starts_at"), [day.van.starts_at], day.places, "place")
    yield from _unknown(("van", "ends_at"), [day.van.ends_at], day.places, "place")
    yield from _repeated(("van", "groups"), day.van.groups, "group")
    pairs: set[tuple[str, str]] = set()
    for i, trip in enumerate(day.travel.trips):
        at: Where = ("travel", "trips", i)
        yield from _unknown((*at, "from"), [trip.from_], day.places, "place")
        yield from _unknown((*at, "to"), [trip.to], day.places, "place")
        if trip.from_ == trip.to:
            yield Fault(at, None, f"the trip leads from {shown(trip.to)} to itself", "name two places")
        ways = {(trip.from_, trip.to)} | (set() if trip.one_way else {(trip.to, trip.from_)})
        if (trip.from_, trip.to) in pairs:
            wrong = f"the trip from '{trip.from_}' to '{trip.to}' is given twice"
            yield Fault(at, None, wrong, "keep one, or mark both with one_way = true")
        pairs |= ways


def _of_kit(day: Day) -> Iterator[Fault]:
    for key, kit in day.kit.items():
        yield from _named(("kit", key, "needs"), kit.needs, day.kit, "kit")
        yield from _repeated(("kit", key, "supply"), kit.supply, "supply")
        yield from _of_group(day, ("kit", key, "group"), kit.group)
    for key, material in day.materials.items():
        yield from _of_group(day, ("materials", key, "group"), material.group)


def _of_group(day: Day, place: Where, group: str) -> Iterator[Fault]:
    if group and day.van.groups:
        yield from _unknown(place, [group], day.van.groups, "group of the van's load")


def _of_job(day: Day, key: str, job: Job) -> Iterator[Fault]:
    at: Where = ("jobs", key)
    yield from _unknown((*at, "place"), [job.place], day.places, "place")
    for name, ground in job.grounds.items():
        yield from _named((*at, "grounds", name, "way_in", "over"), ground.way_in.over, job.surfaces, "surface")
    for name, surface in job.surfaces.items():
        here = (*at, "surfaces", name)
        yield from _unknown((*here, "ground"), [surface.ground], job.grounds, "ground")
        for word in ("worked_from", "over", "drains_to"):
            yield from _named((*here, word), getattr(surface, word), job.surfaces, "surface")
        if name in surface.drains_to:
            yield Fault((*here, "drains_to"), None, f"'{name}' names itself", "name other surfaces only")
    for name, stage in job.stages.items():
        yield from _of_stage(day, job, (*at, "stages", name), stage)
    yield from _of_waits(job, at)
    for i, pair in enumerate(job.apart):
        yield from _named((*at, "apart", i), pair, job.stages, "stage")
    yield from _repeated((*at, "apart"), [tuple(sorted(pair)) for pair in job.apart], "the pair")
    yield from _named((*at, "customer", "keeps"), job.customer.keeps, day.materials, "material")
    for item, stages in job.quoted.items():
        yield from _named((*at, "quoted", item), stages, job.stages, "stage")


def _of_stage(day: Day, job: Job, at: Where, stage: Stage) -> Iterator[Fault]:
    yield from _unknown((*at, "surface"), [stage.surface], job.surfaces, "surface")
    yield from _named((*at, "after"), stage.after, job.stages, "stage")
    yield from _named((*at, "spares"), stage.spares, job.surfaces, "surface")
    yield from _named((*at, "lies_on"), stage.lies_on, job.surfaces, "surface")
    yield from _named((*at, "stays_for"), stage.stays_for or (), job.stages, "stage")
    if stage.by_hand is not None:
        yield from _unknown((*at, "by_hand"), [stage.by_hand], day.hands, "hand")
    for name, method in stage.methods.items():
        here = (*at, "methods", name)
        yield from _named((*here, "kit"), method.kit, day.kit, "kit")
        for word, names in (("uses", method.uses), ("expected", method.expected), ("leaves", method.leaves)):
            yield from _unknown((*here, word), names, day.materials, "material")


def _of_waits(job: Job, at: Where) -> Iterator[Fault]:
    seen: set[tuple[str, str | None]] = set()
    for i, wait in enumerate(job.waits):
        here = (*at, "waits", i)
        for word, name in (("after", wait.after), ("before", wait.before), ("extended_by", wait.extended_by)):
            if name is not None:
                yield from _unknown((*here, word), [name], job.stages, "stage")
        if (wait.after, wait.before) in seen:
            between = f"after '{wait.after}'" + (f" and before '{wait.before}'" if wait.before else "")
            yield Fault(here, None, f"a second wait {between}", "keep one wait, with the bounds of both")
        seen.add((wait.after, wait.before))
