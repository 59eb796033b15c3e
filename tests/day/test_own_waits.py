"""Where a fault of a wait is told in a day of recipes: by the number that it has in the file, and on its line."""

from pathlib import Path

import pytest

from planner.day.faults import DayFaults
from planner.day.reading import day_from_text

HEAD = """format = 1
date = 2026-07-08
start = "07:30"
finish = "17:30"
van = { starts_at = "yard", ends_at = "yard" }
places = { yard = {}, teal = {} }
travel = { trips = [{ from = "yard", to = "teal", minutes = "12 min" }] }
hands = { ash = {} }
jobs.teal = { place = "teal", grounds = { front = { supplies = { tap = 1, socket = 2 } } }, recipes = [
    { recipe = "clean-and-repoint-patio", area = "20 m2", slab = "600 x 600 mm", joint_width = "10 mm" },
], stages = { sweep = { after = ["grind"] } }, waits = [
"""
LAID_OVER = '{ after = "wash", before = "wet", least = "30 min" },\n'
SOUND = '{ after = "sweep", before = "wash", least = "3 min" },\n'


@pytest.mark.parametrize(
    ("bad", "told"),
    [
        ('{ after = "wetx", before = "fill-1" },', "waits[2].after: unknown stage 'wetx'"),
        ('{ after = "wet", before = "fill-1", least = 5 },', "waits[2].least: "),
        ('{ after = "wet", before = "fill-1", kind = "drying" },', "waits[2].kind: "),
        ('{ after = "fill-2", before = "sweep" },', "waits[2]: these stages wait for each other in a circle"),
        ("5,", "waits[2]: "),
    ],
)
def test_a_wait_is_told_by_its_own_number_and_line(bad: str, told: str) -> None:
    """The first is laid over one of the recipe's, the third has the fault: counted from 0, as lists are."""
    text = f"{HEAD}{LAID_OVER}{SOUND}{bad}\n] }}\n"
    with pytest.raises(DayFaults) as found:
        day_from_text(text, Path("day.toml"))
    line = text[: text.index(bad)].count("\n") + 1
    assert any(str(x).startswith(f"day.toml:{line}: jobs.teal.{told}") for x in str(found.value).split("\n"))
    assert day_from_text(text.replace(f"{bad}\n", ""), Path("day.toml")).jobs["teal"].waits


def test_a_recipes_own_wait_has_no_number_in_the_file() -> None:
    """What an own word makes wrong of it is told at the job."""
    text = HEAD.replace('sweep = { after = ["grind"] }', 'grind = { after = ["sweep"] }') + "] }\n"
    with pytest.raises(DayFaults, match="circle") as found:
        day_from_text(text, Path("day.toml"))
    assert "waits[" not in str(found.value)
