"""The least help, against exhaustive search over all stretches of the grid."""

import pytest

from planner.day import Day
from planner.engine import plan_day
from planner.fit.second_hand import HELPER, Help, least_help, reaches, with_helper
from planner.plan.checker import broken_rules
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from tests.fit.small_days import open_day

pytestmark = pytest.mark.usefixtures("in_this_process")

WAIT = [{"after": "a", "before": "b", "kind": "dry", "least": 10}]


def short_day() -> Day:
    """Three stages and a wait, fifteen minutes too long for one hand."""
    return open_day({"a": 40, "b": 50, "c": 30}, waits=WAIT, finish=480 + 20 + 105)


def pair_day() -> Day:
    """A stage that takes two hands at once would be done by a pair in a third of the time."""
    day = open_day({"a": 60, "b": 30}, finish=480 + 20 + 60)
    job = day.jobs["elm"]
    one = job.stages["a"].methods["by-hand"]
    pair = one.model_copy(update={"hands": 2, "minutes": 20})
    stages = {**job.stages, "a": job.stages["a"].model_copy(update={"methods": {"by-hand": one, "pair": pair}})}
    return day.model_copy(update={"jobs": {"elm": job.model_copy(update={"stages": stages})}})


def planned(day: Day) -> Plan:
    plan = plan_day(day, seconds=2).plan
    assert plan is not None
    return plan


def shortest_by_trying_all(day: Day, step: int, end: int) -> int | None:
    """The shortest stretch of the grid with which the day fits; every one is planned to the proof."""
    grid = range(day.start, end + 1, step)
    fitting = []
    for start in grid:
        for until in grid:
            if until > start:
                answer, _ = reaches(day, start, until, 5.0)
                assert answer != "unknown"
                if answer == "yes":
                    fitting.append(until - start)
    return min(fitting, default=None)


@pytest.mark.parametrize("make", [short_day, pair_day])
def test_the_least_help_is_the_least_of_all(make: object) -> None:
    assert callable(make)
    day = make()
    plan = planned(day)
    step = 30
    found = least_help(day, plan, step=step, seconds=20)
    assert found.stretch is not None
    assert found.is_proven
    end = -(-max(plan.home, latest_finish(day)) // step) * step
    assert found.stretch.paid == shortest_by_trying_all(day, step, end)


def test_the_plan_with_help_holds_and_is_in_time() -> None:
    day = short_day()
    found = least_help(day, planned(day), step=30, seconds=20)
    assert found.stretch is not None
    helped = with_helper(day, found.stretch.start, found.stretch.end)
    assert broken_rules(helped, found.stretch.plan) == []
    assert found.stretch.plan.home <= latest_finish(day)
    assert any(HELPER in work.hands for work in found.stretch.plan.works)
    assert found.stretch.paid == 30
    assert found.wages == pytest.approx(30 / 60 * 24)
    assert "from " in found.sentence
    assert dict(found.rows())["wages"] == "12.00"


def test_help_for_the_whole_day_is_found_where_no_short_stretch_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that ends without an answer is no reason to say that nobody helps: a remedy may tell the contrary."""
    day = pair_day()
    monkeypatch.setattr("planner.fit.second_hand.sought", lambda *_: ("unknown", None))
    found = least_help(day, planned(day), seconds=20)
    assert found.stretch is not None
    assert found.stretch.plan.home <= found.goal


def test_what_no_help_can_shorten_says_so() -> None:
    waits = [{"after": "a", "before": "b", "kind": "dry", "least": 200}]
    day = open_day({"a": 30, "b": 30}, waits=waits, finish=480 + 200)
    found = least_help(day, planned(day), step=60, seconds=10)
    assert found == Help(680, 0, None, is_proven=True, step=60)
    assert found.sentence == "Not even a second hand for the whole day has the van home by 11:20."


def test_a_day_that_fits_is_asked_for_an_hour() -> None:
    day = open_day({"a": 90, "b": 90}, finish=780)
    plan = planned(day)
    assert plan.home == 480 + 200
    found = least_help(day, plan, step=30, seconds=20)
    assert found.goal == plan.home - 60
    assert found.stretch is not None
    assert found.saves >= 60
    assert found.stretch.paid == 90  # a stage cannot be parted: one of the two is theirs


def test_a_late_day_may_be_asked_for_less_than_it_is_late() -> None:
    """Late by far. Thirty minutes sooner is home by 10:50; the short stage is thirty, so the helper does that one."""
    day = open_day({"a": 150, "b": 30}, finish=500)
    plan = planned(day)
    assert plan.home == 480 + 200
    found = least_help(day, plan, save=30, step=30, seconds=20)
    assert found.goal == plan.home - 30
    assert found.stretch is not None
    assert found.stretch.paid == 30
    assert found.stretch.plan.home <= found.goal
