"""When each thing in a plan really happened, and whether it has: what is noted holds, the rest gives way to it."""

from collections.abc import Iterator
from dataclasses import replace

from planner.day import Day
from planner.plan.happening import NOT_YET, VAN, Happening
from planner.plan.past_turns import take_turns
from planner.plan.plan import Chore, Plan, Rest, Work
from planner.plan.progress import NotYet, Progress


def give_times(duties: list[Happening], day: Day, plan: Plan, progress: Progress) -> tuple[Work, ...]:
    """Give every duty its real times, and say whether it has happened.

    Returned is what should be over by now besides, had hands who did otherwise than planned gone on by the plan.
    """
    arrivals = _arrivals(plan, progress)
    _come_late(duties, _late(duties, arrivals, progress))
    forced = _forced(duties, arrivals, progress)
    held = {id(drive) for drive in _not_left_by(duties, day, plan, progress)}
    watched, due = _watched(duties, forced, held, arrivals, day, progress)
    _run_forward(duties, forced, held, arrivals, day, progress, watched)
    _hold_back(duties)
    take_turns(duties, progress)
    for duty in duties:
        if duty.end == NOT_YET and duty.is_given_up:
            duty.end = max(duty.start, progress.at)
    _begin_lifting_anew(duties, day, progress)
    return due


def _arrivals(plan: Plan, progress: Progress) -> dict[int, int]:
    """When the van really got there, by the place of the visit in the plan: the visit nearest in time is meant."""
    found = {}
    for job, minute in progress.arrived.items():
        own = [n for n, visit in enumerate(plan.visits) if visit.job == job]
        found[min(own, key=lambda n: abs(plan.visits[n].arrive - minute))] = minute
    return found


def _forced(duties: list[Happening], arrivals: dict[int, int], progress: Progress) -> set[int]:
    """What must have happened, whatever the clock says: what is recorded, and what that could not do without."""
    drives = [d for d in duties if d.kind == "drive"]
    forced = {id(d) for d in duties if d.is_fixed} | {id(drives[n]) for n in arrivals}
    for duty in reversed(duties):
        if id(duty) in forced:
            forced |= {id(d) for d in (*duty.needs, *duty.entered)}
    return forced


def _late(duties: list[Happening], arrivals: dict[int, int], progress: Progress) -> dict[str, int]:
    """The hands who were told to be there only later than planned, and from when on.

    Whoever is shown by what was told, or by the plan's own record, to have been there before, is away until then.
    """
    late = {hand: minute for hand in progress.back if (minute := progress.comes_at(hand))}
    drives = [d for d in duties if d.kind == "drive"]
    been, shown = set[str](), dict.fromkeys([id(d) for d in duties], NOT_YET)
    for duty in reversed(duties if late else []):
        if duty.is_fixed or _place(drives, duty) in arrivals:
            shown[id(duty)] = min(shown[id(duty)], _begun_by(duty, arrivals.get(_place(drives, duty))))
        for before in _needs_without(duty, late):
            shown[id(before)] = min(shown[id(before)], shown[id(duty)])
        hands = set(duty.hands) - {VAN}
        if hands <= late.keys():
            been |= {h for h in hands if shown[id(duty)] < late[h]}
    return {hand: minute for hand, minute in late.items() if hand not in been}


def _needs_without(duty: Happening, late: dict[str, int]) -> list[Happening]:
    """What something needed; of what others did with one who came late not that these came to it, with empty hands."""
    if all(h in late for h in duty.hands):
        return duty.needs
    return [
        d
        for d in duty.needs
        if d.kind != "in" or not set(d.hands) <= late.keys() or any(c.carried_in for c in d.crossings)
    ]


def _begun_by(duty: Happening, arrived: int | None) -> int:
    """By when something of which the times are known had begun."""
    if arrived is not None:
        return arrived - 1
    if duty.note is None:
        return duty.start
    known = [minute for minute in (duty.note.start, None if duty.note.end is None else duty.note.end - 1) if minute]
    return min(known, default=NOT_YET)


