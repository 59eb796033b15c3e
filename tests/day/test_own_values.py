"""Slips in the user's own values: all are told with their lines, and the shipped values are used meanwhile."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from planner.day.own_values import what_does_not_hold
from planner.day.trade_words import OF_A_METHOD, OF_EQUIPMENT, TABLES, trade
from planner.day.words import FILE
from planner.trade.library import EQUIPMENT_WORDS, METHOD_WORDS, library
from planner.trade.trade_tables import shipped, table
from tests.trade.conftest import own_values

__all__ = ["own_values"]

Write = Callable[[str], Path]

SLIP = '[kit.washer]\n# carried by one\nload = 1,0\n'


def test_without_a_file_all_holds() -> None:
    assert what_does_not_hold() == ()


def test_own_values_that_hold_are_used(own_values: Write) -> None:
    own_values("[kit.own-washer]\nname = 'Own washer'\nload = 2.0\n")
    assert what_does_not_hold() == ()
    assert table("kit")["own-washer"]["load"] == 2.0


def test_a_slip_of_the_pen_is_told_with_its_line_and_the_shipped_values_stand(own_values: Write) -> None:
    """TOML 1.0: a comma may not follow a number."""
    path = own_values(SLIP)
    [told] = what_does_not_hold()
    assert told.startswith(f"{path}:3: this is not TOML: ")
    assert library().kit
    assert "washer" not in table("kit") or table("kit")["washer"].get("load") != 1


def test_all_faults_are_told_each_with_its_line(own_values: Write) -> None:
    path = own_values(
        "[limits.great-britain.vibration]\naction = '2.5'\nlimit = 'five'\n\n"
        "[recipes.own]\ntitle = 3\n\n[recipes.other]\ntitle = 'Other'\n\n[cautions.own]\ntitle = 'Own'\n"
    )
    told = what_does_not_hold()
    assert [words.split(": ")[0] for words in told] == [f"{path}:{line}" for line in (2, 3, 5, 5, 5, 8, 8, 11)]
    assert "recipes.own" not in table("recipes")


def test_a_file_that_was_put_right_is_used_at_once(own_values: Write) -> None:
    path = own_values(SLIP)
    assert what_does_not_hold()
    own_values("[kit.washer]\nname = 'Washer'\n")
    os.utime(path, ns=(1, 1))
    assert what_does_not_hold() == ()
    assert table("kit")["washer"]["name"] == "Washer"


TEXTS = {
    "bytes": b"\xff\xfe",
    "deep": b"x = " + b"[" * 100_000,
    "dots": b"x" + b".a" * 400_000 + b" = 1",
    "figures": b"x = " + b"9" * 6000,
}


@pytest.mark.parametrize("what", ["pipe", "folder", "huge", "bytes", "deep", "dots", "figures"])
def test_what_is_no_file_of_values_is_refused_at_once(own_values: Write, what: str) -> None:
    path = own_values("")
    path.unlink()
    if what == "pipe":
        os.mkfifo(path)
    elif what == "folder":
        path.mkdir()
    elif what == "huge":
        with path.open("wb") as file:
            file.truncate(2**30)
    else:
        path.write_bytes(TEXTS[what])
    [told] = what_does_not_hold()
    assert told.startswith((f"{path}: this ", f"{path}:1: a name has too many parts", f"{path}: a value cannot be"))
    assert library().recipes


SLIPS: dict[str, tuple[str, str]] = {
    "kit.washer.lod = 2": ("kit.washer.lod: unknown word 'lod'", "did you mean 'load'?"),
    "kit.own.load = 'heavy'": ("kit.own.load: 'heavy' is not what belongs here", "write a number, for example 1.5"),
    "kit.washer.mass = '12 foo'": ("kit.washer.mass: '12 foo' is not a mass", "write for example '20 kg'"),
    "kit.own.needs = ['hoose']": ("kit.own.needs names the unknown kit 'hoose'", "did you mean 'hose'?"),
    "materials.salt.hold_kg = '20 kg'": ("materials.salt.hold_kg: unknown word 'hold_kg'", "did you mean 'holds_kg'?"),
    "materials.own.density = 'x'": ("materials.own.density: 'x' is not a density", "write for example '1600 kg/m3'"),
    "methods.sweep.broom.factr = 2": ("methods.sweep.broom.factr: unknown word 'factr'", "did you mean 'factor'?"),
    "cautions.dust.titel = 'Dust'": ("cautions.dust.titel: unknown word 'titel'", "did you mean 'title'?"),
    "limits.great-britain.vibration.acton = 2": (
        "limits.great-britain.vibration.acton: unknown word 'acton'", "did you mean 'action'?",
    ),
    "chemicals.classes.acid.als = ['x']": ("chemicals.classes.acid.als: unknown word 'als'", "did you mean 'also'?"),
    "chemicals.unclear.'my own' = ['acyd']": (
        "chemicals.unclear.\"my own\" names the unknown class 'acyd'", "did you mean 'acid'?",
    ),
    "sites.'by the pavement'.hazard = ['public']": (
        "sites.\"by the pavement\".hazard: unknown word 'hazard'", "did you mean 'hazards'?",
    ),
    "sites.x.kit = { wash = ['laddr'] }": ("sites.x.kit.wash names the unknown kit 'laddr'", "did you mean 'ladder'?"),
    "visits.ariving.minutes = '9 min'": ("visits.ariving: unknown word 'ariving'", "did you mean 'arriving'?"),
    "visits.meal.latest = '25:00'": ("visits.meal.latest: '25:00' is not a time of day", "write for example '07:30'"),
    "recipes.treat-wall.titel = 'x'": ("recipes.treat-wall.titel: unknown word 'titel'", "did you mean 'title'?"),
    "recipes.treat-wall.stages.treat.nme = 'x'": (
        "recipes.treat-wall.stages.treat.nme: unknown word 'nme'", "did you mean 'name'?",
    ),
    "recipes.treat-wall.stages.treat.after = ['wsh']": (
        "recipes.treat-wall.stages.treat.after names the unknown stage 'wsh'", "did you mean 'wash'?",
    ),
    "recipes.treat-wall.waits.dwell.mots = '50 min'": (
        "recipes.treat-wall.waits.dwell.mots: unknown word 'mots'", "did you mean 'most'?",
    ),
    "recipes.treat-wall.waits.dwell.most = 'soon'": (
        "recipes.treat-wall.waits.dwell.most: 'soon' is not a duration",
        "write for example '6 min', '1 h 10 min' or '90 s'",
    ),
    "recipes.treat-wall.conditions.painted.factrs = { treat = 1.0 }": (
        "recipes.treat-wall.conditions.painted.factrs: unknown word 'factrs'", "did you mean 'factors'?",
    ),
    "recipes.treat-wall.conditions.own.factors = { treet = 1.0 }": (
        "recipes.treat-wall.conditions.own.factors names the unknown stage 'treet'", "did you mean 'treat'?",
    ),
    "recipes.treat-wall.conditions.own.waits = { dwell = { leest = '3 min' } }": (
        "recipes.treat-wall.conditions.own.waits.dwell.leest: unknown word 'leest'", "did you mean 'least'?",
    ),
    "recipes.treat-wall.usual = { area = 'x' }": (
        "recipes.treat-wall.usual.area: 'x' is not an area", "write for example '32 m2'",
    ),
}  # fmt: skip
"""A line of a user's file, what is wrong with it, and what would be right."""


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_in_any_table_is_told_with_its_line_and_what_would_be_right(own_values: Write, slip: str) -> None:
    path = own_values(f"# our own\n{slip}\n")
    wrong, right = SLIPS[slip]
    assert what_does_not_hold() == (f"{path}:2: {wrong}; {right}",)
    assert table("recipes") == shipped("recipes")


def test_slips_in_many_tables_are_all_told_at_once_in_the_order_of_the_file(own_values: Write) -> None:
    path = own_values("".join(f"{slip}\n" for slip in SLIPS))
    assert what_does_not_hold() == tuple(
        f"{path}:{line}: {wrong}; {right}" for line, (wrong, right) in enumerate(SLIPS.values(), start=1)
    )


def test_every_word_of_the_shipped_tables_is_known() -> None:
    tables = {name: shipped(name) for name in TABLES}
    trade(TABLES).model_validate(tables, context=FILE)


def test_what_the_library_reckons_with_has_its_kind_of_value() -> None:
    assert (OF_EQUIPMENT.keys(), OF_A_METHOD.keys()) == ({*EQUIPMENT_WORDS}, {*METHOD_WORDS})
