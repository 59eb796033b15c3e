"""The price of the way in, and what the trade says of it."""

import pytest

from planner.engine import plan_day
from planner.fit.changes import with_free_ways
from planner.fit.way_in import price_of_way_in
from tests.days import tiny_day
from tests.fit.small_days import open_day

pytestmark = pytest.mark.usefixtures("in_this_process")


def test_it_is_the_difference_of_two_plans() -> None:
    day = tiny_day()
    found = price_of_way_in(day, "elm", seconds=6, count=1)
    house, free = plan_day(day, seconds=4).plan, plan_day(with_free_ways(day, "elm"), seconds=4).plan
    assert house is not None
    assert free is not None
    assert found.is_proven
    assert found.minutes == house.home - free.home
    assert found.crossings == 2
    assert found.money == pytest.approx(max(0, found.minutes) / 60 * 24)
    assert found.work == found.free_work == 47  # the same work: 12 + 15 + 20
    assert found.here.walking == 2 * 2 * 2  # two crossings of two minutes each way
    assert found.here.setting_up == 4 + 4 + 6 + 5


def test_a_job_from_the_front_has_no_price() -> None:
    found = price_of_way_in(open_day({"a": 30}), "elm", seconds=3, count=1)
    assert (found.minutes, found.crossings) == (0, 0)
    assert "costs no time" in found.sentence
