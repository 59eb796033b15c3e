"""Days in which work was ruined or somebody hurt: each by what must not happen, whatever its times are.

Masses, litres and least waits are worked out from the day's own figures, not from a plan.
"""

from typing import Any

import pytest

from planner.day import Day
from planner.day.estimate import with_weather
from planner.day.sections import in_sections
from planner.day.words import FILE
from planner.engine import first_plan, plan_day
from planner.fit.verdict import verdict
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan
from planner.plan.unknown_weather import leaning
from planner.trade.recipes.laying_out import expand
from tests.days import at_elm
from tests.engine.planned_samples import planned_sample
from tests.engine.test_fresh_work import by_hand

THROUGH_THE_HOUSE = {"minutes": "2 min", "restricted": True, "through": "the house", "load_limit": 2.0}


def house(*recipes: dict[str, Any], supplies: dict[str, int], weather: list[dict[str, Any]] | None = None) -> Day:
    """A day of one job behind a house."""
    ground = {"way_in": THROUGH_THE_HOUSE, "supplies": supplies}
    tables: dict[str, Any] = {"start": "07:00", "finish": "21:00", "hands": {"ash": {"hours": ["06:00", "23:00"]}}}
    if weather is not None:
        tables["weather"] = weather
    written = at_elm({"grounds": {"rear": ground}, "recipes": list(recipes)}, drive="10 min", format=1, **tables)
    return in_sections(with_weather(Day.model_validate(expand(written), context=FILE)))


def plans(day: Day, best: Plan | None = None) -> list[Plan]:
    """The first plan and the best one, as far as there are any; both keep every rule."""
    found = [plan for plan in (first_plan(day), best or plan_day(day, seconds=1.5).plan) if plan is not None]
    assert found
    assert all(broken_rules(day, plan) == [] for plan in found)
    return found


# --- hypochlorite, cans and rubble left behind ---------------------------------------------------------------------


def test_nothing_stays_behind_the_house() -> None:
    """24 m2 of 600 x 300 mm slabs, joints 10 x 25 mm: 120 m, 30 L, at 1.6 kg/L 48 kg of rubble, and all containers."""
    use = {"recipe": "grind-and-refill-joints", "area": "24 m2", "slab": "600 x 300 mm", "joint_width": "10 mm"}
    day = house(use, supplies={"tap": 1, "socket": 2})
    for plan in plans(day):
        came: dict[str, int] = {}
        went: dict[str, int] = {}
        rubble = 0.0
        for crossing in plan.crossings:
            for x in crossing.carried_in:
                came[x.what] = came.get(x.what, 0) + x.count * x.is_material
            for x in crossing.carried_out:
                went[x.what] = went.get(x.what, 0) + x.count * x.is_material
                if x.what == "rubble":
                    rubble += x.count * (x.rest or 0.0) * 14
        assert {k: n for k, n in came.items() if n} == {k: n for k, n in went.items() if n and k != "rubble"}
        assert rubble == pytest.approx(48, abs=0.3)


# --- treatment sprayed before there was water ----------------------------------------------------------------------


def test_one_can_serves_two_treatments_in_whatever_order() -> None:
    """0.07 and 0.03 of a can are used, by wall and steps in no order of their own: one can, there before the first."""
    wall = {"recipe": "treat-wall", "prefix": "wall", "ground": "rear", "area": "3 m2"}
    steps = {"recipe": "treat-steps", "prefix": "steps", "ground": "rear", "area": "2 m2"}
    for recipes in ((wall, steps), (steps, wall)):
        for plan in plans(house(*recipes, supplies={"tap": 1, "socket": 2})):
            brought = [c for c in plan.crossings if any(x.what == "hypochlorite" for x in c.carried_in)]
            assert sum(x.count for c in brought for x in c.carried_in if x.what == "hypochlorite") == 1
            first = min(work.start for work in plan.works if work.stage.endswith("treat"))
            assert brought[0].start + 2 <= first


def test_no_corrosive_is_opened_before_there_is_water() -> None:
    day, result = planned_sample("no_tap")
    for plan in plans(day, result.plan):
        treat = next(w for w in plan.works if day.jobs[w.job].stages[w.stage].chemical == "hypochlorite")
        cans = [c.start + 2 for c in plan.crossings for x in c.carried_in if x.what == "water"]
        kit = [s.carried_in for s in plan.stays if day.kit[s.kit].water]
        assert min([*cans, *kit]) <= treat.start


