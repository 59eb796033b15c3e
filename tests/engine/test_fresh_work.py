"""Days that were once planned so that the work was ruined, each a test by what must not happen.

The judgements are those of the trade (common practice, no source): nothing is washed or cleared over fresh joints or
onto what is finished, sheets stay, nobody works below another, layers are covered before rain. What a test asks of a
plan it asks by itself, from the times of the works.
"""

from itertools import pairwise
from typing import Any

import pytest

from planner.day import Day
from planner.day.words import FILE
from planner.engine import first_plan, plan_day
from planner.plan.plan import Plan, Work
from planner.trade.recipes.laying_out import expand
from tests.days import at_elm

Tables = dict[str, Any]

SECONDS = 1.5
"""For a better plan than the first, which is there at once; what is asked of it holds of every plan."""

REAR: Tables = {"supplies": {"tap": 1, "socket": 2}, "way_in": {"minutes": "2 min"}}
FRONT: Tables = {"supplies": {"tap": 1, "socket": 1}}
PATIO: Tables = {"recipe": "clean-and-repoint-patio", "slab": "900 x 600 mm", "joint_width": "15 mm", "area": "6 m2"}
JOINTS = ("fill-1", "compact-1", "fill-2", "compact-2")


def day_of(recipes: list[Tables], *, hands: int = 1, weather: list[Tables] | None = None, **job: Any) -> Day:
    """One job by recipes at a house twenty minutes away, for some hands, from 07:30 to 18:00."""
    elm = {"grounds": {"rear": REAR, "front": FRONT}, "recipes": recipes, **job}
    people: Tables = {f"hand-{n + 1}": {} for n in range(hands)}
    tables = at_elm(elm, drive="20 min", format=1, start="07:30", finish="18:00", rest="none", hands=people)
    if weather is not None:
        tables["weather"] = weather
    return Day.model_validate(expand(tables), context=FILE)


def by_hand(stages: Tables, *, hands: int = 1, waits: list[Tables] | None = None, **surfaces: Tables) -> Day:
    """A day of stages written by hand, each of ten minutes without kit, on one open ground."""
    made = {
        key: {"kind": key.split("-")[0], "methods": {"hand": {"minutes": 10}}} | stage for key, stage in stages.items()
    }
    job = {
        "grounds": {"rear": {}},
        "surfaces": {key: {"ground": "rear"} | said for key, said in surfaces.items()},
        "stages": made,
        "waits": waits or [],
    }
    people: Tables = {f"hand{n}": {} for n in range(hands)}
    return Day.model_validate(at_elm(job, start=480, finish=1080, rest=None, hands=people))


def found(day: Day) -> dict[str, Work]:
    """The works of a plan of the day by their stages; none that the engine finds is refused by the checker."""
    return {work.stage: work for work in planned(day).works}


def planned(day: Day) -> Plan:
    result = plan_day(day, seconds=SECONDS)
    assert result.refused == ()
    assert result.plan is not None
    return result.plan


def share_time(one: Work, other: Work) -> bool:
    return one.start < other.end and other.start < one.end


WALL: Tables = {
    "recipe": "treat-wall", "prefix": "wall", "ground": "rear", "area": "8 m2",
    "conditions": ["light growth"], "worked_from": ["patio"],
}  # fmt: skip
GUTTER: Tables = {"recipe": "clear-gutters", "prefix": "gutter", "ground": "rear", "run": "6 m"}


@pytest.fixture(scope="module")
def house() -> dict[str, Work]:
    """A patio to repoint, the wall above it to treat, the gutter above both to clear; nothing is said of an order."""
    return found(day_of([{**PATIO, "ground": "rear"}, WALL, GUTTER]))


def test_no_wall_is_rinsed_onto_fresh_joints(house: dict[str, Work]) -> None:
    assert house["wall-rinse"].end <= house["fill-1"].start


def test_no_gutter_is_cleared_over_fresh_joints_nor_onto_the_washed_patio(house: dict[str, Work]) -> None:
    assert house["gutter-clear"].end <= house["fill-1"].start
    assert house["gutter-clear"].end <= house["wash"].start


def test_no_wall_is_rinsed_onto_the_washed_patio(house: dict[str, Work]) -> None:
    assert house["wall-rinse"].end <= house["wash"].start


def test_the_gutter_is_not_cleared_over_the_wall_when_that_is_rinsed(house: dict[str, Work]) -> None:
    assert house["gutter-clear"].end <= house["wall-rinse"].start


