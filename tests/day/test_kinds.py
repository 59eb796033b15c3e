"""What a stage is read to make, to be fresh to and to leave, by its own words or by its kind."""

from typing import Any

import pytest

from planner.day import Stage
from planner.trade.equipment import Equipment
from planner.trade.library import library
from planner.trade.recipes.own_words import expand_job
from planner.trade.recipes.uses import Faults


def stage(**said: Any) -> Stage:
    return Stage.model_validate({"surface": "patio", "methods": {"hand": {"minutes": 10}}} | said)


@pytest.mark.parametrize(
    ("kind", "makes"),
    [  # common practice, no source
        ("wash", {"spray", "water"}),
        ("Rinse the wall", {"spray", "water"}),
        ("clear gutters", {"dirt"}),
        ("grind", {"dust"}),
        ("sweep", {"dust"}),
        ("cut", {"dust"}),
        ("treat", {"mist"}),
        ("fill", set()),
        ("work", set()),
    ],
)
def test_what_a_kind_makes(kind: str, makes: set[str]) -> None:
    assert stage(kind=kind).nuisances == makes


@pytest.mark.parametrize("kind", ["fill", "compact", "seal", "oil", "paint", "varnish", "coat", "stain"])
def test_kinds_that_leave_fresh_work(kind: str) -> None:
    assert {"spray", "water", "dirt", "feet", "rain"} <= stage(kind=kind).spoiled_while_fresh_by


@pytest.mark.parametrize("kind", ["wash", "sweep", "treat", "work", "", "cover"])
def test_kinds_that_leave_none(kind: str) -> None:
    assert stage(kind=kind).spoiled_while_fresh_by == set()


def test_a_stage_says_otherwise_and_is_heard() -> None:
    quiet = stage(kind="wash", makes=[])
    assert quiet.nuisances == set()
    assert not quiet.wets
    assert quiet.cleans
    assert stage(kind="fill", fresh_to=[]).spoiled_while_fresh_by == set()
    assert stage(kind="work", fresh_to=["dust"]).spoiled_while_fresh_by == {"dust"}
    assert Stage.model_validate(quiet.model_dump(exclude_defaults=True)).nuisances == set()


def test_sheets_of_a_recipe_are_for_the_stages_of_its_own_use() -> None:
    shipped = library()
    shipped.recipes["treat-wall"]["stages"]["cover"]["stays_for"] = ["treat", "rinse"]
    use = {"recipe": "treat-wall", "prefix": "back", "area": "10 m2", "conditions": ["plants close by"]}
    job = {"grounds": {"rear": {"supplies": {"tap": 1, "socket": 1}}}, "recipes": [use], "drop": ["back-rinse"]}
    laid: dict[str, Any] = {"jobs": {"elm": job}}
    tables = laid["jobs"]
    expand_job("elm", tables["elm"], Equipment.of_day(laid, shipped, []), shipped, Faults())
    assert tables["elm"]["stages"]["back-cover"]["stays_for"] == ["back-treat"]
