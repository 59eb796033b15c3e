"""Each word that keeps work whole, read by the engine: a day on which it costs time, so that its loss would be a gain.

Mostly one stage is done at ten at the soonest, and what it must come before or after waits for it, though without the
word all would be home an hour sooner; or the word lets what would else have to wait, and all are home at once. Asked of
the first plan and of a better one, from the times of the works. The judgements are those of the trade (common practice,
no source).
"""

from typing import Any

import pytest

from planner.day import Day
from planner.engine import plan_day
from planner.engine.build import build
from planner.plan.plan import Plan
from tests.engine.rule_days import day as house
from tests.engine.rule_days import stage
from tests.engine.test_fresh_work import by_hand
from tests.engine.test_ruined_days import hours, plans, works_of

Tables = dict[str, Any]

TEN = 600
WALL: Tables = {"stood_on": False}


# --- what lies below ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "surfaces",
    [
        {"wall": WALL | {"drains_to": ["patio"]}},
        {"wall": WALL | {"worked_from": ["patio"]}},
        {"wall": WALL | {"drains_to": ["ledge"]}, "ledge": WALL | {"drains_to": ["patio"]}},
        {"wall": WALL | {"worked_from": ["ledge"]}, "ledge": WALL | {"worked_from": ["patio"]}},
    ],
    ids=["drains", "worked from", "drains on", "worked from what is worked from"],
)
def test_what_lies_below_is_washed_last(surfaces: Tables) -> None:
    stages = {"wash": {"surface": "patio"}, "rinse-wall": {"surface": "wall", "not_before": TEN}}
    for plan in plans(by_hand(stages, patio={}, **surfaces)):
        works = works_of(plan)
        assert works["rinse-wall"].end <= works["wash"].start


def test_paving_that_one_stands_on_drips_on_nothing_that_it_is_worked_from() -> None:
    """Steps are worked from the path; what is washed off them runs where they drain, and they say nowhere."""
    stages = {"wash": {"surface": "path"}, "rinse-steps": {"surface": "steps", "not_before": TEN}}
    assert washed_before_ten(by_hand(stages, path={}, steps={"worked_from": ["path"]}))


def washed_before_ten(day: Day, stage: str = "wash") -> bool:
    """Whether the plan that is proven best does a stage before ten; all are then home ten minutes sooner, or more."""
    return best(day).work("elm", stage).end <= TEN  # type: ignore[union-attr]


def best(day: Day) -> Plan:
    result = plan_day(day, seconds=20)
    assert result.refused == ()
    assert result.plan is not None
    assert result.plan.proof is not None
    assert result.plan.proof.is_best
    return result.plan


# --- spared ---------------------------------------------------------------------------------------------------------

BELOW: Tables = {"patio": {}, "wall": WALL | {"drains_to": ["patio"]}}


@pytest.mark.parametrize("spares", [True, False])
@pytest.mark.parametrize(
    ("upper", "lower", "waits"),
    [
        ({"kind": "rinse"}, {"kind": "wash"}, True),
        ({"kind": "clear"}, {"kind": "sweep"}, True),
        ({"kind": "grind"}, {"kind": "wash", "makes": []}, True),
        ({"kind": "rinse"}, {"kind": "wet"}, True),
        ({"kind": "rinse"}, {"kind": "fill", "fresh_for": 240}, True),
        ({"kind": "rinse"}, {"kind": "look", "dry_for": 30}, False),
    ],
    ids=["clean", "swept", "dust", "joints", "fresh", "dry"],
)
def test_what_is_covered_below_need_not_wait_for_what_is_done_above(
    spares: bool, upper: Tables, lower: Tables, waits: bool
) -> None:
    """Done above at ten, and below at once if sheets catch it; else below waits. What must be dry comes after, and then
    waits the longer."""
    stages = {
        "low": {"surface": "patio", **lower},
        "up": {"surface": "wall", "starts_at": TEN, "spares": ["patio"] if spares else [], **upper},
    }
    if not waits:
        stages["low"]["not_before"] = TEN + 10
    low = best(by_hand(stages, **BELOW)).work("elm", "low")
    assert low is not None
    if waits:
        assert (low.end <= TEN) is spares
        assert low.end <= TEN or low.start >= TEN + 10
    else:
        assert (low.start == TEN + 10) is spares
        assert low.start == TEN + 10 or low.start >= TEN + 40


def test_no_dust_lies_where_the_steps_that_it_spares_are_wetted() -> None:
    """Joints are cut at ten; the steps below are wetted before that where sheets lie on them."""
    for spares in (["steps"], []):
        stages = {
            "soak": {"surface": "steps", "kind": "soak", "makes": ["water"]},
            "grind": {"surface": "patio", "starts_at": TEN, "spares": spares},
        }
        day = by_hand(stages, patio={"drains_to": ["steps"]}, steps={})
        assert washed_before_ten(day, "soak") is bool(spares)


