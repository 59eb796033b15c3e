"""The usual values of a visit: read from one table, each the user's own where they gave one."""

from collections.abc import Callable
from pathlib import Path

from planner.trade import units
from planner.trade.visits import usual_coming_and_going, usual_meal

Write = Callable[[str], Path]


def test_the_shipped_values_are_minutes_and_times_of_the_middle_of_the_day() -> None:
    """Ten minutes each way is common practice, no source; a meal in the middle of the day speaks for itself."""
    for said in usual_coming_and_going().values():
        assert 0 < units.minutes(said) <= 30
    meal = usual_meal()
    assert units.minutes(meal["length"]) >= 20
    assert 11 * 60 <= units.clock(meal["earliest"]) < units.clock(meal["latest"]) <= 14 * 60


def test_the_users_own_value_is_taken_and_may_be_nothing(own_values: Write) -> None:
    own_values('[visits.arriving]\nminutes = "0 min"\n')
    assert usual_coming_and_going()["arriving"] == "0 min"


def test_what_is_no_time_is_left_aside(own_values: Write) -> None:
    usual = usual_coming_and_going()
    own_values('[visits.arriving]\nminutes = "soon"\n')
    assert usual_coming_and_going() == usual
    own_values("[visits\n")
    assert usual_coming_and_going() == usual
