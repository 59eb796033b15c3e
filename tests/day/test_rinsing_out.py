"""Kit of a day's own that two chemicals come out of, and that says nothing of rinsing out."""

from pathlib import Path
from typing import Any

import pytest

from planner.day import Day
from planner.day.file import day_from_text, day_to_toml
from planner.day.rinsing_out import with_rinsing_out
from planner.trade.visits import usual_rinsing
from tests.days import at_elm
from tests.trade.conftest import own_values

__all__ = ["own_values"]

Tables = dict[str, Any]


def two_chemicals(kit: Tables, *, taken: tuple[str, ...] = ("pump",), second: str | None = "quaternary") -> Day:
    """Acid on the wall, and on the path what the day says, both with the same kit."""
    chemical = {"wall": "acid", "path": second}
    stages = {
        key: {"kind": "treat", "surface": key, "chemical": chemical[key],
              "methods": {"so": {"minutes": 20, "kit": list(taken)}}}
        for key in chemical
    }  # fmt: skip
    site = {"grounds": {"rear": {"way_in": {"minutes": 0}, "supplies": {"tap": 1}}},
            "surfaces": {key: {"ground": "rear"} for key in stages}}  # fmt: skip
    return Day.model_validate(at_elm({**site, "stages": stages}, start=480, finish=1000, rest="none", kit=kit))


def rinsed(day: Day) -> dict[str, int]:
    return {key: kit.rinsing for key, kit in with_rinsing_out(day).kit.items()}


USUAL = usual_rinsing()


def test_the_usual_time_is_a_few_minutes() -> None:
    """Filled and sprayed out three times: common practice, no source."""
    assert 1 <= USUAL <= 10


def test_one_sprayer_and_two_chemicals_take_the_usual_time() -> None:
    assert rinsed(two_chemicals({"pump": {}})) == {"pump": USUAL}


@pytest.mark.parametrize("second", ["acid", "vinegar", None])
def test_what_serves_one_chemical_is_as_it_was(second: str | None) -> None:
    """By whatever name it goes."""
    day = two_chemicals({"pump": {}}, second=second)
    assert with_rinsing_out(day) is day


@pytest.mark.parametrize("said", [0, 7])
def test_what_the_day_says_holds_also_where_that_is_nothing(said: int) -> None:
    day = two_chemicals({"pump": {"rinse_out": said}})
    assert rinsed(day) == {"pump": said}
    assert rinsed(day_from_text(day_to_toml(day), Path("back.toml"))) == {"pump": said}


def test_the_file_that_says_nothing_is_read_so() -> None:
    written = day_to_toml(two_chemicals({"pump": {}}))
    assert "rinse_out" not in written
    assert rinsed(day_from_text(written, Path("own.toml"))) == {"pump": USUAL}


def test_what_holds_no_chemical_is_not_rinsed_out() -> None:
    """A ladder, what brings clean water, what is moved on wheels, and what feeds from the tap; the head on it is."""
    kit: Tables = {"head": {"needs": ["hose"]}, "hose": {"supply": ["tap"]}, "ladder": {"tags": ["ladder"]},
                   "can": {"water": True}, "barrow": {"wheels": 80}}  # fmt: skip
    assert rinsed(two_chemicals(kit, taken=("head", "ladder", "can", "barrow"))) == dict.fromkeys(kit, 0) | {
        "head": USUAL
    }


def test_a_pole_that_is_fed_by_a_sprayer_is_rinsed_out_with_it_unless_the_sprayer_says_that_it_is() -> None:
    pole = {"pole": {"needs": ["pump"]}}
    assert rinsed(two_chemicals(pole | {"pump": {}}, taken=("pole",))) == {"pole": USUAL, "pump": USUAL}
    assert rinsed(two_chemicals(pole | {"pump": {"rinse_out": 4}}, taken=("pole",))) == {"pole": 0, "pump": 4}


def test_the_users_own_usual_time_is_taken_and_may_be_nothing(own_values: Any) -> None:
    own_values('[visits.rinsing_out]\nminutes = "5 min"\n')
    assert rinsed(two_chemicals({"pump": {}})) == {"pump": 5}
    own_values('[visits.rinsing_out]\nminutes = "0 min"\n')
    assert rinsed(two_chemicals({"pump": {}})) == {"pump": 0}
