"""What stages took, noted and read back, and what own pace makes of it."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from planner.record import Record, RecordFault, Timing
from planner.record.timings import job_ratios
from planner.trade.rates import Spread
from tests.record.conftest import TODAY

WASH = Timing(
    date(2026, 3, 9), "Rear patio", "wash-1", "wash", "washer", "green", 40.0, 52.0, measure=32.0, unit="m2"
)
SHIPPED = Spread(34, 40, 58)


def test_noted_and_read_back_whole(record: Record) -> None:
    clearing = Timing(
        date(2026, 3, 9), "Wei\u00df; DROP TABLE", "clear", "clear", "scoop", "", 25, 20.5, pace_used=1.25
    )
    assert [record.note_timing(WASH), record.note_timing(clearing)] == [1, 2]
    assert record.timings() == [
        replace(WASH, noted_on=TODAY, id=1),
        replace(clearing, noted_on=TODAY, id=2),
    ]
    assert record.timings(method="washer") == record.timings()[:1]
    assert record.timings(method="washer", condition="") == []
    assert record.timings(condition="") == record.timings()[1:]


def test_it_stays_from_one_opening_to_the_next(path: Path) -> None:
    for count in range(3):
        with Record.open(path) as record:
            assert record.notice == ""
            assert len(record.timings()) == count
            record.note_timing(WASH)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("actual_minutes", 0),
        ("actual_minutes", -5),
        ("planned_minutes", float("nan")),
        ("planned_minutes", float("inf")),
        ("measure", -1),
        ("pace_used", 0),
        ("actual_minutes", 30_000),
    ],
)
def test_numbers_that_cannot_be_are_refused(field: str, value: float) -> None:
    with pytest.raises(ValueError, match=rf"{field.replace('_', ' ')} of 'wash-1' is .*; it must be above 0"):
        replace(WASH, **{field: value})  # type: ignore[arg-type]


def test_a_text_without_end_is_refused() -> None:
    with pytest.raises(ValueError, match="job is longer than 400 characters"):
        replace(WASH, job="x" * 401)


def test_a_date_ahead_of_the_clock_is_kept_beside_the_date_of_noting(record: Record) -> None:
    for day in (date(2026, 3, 10), date(2026, 3, 11), date(2031, 1, 1), date(1970, 1, 1)):
        record.note_timing(replace(WASH, date=day))
    assert [timing.noted_on for timing in record.timings()] == [TODAY] * 4
    assert record.own_pace("washer", "green", SHIPPED).jobs_behind == 4


def test_a_clock_that_jumps_does_not_change_their_order(path: Path) -> None:
    clock = iter(
        [date(2026, 3, 10), date(2040, 1, 1), date(1970, 1, 1), date(2026, 3, 11), date(2026, 3, 11)]
    )
    with Record.open(path, today=lambda: next(clock)) as record:
        for job in ("a", "b", "c"):
            record.note_timing(replace(WASH, job=job))
        assert [timing.job for timing in record.timings()] == ["a", "b", "c"]
        assert [timing.noted_on for timing in record.timings()] == [
            date(2040, 1, 1),
            date(1970, 1, 1),
            date(2026, 3, 11),
        ]


def test_stages_of_one_job_count_once() -> None:
    stages = [
        replace(WASH, planned_minutes=30, actual_minutes=40),
        replace(WASH, planned_minutes=10, actual_minutes=20),
    ]
    other_day = replace(WASH, date=date(2026, 3, 8), planned_minutes=10, actual_minutes=9)
    assert job_ratios([*stages, other_day]) == [60 / 40, 9 / 10]


def test_plans_at_own_pace_do_not_unlearn_it() -> None:
    """40 shipped minutes, planned as 50 at own pace, took 50: the crew is still 1.25 times the shipped."""
    planned_at_own_pace = replace(WASH, planned_minutes=50, actual_minutes=50, pace_used=1.25)
    assert job_ratios([planned_at_own_pace]) == [pytest.approx(50 / 40)]


def test_own_pace_is_of_its_method_and_condition_only(record: Record) -> None:
    for day in range(1, 7):
        record.note_timing(replace(WASH, date=date(2026, 2, day)))
        record.note_timing(replace(WASH, date=date(2026, 2, day), condition="dusty", actual_minutes=30))
    green = record.own_pace("washer", "green", SHIPPED)
    dusty = record.own_pace("washer", "dusty", SHIPPED)
    assert (green.method, green.condition, green.shipped, green.jobs_behind) == (
        "washer",
        "green",
        SHIPPED,
        6,
    )
    assert green.jobs_factor == pytest.approx(52 / 40)
    assert 1 < green.factor < 52 / 40
    assert 30 / 40 < dusty.factor < 1
    assert record.own_pace("brush", "green", SHIPPED).jobs_behind == 0


def test_turned_off_it_notes_nothing_and_uses_nothing(path: Path) -> None:
    with Record.open(path) as record:
        assert record.is_learning
        record.note_timing(WASH)
        record.is_learning = False
        assert record.note_timing(WASH) is None
        assert len(record.timings()) == 1
        assert record.own_pace("washer", "green", SHIPPED).factor == 1
    with Record.open(path) as record:
        assert not record.is_learning
        record.is_learning = True
        assert record.own_pace("washer", "green", SHIPPED).jobs_behind == 1


def test_one_timing_is_forgotten(record: Record) -> None:
    record.note_timing(WASH)
    record.note_timing(replace(WASH, job="a stop forgotten", actual_minutes=900))
    record.forget_timing(2)
    assert [timing.id for timing in record.timings()] == [1]
    assert record.note_timing(WASH) == 3, "numbers are not used twice"


def test_a_closed_record_says_so(record: Record) -> None:
    record.close()
    record.close()
    with pytest.raises(RecordFault, match="closed"):
        record.note_timing(WASH)
