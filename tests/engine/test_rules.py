"""Every rule of the engine is needed: with it a day's plans pass the checker, without it they do not.

The days were found by `python -m tests.engine.leave_out`; the checker is the second opinion.
"""

import pytest

from tests.engine.leave_out import IMPLIED, MAKERS, left_out, refused, rules

WITNESSES: dict[str, tuple[str, int]] = {
    "route.drive_round": ("usual", 0),
    "order.keep_lag": ("usual", 0),
    "order.keep_closed": ("worked", 1),
    "order.keep_from_mixing": ("mixing", 0),
    "carrying.use_stay": ("usual", 0),
    "carrying.keep_to_visits": ("worked", 2),
    "carrying.come_and_go_in_visits": ("worked", 2),
    "carrying.carry_in_and_out": ("usual", 0),
    "carrying.stand_from_chore_to_chore": ("worked", 1),
    "carrying.share_stays": ("usual", 0),
    "carrying.keep_to_what_is_owned": ("edge", 3),
    "carrying.deliver_material": ("worked", 1),
    "carrying.take_out_again": ("worked", 1),
    "hands.work_inside_a_slot": ("worked", 1),
    "hands.work_inside_a_visit": ("worked", 1),
    "hands.cross_inside_a_visit": ("usual", 0),
    "hands.do_one_thing": ("usual", 0),
    "hands.rest_when_owed": ("worked", 2),
    "carrying.keep_load_limit": ("usual", 0),
    "carrying.lay_protection": ("worked", 1),
}

NO_DAY_YET = {
    "route.keep_promises",
    "order.keep_unspoiled",
    "order.keep_within_resource",
    "order.keep_out_of_shut_spans",
    "carrying.have_water_at_hand",
    "carrying.roll",
    "carrying.set_up_what_one_can_lift",
    "hands.honour_given_hands",
    "hands.keep_hours",
    "hands.share_shaking",
}
"""Rules for which no such day has been found so far."""


def test_every_rule_has_a_day_that_shows_what_it_is_for() -> None:
    assert {*WITNESSES, *IMPLIED, *NO_DAY_YET} == set(rules())


@pytest.mark.parametrize(("kind", "number"), sorted(set(WITNESSES.values())))
def test_with_all_rules_nothing_is_refused(kind: str, number: int) -> None:
    assert refused(MAKERS[kind](number)) == ()


@pytest.mark.parametrize("rule", WITNESSES)
def test_without_the_rule_a_plan_is_refused(rule: str) -> None:
    kind, number = WITNESSES[rule]
    day = MAKERS[kind](number)
    with left_out(*rules()[rule]):
        assert refused(day)
