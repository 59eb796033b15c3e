"""Joint filler, containers and discs, against geometry counted by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.filler import containers, disc_passes, filler_mass, joint_run, joint_volume

sizes = st.floats(50, 2000)


def test_joint_run_of_600_by_300_slabs() -> None:
    # (0.6 + 0.3) / (0.6 * 0.3) = 5.0 m/m2: geometry, the form of the tile-grout trade's consumption formula.
    assert joint_run(600, 300) == pytest.approx(5.0)


def test_filler_of_600_by_300_slabs() -> None:
    # 5.0 m/m2 * 0.015 m * 0.025 m = 1.875 L/m2; at 1600 kg/m3 3.0 kg/m2 before waste (geometry).
    volume = joint_volume(joint_run(600, 300), width_mm=15, depth_mm=25)
    assert volume == pytest.approx(1.875)
    assert filler_mass(volume, density_kg_m3=1600, waste=0) == pytest.approx(3.0)


def test_filler_for_a_patio() -> None:
    # 32 m2 * 3.0 kg/m2 = 96 kg; half the joints gone: 48 kg; a tenth wasted: 52.8 kg.
    volume = joint_volume(32 * joint_run(600, 300), width_mm=15, depth_mm=25)
    assert filler_mass(volume, density_kg_m3=1600, waste=0) == pytest.approx(96)
    assert filler_mass(volume, density_kg_m3=1600, empty=0.5, waste=0.1) == pytest.approx(52.8)


@given(sizes, sizes, st.integers(2, 12), st.integers(2, 12))
def test_joint_run_agrees_with_counting_a_laid_area(length: float, width: float, across: int, down: int) -> None:
    # Lay across x down slabs edge to edge: each slab owns one long and one short side.
    metres = sum((length + width) / 1000 for _ in range(across) for _ in range(down))
    area = across * length * down * width / 1e6
    assert joint_run(length, width) == pytest.approx(metres / area)


@given(sizes, sizes, st.floats(1, 30), st.floats(5, 60))
def test_filler_is_never_less_than_the_exact_gap(length: float, width: float, joint: float, depth: float) -> None:
    whole = (length + joint) * (width + joint)
    exact_share = (whole - length * width) / whole
    counted = joint_volume(joint_run(length, width), width_mm=joint, depth_mm=depth)
    assert counted >= exact_share * depth * (1 - 1e-9)


def test_three_tubs_taken_and_two_and_a_quarter_used() -> None:
    # Ordinary for deep wide joints: common practice, no source.
    load = containers(45, 20)
    assert load.used == pytest.approx(2.25)
    assert load.taken == 3


def test_a_tenth_is_wasted_and_all_is_empty_unless_said() -> None:
    # 1000 L at 1000 kg/m3 is 1000 kg, a tenth more with waste.
    assert filler_mass(1000, density_kg_m3=1000) == pytest.approx(1100)
    assert filler_mass(0, density_kg_m3=1000) == 0
    assert joint_volume(0, width_mm=10, depth_mm=25) == 0


def test_containers_round_up_with_a_spare() -> None:
    assert containers(0, 20).taken == 0
    assert containers(60, 20, spare=0).taken == 3
    assert containers(58, 20).taken == 4  # 2.9 tubs and 15 % in hand is 3.3
    assert containers(0.1 + 0.2, 0.1, spare=0).taken == 3  # 0.30000000000000004 must not buy a fourth


@given(st.floats(0, 1e4), st.floats(0.1, 100), st.floats(0, 1))
def test_what_is_taken_covers_what_is_used(needed: float, each: float, spare: float) -> None:
    load = containers(needed, each, spare=spare)
    assert load.taken >= min(load.used * (1 + spare), load.used + 1) - 1e-6
    assert load.taken < load.used + 2, "no more than one that may come out again as it went in"
    assert load.taken < load.used * (1 + spare) + 1


def test_disc_passes() -> None:
    # Side by side: a 6 mm disc clears 6, 12, then 15 mm in its third pass.
    assert [disc_passes(j, 6) for j in (6, 7, 12, 15)] == [1, 2, 2, 3]
    with pytest.raises(ValueError, match="does not go into a 4 mm joint"):
        disc_passes(4, 6)


@pytest.mark.parametrize(
    "make",
    [
        lambda: joint_volume(-1, width_mm=15, depth_mm=25),
        lambda: joint_volume(1, width_mm=15, depth_mm=math.inf),
        lambda: joint_run(600, 0),
        lambda: joint_run(0, 300),
        lambda: filler_mass(1, density_kg_m3=0),
        lambda: disc_passes(6, 0),
        lambda: filler_mass(-1, density_kg_m3=1600),
        lambda: filler_mass(1, density_kg_m3=1600, empty=1.5),
        lambda: containers(10, 0),
        lambda: containers(10, 1, spare=-1),
    ],
)
def test_what_makes_no_sense_is_refused(make: object) -> None:
    with pytest.raises(
        ValueError, match=r"hold nothing|does not go|no size|cannot be weighed|is a share|cannot be loaded"
    ):
        make()  # type: ignore[operator]
