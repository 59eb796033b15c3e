"""What has really happened of a plan by some minute of the day: the record a person gives, and the past it makes.

Nobody notes every walk and set-up. What a hand did before the last stage that was noted for them is taken to have
happened in the order of the plan; what comes after it has not, but for the time that has passed. A hand for whom
nothing is noted is taken to be where the plan had them.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from planner.day import Day
from planner.plan.plan import Chore, Crossing, Drive, Plan, Rest, Stay, Visit, Work

NOT_YET = 10**6
"""Stands for the end of what is still under way."""


@dataclass(frozen=True, slots=True)
class Noted:
    """A stage that was begun, and perhaps done; minutes of the day, None where they were not noted."""

    job: str
    stage: str
    start: int | None = None
    end: int | None = None


@dataclass(frozen=True)
class Progress:
    """What is said of the day at minute ``at``.

    ``dropped`` are stages given up for today (job, stage); ``arrived`` maps a job to when the van got there; ``gone``
    maps a hand to when they went home; ``rain`` is the minute from which it rains.
    """

    at: int
    noted: tuple[Noted, ...] = ()
    dropped: tuple[tuple[str, str], ...] = ()
    arrived: dict[str, int] = field(default_factory=dict)
    gone: dict[str, int] = field(default_factory=dict)
    rain: int | None = None

    def of(self, work: Work) -> Noted | None:
        """What was noted of a planned stage."""
        return next((n for n in self.noted if (n.job, n.stage) == (work.job, work.stage)), None)


@dataclass(frozen=True)
class Past:
    """The part of a plan that has happened, with its real times, and the stages taken as done without a note."""

    plan: Plan
    assumed: tuple[tuple[str, str], ...]

    def is_done(self, job: str, stage: str) -> bool:
        """Whether a stage is over."""
        work = self.plan.work(job, stage)
        return work is not None and work.end < NOT_YET


@dataclass
class _Duty:
    """One thing in the plan that hands do, with its real times as they become known."""

    item: Work | Chore | Rest | Drive | Crossing
    kind: str
    hands: tuple[str, ...]
    start: int
    end: int
    happened: bool = False
    fixed: bool = False

    @property
    def minutes(self) -> int:
        return self.end - self.start


def past_of(day: Day, plan: Plan, progress: Progress) -> Past:
    """What has happened of a plan by ``progress.at``.

    Raises
    ------
    ValueError
        When the record names a stage, job or hand that the plan does not have, or a time that is still to come.
    """
    _check(day, plan, progress)
    duties = _duties(day, plan)
    _mark(duties, plan, progress)
    happened = [d for d in duties if d.happened]
    _time(happened, progress)
    assumed = tuple(
        (d.item.job, d.item.stage)
        for d in happened
        if isinstance(d.item, Work) and progress.of(d.item) is None and d.end < NOT_YET
    )
    return Past(_as_plan(day, plan, happened, progress), assumed)


def _check(day: Day, plan: Plan, progress: Progress) -> None:
    for noted in progress.noted:
        if plan.work(noted.job, noted.stage) is None:
            raise ValueError(f"the plan has no stage '{noted.job}.{noted.stage}'")
        for minute in (noted.start, noted.end):
            if minute is not None and minute > progress.at:
                raise ValueError(f"'{noted.job}.{noted.stage}' cannot have begun or ended after now")
        if noted.start is not None and noted.end is not None and noted.end < noted.start:
            raise ValueError(f"'{noted.job}.{noted.stage}' cannot end before it begins")
    for job in progress.arrived:
        if job not in day.jobs:
            raise ValueError(f"the day has no job '{job}'")
    for hand in progress.gone:
        if hand not in day.hands:
            raise ValueError(f"the day has no hand '{hand}'")


def _duties(day: Day, plan: Plan) -> list[_Duty]:
    """Everything hands do, in the order of the plan; a crossing is two walks, its drive is all riders'."""
    riders = tuple(h for h, hand in day.hands.items() if not hand.own_transport)
    duties = [_Duty(d, "drive", riders, d.start, d.end) for d in plan.drives]
    duties += [_Duty(w, "stage", w.hands, w.start, w.end) for w in plan.works]
    duties += [_Duty(c, "chore", c.hands, c.start, c.end) for c in plan.chores]
    duties += [_Duty(r, "rest", (r.hand,), r.start, r.end) for r in plan.rests]
    for c in plan.crossings:
        walk = day.jobs[c.job].grounds[c.ground].way_in.minutes
        duties.append(_Duty(c, "in", (c.hand,), c.start, c.start + walk))
        duties.append(_Duty(c, "out", (c.hand,), c.end - walk, c.end))
    return sorted(duties, key=lambda d: (d.start, d.end))


def _mark(duties: list[_Duty], plan: Plan, progress: Progress) -> None:
    """Mark what has happened: all up to the last noted stage of each hand, or by the clock where nothing is noted."""
    for hand in {h for d in duties for h in d.hands}:
        own = [d for d in duties if hand in d.hands]
        noted = [n for n, d in enumerate(own) if isinstance(d.item, Work) and progress.of(d.item) is not None]
        arrived = [
            n
            for n, d in enumerate(own)
            if isinstance(d.item, Drive)
            and any(v.job in progress.arrived and v.arrive == d.item.end for v in plan.visits)
        ]
        if noted or arrived:
            for duty in own[: max([*noted, *arrived]) + 1]:
                duty.happened = True
        else:
            for duty in own:
                duty.happened = duty.start < progress.at
    changed = True
    while changed:
        changed = False
        for n, duty in enumerate(duties):
            if duty.happened:
                for before in duties[:n]:
                    if not before.happened and set(before.hands) & set(duty.hands):
                        before.happened = changed = True


