"""Each recipe worked out once by hand: what it takes, how long each stage is, and in which order they come.

Minutes are a fixed part and a measure over a rate, rounded half up; amounts are a measure times a rate, with what is
lost, in containers. Rates are common practice with no source; where a figure has one outside, it stands beside it.
"""

from dataclasses import dataclass, field
from typing import Any

import pytest

from planner.trade.library import library
from tests.trade.test_recipes import file, job_of

RECIPES = library().recipes


@dataclass(frozen=True)
class Worked:
    """A use of a recipe, the order of its stages, and by hand minutes of methods and containers used or left."""

    use: dict[str, Any]
    stages: list[str]
    minutes: dict[str, int]
    used: dict[str, float] = field(default_factory=dict)
    left: dict[str, float] = field(default_factory=dict)


WORKED = {
    # 24.5 x (0.9 + 0.6) / (0.9 x 0.6) = 68.06 m (the form of the tile-grout trade). Cut: two passes at 80 m/h, 102.1.
    # Fill 68.06 / 120 h and / 150 h, compact / 75 h twice. Filler 68.06 x 15 x 25 mm x 1600 kg/m3 = 40.8 kg; with a
    # tenth lost 44.9, / 20 = 2.25 tubs. Surface cleaner 6 min and 24.5 / 78 h, and 7 for open joints by lance.
    # Rubble 25.5 L x 1.6 kg/L (1.4 to 1.9 loose, from memory) / 14 kg = 2.92 bags.
    "clean-and-repoint-patio": Worked(
        {"area": "24.5 m2", "slab": "900 x 600 mm", "joint_width": "15 mm"},
        ["grind", "sweep", "wash", "wet", "fill-1", "compact-1", "fill-2", "compact-2"],
        {
            "grind.grinder": 102,
            "sweep.vacuum": 20,
            "wash.lance": 49,
            "wash.surface-cleaner": 32,
            "wet.hose": 6,
            "fill-1.irons": 34,
            "compact-1.tamper": 54,
            "fill-2.irons": 27,
            "compact-2.tamper": 54,
        },
        {"filler": 2.25},
        {"rubble": 2.92},
    ),
    # 600 x 300 mm: 5.0 m/m2 (geometry), 100 m. One pass of a 10 mm disc: 75 min. 100 x 10 x 25 mm = 25 L = 40 kg; 44
    # with a tenth lost, 2.2 tubs.
    "grind-and-refill-joints": Worked(
        {"area": "20 m2", "slab": "600 x 300 mm", "joint_width": "10 mm"},
        ["grind", "sweep", "wet", "fill-1", "compact-1", "fill-2", "compact-2"],
        {"grind.grinder": 75, "sweep.vacuum": 16, "compact-1.tamper": 80},
        {"filler": 2.2},
    ),
    # 18 x 0.3 = 5.4 L of 2 % out of 14 % (C1 V1 = C2 V2): 0.77 L, of a can of 5 L 0.15.
    "treat-wall": Worked(
        {"area": "18 m2"},
        ["wash", "treat", "rinse"],
        {"wash.lance": 14, "treat.backpack": 11, "rinse.lance": 14},
        {"hypochlorite": 0.15},
    ),
    # 30 x 0.35 = 10.5 L of 2 %: 1.5 L of stock, 0.3 cans.
    "soft-wash-render": Worked(
        {"area": "30 m2"},
        ["cover", "wet", "treat", "rinse"],
        {"cover.sheets": 11, "wet.hose": 7, "treat.backpack": 18, "rinse.hose": 30},
        {"hypochlorite": 0.3},
    ),
    # 40 x 0.25 = 10 L of 4 %: 2.86 L, 0.57 cans. Surface cleaner: 6 min and 40 / 78 h. Moss 40 x 0.2 = 8 L, of a bag of
    # 60 L 0.13.
    "treat-drive": Worked(
        {"area": "40 m2"},
        ["sweep", "treat", "wash", "rinse"],
        {"sweep.broom": 16, "treat.backpack": 24, "wash.lance": 80, "wash.surface-cleaner": 37, "rinse.lance": 30},
        {"hypochlorite": 0.57},
        {"green-waste": 0.13},
    ),
    # Going 280 and rise 180 mm lie within those of a private stair (Approved Document K: going 220 to 300, rise 150 to
    # 220 mm, from memory): 8 x 1.2 x 0.46 m = 4.416 m2. Lance 4.416 / 18 h.
    "treat-steps": Worked(
        {"steps": "8 steps", "step_width": "1.2 m"},
        ["sweep", "treat", "wash"],
        {"sweep.broom": 2, "treat.pump": 5, "wash.lance": 15},
        {"hypochlorite": 0.06},
    ),
    # 15 m/m2 x 3 x 50 mm x 1600 kg/m3 x 60 % = 2.16 kg/m2, a bag of 25 kg for 10 to 12 m2 as bags say (from memory).
    "wash-and-sand-blocks": Worked(
        {"area": "20 m2"},
        ["sweep", "wash", "sand-1", "settle", "sand-2"],
        {"sweep.broom": 8, "wash.surface-cleaner": 21, "sand-1.broom": 15, "settle.plate": 10, "settle.hand": 100},
        {"sand": 2.38},
        {"green-waste": 0.1},
    ),
    # 28 x 0.15 L, a twentieth lost, 4.41 L of 5 L. Dry all through: 24 to 48 h (common practice; data sheets agree).
    "wash-dry-seal": Worked(
        {"area": "28 m2"},
        ["sweep", "wash", "seal-1"],
        {"sweep.broom": 11, "wash.lance": 56, "seal-1.roller": 31, "seal-1.sprayer": 17},
        {"sealer": 0.88},
        {"green-waste": 0.09},
    ),
    # 15 x 0.15 = 2.25 L of cleaner; 15 x 0.1 x 1.05 = 1.575 L of oil, of a tin of 2.5 L 0.63.
    "clean-and-oil-deck": Worked(
        {"area": "15 m2"},
        ["sweep", "clean", "scrub", "oil"],
        {"sweep.broom": 6, "clean.pump": 16, "scrub.brush": 36, "oil.brush": 45},
        {"deck-cleaner": 0.45, "deck-oil": 0.63},
        {"green-waste": 0.05},
    ),
    # 3 min and 12 / 36 h by vacuum, 2 min and 12 / 20 h from a ladder. 24 L of leaves in bags of 60 L.
    "clear-gutters": Worked(
        {"run": "12 m"},
        ["clear"],
        {"clear.poles": 23, "clear.pole-scoop": 50, "clear.ladder": 38},
        {},
        {"green-waste": 0.4},
    ),
    "lift-oil-stains": Worked(
        {"area": "3 m2"},
        ["absorb", "degrease", "scrub"],
        {"absorb.granules": 12, "degrease.brush": 11, "scrub.washer": 17},
        {"absorbent": 0.3, "degreaser": 0.3},
    ),
    # 2 L of 5 % out of 20 % (C1 V1 = C2 V2): 0.5 L, of a can of 5 L 0.1.
    "remove-efflorescence": Worked(
        {"area": "10 m2"},
        ["cover", "brush", "wet", "acid", "rinse", "rinse-again"],
        {
            "cover.sheets": 6,
            "brush.brush": 26,
            "wet.hose": 4,
            "acid.sprayer": 13,
            "rinse.hose": 10,
            "rinse-again.hose": 10,
        },
        {"acid": 0.1},
    ),
    # 50 x 0.2 = 10 L of 2 % out of 10 %: 2 L, of a can of 5 L 0.4.
    "treat-and-leave": Worked({"area": "50 m2"}, ["treat"], {"treat.backpack": 30}, {"biocide": 0.4}),
    # Bricks of 225 x 75 mm with their joints: 1 / (0.225 x 0.075) = 59.3 in a square metre (60 in the handbooks of the
    # trade, from memory), each with 0.3 m of joint: 17.8 m/m2, 71.1 m. 71.1 x 10 x 20 mm = 14.2 L, at 1800 kg/m3
    # 25.6 kg, 29.4 with 15 % lost, 1.47 bags. In all 358 min: 4 m2 fill a short day.
    "repoint-brickwork": Worked(
        {"area": "4 m2"},
        ["cover", "grind", "sweep", "cover-again", "wet", "point", "finish"],
        {
            "cover.sheets": 5,
            "grind.grinder": 53,
            "sweep.vacuum": 3,
            "cover-again.sheets": 5,
            "wet.hose": 3,
            "point.hawk": 223,
            "finish.iron": 71,
        },
        {"pointing-mortar": 1.47},
    ),
    # A bed of 35 mm at 2000 kg/m3 (wet mortar, from memory) is 70 kg/m2: 140 kg, 14 bags of 10 kg. Rubble 80 / 14 kg.
    "relay-sunken-paving": Worked(
        {"area": "2 m2"},
        ["lift", "bed", "lay"],
        {"lift.hand": 35, "bed.hand": 45, "lay.hand": 88},
        {"mortar": 14.0},
        {"rubble": 5.71},
    ),
    "clean-fascias": Worked(
        {"run": "20 m"}, ["wash", "rinse"], {"wash.pole": 32, "rinse.pole": 16}, {"detergent": 1.0}
    ),
    "rinse-windows": Worked(
        {"area": "12 m2"}, ["wash", "rinse"], {"wash.pole": 20, "rinse.pole": 10}, {"detergent": 0.24}
    ),
    # 30 x 0.2 x 1.05 = 6.3 L, of a tin of 5 L 1.26.
    "treat-fence": Worked(
        {"area": "30 m2"},
        ["cover", "brush", "coat"],
        {"cover.sheets": 11, "brush.brush": 74, "coat.sprayer": 43, "coat.brush": 120},
        {"wood-treatment": 1.26},
    ),
    "clear-channel-drains": Worked(
        {"run": "6 m"},
        ["scoop", "flush", "refit"],
        {"scoop.hand": 40, "flush.hose": 10, "refit.hand": 13},
        {},
        {"green-waste": 0.3},
    ),
    # 12 x 0.03 = 0.36 L, in cartridges of 0.3 L.
    "reseal-gutter-joints": Worked(
        {"run": "12 m"},
        ["dry", "seal"],
        {"dry.ladder": 63, "seal.ladder": 38},
        {"gutter-sealant": 1.2},
        {"green-waste": 0.1},
    ),
    "fit-gutter-guard": Worked({"run": "12 m"}, ["check", "fit"], {"check.ladder": 21, "fit.ladder": 52}),
    "scrape-roof-edge": Worked(
        {"run": "9 m"},
        ["cover", "scrape", "clear"],
        {"cover.sheets": 10, "scrape.pole": 39, "clear.broom": 11},
        {},
        {"green-waste": 0.9},
    ),
}


