"""The record of a day: what of a plan has happened by it, and the record as JSON.

The worked day (`tests.plan.worked.tiny`) in minutes: drive 480-490, in 490-492, sprayer set up 492-496, treat 496-508,
packed 508-512, sweep 512-532, out 532-534, in 534-536, washer set up 536-542, rinse 542-557, packed 557-562, home 574.
"""

import json
from dataclasses import replace

import pytest

from planner.plan.another_day import left_for_another_day
from planner.plan.past import NOT_YET, Past, past_of
from planner.plan.progress import More, Noted, Progress, ProgressError
from planner.plan.progress_file import progress_from_json, progress_to_json
from planner.plan.went import day_as_it_went
from tests.plan import worked

FULL = Progress(
    700,
    (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", None, 532), Noted("elm", "rinse", 560)),
    dropped=(("oak", "clear"),),
    arrived={"elm": 490},
    gone={"bo": 650},
    rain=660,
    settled=600,
)


def past(progress: Progress) -> Past:
    """The past of the worked day."""
    return past_of(*worked.tiny(), progress)


def spans(it: Past) -> dict[str, tuple[int, int]]:
    """From when to when each stage ran."""
    return {w.stage: (w.start, w.end) for w in it.plan.works}


def test_what_must_have_been_before_what_is_told_is_no_longer_than_there_was_time() -> None:
    """The rinse is told as done at 510, before the sweep was even to begin (512)."""
    now = past(Progress(510, (Noted("elm", "rinse", None, 510),)))
    assert all(start <= end <= 510 for start, end in spans(now).values())


# --- by the clock --------------------------------------------------------------------------------------------------


def test_where_nothing_is_noted_the_plan_says_what_has_happened() -> None:
    now = past(Progress(520))
    assert spans(now) == {"treat": (496, 508), "sweep": (512, NOT_YET)}
    assert now.assumed == (("elm", "treat"),)
    assert [(s.kit, s.carried_in, s.carried_out) for s in now.plan.stays] == [
        ("sprayer", 492, NOT_YET),
        ("broom", 492, NOT_YET),
    ]
    assert [c.what for c in now.plan.chores] == ["set up", "pack down"]
    assert [(c.start, c.end, c.carried_out) for c in now.plan.crossings] == [(490, NOT_YET, ())]


def test_before_the_van_leaves_nothing_has_happened() -> None:
    assert past(Progress(480)).plan.drives == ()
    assert [(d.start, d.end) for d in past(Progress(481)).plan.drives] == [(480, 490)]


# --- by the notes --------------------------------------------------------------------------------------------------


def test_what_comes_after_a_note_that_gainsays_the_plan_has_not_happened() -> None:
    now = past(Progress(560, (Noted("elm", "treat", 496, 510),)))
    assert spans(now) == {"treat": (496, 510)}
    assert now.assumed == ()


def test_who_says_that_it_went_as_planned_is_asked_about_the_rest() -> None:
    now = past(Progress(560, (Noted("elm", "treat", 496, 508),)))
    assert spans(now) == {"treat": (496, 508), "sweep": (512, 532), "rinse": (542, 557)}
    assert now.assumed == (("elm", "sweep"), ("elm", "rinse"))


def test_what_came_before_a_note_happened_though_nobody_said_so() -> None:
    now = past(Progress(560, (Noted("elm", "sweep", end=540),)))
    assert spans(now) == {"treat": (496, 508), "sweep": (512, 540)}  # begun as planned, it took longer
    assert now.assumed == (("elm", "treat"),)


def test_done_early_brings_forward_what_came_before() -> None:
    """Begun at 490 they say, so set up from 486, in from 484, and so long the van had been there."""
    now = past(Progress(505, (Noted("elm", "treat", 490, 500),)))
    assert spans(now) == {"treat": (490, 500)}
    assert [(c.start, c.end) for c in now.plan.chores] == [(486, 490)]
    assert now.plan.crossings[0].start == 484
    assert (now.plan.drives[0].start, now.plan.drives[0].end) == (474, 484)


def test_a_stage_that_is_only_begun_is_under_way() -> None:
    assert spans(past(Progress(530, (Noted("elm", "treat", 499),)))) == {"treat": (499, NOT_YET)}
    assert spans(past(Progress(530, (Noted("elm", "treat"),)))) == {"treat": (496, NOT_YET)}


def test_a_stage_begun_is_over_where_a_later_one_is_done() -> None:
    now = past(Progress(560, (Noted("elm", "treat", 496), Noted("elm", "sweep", 515, 540))))
    assert spans(now)["sweep"] == (515, 540)
    assert spans(now)["treat"][1] <= 515 - 4  # the sprayer was packed in four minutes between


def test_what_has_the_kit_of_a_later_one_is_over_where_that_has_begun() -> None:
    """One kit serves one stage at a time: the sweep by another hand with the washer began, and then the rinse."""
    day, plan = worked.tiny()
    washer = next(w.stays for w in plan.works if w.stage == "rinse")
    works = tuple(replace(w, hands=("bo",), stays=washer) if w.stage == "sweep" else w for w in plan.works)
    told = (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512), Noted("elm", "rinse", 542))
    now = past_of(day, replace(plan, works=works), Progress(550, told))
    assert now.assumed == (("elm", "sweep"),)
    assert spans(now)["sweep"][1] <= spans(now)["rinse"][0]


