"""What changed from one plan to another, in words; the gravest first."""


from planner.day import Day
from planner.day.names import Names, listed
from planner.desktop.model.day_standing import crossing_words
from planner.desktop.model.open_day import Shown
from planner.plan.measures import measure
from planner.plan.plan import Plan
from planner.trade.units import show_clock, show_minutes

MOVED_FROM = 5
"""A stage that starts at least so many minutes sooner or later has moved."""


def differences(before: Shown, after: Shown) -> tuple[str, ...]:
    """What is another way than before; empty when nothing is that a person would notice."""
    return (
        *_measures(before, after),
        *_methods(before, after),
        *_order(before, after),
        *_hands(before, after),
        *_stages(before, after),
    )


def _measures(before: Shown, after: Shown) -> list[str]:
    old, new = measure(before.day, before.plan), measure(after.day, after.plan)
    words = []
    later = after.plan.home - before.plan.home
    if later:
        text = "home {time} later, at {clock}" if later > 0 else "home {time} sooner, at {clock}"
        words.append(text.format(time=show_minutes(abs(later)), clock=show_clock(after.plan.home)))
    more = new.restricted_crossings - old.restricted_crossings
    if more:
        text = "{count} more {trips}" if more > 0 else "{count} fewer {trips}"
        words.append(text.format(count=abs(more), trips=crossing_words(after.day, abs(more))))
    set_ups = new.set_ups - old.set_ups
    if set_ups:
        text = "{count} more set-ups" if set_ups > 0 else "{count} fewer set-ups"
        words.append(text.format(count=abs(set_ups)))
    if not words:
        words.append("home no later, and no more trips")
    return words


def _methods(before: Shown, after: Shown) -> list[str]:
    names = Names(after.day)
    words = []
    for work in after.plan.works:
        old = before.plan.work(work.job, work.stage)
        if old is not None and old.method != work.method:
            stage = names.stage(work.job, work.stage)
            method = names.method(work.job, work.stage, work.method)
            words.append(f"{stage} by {method}")
    return words


def _order(before: Shown, after: Shown) -> list[str]:
    """Stages that come at another place in the order."""
    old, new = _sequence(before.plan), _sequence(after.plan)
    kept = [key for key in new if key in old]
    names, words = Names(after.day), []
    previous = [key for key in old if key in new]
    for at, key in enumerate(kept):
        if previous.index(key) > at:  # it was overtaken by none and overtakes some
            behind = kept[at + 1] if at + 1 < len(kept) else None
            if behind is not None and previous.index(behind) < previous.index(key):
                pair = {"first": names.stage(*key), "second": names.stage(*behind)}
                words.append("{first} now before {second}".format(**pair))
    return words[:4]


def _hands(before: Shown, after: Shown) -> list[str]:
    names = Names(after.day)
    came = [names.hand(hand) for hand in after.day.hands if hand not in before.day.hands]
    went = [Names(before.day).hand(hand) for hand in before.day.hands if hand not in after.day.hands]
    words = [f"with {listed(came)}"] if came else []
    return words + ([f"without {listed(went)}"] if went else [])


def _stages(before: Shown, after: Shown) -> list[str]:
    words = []
    for one, other, text in ((before, after, "no longer: {stages}"), (after, before, "new: {stages}")):
        gone = [
            _stage(one.day, work.job, work.stage)
            for work in one.plan.works
            if other.plan.work(work.job, work.stage) is None
        ]
        if gone:
            words.append(text.format(stages=listed(gone)))
    return words


def moves(before: Shown, after: Shown) -> list[tuple[str, int, int]]:
    """Stages that start at another time: what, the minute before and the minute now, by the time now."""
    found = []
    for work in sorted(after.plan.works, key=lambda w: w.start):
        old = before.plan.work(work.job, work.stage)
        if old is not None and abs(old.start - work.start) >= MOVED_FROM:
            found.append((_stage(after.day, work.job, work.stage), old.start, work.start))
    return found


def moved_words(before: Shown, after: Shown) -> str:
    """What moved, in a short sentence: "Moved: Rinse, 10:00 to 10:20, and 2 more. Home 17:20, 20 min later."."""
    moved = moves(before, after)
    if not moved:
        return ""
    what, was, now = moved[0]
    rest = f", and {len(moved) - 1} more" if len(moved) > 1 else ""
    later = after.plan.home - before.plan.home
    home = f"{show_minutes(abs(later))} {'later' if later > 0 else 'sooner'}" if later else "as before"
    told = f"Moved: {what}, {show_clock(was)} to {show_clock(now)}{rest}."
    return f"{told} Home {show_clock(after.plan.home)}, {home}."


def moved_briefly(before: Shown, after: Shown) -> str:
    """The same for a narrow place: how many moved, and when one is home."""
    moved = moves(before, after)
    return f"{len(moved)} moved. Home {show_clock(after.plan.home)}." if moved else ""


def _sequence(plan: Plan) -> list[tuple[str, str]]:
    return [(work.job, work.stage) for work in sorted(plan.works, key=lambda w: (w.start, w.end))]


def _stage(day: Day, job: str, stage: str) -> str:
    return Names(day).stage(job, stage)
