"""Proven means proven: days that need more trips, stays or visits than come to mind, each with a plan made by hand.

The plan made by hand passes the checker, so its value can be reached; the docstring says why nothing is below it.
"""

from typing import Any

import pytest

from planner.day import Day
from planner.engine import plan_day
from planner.plan.checker import broken_rules
from planner.plan.measures import measure
from planner.plan.plan import Carried, Chore, Crossing, Drive, Plan, Stay, Visit, Work
from tests.days import at_elm, tiny_day
from tests.plan.worked import tiny

pytestmark = pytest.mark.usefixtures("untidied")

Tables = dict[str, Any]
ASH = ("ash",)
BAG = (Carried("bags", is_material=True),)


def proven(day: Day, witness: Plan, value: int, overrun: int = 0) -> None:
    """The plan made by hand holds and has this value, and the engine proves the same."""
    assert broken_rules(day, witness) == []
    measured = measure(day, witness)
    assert (measured.value, measured.overrun) == (value, overrun)
    result = plan_day(day, seconds=60)
    assert result.refused == ()
    assert result.plan is not None
    proof = result.plan.proof
    assert proof is not None
    assert (proof.value, proof.bound) == (value, value)
    assert (proof.overrun, proof.overrun_bound) == (overrun, overrun)


def day_of(grounds: Tables, stages: Tables, **job: Any) -> Tables:
    """One hand, one job ten minutes from the yard; each stage is (ground, minutes, and what else its method says)."""
    bags = {"bags": {"load": 1, "container": "bag"}}
    site = {**_site(grounds, stages), **job}
    return at_elm(site, start=480, finish=1080, crossing_price=6, kit={}, materials=bags)


def _laid_down(method: Tables) -> Tables:
    """A method whose bags are laid down as they are, for the customer to keep: nothing of them goes out again."""
    return {**method, "expected": dict.fromkeys(method["uses"], 0)} if "uses" in method else method


def _site(grounds: Tables, stages: Tables) -> Tables:
    return {
        "grounds": {g: {"way_in": way} for g, way in grounds.items()},
        "surfaces": {g: {"ground": g} for g in grounds},
        "stages": {
            s: {"surface": g, "methods": {"usual": {"minutes": minutes, **_laid_down(more)}}}
            for s, (g, minutes, more) in stages.items()
        },
        "customer": {"keeps": ["bags"]},
    }


def out_and_back(*, depart: int, visits: tuple[Visit, ...] | None = None, **lists: Any) -> Plan:
    """A plan of one job from 08:10 to ``depart``, ten minutes from the yard."""
    drives = (Drive("yard", "elm", 480, 490), Drive("elm", "yard", depart, depart + 10))
    return Plan(drives=drives, visits=visits or (Visit("elm", 1, 490, depart),), **lists)


def trip(start: int, end: int, carried: tuple[Carried, ...] = (), ground: str = "side") -> Crossing:
    """A crossing of the one hand."""
    return Crossing("elm", 1, ground, "ash", start, end, carried)


def work(stage: str, start: int, end: int, *stays: tuple[str, int], job: str = "elm", visit: int = 1) -> Work:
    """A stage of the one hand."""
    return Work(job, stage, "usual", ASH, visit, start, end, stays)


def test_a_helper_who_comes_when_all_is_done_binds_nobody() -> None:
    """The worked day is over at 09:34; that a helper could come from 14:30 makes it neither longer nor impossible."""
    _, plan = tiny()
    late = {"own_transport": True, "hours": [870, 1080]}
    proven(tiny_day(hands={"ash": {"hours": [480, 900]}, "bo": late}), plan, 106)


def passage(finish: int = 1080, **wait: Any) -> Day:
    """Eight bags, one a trip, by a side passage of two minutes; a wash before they are laid; a sweep at the front."""
    tables = day_of(
        {"side": {"minutes": 2, "load_limit": 1}, "front": {"minutes": 0}},
        {"wash": ("side", 10, {}), "lay": ("side", 30, {"uses": {"bags": 8}}), "sweep": ("front", 20, {})},
        waits=[{"after": "wash", "before": "lay", "kind": "dry"} | wait],
    )
    return Day.model_validate(tables | {"finish": finish})


