"""Rule 7 patch by patch, and sections: plans that keep it, and changes that break it. All minutes worked by hand."""

from typing import Any

import pytest

from planner.day import Day
from planner.day.sections import in_sections
from planner.plan.checker import broken_rules
from planner.plan.plan import Drive, Plan, Visit, Work
from tests.days import at_elm
from tests.plan.worked import tiny


def rules_broken(day: Day, plan: Plan) -> set[int]:
    return {broken.rule for broken in broken_rules(day, plan)}


def tiny_with(**wait: Any) -> tuple[Day, Plan]:
    """Treated 08:16 to 08:28, rinsed 09:02 to 09:17; the words of its wait laid over."""
    day, plan = tiny()
    tables = day.model_dump(by_alias=True)
    tables["jobs"]["elm"]["waits"][0].update(wait)
    return Day.model_validate(tables), plan


@pytest.mark.parametrize(
    ("order", "shortest", "longest"),
    [
        ("same", 46, 49),  # where both begin 09:02 - 08:16, where both end 09:17 - 08:28
        ("reversed", 34, 61),  # left last and reached first 09:02 - 08:28, left first and reached last 09:17 - 08:16
        ("any", 34, 61),
    ],
)
def test_every_patch_waits_within_the_bounds(order: str, shortest: int, longest: int) -> None:
    assert rules_broken(*tiny_with(order=order, least=shortest, most=longest)) == set()
    assert rules_broken(*tiny_with(order=order, least=shortest + 1, most=longest)) == {7}
    assert rules_broken(*tiny_with(order=order, least=shortest, most=longest - 1)) == {7}


def test_a_wait_without_an_order_keeps_its_meaning() -> None:
    assert rules_broken(*tiny_with(least=34, most=34)) == set()
    assert rules_broken(*tiny_with(least=35, most=45)) == {7}
    assert rules_broken(*tiny_with(least=30, most=33)) == {7}


def test_bounds_by_the_hour_hold_at_every_minute_at_which_a_patch_is_left() -> None:
    for since, broken in ((495, True), (497, True), (508, True), (509, False)):
        step = {"since": since, "least": 30, "most": 48}
        found = rules_broken(*tiny_with(order="same", least=30, most=60, by_hour=[step]))
        assert found == ({7} if broken else set()), since


def test_a_rewet_counts_for_every_patch() -> None:
    """The sweep 08:32 to 08:52 as a re-wet: patches wait 16 to 24 minutes for it, and 25 to 30 from it to the rinse."""
    wait = {"order": "same", "least": 20, "extended_by": "sweep"}
    for most, broken in ((30, False), (29, True)):
        day, plan = tiny_with(**wait, most=most)
        tables = day.model_dump(by_alias=True)
        tables["jobs"]["elm"]["stages"]["sweep"]["only_if_needed"] = True
        assert rules_broken(Day.model_validate(tables), plan) == ({7} if broken else set())


# --- sections ------------------------------------------------------------------------------------------------------


def drive_day(**wait: Any) -> Day:
    """A drive in front of the house, treated in 20 and rinsed in 30 minutes; nothing is carried."""
    wait = {"after": "treat", "before": "rinse", "kind": "dwell", "order": "same", "least": 10, "most": 28} | wait
    stages = {
        "treat": {"surface": "drive", "methods": {"by": {"minutes": 20}}, "spoiled_by": ["spray"]},
        "rinse": {"surface": "drive", "methods": {"by": {"minutes": 30}}, "makes": ["spray"]},
        "look": {"surface": "drive", "methods": {"by": {"minutes": 5}}},
    }
    job = {
        "grounds": {"front": {"way_in": {"minutes": 0}}},
        "surfaces": {"drive": {"ground": "front", "area": 20}},
        "stages": stages,
        "waits": [wait],
    }
    return in_sections(Day.model_validate(at_elm(job, start=480, finish=780, hands={"ash": {}, "bo": {}})))


def plan_of(**starts: int | tuple[int, str]) -> Plan:
    """Works at so many minutes after nine, by Ash unless another is named; ten minutes and fifteen for a section."""
    lengths = {"treat": 10, "rinse": 15, "look": 5}
    works = []
    for stage, said in starts.items():
        after, hand = said if isinstance(said, tuple) else (said, "ash")
        start = 540 + after
        works.append(Work("elm", stage, "by", (hand,), 1, start, start + lengths[stage.split("_")[0]], ()))
    home = max(work.end for work in works)
    return Plan(
        drives=(Drive("yard", "elm", 490, 500), Drive("elm", "yard", home, home + 10)),
        visits=(Visit("elm", 1, 500, home),),
        works=tuple(works),
    )


def test_both_ways_of_going_through_sections_are_allowed() -> None:
    """30 > 28, so two sections of 10 and 15 minutes. One after the other: patches wait from 10 to 15. All treated
    first: the first section waits 20 to 25 minutes, the second 25 to 30, which a most of 30 allows and 29 not."""
    day = drive_day()
    assert list(day.jobs["elm"].stages) == ["treat_1", "treat_2", "rinse_1", "rinse_2", "look"]
    assert rules_broken(day, plan_of(look=-20, treat_1=0, rinse_1=10, treat_2=25, rinse_2=35)) == set()
    all_first = plan_of(look=-20, treat_1=0, treat_2=10, rinse_1=20, rinse_2=35)
    assert rules_broken(drive_day(most=29, sections=2, least=10), all_first) == {7}
    tables = day.model_dump(by_alias=True)
    for wait in tables["jobs"]["elm"]["waits"]:
        wait["most"] = 30
    assert rules_broken(Day.model_validate(tables), all_first) == set()


def test_a_section_out_of_turn_or_too_late_is_caught() -> None:
    day = drive_day()
    assert rules_broken(day, plan_of(look=-20, treat_1=25, rinse_1=35, treat_2=0, rinse_2=10)) == {7}  # out of turn
    late = plan_of(look=-20, treat_1=0, rinse_1=24, treat_2=39, rinse_2=49)  # patches wait 24 to 29 minutes
    assert rules_broken(day, late) == {7}


@pytest.mark.parametrize(("number", "count", "lies_over"), [(3, 3, False), (2, 3, True), (3, 4, False), (2, 4, True)])
def test_a_third_that_lies_over_the_half_that_waits_is_left_alone(number: int, count: int, lies_over: bool) -> None:
    """A look at a third, or a quarter, of the drive while its first half dwells."""
    tables = drive_day(least=0).model_dump(by_alias=True)
    part = {"of": "look", "number": number, "count": count}
    tables["jobs"]["elm"]["stages"]["look"] |= {"part": part, "methods": {"by": {"minutes": 5 * count}}}
    beside = plan_of(look=(12, "bo"), treat_1=0, rinse_1=20, treat_2=35, rinse_2=45)
    assert rules_broken(Day.model_validate(tables), beside) == ({8} if lies_over else set())


def test_what_waits_is_its_own_section_and_nothing_else_is_let_onto_it() -> None:
    day = drive_day(least=0)
    beside = plan_of(look=(12, "bo"), treat_1=0, rinse_1=20, treat_2=35, rinse_2=45)
    assert rules_broken(day, beside) == {8}  # a look around on the drive while its first section dwells
    over = plan_of(look=-20, treat_1=0, treat_2=(10, "bo"), rinse_1=12, rinse_2=27)
    assert rules_broken(day, over) == {9}  # spray of the one reaches who treats the other