def test_there_are_at_least_twenty_and_each_is_worked() -> None:
    assert len(RECIPES) >= 20
    assert set(WORKED) == set(RECIPES)


@pytest.mark.parametrize("recipe", WORKED)
def test_worked_by_hand(recipe: str) -> None:
    worked = WORKED[recipe]
    job = job_of(file({"recipe": recipe, **worked.use}))
    assert list(job.stages) == worked.stages
    for place, minutes in worked.minutes.items():
        stage, method = place.split(".")
        assert job.likely_minutes(stage, method) == minutes, place
    for word, by_hand in (("expected", worked.used), ("leaves", worked.left)):
        for material, containers in by_hand.items():
            ways = [next(iter(stage.methods.values())) for stage in job.stages.values()]
            found = sum(getattr(way, word).get(material, 0.0) for way in ways)
            assert found == pytest.approx(containers, abs=0.02), material


@pytest.mark.parametrize("recipe", RECIPES)
def test_each_says_what_is_done_before_shown_minded_after_and_not_promised(recipe: str) -> None:
    customer = RECIPES[recipe]["customer"]
    assert all(customer[word] for word in ("before", "handover", "after", "not_promised"))


def words_of(recipe: str) -> str:
    table = RECIPES[recipe]
    notes = [stage.get("notes", "") for stage in table["stages"].values()]
    said = [text for texts in table["customer"].values() for text in texts]
    return " ".join([*notes, *said]).lower()


