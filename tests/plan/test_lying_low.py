"""What lies low, or below what dwells: a channel that paving drains to, a ladder's feet, somebody on their knees."""

from typing import Any

import pytest

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.plan.checker import broken_rules
from planner.plan.plan import Chore, Crossing, Drive, Plan, Stay, Visit, Work
from tests.plan.test_fresh import LADDER_UP, ON_DRIVE, ON_PATIO, ON_WALL, broken, house

Tables = dict[str, Any]

CHANNEL: Tables = {"ground": "rear", "stood_on": False, "high": False}
DRAINED = {"patio": {"drains_to": ["channel"]}, "channel": CHANNEL}
ACID = {"kind": "treat", "chemical": "acid"}


# --- channels -----------------------------------------------------------------------------------------------------


def test_paving_is_washed_before_the_channel_that_it_drains_to_is_cleared_and_flushed() -> None:
    in_channel = {"surface": "channel"}
    stages = {"wash": ON_PATIO, "clear": in_channel, "flush": in_channel | {"rinses": True, "after": ["clear"]}}
    tables = house(stages, **DRAINED)
    assert broken(tables, "wash", "clear", "flush") == set()
    assert broken(tables, "clear", "flush", "wash") == {9}
    assert broken(tables, "clear", "wash", "flush") == {9}, "it washes dirt into what was just cleared"
    tables["jobs"]["elm"]["stages"]["clear"]["after"] = []
    tables["jobs"]["elm"]["stages"]["wash"]["after"] = ["flush", "clear"]
    assert broken(tables, "clear", "flush", "wash") == set(), "the day says so itself"


@pytest.mark.parametrize(
    ("said", "rules"), [({"kind": "wet"}, set()), ({"kind": "wet", "soils": True}, {9}), ({"kind": "rinse"}, {9}),
                        ({"kind": "rinse", "soils": False}, set()), ({"kind": "clear"}, {9})]
)  # fmt: skip
def test_joints_are_wetted_though_the_channel_is_flushed_as_that_brings_no_dirt(said: Tables, rules: set[int]) -> None:
    tables = house({"flush": {"surface": "channel", "rinses": True}, "more": ON_PATIO | said}, **DRAINED)
    assert broken(tables, "flush", "more") == rules
    assert broken(tables, "more", "flush") == set()


@pytest.mark.parametrize("kind", ["clear", "flush"])
def test_a_channel_is_not_cleared_beside_fresh_joints(kind: str) -> None:
    said = {"makes": ["spray"]} if kind == "flush" else {}
    stages = {"fill": ON_PATIO | {"fresh_for": 60}, "more": {"surface": "channel", "kind": kind} | said}
    tables = house(stages, **DRAINED)
    assert broken(tables, ("fill", 490), ("more", 559)) == {9}
    assert broken(tables, ("fill", 490), ("more", 560)) == set()
    assert broken(tables, ("more", 490), ("fill", 500)) == set()


# --- ladders ------------------------------------------------------------------------------------------------------


def with_a_ladder(put: int, off: int | None, said: Tables, *, closes: bool = True) -> str:
    """A ladder is put up at 08:20, used from 08:25 to 08:35, and down by 09:05; something is put on, and taken off."""
    where, hand = {"surface": said["surface"]}, {"methods": {"hand": {"minutes": 3}}}
    stages = {"look": LADDER_UP, "put": said | hand, "off": where | hand | {"kind": "work"}}
    wait = {"after": "put", "before": "off", "kind": "dwell", "least": 0, "closes": closes}
    tables = house(stages, waits=() if off is None else (wait,), gutter={"worked_from": ["patio"]})
    tables["kit"]["ladder"] |= {"set_up": 5, "pack_down": 5}
    day = Day.model_validate(tables)
    assert faults_in(day) == []
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", 640, 650)),
        visits=(Visit("elm", 1, 490, 640),),
        works=(
            Work("elm", "look", "up", ("hand0",), 1, 505, 515, (("ladder", 1),)),
            Work("elm", "put", "hand", ("hand0",), 1, put, put + 3),
            Work("elm", "off", "hand", ("hand0",), 1, off or 600, (off or 600) + 3),
        ),
        chores=(
            Chore("set up", "elm", 1, "rear", ("hand0",), 500, 505, "ladder", 1),
            Chore("pack down", "elm", 1, "rear", ("hand0",), 540, 545, "ladder", 1),
        ),
        stays=(Stay("elm", "rear", "ladder", 1, 1, 1, 500, 545),),
    )
    return "; ".join(breach.text for breach in broken_rules(day, plan))


