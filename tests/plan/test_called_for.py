"""No caution is out of reach: each is called for by something that is shipped, or by a day that can be planned.

What calls for a caution is gathered here from the day's own words; what only a plan can call for (the dark, heat, one
hand alone on a ladder) is shown by a small day for each.
"""

from dataclasses import replace
from functools import lru_cache
from typing import Any

import pytest

from planner.day import Day
from planner.engine import first_plan
from planner.plan.called_for import called_for
from planner.plan.exposed import noise_exposed, noise_heard, worn_for
from planner.plan.loading import loads
from planner.plan.plan import Plan
from planner.trade.cautions import all_cautions
from planner.trade.library import library
from tests.days import by_recipes
from tests.trade.measures import measures_for

RECIPES = library().recipes
TAP, NO_TAP = {"tap": 2, "socket": 3}, {"socket": 3}


def day_of(*uses: dict[str, Any], supplies: dict[str, int] | None = None, hands: int = 2, **top: Any) -> Day:
    """A day of one job by recipes, the ground behind an open way in."""
    at = {"at": [53.1, -2.0]}
    return by_recipes(
        {"grounds": {"rear": {"supplies": supplies or TAP}}, "recipes": list(uses)},
        **{"start": "07:30", "finish": "21:00", "places": {"yard": at, "elm": at}} | top,
        hands={f"hand-{n}": {} for n in range(hands)},
    )


def planned(day: Day) -> Plan:
    plan = first_plan(day)
    assert plan is not None
    return plan


@lru_cache
def hung() -> frozenset[str]:
    """Every tag that a shipped recipe brings into a day under one of its conditions, with or without a tap."""
    tags: set[str] = set()
    for recipe, table in RECIPES.items():
        for condition in [None, *table["conditions"]]:
            for supplies in (TAP, NO_TAP):
                use = {"recipe": recipe, **measures_for(recipe), "conditions": [condition] if condition else []}
                day = day_of(use, supplies=supplies)
                job = day.jobs["elm"]
                tags.update(job.hazards)
                for stage in job.stages.values():
                    tags.update(stage.tags)
                    for method in stage.methods.values():
                        tags.update(tag for key in day.kit_closure(method.kit) for tag in day.kit[key].tags)
                        tags.update(tag for key in method.uses for tag in day.materials[key].tags)
    return frozenset(tags)


CALLED_BY_PLAN = {"dust", "lone-work", "lone-ladder", "ladder-left", "vibration", "noise", "lifting", "dark"}
"""Cautions that a plan calls for by what its hands do and when, whatever its stages and kit are tagged with."""


@pytest.mark.parametrize("caution", all_cautions(), ids=lambda caution: caution.tag)
def test_no_caution_is_out_of_reach(caution: Any) -> None:
    by_the_day = caution.always or caution.from_air is not None or caution.to_air is not None
    assert by_the_day or caution.tag in CALLED_BY_PLAN or caution.tag in hung()


def gutters(**more: Any) -> dict[str, Any]:
    return {"recipe": "clear-gutters", "run": "12 m", **more}


def patio(**more: Any) -> dict[str, Any]:
    return {"recipe": "clean-and-repoint-patio", **measures_for("clean-and-repoint-patio"), **more}


def called(day: Day) -> dict[str, Any]:
    return called_for(day, planned(day))


def weather(air: float) -> list[dict[str, Any]]:
    return [{"time": f"{hour:02d}:00", "air": air, "humidity": 0.6, "wind": 5} for hour in range(24)]


def test_heat_and_frost_are_called_for_by_the_forecast_and_first_aid_by_every_day() -> None:
    assert not {"hot-weather", "frost"} & set(called(day_of(gutters())))
    assert "first-aid" in called(day_of(gutters()))
    warm, cold, mild = (called(day_of(gutters(), weather=weather(air))) for air in (25.0, 2.0, 15.0))
    assert "hot-weather" in warm
    assert "frost" not in warm
    assert "frost" in cold
    assert not {"hot-weather", "frost"} & set(mild)
    assert warm["hot-weather"][0].key == "25 C"


def test_a_night_of_frost_after_the_work_is_called_for() -> None:
    hours = weather(10.0)
    hours[23]["air"] = -1.0
    assert "frost" in called(day_of(gutters(), weather=hours))


def test_a_visit_into_the_night_calls_for_light_and_one_by_day_does_not() -> None:
    # London, 21 June: sunset at 21:21 (from memory), later further north; in December it is dark there by 17:00.
    assert "dark" not in called(day_of(gutters()))
    late = day_of(gutters(), date="2026-12-16", start="16:00", finish="21:00", lights=True)
    assert "dark" in called(late)


def test_one_hand_with_a_ladder_is_told_of_it_and_two_are_not() -> None:
    alone = day_of(gutters(), hands=1, leave_at_home=["gutter-poles", "pole-scoop"])
    assert {"ladder", "lone-ladder", "lone-work", "overhead-lines"} <= set(called(alone))
    two = day_of(gutters(), hands=2, leave_at_home=["gutter-poles", "pole-scoop"])
    assert not {"lone-ladder", "lone-work"} & set(called(two))


