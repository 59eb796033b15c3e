"""Kit of which a day says no more than its name is the trade library's, as the heading of that file promises."""

import tomllib
from pathlib import Path

import pytest

from planner.day.file import read_day, write_day
from planner.resources import resource

HEAD = """
date = 2026-06-16
start = "08:00"
finish = "17:00"
van = { starts_at = "yard", ends_at = "yard" }
[hands.ash]
[places.yard]
[places.elm]
[[travel.trips]]
from = "yard"
to = "elm"
minutes = "10 min"
[jobs.elm]
place = "elm"
[jobs.elm.grounds.front]
supplies = { tap = 1, socket = 1 }
way_in = { minutes = "1 min" }
[jobs.elm.surfaces.drive]
ground = "front"
[jobs.elm.stages.wash]
surface = "drive"
methods.lance = { minutes = "30 min", kit = ["washer"] }
"""


@pytest.mark.parametrize("table", ["", "[kit.washer]\n", "[kit.washer]\n[kit.hose]\n"])
def test_a_name_alone_is_the_library_s_kit_with_what_it_needs(tmp_path: Path, table: str) -> None:
    path = tmp_path / "day.toml"
    path.write_text("format = 1\n" + HEAD + table, "utf-8")
    day = read_day(path)
    shipped = tomllib.loads(resource("trade/kit.toml").read_text("utf-8"))
    assert day.kit["washer"].name == shipped["washer"]["name"]
    assert day.kit["washer"].load == shipped["washer"]["load"]
    assert set(shipped["washer"]["needs"]) <= set(day.kit)
    assert day.kit["hose"].supply == tuple(shipped["hose"]["supply"])


def test_kit_that_a_day_describes_is_its_own(tmp_path: Path) -> None:
    path = tmp_path / "day.toml"
    path.write_text("format = 1\n" + HEAD + "[kit.washer]\nload = 2\n", "utf-8")
    day = read_day(path)
    assert list(day.kit) == ["washer"]
    assert (day.kit["washer"].load, day.kit["washer"].needs, day.kit["washer"].set_up) == (2, (), 0)


def test_what_own_kit_needs_is_the_library_s_where_the_day_does_not_describe_it(tmp_path: Path) -> None:
    path = tmp_path / "day.toml"
    path.write_text("format = 1\n" + HEAD + '[kit.washer]\nload = 2\nneeds = ["hose"]\n', "utf-8")
    day = read_day(path)
    shipped = tomllib.loads(resource("trade/kit.toml").read_text("utf-8"))
    assert day.kit["washer"].load == 2
    assert day.kit["hose"].supply == tuple(shipped["hose"]["supply"])


def test_kit_of_usual_values_is_still_its_own_when_it_was_written_and_read(tmp_path: Path) -> None:
    path = tmp_path / "day.toml"
    path.write_text("format = 1\n" + HEAD + "[kit.washer]\nload = 1\n", "utf-8")
    day = read_day(path)
    assert read_day(write_day(day, tmp_path / "anew.toml")).kit == day.kit