def test_an_arrival_moves_what_follows_by_the_clock() -> None:
    now = past(Progress(520, arrived={"elm": 510}))
    assert now.plan.visits[0].arrive == 510
    assert spans(now) == {"treat": (516, NOT_YET)}
    assert past(Progress(495, arrived={"elm": 510})).plan.works == ()


def test_of_two_visits_the_nearer_is_meant_by_an_arrival() -> None:
    day, plan = worked.round_trip()
    late = past_of(day, plan, Progress(650, (Noted("oak", "clear", 560, 622),), arrived={"elm": 640}))
    assert [(v.number, v.arrive) for v in late.plan.visits if v.job == "elm"] == [(1, 490), (2, 640)]


def test_a_hand_who_has_gone_leaves_their_stage_undone() -> None:
    day, plan = worked.pair()
    now = past_of(day, plan, Progress(515, gone={"bo": 505}))
    assert not now.is_begun("elm", "hose-down")  # planned for Bo from 501 to 513
    assert now.is_begun("elm", "acid")


def test_two_hands_walk_together_with_what_takes_two() -> None:
    """Ash is late with the bleach, so Bo, of whom nothing is noted, has not walked in with half a compactor."""
    day, plan = worked.pair()
    now = past_of(day, plan, Progress(545, (Noted("elm", "rinse", 518, 530), Noted("elm", "bleach", 536))))
    assert all(s.kit != "compactor" for s in now.plan.stays)
    assert all(c.hand != "bo" for c in now.plan.crossings)


def test_a_plan_made_anew_is_the_record_up_to_then() -> None:
    now = past(Progress(540, settled=533))
    assert spans(now) == {"treat": (496, 508), "sweep": (512, 532)}
    assert now.assumed == ()


# --- the day as it went --------------------------------------------------------------------------------------------


def test_the_day_as_it_went_takes_the_minutes_it_took() -> None:
    day, plan = worked.tiny()
    went, _ = day_as_it_went(day, plan, Progress(560, (Noted("elm", "treat", 500, 530),)))
    assert went.jobs["elm"].likely_minutes("treat", "spray") == 30
    assert went.jobs["elm"].likely_minutes("rinse", "lance") == 15


def test_a_stage_under_way_for_longer_than_planned_takes_at_least_until_now() -> None:
    day, plan = worked.tiny()
    went, _ = day_as_it_went(day, plan, Progress(540, (Noted("elm", "treat", 496),)))
    assert went.jobs["elm"].likely_minutes("treat", "spray") == 540 - 496


def test_what_followed_a_stage_given_up_follows_what_that_followed() -> None:
    tables = worked.pair_tables()
    day, plan = worked.pair(tables)
    went, _ = day_as_it_went(day, plan, Progress(500, dropped=(("elm", "rinse"),)))
    assert "rinse" not in went.jobs["elm"].stages
    assert went.jobs["elm"].stages["bleach"].after == ("acid",)


def test_rain_is_in_the_forecast_from_the_minute_it_was_said() -> None:
    day, plan = worked.tiny()
    went, _ = day_as_it_went(day, plan, Progress(500, rain=555))
    assert [h.minute for h in went.weather][:2] == [555, 615]
    assert all(h.rain_chance == 1.0 for h in went.weather)


def test_a_hand_who_came_before_their_hours_was_there() -> None:
    """Cy comes from 09:15 (555), and was told to clear gutters since 09:10: the past makes no rest impossible."""
    day, plan = worked.round_trip()
    late = day.hands["cy"].model_copy(update={"hours": (555, 900)})
    day = day.model_copy(update={"hands": day.hands | {"cy": late}})
    went, now = day_as_it_went(day, plan, Progress(600, (Noted("oak", "clear", 550, 600),)))
    assert [a.arrive for a in now.plan.attendances if a.hand == "cy"] == [550]
    assert went.hours_of("cy") == (550, 900)