def _come_late(duties: list[Happening], late: dict[str, int]) -> None:
    """Put off what is planned for hands who came late; what others did with one who was not there these did."""
    for duty in duties:
        hands = [h for h in duty.hands if h != VAN]
        if duty.is_fixed:
            there = tuple(h for h in hands if _begun_by(duty, None) >= late.get(h, 0))
            if isinstance(duty.item, Work) and 0 < len(there) < len(hands):
                gone = {h: late[h] for h in hands if h not in there}
                duty.needs = _needs_without(duty, gone)
                duty.entered = [d for d in duty.entered if not set(d.hands) <= gone.keys()]
                duty.item, duty.hands = replace(duty.item, hands=there), there
            continue
        waits = [late.get(h, 0) for h in hands]
        start = max(duty.start, (min if duty.kind == "drive" else max)(waits, default=0))
        duty.start, duty.end = start, start + duty.minutes


def _watched(
    duties: list[Happening], forced: set[int], held: set[int], arrivals: dict[int, int], day: Day, progress: Progress
) -> tuple[set[str], tuple[Work, ...]]:
    """The hands of whom something is told that is not as plan and clock have it, and what they should have done by now.

    They do not go by the plan any more: they did what was told, and what that could not do without. Who says that it
    went as planned goes on by it, so that the answer to one question leaves the others asked.
    """
    if all(duty.note is None for duty in duties):
        return set(), ()
    planned = [(duty.start, duty.end) for duty in duties]
    watched = _run_forward(duties, forced, held, arrivals, day, progress, set())
    over = [d for d in duties if d.happened and d.by_clock and d.end <= progress.at and watched & set(d.hands)]
    due = tuple(replace(d.item, start=d.start, end=d.end) for d in over if isinstance(d.item, Work))
    for duty, (start, end) in zip(duties, planned, strict=True):
        duty.start, duty.end, duty.happened, duty.by_clock = start, end, False, False
    return watched, due


def _run_forward(
    duties: list[Happening],
    forced: set[int],
    held: set[int],
    arrivals: dict[int, int],
    day: Day,
    progress: Progress,
    watched: set[str],
) -> set[str]:
    """Give each thing its time, and say of what nobody noted whether it has happened by the clock; not what is held.

    Returns the hands whose notes say something else than the clock.
    """
    drives = [d for d in duties if d.kind == "drive"]
    followed = {id(x) for d in duties if id(d) in forced for x in d.needs}
    left_for_later = {id(x) for d in duties if id(d) in forced for x in d.passed}
    gainsaid: set[str] = set()
    for duty in duties:
        before = [*duty.needs, *(duty.follows if id(duty) not in forced else ())]
        ready = max((_free_from(d, duty, day, progress) for d in before if d.happened), default=0)
        passed = [d.end for d in duty.passed if d.happened]
        ready = max([ready, *(end for end in passed if end + duty.minutes <= duty.begun)])
        minutes, start = duty.minutes, max(duty.start, ready)
        end = start + minutes
        if _gainsays(duty, start, end):
            gainsaid |= set(duty.hands)
        if id(duty) in forced:
            duty.happened = not duty.is_of_what_never_came
            arrived = arrivals.get(_place(drives, duty))
            _time_forced(duty, ready, arrived, progress, must_be_over=id(duty) in followed)
            if id(duty) in left_for_later and duty.note is not None and duty.note.start is None and duty.end < NOT_YET:
                duty.start = max(duty.start, duty.end - minutes)
        elif not watched & set(duty.hands):
            stops = [minute for h in duty.hands if (minute := progress.stops_at(h)) is not None]
            until = min([progress.at, *stops])
            duty.happened = start < until and all(d.happened for d in (*before, *duty.entered))
            duty.happened &= id(duty) not in held
            duty.happened &= not duty.takes_too_soon and not duty.is_of_what_never_came
            duty.by_clock = duty.happened
            is_cut_off = isinstance(duty.item, Work | Chore | Rest) and any(end > minute for minute in stops)
            if is_cut_off or (not duty.is_on_what_stays and _is_left_alone(duty, end, progress)):
                duty.happened = False
            if duty.happened:
                duty.start, duty.end = start, end
                if isinstance(duty.item, Work) and end > progress.at:
                    duty.end = NOT_YET
    return gainsaid


def _is_left_alone(duty: Happening, end: int, progress: Progress) -> bool:
    """Whether it is a chore on kit that stays where it stands, not over when that was said."""
    chore = duty.item
    return isinstance(chore, Chore) and any(
        (x.job, x.kit) == (chore.job, chore.kit) and end > x.by for x in progress.behind
    )


def _gainsays(duty: Happening, start: int, end: int) -> bool:
    """Whether a note has other minutes than the plan's own record, and than those of the clock."""
    said = duty.note
    if said is None:
        return False
    known = ((duty.start, duty.end), (start, end))
    return not any(said.start in (None, begun) and said.end in (None, over) for begun, over in known)


