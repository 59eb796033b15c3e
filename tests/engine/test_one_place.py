"""No hand is in two places in any past, whatever was told of the day and however late; nothing took no time.

Random days, told of at random. Each of the days below showed it once: two crossings at once (small 0 and 1), kit
packed down by who worked (small 3), a walk out before what was done inside (tiny 2229), ways of no minutes (edge 3 and
6), both told to be over in one minute (tiny 2205), a rinse of no minutes (tiny 100,030), kit brought after it was taken
(small 100,041), and after the van had left (small 100,059), kit packed down that was never set up (small 17 and 27).
"""

import random
from dataclasses import replace

import pytest

from planner.day import Day
from planner.engine import plan_day, plan_rest
from planner.plan.doubts import asked_of, with_likely
from planner.plan.plan import Plan, Work
from planner.plan.progress import Noted, Progress
from planner.plan.went import day_as_it_went
from tests.engine.edge_days import edge
from tests.engine.random_days import small, tiny
from tests.pasts import faults_of_past, told_late
from tests.plan import worked

KINDS = {"small": small, "tiny": tiny, "edge": edge}


@pytest.mark.parametrize(
    ("kind", "seed"),
    [
        *(("small", n) for n in (0, 1, 3, 5, 17, 27, 100_041, 100_059)),
        *(("tiny", n) for n in (29, 2205, 2209, 2229, 100_030)),
        *(("edge", n) for n in (3, 6)),
    ],
)
def test_no_hand_is_in_two_places_whatever_is_told(kind: str, seed: int) -> None:
    day, rng = KINDS[kind](seed), random.Random(seed % 100_000)
    plan = plan_day(day, seconds=0.3, workers=1, deterministic=True).plan
    assert plan is not None
    for _ in range(34):
        told = with_likely(day, plan, told_late(plan, rng))
        went, past = day_as_it_went(day, plan, told)
        assert faults_of_past(went, past.plan, told) == [], told


def works(day: Day, plan: Plan, told: Progress) -> dict[str, Work]:
    """The stages of the past by their keys; nobody is in two places in it."""
    went, past = day_as_it_went(day, plan, told)
    assert faults_of_past(went, past.plan, told) == []
    return {w.stage: w for w in past.plan.works}


def test_two_stages_of_one_hand_that_were_told_at_once_are_asked_about() -> None:
    """Ash treats 12 minutes and sweeps 20. Both are told to be over at 09:00 (540): one of them was so sooner."""
    day, plan = worked.tiny()
    told = Progress(540, (Noted("elm", "treat", 496, 540), Noted("elm", "sweep", None, 540)))
    doubts = asked_of(day, plan, told)
    assert "cannot have done both at once" in doubts[0].words
    done = works(day, plan, with_likely(day, plan, told))
    assert done["treat"].end <= done["sweep"].start
    assert done["sweep"].end == 540
    assert 540 - done["sweep"].start >= 10


def test_a_part_that_was_done_took_time_though_its_kit_came_only_then() -> None:
    """Half of the sweep was done at 08:22 (502), before its kit was planned to be used at 08:32: kit came sooner."""
    day, plan = worked.tiny()
    told = with_likely(day, plan, Progress(502, (Noted("elm", "sweep", None, 502, 0.5),)))
    done = works(day, plan, told)
    assert done["sweep"].end == 502
    assert done["sweep"].end - done["sweep"].start >= 5


def test_a_chore_that_told_times_leave_too_little_time_for_was_done_in_less() -> None:
    """Between two told stages Ash packs the sprayer down in 4 minutes by the plan; there were 2 (508 to 510)."""
    day, plan = worked.tiny()
    told = Progress(540, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 510, 540)))
    _, past = day_as_it_went(day, plan, told)
    done = works(day, plan, told)
    assert (done["treat"].end, done["sweep"].start) == (508, 510)
    packed = next(c for c in past.plan.chores if (c.what, c.kit) == ("pack down", "sprayer"))
    assert 508 <= packed.start < packed.end <= 510


def test_ways_take_all_their_time_and_the_chore_beside_them_less() -> None:
    """Sweep over at 532, rinse begun at 539: the way out and in again (2 each) leave 3 of 6 minutes to set up."""
    day, plan = worked.tiny()
    told = Progress(545, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512, 532), Noted("elm", "rinse", 539)))
    _, past = day_as_it_went(day, plan, told)
    assert works(day, plan, told)["rinse"].start == 539
    put_up = next(c for c in past.plan.chores if (c.what, c.kit) == ("set up", "washer"))
    assert 536 <= put_up.start < put_up.end <= 539


def test_what_was_given_up_under_way_ended_before_what_was_told_since() -> None:
    """The record of the plan has the treatment end at 508, as nobody told when; the sweep was told to begin at 510."""
    day, plan = worked.tiny()
    noted = (Noted("elm", "treat", 496), Noted("elm", "sweep", 510, 540))
    told = Progress(540, noted, settled=509).without("elm", "treat")
    done = works(day, plan, told)
    assert done["sweep"].start == 510
    assert 496 < done["treat"].end <= 506
    assert works(day, plan, Progress(540, noted[:1], settled=509).without("elm", "treat"))["treat"].end == 508


