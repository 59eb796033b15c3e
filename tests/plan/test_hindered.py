"""What keeps a stage from being done: what a method takes, and what it draws from what another stage took."""

import pytest

from planner.day import Day
from planner.plan.doubts import asked_of
from planner.plan.hindered import NEVER, cannot_be_done, hindrances
from planner.plan.progress import Noted, Progress
from tests.days import tiny_day
from tests.plan import worked


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


def test_what_must_come_just_after_work_that_cannot_be_done_goes_with_it() -> None:
    """Without a broom there is no sweep, within half an hour of which the joints are filled, and then compacted."""
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    job, by_hand = tables["jobs"]["elm"], {"hand": {"minutes": 5}}
    job["stages"]["fill"] = {"surface": "path", "methods": by_hand}
    job["stages"]["compact"] = {"surface": "path", "after": ["fill"], "methods": by_hand}
    job["stages"]["tidy"] = {"surface": "path", "after": ["sweep"], "methods": by_hand}
    job["waits"] = [*job["waits"], {"after": "sweep", "before": "fill", "kind": "order", "most": 30}]
    day = Day.model_validate(tables)
    told = Progress(485, lacking={"broom": None}, said=485)
    (asked,) = [x for x in asked_of(day, plan, told) if "cannot be done" in x.words]
    assert asked.likely.on(told).dropped == (("elm", "sweep"), ("elm", "fill"), ("elm", "compact"))
    assert asked.replies[1].on(told).dropped == (("elm", "sweep"),)
    begun = Progress(540, (Noted("elm", "treat", 496, 508),), lacking={"washer": None}, said=540)
    (asked,) = [x for x in asked_of(day, plan, begun) if "Rinse" in x.words and "cannot be done" in x.words]
    assert len(asked.replies) == 1
