"""The first look: plans of few crossings, and of many with containers alone, found in models that stay small."""

import threading

from planner.day import Day
from planner.engine import few_crossings, plan_day
from planner.engine.dominance import most_crossings
from planner.engine.outset import FreshDay
from planner.engine.ranking import Budget
from planner.engine.search import Search
from planner.engine.solving import Solution, Solving
from planner.plan.checker import broken_rules
from planner.plan.measures import measure
from planner.plan.plan import Plan

TABLES = {
    "date": "2026-06-16",
    "start": 480,
    "finish": 1080,
    "rest": "none",
    "van": {"starts_at": "yard", "ends_at": "yard"},
    "hands": {"ash": {}, "rowan": {}},
    "places": {"yard": {}, "elm": {}},
    "travel": {"trips": [{"from": "yard", "to": "elm", "minutes": 10}]},
    "kit": {"tamper": {"load": 0.5}},
    "materials": {"bed": {"load": 1.0}, "rubble": {"load": 1.0}},
}
"""Two hands ten minutes from a rear ground two minutes through the house, one armful at a time."""


def bagged_day(bags: int, *, restricted: bool = True) -> Day:
    """A bed is laid from so many bags, none of which goes with another; which come out again empty."""
    ground = {"way_in": {"minutes": 2, "restricted": restricted, "through": "the house", "load_limit": 1.0}}
    bed = {"surface": "path", "methods": {"hand": {"minutes": 30, "uses": {"bed": bags}, "kit": ["tamper"]}}}
    job = {
        "place": "elm",
        "grounds": {"rear": ground},
        "surfaces": {"path": {"ground": "rear"}},
        "stages": {"lay": bed},
    }
    return Day.model_validate(TABLES | {"jobs": {"elm": job}})


def looked(day: Day) -> tuple[int | None, list[Plan]]:
    """The minutes that every plan takes as the look knows, if it was worth it, and its plans as the program reads them.
    """
    outset, plans = FreshDay(day), list[Plan]()

    def found(solution: Solution) -> None:
        plans.append(outset.read(solution))

    solving = Solving(outset.problem, Budget(seconds=60, workers=2), on_better=found, stop=threading.Event())
    return few_crossings.look_in_few_crossings(solving), plans


def test_bags_go_in_by_shuttles_each_a_crossing_of_its_own() -> None:
    # By hand: ten bags and a tamper, a bag an armful and one armful a leg: eleven legs in. Of two hands one goes six
    # times, and is in for the last at 490 + 5 * 4 + 2 = 512. Bags fold to a quarter: after 542 the tamper goes out with
    # two of them, and the other eight by two more legs. Two hands are out with the first at 544, and one of them goes
    # in and out once more until 548: home at 558, after 78 minutes, by 12 crossings.
    day = bagged_day(10)
    least, plans = looked(day)
    assert least is not None
    assert 0 < least <= 78
    assert plans
    for plan in plans:
        assert broken_rules(day, plan) == []
    best = min(plans, key=lambda plan: measure(day, plan).value)
    assert best.home - day.start == 78
    assert len(best.crossings) == 12
    carried = [carried for crossing in best.crossings for carried in crossing.carried_in if carried.is_material]
    assert sum(one.count for one in carried) == 10


def test_by_a_long_way_that_nobody_counts_any_plan_of_shuttles_is_found() -> None:
    # As many crossings as are of use make a model in which none is found for long, and where no order of one thing
    # after another is known there would be no plan.
    outset, plans, slots = FreshDay(day := bagged_day(30, restricted=False)), list[Plan](), list[int]()
    stop = threading.Event()

    def found(solution: Solution) -> None:
        plans.append(outset.read(solution))
        slots.append(len(solution.variables.slots))
        stop.set()

    Search(outset.problem, Budget(seconds=600, workers=2), on_better=found, stop=stop).run()
    assert plans
    assert broken_rules(day, plans[0]) == []
    assert slots[0] < most_crossings(outset.problem, 0)


def test_no_plan_has_more_restricted_crossings_than_are_allowed() -> None:
    # Five bags and a tamper, one armful a leg, are six legs in through the house; a long way beside it lets any plan be
    # looked for first, which is not one of more crossings either.
    tables = bagged_day(5).model_dump(mode="json", by_alias=True, exclude_defaults=True)
    elm = tables["jobs"]["elm"]
    elm["grounds"]["side"] = {"way_in": {"minutes": 2}}
    elm["surfaces"]["drive"] = {"ground": "side"}
    elm["stages"]["look"] = {"surface": "drive", "methods": {"eye": {"minutes": 5}}}
    outset, counts = FreshDay(day := Day.model_validate(tables)), list[int]()

    def found(solution: Solution) -> None:
        counts.append(measure(day, outset.read(solution)).restricted_crossings)

    Search(outset.problem, Budget(seconds=60, workers=2), on_better=found, most_crossings=6).run()
    assert counts
    assert max(counts) <= 6


def test_a_day_of_few_bags_is_not_worth_a_look() -> None:
    worth, plans = looked(bagged_day(2))
    assert worth is None
    assert plans == []


def test_a_day_of_many_bags_that_cannot_be_is_said_to_be_impossible() -> None:
    """Nine bags and a tamper are ten legs, five for each hand: four trips of 4 minutes and 2 in, then 30 to lay.
    From 08:10 that is 08:58 at the soonest."""
    day = bagged_day(9)
    day = day.model_copy(update={"jobs": {"elm": day.jobs["elm"].model_copy(update={"done_by": 8 * 60 + 50})}})
    result = plan_day(day, seconds=60)
    assert result.plan is None
    assert result.is_impossible
    assert result.conflict
