"""A short run of every attack on what is read; the full one is `python -m tests.faults --all`."""

from pathlib import Path

import pytest

from tests.faults.attacks import ATTACKS

CASES = [(name, number) for name, one in ATTACKS.items() for number in range(0, one.cases, max(1, one.cases // 6))]


@pytest.mark.parametrize(("name", "number"), CASES)
def test_a_case_is_met_well(tmp_path: Path, name: str, number: int) -> None:
    assert ATTACKS[name].met(number, tmp_path) == []


def test_a_number_in_the_place_of_what_a_stage_follows(tmp_path: Path) -> None:
    """Found by the full run."""
    assert ATTACKS["day files, spoilt"].met(1427, tmp_path) == []
