"""Cautions: picked by tag, always in one order, and always deferring to those who decide."""

import itertools
import re
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from planner.resources import resource
from planner.trade.cautions import DEFERS, all_cautions, cautions_for, without_caution

Write = Callable[[str], Path]


def test_the_order_is_that_of_the_table_whatever_the_order_of_the_tags() -> None:
    tags = ["ladder", "chlorine", "run-off", "lone-work"]
    first = cautions_for(tags)
    assert [caution.tag for caution in first] == ["chlorine", "ladder", "run-off", "lone-work"]
    assert all(cautions_for(order) == first for order in itertools.permutations(tags))
    assert cautions_for([*tags, *tags]) == first
    assert cautions_for([]) == ()


def test_every_hazard_of_outside_cleaning_that_was_asked_for_has_a_caution() -> None:
    asked = [
        "dust", "vibration", "noise", "ladder", "fragile-roof", "chlorine", "acid", "electricity-near-water",
        "run-off", "plants", "pets", "windows", "lone-work", "lifting", "hot-weather", "frost", "hedge",
    ]  # fmt: skip
    assert without_caution(asked) == ()
    assert without_caution(["dust", "dsut"]) == ("dsut",)


def test_every_tag_in_the_shipped_tables_has_a_caution() -> None:
    tags: set[str] = set()
    for path in resource("trade").rglob("*.toml"):
        tags |= _tags(tomllib.loads(path.read_text(encoding="utf-8")))
    assert "dust" in tags
    assert without_caution(tags) == ()


def _tags(value: object) -> set[str]:
    if isinstance(value, dict):
        own: set[str] = set()
        for field in ("tags", "hazards"):
            listed = value.get(field, [])  # a condition has a list for each stage
            own.update(*listed.values() if isinstance(listed, dict) else [listed])
        return own.union(*map(_tags, value.values()))
    return set().union(*map(_tags, value)) if isinstance(value, list) else set()


@pytest.mark.parametrize("caution", all_cautions(), ids=lambda caution: caution.tag)
def test_each_caution_defers_to_law_label_or_licence(caution: object) -> None:
    assert re.search(r"\b(law|rules|label|labels|instructions|licensed)\b", caution.text)  # type: ignore[attr-defined]


def test_the_closing_line_names_all_three() -> None:
    assert "reminders" in DEFERS
    assert all(word in DEFERS for word in ("Local law and codes", "labels", "licensed practice"))


def test_facts_named_in_cautions_are_those_of_their_sources() -> None:
    said = {caution.tag: caution for caution in all_cautions()}
    assert "30 mA RCD" in said["electricity-near-water"].text  # BS 7671 additional protection, from memory
    assert "0.5 ppm" in said["chlorine"].source  # HSE EH40/2005
    assert "0.1 mg/m3" in said["dust"].source  # HSE EH40/2005
    assert "25 kg and 16 kg" in said["lifting"].text  # HSE INDG143


def test_own_cautions_come_last_and_own_words_replace_ours(own_values: Write) -> None:
    own_values(
        "[cautions.bees]\ntitle='Bees'\ntext='A hive stands by the shed.'\nsource='own'\n"
        "[cautions.pets]\ntitle='The dog'\n"
    )
    found = cautions_for(["bees", "pets", "frost"])
    assert [caution.tag for caution in found] == ["pets", "frost", "bees"]
    assert found[0].title == "The dog"
    assert "indoors" in found[0].text


def test_an_own_caution_without_its_text_is_named(own_values: Write) -> None:
    path = own_values("[cautions.bees]\ntitle='Bees'\n")
    with pytest.raises(ValueError, match=r"cautions\.bees needs text") as error:
        all_cautions()
    assert str(path) in str(error.value)