# --- 27 to 31 kg in one go -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["rear_patio", "by_recipe", "three_jobs_two_hands", "tight_dwell", "out_again"])
def test_nobody_is_given_more_than_they_lift_in_one_go(name: str) -> None:
    day, result = planned_sample(name)
    for plan in plans(day, result.plan):
        for crossing in plan.crossings:
            most = day.hands[crossing.hand].lifts
            if crossing.wheels is not None:
                most = day.kit[crossing.wheels].wheels or 0.0
            for leg in (crossing.carried_in, crossing.carried_out):
                alone = 0.0
                for x in leg:
                    if x.is_material:
                        alone += x.count * day.materials[x.what].mass_with(1.0 if x.rest is None else x.rest)
                    else:
                        alone += x.count * x.share * (day.kit[x.what].mass or 0.0)
                assert alone <= most + 0.01, crossing


# --- sealed or oiled because a forecast said so --------------------------------------------------------------------

SKY = {"air": 26, "humidity": 0.4, "wind": 14, "rain": 0.0, "sun": True}
SUNNY = [{"time": f"{hour:02d}:00", **SKY} for hour in range(6, 22)]


@pytest.mark.parametrize("recipe", ["clean-and-oil-deck", "wash-dry-seal"])
def test_no_forecast_makes_a_coating_sooner_than_its_recipe(recipe: str) -> None:
    use = {"recipe": recipe, "area": "8 m2"}
    plain = house(use, supplies={"tap": 1, "socket": 2}).jobs["elm"]
    dry = [w for w in plain.waits if w.weather == "dry"]
    assert dry
    sunny = house(use, supplies={"tap": 1, "socket": 2}, weather=SUNNY).jobs["elm"]
    for before, after in zip(dry, [w for w in sunny.waits if w.weather == "dry"], strict=True):
        assert all(after.bounds(begins)[0] >= before.least for begins in range(420, 1260, 30))


# --- moved past the end of the forecast ----------------------------------------------------------------------------


def test_a_stage_past_the_end_of_the_forecast_is_told_so() -> None:
    """Rain until 15:00, when the forecast ends: what rain stops can only be later, where nobody knows."""
    rain = [
        {"time": f"{hour:02d}:00", "air": 15, "humidity": 0.8, "wind": 8, "rain": 0.9, "sun": False}
        for hour in range(6, 15)
    ]
    use = {"recipe": "treat-wall", "area": "10 m2"}
    day = house(use, supplies={"tap": 1, "socket": 2}, weather=rain)
    for plan in plans(day):
        late = [w for w in plan.works if w.end > 15 * 60 and day.jobs["elm"].stages[w.stage].stopped_by_rain]
        assert late
        assert "not known after 15:00" in verdict(day, plan).sentence
    dull = {"air": 15, "humidity": 0.8, "wind": 6, "rain": 0.0, "sun": False}  # the film stays wet all through a dwell
    mild = [{"time": f"{hour:02d}:00", **dull} for hour in range(24)]
    known = house(use, supplies={"tap": 1, "socket": 2}, weather=mild)
    assert all("not known" not in verdict(known, plan).sentence for plan in plans(known))


def test_what_the_kind_or_the_ladder_says_of_weather_is_told_past_its_end_too() -> None:
    """The forecast ends at ten, and all is done after: rain spoils a filled joint, and wind moves a ladder."""
    stages = {
        "fill": {"surface": "patio", "not_before": 620},
        "look-up": {"surface": "wall", "tags": ["ladder"], "not_before": 620},
        "prune": {"surface": "patio", "not_before": 620},
    }
    day = by_hand(stages, patio={}, wall={"stood_on": False})
    weather = [{"minute": 60 * hour, "air": 15.0, "humidity": 0.6, "wind": 8.0} for hour in range(6, 10)]
    day = Day.model_validate(day.model_dump(by_alias=True, exclude_none=True) | {"weather": weather})
    for plan in plans(day):
        assert {one.stage for one in leaning(day, plan)} == {"fill", "look-up"}
