"""A plan as JSON: it comes back the same, follows its schema, and a bad text is named."""

import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.day import Day
from planner.plan.plan import Plan, Proof, TradeOff
from planner.plan.plan_file import PlanFault, plan_from_json, plan_schema, plan_to_json
from tests.plan.worked import pair, round_trip, tiny

PROOF = Proof(
    value=106,
    bound=106,
    overrun=0,
    overrun_bound=0,
    minutes=94,
    crossings=2,
    seconds=1.5,
    serial_minutes=130,
    serial_crossings=3,
    trade_off=(TradeOff(2, 94, 94), TradeOff(3, 94, 90)),
)

SCHEMA = jsonschema.Draft202012Validator(plan_schema())


@pytest.mark.parametrize("worked", [tiny, pair, round_trip])
def test_a_plan_comes_back_the_same(worked: Callable[[], tuple[Day, Plan]]) -> None:
    day, plan = worked()
    assert plan_from_json(plan_to_json(plan, day)) == plan
    proven = replace(plan, proof=PROOF)
    assert plan_from_json(plan_to_json(proven, day)) == proven


@pytest.mark.parametrize("worked", [tiny, pair, round_trip])
def test_a_plan_follows_its_schema(worked: Callable[[], tuple[Day, Plan]]) -> None:
    day, plan = worked()
    SCHEMA.check_schema(SCHEMA.schema)
    SCHEMA.validate(json.loads(plan_to_json(replace(plan, proof=PROOF), day)))


def test_the_measures_stand_beside_the_plan() -> None:
    """Home at 574 after a start at 480: 94 minutes, and two restricted crossings at 6 minutes: 106 (by hand)."""
    day, plan = tiny()
    measures = json.loads(plan_to_json(plan, day))["measures"]
    assert (measures["minutes_home"], measures["restricted_crossings"], measures["value"]) == (94, 2, 106)


def spoilt(place: str, value: object) -> str:
    """A good plan's text with something else at a dotted place."""
    day, plan = tiny()
    written: Any = json.loads(plan_to_json(plan, day))
    *path, last = (int(x) if x.isdigit() else x for x in place.split("."))
    inner = written
    for key in path:
        inner = inner[key]
    inner[last] = value
    return json.dumps(written)


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("format", 2),
        ("format", True),
        ("works.1.start", "07:30"),
        ("works.1.start", 512.5),
        ("works.1.start", True),
        ("works.1.start", 10**12),
        ("works.1.hands", "ash"),
        ("works.1.hands.0", 7),
        ("works.1.stays.0", ["broom"]),
        ("works.1.stage", None),
        ("works.1.stage", "\ud800"),
        ("works.1.colour", "red"),
        ("works", {}),
        ("chores.0.what", "polish"),
        ("chores.0.what", ["set up"]),
        ("crossings.0.carried_in.0.share", "half"),
        ("proof", "sure"),
        ("drives.0", 480),
    ],
)
def test_what_is_wrong_is_named_with_its_place(place: str, value: object) -> None:
    with pytest.raises(PlanFault) as caught:
        plan_from_json(spoilt(place, value))
    assert caught.value.place == place
    assert caught.value.wrong
    assert caught.value.right


def test_what_is_missing_is_named() -> None:
    day, plan = tiny()
    written = json.loads(plan_to_json(plan, day))
    del written["visits"][0]["arrive"]
    with pytest.raises(PlanFault, match=r"visits\.0\.arrive: it is missing"):
        plan_from_json(json.dumps(written))


@pytest.mark.parametrize("text", ["", "[]", "null", "{", "7", '"plan"', "[" * 100_000, '{"format": 1e999}', "1" * 5000])
def test_a_text_that_is_no_plan_is_a_fault(text: str) -> None:
    with pytest.raises(PlanFault):
        plan_from_json(text)


SAID = ("day", "date", "measures", "waits")
"""What follows from the rest, and is not read back."""

SOUND = plan_to_json(replace(tiny()[1], proof=PROOF), tiny()[0])

anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda x: st.lists(x, max_size=3) | st.dictionaries(st.text(max_size=5), x, max_size=3),
    max_leaves=8,
)


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_a_broken_plan_is_refused_or_follows_the_schema(data: st.DataObject) -> None:
    """Put anything anywhere: what is read back follows the schema, and no other error than PlanFault comes out."""
    written: Any = json.loads(SOUND)
    inner: Any = written
    while True:
        key = data.draw(st.sampled_from(sorted(inner) if isinstance(inner, dict) else range(len(inner))))
        if not isinstance(inner[key], dict | list) or not inner[key] or data.draw(st.booleans()):
            inner[key] = data.draw(anything)
            break
        inner = inner[key]
    text = json.dumps(written)
    try:
        plan_from_json(text)
    except PlanFault:
        return
    kept = {name: value for name, value in json.loads(text).items() if name not in SAID}
    SCHEMA.validate(kept)
