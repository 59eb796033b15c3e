"""Kit that is packed down lies on its ground until it is set up there again: nobody carries it out and in for that.

A sprayer is rinsed out between two chemicals, sheets are taken up for what they lie on: both behind a house, and both
are used there again. Sums are done by hand.
"""

from dataclasses import replace
from typing import Any

import pytest

from planner.day import Day
from planner.engine import plan_day
from planner.engine.for_nothing import without_what_is_for_nothing
from planner.plan.checker import broken_rules
from planner.plan.loading import loads
from planner.plan.measures import measure
from planner.plan.plan import Carried, Chore, Crossing, Drive, Plan, Stay, Visit, Work
from planner.plan.progress import Noted, Progress
from tests.days import at_elm
from tests.engine.bruteforce import best_value
from tests.engine.test_under_way_rules import rest

Tables = dict[str, Any]

THROUGH_THE_HOUSE: Tables = {"minutes": 3, "restricted": True, "load_limit": 2}


def spraying(*, way: Tables = THROUGH_THE_HOUSE, own: int = 1, **job: Any) -> Day:
    """Two surfaces that do not drain onto each other, sprayed for 20 minutes each with what must not be in one sprayer.

    The sprayer takes 4 to set up, 2 to pack down and 3 to rinse out; the crossing costs 6, the drive takes 10.
    """
    stages = {
        key: {"kind": "treat", "surface": key, "chemical": chemical, "methods": {"so": {"minutes": 20, "kit": ["can"]}}}
        for key, chemical in (("wall", "hypochlorite"), ("path", "quaternary"))
    }
    site = {"grounds": {"rear": {"way_in": way}}, "surfaces": {key: {"ground": "rear"} for key in stages}}
    can = {"load": 1, "set_up": 4, "pack_down": 2, "rinse_out": 3, "own": own}
    tables = at_elm({**site, "stages": stages, **job}, start=480, finish=1000, rest="none", kit={"can": can})
    return Day.model_validate(tables | {"crossing_price": 6})


def by_hand(*, carried: bool) -> Plan:
    """Ash sprays the wall from 08:17 to 08:37 and rinses out until 08:42; then comes the path, or a way out and in."""
    walk, can = (6 if carried else 0), (Carried("can"),)
    again = 522 + walk
    path = (again + 4, again + 24)
    away = path[1] + 5 + 3
    first, last = (Crossing("elm", 1, "rear", "ash", *span, can, can) for span in ((490, 525), (525, away)))
    return Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", away, away + 10)),
        visits=(Visit("elm", 1, 490, away),),
        works=(
            Work("elm", "wall", "so", ("ash",), 1, 497, 517, (("can", 1),)),
            Work("elm", "path", "so", ("ash",), 1, *path, (("can", 2),)),
        ),
        crossings=(first, last) if carried else (Crossing("elm", 1, "rear", "ash", 490, away, can, can),),
        stays=(
            Stay("elm", "rear", "can", 1, 1, 1, 493, 522),
            Stay("elm", "rear", "can", 2, 1, 1, again, path[1] + 5, None if carried else 1),
        ),
        chores=(
            Chore("set up", "elm", 1, "rear", ("ash",), 493, 497, "can", 1),
            Chore("pack down", "elm", 1, "rear", ("ash",), 517, 522, "can", 1),
            Chore("set up", "elm", 1, "rear", ("ash",), again, again + 4, "can", 2),
            Chore("pack down", "elm", 1, "rear", ("ash",), path[1], path[1] + 5, "can", 2),
        ),
    )


def test_a_sprayer_lies_rinsed_out_until_it_is_filled_again() -> None:
    """10 + 3 + 2 x (4 + 20 + 5) + 3 + 10 = 84 minutes and one crossing for 6: 90; out and in again it would be 102."""
    day = spraying()
    result = plan_day(day, seconds=5)
    assert result.refused == ()
    assert result.plan is not None
    assert result.plan.proof is not None
    assert result.plan.proof.is_best
    assert measure(day, result.plan).value == 90 == best_value(day).value
    assert len(result.plan.crossings) == 1
    assert [stay.follows for stay in result.plan.stays] == [None, 1]


def test_plans_by_hand_keep_the_rules_whether_it_lies_or_is_carried() -> None:
    for carried in (True, False):
        assert broken_rules(spraying(), by_hand(carried=carried)) == []
    assert broken_rules(spraying(own=2), by_hand(carried=False)) == []


