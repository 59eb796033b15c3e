"""Rule 12 on a fetch: one hand drives the van away from a visit for kit that was forgotten, and back."""

from collections.abc import Iterator

from planner.plan.plan import Fetch
from planner.plan.rules.day_and_plan import Breaches, BrokenRule, DayAndPlan, hand_words, kit_words, overlap
from planner.trade.units import show_clock, show_minutes


def fetches_take_their_time(r: DayAndPlan) -> Breaches:
    """Rule 12: a fetch lies inside a visit, its drives take the minutes between the places, and who rides drives."""
    for fetch in r.plan.fetches:
        place = r.day.jobs[fetch.job].place
        for start, end, ends in (
            (fetch.leaves, fetch.there, (place, fetch.place)),
            (fetch.away, fetch.back, (fetch.place, place)),
        ):
            try:
                minutes = r.day.drive_minutes(*ends)
            except KeyError:
                yield _broken(r, fetch, f"the day does not say how long '{ends[0]}' to '{ends[1]}' is")
                continue
            if end - start != minutes:
                yield _broken(r, fetch, f"its drive to '{ends[1]}' takes {show_minutes(minutes)}")
        if fetch.away < fetch.there:
            yield _broken(r, fetch, "it drives back before it is there")
        if fetch.place != r.day.van.starts_at:
            yield _broken(r, fetch, f"it leads to '{fetch.place}', not to where the van starts its day")
        if fetch.hand not in r.riders:
            yield _broken(r, fetch, f"{hand_words(r.day, fetch.hand)} does not drive the van")
        stands = [v for v in r.visits if v.job == fetch.job and v.arrive <= fetch.leaves and fetch.back <= v.depart]
        if not stands:
            yield _broken(r, fetch, "it lies in no visit there")


def nothing_from_the_van_meanwhile(r: DayAndPlan) -> Breaches:
    """Rule 12: while the van is away nothing is carried from or to it, and what is fetched is used after that."""
    for fetch in r.plan.fetches:
        for start, end, words in _with_the_van(r, fetch.job):
            if overlap(start, end, fetch.leaves, fetch.back):
                text = f"{words} at {show_clock(start)} while the van is away for {kit_words(r.day, fetch.kit)}"
                yield BrokenRule(12, text, fetch.job, start, end)
        for stay in r.plan.stays:
            is_fetched = stay.kit == fetch.kit and r.day.kit[stay.kit].own < 2
            if is_fetched and fetch.leaves <= stay.carried_in < fetch.back:
                text = f"{kit_words(r.day, stay.kit)} is used at {show_clock(stay.carried_in)}, and is still fetched"
                yield BrokenRule(12, text, stay.job, stay.carried_in, fetch.back)


def _with_the_van(r: DayAndPlan, job: str) -> Iterator[tuple[int, int, str]]:
    """All that is carried from or to the van at a job, with words for it."""
    for crossing in (c for c in r.plan.crossings if c.job == job):
        loads = (crossing.carried_in, crossing.carried_out)
        for (start, end), carried, way in zip(r.legs(crossing), loads, ("in", "out"), strict=True):
            if carried:
                yield start, end, f"things are carried {way}"
    for chore in (c for c in r.plan.chores if c.job == job):
        if chore.what in ("lay", "lift") or r.way_in(job, chore.ground).is_open:
            yield chore.start, chore.end, f"'{chore.what}' is done"


def _broken(r: DayAndPlan, fetch: Fetch, text: str) -> BrokenRule:
    words = f"the fetch for {kit_words(r.day, fetch.kit)} at {show_clock(fetch.leaves)}: {text}"
    return BrokenRule(12, words, fetch.job, fetch.leaves, fetch.back)