def test_no_ladder_is_put_up_or_taken_down_on_what_dwells() -> None:
    """Whoever does treads on it; once it is rinsed off, or where it does not stand, it may be."""
    put = ON_PATIO | {"kind": "treat", "chemical": "hypochlorite"}
    assert "'ladder' is seen to on 'patio' (08:20 to 08:25)" in with_a_ladder(490, 560, put)
    assert "(09:00 to 09:05)" in with_a_ladder(520, 546, ON_PATIO | {"kind": "x"})
    assert with_a_ladder(490, 495, ON_PATIO | {"kind": "x"}) == ""
    assert with_a_ladder(546, 600, put) == ""
    assert with_a_ladder(490, 560, ON_PATIO | {"kind": "x"}, closes=False) == ""
    assert with_a_ladder(490, 560, put | ON_DRIVE) == ""
    assert with_a_ladder(520, 536, ON_PATIO | {"kind": "x"}) == "", "it stands there, and nobody comes to it"


def test_no_ladder_is_put_up_on_what_is_fresh_and_spoiled_by_feet() -> None:
    said = ON_PATIO | {"kind": "x", "fresh_to": ["feet"], "fresh_for": 15}
    assert "'ladder' is seen to on 'patio'" in with_a_ladder(490, None, said)
    assert with_a_ladder(490, None, said | {"fresh_for": 7}) == ""
    assert with_a_ladder(490, None, said | {"fresh_to": ["rain"]}) == ""


@pytest.mark.parametrize(
    ("said", "is_wet"),
    [
        (ON_PATIO | {"kind": "wash"}, True),
        (ON_WALL | {"kind": "rinse"}, True),
        (ON_PATIO | {"kind": "wet"}, True),
        (ON_PATIO | {"kind": "fill"}, False),
        (ON_DRIVE | {"kind": "wash"}, False),
    ],
)
def test_what_must_be_kept_dry_does_not_stand_where_something_is_wetted(said: Tables, is_wet: bool) -> None:
    """A saw is set up from 08:20 on and packed down by 09:05: what wets its place is over before, or begins after."""
    saw = {"load": 0, "set_up": 5, "pack_down": 5, "tags": ["kept-dry"]}
    tables = house({"cut": ON_PATIO | {"kind": "x", "methods": {"saw": {"minutes": 10, "kit": ["saw"]}}}, "put": said})
    tables["kit"]["saw"] = saw
    day = Day.model_validate(tables)
    assert faults_in(day) == []
    for start in (490, 520, 531, 545):
        plan = Plan(
            drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", 640, 650)),
            visits=(Visit("elm", 1, 490, 640),),
            works=(
                Work("elm", "cut", "saw", ("hand0",), 1, 505, 515, (("saw", 1),)),
                Work("elm", "put", "hand", ("hand0",), 1, start, start + 10),
            ),
            chores=(
                Chore("set up", "elm", 1, "rear", ("hand0",), 500, 505, "saw", 1),
                Chore("pack down", "elm", 1, "rear", ("hand0",), 540, 545, "saw", 1),
            ),
            stays=(Stay("elm", "rear", "saw", 1, 1, 1, 500, 545),),
        )
        told = [breach.text for breach in broken_rules(day, plan) if "kept dry" in breach.text]
        assert bool(told) == (is_wet and 500 - 10 < start < 545), start


# --- what drips ---------------------------------------------------------------------------------------------------


def below_what_dwells(wall: Tables, below: Tables) -> Tables:
    wait = {"after": "put", "before": "rinse", "kind": "dwell", "least": 0, "closes": False}
    return house({"put": ON_WALL | wall, "rinse": ON_WALL, "kneel": below}, waits=(wait,))


@pytest.mark.parametrize("below", [ON_PATIO, ON_WALL | {"surface": "gutter"}])
def test_nobody_kneels_below_acid_that_dwells_on_a_wall(below: Tables) -> None:
    """It runs down and drips; so does a strong alkali. Who works at the gutter stands on the patio too."""
    for chemical in ("acid", "alkali"):
        tables = below_what_dwells(ACID | {"chemical": chemical}, below | {"kind": "x"})
        tables["jobs"]["elm"]["surfaces"]["gutter"]["worked_from"] = ["patio"]
        assert broken(tables, ("put", 490), ("kneel", 509), ("rinse", 520)) == {9}
        assert broken(tables, ("put", 490), ("rinse", 510), ("kneel", 520)) == set()
        assert broken(tables, ("kneel", 490), ("put", 500), ("rinse", 515)) == set()


def test_who_is_elsewhere_or_below_sheets_or_a_weaker_mix_works_on() -> None:
    there = ("put", 490), ("kneel", 505), ("rinse", 520)
    assert broken(below_what_dwells(ACID, ON_DRIVE), *there) == set()
    assert broken(below_what_dwells(ACID | {"spares": ["patio"]}, ON_PATIO), *there) == set()
    assert broken(below_what_dwells(ACID | {"chemical": "hypochlorite"}, ON_PATIO), *there) == set()
    assert broken(below_what_dwells(ACID, ON_WALL), *there) == set()