# --- what does not go with the day ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("progress", "words"),
    [
        (Progress(560, (Noted("elm", "paint"),)), "no stage 'elm.paint'"),
        (Progress(500, (Noted("elm", "treat", 496, 508),)), "ended at 08:28: it is 08:20 now"),
        (Progress(560, (Noted("elm", "treat", 520, 508),)), "cannot end before it begins"),
        (Progress(560, (Noted("elm", "treat", None, 0),)), "before 06:00: the day starts at 08:00"),
        (Progress(560, arrived={"oak": 500}), "no job 'oak'"),
        (Progress(560, gone={"bo": 500}), "no hand 'bo'"),
        (Progress(560, dropped=(("elm", "paint"),)), "no stage 'elm.paint'"),
        (Progress(560, settled=570), "made anew at 09:30"),
    ],
)
def test_a_record_that_does_not_go_with_the_day_is_told(progress: Progress, words: str) -> None:
    with pytest.raises(ProgressError, match=words):
        day_as_it_went(*worked.tiny(), progress)


# --- as JSON -------------------------------------------------------------------------------------------------------


def test_a_record_comes_back_from_json_as_it_was() -> None:
    assert progress_from_json(progress_to_json(FULL, "a plan\n"), "a plan") == FULL
    bare = Progress(0)
    assert progress_from_json(progress_to_json(bare, ""), "") == bare


def test_a_record_of_another_plan_is_none() -> None:
    assert progress_from_json(progress_to_json(FULL, "a plan"), "another") is None


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"format": 4}, "format is 4; this program reads 1 to 3"),
        ({"at": "noon"}, "at is 'noon'; it should be a minute of the day"),
        ({"at": True}, "at is True"),
        ({"at": -1}, "at is -1"),
        ({"noted": {}}, "noted should be a list"),
        ({"noted": [{"job": "elm"}]}, r"noted\[0\] should name a job and a stage"),
        ({"noted": [{"job": "elm", "stage": "treat", "start": 1.5}]}, r"noted\[0\].start is 1.5"),
        ({"noted": ["treat"]}, r"noted\[0\] should be a table"),
        ({"dropped": [["elm"]]}, r"dropped\[0\] should name a job and a stage"),
        ({"arrived": []}, "arrived should be a table of minutes"),
        ({"gone": {"ash": "08:00"}}, "gone.ash is '08:00'"),
        ({"rain": 9999}, "rain is 9999"),
    ],
)
def test_a_record_at_fault_names_the_place(change: dict[str, object], words: str) -> None:
    tables = json.loads(progress_to_json(FULL, "")) | change
    with pytest.raises(ProgressError, match=words):
        progress_from_json(json.dumps(tables), "")


@pytest.mark.parametrize("text", ["", "{", "[]", "null", "[" * 100_000])
def test_what_is_no_record_is_told(text: str) -> None:
    with pytest.raises(ProgressError, match="not"):
        progress_from_json(text, "")


def test_the_later_word_holds() -> None:
    first = Progress(
        500,
        (Noted("elm", "treat", 496),),
        dropped=(("elm", "sweep"),),
        arrived={"elm": 470},
        gone={"bo": 450},
        rain=600,
    )
    both = first.with_later(Progress(520, (Noted("elm", "treat", end=510),), rain=560))
    assert both == replace(first, at=520, noted=(Noted("elm", "treat", 496, 510),), rain=560, settled=500)


def test_more_of_a_stage_that_is_left_is_done_with_it_on_another_day() -> None:
    """As two stages the one would spoil what the other waits for, and the day would be without a plan."""
    day, plan = worked.tiny()
    left = left_for_another_day(day, replace(plan, works=()), Progress(plan.leaves, more=(More("elm", "rinse", 20),)))
    assert left is not None
    assert set(left.jobs["elm"].stages) == set(day.jobs["elm"].stages)
    (before,) = day.jobs["elm"].stages["rinse"].methods
    likely = day.jobs["elm"].likely_minutes("rinse", before)
    assert left.jobs["elm"].likely_minutes("rinse", before) == likely + 20
    assert {w.before for w in left.jobs["elm"].waits} == {w.before for w in day.jobs["elm"].waits}
