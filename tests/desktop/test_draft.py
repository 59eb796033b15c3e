"""The text of a day and its changes, without any window."""

import datetime as dt
import tomllib
from pathlib import Path

import pytest

from planner.day.faults import DayFaults
from planner.day.file import DayFile, day_to_toml
from planner.desktop.model.draft import Change, Draft, new_text
from tests.days import tiny_day

REMARKS = "# first\n" + day_to_toml(tiny_day()) + "# last\n"


def test_a_new_day_only_wants_a_job() -> None:
    draft = Draft(new_text(dt.date(2026, 7, 1)))
    assert draft.day is None
    assert [fault.place for fault in draft.faults] == [("jobs",)]


def test_a_change_leaves_every_other_line_as_it_is() -> None:
    before = Draft(REMARKS)
    after = before.changed([Change(("jobs", "elm", "title"), "Elm House")])
    assert after.day is not None
    assert after.day.jobs["elm"].title == "Elm House"
    changed = set(after.text.splitlines()) ^ set(before.text.splitlines())
    assert len(changed) == 2
    assert after.text.startswith("# first")
    assert after.text.endswith("# last\n")


@pytest.mark.parametrize(
    "change",
    [
        Change(("hands", "ben"), {"name": "Ben"}),
        Change(("travel", "trips", 1), {"from": "yard", "to": "elm", "minutes": "12 min"}),
        Change(("jobs", "elm", "waits", 0, "keep_clear"), True),
        Change(("jobs", "elm", "waits", 0), None),
        Change(("jobs", "elm", "stages", "sweep", "starts_at"), "10:15"),
        Change(("jobs", "elm", "stages", "sweep", "methods", "broom", "minutes"), "25 min"),
        Change(("jobs", "elm", "grounds", "rear", "way_in", "load_limit"), 1.5),
        Change(("rest", "length"), "30 min"),
        Change(("kit", "broom"), None),
    ],
)
def test_a_change_is_made_and_nothing_else(change: Change) -> None:
    """Against the standard library's own TOML reader."""
    wanted = tomllib.loads(REMARKS)
    *way, last = change.place
    here = wanted
    for part in way:
        here = here.setdefault(part, {}) if isinstance(here, dict) else here[part]  # type: ignore[index]
    if change.value is None:
        del here[last]  # type: ignore[arg-type]
    elif isinstance(here, list) and last == len(here):
        here.append(change.value)
    else:
        here[last] = change.value  # type: ignore[index]
    after = Draft(REMARKS).changed([change])
    if not wanted["jobs"]["elm"]["waits"]:
        del wanted["jobs"]["elm"]["waits"]  # a list goes with the last that it holds
    assert tomllib.loads(after.text) == wanted
    assert after.text.startswith("# first")


def test_a_change_and_back_is_the_same_day() -> None:
    before = Draft(REMARKS)
    there = before.changed([Change(("finish",), "19:00")])
    back = there.changed([Change(("finish",), before.at(("finish",)))])
    assert back.day == before.day
    assert back.text == before.text


def test_text_that_is_no_toml_is_a_fault_with_its_line() -> None:
    draft = Draft("format = 1\ntitle = = 3\n")
    assert draft.day is None
    assert draft.faults[0].line == 2


def test_a_change_that_cannot_be_made_is_refused_and_nothing_is_laid_out_anew() -> None:
    with pytest.raises(DayFaults, match="there can be no value here"):
        Draft(REMARKS).changed([Change(("date", "of", "it"), "x")])


def test_the_window_and_the_command_write_the_same_bytes(tmp_path: Path) -> None:
    path = tmp_path / "day.toml"
    path.write_text(REMARKS, "utf-8")
    changes = [Change(("hands", "ben"), {"name": "Ben"}), Change(("jobs", "elm", "title"), "Elm House")]
    file = DayFile.open(path)
    file.change_all(changes)
    assert Draft(REMARKS).changed(changes).text == file.text


def test_taking_out_what_is_not_there_does_nothing() -> None:
    assert Draft(REMARKS).changed([Change(("jobs", "oak", "stages", "x", "starts_at"), None)]).text == REMARKS
