"""Masses, waste and measures that cannot be: each fault by its line, its place and its words, and never a traceback."""

import re

import pytest

from planner.day.faults import DayFaults
from planner.day.file import read_day
from planner.day.kit import Material
from tests.day.small_day import SMALL

SWEEPING = 'methods.broom = { kit = ["broom"], minutes = "20 min", uses = { filler = 1 } }'


def told(tmp_path, *changes):
    """What is told of the small day with these texts in place of others; empty when it is sound."""
    text = SMALL
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (tmp_path / "day.toml").write_text(text)
    try:
        read_day(tmp_path / "day.toml")
    except DayFaults as faults:
        return [line for line in str(faults).splitlines() if line]
    return []


def the_one(tmp_path, *changes):
    found = told(tmp_path, *changes)
    assert len(found) == 1, found
    assert re.search(r"\d", found[0])  # the line
    return found[0]


@pytest.mark.parametrize(("mass", "words"), [
    ("26 kg", "'washer' weighs 26 kg, and one hand lifts at most 25.0 kg by the guideline"),
    ("1900 kg", "'washer' weighs 1900 kg"),
])  # fmt: skip
def test_kit_that_nobody_can_lift(tmp_path, mass, words):
    found = the_one(tmp_path, ("load = 1.5", f'load = 1.5\nmass = "{mass}"'))
    assert "kit.washer.mass" in found
    assert words in found
    assert "say what your hands lift" in found


def test_a_hand_may_say_what_they_lift_and_a_sack_truck_goes_where_there_are_no_steps(tmp_path):
    heavy = ("load = 1.5", 'load = 1.5\nmass = "30 kg"')
    assert told(tmp_path, heavy)
    assert told(tmp_path, heavy, ("[hands.ash]", '[hands.ash]\nlifts = "30 kg"')) == []
    truck = ("[kit.broom]", '[kit.truck]\nwheels = "80 kg"\n\n[kit.broom]')
    assert told(tmp_path, heavy, truck)
    assert told(tmp_path, heavy, truck, ("restricted = true }", "restricted = true, wheeled = true }")) == []


def test_a_container_that_nobody_can_lift(tmp_path):
    found = the_one(tmp_path, ("load = 1.0", 'load = 1.0\nmass = "40 kg"'))
    assert "one container of 'filler' weighs 40 kg, and no hand lifts more than 25 kg" in found
    assert "take a smaller container" in found


def test_waste_has_a_mass_and_is_no_material_of_the_same_stage(tmp_path):
    leaves = SWEEPING.replace("1 } }", "1 }, leaves = { filler = 1.5 } }")
    found = told(tmp_path, (SWEEPING, leaves))
    assert any("'filler' is left by the work, and what a container of it weighs is not given" in x for x in found)
    assert any("is used up and left by the same method" in x for x in found)
    unknown = leaves.replace("leaves = { filler", "leaves = { rubbel")
    assert "unknown material" in the_one(tmp_path, (SWEEPING, unknown))


@pytest.mark.parametrize(("old", "new", "place"), [
    ("load = 0.5", "load = 0.5\nnoise = inf", "noise"),
    ("load = 0.5", "load = 0.5\nnoise = 400", "noise"),
    ("load = 0.5", "load = 0.5\nnoise = nan", "noise"),
    ('area = "20 m2"', 'area = "9e9 m2"', "area"),
    ('area = "20 m2"', 'area = "500000 m2"', "area"),
    ('area = "20 m2"', "area = inf", "area"),
    ("load = 0.5", 'load = 0.5\nmass = "9000 kg"', "mass"),
    ("load = 0.5", 'load = 0.5\nset_up = "3 days"', "set_up: '72 h' is too long for this; write at most '4 h'"),
    ('place = "elm"', 'place = "elm"\narriving = "30 h"', "arriving: '30 h' is too long for this; write at most '4 h'"),
    ("methods.spray", "coldest = 60\nmethods.spray", "coldest: '60' is above 45; give 45 or less"),
    ("methods.spray", "hottest = 900\nmethods.spray", "hottest: '900' is above 90"),
    ("methods.spray", "windiest = 5000\nmethods.spray", "windiest: '5000' is above 200"),
    ("methods.spray", "above_dew = 400\nmethods.spray", "above_dew: '400' is above 30"),
])  # fmt: skip
def test_absurd_figures(tmp_path, old, new, place):
    assert place in the_one(tmp_path, (old, new))


RECIPE = """
[[jobs.elm.recipes]]
recipe = "clean-and-repoint-patio"
ground = "rear"
area = "20 m2"
slab = "600 x 300 mm"
joint_width = "10 mm"
"""


