"""A split over two days never breaks a wait, and leaves the least for the second day."""

import datetime as dt
from itertools import combinations

import pytest

from planner.day import Day
from planner.day.sections import in_sections
from planner.engine import plan_day
from planner.fit.stops import blocks_of, stops
from planner.fit.two_days import Split, split_over_two_days
from planner.plan.checker import broken_rules
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from tests.fit.small_days import open_day

pytestmark = pytest.mark.usefixtures("in_this_process")

NIGHT = 1440 - 300


def planned(day: Day) -> Plan:
    plan = plan_day(day, seconds=2).plan
    assert plan is not None
    return plan


def long_day() -> Day:
    """A wash that dries for four hours before it is sealed, a treated wall that is rinsed, and a fence to oil."""
    stages = {
        "wash": 60,
        "seal": {"minutes": 50, "after": ["wash"]},
        "treat": {"minutes": 20, "chemical": "hypochlorite"},
        "rinse": {"minutes": 40, "after": ["treat"], "rinses": True, "surface": "treat"},
        "oil": 70,
    }
    waits = [
        {"after": "wash", "before": "seal", "kind": "dry", "least": 240},
        {"after": "treat", "before": "rinse", "kind": "dwell", "least": 30, "most": 50},
    ]
    return open_day(stages, waits=waits, finish=480 + 250)


def checked(day: Day, split: Split) -> None:
    """Everything is done once, and every wait of the day as it was is kept from one day to the next."""
    assert split.first is not None
    assert split.second is not None
    assert split.plan is not None
    assert split.second_plan is not None
    assert broken_rules(split.first, split.plan) == []
    assert broken_rules(split.second, split.second_plan) == []
    assert split.plan.home <= latest_finish(split.first)
    assert split.second_plan.home <= latest_finish(split.second)
    shift = (split.second.date - split.first.date).days * 1440
    spans = {(w.job, w.stage): (w.start, w.end) for w in split.plan.works}
    later = {(w.job, w.stage): (w.start + shift, w.end + shift) for w in split.second_plan.works}
    assert not set(spans) & set(later)
    spans |= later
    assert set(spans) == {(j, s) for j, s, _ in day.stages()}
    for j, job in day.jobs.items():
        for wait in job.waits:
            if wait.before is not None:
                gap = spans[j, wait.before][0] - spans[j, wait.after][1]
                assert wait.least <= gap
                assert wait.most is None or gap <= wait.most
        for s, stage in job.stages.items():
            assert all(spans[j, before][1] <= spans[j, s][0] for before in stage.after)


def test_the_drying_is_put_into_the_night() -> None:
    day = long_day()
    split = split_over_two_days(day, planned(day), seconds=20)
    checked(day, split)
    # Without the seal, 190 minutes of work and 20 of driving are 210 of 250; the least that can be left is the seal.
    assert split.left == (("elm", "seal"),)
    assert split.minutes == 50
    assert [o.words for o in split.overnight] == ["the dry after 'Wash: wash'"]


def test_a_cure_longer_than_the_night_holds_the_second_day_back() -> None:
    waits = [{"after": "a", "before": "b", "kind": "cure", "least": 1440}]
    day = open_day({"a": 60, "b": 30}, waits=waits, finish=780)
    split = split_over_two_days(day, seconds=10)
    checked(day, split)
    assert split.second_plan is not None
    work = split.second_plan.work("elm", "b")
    assert work is not None
    assert work.start >= 550  # the first day's work ends at 09:10 at the soonest, and a day later it may go on


def test_what_a_dwell_or_a_chemical_joins_is_not_parted() -> None:
    for left in stops(blocks_of(long_day(), NIGHT)):
        assert (("elm", "treat") in left) == (("elm", "rinse") in left)


def test_a_section_may_be_left_with_its_own_rinse() -> None:
    """Of two sections that are each treated and then rinsed, the second can be left; what is put on is rinsed off."""
    tables = long_day().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["stages"] = {key: job["stages"][key] for key in ("treat", "rinse")}
    job["waits"] = [{"after": "treat", "before": "rinse", "kind": "dwell", "least": 30, "most": 50, "order": "same"}]
    job["stages"]["rinse"]["methods"]["by-hand"]["minutes"] = 48  # 28 longer, where 20 lie between: in two sections
    day = in_sections(Day.model_validate(tables))
    assert [{stage for _, stage in left} for left in stops(blocks_of(day, NIGHT))] == [{"treat_2", "rinse_2"}]


def test_stops_come_by_their_work_and_are_all_the_safe_ones() -> None:
    """Against every subset of the stages, the unsafe ones struck out."""
    day = long_day()
    names = [(j, s) for j, s, _ in day.stages()]
    minutes = {("elm", "wash"): 60, ("elm", "seal"): 50, ("elm", "treat"): 20, ("elm", "rinse"): 40, ("elm", "oil"): 70}
    safe = set()
    for size in range(1, len(names)):
        for left in combinations(names, size):
            follows = ("elm", "wash") not in left or ("elm", "seal") in left
            together = (("elm", "treat") in left) == (("elm", "rinse") in left)
            if follows and together:
                safe.add(frozenset(left))
    found = list(stops(blocks_of(day, NIGHT)))
    assert {frozenset(left) for left in found} == safe
    assert len(found) == len(safe)
    work = [sum(minutes[name] for name in left) for left in found]
    assert work == sorted(work)


def test_a_wait_with_a_most_longer_than_the_night_may_run_through_it() -> None:
    for most, parts in ((NIGHT - 1, False), (NIGHT, True)):
        waits = [{"after": "a", "before": "b", "kind": "dry", "least": 60, "most": most}]
        day = open_day({"a": 60, "b": 30, "c": 30}, waits=waits)
        assert (
            any((("elm", "b") in left) and (("elm", "a") not in left) for left in stops(blocks_of(day, NIGHT))) == parts
        )


def test_the_second_day_may_be_another() -> None:
    day = open_day({"a": 60, "b": 30}, finish=480 + 100)
    split = split_over_two_days(day, planned(day), next_date=dt.date(2026, 6, 19), seconds=10)
    assert split.second is not None
    assert split.second.date == dt.date(2026, 6, 19)


def test_one_stage_that_is_too_long_cannot_be_split() -> None:
    day = open_day({"a": 400}, finish=780)
    split = split_over_two_days(day, planned(day), seconds=5)
    assert split.plan is None
    assert "No safe place to stop" in split.sentence


def test_what_rain_would_spoil_is_finished_the_same_day() -> None:
    fill = {"minutes": 30, "stopped_by_rain": True, "after": ["wash"]}
    compact = {"minutes": 30, "after": ["fill"], "surface": "fill"}
    day = open_day({"wash": 30, "fill": fill, "compact": compact})
    assert list(stops(blocks_of(day, NIGHT))) == [(("elm", "fill"), ("elm", "compact"))]