@pytest.mark.parametrize(("finish", "overrun"), [(1080, 0), (594, 10)], ids=["in time", "late"])
def test_trips_fill_a_wait_as_many_as_it_holds(finish: int, overrun: int) -> None:
    """Drive 10, in 2, wash 10, wait 60, lay 30, out 2, drive 10: 124 whatever else is done, and seven trips of 4 and
    the sweep of 20 go into the wait. Home at 10:04, ten minutes late where it was to be 09:54, and no less."""
    trips = [trip(490, 504, BAG)]
    trips += [trip(start, start + 4, BAG) for start in range(504, 528, 4)]
    trips += [trip(548, 594, BAG)]
    works = (work("wash", 492, 502), work("sweep", 528, 548), work("lay", 562, 592))
    proven(passage(finish, least=60), out_and_back(depart=594, works=works, crossings=tuple(trips)), 124, overrun)


def test_trips_come_before_a_wait_that_is_short() -> None:
    """All must be there before the wash. One hand: driving 20, eight trips of 4, work 10, 30 and 20: 112."""
    trips = [trip(start, start + 4, BAG) for start in range(490, 518, 4)] + [trip(518, 562, BAG)]
    works = (work("wash", 520, 530), work("lay", 530, 560), work("sweep", 562, 582))
    proven(passage(most=10), out_and_back(depart=582, works=works, crossings=tuple(trips)), 112)


def test_loads_are_not_poured() -> None:
    """Fourteen bags of 1.25 on a limit of 2.0 go one to a leg: driving 20, fourteen walks of 2, work 60, and 14 x 6."""
    tables = day_of(
        {"side": {"minutes": 1, "restricted": True, "load_limit": 2}}, {"lay": ("side", 60, {"uses": {"bags": 14}})}
    )
    tables["materials"]["bags"]["load"] = 1.25
    trips = [trip(start, start + 2, BAG) for start in range(490, 516, 2)] + [trip(516, 578, BAG)]
    plan = out_and_back(depart=578, works=(work("lay", 517, 577),), crossings=tuple(trips))
    proven(Day.model_validate(tables), plan, 192)


def to_and_fro(due: int | None) -> tuple[Day, Plan]:
    """One sprayer, needed on two grounds in turn three times, within the hour after something else was begun."""
    turns = {f"{g}{n}": (g, 10, {"kit": ["sprayer"]}) for n in (1, 2, 3) for g in ("rear", "side")}
    tables = day_of(
        {"rear": {"minutes": 1}, "side": {"minutes": 0}, "front": {"minutes": 0}},
        {"prime": ("front", 10, {}), "coat": ("front", 5, {}), **turns},
        waits=[{"after": "prime", "before": "coat", "kind": "dry", "least": 72}],
    )
    tables["kit"]["sprayer"] = {"load": 1}
    for before, after in zip(list(turns), list(turns)[1:], strict=False):
        tables["jobs"]["elm"]["stages"][after]["after"] = [before]
    tables["jobs"]["elm"]["stages"]["side3"]["not_after"] = due
    works, stays, chores = [work("prime", 490, 500), work("coat", 572, 577)], [], []
    for n in (1, 2, 3):
        at = 500 + 24 * (n - 1)
        chores += [
            Chore("set up", "elm", 1, "rear", ASH, at, at + 2, "sprayer", n),
            Chore("pack down", "elm", 1, "rear", ASH, at + 12, at + 14, "sprayer", n),
        ]
        stays += [Stay("elm", "rear", "sprayer", n, 1, 1, at, at + 14)]
        stays += [Stay("elm", "side", "sprayer", n, 1, 1, at + 14, at + 24)]
        works += [work(f"rear{n}", at + 2, at + 12, ("sprayer", n)), work(f"side{n}", at + 14, at + 24, ("sprayer", n))]
    lists = {"works": tuple(works), "stays": tuple(stays), "chores": tuple(chores)}
    return Day.model_validate(tables), out_and_back(depart=577, **lists)


