"""The verdict, and the least work behind it."""

import datetime as dt
import re
from dataclasses import replace
from typing import Any

from planner.day import Day
from planner.engine import first_plan, plan_day
from planner.fit.least_work import least_work
from planner.fit.risk import play_out
from planner.fit.verdict import verdict
from tests.days import tiny_day
from tests.fit.small_days import open_day


def test_the_least_work_of_the_tiny_day_by_hand() -> None:
    least = least_work(tiny_day())
    # Work 12 + 15 + 20; set-ups 4 + 4 and 6 + 5; 1 + 2 + 0.5 armfuls by 2 are two crossings of 2 x 2 min; driving.
    assert (least.work, least.setting_up, least.carrying, least.driving) == (47, 19, 8, 20)
    assert least.minutes == 94


def test_two_hands_share_the_work() -> None:
    day = open_day({"a": 31, "b": 30}, hands={"ash": {}, "elm": {}})
    assert least_work(day).minutes == 20 + 31  # 61 minutes, shared, to the whole minute


def test_a_day_with_room_fits() -> None:
    day = open_day({"a": 60}, finish=780)
    plan = first_plan(day)
    assert plan is not None
    found = verdict(day, plan)
    assert (found.word, found.spare) == ("fits", 780 - 560)
    assert found.sentence == "Fits with 3 h 40 min spare."


def test_whose_hours_the_van_goes_by_is_told() -> None:
    """Who rides is fetched and brought home: of a helper from nine to twelve the van is out no longer than that."""
    helper: dict[str, Any] = {"name": "Elm", "hours": [540, 720]}

    def said(**more: Any) -> str:
        day = open_day({"a": 60}, hands={"ash": {"hours": [480, 1200]}, "elm": helper | more})
        plan = first_plan(day)
        assert plan is not None
        return verdict(day, plan).sentence

    assert "from 09:00 to 12:00 only: the hours of Elm, who rides in it." in said()
    assert "only" not in said(own_transport=True)
    assert "only" not in said(hours=[480, 1200])


def test_work_in_the_dark_is_told_where_nobody_said_how_far_north_it_is() -> None:
    """In London the sun sets at 15:52 in the week before Christmas (almanacs, from memory); civil dusk is 16:31."""
    winter: dict[str, Any] = {"date": dt.date(2026, 12, 16), "start": 780, "finish": 1080}
    late = {"a": 60, "b": 150}
    day = open_day(late, **winter)

    def said(of: Day) -> str:
        plan = first_plan(of)
        assert plan is not None
        return verdict(of, plan).sentence

    told = r"by the sun over London it is dark until 0[67]:\d\d and from 16:[23]\d, and so for '[AB]: [ab]'"
    assert re.search(told, said(day))
    light = [
        open_day(late, **winter | {"date": dt.date(2026, 6, 16)}),
        open_day(late, **winter | {"lights": True}),
        open_day(late, **winter | {"time_zone": "UTC"}),
        open_day({"a": {"minutes": 60, "outdoors": False}, "b": {"minutes": 150, "outdoors": False}}, **winter),
        open_day({"a": 60}, **winter),
        open_day({"a": 60}, **winter | {"places": {"yard": {"at": [51.5, -0.1]}, "elm": {}}}),
    ]
    assert all("dark" not in said(other) for other in light)


def test_a_day_late_in_more_than_one_of_five_is_tight() -> None:
    # Late with a chance of (3/4)^5 = 0.237, as in the tests of risk.
    day = open_day({"a": {"minutes": 60, "spread": (1.0, 1.0, 2.0)}}, finish=560 + 15)
    plan = first_plan(day)
    assert plan is not None
    assert verdict(day, plan).word == verdict(day, plan, play_out(day, plan)).word == "tight"
    # Five minutes more: (2/3)^5 = 0.132.
    assert verdict(day.model_copy(update={"finish": 580}), plan).word == "fits"


def test_more_work_than_there_are_hours_says_so() -> None:
    day = open_day({"a": 200, "b": 200}, finish=780)
    plan = plan_day(day, seconds=2).plan
    assert plan is not None
    found = verdict(day, plan)
    assert (found.word, found.spare) == ("does not fit", -120)
    # 400 minutes of work and 20 of driving are 7 h; from 08:00 to 13:00 are 5 h.
    assert "by 2 h, and cannot for one hand" in found.sentence
    assert "come to 7 h, and there are 5 h" in found.sentence


def test_a_wait_that_does_not_fit_is_proven_by_the_search() -> None:
    waits = [{"after": "a", "before": "b", "kind": "dry", "least": 300}]
    day = open_day({"a": 30, "b": 30}, waits=waits, finish=780)
    plan = plan_day(day, seconds=2).plan
    assert plan is not None
    found = verdict(day, plan)
    assert found.spare == -80
    assert "no plan for one hand is home sooner (proven)" in found.sentence
    assert "dry after 'A: a'" in found.reason


def test_without_a_proof_none_is_claimed() -> None:
    waits = [{"after": "a", "before": "b", "kind": "dry", "least": 300}]
    day = open_day({"a": 30, "b": 30}, waits=waits, finish=780)
    plan = first_plan(day)
    assert plan is not None
    assert "not proven" in verdict(day, replace(plan, proof=None)).sentence


def test_what_begins_in_its_last_permitted_minute_is_said_by_the_verdict_itself() -> None:
    """The rinse may begin 30 to 45 minutes after the treatment has ended, whenever that is."""
    day, plan = tiny_day(), first_plan(tiny_day())
    assert plan is not None
    treated = next(work.end for work in plan.works if work.stage == "treat")
    for waited, is_told in ((44, False), (45, True)):
        works = [replace(w, start=treated + waited) if w.stage == "rinse" else w for w in plan.works]
        told = verdict(day, replace(plan, works=tuple(works))).sentence
        assert ("last permitted minute" in told) == is_told