def last_drives_away(duties: list[Happening], plan: Plan) -> dict[str, Happening]:
    """By job the drive with which the van leaves it for the last time."""
    drives = [d for d in duties if d.kind == "drive"]
    last = {visit.job: n for n, visit in enumerate(plan.visits, 1)}
    return {job: drives[n] for job, n in last.items() if n < len(drives)}


def _not_left_by(duties: list[Happening], day: Day, plan: Plan, progress: Progress) -> Iterator[Happening]:
    """The last drives away from jobs where a stage was told not to have been begun, after they should have left."""
    away = last_drives_away(duties, plan)
    for said in progress.not_yet:
        drive = away.get(said.job)
        if drive is not None and drive.start < said.by and is_to_come(said, day, progress):
            yield drive


def _hold_back(duties: list[Happening]) -> None:
    """Nobody takes covers up before what they cover for: where the plan and the clock say so, they still lie.

    Where the van has left since, they went with it.
    """
    left = max((n for n, d in enumerate(duties) if d.kind == "drive" and d.happened), default=-1)
    for n, duty in enumerate(duties):
        if n < left:
            duty.leaves_in = frozenset()
        elif duty.covers_still and duty.happened:
            duty.happened, duty.is_held_back = False, True


def _begin_lifting_anew(duties: list[Happening], day: Day, progress: Progress) -> None:
    """Floor sheets that are just being lifted still lie: as long as they do, there may be another walk over them.

    It is begun anew, a few minutes at the most. Nor does anybody lift them, unless the van has left, while a stage on
    that ground was told not to have been begun.
    """
    waiting = {(x.job, day.jobs[x.job].ground_of(x.stage)) for x in progress.not_yet if is_to_come(x, day, progress)}
    left = max((n for n, d in enumerate(duties) if d.kind == "drive" and d.happened), default=-1)
    for n, duty in enumerate(duties):
        chore = duty.item
        if isinstance(chore, Chore) and chore.what == "lift" and duty.happened:
            is_too_soon = n > left and (chore.job, chore.ground) in waiting
            duty.happened = duty.end <= progress.at and not is_too_soon


def is_to_come(said: NotYet, day: Day, progress: Progress) -> bool:
    """Whether a stage that was told not to have been begun is still to be done."""
    here = (said.job, said.stage)
    is_there = said.job in day.jobs and said.stage in day.jobs[said.job].stages
    return is_there and here not in progress.dropped and progress.of_stage(*here) is None


def _place(drives: list[Happening], duty: Happening) -> int:
    return drives.index(duty) if duty in drives else -1


def _free_from(before: Happening, duty: Happening, day: Day, progress: Progress) -> int:
    """From when on something may follow what has happened before it."""
    end = before.end
    one, other = duty.item, before.item
    if isinstance(one, Work) and isinstance(other, Work) and one.job == other.job:
        waits = [w for w in day.jobs[one.job].waits if (w.after, w.before) == (other.stage, one.stage)]
        end = max([end, *(w.begin_between(before.start, end, duty.minutes).soonest for w in waits)])
    return end


def _time_forced(duty: Happening, ready: int, arrived: int | None, progress: Progress, *, must_be_over: bool) -> None:
    """Give what must have happened its time: from when all before it was over, and for so many minutes at least."""
    minutes, note = duty.minutes, duty.note
    if note is not None:
        start, end = note.start, duty.end if duty.is_broken_off else note.end
        if end is None and must_be_over:
            end = min(max(start or 0, ready, duty.start) + minutes, progress.at)
        if start is None:
            planned = max(duty.start, min(ready, NOT_YET))
            start = min(planned, progress.at if end is None else max(end - minutes, min(ready, end)))
            start = min(start, progress.at if end is None else end - duty.shortest)
        duty.start, duty.end = start, NOT_YET if end is None else max(start, end)
        return
    if arrived is not None:
        duty.start, duty.end = arrived - minutes, arrived
        return
    if duty.settled:
        if isinstance(duty.item, Work) and duty.end > progress.at:
            duty.end = progress.at if must_be_over else NOT_YET
        return
    start = min(max(duty.start, ready), progress.at)
    duty.start, duty.end = start, start + minutes
    if isinstance(duty.item, Work) and duty.end > progress.at:
        duty.end = progress.at