def _time(happened: list[_Duty], progress: Progress) -> None:
    """Real times: later where something before took longer, earlier where a note says so."""
    free: dict[str, int] = {}
    for duty in happened:
        note = progress.of(duty.item) if isinstance(duty.item, Work) else None
        minutes, ready = duty.minutes, max((free.get(h, 0) for h in duty.hands), default=0)
        start = max(duty.start, ready)
        end = start + minutes
        if note is not None:
            duty.fixed = True
            end = NOT_YET if note.end is None else note.end
            start = note.start if note.start is not None else min(start, max(ready, end - minutes), end)
            if note.end is None and note.start is None:
                start = min(start, progress.at)
        elif isinstance(duty.item, Work) and end > progress.at:
            end = NOT_YET
        duty.start, duty.end = start, end
        free |= dict.fromkeys(duty.hands, min(end, progress.at) if end == NOT_YET else end)
    latest: dict[str, int] = {}
    for duty in reversed(happened):
        limit = min((latest.get(h, NOT_YET) for h in duty.hands), default=NOT_YET)
        if duty.end > limit and duty.end != NOT_YET:
            shift = duty.end - limit
            duty.end = limit
            duty.start = min(duty.start, limit) if duty.fixed else duty.start - shift
        latest |= dict.fromkeys(duty.hands, duty.start)


def _as_plan(day: Day, plan: Plan, happened: list[_Duty], progress: Progress) -> Plan:
    """The happened part of a plan as a plan of its own; what is under way ends `NOT_YET`."""
    legs = {(id(d.item), d.kind): d for d in happened if isinstance(d.item, Crossing)}
    crossings: list[Crossing] = []
    for c in plan.crossings:
        into, out = legs.get((id(c), "in")), legs.get((id(c), "out"))
        if into is not None:
            carried_out = c.carried_out if out is not None else ()
            crossings.append(
                replace(c, start=into.start, end=NOT_YET if out is None else out.end, carried_out=carried_out)
            )
    drives = [replace(d.item, start=d.start, end=d.end) for d in happened if isinstance(d.item, Drive)]
    drives = _driven(drives, plan, progress)
    return Plan(
        drives=tuple(drives),
        visits=tuple(_visits(plan, drives)),
        works=tuple(replace(d.item, start=d.start, end=d.end) for d in happened if isinstance(d.item, Work)),
        crossings=tuple(crossings),
        stays=tuple(_stays(day, plan, happened, legs)),
        chores=tuple(replace(d.item, start=d.start, end=d.end) for d in happened if isinstance(d.item, Chore)),
        rests=tuple(replace(d.item, start=d.start, end=d.end) for d in happened if isinstance(d.item, Rest)),
    )


def _driven(drives: list[Drive], plan: Plan, progress: Progress) -> list[Drive]:
    """Drives as they really were: one that arrived at another time than planned set off so much later or sooner."""
    driven = []
    for drive in drives:
        pairs = zip(plan.visits, plan.drives, strict=False)
        job = next((visit.job for visit, leads in pairs if leads.to_place == drive.to_place), None)
        arrived = progress.arrived.get(job or "")
        shift = 0 if arrived is None else arrived - drive.end
        driven.append(replace(drive, start=drive.start + shift, end=drive.end + shift))
    return driven


def _visits(plan: Plan, drives: list[Drive]) -> Iterable[Visit]:
    """Visits that have begun: each is reached by a drive, and left by the next."""
    for n, (visit, drive) in enumerate(zip(plan.visits, drives, strict=False)):
        depart = drives[n + 1].start if n + 1 < len(drives) else NOT_YET
        yield replace(visit, arrive=drive.end, depart=depart)


def _stays(day: Day, plan: Plan, happened: list[_Duty], legs: dict[tuple[int, str], _Duty]) -> Iterable[Stay]:
    """Stays that have begun, from the legs and chores that have happened."""
    chores = {
        (d.item.job, d.item.ground, d.item.kit, d.item.stay, d.item.what): d
        for d in happened
        if isinstance(d.item, Chore)
    }
    for stay in plan.stays:
        way = day.jobs[stay.job].grounds[stay.ground].way_in
        key = (stay.job, stay.ground, stay.kit, stay.number)
        if way.is_open:
            came, left = chores.get((*key, "set up")), chores.get((*key, "pack down"))
            carried_in = None if came is None else came.start
            carried_out = NOT_YET if left is None else left.end
            if carried_in is None and not day.kit[stay.kit].set_up and not way.minutes:
                carried_in = next((w.start for w in _users(happened, stay)), None)
        else:
            came = _leg(plan, legs, stay, inward=True, walk=way.minutes)
            left = _leg(plan, legs, stay, inward=False, walk=way.minutes)
            carried_in = None if came is None else came.end
            carried_out = NOT_YET if left is None else left.start
        if carried_in is not None:
            yield replace(stay, carried_in=carried_in, carried_out=carried_out)


def _users(happened: list[_Duty], stay: Stay) -> Iterable[_Duty]:
    for d in happened:
        if isinstance(d.item, Work) and d.item.job == stay.job and (stay.kit, stay.number) in d.item.stays:
            yield d


def _leg(plan: Plan, legs: dict[tuple[int, str], _Duty], stay: Stay, *, inward: bool, walk: int) -> _Duty | None:
    """The leg that brought or took a stay's kit, if it has happened."""
    for c in plan.crossings:
        if (c.job, c.ground) != (stay.job, stay.ground):
            continue
        carried = c.carried_in if inward else c.carried_out
        when = c.start + walk == stay.carried_in if inward else c.end - walk == stay.carried_out
        if when and any(x.what == stay.kit for x in carried):
            return legs.get((id(c), "in" if inward else "out"))
    return None
