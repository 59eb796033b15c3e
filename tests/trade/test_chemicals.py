"""What must never meet, against general chemistry and HSE guidance on mixing cleaning chemicals."""

import itertools
from collections.abc import Callable
from pathlib import Path

import pytest

from planner.trade.chemicals import chemicals

Write = Callable[[str], Path]


@pytest.mark.parametrize(
    ("one", "other", "gives"),
    [
        ("acid", "hypochlorite", "chlorine"),
        ("brick acid", "bleach", "chlorine"),
        ("Vinegar", "Sodium  Hypochlorite", "chlorine"),
        ("iron sulphate", "chlorine-bleach", "chlorine"),
        ("bleach", "urine", "chloramine"),
        ("hydrogen peroxide", "hypochlorite", "oxygen"),
        ("bleach", "acetone", "chloroform"),
        ("vinegar", "hydrogen peroxide", "peracid"),
        ("brick acid", "caustic soda", "heat"),
    ],
)
def test_what_must_never_meet(one: str, other: str, gives: str) -> None:
    table = chemicals()
    assert not table.may_meet(one, other)
    clash = table.clash(other, one)
    assert clash is not None
    assert gives in clash.gives
    assert gives in str(clash)


def test_order_does_not_matter_and_nothing_clashes_with_itself() -> None:
    table = chemicals()
    classes = sorted(set(table.names.values()))
    for one, other in itertools.product(classes, classes):
        assert table.may_meet(one, other) == table.may_meet(other, one)
    assert all(table.may_meet(one, one) for one in classes)
    assert table.may_meet("detergent", "hypochlorite")


def test_what_is_not_known_does_not_pass_as_harmless() -> None:
    with pytest.raises(ValueError, match="'mystery cleaner' is not in the table of chemicals; give its class"):
        chemicals().may_meet("mystery cleaner", "detergent")


def test_own_names_and_pairs(own_values: Write) -> None:
    own_values(
        "[chemicals.classes.isocyanate]\nname = 'isocyanate resin'\nalso = ['resin part B']\n"
        "[chemicals.pairs.isocyanate-alkali]\ngives = 'heat'\nwhy = 'it sets at once'\nsource = 'invented'\n"
    )
    table = chemicals()
    assert not table.may_meet("resin part B", "caustic")
    assert not table.may_meet("acid", "bleach")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            "[chemicals.pairs.acid-jam]\ngives='x'\nwhy='y'\nsource='z'\n",
            "must be named for two classes, as acid-alkali, of acid",
        ),
        ("[chemicals.pairs.acid-oil]\ngives='x'\nsource='z'\n", "chemicals.pairs.acid-oil needs why"),
        (
            "[chemicals.classes.jam]\nname='jam'\nalso=['bleach']\n",
            "'bleach' already belongs to hypochlorite",
        ),
        (
            "[chemicals.classes.jam]\nname='jam'\nalso=[3]\n",
            "chemicals.classes.jam.also must be a list of texts",
        ),
        ("[chemicals.classes]\njam=3\n", "chemicals.classes.jam must be a table"),
    ],
)
def test_a_wrong_addition_is_named(own_values: Write, text: str, says: str) -> None:
    path = own_values(text)
    with pytest.raises(ValueError, match="chemicals") as error:
        chemicals()
    assert str(error.value).startswith(f"{path}: ")
    assert says in str(error.value)


@pytest.mark.parametrize("name", ["algae remover", "patio cleaner", "Moss-Killer", "black spot remover"])
def test_a_name_that_says_only_what_it_is_for_is_refused(name: str) -> None:
    """Algae removers are sold on hypochlorite and on quaternary ammonium, which must never meet; common practice."""
    table = chemicals()
    with pytest.raises(ValueError, match=r"may be .* or .*; give its class from its label"):
        table.class_of(name)
    assert table.is_unclear(name)


def test_names_that_are_unclear_name_two_known_classes_or_more_and_belong_to_none() -> None:
    table = chemicals()
    for name, may_be in table.unclear.items():
        assert len(may_be) > 1, name
        assert set(may_be) <= set(table.names.values()), name
        assert name not in table.names


def test_what_burns_skin_and_eyes_is_corrosive() -> None:
    """Strong acids, alkalis and oxidisers carry the corrosive pictogram (GHS05); soap and oil do not (from memory)."""
    assert chemicals().corrosive >= {"acid", "alkali", "hypochlorite"}
    assert not chemicals().corrosive & {"detergent", "oil"}