@pytest.mark.parametrize(
    ("first", "second", "words"),
    [
        ({}, {"follows": 2}, "does not"),
        ({}, {"follows": 7}, "does not"),
        ({"carried_out": 523}, {}, "not when it is set up again"),
        ({}, {"follows": None}, "are carried, and 1 stays say so"),
        ({"follows": 2}, {}, "not when it is set up again"),
    ],
)
def test_what_does_not_lie_there_is_not_set_up(first: Tables, second: Tables, words: str) -> None:
    plan = by_hand(carried=False)
    one, two = plan.stays
    changed = replace(plan, stays=(replace(one, **first), replace(two, **second)))
    found = broken_rules(spraying(), changed)
    assert {breach.rule for breach in found} <= {4, 5}
    assert words in "; ".join(breach.text for breach in found)


def test_two_are_not_set_up_from_where_one_lies() -> None:
    plan = by_hand(carried=False)
    third = replace(plan.stays[1], number=3)
    twice = replace(plan, stays=(*plan.stays, third))
    assert any("set up twice" in breach.text for breach in broken_rules(spraying(own=3), twice))


def test_by_an_open_way_chores_carry_and_nothing_lies() -> None:
    day = spraying(way={"minutes": 0})
    plan = by_hand(carried=False)
    assert any("does not" in breach.text for breach in broken_rules(day, replace(plan, crossings=())))
    result = plan_day(day, seconds=5)
    assert result.plan is not None
    assert [stay.follows for stay in result.plan.stays] == [None, None]


def test_what_is_carried_out_and_in_again_for_nothing_lies() -> None:
    """Twelve dearer by hand: the crossing between goes, and with it its price; the walk out and in with nothing too."""
    day, plan = spraying(), by_hand(carried=True)
    spared = without_what_is_for_nothing(day, plan)
    assert broken_rules(day, spared) == []
    assert [stay.follows for stay in spared.stays] == [None, 1]
    assert [(len(c.carried_in), len(c.carried_out)) for c in spared.crossings] == [(1, 1)]
    assert without_what_is_for_nothing(day, spared) is spared


def test_one_is_loaded_for_what_lies_there() -> None:
    day, plan = spraying(), by_hand(carried=False)
    assert [load.count for load in loads(day, plan) if load.key == "can"] == [1]


def sheeting() -> Day:
    """Sheets lie on the path for scraping above, are taken up, the path is worked, and they are laid again there."""
    so = {"minutes": 10, "kit": ["sheets"]}
    stages = {
        "cover": {
            "kind": "cover", "surface": "wall", "lies_on": ["path"], "stays_for": ["scrape"], "methods": {"so": so},
        },
        "scrape": {"kind": "scrape", "surface": "wall", "after": ["cover"], "methods": {"so": {"minutes": 20}}},
        "work": {"kind": "lay", "surface": "path", "after": ["scrape"], "methods": {"so": {"minutes": 30}}},
        "again": {
            "kind": "cover", "surface": "wall", "lies_on": ["path"], "stays_for": ["paint"], "after": ["work"],
            "methods": {"so": so},
        },
        "paint": {"kind": "paint", "surface": "wall", "after": ["again"], "methods": {"so": {"minutes": 20}}},
    }  # fmt: skip
    job = {
        "grounds": {"rear": {"way_in": THROUGH_THE_HOUSE}},
        "surfaces": {"wall": {"ground": "rear", "stood_on": False}, "path": {"ground": "rear"}},
        "stages": stages,
    }
    return Day.model_validate(
        at_elm(job, start=480, finish=1000, rest="none", kit={"sheets": {"load": 1, "pack_down": 5}})
    )


def test_sheets_that_were_taken_up_lie_there_until_they_are_laid_again() -> None:
    """All in one crossing: 10 + 3 + (10 + 20 + 5) + 30 + (10 + 20 + 5) + 3 + 10 = 126 minutes."""
    day = sheeting()
    result = plan_day(day, seconds=5)
    assert result.plan is not None
    assert result.plan.home - result.plan.leaves == 126
    assert len(result.plan.crossings) == 1
    assert [stay.follows for stay in result.plan.stays] == [None, 1]