def test_a_past_chore_that_took_less_is_no_reason_to_refuse_the_rest() -> None:
    """The washer is in use while the rest is planned; it was set up in 3 of 6 minutes, from 534 to 537."""
    day, plan = worked.tiny()
    told = Progress(541, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 510, 530), Noted("elm", "rinse", 537)))
    result = plan_rest(day, plan, told, seconds=2, workers=1)
    assert result.plan is not None
    assert result.refused == ()


def test_only_where_told_times_leave_no_time_for_the_ways_a_hand_may_be_in_two_places() -> None:
    """Sweep over at 532, rinse begun at 534, the ways take 4 minutes: let be; begun at 536, they are not."""
    day, plan = worked.tiny()
    sweep, late = Noted("elm", "sweep", 512, 532), Progress(545, (Noted("elm", "rinse", 536),))
    told = Progress(545, (sweep, Noted("elm", "rinse", 534)))
    went, past = day_as_it_went(day, plan, told)
    assert faults_of_past(went, past.plan, told) == []
    assert faults_of_past(went, past.plan, late.with_note(sweep)) != []


def test_what_is_off_though_nobody_rinsed_it_off_was_walked_for_by_nobody() -> None:
    """The rinse is given up and what was on is off since 09:05 (545): nobody brought the washer for it."""
    day, plan = worked.tiny()
    noted = (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 514, 536), Noted("elm", "rinse", None, 545))
    told = Progress(560, noted).without("elm", "rinse")
    _, past = day_as_it_went(day, plan, told)
    off = works(day, plan, told)["rinse"]
    assert (off.end, off.hands) == (545, ())
    assert "washer" not in {s.kit for s in past.plan.stays} | {c.kit for c in past.plan.chores}
    rest = plan_rest(day, plan, told, seconds=2, workers=1)
    assert rest.refused == ()
    assert rest.plan is not None
    later = told.with_later(Progress(rest.plan.home + 5))
    assert works(day, rest.plan, later)["rinse"].end == 545


def test_what_was_told_too_late_and_taken_back_leaves_nobody_at_two_things() -> None:
    """The treatment was told to be over at 510 (08:30), though the sweep began when it did: so the sprayer was packed
    down from 508 in that record. Taken back, it was over when that began."""
    day, plan = worked.tiny()
    ran_on = tuple(replace(w, end=510) if w.stage == "treat" else w for w in plan.works)
    plan = replace(plan, works=ran_on)
    told = Progress(545, (Noted("elm", "sweep", 512, 532),), settled=535)
    went, past = day_as_it_went(day, plan, told)
    assert works(day, plan, told)["treat"].end == 508
    assert faults_of_past(went, past.plan, told) == []


def test_what_the_record_has_later_than_what_is_told_was_done_later() -> None:
    """By the record Ash treats from 496 and sweeps from 512; told is that the sweep was over at 494: it came first."""
    day, plan = worked.tiny()
    told = Progress(540, (Noted("elm", "treat", 496), Noted("elm", "sweep", None, 494)), settled=535)
    done = works(day, plan, with_likely(day, plan, told))
    assert done["sweep"].end == 494
    assert done["treat"].end > done["treat"].start == 496


def test_what_was_told_to_have_begun_in_the_minute_in_which_it_ended_was_begun_before() -> None:
    """Sweeping takes 20 minutes; told to be begun and over at 540, it took at least half of that."""
    day, plan = worked.tiny()
    told = Progress(540, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 540, 540)))
    sweep = works(day, plan, told)["sweep"]
    assert (sweep.end, sweep.start <= 530) == (540, True)


def test_nothing_is_offered_as_done_in_no_minutes() -> None:
    """The sweep is told to have begun in the minute in which the treatment, of the same hand, was."""
    day, plan = worked.tiny()
    told = Progress(515, (Noted("elm", "treat", 508), Noted("elm", "sweep", 508)))
    asked = asked_of(day, plan, told)
    assert asked
    notes = [r.does for doubt in asked for r in doubt.replies if isinstance(r.does, Noted)]
    assert all(n.start is None or n.end is None or n.end > n.start for n in notes)
    assert "Not yet" in [r.words for r in asked[0].replies]
    works(day, plan, with_likely(day, plan, told))


def test_what_the_record_has_and_what_was_told_leaves_no_minute_for_is_asked() -> None:
    """The record has the sweep from 512 to 532; told is the treatment over at 520, and the rinse, which takes two ways
    and 6 minutes to set up after it, begun then."""
    day, plan = worked.tiny()
    told = Progress(545, (Noted("elm", "treat", 496, 520), Noted("elm", "rinse", 520)), settled=535)
    asked = asked_of(day, plan, told)
    assert any("Not yet" in [r.words for r in doubt.replies] for doubt in asked if "Sweep" in doubt.words)


def test_what_is_only_told_to_be_over_leaves_time_for_the_ways_before_it() -> None:
    """Sweep over at 532, rinse over at 542: out and in (2 each), 6 minutes to set up in 3 at the least."""
    day, plan = worked.tiny()
    told = Progress(545, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512, 532)))
    rinse = works(day, plan, told.with_note(Noted("elm", "rinse", None, 542)))["rinse"]
    assert (rinse.end, rinse.start >= 539) == (542, True)
