"""Who is not needed to the end of a worked day: by hand."""

from dataclasses import replace

from planner.day import Day
from planner.plan.not_needed import not_needed_from, not_needed_words
from planner.plan.plan import Drive, Visit
from tests.plan.worked import pair, pair_tables


def test_both_hands_of_the_worked_day_are_needed_until_it_ends() -> None:
    """Bo is back at the van at 09:51, five minutes before it leaves: not worth saying."""
    assert not_needed_from(*pair()) == {}


def test_a_hand_who_has_nothing_more_to_do_is_free_from_then_on() -> None:
    """The van stays until 10:12 (612): Bo has nothing to do from 09:51, for 21 minutes; Ash lifts the sheets until
    09:56, and 16 minutes are not worth saying."""
    day, plan = pair()
    waits = replace(plan, visits=(Visit("elm", 1, 495, 612),), drives=(plan.drives[0], Drive("elm", "yard", 612, 627)))
    assert not_needed_from(day, waits) == {"bo": 591}
    assert not_needed_words(day, waits) == ["Bo free from 09:51."]


def test_a_hand_who_does_nothing_is_not_needed_all_day() -> None:
    tables = pair_tables()
    tables["hands"]["cam"] = {"name": "Cam"}
    day, plan = pair(tables)
    assert not_needed_words(day, plan) == ["Cam not needed all day."]


def test_of_one_with_their_own_transport_and_of_one_alone_nothing_is_said() -> None:
    tables = pair_tables()
    tables["hands"]["cam"] = {"name": "Cam", "own_transport": True}
    day, plan = pair(tables)
    assert not_needed_from(day, plan) == {}
    alone = Day.model_validate(tables | {"hands": {"ash": {}}})
    assert not_needed_from(alone, plan) == {}
