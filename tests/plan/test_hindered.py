"""What keeps a stage from being done: what a method takes, and what it draws from what another stage took."""

import pytest

from planner.day import Day
from planner.plan.hindered import NEVER, cannot_be_done, hindrances
from planner.plan.progress import Progress
from tests.days import tiny_day


def drawing(**way: object) -> Day:
    """The tiny day, in which the sweep takes sand."""
    tables = tiny_day().model_dump(by_alias=True)
    tables["materials"] = {"sand": {"name": "Sand", "container": "bag", "load": 1}}
    tables["jobs"]["elm"]["stages"]["sweep"]["methods"]["broom"] |= way
    return Day.model_validate(tables)


@pytest.mark.parametrize("way", [{"uses": {"sand": 1}}, {"expected": {"sand": 0.5}}], ids=["takes", "draws"])
def test_what_takes_or_draws_waits_for_what_has_run_out(way: dict[str, object]) -> None:
    day = drawing(**way)
    until = hindrances(day, Progress(500, run_out={"sand": 600}), "elm", "sweep")
    assert [h.until for h in until.values()] == [600]
    gone = hindrances(day, Progress(500, run_out={"sand": None}), "elm", "sweep")
    assert [h.until for h in gone.values()] == [NEVER]
    assert "no more Sand" in cannot_be_done(day, Progress(500, run_out={"sand": None}), "elm", "sweep")


def test_what_needs_none_of_it_goes_on() -> None:
    assert hindrances(drawing(), Progress(500, run_out={"sand": None}), "elm", "sweep") == {}
