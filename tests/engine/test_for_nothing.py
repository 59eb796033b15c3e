"""What is for nothing is taken out of a plan, and nothing else: plans written by hand, with what was put into them."""

from dataclasses import replace

import pytest

from planner.day import Day
from planner.engine.for_nothing import without_what_is_for_nothing
from planner.plan.checker import broken_rules
from planner.plan.measures import measure
from planner.plan.plan import Attendance, Carried, Chore, Crossing, Drive, Plan, Rest, Stay, Visit, Work
from tests.days import at_elm
from tests.engine.for_nothing_seen import done_for_nothing

MET_AT = 8 * 60
"""The van sets off at 08:00 and is at Elm ten minutes later."""


def washing(*, walk: int, **day: object) -> Day:
    """A path and a wall are washed, each for 20 minutes, by a washer that takes 5 to set up and 4 to pack down.

    Bo comes by themselves, and sweeps the drive at the front for 10, by a way of no minutes.
    """
    surfaces = {"path": {"ground": "rear"}, "wall": {"ground": "rear"}, "drive": {"ground": "front"}}
    way = {"minutes": walk, "load_limit": 2} if walk else {"minutes": 0}
    wash = {"kit": ["washer"], "minutes": 20}
    job = {
        "grounds": {"rear": {"supplies": {"tap": 1}, "way_in": way}, "front": {"way_in": {"minutes": 0}}},
        "surfaces": surfaces,
        "stages": {
            "path": {"kind": "wash", "surface": "path", "methods": {"lance": wash}},
            "wall": {"kind": "wash", "surface": "wall", "methods": {"lance": wash}},
            "drive": {"kind": "sweep", "surface": "drive", "methods": {"by-hand": {"minutes": 10}}},
        },
    }
    washer = {"load": 2, "set_up": 5, "pack_down": 4, "supply": ["tap"]}
    hands = {"ash": {"rest": None}, "bo": {"own_transport": True, "rest": None}}
    words = {"start": MET_AT, "finish": 20 * 60, "hands": hands, "kit": {"washer": washer}, **day}
    return Day.model_validate(at_elm(job, **words))


def wasteful(walk: int, pause: int = 0) -> Plan:
    """Ash packs the washer down between the two washes and sets it up again at once, Bo waits for the work at 08:50.

    Where the way is walked, Ash takes the washer out and in again.
    """
    first = MET_AT + 10 + walk  # on the ground
    path = (first + 5, first + 25)
    again = path[1] + 4 + 2 * walk + pause
    wall = (again + 5, again + 25)
    away = wall[1] + 4 + walk
    washer = (Carried("washer"),)

    def chore(what: str, start: int, end: int, stay: int) -> Chore:
        assert what in ("set up", "pack down")
        return Chore(
            "set up" if what == "set up" else "pack down", "elm", 1, "rear", ("ash",), start, end, "washer", stay
        )

    return Plan(
        drives=(Drive("yard", "elm", MET_AT, MET_AT + 10), Drive("elm", "yard", away, away + 10)),
        visits=(Visit("elm", 1, MET_AT + 10, away),),
        works=(
            Work("elm", "path", "lance", ("ash",), 1, *path, (("washer", 1),)),
            Work("elm", "wall", "lance", ("ash",), 1, *wall, (("washer", 2),)),
            Work("elm", "drive", "by-hand", ("bo",), 1, 530, 540),
        ),
        crossings=(
            Crossing("elm", 1, "rear", "ash", MET_AT + 10, path[1] + 4 + walk, washer, washer),
            Crossing("elm", 1, "rear", "ash", path[1] + 4 + walk, away, washer, washer),
        )
        if walk
        else (),
        stays=(
            Stay("elm", "rear", "washer", 1, 1, 1, first, path[1] + 4),
            Stay("elm", "rear", "washer", 2, 1, 1, again, wall[1] + 4),
        ),
        chores=(
            chore("set up", first, path[0], 1),
            chore("pack down", path[1], path[1] + 4, 1),
            chore("set up", again, wall[0], 2),
            chore("pack down", wall[1], wall[1] + 4, 2),
        ),
        attendances=(Attendance("bo", "elm", 1, MET_AT + 10, away),),
    )


@pytest.mark.parametrize("walk", [0, 3])
def test_kit_stays_where_it_is_used_again_and_who_comes_alone_comes_for_work(walk: int) -> None:
    day, plan = washing(walk=walk), wasteful(walk)
    assert broken_rules(day, plan) == []
    spared = without_what_is_for_nothing(day, plan)
    assert broken_rules(day, spared) == []
    [stay] = spared.stays
    assert (stay.carried_in, stay.carried_out) == (plan.stays[0].carried_in, plan.stays[1].carried_out)
    assert [chore.what for chore in spared.chores] == ["set up", "pack down"]
    assert {work.stays for work in spared.works} == {(("washer", 1),), ()}
    assert [(a.arrive, a.leave) for a in spared.attendances] == [(530, 540)]
    assert [len(c.carried_in) + len(c.carried_out) for c in spared.crossings] == ([2] if walk else [])
    assert measure(day, spared).value <= measure(day, plan).value
    assert without_what_is_for_nothing(day, spared) is spared
    assert done_for_nothing(day, spared) == []


