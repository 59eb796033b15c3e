"""A short run of every attack on what is read; the full one is `python -m tests.faults --all`."""

from pathlib import Path

import pytest

from planner.desktop.window import Window
from tests.faults.attacks import ATTACKS
from tests.faults.crashes import wrong_with

CASES = [
    (name, number)
    for name, one in ATTACKS.items()
    for number in range(0, one.cases, max(1, -(-one.cases // one.in_tests)))
]


@pytest.mark.parametrize(("name", "number"), CASES)
def test_a_case_is_met_well(tmp_path: Path, name: str, number: int) -> None:
    assert ATTACKS[name].met(number, tmp_path) == []


def test_a_number_in_the_place_of_what_a_stage_follows(tmp_path: Path) -> None:
    """Found by the full run."""
    assert ATTACKS["day files, spoilt"].met(1427, tmp_path) == []


def test_a_step_that_is_lost_with_its_window_is_seen(window: Window, tiny_file: Path) -> None:
    """Else the silence above would mean nothing."""
    assert window.open(tiny_file) is not None
    assert wrong_with(window, tiny_file, 0) == []
    assert wrong_with(window, tiny_file, 5) == ["step 5 was kept safe, and 0 is there", "what was marked is lost"]
