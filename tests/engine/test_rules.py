"""Every rule of the engine is needed: with it a day's plans pass the checker, without it they do not.

The days were found by `python -m tests.engine.leave_out`; the checker is the second opinion.
"""

import pytest

from tests.engine.leave_out import IMPLIED, MAKERS, left_out, refused, rules

WITNESSES: dict[str, tuple[str, int]] = {
}


def test_every_rule_has_a_day_that_shows_what_it_is_for() -> None:
    assert {*WITNESSES, *IMPLIED} == set(rules())


@pytest.mark.parametrize(("kind", "number"), sorted(set(WITNESSES.values())))
def test_with_all_rules_nothing_is_refused(kind: str, number: int) -> None:
    assert refused(MAKERS[kind](number)) == ()


@pytest.mark.parametrize("rule", WITNESSES)
def test_without_the_rule_a_plan_is_refused(rule: str) -> None:
    kind, number = WITNESSES[rule]
    day = MAKERS[kind](number)
    with left_out(*rules()[rule]):
        assert refused(day)
