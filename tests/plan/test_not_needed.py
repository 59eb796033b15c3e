"""Who is not needed to the end of a worked day: by hand."""

from dataclasses import replace

from planner.day import Day
from planner.plan.not_needed import idle_for_long, not_needed_from, not_needed_words
from planner.plan.plan import Attendance, Crossing, Drive, Plan, Visit
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


def test_of_one_with_their_own_transport_it_is_said_that_they_need_not_come_or_only_carry() -> None:
    """Cam is there from 09:00 to 09:12 (540 to 552) to carry in what lay on the front; then there is no word of Cam."""
    tables = pair_tables()
    tables["hands"]["cam"] = {"name": "Cam", "own_transport": True}
    day, plan = pair(tables)
    assert not_needed_words(day, plan) == ["Cam not needed all day."]
    carries = replace(
        plan,
        attendances=(Attendance("cam", "elm", 1, 540, 552),),
        crossings=(*plan.crossings, Crossing("elm", 1, "rear", "cam", 540, 552)),
    )
    said = "Cam comes to Elm Cottage for 12 min only to carry, set up and pack down."
    assert not_needed_words(day, carries) == [said]
    works = replace(carries, works=(replace(plan.works[0], hands=("cam",)), *plan.works[1:]))
    assert not_needed_words(day, works) == []


def test_an_hour_and_more_with_nothing_to_do_is_told() -> None:
    """Bo is back at 09:30 (570), and seals from 10:43 (643), in by 10:40; an hour less a minute is not told."""
    day, plan = pair()
    *crossings, last = plan.crossings
    *works, seal = plan.works

    def later(minutes: int) -> Plan:
        return replace(
            plan,
            drives=(plan.drives[0], Drive("elm", "yard", 700, 715)),
            visits=(Visit("elm", 1, 495, 700),),
            crossings=(*crossings, replace(last, start=last.start + minutes, end=last.end + minutes)),
            works=(*works, replace(seal, start=seal.start + minutes, end=seal.end + minutes)),
        )

    assert idle_for_long(day, later(59), "bo") == []
    assert idle_for_long(day, later(70), "bo") == [(570, 640)]
    assert "Bo has nothing to do from 09:30 to 10:40 (1 h 10 min)." in not_needed_words(day, later(70))
    assert idle_for_long(day, replace(later(70), since=600), "bo") == [], "what is past is not told"


def test_of_one_alone_nothing_is_said() -> None:
    _, plan = pair()
    tables = pair_tables()
    alone = Day.model_validate(tables | {"hands": {"ash": {}}})
    assert not_needed_from(alone, plan) == {}
