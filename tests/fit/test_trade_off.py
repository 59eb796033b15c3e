"""The trade-off between minutes home and restricted crossings."""

from functools import lru_cache
from itertools import combinations

import pytest

from planner.day import Day
from planner.engine import plan_day
from planner.fit.trade_off import A_CROSSING_ABOVE_ALL, Point, TradeOffs, trade_off, undominated
from planner.plan.checker import broken_rules
from planner.plan.measures import measure
from planner.plan.plan import Plan
from tests.days import tiny_day

pytestmark = pytest.mark.usefixtures("in_this_process")

NO_PLAN = Plan((), (), ())


def two_grounds_day() -> Day:
    """The tiny day with a second path in front that can be swept in the dwell, if one walks out and in again."""
    day = tiny_day()
    job = day.jobs["elm"]
    path = job.surfaces["path"].model_copy(update={"ground": "front"})
    front = job.grounds["rear"].model_copy(
        update={
            "supplies": {},
            "way_in": job.grounds["rear"].way_in.model_copy(update={"minutes": 0, "restricted": False}),
        }
    )
    changed = job.model_copy(
        update={"surfaces": {**job.surfaces, "path": path}, "grounds": {**job.grounds, "front": front}}
    )
    rear = changed.grounds["rear"]
    wide = rear.model_copy(update={"way_in": rear.way_in.model_copy(update={"load_limit": 4.0})})
    return day.model_copy(
        update={"jobs": {"elm": changed.model_copy(update={"grounds": {**changed.grounds, "rear": wide}})}}
    )


@lru_cache(maxsize=1)
def found() -> tuple[Day, TradeOffs]:
    day = two_grounds_day()
    return day, trade_off(day, seconds=12)


def test_a_trip_saved_costs_the_sweeping_that_would_have_filled_the_dwell() -> None:
    # By hand. One crossing: in with both (2), set up 4, treat 12, dwell 30 in which the sprayer (4) and washer (6) are
    # seen to, rinse 15, pack 5, out 2, then sweep 20: 90, and 20 of driving. Two: out for the sweep in the dwell; the
    # dwell of 30 holds pack 4, walk out 2, sweep 20, walk in 2, and with the washer's 6 makes 34: 4 + 12 + 34 + 15 + 5
    # and the walks 2 and 2: 74, and 20 of driving.
    _, trade = found()
    assert [(p.crossings, p.minutes) for p in trade.points] == [(1, 110), (2, 94)]
    assert all(p.is_proven for p in trade.points)
    assert trade.sentence == "one fewer trip through the house costs 16 min."


def test_no_point_is_beaten_and_every_plan_holds() -> None:
    day, trade = found()
    for one, two in combinations(trade.points, 2):
        assert one.crossings < two.crossings
        assert one.minutes > two.minutes
    for point in trade.points:
        assert broken_rules(day, point.plan) == []
        numbers = measure(day, point.plan)
        assert (numbers.minutes_home, numbers.restricted_crossings) == (point.minutes, point.crossings)


def test_the_ends_are_the_two_single_optima() -> None:
    day, trade = found()
    soonest = plan_day(day.model_copy(update={"crossing_price": 0}), seconds=5).plan
    fewest = plan_day(day.model_copy(update={"crossing_price": A_CROSSING_ABOVE_ALL}), seconds=5).plan
    assert soonest is not None
    assert fewest is not None
    assert soonest.proof is not None
    assert fewest.proof is not None
    assert soonest.proof.is_best
    assert fewest.proof.is_best
    assert trade.points[-1].minutes == measure(day, soonest).minutes_home
    assert trade.points[0].crossings == measure(day, fewest).restricted_crossings


def test_beaten_points_are_left_out() -> None:
    points = [Point(m, c, 0, NO_PLAN) for m, c in ((90, 4), (100, 3), (100, 4), (105, 3), (120, 2), (130, 2), (90, 5))]
    assert [(p.minutes, p.crossings) for p in undominated(points)] == [(120, 2), (100, 3), (90, 4)]


def test_the_words_count_trips_and_minutes() -> None:
    points = tuple(Point(m, c, m, NO_PLAN) for m, c in ((134, 2), (120, 5)))
    trade = TradeOffs(points, "trips through the house", 480)
    assert trade.sentence == "three fewer trips through the house cost 14 min."
    assert trade.rows()[0] == ("2", "10:14", "three fewer trips through the house cost 14 min", "proven")
