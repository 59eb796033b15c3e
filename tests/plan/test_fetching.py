"""Kit that was forgotten is fetched: the van is away, one hand drives, and nothing comes out of it meanwhile.

The worked day (`tests.plan.worked.tiny`), in minutes of the day: the van at Elm from 490 to 564, the first crossing 490
to 534, the second, with the washer, 534 to 564. To the yard it is 10 minutes, and 5 to find what was forgotten.
"""

from dataclasses import replace

import pytest

from planner.plan.checker import broken_rules
from planner.plan.fetching import fetch_of, with_fetch
from planner.plan.plan import Fetch, Plan
from planner.plan.progress import NOTHING_TOLD, Noted, Progress, ProgressError, Sent
from planner.plan.progress_file import progress_from_tables, progress_to_tables
from tests.days import tiny_day
from tests.plan import worked

AWAY = Fetch("bo", "sprayer", "elm", "yard", 500, 510, 515, 525)
"""Bo drives while Ash is on the ground behind the house, where nothing is carried in or out."""


def with_bo(fetch: Fetch, **changes: object) -> tuple[list[int], Plan]:
    """The rules that the worked plan breaks with a second hand who drives."""
    day, plan = worked.tiny()
    bo = day.hands["ash"].model_copy(update={"name": "Bo"})
    day = day.model_copy(update={"hands": day.hands | {"bo": bo}})
    plan = replace(plan, fetches=(replace(fetch, **changes),))  # type: ignore[arg-type]
    return [broken.rule for broken in broken_rules(day, plan)], plan


def test_a_hand_may_drive_off_while_the_other_works_with_what_is_there() -> None:
    assert with_bo(AWAY)[0] == []


@pytest.mark.parametrize(
    ("changes", "rules"),
    [
        ({"there": 509}, [12]),
        ({"back": 524}, [12]),
        ({"there": 511, "away": 510, "back": 520}, [12, 12]),
        ({"place": "elm"}, [12, 12, 12]),
        ({"leaves": 480, "there": 490, "away": 495, "back": 505}, [12, 12, 2]),
        ({"leaves": 515, "there": 525, "away": 530, "back": 540}, [12, 12, 12, 12]),
        ({"hand": "ash"}, [2, 2, 2]),
    ],
    ids=["too fast there", "too fast back", "back too soon", "elsewhere", "not there yet", "carried", "at work"],
)
def test_a_fetch_that_cannot_be_is_seen(changes: dict[str, object], rules: list[int]) -> None:
    found = with_bo(AWAY, **changes)[0]
    assert set(found) == set(rules)


def test_what_is_fetched_is_not_used_before() -> None:
    day, plan = worked.tiny()
    bo = day.hands["ash"].model_copy(update={"name": "Bo"})
    day = day.model_copy(update={"hands": day.hands | {"bo": bo}})
    early = replace(plan, fetches=(replace(AWAY, leaves=491, there=501, away=506, back=516),))
    assert {broken.rule for broken in broken_rules(day, early)} == {12}


def test_the_drive_takes_what_the_day_says_and_the_record_keeps_it() -> None:
    day, plan = worked.tiny()
    told = with_fetch(day, plan, Progress(500, said=500), "broom", "ash")
    assert told.fetches == (Sent("ash", "broom", "elm", 500, 525),)
    assert fetch_of(day, told.fetches[0]) == Fetch("ash", "broom", "elm", "yard", 500, 510, 515, 525)
    assert (told.lacking, told.back) == ({"broom": 525}, {"ash": 525})
    assert progress_from_tables(progress_to_tables(told)) == told


def test_told_late_it_is_from_when_they_left_and_told_again_the_later_word_holds() -> None:
    day, plan = worked.tiny()
    told = with_fetch(day, plan, Progress(520, said=520), "broom", "ash", 500)
    again = with_fetch(day, plan, told, "broom", "ash", 505)
    assert [fetch.leaves for fetch in told.fetches] == [500]
    assert [fetch.leaves for fetch in again.fetches] == [505]
    assert again.back == {"ash": 530}


def test_by_ones_own_transport_the_van_stays() -> None:
    day, plan = worked.tiny()
    ash = day.hands["ash"].model_copy(update={"own_transport": True})
    told = with_fetch(day.model_copy(update={"hands": {"ash": ash}}), plan, Progress(500, said=500), "broom", "ash")
    assert told.fetches == ()
    assert told.back == {"ash": 525}


@pytest.mark.parametrize(("at", "leaves"), [(480, None), (500, 510)])
def test_where_the_van_does_not_stand_at_a_job_there_is_nothing_to_fetch(at: int, leaves: int | None) -> None:
    day, plan = worked.tiny()
    with pytest.raises(ProgressError, match=r"does not stand at a job|still to come"):
        with_fetch(day, plan, Progress(at, said=at), "broom", "ash", leaves)


def test_a_record_is_its_own_without_a_fetch() -> None:
    assert NOTHING_TOLD.stops_at("ash") is None
    day, plan = worked.tiny()
    noted = Progress(500, (Noted("elm", "treat", 496),), said=500)
    told = with_fetch(day, plan, noted, "broom", "ash")
    assert told.stops_at("ash") == 500
    assert told.since(501).stops_at("ash") is None or told.since(501).settled == 0
    assert tiny_day().hands.keys() == {"ash"}