@pytest.mark.parametrize("at", [518, 524, 527])
def test_on_the_day_what_lies_packed_down_is_set_up_again(at: int) -> None:
    """Told while it is rinsed out, as it lies there, and as it is set up again: nobody fetches it in the rest."""
    day, plan = spraying(), by_hand(carried=False)
    plan = replace(
        plan,
        works=(plan.works[0], replace(plan.works[1], start=529, end=549)),
        chores=(
            *plan.chores[:2],
            replace(plan.chores[2], start=525, end=529),
            replace(plan.chores[3], start=549, end=554),
        ),
        stays=(replace(plan.stays[0], carried_out=525), replace(plan.stays[1], carried_in=525, carried_out=554)),
        crossings=(replace(plan.crossings[0], end=557),),
        visits=(replace(plan.visits[0], depart=557),),
        drives=(plan.drives[0], Drive("elm", "yard", 557, 567)),
    )
    assert broken_rules(day, plan) == []
    result, new = rest(day, plan, Progress(at, (Noted("elm", "wall", 497, 517),), settled=at, said=at))
    assert result.refused == ()
    assert len(new.crossings) == 1
    assert [stay.follows for stay in new.stays] == [None, 1]
    assert new.home <= 567


def test_stays_that_are_joined_keep_the_leg_that_brought_the_kit() -> None:
    """A broom needs no setting up: it lies for no minutes from when it comes, and the stay that sweeps follows that."""
    stages = {"sweep": {"kind": "sweep", "surface": "path", "methods": {"so": {"minutes": 20, "kit": ["broom"]}}}}
    site = {"grounds": {"rear": {"way_in": THROUGH_THE_HOUSE}}, "surfaces": {"path": {"ground": "rear"}}}
    tables = at_elm({**site, "stages": stages}, start=480, finish=1000, rest="none", kit={"broom": {"load": 1}})
    day, broom = Day.model_validate(tables), (Carried("broom"),)
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", 516, 526)),
        visits=(Visit("elm", 1, 490, 516),),
        works=(Work("elm", "sweep", "so", ("ash",), 1, 493, 513, (("broom", 2),)),),
        crossings=(Crossing("elm", 1, "rear", "ash", 490, 516, broom, broom),),
        stays=(
            Stay("elm", "rear", "broom", 1, 1, 1, 493, 493),
            Stay("elm", "rear", "broom", 2, 1, 1, 493, 513, follows=1),
        ),
    )
    assert broken_rules(day, plan) == []
    spared = without_what_is_for_nothing(day, plan)
    assert spared.crossings == plan.crossings
    assert [(stay.carried_in, stay.carried_out, stay.follows) for stay in spared.stays] == [(493, 513, None)]


def test_what_may_stay_lies_there_while_the_van_is_away() -> None:
    """Two bags for the path take up the ways in; the sprayer, rinsed out at 522, is set up again when the van is back.

    10 + 35 at Elm, 5 to Oak, 120 there, 5 back; the path no sooner than 150 after the wall, at 667: gone at 695, home
    at 705. That is 225 minutes, and two crossings for 6 each.
    """
    day = spraying(visits=2)
    tables = day.model_dump(by_alias=True, exclude_none=True)
    elm = tables["jobs"]["elm"]
    elm["waits"] = [{"after": "wall", "before": "path", "kind": "order", "least": 150}]
    elm["stages"]["path"]["methods"]["so"]["uses"] = {"bag": 2}
    tables["materials"] = {"bag": {"load": 1}}
    tables["kit"]["can"]["may_stay"] = True
    tables["places"]["oak"] = {}
    tables["travel"]["trips"] = [
        {"from": "yard", "to": "elm", "minutes": 10},
        {"from": "elm", "to": "oak", "minutes": 5},
        {"from": "oak", "to": "yard", "minutes": 10},
    ]
    sweep = {"surface": "drive", "methods": {"so": {"minutes": 120}}}
    tables["jobs"]["oak"] = {
        "place": "oak", "grounds": {"front": {}}, "stages": {"sweep": sweep},
        "surfaces": {"drive": {"ground": "front"}},
    }  # fmt: skip
    day = Day.model_validate(tables)
    result = plan_day(day, seconds=20)
    assert result.refused == ()
    assert result.plan is not None
    assert measure(day, result.plan).value == 237
    first, second = result.plan.stays
    assert second.follows == first.number
    assert (first.visit_in, second.visit_out) == (1, 2)
    assert first.visit_out == second.visit_in
    assert len(result.plan.crossings) == 2
    tables["kit"]["can"]["tags"] = ["ladder"]  # were it a ladder, it would go along
    result = plan_day(Day.model_validate(tables), seconds=20)
    assert result.refused == ()
    assert result.plan is not None
    assert all(stay.visit_in == stay.visit_out for stay in result.plan.stays)