def test_what_is_sprayed_above_wets_no_joints_that_sheets_lie_on() -> None:
    """The wall above is rinsed before the joints are cut at ten where sheets lie on them, and after that where not."""
    for spares in (["patio"], []):
        stages = {
            "rinse-wall": {"surface": "wall", "spares": spares},
            "grind": {"surface": "patio", "starts_at": TEN},
        }
        assert washed_before_ten(by_hand(stages, **BELOW), "rinse-wall") is bool(spares)


# --- fresh work -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("fresh_for", [0, 45])
def test_a_coat_bears_water_after_so_long(fresh_for: int) -> None:
    """Sealed at half past nine for ten minutes; the wall above is rinsed at ten to ten at the soonest, or later."""
    stages = {
        "seal": {"surface": "patio", "starts_at": 570, "fresh_for": fresh_for},
        "rinse-wall": {"surface": "wall", "not_before": 560},
    }
    for plan in plans(by_hand(stages, **BELOW)):
        rinse = works_of(plan)["rinse-wall"]
        assert rinse.end <= 570 or rinse.start >= 580 + fresh_for
    assert best(by_hand(stages, **BELOW)).work("elm", "rinse-wall").start in (560, 580)  # type: ignore[union-attr]
    stages["rinse-wall"]["not_before"] = 565
    assert best(by_hand(stages, **BELOW)).work("elm", "rinse-wall").start == 580 + fresh_for  # type: ignore[union-attr]


def test_a_coat_bears_feet_after_so_long() -> None:
    """The hedge is cut from the patio, which is sealed from half past nine to twenty to ten and bears feet at ten."""
    stages = {
        "seal": {"surface": "patio", "starts_at": 570, "fresh_for": 20},
        "prune": {"surface": "hedge", "not_before": 565},
    }
    day = by_hand(stages, hands=2, patio={}, hedge=WALL | {"worked_from": ["patio"]})
    assert best(day).work("elm", "prune").start == TEN  # type: ignore[union-attr]
    stages["seal"]["fresh_to"] = ["water"]
    day = by_hand(stages, hands=2, patio={}, hedge=WALL | {"worked_from": ["patio"]})
    assert best(day).work("elm", "prune").start < TEN  # type: ignore[union-attr]


@pytest.mark.parametrize("waited", [True, False])
def test_on_its_own_surface_a_wait_for_drying_counts_and_not_how_long_it_must_be_dry(waited: bool) -> None:
    """Washed, and looked at after ten minutes of drying, or after the hour that it must have been dry."""
    stages = {
        "wash": {"surface": "patio", "starts_at": 500},
        "look": {"surface": "patio", "after": ["wash"], "dry_for": 60},
    }
    drying = [{"after": "wash", "before": "look", "kind": "dry", "least": 10}]
    look = best(by_hand(stages, patio={}, waits=drying if waited else None)).work("elm", "look")
    assert look is not None
    assert look.start == (520 if waited else 570)


# --- covers ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "follows", "waits"),
    [
        ({"kind": "cover"}, True, True),
        ({"kind": "lay", "stays_for": ["paint"]}, False, True),
        ({"kind": "lay"}, True, False),
        ({"kind": "cover", "stays_for": ["look"]}, False, False),
    ],
    ids=["what follows", "what it names", "no cover", "another"],
)
def test_sheets_serve_nothing_else_until_what_they_are_for_is_over(said: Tables, follows: bool, waits: bool) -> None:
    """One set of sheets, laid at the wall for the paint at ten; it would be at the shed before that."""
    stages = {
        "lay": stage("wall", 10, "sheets", **said),
        "paint": stage("wall", 10, starts_at=TEN, **({"after": ["lay"]} if follows else {})),
        "look": stage("wall", 10, not_after=520),
        "shed": stage("steps", 10, "sheets", after=["lay"]),
    }
    plan = best(house(stages, kit={"sheets": {"load": 1}}))
    shed, lay = plan.work("elm", "shed"), plan.work("elm", "lay")
    assert shed is not None
    assert lay is not None
    assert (shed.start >= TEN + 10) is waits


def test_sheets_are_laid_before_what_they_are_for_though_nothing_orders_it() -> None:
    """The paint could be done at once, and the sheets are there at ten."""
    stages = {
        "cover": stage("wall", 10, "sheets", kind="cover", stays_for=["paint"], not_before=TEN),
        "paint": stage("wall", 10),
    }
    plan = best(house(stages, kit={"sheets": {"load": 1}}))
    assert plan.work("elm", "paint").start >= TEN + 10  # type: ignore[union-attr]


