"""One can for several stages, a washer set up after its hose: a plan worked out on paper, and changes that break it.

Common practice, no source: a can that is open serves whatever is treated next, and is carried in once; a washer is set
up at the end of a hose that lies there, so that it can be tried.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from planner.day import Day
from planner.day.drawn_together import taken_together
from planner.plan.checker import broken_rules
from planner.plan.containers_taken import containers_taken
from planner.plan.out_again import out_again
from planner.plan.plan import Carried, Chore, Crossing, Drive, Plan, Stay, Visit, Work
from tests.days import at_elm

Tables = dict[str, Any]
ASH = ("ash",)


def tables(wall: float = 0.1, steps: float = 0.1, **can: Any) -> Tables:
    """Wall and steps are treated from one can, in no order; then both are rinsed."""

    def treat(surface: str, used: float) -> Tables:
        way = {"minutes": 10, "uses": {"can": 1}, "expected": {"can": used}}
        return {"surface": surface, "methods": {"by": way}}

    rear = {"way_in": {"minutes": 2, "restricted": True, "load_limit": 2}, "supplies": {"tap": 1}}
    kit = {
        "hose": {"load": 0.5, "set_up": 2, "supply": ["tap"]},
        "washer": {"load": 1, "set_up": 4, "needs": ["hose"]},
    }
    job = {
        "grounds": {"rear": rear},
        "surfaces": {"wall": {"ground": "rear"}, "steps": {"ground": "rear"}},
        "stages": {
            "treat-wall": treat("wall", wall),
            "treat-steps": treat("steps", steps),
            "rinse": {"surface": "wall", "methods": {"by": {"minutes": 10, "kit": ["washer"]}}},
        },
    }
    materials = {"can": {"load": 0.5, "shared": True} | can}
    return at_elm(job, start=480, finish=900, rest="none", kit=kit, materials=materials)


CAN = Carried("can", 1, is_material=True)
CAN_OUT = Carried("can", 1, is_material=True, rest=0.8)

PLAN = Plan(
    drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", 530, 540)),
    visits=(Visit("elm", 1, 490, 530),),
    works=(
        Work("elm", "treat-steps", "by", ASH, 1, 498, 508),
        Work("elm", "treat-wall", "by", ASH, 1, 508, 518),
        Work("elm", "rinse", "by", ASH, 1, 518, 528, (("hose", 1), ("washer", 1))),
    ),
    crossings=(
        Crossing(
            "elm", 1, "rear", "ash", 490, 530,
            (Carried("hose"), Carried("washer"), CAN), (Carried("hose"), Carried("washer"), CAN_OUT),
        ),
    ),
    stays=(Stay("elm", "rear", "hose", 1, 1, 1, 492, 528), Stay("elm", "rear", "washer", 1, 1, 1, 492, 528)),
    chores=(
        Chore("set up", "elm", 1, "rear", ASH, 492, 494, "hose", 1),
        Chore("set up", "elm", 1, "rear", ASH, 494, 498, "washer", 1),
    ),
)  # fmt: skip


def said(day: Tables, change: Callable[[Plan], Plan] = lambda plan: plan) -> str:
    return "; ".join(breach.text for breach in broken_rules(Day.model_validate(day), change(PLAN)))


def test_one_can_serves_both_whichever_comes_first() -> None:
    assert said(tables()) == ""
    day = Day.model_validate(tables())
    assert containers_taken(day, PLAN, "can") == 1
    assert [(one.count, round(one.rest, 2)) for one in out_again(day, PLAN)] == [(1, 0.8)]


def test_what_is_not_shared_is_brought_by_each() -> None:
    assert "needs 2 of 'can'" in said(tables(shared=False))
    assert "needs 2 of 'can'" in said(tables(water=True))  # clean water is used up where it is poured


def test_what_all_use_together_with_a_spare_is_there() -> None:
    """0.6 + 0.6 are 1.2 cans, with 15 % to spare 1.4: two, and one is there."""
    assert "2 in all, and 1 are there" in said(tables(0.6, 0.6))


def test_it_is_there_before_the_first_that_draws_from_it() -> None:
    """The first, by the clock, has none yet: the can comes by a second crossing, before the wall."""

    def late(plan: Plan) -> Plan:
        both = (Carried("hose"), Carried("washer"))
        first = replace(plan.crossings[0], end=510, carried_in=both, carried_out=())
        second = Crossing("elm", 1, "rear", "ash", 510, 540, (CAN,), (*both, CAN_OUT))
        stays = tuple(replace(stay, carried_out=538) for stay in plan.stays)
        works = tuple(work if work.end <= 508 else replace(work, start=work.start + 6, end=work.end + 6)
                      for work in plan.works)  # fmt: skip
        return replace(
            plan,
            crossings=(first, second),
            works=works,
            stays=stays,
            visits=(Visit("elm", 1, 490, 540),),
            drives=(plan.drives[0], Drive("elm", "yard", 540, 550)),
        )

    texts = said(tables(), late)
    assert "'treat-steps' at 'elm' (08:18 to 08:28) draws from 'can'" in texts
    assert texts.count(";") == 0


def test_of_stages_that_may_all_be_left_out_each_brings_its_own() -> None:
    """Nobody knows whether there will be a first: both are re-wets that may not be needed."""
    day = tables()
    for key in ("treat-wall", "treat-steps"):
        day["jobs"]["elm"]["stages"][key]["only_if_needed"] = True
    assert "needs 2 of 'can'" in said(day)


@pytest.mark.parametrize(
    ("taken", "used", "together"),
    [
        ([1, 1, 1], 0.19, 1),  # the three treatments behind a house
        ([1, 1], 0.97, 2),  # 0.97 and 15 % are 1.12
        ([2, 1], 0.5, 2),  # no fewer than one of them takes alone
        ([1, 1], 2.5, 2),  # no more than each its own
    ],
)
def test_containers_taken_together(taken: list[int], used: float, together: int) -> None:
    assert taken_together(taken, used) == together


# --- set up in turn ---------------------------------------------------------------------------------------------------


def washer_first(plan: Plan) -> Plan:
    hose, washer = plan.chores
    return replace(plan, chores=(replace(hose, start=496, end=498), replace(washer, start=492, end=496)))


def test_a_washer_is_set_up_once_its_hose_lies_there() -> None:
    assert "'washer' is set up on 'rear' at 'elm' at 08:12, and no 'hose' stands there" in said(tables(), washer_first)
    alone = tables()
    alone["kit"]["washer"]["needs"] = []
    alone["jobs"]["elm"]["stages"]["rinse"]["methods"]["by"]["kit"] = ["hose", "washer"]
    assert said(alone, washer_first) == ""


def test_what_was_set_up_so_before_now_is_not_held_against_a_plan() -> None:
    day = Day.model_validate(tables())
    assert broken_rules(day, washer_first(PLAN), since=492) != []
    assert broken_rules(day, washer_first(PLAN), since=493) == []
