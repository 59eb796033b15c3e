"""The usual values of a visit: read from one table, each the user's own where they gave one."""

from collections.abc import Callable
from pathlib import Path

from planner.trade import units
from planner.trade.visits import usual_coming_and_going, usual_meal, usual_rinsing, usual_room_to_begin

Write = Callable[[str], Path]


def test_the_shipped_values_are_minutes_and_times_of_the_middle_of_the_day() -> None:
    """Ten minutes each way is common practice, no source; a meal in the middle of the day speaks for itself."""
    for said in usual_coming_and_going().values():
        assert 0 < units.minutes(said) <= 30
    meal = usual_meal()
    assert units.minutes(meal["length"]) >= 20
    assert 11 * 60 <= units.clock(meal["earliest"]) < units.clock(meal["latest"]) <= 14 * 60
    assert 1 <= usual_rinsing() <= 10
    assert 1 <= usual_room_to_begin() <= 15


def test_the_users_own_value_is_taken_and_may_be_nothing(own_values: Write) -> None:
    own_values('[visits.arriving]\nminutes = "0 min"\n')
    assert usual_coming_and_going()["arriving"] == "0 min"
    own_values('[visits]\nroom_to_begin = { minutes = "0 min" }\nrinsing_out = { minutes = "90 s" }\n')
    assert (usual_room_to_begin(), usual_rinsing()) == (0, 2)


def test_what_is_no_time_is_left_aside(own_values: Write) -> None:
    usual = usual_coming_and_going()
    own_values('[visits.arriving]\nminutes = "soon"\n')
    assert usual_coming_and_going() == usual
    own_values("[visits\n")
    assert usual_coming_and_going() == usual