@pytest.mark.parametrize("due", [None, 572], ids=["any time", "due"])
def test_kit_goes_to_and_fro_as_often_as_it_must(due: int | None) -> None:
    """Drive 10, prime 10, wait 72, coat 5, drive 10: 107. Three stays at the rear, each fetched and taken away in 2 + 2
    minutes, and six turns of 10 are 72: so the last is over at 09:32, should it be due then."""
    proven(*to_and_fro(due), 107)


def test_a_restricted_way_of_no_minutes_is_crossed_at_a_price_only() -> None:
    """Three bags, one a leg: three crossings; driving 20 and work 60 take all the time there is."""
    tables = day_of({"side": {"minutes": 0, "restricted": True, "load_limit": 1}},
                    {"lay": ("side", 60, {"uses": {"bags": 3}})})  # fmt: skip
    trips = (trip(490, 490, BAG), trip(490, 490, BAG), trip(490, 550, BAG))
    proven(
        Day.model_validate(tables), out_and_back(depart=550, works=(work("lay", 490, 550),), crossings=trips), 80 + 18
    )


def two_places(minutes: int, *, oak_visits: int = 1, elm: Tables | None = None) -> Tables:
    """Elm, where something must dry for half an hour, and oak; every place ``minutes`` from every other."""
    tables = day_of({"side": {"minutes": 0}}, {"prime": ("side", 10, {}), "coat": ("side", 10, {})}, visits=2)
    tables["places"]["oak"] = {}
    tables["travel"]["trips"] = [
        {"from": a, "to": b, "minutes": minutes} for a, b in (("yard", "elm"), ("yard", "oak"), ("elm", "oak"))
    ]
    tables["jobs"]["elm"]["waits"] = [{"after": "prime", "before": "coat", "kind": "dry", "least": 30}]
    tables["jobs"]["oak"] = {"place": "oak", "visits": oak_visits, **_site({"side": {"minutes": 0}},
                             {"sweep": ("side", 10, {})})}  # fmt: skip
    tables["jobs"]["elm"] |= elm or {}
    return tables


def there_and_back(minutes: int, **lists: Any) -> Plan:
    """Elm, oak and elm again, ``minutes`` apart, ten minutes of work at each and the wait kept."""
    one, two = 480 + minutes, 490 + 2 * minutes
    again = max(500 + 3 * minutes, 520 + minutes)
    return Plan(
        drives=(
            Drive("yard", "elm", 480, one),
            Drive("elm", "oak", one + 10, two),
            Drive("oak", "elm", again - minutes, again),
            Drive("elm", "yard", again + 10, again + 10 + minutes),
        ),
        visits=(
            Visit("elm", 1, one, one + 10),
            Visit("oak", 1, two, again - minutes),
            Visit("elm", 2, again, again + 10),
        ),
        **lists,
    )


def test_kit_that_may_stay_is_carried_in_while_somebody_is_there() -> None:
    """Drive 5, prime 10, wait 30, coat 10, drive 5: 60; one fan serves both places, as it comes and goes in no time."""
    tables = two_places(5)
    tables["kit"]["fan"] = {"may_stay": True}
    for job in tables["jobs"].values():
        for stage in job["stages"].values():
            stage["methods"]["usual"]["kit"] = ["fan"]
    plan = there_and_back(
        5,
        works=(
            work("prime", 485, 495, ("fan", 1)),
            work("sweep", 500, 510, ("fan", 1), job="oak"),
            work("coat", 525, 535, ("fan", 2), visit=2),
        ),
        stays=(
            Stay("elm", "side", "fan", 1, 1, 1, 485, 495),
            Stay("oak", "side", "fan", 1, 1, 1, 500, 510),
            Stay("elm", "side", "fan", 2, 2, 2, 525, 535),
        ),
    )
    proven(Day.model_validate(tables), plan, 60)


