"""The network of a plan and the chain that carries its finish."""

from pathlib import Path

import pytest

from planner.day import Day
from planner.day.file import read_day
from planner.engine import first_plan, plan_rest
from planner.fit.chain import Chain, ChainStep, chain
from planner.fit.linking import network_of
from planner.plan.plan import Plan
from planner.plan.progress import Noted, Progress
from tests.days import tiny_day
from tests.fit.small_days import open_day
from tests.plan import worked

SAMPLES = Path(__file__).parent.parent.parent / "sample_days"
NAMES = [
    "tiny",
    "rear_patio",
    "three_jobs_two_hands",
    "wash_and_return",
    "by_recipe",
    "tight_dwell",
    "no_tap",
    "too_much",
]


def serial(day: Day) -> Plan:
    plan = first_plan(day)
    assert plan is not None
    return plan


@pytest.mark.parametrize("name", NAMES)
def test_every_link_leads_backward_and_the_plan_keeps_it(name: str) -> None:
    day = read_day(SAMPLES / f"{name}.toml")
    network = network_of(day, serial(day))
    for number, duty in enumerate(network.duties):
        for link in duty.links:
            before = network.duties[link.before]
            assert link.before < number
            assert link.ready(before.start, before.end, duty.minutes) <= duty.start


@pytest.mark.parametrize("name", NAMES)
def test_as_soon_as_can_be_is_never_later_than_planned(name: str) -> None:
    day = read_day(SAMPLES / f"{name}.toml")
    network = network_of(day, serial(day))
    for start, duty in zip(network.soonest().starts, network.duties, strict=True):
        assert start <= duty.start, duty.words


@pytest.mark.parametrize("name", NAMES)
def test_the_chain_has_no_hole(name: str) -> None:
    """From the start of the day to home, each minute lies in a step or in what it waited."""
    day = read_day(SAMPLES / f"{name}.toml")
    plan = serial(day)
    found = chain(day, plan)
    assert found.steps[0].start == plan.leaves
    assert found.home + found.slack == plan.home
    assert sum(found.minutes().values()) == found.home - plan.leaves
    for one, two in zip(found.steps, found.steps[1:], strict=False):
        assert two.start == one.end + two.waited


def test_a_dwell_that_nothing_fills_is_named() -> None:
    waits = [{"after": "a", "before": "b", "kind": "dwell", "least": 45, "most": 60}]
    day = open_day({"a": 20, "b": 30}, waits=waits)
    found = chain(day, serial(day))
    # By hand: 20 min of driving, 50 of work, and 45 waited.
    assert found.minutes() == {"hands-on work": 50, "waiting": 45, "driving": 20}
    assert [step.why for step in found.steps if step.waited] == ["dwell after 'A: a' of at least 45 min"]


def test_quiet_hours_that_hold_a_stage_back_are_named() -> None:
    day = open_day({"a": {"minutes": 30, "noisy": True}})
    job = day.jobs["elm"].model_copy(update={"quiet": ((0, 540),)})
    day = day.model_copy(update={"jobs": {"elm": job}})
    plan = serial(day)
    work = next(step for step in chain(day, plan).steps if step.sort == "hands-on work")
    assert work.why in ("quiet hours until 09:00", "the van is there then", "straight after")
    assert (work.start, plan.home) == (540, 580)


def test_an_arrival_window_is_named() -> None:
    day = open_day({"a": 30})
    job = day.jobs["elm"].model_copy(update={"arrive": (600, 660)})
    day = day.model_copy(update={"jobs": {"elm": job}})
    first = chain(day, serial(day)).steps[0]
    assert first.why == "arrival is not before 10:00"


def test_what_is_carried_is_carried_before_it_is_used() -> None:
    day = tiny_day()
    network = network_of(day, serial(day))
    rinse = network.duties[network.work("elm", "rinse") or 0]
    assert any("washer" in link.why for link in rinse.links)


def test_gaps_that_are_over_on_a_day_under_way_are_not_to_be_closed() -> None:
    """The treatment was begun 20 minutes late and nobody can be sooner now: a plan proven best has no gap."""
    day, plan = worked.tiny()
    result = plan_rest(day, plan, Progress(530, (Noted("elm", "treat", 516, 528),)), seconds=20, workers=1)
    assert result.plan is not None
    assert result.day is not None
    assert result.plan.proof is not None
    assert result.plan.proof.is_best
    carried = chain(result.day, result.plan)
    assert carried.slack == 0
    assert "sooner" not in carried.sentence
    treat = next(step for step in carried.steps if "treat" in step.words)
    assert (treat.start, treat.end) == (516, 528)


def test_what_a_chain_waits_for_is_said_once() -> None:
    """Three waits for one thing are one wait of their sum: by hand, 3 + 4 + 5 minutes."""
    steps = tuple(ChainStep(n, n + 1, "work", "sweep", "Ash", "as it went", 3 + n) for n in range(3))
    assert Chain(steps).waits() == ("as it went (12 min)",)
