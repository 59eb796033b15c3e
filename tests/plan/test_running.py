"""The clocks of waits that run: by what was told first, by the plan where nothing was told, and marked so.

The worked day (`tests.plan.worked.tiny`) in minutes: treated 496 to 508, swept 512 to 532, rinsed 542 to 557; the rinse
begins 30 to 45 minutes after the treatment.
"""

from dataclasses import replace

import pytest

from planner.plan.past import past_of
from planner.plan.progress import NOTHING_TOLD, Noted, NotYet, Over, Progress
from planner.plan.progress_file import progress_from_tables, progress_to_tables
from planner.plan.running import NOT_TOLD, RunningWait, running_waits
from planner.plan.waits import planned_waits
from planner.plan.went import with_what_cannot_hold
from planner.sheet.papers.waits import stage_notes, wait_rows
from tests.plan import worked

TREATED = Noted("elm", "treat", 500, 520)
SWEPT = Noted("elm", "sweep", 521, 540)


def clocks(now: int, *noted: Noted, progress: Progress | None = None) -> tuple[RunningWait, ...]:
    """What runs on the worked day, its plan as it was made in the morning."""
    return running_waits(*worked.tiny(), progress or Progress(now, noted), now)


def test_a_wait_runs_from_when_the_stage_was_told_to_be_done() -> None:
    """Done at 08:40 (520), not at 08:28: rinsed from 09:10 (550) and by 09:25 (565)."""
    (clock,) = clocks(530, TREATED)
    assert (clock.since, clock.not_before, clock.until) == (520, 550, 565)
    assert NOT_TOLD not in clock.words(530)
    (started_unknown,) = clocks(530, Noted("elm", "treat", None, 520))
    assert (started_unknown.since, started_unknown.until) == (520, 565)


def test_a_stage_of_which_only_the_end_is_told_began_when_the_past_has_it() -> None:
    """Done late, at 08:40 (520), so begun as planned at 496. With bounds for every patch that decides when it must be
    rinsed: the patch treated first waits 45 minutes from then."""
    day, plan = worked.tiny()
    elm = day.jobs["elm"]
    patches = tuple(wait.model_copy(update={"order": "same"}) for wait in elm.waits)
    day = day.model_copy(update={"jobs": {"elm": elm.model_copy(update={"waits": patches})}})
    told = Progress(530, (Noted("elm", "treat", None, 520),))
    work = past_of(day, plan, told).plan.work("elm", "treat")
    assert work is not None
    assert (work.start, work.end) == (496, 520)
    (clock,) = running_waits(day, plan, told, 530)
    again = replace(plan, works=tuple(work if w.stage == "treat" else w for w in plan.works))
    assert clock == running_waits(day, again, told, 530)[0]
    assert clock.until == 496 + 45


def test_where_nothing_is_told_the_clock_goes_by_the_plan_and_says_so() -> None:
    (clock,) = clocks(530, progress=NOTHING_TOLD)
    assert (clock.since, clock.not_before, clock.until) == (508, 538, 553)
    assert f"since 08:28 ({NOT_TOLD})" in clock.words(530)
    assert clocks(545, progress=NOTHING_TOLD) == ()  # by the plan it is being rinsed
    assert clocks(505, progress=NOTHING_TOLD) == ()


def test_no_clock_runs_of_what_was_told_still_to_be_done() -> None:
    """By the plan it is over at 508: it was told to have been begun only, not to have been begun, to be given up."""
    assert clocks(530, Noted("elm", "treat", 500)) == ()
    assert clocks(530, progress=Progress(530, not_yet=(NotYet("elm", "treat", 530),))) == ()
    assert clocks(530, progress=Progress(530, dropped=(("elm", "treat"),))) == ()


def test_what_was_told_to_be_on_is_on_until_it_is_told_to_come_off() -> None:
    """By the plan it is rinsed from 09:02 (542) on; nobody said so, and at 09:26 (566) it has been on too long."""
    (clock,) = clocks(566, TREATED, SWEPT)
    assert "1 min OVER" in clock.words(566)
    assert f"begun at 09:02 {NOT_TOLD}" in clock.words(566)
    (not_begun,) = clocks(566, progress=Progress(566, (TREATED,), not_yet=(NotYet("elm", "rinse", 566),)))
    assert NOT_TOLD not in not_begun.words(566)
    assert clocks(566, TREATED, Noted("elm", "rinse", 560)) == ()
    assert clocks(566, TREATED, Noted("elm", "rinse", None, 564)) == ()


@pytest.mark.parametrize("minutes", [20, None])
def test_a_wait_that_cannot_be_kept_is_told_with_when_it_should_have_ended(minutes: int | None) -> None:
    """Rinsed at 570 where 553 is the latest, by a plan that is held to 20 minutes more, or to none."""
    day, plan = worked.tiny()
    works = tuple(replace(w, start=570, end=585) if w.stage == "rinse" else w for w in plan.works)
    plan = replace(plan, works=works)
    went = with_what_cannot_hold(day, Progress(560, over=(Over("elm", "treat", "rinse", minutes),)))
    assert went.jobs["elm"].waits[0].bounds(508) == (30, None if minutes is None else 65)
    (run,) = planned_waits(went, plan)
    assert (run.not_after, run.late) == (553, 17)
    (row,) = wait_rows(went, plan)
    assert (row.not_after, row.late) == (553, "17 min too late")
    assert "not after 09:13: 17 min too late" in " ".join(stage_notes(went, plan)["elm", "rinse"])
    (clock,) = running_waits(went, plan, Progress(560, (Noted("elm", "treat", 496, 508),)), 560)
    assert clock.until == 553
    assert "7 min OVER" in clock.words(560)


def test_that_no_way_was_found_is_no_number_of_minutes() -> None:
    progress = Progress(560, over=(Over("elm", "treat", "rinse", None), Over("elm", "soak", "rinse", 5)))
    assert progress_from_tables(progress_to_tables(progress)) == progress
    older = progress_to_tables(progress)
    older["over"][0]["minutes"] = 24 * 60
    assert progress_from_tables(older) == progress