def test_a_heavy_plate_calls_for_the_care_of_lifting() -> None:
    # A plate of 33 kg between two is over two thirds of 16 + 16 kg, 21 kg, the lower guideline (HSE INDG143).
    blocks = {"recipe": "wash-and-sand-blocks", **measures_for("wash-and-sand-blocks")}
    assert "lifting" in called(day_of(blocks, leave_at_home=["hand-tamper"]))


def test_grinding_calls_for_dust_vibration_and_noise() -> None:
    found = called(day_of(patio(), leave_at_home=["rake"]))
    assert {"dust", "noise", "flying-bits", "electricity-near-water"} <= set(found)
    # 5.5 m/s2 for two hours and more of trigger time: 2 x 30.25 x 2 = 121 points, past 100 (HSE ready reckoner).
    long = called(day_of(patio(area="30 m2"), leave_at_home=["rake"], hands=1))
    assert "vibration" in long


# --- what it means for the load list -------------------------------------------------------------------------------


def names(day: Day) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for load in loads(day, planned(day)):
        found.setdefault(load.kind, []).append(load.name)
    return found


def test_what_a_caution_asks_for_is_in_the_van() -> None:
    wall = {"recipe": "treat-wall", "area": "18 m2", "conditions": ["by the pavement"]}
    listed = names(day_of(wall))
    assert {"first aid kit", "eyewash, 500 mL", "rinse water at hand, 10 L"} <= set(listed["safety"])
    assert "cones and a sign" in listed["safety"]
    assert "cones and a sign" not in names(day_of({**wall, "conditions": []}))["safety"]
    assert {"measuring jug", "mixing bucket", "tap adaptor", "spare nozzle and O-rings"} <= set(listed["attachment"])
    assert "30 mA RCD plug" in listed["attachment"]  # with the washer, and not again for the caution
    assert "30 mA RCD plug" not in listed["safety"]


def test_a_broom_needs_no_ear_defenders_and_a_washer_does() -> None:
    by_hand = day_of({"recipe": "clear-channel-drains", "run": "6 m"})
    assert "ear defenders" not in names(by_hand)["wear"]
    drive = day_of({"recipe": "treat-drive", "area": "40 m2"})
    assert "ear defenders" in names(drive)["wear"]
    plan = planned(drive)
    by_stage = {work.stage.split("_")[0]: worn_for(drive, work) for work in plan.works}  # sections are wash_1, wash_2
    assert "ear defenders" in by_stage["wash"]
    assert "ear defenders" not in by_stage["sweep"]


# --- noise ---------------------------------------------------------------------------------------------------------


def test_noise_is_reckoned_at_the_ear_under_what_suits_the_level() -> None:
    # Grinder 98 dB(A) and extractor 72: 98.01 together. HSE L108: 95 to 100 dB(A) asks for an SNR of 25 to 35, and 4 dB
    # come off a rating for real use (the ratings from memory): 30 - 4 = 26, so 72 dB(A) at the ear.
    day = day_of(patio(area="30 m2"), leave_at_home=["rake"], hands=1)
    plan = planned(day)
    loudest = max(noise_heard(day, plan, "hand-0"), key=lambda one: one.level)
    assert loudest.level == pytest.approx(98.0, abs=0.05)
    assert loudest.takes_off == 26.0
    noise = noise_exposed(day, plan, "hand-0")
    assert noise is not None
    assert noise.at_ear is not None
    assert noise.at_ear < 80 < 85 < noise.value
    assert not noise.is_over


def test_without_defenders_the_limit_is_judged_as_it_comes() -> None:
    kit = {"grinder": {"wear": [], "noise": 105.0}, "washer": {"wear": []}}
    day = day_of(patio(area="30 m2"), leave_at_home=["rake", "surface-cleaner", "tank-washer"], hands=1, kit=kit)
    noise = noise_exposed(day, planned(day), "hand-0")
    assert noise is not None
    assert noise.at_ear is None
    assert noise.is_over


def test_a_ladder_that_stands_up_with_nobody_at_it_is_told() -> None:
    """Up, used and down again it needs no word; left up for a quarter of an hour after the gutter is clear it does."""
    day = day_of({"recipe": "clear-gutters", "run": "6 m"}, supplies={"tap": 1}, leave_at_home=["pole-scoop"])
    plan = planned(day)
    [stay] = [s for s in plan.stays if s.kit == "ladder"]
    assert "ladder-left" not in called_for(day, plan)
    later = [replace(c, start=c.start + 15, end=c.end + 15) if c.what == "pack down" else c for c in plan.chores]
    left = replace(plan, chores=tuple(later), stays=(replace(stay, carried_out=stay.carried_out + 15),))
    [cause] = called_for(day, left)["ladder-left"]
    assert (cause.key, cause.at) == ("ladder", plan.works[0].end)
