"""Remedies: each is a day of its own, and its gain is the difference of two plans."""

from functools import lru_cache
from itertools import combinations
from pathlib import Path

import pytest

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.day.file import read_day
from planner.engine import first_plan, plan_day
from planner.fit.remedies import Remedies, try_remedies
from planner.fit.remedy_days import is_free_to_move, remedies_of
from planner.plan.checker import broken_rules
from planner.plan.measures import latest_finish, measure
from planner.plan.plan import Plan
from tests.days import tiny_day
from tests.fit.small_days import open_day

pytestmark = pytest.mark.usefixtures("in_this_process")

SAMPLES = Path(__file__).parent.parent.parent / "sample_days"


def with_protection(day: Day) -> Day:
    job = day.jobs["elm"]
    rear = job.grounds["rear"]
    way = rear.way_in.model_copy(update={"protection": "ours"})
    return day.model_copy(
        update={"jobs": {"elm": job.model_copy(update={"grounds": {"rear": rear.model_copy(update={"way_in": way})}})}}
    )


@lru_cache(maxsize=1)
def tried() -> tuple[Day, Plan, Remedies]:
    day = with_protection(tiny_day())
    plan = plan_day(day, seconds=3).plan
    assert plan is not None
    return day, plan, try_remedies(day, plan, seconds=10)


def test_each_gain_is_the_difference_of_two_plans_that_hold() -> None:
    day, plan, remedies = tried()
    assert len(remedies.tried) >= 6
    for one in remedies.tried:
        assert one.plan is not None, one.fault
        assert broken_rules(one.remedy.day, one.plan) == []
        assert one.minutes == plan.home - one.plan.home
        before, after = measure(day, plan), measure(one.remedy.day, one.plan)
        assert one.crossings == before.restricted_crossings - after.restricted_crossings
        assert one.gain == one.minutes + day.crossing_price * one.crossings
        assert one.fits == (one.plan.home <= latest_finish(day))


def test_what_only_takes_a_burden_away_brings_nobody_home_later() -> None:
    """The plan without it holds on, or holds without the burden's chores."""
    _, _, remedies = tried()
    lighter = [t for t in remedies.tried if t.remedy.sort in ("protection", "side gate", "tap", "trolley", "kit")]
    assert lighter
    assert all(t.gain >= 0 for t in lighter)


def test_the_customers_protection_saves_laying_and_lifting_to_the_minute() -> None:
    _, _, remedies = tried()
    one = next(t for t in remedies.tried if t.remedy.sort == "protection")
    assert one.minutes == 8 + 5  # the usual minutes to lay and to lift


def test_starting_earlier_brings_home_earlier_by_as_much() -> None:
    _, _, remedies = tried()
    assert [t.minutes for t in remedies.tried if t.remedy.sort == "earlier"] == [30, 60]


def test_the_most_worth_comes_first_and_what_does_not_help_last() -> None:
    _, _, remedies = tried()
    helping = [t for t in remedies.tried if t.helps]
    assert list(remedies.tried[: len(helping)]) == helping
    assert [t.worth for t in helping] == sorted((t.worth for t in helping), reverse=True)


def test_what_does_not_help_says_so() -> None:
    # A wait that nothing fills carries the finish: a second hand gains nothing.
    waits = [{"after": "a", "before": "b", "kind": "dry", "least": 120}]
    day = open_day({"a": 30, "b": {"minutes": 30, "after": ["a"]}}, waits=waits)
    plan = plan_day(day, seconds=2).plan
    assert plan is not None
    wanted = [r for r in remedies_of(day, plan) if r.sort == "second hand"]
    found = try_remedies(day, plan, remedies=wanted, seconds=3)
    assert not found.tried[0].helps
    assert "does not help (home no sooner)" in found.tried[0].sentence
    assert found.sentence == "Nothing that was tried helps."


