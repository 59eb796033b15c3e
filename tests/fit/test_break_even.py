"""From what area on a method pays."""

import pytest

from planner.day import Day
from planner.fit.break_even import break_even
from tests.fit.small_days import open_day

pytestmark = pytest.mark.usefixtures("in_this_process")


def two_ways_day() -> Day:
    """By hand 30 m2/h; by machine 20 min once and 90 m2/h: without fetching they meet where 2 a = 20 + 2 a / 3."""
    day = open_day({"wash": 10})
    job = day.jobs["elm"]
    by_hand = job.stages["wash"].methods["by-hand"]
    methods = {
        "by-hand": type(by_hand).model_validate({"rate": {"amount": 30, "unit": "m2"}}),
        "machine": type(by_hand).model_validate({"minutes": 20, "rate": {"amount": 90, "unit": "m2"}}),
    }
    stages = {"wash": job.stages["wash"].model_copy(update={"methods": methods, "area": 10.0})}
    return day.model_copy(update={"jobs": {"elm": job.model_copy(update={"stages": stages})}})


def test_it_is_where_the_two_lines_cross() -> None:
    found = break_even(two_ways_day(), "elm", "wash", "machine", low=1, high=41, step=1, seconds=12, count=1)
    # Whole minutes: at 16 m2 it is 32 against 20 + 10.67, so 31; at 15 both take 30.
    assert found.below == 15
    assert found.least == 16
    assert found.sentence == "For 'wash', machine pays from about 16 m2 on, and not at 15 m2."


def test_it_may_pay_nowhere_or_everywhere() -> None:
    day = two_ways_day()
    nowhere = break_even(day, "elm", "wash", "machine", low=2, high=10, step=4, seconds=4, count=1)
    assert (nowhere.least, nowhere.below) == (None, 10)
    everywhere = break_even(day, "elm", "wash", "machine", low=20, high=40, step=10, seconds=4, count=1)
    assert (everywhere.least, everywhere.below) == (20, None)


def test_one_method_alone_cannot_be_weighed() -> None:
    with pytest.raises(ValueError, match="no other method"):
        break_even(open_day({"a": 30}), "elm", "a", "by-hand")