@pytest.mark.parametrize(("line", "words"), [
    ('joint_depth = "25 m"', "'25 m' cannot be: joint_depth lies between 3 and 300 mm"),
    ('joint_width = "600 mm"', "'600 mm' cannot be: joint_width lies between 1 and 100 mm"),
    ('stock = "100 %"', "'100 %' cannot be: stock lies between 0.1 and 50 %"),
    ('area = "3000000 m2"', "'3000000 m2' cannot be"),
    ('loose_area = "30 m2"', "the loose area, 30 m2, is more than the area, 20 m2"),
])  # fmt: skip
def test_measures_of_a_recipe_that_cannot_be(tmp_path, line, words):
    word = line.split(" ")[0]
    use = "".join(row + "\n" for row in RECIPE.splitlines() if not row.startswith(f"{word} ")) + line + "\n"
    first, rest = SMALL.split("[[jobs.elm.waits]]")
    (tmp_path / "day.toml").write_text(f"{first}{use}\n[[jobs.elm.waits]]{rest}")
    with pytest.raises(DayFaults) as faults:
        read_day(tmp_path / "day.toml")
    found = [row for row in str(faults.value).splitlines() if words in row]
    assert len(found) == 1, str(faults.value)
    assert re.search(r"day.toml:\d+", found[0])


def by_recipe(tmp_path, **measures):
    """A day of the small one with a recipe beside its own stages, and what is told of it."""
    use = f'{RECIPE}prefix = "terrace"\n'
    for word, text in measures.items():
        use = re.sub(f"^{word} = .*$", f'{word} = "{text}"', use, flags=re.MULTILINE)
    first, rest = SMALL.split("[[jobs.elm.waits]]")
    text = f"{first}{use}\n[[jobs.elm.waits]]{rest}"
    (tmp_path / "day.toml").write_text(text)
    try:
        read_day(tmp_path / "day.toml")
    except DayFaults as faults:
        return text, faults.faults
    return text, ()


@pytest.mark.parametrize("area", ["50 m2", "60 m2", "80 m2"])
def test_a_large_patio_is_long_work_and_no_fault_of_its_file(tmp_path, area):
    """It is filled in as many sections as the mortar asks for; that it is long is for the plan to say."""
    assert by_recipe(tmp_path, area=area)[1] == ()


@pytest.mark.parametrize("area", ["400 m2", "2000 m2", "9000 m2"])
def test_too_much_by_a_recipe_is_told_once_and_at_its_measure(tmp_path, area):
    """Nobody can find the wait or the stage of a recipe in the file, nor change what mortar or label allow."""
    text, found = by_recipe(tmp_path, area=area)
    assert [fault.place for fault in found] == [("jobs", "elm", "recipes", 0, "area")]
    assert text.splitlines()[found[0].line - 1] == f'area = "{area}"'
    assert found[0].right.startswith("give less of it here")


def test_faults_of_a_job_beside_its_recipe_are_told_with_those_of_the_recipe(tmp_path):
    """All at once: who has put the recipe right is not told of the way in next. What is missing may be the recipe's."""
    job = SMALL[: SMALL.index("[jobs.elm.surfaces]")].replace("minutes = \"2 min\"", "minutes = \"2\"")
    job = job.replace('place = "elm"', 'place = "elm"\narrive = "08:30"')
    use = RECIPE.replace('"20 m2"', '"20 sqm"')
    (tmp_path / "day.toml").write_text(job + use + "\n[jobs.elm.stages.wash]\nkind = 3\n")
    with pytest.raises(DayFaults) as faults:
        read_day(tmp_path / "day.toml")
    words = [fault.place[2:][-1] for fault in faults.value.faults]
    assert sorted(words) == ["area", "arrive", "kind", "minutes"]
    assert any('for example ["08:30", "10:00"]' in fault.right for fault in faults.value.faults)


@pytest.mark.parametrize(("mass", "lift"), [(30, 2), (36, 3), (300, None)])
def test_as_many_hands_are_advised_as_lift_it(tmp_path, mass, lift):
    """25 kg each, of which a pair lifts two thirds, three a half, four three eighths: 33, 37.5 and again 37.5."""
    found = the_one(tmp_path, ("load = 1.5", f'load = 1.5\nmass = "{mass} kg"'))
    assert (f"(lift = {lift})" in found) == (lift is not None)
    assert ("lift = " in found) == (lift is not None)


@pytest.mark.parametrize("noise", ['"95 dB"', "inf", '"loud"'])
def test_what_would_be_right_of_noise_are_decibels(tmp_path, noise):
    assert "for example 85, in dB(A)" in the_one(tmp_path, ("load = 0.5", f"load = 0.5\nnoise = {noise}"))


def test_an_empty_bag_folds_and_an_empty_tub_does_not():
    """A handful of leaves in a garden bag goes along with what fills a trip nearly; full they are what they are."""
    bag = Material(container="garden bag", load=1.0)
    tub = Material(container="tub", load=1.0)
    assert bag.load_with(0.02) < 0.1 < tub.load_with(0.02)
    assert bag.load_with(1.0) == tub.load_with(1.0) == 1.0
    assert bag.load_with(0.5) < 0.6