def test_joints_are_cut_and_swept_before_the_slabs_get_wet(house: dict[str, Work]) -> None:
    for wet in ("wash", "wet", "wall-rinse"):
        assert house["sweep"].end <= house[wet].start


def test_joints_are_not_wetted_minutes_after_washing_and_are_damp_when_they_are_filled(house: dict[str, Work]) -> None:
    assert house["wet"].start - house["wash"].end >= 15
    assert house["fill-1"].start - house["wet"].start >= 5  # every patch of it, as both go the same way
    assert house["fill-1"].start - house["wet"].end <= 30


def test_the_second_layer_follows_the_first_within_its_time(house: dict[str, Work]) -> None:
    assert house["fill-2"].start - house["compact-1"].end <= 90


def test_gutters_are_not_cleared_onto_a_terrace_that_dries_or_is_sealed() -> None:
    terrace = {"recipe": "wash-dry-seal", "ground": "rear", "area": "10 m2"}
    works = found(day_of([terrace, GUTTER]))
    assert works["gutter-clear"].end <= works["wash"].start


def test_a_wall_is_not_rinsed_onto_the_drive_that_it_drains_to_once_that_is_rinsed() -> None:
    drive = {"recipe": "treat-drive", "ground": "front", "area": "20 m2"}
    wall = {**WALL, "ground": "front", "worked_from": ["drive"], "drains_to": ["drive"], "conditions": ["light growth"]}
    works = found(day_of([drive, wall]))
    assert works["wall-rinse"].end <= works["rinse"].start


def test_a_parapet_is_not_rinsed_into_open_joints_that_are_washed() -> None:
    parapet = {**WALL, "prefix": "parapet", "worked_from": [], "drains_to": ["patio"]}
    works = found(day_of([{**PATIO, "ground": "rear"}, parapet]))
    assert works["sweep"].end <= works["parapet-rinse"].start
    assert works["parapet-rinse"].end <= works["wash"].start


def test_sheets_stay_until_the_wall_is_rinsed() -> None:
    wall = {**WALL, "conditions": ["plants close by"], "worked_from": []}
    plan = planned(day_of([wall]))
    rinse = plan.work("elm", "wall-rinse")
    assert rinse is not None
    [sheets] = [stay for stay in plan.stays if stay.kit == "sheets"]
    packed = min([sheets.carried_out, *(c.start for c in plan.chores if (c.kit, c.what) == ("sheets", "pack down"))])
    assert packed >= rinse.end


def test_two_hands_do_not_work_below_one_another() -> None:
    stages = {
        "clear-gutter": {"surface": "gutter"},
        "wash-wall": {"surface": "wall"},
        "sweep-path": {"surface": "path"},
        "prune-lawn": {"surface": "lawn"},
    }
    gutter = {"stood_on": False, "high": True}
    works = found(by_hand(stages, hands=2, gutter=gutter, wall={"stood_on": False, "worked_from": ["path"]},
                          path={}, lawn={}))  # fmt: skip
    for below in ("wash-wall", "sweep-path", "prune-lawn"):
        assert not share_time(works["clear-gutter"], works[below])
    assert not share_time(works["wash-wall"], works["sweep-path"])


@pytest.mark.parametrize("over", [False, True], ids=["stood on", "walked over"])
def test_nobody_treads_on_a_fresh_coat(over: bool) -> None:
    """Two hands, and the coat is written first: the hedge is cut from the patio; the way to the lawn goes over it."""
    stages = {"coat": {"surface": "patio", "fresh_to": ["feet"]}, "prune": {"surface": "lawn" if over else "hedge"}}
    day = by_hand(stages, hands=2, patio={}, hedge={"stood_on": False, "worked_from": ["patio"]}, lawn={})
    if over:
        tables = day.model_dump(by_alias=True, exclude_none=True)
        job = tables["jobs"]["elm"]
        job["grounds"]["back"] = {"way_in": {"minutes": 2, "over": ["patio"]}}
        job["surfaces"]["lawn"]["ground"] = "back"
        day = Day.model_validate(tables)
    works = found(day)
    assert works["prune"].end <= works["coat"].start