@pytest.mark.parametrize("recipe", RECIPES)
def test_each_says_photographs_and_what_is_moved_away(recipe: str) -> None:
    said = words_of(recipe)
    assert "photograph" in said or "picture" in said
    assert any(word in said for word in ("furniture", "pots", "cars", "stands below"))


@pytest.mark.parametrize("recipe", RECIPES)
def test_each_says_what_becomes_of_its_waste(recipe: str) -> None:
    """Common practice, no source: what is swept, scraped, cut or scooped off goes home by the bag, and is reckoned."""
    stages = RECIPES[recipe]["stages"].values()
    said = words_of(recipe)
    assert any("leaves" in stage for stage in stages) or any(
        word in said for word in ("bag", "tub", "go home with us", "folded inwards")
    )
    solid = ("clear", "clear drains", "grind", "scrape", "lift", "sweep")
    if any(stage["kind"] in solid and "dry-brush" not in stage.get("work", "") for stage in stages):
        assert any("leaves" in stage for stage in stages)


@pytest.mark.parametrize("recipe", RECIPES)
def test_each_sheet_is_laid_for_something_and_sheets_are_on_the_list(recipe: str) -> None:
    """What covers is laid first, or again once all it was for is over; by kit that goes out and in with all else."""
    stages = RECIPES[recipe]["stages"]
    for key, stage in stages.items():
        if stage["kind"] == "cover":
            others = (other for other in stages.values() if other["kind"] == "cover")
            assert set(stage.get("after", [])) <= {name for other in others for name in other.get("stays_for", [])}, key
            assert any(key in other.get("after", []) for other in stages.values()), key
            methods = library().methods[stage.get("work", "cover")]
            assert all(methods[name]["kit"] for name in stage["methods"]), key


@pytest.mark.parametrize("recipe", RECIPES)
def test_each_that_wets_what_is_around_covers_sockets_and_says_what_of_plants(recipe: str) -> None:
    """Common practice, no source: a jet, a spray or a rinse reaches sockets, lights and beds beside the work."""
    stages = RECIPES[recipe]["stages"].values()
    if any("spray" in stage.get("makes", []) and stage.get("kind") in ("treat", "wash", "rinse") for stage in stages):
        said = words_of(recipe)
        assert "socket" in said
        assert "plant" in said


@pytest.mark.parametrize("recipe", RECIPES)
def test_each_that_brings_a_chemical_a_coating_or_a_jet_asks_for_a_test_patch(recipe: str) -> None:
    stages = RECIPES[recipe]["stages"].values()
    if any(
        "treatment" in stage or "chemical" in stage or stage["kind"] in ("treat", "wash", "seal") for stage in stages
    ):
        assert "test patch" in words_of(recipe)