@pytest.mark.parametrize("lies_on", [["patio"], []])
def test_what_lies_under_sheets_waits_until_they_are_up(lies_on: list[str]) -> None:
    """Covered from half past eight, painted at ten, taken up by 610 + 5; the patio is swept after that, or before."""
    stages = {
        "cover": stage("wall", 10, "sheets", kind="cover", lies_on=lies_on, starts_at=510),
        "paint": stage("wall", 10, starts_at=TEN, after=["cover"]),
        "sweep": stage("patio", 10, not_before=515, hand="bo"),
    }
    plan = best(house(stages, hands={"ash": {}, "bo": {}}, kit={"sheets": {"load": 1, "pack_down": 5}}))
    sweep = plan.work("elm", "sweep")
    assert sweep is not None
    assert (sweep.start >= TEN + 15) is bool(lies_on)


# --- rain -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("layer", "cover", "apart"),
    [
        ({"kind": "fill"}, {"kind": "compact", "surface": "patio"}, True),
        ({"kind": "fill"}, {"kind": "compact", "surface": "steps"}, False),
        ({"kind": "fill"}, {"kind": "look", "surface": "patio", "fresh_to": []}, False),
        ({"kind": "look"}, {"kind": "compact", "surface": "patio"}, False),
    ],
    ids=["its cover", "elsewhere", "no layer above", "no layer"],
)
def test_no_shower_falls_between_a_layer_and_its_cover(layer: Tables, cover: Tables, apart: bool) -> None:
    """Rain from nine to ten, something else from ten to eleven, and the cover at eleven: the layer has to be laid
    before nine, an hour of rain before it is covered."""
    stages = {
        "first": {"surface": "patio", **layer},
        "other": {"surface": "shed", "kind": "look", "starts_at": TEN, "methods": {"hand": {"minutes": 60}}},
        "next": {"after": ["first"], "starts_at": 660, **cover},
    }
    day = by_hand(stages, patio={}, steps={}, shed=WALL)
    wet = day.model_dump(by_alias=True, exclude_none=True) | {"weather": hours(h9={"rain": 0.9})}
    result = plan_day(Day.model_validate(wet), seconds=20)
    assert result.refused == ()
    assert (result.plan is None) is apart
    assert bool(build(Day.model_validate(wet)).spells) is apart  # a first plan without a solver knows no better


# --- chemicals ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("first", ["acid", "bleach"])
def test_a_chemical_waits_for_the_last_rinse_of_the_other_whichever_is_first(first: str) -> None:
    """Both are put on the wall and rinsed at once; the first is rinsed again at ten, by order of the day."""
    other = {"acid": "bleach", "bleach": "acid"}[first]
    chemicals = {"acid": "acid", "bleach": "hypochlorite"}
    stages: Tables = {
        other: {"surface": "wall", "chemical": chemicals[other], "not_before": 515},
        first: {"surface": "wall", "chemical": chemicals[first], "not_after": 510},
        f"rinse-{first}": {"surface": "wall", "rinses": True, "after": [first]},
        f"again-{first}": {"surface": "wall", "kind": "rinse", "rinses": True, "after": [f"rinse-{first}"],
                           "not_before": TEN},
        f"rinse-{other}": {"surface": "wall", "rinses": True, "after": [other]},
    }  # fmt: skip
    for key in (first, other):
        stages[key]["kind"] = "treat"
    for plan in plans(by_hand(stages, wall=WALL)):
        works = works_of(plan)
        assert works[other].start >= works[f"again-{first}"].end


# --- kit below another's work ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("taken_for", "besides", "above", "waits"),
    [("path", None, "wall", True), ("steps", None, "wall", False), ("path", "steps", "wall", False),
     ("path", None, "path", False)],
    ids=["no other place", "another place", "another place too", "its edge"],
)
def test_kit_is_seen_to_where_there_is_a_place_for_it(
    taken_for: str, besides: str | None, above: str, waits: bool
) -> None:
    """Ash sprays from half past eight to half past nine; Bo, who would wash at 09:35, sets the washer up meanwhile
    where it has a place: beside what is sprayed on the same paving, or elsewhere."""
    stages = {
        "spray": stage(above, 60, chemical="detergent", starts_at=510, hand="ash", makes=[]),
        "wash": stage(taken_for, 10, "washer", hand="bo", makes=[], not_before=575),
    }
    if besides is not None:
        stages["wash-too"] = stage(besides, 10, "washer", hand="bo", makes=[], after=["wash"])
    surfaces = {
        "path": {"ground": "rear"},
        "steps": {"ground": "rear"},
        "wall": {"ground": "rear", "stood_on": False, "worked_from": ["path"]},
    }
    kit = {"washer": {"load": 1, "set_up": 25}}
    hands = {"ash": {}, "bo": {}}
    plan = best(house(stages, job={"surfaces": surfaces}, hands=hands, kit=kit, start=495))
    [up] = [chore for chore in plan.chores if chore.what == "set up"]
    assert not (waits and up.start < 570 and up.end > 510)
    wash = plan.work("elm", "wash")
    assert wash is not None
    assert (wash.start == 575) is not waits
