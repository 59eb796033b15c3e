"""Own pace put into a day, and what a worked day tells the record: every number here is worked out by hand."""

import math
from dataclasses import replace
from datetime import date

import pytest

from planner.day import Day
from planner.plan.plan import Plan
from planner.record import Record, Timing
from planner.record.applied import (
    changed,
    changes,
    condition_of,
    learned,
    method_name,
    otherwise_than_planned,
    timings_of,
)
from planner.record.pace import JOB_SPREAD, NINETY_PERCENT
from tests.days import tiny_day
from tests.sheet.plans import tiny_plan


def rated_day(**method: object) -> Day:
    """The tiny day with its sweep at 60 m2/h over its 10 m2: ten minutes."""
    tables = tiny_day().model_dump()
    broom = {"kit": ["broom"], "rate": {"amount": 60, "unit": "m2"}, **method}
    tables["jobs"]["elm"]["stages"]["sweep"]["methods"]["broom"] = broom
    return Day.model_validate(tables)


def note(record: Record, took: float, *, times: int = 1, method: str = "sweep.broom", condition: str = "usual") -> None:
    """Note so many jobs that took so many minutes where ten were planned for 10 m2."""
    for number in range(times):
        job = f"job-{number}-{took:g}"
        timing = Timing(date(2026, 3, 1), job, "sweep", "sweep", method, condition, 10, took, 10, "m2")
        assert record.note_timing(timing) is not None


def shrunk(ratio: float, jobs: int, low: float = 0.85, high: float = 1.3) -> float:
    """The factor after so many equal jobs, by the closed form (Gelman et al., BDA3, equation 2.12).

    Equal jobs lie at their median, so the job-to-job variance is the guess scaled by its weight alone.
    """
    tau2 = (math.log(high / low) / (2 * NINETY_PERCENT)) ** 2
    sigma2 = 4 * JOB_SPREAD**2 / (4 + jobs - 1)
    return math.exp(math.log(ratio) * jobs / (jobs + sigma2 / tau2))


def test_an_empty_record_leaves_the_day_as_it_is(record: Record) -> None:
    day = tiny_day()
    assert changed(day, changes(day, record)) is day
    assert changes(day, record) == ()


def test_own_pace_changes_just_the_methods_with_jobs_behind_them(record: Record) -> None:
    note(record, 12, times=3)
    day = rated_day()
    factor = shrunk(1.2, 3)
    assert 1 < factor < 1.2
    paced = changed(day, changes(day, record))
    assert paced.jobs["elm"].minutes("sweep", "broom").likely == pytest.approx(10 * factor)
    assert paced.jobs["elm"].stages["sweep"].methods["broom"].spread == (0.85, 1.0, 1.3)
    for stage, method in (("treat", "spray"), ("rinse", "lance")):
        assert paced.jobs["elm"].minutes(stage, method) == day.jobs["elm"].minutes(stage, method)
    assert day.jobs["elm"].minutes("sweep", "broom").likely == 10
    [change] = changes(day, record)
    assert (change.job, change.stage, change.method, change.jobs_behind) == ("elm", "sweep", "broom", 3)
    assert (change.shipped, change.own) == ("60 m2/h", f"{60 / factor:.3g} m2/h")


def test_a_condition_has_its_own_pace(record: Record) -> None:
    note(record, 20, times=5)
    assert changes(rated_day(factor=1.3), record) == ()
    note(record, 8, times=2, condition="1.3 times usual")
    [change] = changes(rated_day(factor=1.3), record)
    assert change.jobs_behind == 2
    assert change.pace.factor == pytest.approx(shrunk(0.8, 2))
    paced = changed(rated_day(factor=1.3), changes(rated_day(factor=1.3), record))
    assert paced.jobs["elm"].stages["sweep"].methods["broom"].factor == pytest.approx(1.3 * shrunk(0.8, 2))


def test_while_learning_is_off_nothing_changes(record: Record) -> None:
    note(record, 20, times=5)
    record.is_learning = False
    assert changed(rated_day(), changes(rated_day(), record)) == rated_day()
    [row] = learned(record)
    assert (row.shipped, row.own) == ("60 m2/h", "60 m2/h")


def test_methods_go_by_the_kind_of_their_stage_or_its_own_key() -> None:
    stage = tiny_day().jobs["elm"].stages["rinse"]
    assert method_name("back-rinse", stage, "lance") == "rinse.lance"
    assert method_name("back-rinse", stage.model_copy(update={"kind": "work"}), "lance") == "back-rinse.lance"
    assert condition_of(stage.methods["lance"]) == "usual"
    assert condition_of(stage.methods["lance"].model_copy(update={"factor": 1.25})) == "1.25 times usual"


