"""Slips in the user's own values: all are told with their lines, and the shipped values are used meanwhile."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from planner.day import Kit, Material, Method
from planner.trade import known_words
from planner.trade.library import EQUIPMENT_WORDS, METHOD_WORDS, library
from planner.trade.own_values import line_of, what_does_not_hold
from planner.trade.trade_tables import shipped, table

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
    assert [words.split(": ")[0] for words in told] == [f"{path}:{line}" for line in (5, 8, 11, 2, 3)]
    assert "recipes.own" not in table("recipes")


def test_a_file_that_was_put_right_is_used_at_once(own_values: Write) -> None:
    path = own_values(SLIP)
    assert what_does_not_hold()
    own_values("[kit.washer]\nname = 'Washer'\n")
    os.utime(path, ns=(1, 1))
    assert what_does_not_hold() == ()
    assert table("kit")["washer"]["name"] == "Washer"


@pytest.mark.parametrize("what", ["pipe", "folder", "huge", "bytes", "deep"])
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
        path.write_bytes(b"\xff\xfe" if what == "bytes" else b"x = " + b"[" * 100_000)
    [told] = what_does_not_hold()
    assert told.startswith(f"{path}: this ")
    assert library().recipes


def test_the_line_is_that_of_the_nearest_thing_around() -> None:
    text = "# remark\n[a.b]\nc = 1\n\n['d e'.f]\n  g.h = 2 # x\n"
    assert line_of("a.b.c", text) == 3
    assert line_of("a.b.z", text) == 2
    assert line_of("d e.f.g.h", text) == 6
    assert line_of("x.y", text) == 0


def test_a_word_that_no_entry_has_is_told_with_its_line_and_the_near_one(own_values: Write) -> None:
    path = own_values(
        "[kit.washer]\nlod = 2\n\n[materials.filler]\nhold_kg = '20 kg'\n\n"
        "[methods.sweep.broom]\nfactr = 2\n\n[cautions.dust]\ntitel = 'Dust'\n"
    )
    assert set(what_does_not_hold()) == {
        f"{path}:2: kit.washer.lod is no word of it; did you mean 'load'?",
        f"{path}:5: materials.filler.hold_kg is no word of it; did you mean 'holds_kg'?",
        f"{path}:8: methods.sweep.broom.factr is no word of it; did you mean 'factor'?",
        f"{path}:11: cautions.dust.titel is no word of it; did you mean 'title'?",
    }


def test_every_word_of_a_day_and_of_the_shipped_tables_is_known() -> None:
    """The words of kit, material and methods are those of a day's tables, with what the library reckons with."""
    assert set(known_words.KIT) == {*Kit.model_fields, *EQUIPMENT_WORDS}
    assert set(known_words.MATERIALS) == {*Material.model_fields, *EQUIPMENT_WORDS}
    assert set(known_words.METHODS) == {*Method.model_fields, *METHOD_WORDS}
    tables = {name: shipped(name) for name in ("kit", "materials", "methods", "cautions")}
    assert list(known_words.unknown_words(tables)) == []