def test_every_remedy_of_the_samples_is_a_sound_day() -> None:
    sorts = set()
    for name in ("rear_patio", "no_tap", "three_jobs_two_hands", "tight_dwell", "too_much", "by_recipe"):
        day = read_day(SAMPLES / f"{name}.toml")
        plan = first_plan(day)
        assert plan is not None
        for remedy in remedies_of(day, plan):
            faults = [f for f in faults_in(remedy.day) if f not in faults_in(day)]
            assert faults == [], (name, remedy.words)
            sorts.add(remedy.sort)
    assert sorts >= {"protection", "side gate", "tap", "earlier", "method", "left at home", "trolley", "kit"}
    assert sorts >= {"stage moved", "job moved", "second hand"}


def test_jobs_are_moved_the_least_wanted_first() -> None:
    day = read_day(SAMPLES / "three_jobs_two_hands.toml")
    keys = list(day.jobs)
    jobs = {key: job.model_copy(update={"priority": n + 1}) for n, (key, job) in enumerate(day.jobs.items())}
    day = day.model_copy(update={"jobs": jobs})
    plan = first_plan(day)
    assert plan is not None
    moved = [remedy for remedy in remedies_of(day, plan) if remedy.sort == "job moved"]
    assert [set(keys) - set(remedy.day.jobs) for remedy in moved] == [{key} for key in reversed(keys)]


def test_only_stages_that_nothing_depends_on_are_moved() -> None:
    job = tiny_day().jobs["elm"]
    # The rinse ends the dwell of the treatment; the treatment is rinsed after; the path can be swept any day.
    assert [s for s in job.stages if is_free_to_move(job, s)] == ["sweep"]


def test_a_job_may_be_left_while_it_dries_and_come_back_to() -> None:
    # By hand: two places ten minutes apart, ten from the yard. Washing 30, drying 120, sealing 30, elsewhere 60.
    # In one visit each, one waits the drying out: 10 + 30 + 120 + 30 + 10 + 60 + 10 = 270. Going away meanwhile,
    # 10 + 60 + 10 of the 120 are spent at the other place: 10 + 30 + 120 + 30 + 10 = 200.
    waits = [{"after": "wash", "before": "seal", "kind": "dry", "least": 120}]
    dried = open_day({"wash": 30, "seal": {"minutes": 30, "after": ["wash"]}}, waits=waits)
    swept = open_day({"sweep": 60}).jobs["elm"].model_copy(update={"place": "oak"})
    trips = [{"from": one, "to": to, "minutes": 10} for one, to in combinations(["yard", "elm", "oak"], 2)]
    tables = dried.model_dump() | {"places": {"yard": {}, "elm": {}, "oak": {}}, "travel": {"trips": trips}}
    day = Day.model_validate(tables | {"jobs": {**dried.jobs, "oak": swept}})
    plan = plan_day(day, seconds=5).plan
    assert plan is not None
    assert plan.home - day.start == 270
    wanted = [remedy for remedy in remedies_of(day, plan) if remedy.sort == "second visit"]
    assert [remedy.words for remedy in wanted] == ["elm left while it waits, and come back to"]
    (one,) = try_remedies(day, plan, remedies=wanted, seconds=5).tried
    assert one.minutes == 70


def test_a_second_set_of_irons_is_told_by_name_where_two_would_use_it() -> None:
    """Two hands and one set of irons, an hour here and an hour there: with a second set both are over in one."""
    by_irons = {"irons": {"minutes": 60, "kit": ["irons"]}}
    stages = {key: {"surface": key, "methods": by_irons} for key in ("front", "side")}
    day = open_day({"front": 60, "side": 60})
    tables = day.model_dump(by_alias=True) | {"kit": {"irons": {"name": "Pointing irons", "load": 0}}}
    tables["hands"]["bo"] = tables["hands"]["ash"]
    tables["jobs"]["elm"]["stages"] = stages
    day = Day.model_validate(tables)
    plan = plan_day(day, seconds=5).plan
    assert plan is not None
    [irons] = [remedy for remedy in remedies_of(day, plan) if remedy.sort == "kit"]
    assert irons.words == "one more 'Pointing irons'"
    (one,) = try_remedies(day, plan, remedies=[irons], seconds=5).tried
    assert (one.minutes, one.helps) == (60, True)
