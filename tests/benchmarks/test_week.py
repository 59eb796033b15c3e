"""The invented week is what it says: sound days, so many jobs in each, the same each time."""

from pathlib import Path

from planner.day.reading import read_day
from tests.benchmarks.week import DAYS, JOBS, week, write_week


def test_six_sound_days_of_eight_jobs(tmp_path: Path) -> None:
    write_week(tmp_path)
    days = [read_day(path) for path in sorted(tmp_path.glob("*.toml"))]
    assert [len(day.jobs) for day in days] == [JOBS] * DAYS == [8] * 6
    assert len({day.date for day in days}) == DAYS
    assert len({day.date.isocalendar().week for day in days}) == 1, "ISO 8601: one week"
    assert week() == week()
