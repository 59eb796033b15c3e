"""What must hold of every plan of every day, on random days with most of what a day can say."""

from collections.abc import Callable

import pytest

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.engine import first_plan, plan_day
from planner.plan.checker import broken_rules
from planner.plan.measures import measure
from tests.engine.edge_days import edge
from tests.engine.for_nothing_seen import done_for_nothing
from tests.engine.random_days import small, tiny


@pytest.mark.parametrize("make", [tiny, small, edge])
def test_random_days_are_sound_and_the_same_for_a_seed(make: Callable[[int], Day]) -> None:
    for seed in (*range(40), *range(100, 124), *range(625, 650), *range(2000, 2008), *range(2200, 2211)):
        assert faults_in(make(seed)) == [], seed
        assert make(seed) == make(seed)


@pytest.mark.parametrize("seed", [*range(1, 7), 100, 101, 102, 105])
def test_every_plan_given_out_holds(seed: int) -> None:
    day = small(seed)
    given = []
    first = first_plan(day)
    result = plan_day(day, seconds=0.7, on_better=given.append)
    for plan in [p for p in (first, *given, result.plan) if p is not None]:
        assert broken_rules(day, plan) == []
    if result.plan is not None and result.plan.proof is not None:
        proof, found = result.plan.proof, measure(day, result.plan)
        assert (proof.value, proof.overrun) == (found.value, found.overrun)
        assert done_for_nothing(day, result.plan) == []
        assert proof.bound <= proof.value
        if first is not None:
            before = measure(day, first)
            assert (found.overrun, found.value) <= (before.overrun, before.value)
    if result.conflict:
        assert result.plan is None