# --- ways ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "is_in_the_way"),
    [({"kind": "treat", "chemical": "acid"}, True), ({"kind": "wash"}, True), ({"kind": "sweep"}, False),
     ({"kind": "treat"}, True), ({"kind": "seal", "fresh_to": []}, True)],
)  # fmt: skip
def test_nobody_walks_over_steps_while_they_are_treated_or_jetted(said: Tables, is_in_the_way: bool) -> None:
    """One comes in from 08:10 to 08:12 and goes out from 09:10 to 09:12, over steps that another works on."""
    tables = house({"steps": ON_DRIVE | said}, hands=2)
    way = {"minutes": 2, "restricted": True, "over": ["drive"]}
    tables["jobs"]["elm"]["grounds"]["rear"] = {"way_in": way}
    day = Day.model_validate(tables)
    assert faults_in(day) == []
    for start, is_walked in ((485, True), (491, True), (492, False), (541, True), (552, False), (540, False)):
        plan = Plan(
            drives=(Drive("yard", "elm", 470, 480), Drive("elm", "yard", 640, 650)),
            visits=(Visit("elm", 1, 480, 640),),
            works=(Work("elm", "steps", "hand", ("hand1",), 1, start, start + 10),),
            crossings=(Crossing("elm", 1, "rear", "hand0", 490, 552),),
        )
        told = [breach.text for breach in broken_rules(day, plan) if "goes over 'drive' during" in breach.text]
        assert bool(told) == (is_in_the_way and is_walked), start


@pytest.mark.parametrize(("kneel", "rules"), [(495, {8}), (499, {8}), (500, set()), (490, set())])
def test_a_wait_of_no_minutes_closes_its_surface_for_its_moment(kneel: int, rules: set[int]) -> None:
    """The patio is primed until 08:20 and coated from 08:20 on; who kneels on it for ten minutes, from some minute on,
    is off it, or comes, in that moment."""
    stages = {key: ON_PATIO | {"kind": "x", "methods": {"hand": {"minutes": 10}}} for key in ("prime", "coat", "kneel")}
    wait = {"after": "prime", "before": "coat", "kind": "dry", "least": 0}
    assert broken(house(stages, waits=(wait,), hands=3), ("prime", 490), ("coat", 500), ("kneel", kneel)) == rules


# --- chemicals beside each other ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hypo", "rules"), [(490, set()), (491, {9}), (500, {9}), (509, {9}), (510, {9}), (529, {9}), (530, set())]
)
def test_acid_and_hypochlorite_are_not_open_beside_each_other(hypo: int, rules: set[int]) -> None:
    """Acid is put on the wall from 08:20 and dwells until it is rinsed from 08:50 (530); bleach on a shed beside it,
    for ten minutes, is over before or begins then. Neither runs onto what the other is put on."""
    shed = {"ground": "rear", "stood_on": False, "worked_from": []}
    stages = {
        "acid": ON_WALL | {"kind": "treat", "chemical": "acid"},
        "rinse": ON_WALL | {"kind": "work", "rinses": True},
        "bleach": {"surface": "shed", "kind": "treat", "chemical": "hypochlorite"},
    }
    wait = {"after": "acid", "before": "rinse", "kind": "dwell", "least": 10, "closes": False}
    apart = {"wall": {"drains_to": [], "worked_from": []}}
    there = sorted([("acid", 500), ("rinse", 530), ("bleach", hypo)], key=lambda one: one[1])
    assert broken(house(stages, waits=(wait,), hands=3, shed=shed, **apart), *there) == rules
    for other in (shed | {"ground": "front"}, shed):
        stages["bleach"] |= {"chemical": "hypochlorite" if other["ground"] == "front" else "detergent"}
        assert broken(house(stages, waits=(wait,), hands=3, shed=other, **apart), *there) == set()


@pytest.mark.parametrize(
    ("said", "is_wet"),
    [({"kind": "wash"}, True), ({"kind": "flush"}, True), ({"kind": "treat"}, False), ({"kind": "sweep"}, False)],
)
def test_nobody_walks_over_wet_steps_to_what_lies_behind_them(said: Tables, is_wet: bool) -> None:
    """Nor within an hour of their washing; who washes the paving that they leave by has to go over it."""
    for ground in ("front", "rear"):
        tables = house({"steps": {"surface": "steps"} | said}, hands=2, steps={"ground": ground})
        way = {"minutes": 2, "restricted": True, "over": ["steps"]}
        tables["jobs"]["elm"]["grounds"]["rear"] = {"way_in": way}
        day = Day.model_validate(tables)
        assert faults_in(day) == []
        for came, is_walked in ((510, True), (569, True), (570, False), (486, ground == "front")):
            crossings = [Crossing("elm", 1, "rear", "hand0", came, came + 60)]
            if ground == "rear":
                crossings.append(Crossing("elm", 1, "rear", "hand1", 490, 520))
            plan = Plan(
                drives=(Drive("yard", "elm", 470, 480), Drive("elm", "yard", 640, 650)),
                visits=(Visit("elm", 1, 480, 640),),
                works=(Work("elm", "steps", "hand", ("hand1",), 1, 500, 510),),
                crossings=tuple(crossings),
            )
            told = [breach.text for breach in broken_rules(day, plan) if "goes over 'steps' after" in breach.text]
            assert bool(told) == (is_wet and is_walked and ground == "front"), (ground, came)
