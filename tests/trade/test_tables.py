"""The user's own values laid over the shipped tables."""

import tomllib
from collections.abc import Callable
from pathlib import Path

import platformdirs
import pytest

from planner.resources import resource
from planner.trade import trade_tables
from planner.trade.trade_tables import table

Write = Callable[[str], Path]
SHIPPED = sorted(path.stem for path in resource("trade").glob("*.toml"))


@pytest.mark.parametrize("name", SHIPPED)
def test_without_own_values_a_table_is_the_shipped_file(name: str) -> None:
    assert table(name) == tomllib.loads(resource("trade", f"{name}.toml").read_text(encoding="utf-8"))


def test_own_values_replace_only_what_they_name(own_values: Write) -> None:
    before = table("limits")
    own_values("[limits.great-britain.vibration]\naction = 2\n[limits.elsewhere]\nname = 'Elsewhere'\n")
    after = table("limits")
    assert after["great-britain"]["vibration"]["action"] == 2
    assert after["elsewhere"] == {"name": "Elsewhere"}
    del after["elsewhere"]
    after["great-britain"]["vibration"]["action"] = before["great-britain"]["vibration"]["action"]
    assert after == before


def test_a_changed_file_is_read_again(own_values: Write) -> None:
    import os

    path = own_values("[limits.great-britain.breaks]\nleast = 30\n")
    assert table("limits")["great-britain"]["breaks"]["least"] == 30
    own_values("[limits.great-britain.breaks]\nleast = 45\n")
    os.utime(path, ns=(1, 1))
    assert table("limits")["great-britain"]["breaks"]["least"] == 45


def test_what_a_caller_changes_stays_with_them() -> None:
    table("limits")["great-britain"]["breaks"]["least"] = 0
    assert table("limits")["great-britain"]["breaks"]["least"] == 20


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[limits\n", "this is not TOML"),
        ("[limit.x]\n", "[limit] is no table of the trade; there are cautions, chemicals"),
        ("limits = 3\n", "limits is a number; a table [limits] belongs here"),
        ("[limits]\ngreat-britain = 3\n", "limits.great-britain is a number; a table belongs here"),
        (
            "[limits.great-britain.vibration]\naction = '2.5'\n",
            "limits.great-britain.vibration.action is text; a number belongs here",
        ),
    ],
)
def test_a_fault_names_the_file_and_the_place(own_values: Write, text: str, says: str) -> None:
    path = own_values(text)
    with pytest.raises(ValueError, match="trade") as error:
        table("limits")
    assert str(error.value).startswith(f"{path}: ")
    assert says in str(error.value)


def test_a_file_that_is_no_text_is_named(own_values: Write) -> None:
    own_values("").write_bytes(b"\xff\xfe\xfa")
    with pytest.raises(ValueError, match=r"trade\.toml: this is not text in UTF-8"):
        table("limits")


def test_an_entry_without_its_text_or_number_is_named() -> None:
    for wrong in ({}, {"least": 0}, {"least": True}, {"least": "20"}):
        with pytest.raises(ValueError, match=r"limits\.x.breaks needs least = a number above 0"):
            trade_tables.number(wrong, "least", "limits.x.breaks")
    for empty in ({}, {"title": " "}, {"title": 3}):
        with pytest.raises(ValueError, match=r"cautions\.x needs title"):
            trade_tables.text(empty, "title", "cautions.x")


def test_the_own_file_lies_in_the_configuration_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.undo()
    folder = platformdirs.user_config_dir("slackwater", appauthor=False)
    assert trade_tables.user_file() == Path(folder) / "trade.toml"
