"""What each thing in the picture is called in words: its tooltip, and what a screen reader says."""

from planner.day import Day
from planner.day.names import Names, listed, sentence
from planner.plan.coming_and_going import is_meal
from planner.plan.legs import legs
from planner.plan.plan import Chore, Crossing, Drive, Fetch, Plan, Rest, Stay, Work
from planner.plan.waits import PlannedWait
from planner.sheet.crossings import carried_words
from planner.sheet.wording import chore_told, moment
from planner.trade.units import show_clock, show_minutes


def span_words(start: int, end: int) -> str:
    """From when to when, and how long: "09:12 to 09:50 (38 min)"."""
    return f"{show_clock(start)} to {show_clock(end)} ({show_minutes(end - start)})"


def work_words(day: Day, work: Work, before: Work | None = None) -> str:
    """A stage in words; ``before`` is where it stood in another plan."""
    names, job = Names(day), day.jobs[work.job]
    who = listed([names.hand(hand) for hand in work.hands])
    kit = listed([names.kit(key) for key, _ in work.stays])
    parts = [
        f"{names.stage(work.job, work.stage)}, {span_words(work.start, work.end)}, by {who}",
        f"at {names.job(work.job)}, {names.ground(work.job, job.ground_of(work.stage))}",
    ]
    if kit:
        parts.append(f"with {kit}")
    if before and before.start != work.start:
        parts.append(f"in the other plan at {show_clock(before.start)}")
    return ", ".join(parts)


def chore_words(day: Day, chore: Chore) -> str:
    """Setting up, packing down, or floor protection, in words."""
    names = Names(day)
    what = f"{chore_told(day, chore)} {names.kit(chore.kit)}" if chore.kit else f"{chore.what} floor protection"
    who = listed([names.hand(hand) for hand in chore.hands])
    return f"{sentence(what)}, {span_words(chore.start, chore.end)}, by {who}"


def rest_words(day: Day, rest: Rest) -> str:
    """A break or a meal in words."""
    return f"{rest_name(day, rest)} of {Names(day).hand(rest.hand)}, {span_words(rest.start, rest.end)}"


def rest_name(day: Day, rest: Rest) -> str:
    """What a rest is called."""
    return "Meal" if is_meal(day, rest) else "Break"


def coming_words(day: Day, what: str, job: str, start: int, end: int) -> str:
    """Arriving or leaving in words."""
    done = "walk round, tap and RCD tested" if what == "arrive" else "clean down, handover"
    return f"{sentence(what)}: {done}, at {Names(day).job(job)}, {span_words(start, end)}"


def crossing_words(day: Day, crossing: Crossing) -> str:
    """A crossing in words, with what is carried."""
    names, way = Names(day), day.jobs[crossing.job].grounds[crossing.ground].way_in
    kind = "Restricted crossing" if way.restricted else "Crossing"
    leg_in, leg_out = legs(day, crossing)
    carried_in = carried_words(day, crossing.carried_in) or "nothing"
    carried_out = carried_words(day, crossing.carried_out) or "nothing"
    return (
        f"{kind} {names.way(crossing.job, crossing.ground)} by {names.hand(crossing.hand)}: "
        f"{' to '.join(map(show_clock, leg_in))} in with {carried_in}, "
        f"{' to '.join(map(show_clock, leg_out))} out with {carried_out}"
    )


def stay_words(day: Day, stay: Stay) -> str:
    """A kit's time on a ground, in words."""
    names = Names(day)
    return (
        f"{names.kit(stay.kit)} at {names.ground(stay.job, stay.ground)}, "
        f"{span_words(stay.carried_in, stay.carried_out)}"
    )


def wait_words(day: Day, run: PlannedWait) -> str:
    """A wait in words: what waits, how long it must and may, how long it does."""
    names, job, wait = Names(day), run.job, run.wait
    least, most = run.bounds
    surface = names.surface(job, day.jobs[job].stages[wait.after].surface)
    kind = "gap" if wait.kind == "order" else wait.kind
    text = f"{sentence(kind)} on {surface} after {names.stage(job, wait.after)}: at least {show_minutes(least)}"
    if most is not None:
        text += f", at most {show_minutes(most)}"
    if run.second is None:
        return f"{text}, until {moment(day.date, run.ends)}"
    patches = "".join(f"; {words}" for words in (run.of_patches, run.late_words) if words)
    return f"{text}; runs {span_words(run.begins, run.ends)} until {names.stage(job, run.second.stage)}{patches}"


def drive_words(day: Day, drive: Drive) -> str:
    """A drive in words."""
    names = Names(day)
    return (
        f"Drive from {names.place(drive.from_place)} to {names.place(drive.to_place)}, "
        f"{span_words(drive.start, drive.end)}"
    )


def fetch_words(day: Day, fetch: Fetch) -> str:
    """A drive for what was forgotten, in words."""
    names = Names(day)
    span = span_words(fetch.leaves, fetch.back)
    return f"{names.hand(fetch.hand)} drives to {names.place(fetch.place)} for {names.kit(fetch.kit)}, {span}"


def summary(day: Day, plan: Plan) -> tuple[str, ...]:
    """What the whole picture says, in a few lines."""
    names = Names(day)
    crossings = sum(day.jobs[c.job].grounds[c.ground].way_in.restricted for c in plan.crossings)
    lines = [
        f"Leaves {show_clock(plan.leaves)}, home {show_clock(plan.home)}, latest finish {show_clock(day.finish)}.",
        f"Restricted crossings: {crossings}. Stages: {len(plan.works)}. "
        f"Hands: {listed([names.hand(hand) for hand in day.hands])}.",
    ]
    for visit in sorted(plan.visits, key=lambda v: v.arrive):
        lines.append(f"At {names.job(visit.job)} from {show_clock(visit.arrive)} to {show_clock(visit.depart)}.")
    return tuple(lines)
