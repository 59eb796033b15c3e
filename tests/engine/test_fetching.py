"""Two hands, one of whom drives back for what was forgotten: the engine plans the rest around a van that is away.

The worked day (`tests.plan.worked.tiny`): the van at Elm from 490; Ash goes in at 490 with sprayer and broom, treats
from 496 to 508, sweeps from 512 to 532, and carries in the washer at 534. To the yard it is 10 minutes, and 5 to find
things: who leaves at 500 is back at 525. The rinse begins 30 to 45 minutes after the treatment, by 553.
"""

import icalendar
import pytest

from planner.day import Day
from planner.engine import plan_rest
from planner.plan.checker import broken_rules
from planner.plan.fetching import with_fetch
from planner.plan.legs import legs
from planner.plan.plan import Fetch, Plan
from planner.plan.progress import Noted, Progress
from planner.sheet.calendar import calendar_text
from planner.sheet.chart import Rect, chart
from tests.plan import worked

AWAY = Fetch("bo", "washer", "elm", "yard", 500, 510, 515, 525)


@pytest.fixture(scope="module")
def fetched() -> tuple[Day, Plan]:
    """The day as it went, and its rest with Bo driving for the washer from 500 on."""
    day, plan = worked.tiny()
    bo = day.hands["ash"].model_copy(update={"name": "Bo"})
    day = day.model_copy(update={"hands": day.hands | {"bo": bo}})
    noted = Progress(500, (Noted("elm", "treat", 496),), said=500)
    result = plan_rest(day, plan, with_fetch(day, plan, noted, "washer", "bo"), seconds=20)
    assert result.plan is not None
    assert result.day is not None
    assert result.refused == ()
    return result.day, result.plan


def test_the_drive_stands_in_the_plan_which_keeps_every_rule(fetched: tuple[Day, Plan]) -> None:
    day, plan = fetched
    assert plan.fetches == (AWAY,)
    assert broken_rules(day, plan, since=500) == []


def test_the_other_goes_on_with_what_is_there(fetched: tuple[Day, Plan]) -> None:
    """The sweep needs nothing from the van, and fills the dwell; it is done by Ash while Bo is away."""
    _, plan = fetched
    sweep = plan.work("elm", "sweep")
    assert sweep is not None
    assert sweep.hands == ("ash",)
    assert sweep.start < AWAY.back


def test_nothing_comes_from_the_van_or_is_done_by_the_driver_meanwhile(fetched: tuple[Day, Plan]) -> None:
    day, plan = fetched
    busy = [(x.start, x.end) for x in (*plan.works, *plan.chores) if "bo" in x.hands]
    loaded = [
        leg
        for crossing in plan.crossings
        for leg, load in zip(legs(day, crossing), (crossing.carried_in, crossing.carried_out), strict=True)
        if load
    ]
    assert not [span for span in (*busy, *loaded) if span[0] < AWAY.back and span[1] > AWAY.leaves]
    washer = next(stay for stay in plan.stays if stay.kit == "washer")
    assert washer.carried_in >= AWAY.back
    rinse = plan.work("elm", "rinse")
    assert rinse is not None
    assert rinse.start <= 508 + 45


def test_calendar_and_picture_tell_of_the_drive(fetched: tuple[Day, Plan]) -> None:
    day, plan = fetched
    events = icalendar.Calendar.from_ical(calendar_text(day, plan)).walk("VEVENT")
    assert any("08:20 Bo drives for" in str(event["DESCRIPTION"]) for event in events)
    assert any("back by 08:45" in str(event["DESCRIPTION"]) for event in events)
    picture = chart(day, plan, width=1366, now=505)
    words = {item.about: item.words for item in picture.items}
    assert words["drive", AWAY.leaves] == "Bo drives to yard for washer, 08:20 to 08:45 (25 min)"
    assert any(rect.about == ("drive", AWAY.leaves) for rect in picture.shapes if isinstance(rect, Rect))