@pytest.mark.parametrize("walk", [0, 3])
def test_who_comes_by_themselves_does_not_come_early_to_stand_about(walk: int) -> None:
    """Bo brings the washer and sets it up by 08:15 or 08:18 and sweeps at 08:50; Ash washes from 08:50 on."""
    day = washing(walk=walk, hands={"ash": {"rest": None}, "bo": {"own_transport": True, "rest": None}})
    begins, washer = MET_AT + 10, (Carried("washer"),)
    up, away = begins + walk, 574 + walk
    plan = Plan(
        drives=(Drive("yard", "elm", MET_AT, begins), Drive("elm", "yard", away, away + 10)),
        visits=(Visit("elm", 1, begins, away),),
        works=(
            Work("elm", "path", "lance", ("ash",), 1, 530, 550, (("washer", 1),)),
            Work("elm", "wall", "lance", ("ash",), 1, 550, 570, (("washer", 1),)),
            Work("elm", "drive", "by-hand", ("bo",), 1, 530, 540),
        ),
        crossings=(
            Crossing("elm", 1, "rear", "bo", begins, up + 5 + walk, washer),
            Crossing("elm", 1, "rear", "ash", 530 - walk, away, (), washer),
        )
        if walk
        else (),
        stays=(Stay("elm", "rear", "washer", 1, 1, 1, up, 574),),
        chores=(
            Chore("set up", "elm", 1, "rear", ("bo",), up, up + 5, "washer", 1),
            Chore("pack down", "elm", 1, "rear", ("ash",), 570, 574, "washer", 1),
        ),
        attendances=(Attendance("bo", "elm", 1, begins, 540),),
    )
    assert broken_rules(day, plan) == []
    spared = without_what_is_for_nothing(day, plan)
    assert broken_rules(day, spared) == []
    assert spared.works == plan.works
    assert [(a.arrive, a.leave) for a in spared.attendances] == [(530 - 5 - 2 * walk, 540)]
    assert measure(day, spared).value <= measure(day, plan).value


def test_nobody_walks_out_with_nothing_only_to_walk_in_again_with_nothing() -> None:
    """Between the two washes Ash goes to the van and comes back, and the washer stands; what is carried is a trip."""
    day, plan = washing(walk=3), without_what_is_for_nothing(washing(walk=3), wasteful(3))
    [whole] = plan.crossings
    path, wall = sorted((w for w in plan.works if w.hands == ("ash",)), key=lambda w: w.start)
    out_and_in = (replace(whole, end=path.end + 3, carried_out=()), replace(whole, start=wall.start - 3, carried_in=()))
    walks = replace(plan, crossings=out_and_in)
    assert broken_rules(day, walks) == []
    assert any("ash walks out" in seen for seen in done_for_nothing(day, walks))
    assert without_what_is_for_nothing(day, walks).crossings == (whole,)


def test_what_is_looked_for_by_hand_is_seen() -> None:
    seen = " ".join(done_for_nothing(washing(walk=0), wasteful(0)))
    assert all(word in seen for word in ("bo comes", "bo goes", "washer goes"))


def test_a_break_before_all_work_goes_where_the_shorter_day_owes_none_and_not_where_it_does() -> None:
    plan = replace(wasteful(0), rests=(Rest("bo", 500, 510),))
    day = washing(walk=0)
    assert broken_rules(day, plan) == []
    assert without_what_is_for_nothing(day, plan).rests == ()
    owed = {"length": 10, "once_over": 5, "soonest": 0}  # who is there for ten minutes is owed one, begun within five
    plan = replace(
        plan, rests=(Rest("bo", 525, 535),), works=(*plan.works[:2], replace(plan.works[2], start=535, end=545))
    )
    owing = washing(walk=0, hands={"ash": {"rest": None}, "bo": {"own_transport": True, "rest": owed}})
    plan = replace(plan, attendances=(replace(plan.attendances[0], arrive=521),))
    assert broken_rules(owing, plan) == []
    spared = without_what_is_for_nothing(owing, plan)
    assert [(a.arrive, a.leave) for a in spared.attendances] == [(525, 545)]
    assert spared.rests == plan.rests


def test_kit_that_is_wanted_elsewhere_meanwhile_goes() -> None:
    """Bo has the only washer at the front for the nine minutes between."""
    plan, day = wasteful(0, pause=9), washing(walk=0)
    there, away = plan.stays[0].carried_out, plan.stays[1].carried_in
    front = {"job": "elm", "visit": 1, "ground": "front", "hands": ("bo",), "kit": "washer", "stay": 1}
    chores = (
        Chore("set up", start=there, end=there + 5, **front),
        Chore("pack down", start=away - 4, end=away, **front),
    )
    elsewhere = Stay("elm", "front", "washer", 1, 1, 1, there, away)
    plan = replace(plan, stays=(*plan.stays, elsewhere), chores=(*plan.chores, *chores))
    assert broken_rules(day, plan) == []
    assert without_what_is_for_nothing(day, plan).stays == plan.stays
    day.kit["washer"] = day.kit["washer"].model_copy(update={"own": 2})
    assert len(without_what_is_for_nothing(day, plan).stays) == 2


def test_the_van_sets_off_for_the_first_thing_that_is_done_unless_a_window_would_have_less_room() -> None:
    plan = wasteful(0)
    day = washing(walk=0, start=7 * 60)
    early = replace(
        plan,
        drives=(Drive("yard", "elm", 430, 440), plan.drives[1]),
        visits=(replace(plan.visits[0], arrive=440),),
    )
    assert broken_rules(day, early) == []
    assert without_what_is_for_nothing(day, early).leaves == MET_AT
    job = day.jobs["elm"].model_copy(update={"arrive": (430, 500)})
    window = day.model_copy(update={"jobs": {"elm": job}})
    assert broken_rules(window, early) == []
    assert without_what_is_for_nothing(window, early).leaves == early.leaves


def test_on_a_day_under_way_what_has_begun_stays() -> None:
    day = washing(walk=0)
    plan = replace(wasteful(0), since=wasteful(0).chores[1].start + 1)
    spared = without_what_is_for_nothing(day, plan)
    assert len(spared.stays) == 2
    assert [(a.arrive, a.leave) for a in spared.attendances] == [(MET_AT + 10, 540)]
