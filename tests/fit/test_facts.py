"""Facts of the trade that the shipped recipes must bear out; common practice, no source."""

from functools import lru_cache
from typing import Any

import pytest

from planner.day import Day
from planner.day.sections import in_sections
from planner.day.words import FILE
from planner.engine import plan_day
from planner.fit.least_work import least_work
from planner.fit.way_in import fetching
from planner.plan.measures import latest_finish
from planner.trade.recipes.laying_out import expand

OPEN = {"minutes": "1 min"}
BESIDE = {"minutes": "0 min"}
HOUSE = {"minutes": "3 min", "restricted": True, "through": "the house", "protection": "ours"}


def repoint_day(area: int, way: dict[str, Any]) -> Day:
    """Clean and repoint so many m2 of 900 x 600 slabs, one hand, from 07:30 to 18:00, twenty minutes' drive away."""
    tables = {
        "format": 1,
        "date": "2026-06-16",
        "start": "07:30",
        "finish": "18:00",
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "places": {"yard": {}, "elm": {}},
        "travel": {"trips": [{"from": "yard", "to": "elm", "minutes": "20 min"}]},
        "hands": {"ash": {"cost_per_hour": 24.0}},
        "jobs": {
            "elm": {
                "place": "elm",
                "grounds": {"paved": {"supplies": {"tap": 1, "socket": 2}, "way_in": way}},
                "recipe": "clean-and-repoint-patio",
                "measures": {"area": f"{area} m2", "slab": "900 x 600 mm", "joint_width": "15 mm"},
            }
        },
    }
    return in_sections(Day.model_validate(expand(tables), context=FILE))


DISAGREES = "the rates say 44 m2 by work alone with 15 mm joints, 12 % less; doubtful are tamping and the second pass"
NEARER = "39 minutes by the rates as they are, in place of 45; kit that is set up in a minute carries less weight"


@pytest.mark.xfail(reason=DISAGREES, strict=False)
def test_about_fifty_square_metres_are_where_it_stops_fitting_one_hands_day() -> None:
    smallest_that_cannot = next(
        area
        for area in range(30, 80)
        if (day := repoint_day(area, OPEN)).start + least_work(day).minutes > latest_finish(day)
    )
    assert 45 <= smallest_that_cannot <= 56
    plan = plan_day(repoint_day(44, OPEN), seconds=6).plan
    assert plan is not None
    assert plan.home <= 1080


@lru_cache(maxsize=2)
def planned(way: str) -> tuple[int, int, int]:
    """Home, minutes of fetching and minutes of hands-on work of 30 m2 by a way in."""
    day = repoint_day(30, {"through the house": HOUSE, "beside the van": BESIDE}[way])
    plan = plan_day(day, seconds=8).plan
    assert plan is not None
    return plan.home, fetching(day, plan, "elm").minutes, sum(w.end - w.start for w in plan.works)


@pytest.mark.xfail(reason=NEARER, strict=False)
def test_a_way_in_through_the_house_takes_a_lot_of_extra_time_for_the_same_work() -> None:
    (house, _, house_work), (beside, _, beside_work) = planned("through the house"), planned("beside the van")
    assert house_work == beside_work
    assert house - beside >= 45


def test_most_of_the_extra_time_is_setting_up_breaking_down_and_fetching() -> None:
    (house, house_fetching, _), (beside, beside_fetching, _) = planned("through the house"), planned("beside the van")
    assert house_fetching - beside_fetching > (house - beside) / 2
