"""What the shipped recipes and kit say so that nobody is hurt; sources beside the checks, reminders all of them."""

from typing import Any

import pytest

from planner.trade import units
from planner.trade.library import library
from tests.trade.test_recipes import file, job_of

LIBRARY = library()
STAGES = [
    (name, key, stage) for name, recipe in LIBRARY.recipes.items() for key, stage in recipe["stages"].items()
]
NAMES = [f"{name}.{key}" for name, key, _ in STAGES]


def work_of(stage: dict[str, Any]) -> str:
    return str(stage.get("work", stage["kind"]))


def kit_of(stage: dict[str, Any]) -> set[str]:
    return {key for method in stage["methods"] for key in LIBRARY.methods[work_of(stage)][method].get("kit", [])}


@pytest.mark.parametrize(("name", "key", "stage"), STAGES, ids=NAMES)
def test_what_is_sprayed_or_raised_has_a_limit_of_wind(name: str, key: str, stage: dict[str, Any]) -> None:
    # Beaufort table for pesticide spraying (Department of Health, Victoria): force 3, 12 to 19 km/h, is the end of it.
    sprayed = {"backpack", "pump-sprayer", "acid-sprayer", "biocide-sprayer", "coating-sprayer"}
    if kit_of(stage) & sprayed:
        assert stage["windiest"] <= 19
    # Ladders and poles have a limit of their own: force 5 begins at 29 km/h; common practice, no source.
    if kit_of(stage) & {"ladder", "gutter-poles", "pole-scoop", "pole-scraper", "water-pole", "can-pole"}:
        assert stage["windiest"] <= 30


@pytest.mark.parametrize(("name", "key", "stage"), STAGES, ids=NAMES)
def test_mortar_dust_is_taken_up_by_an_extractor_or_damp(name: str, key: str, stage: dict[str, Any]) -> None:
    # HSE CIS36 and CIS69: class M or H extractor and FFP3; that it is never swept dry from memory.
    if work_of(stage) == "grind":
        assert "dust mask FFP3" in stage["wear"]
        later = LIBRARY.recipes[name]["stages"].values()
        takes_up = [other for other in later if key in other.get("after", []) and other["kind"] == "sweep"]
        assert takes_up
        assert all(set(other["methods"]) <= {"vacuum", "damp"} for other in takes_up)
        assert all("class M" in other["notes"] for other in takes_up)
    assert "vacuum" in LIBRARY.kit["grinder"]["needs"]
    assert "class M" in LIBRARY.kit["vacuum"]["name"]


@pytest.mark.parametrize(("name", "key", "stage"), STAGES, ids=NAMES)
def test_hypochlorite_above_the_head_takes_a_face_shield(name: str, key: str, stage: dict[str, Any]) -> None:
    is_above = not LIBRARY.recipes[name]["surface"].get("stood_on", True)
    if stage.get("treatment", {}).get("material") == "hypochlorite":
        assert {"chemical gloves", "goggles"} <= set(stage["wear"])
        assert ("face shield" in stage["wear"]) or not is_above
        assert "chlorine" in stage["tags"]


def test_who_sprays_a_sealer_breathes_through_a_mask() -> None:
    assert any("A2P3" in name for name in LIBRARY.kit["coating-sprayer"]["wear"])


@pytest.mark.parametrize("kit", [key for key, one in LIBRARY.kit.items() if "socket" in one.get("supply", [])])
def test_mains_kit_out_of_doors_is_told_to_be_behind_a_residual_current_device(kit: str) -> None:
    # BS 7671, additional protection by 30 mA, from memory. Kit that needs other mains kit shares its plug.
    assert "electricity-near-water" in LIBRARY.kit[kit]["tags"]
    shared = [kit, *LIBRARY.kit[kit].get("needs", [])]
    assert any("30 mA RCD plug" in LIBRARY.kit[key].get("attachments", []) for key in shared)


@pytest.mark.parametrize("recipe", LIBRARY.recipes)
def test_nothing_is_rinsed_down_to_the_drain(recipe: str) -> None:
    # A polluting discharge where it reaches surface water (Environmental Permitting Regulations 2016).
    words = str(LIBRARY.recipes[recipe]).lower()
    assert "down to the drain" not in words
    for stage in LIBRARY.recipes[recipe]["stages"].values():
        if "treatment" in stage:
            assert "run-off" in stage["tags"]


@pytest.mark.parametrize("recipe", ["clean-and-repoint-patio", "grind-and-refill-joints"])
def test_a_bed_of_mortar_weighs_sixty_to_eighty_kilograms_a_square_metre(recipe: str) -> None:
    # 30 to 40 mm at 2000 kg/m3 (wet mortar, from memory).
    kg = units.measure(LIBRARY.recipes[recipe]["stages"]["rebed"]["uses"]["mortar"], "kg/m2")
    assert 60 <= kg <= 80


def test_a_joint_is_cut_at_sixty_to_eighty_metres_an_hour_and_a_drive_is_no_work_for_a_hand_tamper() -> None:
    # Common practice, no source: 155 m take two hours and more; 72 m2 of blocks tamped by hand are no morning's work.
    assert 60 <= LIBRARY.methods["grind"]["grinder"]["rate"]["amount"] <= 80
    job = job_of(file({"recipe": "wash-and-sand-blocks", "area": "72 m2"}))
    assert job.likely_minutes("settle", "hand") >= 180
    assert job.likely_minutes("settle", "plate") < 60