@pytest.mark.parametrize(
    ("first", "last"),
    [
        ({"kind": "clear gutters", "surface": "gutter"}, {"kind": "sweep", "surface": "path"}),
        ({"kind": "grind", "surface": "steps"}, {"kind": "wash", "surface": "path", "makes": []}),
    ],
    ids=["what falls", "dust"],
)
def test_what_is_swept_or_washed_by_hand_waits_for_what_falls_or_settles_there(first: Tables, last: Tables) -> None:
    """The first is done at ten at the soonest: with the other done before that they would be home sooner."""
    gutter = {"stood_on": False, "high": True}
    works = found(by_hand({"first": first | {"not_before": 600}, "last": last}, gutter=gutter, steps={}, path={}))
    assert works["first"].end <= works["last"].start


def test_joints_are_wetted_once_the_rinse_above_has_drained() -> None:
    """It is rinsed at ten at the soonest: with the joints wetted just before or after, they would be home sooner."""
    stages = {
        "rinse-wall": {"surface": "wall", "not_before": 600},
        "wet-joints": {"surface": "patio"},
        "fill": {"surface": "patio", "after": ["wet-joints"]},
    }
    works = found(by_hand(stages, patio={}, wall={"stood_on": False, "drains_to": ["patio"]}))
    assert works["wet-joints"].start >= works["rinse-wall"].end + 15


def test_nobody_sweeps_below_anothers_treatment() -> None:
    stages = {"treat-wall": {"surface": "wall", "chemical": "hypochlorite"}, "sweep-path": {"surface": "path"}}
    works = found(by_hand(stages, hands=2, wall={"stood_on": False, "worked_from": ["path"]}, path={}))
    assert not share_time(works["treat-wall"], works["sweep-path"])


@pytest.mark.parametrize("rain", [600, 660, 720])
def test_layers_lie_on_one_side_of_the_showers(rain: int) -> None:
    """Showers of an hour: neither a layer nor what covers it runs into them, nor do they come between the two."""
    weather = [
        {"time": f"{hour:02d}:00", "air": 15, "humidity": 0.6, "wind": 8, "rain": 0.8 if 60 * hour == rain else 0.0}
        for hour in range(7, 20)
    ]
    works = found(day_of([{**PATIO, "ground": "rear"}], weather=weather))
    for first, cover in pairwise(JOINTS):
        assert works[cover].end <= rain or works[first].start >= rain + 60


def test_a_day_that_cannot_be_done_so_says_which_stages() -> None:
    """The wall is washed after the joints below it are filled: it is ordered so, and cannot be."""
    stages = {"fill": {"surface": "patio"}, "wash-wall": {"surface": "wall", "after": ["fill"]}}
    result = plan_day(by_hand(stages, patio={}, wall={"stood_on": False, "drains_to": ["patio"]}), seconds=20)
    assert result.plan is None
    told = " ".join(result.conflict)
    assert "'Fill: patio'" in told
    assert "'Wash: wall'" in told
    assert "another day" in told
    assert "spares" in told


# --- dust and bits of what is cut ---


def test_a_drive_is_washed_after_the_brick_above_it_is_cut_out() -> None:
    """The file has the drive first; what is washed is not soiled again, and no dust lies there when it gets wet."""
    stages = {
        "wash": {"surface": "drive"},
        "grind": {"surface": "wall"},
        "sweep": {"surface": "wall", "after": ["grind"]},
    }
    works = found(by_hand(stages, drive={}, wall={"stood_on": False, "drains_to": ["drive"]}))
    assert works["wash"].start >= works["sweep"].end


def test_sheets_are_taken_up_for_washing_between_cutting_and_pointing() -> None:
    """A drive by a side passage, and the brick above it to repoint; the careful order is enough to show it."""
    brick = {"recipe": "repoint-brickwork", "prefix": "brick", "ground": "rear", "area": "1 m2"}
    drive = {"recipe": "treat-drive", "prefix": "drive", "ground": "rear", "area": "6 m2"}
    day = day_of([drive, brick])
    plan = first_plan(day)
    assert plan is not None
    works = {work.stage: work for work in plan.works}
    assert works["brick-sweep"].end <= works["drive-treat"].start
    assert works["drive-rinse"].end <= works["brick-cover-again"].start
    assert works["brick-sweep"].start - works["brick-grind"].end <= 30
    for first, until in (("brick-cover", "brick-sweep"), ("brick-cover-again", "brick-finish")):
        last = max(work.end for key, work in works.items() if key.startswith(until))
        sheets = next(s for s in plan.stays if (s.kit, s.number) in works[first].stays)
        assert sheets.carried_out >= last