def retimed(plan: Plan, stage: str, minutes: int) -> Plan:
    """The plan with a stage that took other minutes than planned."""
    works = [replace(w, end=w.start + minutes) if w.stage == stage else w for w in plan.works]
    return replace(plan, works=tuple(works))


def test_a_worked_day_becomes_timings() -> None:
    found = {t.stage: t for t in timings_of(tiny_day(), retimed(tiny_plan(), "rinse", 21))}
    assert {stage: (t.planned_minutes, t.actual_minutes) for stage, t in found.items()} == {
        "treat": (12, 12),
        "sweep": (20, 20),
        "rinse": (15, 21),
    }
    rinse = found["rinse"]
    assert (rinse.date, rinse.job, rinse.kind, rinse.method, rinse.condition) == (
        date(2026, 6, 16), "elm", "rinse", "rinse.lance", "usual",
    )  # fmt: skip
    assert (rinse.measure, rinse.unit) == (None, "")
    [sweep] = [t for t in timings_of(rated_day(), tiny_plan()) if t.stage == "sweep"]
    assert (sweep.measure, sweep.unit, sweep.planned_minutes, sweep.actual_minutes) == (10, "m2", 10, 20)


def test_only_what_went_otherwise_counts_as_a_real_time() -> None:
    assert otherwise_than_planned(tiny_day(), tiny_plan()) == {}
    assert otherwise_than_planned(tiny_day(), retimed(tiny_plan(), "rinse", 21)) == {("elm", "rinse"): 21}


def test_a_plan_at_own_pace_is_not_taken_for_what_happened(record: Record) -> None:
    note(record, 30, times=6, method="rinse.lance")
    made = changes(tiny_day(), record)
    minutes = changed(tiny_day(), made).jobs["elm"].likely_minutes("rinse", "lance")
    assert minutes > 15
    assert otherwise_than_planned(tiny_day(), retimed(tiny_plan(), "rinse", minutes), made) == {}
    assert otherwise_than_planned(tiny_day(), retimed(tiny_plan(), "rinse", 50), made) == {("elm", "rinse"): 50}


def test_learning_compares_with_the_shipped_pace_whatever_was_planned(record: Record) -> None:
    """A crew whose rinse always takes 30 min where 15 are shipped comes near twice as long, and not beyond it."""
    for number in range(40):
        made = changes(tiny_day(), record)
        day = tiny_day(date=date(2026, 1, 1).replace(day=1 + number % 28, month=1 + number // 28))
        for timing in timings_of(day, tiny_plan(), made, stages={("elm", "rinse"): 30.0}):
            assert timing.shipped_minutes == pytest.approx(15)
            assert timing.planned_minutes == pytest.approx(15 * (made[0].pace.factor if made else 1))
            record.note_timing(timing)
    [change] = changes(tiny_day(), record)
    assert change.pace.factor == pytest.approx(shrunk(2, 40), rel=0.02)
    assert 1.8 < change.pace.factor < 2


def test_stages_under_way_are_left_out() -> None:
    unfinished = retimed(tiny_plan(), "rinse", 10**6)
    assert {t.stage for t in timings_of(tiny_day(), unfinished)} == {"treat", "sweep"}
    assert otherwise_than_planned(tiny_day(), unfinished) == {}


def test_a_plan_of_another_day_is_told() -> None:
    other = rated_day()
    stages = {key: stage for key, stage in other.jobs["elm"].stages.items() if key != "sweep"}
    other = other.model_copy(update={"jobs": {"elm": other.jobs["elm"].model_copy(update={"stages": stages})}})
    for read in (timings_of, otherwise_than_planned):
        with pytest.raises(ValueError, match=r"the day has no stage 'elm\.sweep' by 'broom'; plan the day again"):
            read(other, tiny_plan())


def test_what_the_record_knows_as_a_table(record: Record) -> None:
    note(record, 12, times=2)
    record.note_timing(Timing(date(2026, 3, 2), "oak", "rinse", "rinse", "rinse.lance", "usual", 15, 15))
    rows = {row.pace.method: row for row in learned(record)}
    # The trade library ships the broom with parts 0.8 and 1.4 of its time.
    factor = shrunk(1.2, 2, 0.8, 1.4)
    sweep = rows["sweep.broom"]
    assert (sweep.shipped, sweep.own, sweep.pace.jobs_behind) == ("60 m2/h", f"{60 / factor:.3g} m2/h", 2)
    assert (rows["rinse.lance"].shipped, rows["rinse.lance"].own) == ("15 min", "15 min")
