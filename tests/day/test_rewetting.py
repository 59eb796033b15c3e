"""Treatments that sun and breeze would dry: misted again where that helps, and on no longer than the label says."""

from pathlib import Path
from typing import Any

import pytest

from planner.day import Day, Job
from planner.day.reading import day_from_text
from planner.engine import plan_day
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan, Work

HEAD = """format = 1
date = 2026-07-07
start = "07:30"
finish = "17:30"
van = { starts_at = "yard", ends_at = "yard" }
places = { yard = {}, fern = {} }
travel = { trips = [{ from = "yard", to = "fern", minutes = "15 min" }] }
hands = { ash = {} }

[jobs.fern]
place = "fern"
grounds.rear = { supplies = { tap = 1, socket = 2 }, way_in = { minutes = "1 min" } }
"""


def by_recipe(recipe: str, *, sun: bool, air: int, wind: int) -> Day:
    hour = f"humidity = 0.5, wind = {wind}, rain = 0.0, sun = {str(sun).lower()}"
    hours = ", ".join(f'{{ time = "{h:02d}:00", air = {air}, {hour} }}' for h in range(7, 18))
    use = f'recipes = [{{ recipe = "{recipe}", area = "40 m2", ground = "rear" }}]'
    return day_from_text(f"weather = [{hours}]\n{HEAD}{use}\n", Path("day.toml"))


def planned(day: Day) -> Plan:
    result = plan_day(day, seconds=20)
    assert result.plan is not None, result.conflict
    assert broken_rules(day, result.plan) == []
    return result.plan


def dwells(job: Job, plan: Plan) -> list[tuple[int, Any, Work, Work, Work | None]]:
    """For each wait of a film its least and most, and what puts it on, takes it off and wets it again."""
    found = []
    for wait in job.waits:
        if wait.weather == "film" and wait.before is not None:
            first, second = plan.work("fern", wait.after), plan.work("fern", wait.before)
            assert first is not None
            assert second is not None
            again = plan.work("fern", wait.extended_by) if wait.extended_by else None
            found.append((wait.least, wait, first, second, again))
    return found


def test_render_in_the_sun_is_misted_again_and_stays_no_longer_than_its_label_says() -> None:
    """A film of about 0.2 mm is dry in a quarter of an hour in the sun, in which no patch has dwelt for as long."""
    day = by_recipe("soft-wash-render", sun=True, air=20, wind=12)
    job, plan = day.jobs["fern"], planned(day)
    found = dwells(job, plan)
    assert any(again is not None for *_, again in found)
    for least, wait, first, second, again in found:
        assert second.start - first.end >= least
        assert second.end - first.start <= wait.most
        dry = min(step.most for step in wait.by_hour if step.since <= first.start)
        if again is None:
            assert second.end - first.start <= dry
        else:
            assert again.end - first.start <= dry
            assert second.end - again.start <= dry


@pytest.mark.parametrize("recipe", ["soft-wash-render", "treat-wall", "treat-drive"])
def test_nothing_is_misted_on_a_dull_and_still_day_nor_without_a_forecast(recipe: str) -> None:
    dull = by_recipe(recipe, sun=False, air=12, wind=2)
    assert not any("mist" in key for key in dull.jobs["fern"].stages)
    assert all(wait.extended_by is None for wait in dull.jobs["fern"].waits)
    bare = day_from_text(HEAD + f'recipes = [{{ recipe = "{recipe}", area = "40 m2" }}]\n', Path("day.toml"))
    assert not any("mist" in key for key in bare.jobs["fern"].stages)


def test_what_is_misted_again_is_no_longer_on_than_its_label_says() -> None:
    """The checker counts the most of the file from the treatment, whenever it was misted."""
    day = by_recipe("soft-wash-render", sun=True, air=20, wind=12)
    plan, job = planned(day), day.jobs["fern"]
    longest = max(second.end - first.start for _, _, first, second, _ in dwells(job, plan))
    waits = tuple(w.model_copy(update={"most": longest - 1}) if w.weather == "film" else w for w in job.waits)
    stricter = day.model_copy(update={"jobs": {"fern": job.model_copy(update={"waits": waits})}})
    assert {broken.rule for broken in broken_rules(stricter, plan)} == {7}