@pytest.mark.parametrize("visits", [1, 2])
def test_places_may_be_no_minutes_apart(visits: int) -> None:
    """Prime 10, wait 30, coat 10: 50; the van may be at elm, oak and elm again within one minute."""
    works = (work("prime", 480, 490), work("sweep", 490, 500, job="oak"), work("coat", 520, 530, visit=2))
    proven(Day.model_validate(two_places(0, oak_visits=visits)), there_and_back(0, works=works), 50)


def test_an_arrival_is_an_arrival_to_work() -> None:
    """Someone must be at elm by 08:10 and can do nothing there before 10:00: they are there from then on. Driving 15,
    oak 10, and the two hours and ten minutes at elm from 08:05."""
    tables = two_places(5, elm={"arrive": [480, 490], "waits": []})
    tables["jobs"]["elm"]["stages"] = {"prime": tables["jobs"]["elm"]["stages"]["prime"] | {"not_before": 600}}
    day = Day.model_validate(tables)
    sweep, prime = work("sweep", 500, 510, job="oak"), work("prime", 600, 610)
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 485), Drive("elm", "oak", 610, 615), Drive("oak", "yard", 625, 630)),
        visits=(Visit("elm", 1, 485, 610), Visit("oak", 1, 615, 625)),
        works=(prime, work("sweep", 615, 625, job="oak")),
    )
    proven(day, plan, 150)
    shown_up = Plan(
        drives=(
            Drive("yard", "elm", 480, 485), Drive("elm", "oak", 485, 490), Drive("oak", "elm", 595, 600),
            Drive("elm", "yard", 610, 615),
        ),
        visits=(Visit("elm", 1, 485, 485), Visit("oak", 1, 490, 595), Visit("elm", 2, 600, 610)),
        works=(sweep, work("prime", 600, 610, visit=2)),
    )  # fmt: skip
    assert {b.rule for b in broken_rules(day, shown_up)} == {10}


def test_a_ladder_waits_for_paving_to_drain_while_the_van_is_elsewhere() -> None:
    """Elm's patio is washed, and its wall looked at from a ladder on it an hour later; in between oak is swept. Driving
    4 times 10, wash 10, sweep 40, ladder 1, 10 and 1: 102; whoever stays at elm for that hour takes 152."""
    tables = two_places(10, elm={"waits": []})
    elm, oak = tables["jobs"]["elm"], tables["jobs"]["oak"]
    tables["kit"]["ladder"] = {"load": 1, "set_up": 1, "pack_down": 1, "tags": ["ladder"]}
    elm["surfaces"] = {
        "patio": {"ground": "side"},
        "wall": {"ground": "side", "stood_on": False, "worked_from": ["patio"]},
    }
    elm["stages"] = {
        "wash": {"kind": "wash", "surface": "patio", "methods": {"usual": {"minutes": 10}}},
        "look": {"surface": "wall", "after": ["wash"], "methods": {"usual": {"minutes": 10, "kit": ["ladder"]}}},
    }
    oak["stages"]["sweep"]["methods"]["usual"]["minutes"] = 40
    plan = Plan(
        drives=(
            Drive("yard", "elm", 480, 490), Drive("elm", "oak", 500, 510), Drive("oak", "elm", 550, 560),
            Drive("elm", "yard", 572, 582),
        ),
        visits=(Visit("elm", 1, 490, 500), Visit("oak", 1, 510, 550), Visit("elm", 2, 560, 572)),
        works=(
            work("wash", 490, 500), work("sweep", 510, 550, job="oak"),
            work("look", 561, 571, ("ladder", 1), visit=2),
        ),
        stays=(Stay("elm", "side", "ladder", 1, 2, 2, 560, 572),),
        chores=(
            Chore("set up", "elm", 2, "side", ("ash",), 560, 561, "ladder", 1),
            Chore("pack down", "elm", 2, "side", ("ash",), 571, 572, "ladder", 1),
        ),
    )  # fmt: skip
    proven(Day.model_validate(tables), plan, 102)
