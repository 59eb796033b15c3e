"""Who did a stage in place of those of the plan: the record, the past of it, and what is asked where it cannot be."""

from dataclasses import replace

import pytest

from planner.day import Day, Hand
from planner.engine import plan_rest
from planner.plan.checker import broken_rules
from planner.plan.doubts import asked_of
from planner.plan.past import NOT_YET
from planner.plan.plan import Plan
from planner.plan.progress import Noted, Progress, ProgressError
from planner.plan.progress_file import progress_from_tables, progress_to_tables
from planner.plan.went import day_as_it_went
from tests.pasts import faults_of_past
from tests.plan import worked


def two_hands() -> tuple[Day, Plan]:
    """Ash does all of it by the plan; Rowan rides along."""
    day, plan = worked.tiny()
    return day.model_copy(update={"hands": {**day.hands, "rowan": Hand(name="Rowan")}}), plan


SWEPT_BY_ROWAN = Progress(545, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512, 532, hands=("rowan",))))


def test_who_did_a_stage_is_in_the_past_and_walked_in_for_it() -> None:
    day, plan = two_hands()
    went, past = day_as_it_went(day, plan, SWEPT_BY_ROWAN)
    swept = past.plan.work("elm", "sweep")
    assert swept is not None
    assert (swept.hands, swept.start, swept.end) == (("rowan",), 512, 532)
    walks = [c for c in past.plan.crossings if c.hand == "rowan"]
    assert any(c.start < 512 and c.end > 532 for c in walks)
    treated = past.plan.work("elm", "treat")
    assert treated is not None
    assert treated.hands == ("ash",)
    assert faults_of_past(went, past.plan, SWEPT_BY_ROWAN) == []


def test_the_rest_is_planned_from_there_and_every_reader_has_who_did_it() -> None:
    day, plan = two_hands()
    rest = plan_rest(day, plan, SWEPT_BY_ROWAN, seconds=2, workers=1)
    assert rest.plan is not None
    assert rest.day is not None
    assert rest.progress is not None
    assert rest.refused == ()
    assert not broken_rules(rest.day, rest.plan, since=545)
    assert next(w.hands for w in rest.plan.works if w.stage == "sweep") == ("rowan",)
    later = rest.progress.with_later(Progress(rest.plan.home + 5))
    _, past = day_as_it_went(day, rest.plan, later)
    assert next(w.hands for w in past.plan.works if w.stage == "sweep") == ("rowan",)


def test_under_way_by_another_it_goes_on_by_them() -> None:
    """Rowan sweeps since 512; Ash, who treated, is free to do something else."""
    day, plan = two_hands()
    told = Progress(515, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512, hands=("rowan",))))
    _, past = day_as_it_went(day, plan, told)
    swept = past.plan.work("elm", "sweep")
    assert swept is not None
    assert (swept.hands, swept.end) == (("rowan",), NOT_YET)
    rest = plan_rest(day, plan, told, seconds=2, workers=1)
    assert rest.plan is not None
    assert rest.refused == ()
    assert next(w.hands for w in rest.plan.works if w.stage == "sweep") == ("rowan",)


def test_what_one_who_had_gone_home_was_to_do_another_did_with_all_that_goes_with_it() -> None:
    """Ash went home at 509 and treated until 508; Rowan swept and carried in what for."""
    day, plan = two_hands()
    told = replace(SWEPT_BY_ROWAN, gone={"ash": 510})
    _, past = day_as_it_went(day, plan, told)
    late = [x for x in (*past.plan.works, *past.plan.chores) if "ash" in x.hands and x.start >= 510]
    assert late == []
    assert all(c.hand == "rowan" for c in past.plan.crossings if c.start >= 510)


def test_that_another_did_it_is_offered_where_its_hand_had_gone_home() -> None:
    day, plan = two_hands()
    told = Progress(545, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512, 532)), gone={"ash": 510})
    asked = asked_of(day, plan, told)
    reply = next(r for doubt in asked for r in doubt.replies if r.words == "Rowan did it")
    after = reply.on(told)
    note = after.of_stage("elm", "sweep")
    assert note == Noted("elm", "sweep", 512, 532, hands=("rowan",))
    assert all("went home" not in doubt.words for doubt in asked_of(day, plan, after))


def test_who_did_it_stays_as_told_until_another_did() -> None:
    said = Progress(520).with_note(Noted("elm", "sweep", 512, hands=("rowan",)))
    assert said.with_note(Noted("elm", "sweep", 512, 520)).noted[0].hands == ("rowan",)
    assert said.with_later(Progress(530, (Noted("elm", "sweep", None, 530),))).noted[0].hands == ("rowan",)
    assert said.with_note(Noted("elm", "sweep", 512, hands=("ash",))).noted[0].hands == ("ash",)
    assert said.taken_back("elm", "sweep").noted == ()


def test_the_record_is_read_back_and_older_ones_read_on() -> None:
    tables = progress_to_tables(SWEPT_BY_ROWAN)
    assert progress_from_tables(tables) == SWEPT_BY_ROWAN
    older = tables | {"format": 2, "noted": [{k: v for k, v in n.items() if k != "hands"} for n in tables["noted"]]}
    assert [n.hands for n in progress_from_tables(older).noted] == [(), ()]
    for wrong in ("rowan", [3], {"rowan": 1}):
        broken = tables | {"noted": [tables["noted"][0] | {"hands": wrong}]}
        with pytest.raises(ProgressError, match=r"noted\[0\].hands should be a list of hands"):
            progress_from_tables(broken)


def test_who_is_not_of_the_day_is_a_fault_of_the_record() -> None:
    day, plan = two_hands()
    told = Progress(545, (Noted("elm", "sweep", 512, 532, hands=("robin",)),))
    with pytest.raises(ProgressError, match="no hand 'robin'"):
        day_as_it_went(day, plan, told)


def test_said_of_the_hand_who_was_to_do_it_nothing_is_otherwise() -> None:
    day, plan = two_hands()
    told = Progress(545, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512, 532)))
    same = replace(told, noted=tuple(replace(n, hands=("ash",)) for n in told.noted))
    assert day_as_it_went(day, plan, told)[1] == day_as_it_went(day, plan, same)[1]


def test_who_was_behind_a_way_in_by_the_plan_is_in_no_two_crossings() -> None:
    """Rowan was to be in there from 500 to 520 by the plan; told is that they swept from 512 to 532."""
    day, plan = two_hands()
    walk = replace(plan.crossings[0], hand="rowan", start=500, end=520, carried_in=(), carried_out=())
    plan = replace(plan, crossings=(*plan.crossings, walk))
    _, past = day_as_it_went(day, plan, SWEPT_BY_ROWAN)
    swept = past.plan.work("elm", "sweep")
    assert swept is not None
    assert (swept.hands, swept.start, swept.end) == (("rowan",), 512, 532)
    assert len([c for c in past.plan.crossings if c.hand == "rowan"]) <= 1
    assert plan_rest(day, plan, SWEPT_BY_ROWAN, seconds=2, workers=1).plan is not None
