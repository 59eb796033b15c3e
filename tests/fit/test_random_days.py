"""What must hold of every plan's network, chain and plays, and of every changed day, on random days."""

import datetime as dt
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

import pytest

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.day.file import read_day
from planner.engine import first_plan, plan_day
from planner.fit.chain import chain
from planner.fit.least_work import least_work
from planner.fit.linking import network_of
from planner.fit.remedy_days import remedies_of
from planner.fit.risk import play_out
from planner.fit.stops import blocks_of, stops
from planner.fit.two_days import first_day, second_day
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan
from tests.engine.random_days import small, tiny
from tests.fit.retiming import retimed

SAMPLES = Path(__file__).parent.parent.parent / "sample_days"


def days(seeds: range) -> Iterator[tuple[int, Day]]:
    for seed in seeds:
        yield seed, (small if seed % 2 else tiny)(seed)


def holds(day: Day, plan: Plan) -> None:
    network = network_of(day, plan)
    soonest = network.soonest()
    for number, duty in enumerate(network.duties):
        assert soonest.starts[number] <= duty.start, duty.words
        for link in duty.links:
            before = network.duties[link.before]
            assert link.before < number
            assert link.ready(before.start, before.end, duty.minutes) <= duty.start, (duty.words, link.why)
    if not plan.attendances:
        # The network forgets no reason to wait: with every duty as soon as it allows, the plan still passes.
        assert broken_rules(day, retimed(day, plan)) == []
    found = chain(day, plan)
    assert found.slack >= 0
    assert found.steps[0].start == plan.leaves
    assert sum(found.minutes().values()) == found.home - plan.leaves
    assert day.start + least_work(day).minutes <= plan.home
    assert 0 <= play_out(day, plan, plays=20).late <= 1


def test_serial_plans_of_random_days() -> None:
    plans = [(day, first_plan(day)) for _, day in days(range(18))]
    held = [holds(day, plan) for day, plan in plans if plan is not None]
    assert len(held) > 9


@pytest.mark.parametrize("seed", [9, 16])
def test_planned_random_days(seed: int) -> None:
    (_, day), *_ = days(range(seed, seed + 1))
    plan = plan_day(day, seconds=1).plan
    if plan is not None:
        holds(day, plan)


@pytest.mark.parametrize("name", ["wash_and_return", "rear_patio"])
def test_plans_on_the_way_to_the_best_can_be_drawn_together(name: str) -> None:
    """Plans found on the way hold gaps that the best one does not; closing them breaks no rule."""
    day = read_day(SAMPLES / f"{name}.toml")
    found: list[Plan] = []
    plan_day(day, seconds=1, on_better=found.append)
    for plan in found:
        holds(day, plan)


def test_every_remedy_of_a_random_day_is_a_sound_day() -> None:
    count = 0
    for seed, day in days(range(5)):
        plan = first_plan(day)
        if plan is not None:
            for remedy in remedies_of(day, plan):
                assert [f for f in faults_in(remedy.day) if f not in faults_in(day)] == [], (seed, remedy.words)
                count += 1
    assert count > 15


def test_both_days_of_every_split_are_sound() -> None:
    count = 0
    for seed, day in days(range(10)):
        for left in islice(stops(blocks_of(day, 900)), 3):
            one = first_day(day, left)
            assert [f for f in faults_in(one) if f not in faults_in(day)] == [], (seed, left)
            plan = first_plan(one)
            if plan is not None:
                two, _ = second_day(day, left, plan, day.date + dt.timedelta(days=1))
                assert [f for f in faults_in(two) if f not in faults_in(day)] == [], (seed, left)
                assert {(j, s) for j, s, _ in one.stages()} | {(j, s) for j, s, _ in two.stages()} == {
                    (j, s) for j, s, _ in day.stages()
                }
                count += 1
    assert count > 6
