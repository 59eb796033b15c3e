"""Invented instances are what they claim: networks without redundant arcs, resources and lags by their measures.

The checks work the measures out anew from the instance, as their papers define them (Kolisch, Sprecher and Drexl,
Management Science 41:1693, 1995).
"""

import random
from itertools import product
from pathlib import Path

import psplib
import pytest

from tests.benchmarks import invent
from tests.benchmarks.instance_files import instances, read

SEEDS = range(6)


def ways(arcs: set[tuple[int, int]], i: int, j: int) -> int:
    """How many ways lead from i to j."""
    return 1 if i == j else sum(ways(arcs, head, j) for tail, head in arcs if tail == i)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("complexity", invent.COMPLEXITY)
def test_a_network_is_as_complex_as_asked_and_no_arc_is_redundant(seed: int, complexity: float) -> None:
    arcs = invent.network(random.Random(seed), 30, complexity)
    assert all(i < j for i, j in arcs), "no cycle"
    for n in range(1, 31):
        assert ways(arcs, 0, n) > 0
        assert ways(arcs, n, 31) > 0
    for arc in arcs:
        assert ways(arcs - {arc}, *arc) == 0, "nothing else leads from its tail to its head"
    assert len(arcs) == pytest.approx(complexity * 32, abs=2)


@pytest.mark.parametrize(("factor", "strength"), product(invent.FACTOR, (0.0, 1.0)))
def test_resources_have_their_factor_and_strength(factor: float, strength: float) -> None:
    made = invent.project(random.Random(3), 20, 1.5, factor, strength, lags=False)
    demands = made.demands[1:-1]
    assert sum(q > 0 for need in demands for q in need) / (20 * invent.RESOURCES) == pytest.approx(factor, abs=0.01)
    starts = [0] * 22
    for _ in starts:
        for i, j, lag in made.arcs:
            starts[j] = max(starts[j], starts[i] + lag)
    for r, capacity in enumerate(made.capacities):
        peak = max(
            sum(need[r] for s, m, need in zip(starts, made.minutes, made.demands, strict=True) if s <= t < s + m)
            for t in range(max(starts) + 1)
        )
        assert capacity == (peak if strength else max(need[r] for need in demands))


@pytest.mark.parametrize("seed", SEEDS)
def test_lags_alone_never_contradict_each_other(seed: int) -> None:
    made = invent.project(random.Random(seed), 20, 1.8, 0.5, 0.25, lags=True)
    assert any(lag < 0 for _, _, lag in made.arcs)
    far = invent.longest_ways(20, made.arcs)
    assert all(far[n][n] == 0 for n in range(22)), "no cycle is positive"


def test_files_read_back_as_they_were_made_and_are_the_same_for_a_seed(tmp_path: Path) -> None:
    """Read by a package that knows nothing of us."""
    invent.write(tmp_path / "one", 2, 12, seed=5)
    invent.write(tmp_path / "two", 2, 12, seed=5)
    names = sorted(path.name for path in (tmp_path / "one").iterdir())
    assert len(names) == 4
    for name in names:
        assert (tmp_path / "one" / name).read_text() == (tmp_path / "two" / name).read_text()
    made = invent.project(random.Random(9), 12, 1.8, 0.5, 0.25, lags=True)
    (tmp_path / "made.sch").write_text(invent.as_sch(made))
    read = psplib.parse(tmp_path / "made.sch", instance_format="rcpsp_max")
    found = {
        (i, j, n) for i, a in enumerate(read.activities) for j, n in zip(a.successors, a.delays or [], strict=True)
    }
    assert found == set(made.arcs)
    assert [a.modes[0].demands for a in read.activities] == made.demands
    made = invent.project(random.Random(9), 12, 1.8, 0.5, 0.5, lags=False)
    (tmp_path / "made.sm").write_text(invent.as_sm(made, "made"))
    read = psplib.parse(tmp_path / "made.sm", instance_format="psplib")
    assert {(i, j) for i, a in enumerate(read.activities) for j in a.successors} == {(i, j) for i, j, _ in made.arcs}
    assert [a.modes[0].duration for a in read.activities] == made.minutes
    assert [r.capacity for r in read.resources] == made.capacities


def test_names_in_capitals_are_read_too(tmp_path: Path) -> None:
    """The sets with maximum lags are published as PSP1.SCH and so on (from memory)."""
    made = invent.project(random.Random(9), 12, 1.8, 0.5, 0.25, lags=True)
    (tmp_path / "PSP1.SCH").write_text(invent.as_sch(made))
    (tmp_path / "README.TXT").write_text("a list")
    assert [path.name for path in instances(tmp_path)] == ["PSP1.SCH"]
    assert len(read(tmp_path / "PSP1.SCH").activities) == 14  # the twelve, a source and a sink
