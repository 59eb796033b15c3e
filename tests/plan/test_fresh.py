"""Fresh work, finished work, sheets, people below: plans worked out by hand hold, and each change that spoils breaks.

One hand (or two) at one house whose grounds need no crossing; no stage takes kit unless a test gives it some. A plan is
then no more than when each stage begins. That these are rules of the trade: common practice, no source.
"""

from dataclasses import replace
from typing import Any, Literal

import pytest

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.plan.checker import broken_rules
from planner.plan.plan import Carried, Chore, Crossing, Drive, Plan, Stay, Visit, Work
from tests.days import at_elm

Tables = dict[str, Any]

HOUR = {"air": 15.0, "humidity": 0.6, "wind": 8.0}


def house(stages: Tables, *, waits: tuple[Tables, ...] = (), hands: int = 1, **surfaces: Tables) -> Tables:
    """A day at a house: gutter and wall over a patio at the rear, a drive in front, and stages of ten minutes."""
    placed: Tables = {
        "gutter": {"ground": "rear", "stood_on": False},
        "wall": {"ground": "rear", "stood_on": False, "worked_from": ["patio"]},
        "patio": {"ground": "rear"},
        "drive": {"ground": "front"},
    }
    for key, said in surfaces.items():
        placed[key] = placed.get(key, {}) | said
    usual = {"methods": {"hand": {"minutes": 10}}}
    made = {key: {"kind": key.split("-")[0], **usual} | said for key, said in stages.items()}
    job = {"grounds": {"rear": {}, "front": {}}, "surfaces": placed, "stages": made, "waits": list(waits)}
    kit = {"sheets": {"load": 0}, "ladder": {"load": 0, "tags": ["ladder"]}}
    people: Tables = {f"hand{n}": {} for n in range(hands)}
    return at_elm(job, start=480, finish=1080, rest=None, hands=people, kit=kit)


def planned(tables: Tables, *order: str | tuple[str, int], gone: dict[str, int] | None = None) -> tuple[Day, Plan]:
    """The stages one after another from 08:10 on, or when they are said to begin; hand 0 does all that do not overlap.

    Kit comes as its first stage begins, and goes as its last ends, or when ``gone`` says.
    """
    day = Day.model_validate(tables)
    assert faults_in(day) == []
    works: list[Work] = []
    stays: dict[str, Stay] = {}
    now = 490
    for item in order:
        key, start = (item, now) if isinstance(item, str) else item
        [(method, way)] = day.jobs["elm"].stages[key].methods.items()
        hand = sum(w.start < start + way.minutes and start < w.end for w in works)
        now = start + way.minutes
        kit = way.kit
        ground = day.jobs["elm"].ground_of(key)
        for name in kit:
            came = stays[name].carried_in if name in stays else start
            left = (gone or {}).get(name, now)
            stays[name] = Stay("elm", ground, name, 1, 1, 1, came, left)
        works.append(Work("elm", key, method, (f"hand{hand}",), 1, start, now, tuple((name, 1) for name in kit)))
    home = max(w.end for w in works)
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", home, home + 10)),
        visits=(Visit("elm", 1, 490, home),),
        works=tuple(works),
        stays=tuple(stays.values()),
    )
    return day, plan


def broken(tables: Tables, *order: str | tuple[str, int], gone: dict[str, int] | None = None) -> set[int]:
    return {breach.rule for breach in broken_rules(*planned(tables, *order, gone=gone))}


ON_PATIO, ON_WALL, ON_GUTTER, ON_DRIVE = ({"surface": key} for key in ("patio", "wall", "gutter", "drive"))
JOINTS: Tables = {
    "fill-1": ON_PATIO,
    "compact-1": ON_PATIO | {"after": ["fill-1"]},
    "fill-2": ON_PATIO | {"after": ["compact-1"]},
    "compact-2": ON_PATIO | {"after": ["fill-2"]},
}
LAYERS = tuple(JOINTS)


@pytest.mark.parametrize("at", range(1, 5))
@pytest.mark.parametrize(
    "spoiler",
    [
        ON_WALL | {"kind": "wash"},
        ON_WALL | {"kind": "rinse"},
        ON_GUTTER | {"kind": "clear gutters"},
        ON_WALL | {"kind": "grind"},
    ],
    ids=lambda said: said["kind"],
)
def test_nothing_is_washed_cleared_or_ground_over_fresh_joints(at: int, spoiler: Tables) -> None:
    """Before the first layer it is right; between any two and after the last one never."""
    tables = house({"spoiler": spoiler, **JOINTS})
    assert broken(tables, "spoiler", *LAYERS) == set()
    assert broken(tables, *LAYERS[:at], "spoiler", *LAYERS[at:]) == {9}


def test_a_coat_that_says_how_long_it_is_fresh_bears_water_after_that() -> None:
    tables = house({"seal": ON_PATIO | {"fresh_for": 120}, "wash": ON_WALL})
    assert broken(tables, "wash", "seal") == set()
    assert broken(tables, "seal", ("wash", 490 + 10 + 119)) == {9}
    assert broken(tables, "seal", ("wash", 490 + 10 + 120)) == set()


def test_a_set_ends_with_the_stage_that_it_waits_for_and_a_cure_never() -> None:
    laid = ON_PATIO | {"kind": "rebed", "fresh_to": ["spray", "water"]}
    until = {"after": "bed", "before": "brush", "kind": "set", "least": 60, "closes": False}
    tables = house({"bed": laid, "brush": ON_PATIO, "wash": ON_WALL}, waits=(until,))
    assert broken(tables, "bed", ("wash", 530), ("brush", 570)) == {9}
    assert broken(tables, "bed", ("brush", 570), ("wash", 580)) == set()
    cure = {"after": "bed", "kind": "cure", "least": 600, "closes": False}
    tables = house({"bed": laid, "brush": ON_PATIO, "wash": ON_WALL}, waits=(until, cure))
    assert broken(tables, "bed", ("brush", 570), ("wash", 580)) == {9}


def test_what_is_covered_or_said_to_be_spared_is_not_reached() -> None:
    from_a_lawn = {"wall": {"worked_from": [], "drains_to": ["patio"]}}
    assert broken(house({"wash": ON_WALL, **JOINTS}, **from_a_lawn), *LAYERS, "wash") == {9}
    tables = house({"wash": ON_WALL | {"spares": ["patio"]}, **JOINTS}, **from_a_lawn)
    assert broken(tables, *LAYERS, "wash") == set()


def test_water_runs_down_and_goes_nowhere_else_but_dust_and_spray_travel_over_the_ground() -> None:
    bench = {"bench": {"ground": "rear", "stood_on": False}}
    for makes, rules in ((["water"], set()), (["spray"], {9}), (["dust"], {9})):
        tables = house({"hose": {"surface": "bench", "makes": makes}, **JOINTS}, **bench)
        assert broken(tables, *LAYERS, "hose") == rules
    drained = {"bench": {"ground": "rear", "stood_on": False, "drains_to": ["wall"]}}  # and the wall onto the patio
    tables = house({"hose": {"surface": "bench", "makes": ["water"]}, **JOINTS}, **drained)
    assert broken(tables, *LAYERS, "hose") == {9}


def test_run_off_reaches_fresh_work_on_another_ground() -> None:
    tables = house({"wash": ON_DRIVE, **JOINTS})
    assert broken(tables, *LAYERS, "wash") == set()
    tables = house({"wash": ON_DRIVE, **JOINTS}, drive={"drains_to": ["patio"]})
    assert broken(tables, *LAYERS, "wash") == {9}


def test_fresh_work_is_kept_from_feet() -> None:
    """Nobody stands on it to paint the wall over it, or walks over it to another ground; on it work may go on."""
    tables = house({"paint": ON_WALL, **JOINTS})
    assert broken(tables, "paint", *LAYERS) == set()
    assert broken(tables, "fill-1", "paint", *LAYERS[1:]) == {9}
    tables = house({"paint": ON_DRIVE, **JOINTS})
    assert broken(tables, *LAYERS, "paint") == set()
    tables["jobs"]["elm"]["grounds"]["front"] = {"way_in": {"over": ["patio"]}}
    assert broken(tables, *LAYERS, "paint") == {9}
    assert broken(tables, "paint", *LAYERS) == set()


def test_a_day_may_say_that_a_stage_leaves_nothing_fresh() -> None:
    tables = house({"wash": ON_WALL, "fill": ON_PATIO | {"fresh_to": []}})
    assert broken(tables, "fill", "wash") == set()


# --- finished is finished -------------------------------------------------------------------------------------


def test_gutter_before_wall_before_patio() -> None:
    stages = {"clear": ON_GUTTER, "rinse": ON_WALL, "wash": ON_PATIO}
    tables = house(stages)
    assert broken(tables, "clear", "rinse", "wash") == set()
    assert broken(tables, "rinse", "clear", "wash") == {9}
    assert broken(tables, "clear", "wash", "rinse") == {9}
    assert broken(tables, "wash", "clear", "rinse") == {9}


def test_a_gutter_is_cleared_before_the_fascia_below_it_is_washed_and_not_over_fresh_brick() -> None:
    """Gutter, fascia, a wall of which bits fall, paving: each is over those after it."""
    high: Tables = {"ground": "rear", "stood_on": False, "high": True}
    stages = {"clear": ON_GUTTER, "wash": {"surface": "fascia"}}
    tables = house(stages, gutter=high, fascia=high)
    assert broken(tables, "clear", "wash") == set()
    assert broken(tables, "wash", "clear") == {9}
    brick = {"grind": {"surface": "wall", "makes": ["dust", "dirt"]}, "fill": {"surface": "wall", "after": ["grind"]}}
    tables = house({"clear": ON_GUTTER, "wash": {"surface": "fascia"}, **brick}, gutter=high, fascia=high)
    assert broken(tables, "clear", "grind", "wash", "fill") == set()
    assert broken(tables, "grind", "wash", "fill", "clear") == {9}
    assert broken(tables, "clear", "grind", "fill", "wash") == {9}


def test_a_gutter_is_cleared_before_the_open_joints_below_it_are_swept() -> None:
    tables = house({"clear": ON_GUTTER, "grind": ON_PATIO, "sweep": {"surface": "patio", "after": ["grind"]}})
    assert broken(tables, "clear", "grind", "sweep") == set()
    assert broken(tables, "grind", "clear", "sweep") == set()
    assert broken(tables, "grind", "sweep", "clear") == {9}


def test_joints_are_wetted_for_filling_once_the_rinse_above_has_drained() -> None:
    """The wall is rinsed from 08:10 to 08:20: a quarter of an hour later what ran into the joints has drained."""
    tables = house({"rinse": ON_WALL, "wet": ON_PATIO, "fill": {"surface": "patio", "after": ["wet"]}})
    assert broken(tables, "rinse", ("wet", 515), "fill") == set()
    assert broken(tables, "rinse", ("wet", 514), "fill") == {9}
    assert broken(tables, "wet", "rinse", "fill") == {9}


def test_what_came_off_by_itself_wetted_no_joints() -> None:
    """Nobody wetted: what it was to take off is said to be off, while the wall was rinsed."""
    day, plan = planned(house({"rinse": ON_WALL, "wet": ON_PATIO}), "rinse", ("wet", 514))
    assert 9 in {breach.rule for breach in broken_rules(day, plan)}
    off = tuple(replace(w, hands=()) if w.stage == "wet" else w for w in plan.works)
    assert 9 not in {breach.rule for breach in broken_rules(day, replace(plan, works=off))}


def test_a_second_cleaning_takes_away_what_ran_onto_the_first() -> None:
    tables = house({"rinse": ON_WALL, "wash-1": ON_PATIO, "wash-2": ON_PATIO})
    assert broken(tables, "wash-1", "rinse", "wash-2") == set()
    assert broken(tables, "wash-2", "rinse", "wash-1") == set()
    assert broken(tables, "wash-1", "wash-2", "rinse") == {9}


def test_a_rinse_takes_off_what_a_rinse_brings_and_a_wash_what_falls_or_is_thrown_down() -> None:
    """Moss on a washed patio does not go with the rinse; what is rinsed off the wall does."""
    patio = {"wash": ON_PATIO, "rinse": ON_PATIO | {"after": ["wash"]}}
    for above in ({"clear": ON_GUTTER}, {"wash-wall": ON_WALL}, {"grind": {"surface": "wall"}}):
        tables, (name, *_) = house({**above, **patio}), above
        assert broken(tables, name, "wash", "rinse") == set()
        assert broken(tables, "wash", name, "rinse") == {9}
    tables = house({"rinse-wall": ON_WALL, **patio})
    assert broken(tables, "wash", "rinse-wall", "rinse") == set()
    assert broken(tables, "wash", "rinse", "rinse-wall") == {9}


def test_what_falls_is_swept_up_where_nobody_washes_and_rinsed_off_where_nobody_sweeps() -> None:
    patio = {"sweep": ON_PATIO, "rinse": ON_PATIO | {"after": ["sweep"]}}
    tables = house({"clear": ON_GUTTER, **patio})
    assert broken(tables, "clear", "sweep", "rinse") == set()
    assert broken(tables, "sweep", "clear", "rinse") == {9}
    del patio["sweep"], patio["rinse"]["after"]
    tables = house({"clear": ON_GUTTER, **patio})
    assert broken(tables, "clear", "rinse") == set()
    assert broken(tables, "rinse", "clear") == {9}


def test_a_wall_is_not_rinsed_onto_a_finished_drive_that_it_drains_to() -> None:
    stages = {"rinse": ON_WALL, "wash": ON_DRIVE}
    assert broken(house(stages), "wash", "rinse") == set()
    drained = {"wall": {"drains_to": ["drive"], "worked_from": []}}
    assert broken(house(stages, **drained), "wash", "rinse") == {9}
    assert broken(house(stages, **drained), "rinse", "wash") == set()


def test_the_day_may_order_it_otherwise_or_say_that_it_is_rinsed_with_it() -> None:
    assert broken(house({"rinse": ON_WALL | {"after": ["wash"]}, "wash": ON_PATIO}), "wash", "rinse") == set()
    assert broken(house({"rinse": ON_WALL | {"spares": ["patio"]}, "wash": ON_PATIO}), "wash", "rinse") == set()


def test_a_gutter_that_is_said_not_to_be_high_drips_on_nothing() -> None:
    stages = {"clear": ON_GUTTER, "wash": ON_PATIO}
    assert broken(house(stages), "wash", "clear") == {9}
    assert broken(house(stages, gutter={"high": False}), "wash", "clear") == set()
    fascia = {"wash-fascia": {"surface": "gutter"}, "wash": ON_PATIO}  # washed, not cleared: only high if it is said
    assert broken(house(fascia), "wash", "wash-fascia") == set()
    assert broken(house(fascia, gutter={"high": True}), "wash", "wash-fascia") == {9}


# --- dust and water -------------------------------------------------------------------------------------------


def test_joints_are_cut_dry_and_swept_before_anything_gets_wet() -> None:
    stages = {"grind": ON_PATIO, "sweep": ON_PATIO | {"after": ["grind"]}, "wash": ON_PATIO, "rinse": ON_WALL}
    tables = house(stages)
    assert broken(tables, "grind", "sweep", "rinse", "wash") == set()
    assert broken(tables, "grind", "rinse", "sweep", "wash") == {9}
    assert broken(tables, "rinse", "grind", "sweep", "wash") == {9}
    assert broken(tables, "wash", "grind", "sweep", "rinse") == {9}
    assert broken(house({"grind": ON_PATIO, "wet": ON_PATIO}), "wet", "grind") == {9}


def texts(tables: Tables, *order: str | tuple[str, int]) -> str:
    return "; ".join(breach.text for breach in broken_rules(*planned(tables, *order)))


BRICK: Tables = {"grind": {"surface": "wall"}, "sweep": {"surface": "wall", "after": ["grind"]}}


def test_brick_is_cut_and_its_dust_taken_up_before_the_paving_below_is_washed() -> None:
    day = house({**BRICK, "wash": {"surface": "patio"}})
    assert texts(day, "grind", "sweep", "wash") == ""
    assert "settles on 'patio'" in texts(day, "wash", "grind", "sweep")
    assert "wets 'patio' before" in texts(day, "grind", "wash", "sweep")


def test_a_treatment_lies_wet_on_dust_too() -> None:
    day = house({**BRICK, "treat": {"surface": "patio", "chemical": "hypochlorite"}})
    assert texts(day, "grind", "sweep", "treat") == ""
    assert "wets 'patio' before" in texts(day, "grind", "treat", "sweep")


def test_dust_settles_on_all_of_its_ground_and_on_no_other() -> None:
    joints = {"grind": {"surface": "patio"}, "sweep": {"surface": "patio", "after": ["grind"]}}
    steps = house({**joints, "wash": {"surface": "steps"}}, steps={"ground": "rear"})
    assert texts(steps, "grind", "sweep", "wash") == ""
    assert "settles on 'steps'" in texts(steps, "wash", "grind", "sweep")
    assert texts(house({**joints, "wash": {"surface": "drive"}}), "wash", "grind", "sweep") == ""


def test_who_says_that_the_paving_is_washed_first_or_is_covered_is_heard() -> None:
    ordered = house({**BRICK, "grind": {"surface": "wall", "after": ["wash"]}, "wash": {"surface": "patio"}})
    assert texts(ordered, "wash", "grind", "sweep") == ""
    covered = house({**BRICK, "grind": {"surface": "wall", "spares": ["patio"]}, "flush": {"surface": "patio"}})
    assert texts(covered, "grind", "flush", "sweep") == ""


# --- no ladder over wet steps ---


def with_a_ladder(carried: int, **steps: Any) -> str:
    """Steps in front are washed from 08:20 to 08:40; a ladder goes over them to the rear, to clear a gutter."""
    tables = house({"wash": {"surface": "steps"}, "clear": {"surface": "gutter"}}, steps={"ground": "front"})
    job = tables["jobs"]["elm"]
    job["grounds"]["rear"] = {"way_in": {"minutes": 5, "restricted": True, "over": ["steps"]}}
    job["stages"]["wash"] = {"surface": "steps", "methods": {"hand": {"minutes": 20}}} | {"kind": "wash"} | steps
    job["stages"]["clear"]["methods"]["hand"]["kit"] = ["ladder"]
    day = Day.model_validate(tables)
    ladder = (Carried("ladder"),)
    done = carried + 25
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", max(done, 520), max(done, 520) + 10)),
        visits=(Visit("elm", 1, 490, max(done, 520)),),
        works=(
            Work("elm", "wash", "hand", ("hand0",), 1, 500, 520),
            Work("elm", "clear", "hand", ("hand0",), 1, carried + 5, carried + 15, (("ladder", 1),)),
        ),
        crossings=(Crossing("elm", 1, "rear", "hand0", carried, carried + 20, ladder, ladder),),
        stays=(Stay("elm", "rear", "ladder", 1, 1, 1, carried + 5, carried + 15),),
    )
    return "; ".join(breach.text for breach in broken_rules(day, plan))


def test_no_ladder_is_carried_over_wet_steps() -> None:
    assert with_a_ladder(580) == ""
    assert "'ladder' is carried over 'steps', wet from" in with_a_ladder(579)
    assert "'ladder' is carried over 'steps', wet from" in with_a_ladder(520)
    assert with_a_ladder(520, kind="work") == ""


LADDER_UP: Tables = ON_GUTTER | {"kind": "look", "methods": {"up": {"minutes": 10, "kit": ["ladder"]}}}


def with_a_standing_ladder(wash: int, works: Tables, *, came: int = 490, **gutter: Any) -> str:
    """A ladder is put up at 08:20, used from 08:25 to 08:35, and down again by 09:05; ten minutes of other work."""
    tables = house({"look": LADDER_UP, "other": works}, gutter=gutter or {"worked_from": ["patio"]})
    tables["kit"]["ladder"] |= {"set_up": 5, "pack_down": 5}
    day = Day.model_validate(tables)
    assert faults_in(day) == []
    plan = Plan(
        drives=(Drive("yard", "elm", came - 10, came), Drive("elm", "yard", 580, 590)),
        visits=(Visit("elm", 1, came, 580),),
        works=(
            Work("elm", "look", "up", ("hand0",), 1, 505, 515, (("ladder", 1),)),
            Work("elm", "other", "hand", ("hand0",), 1, wash, wash + 10),
        ),
        chores=(
            Chore("set up", "elm", 1, "rear", ("hand0",), 500, 505, "ladder", 1),
            Chore("pack down", "elm", 1, "rear", ("hand0",), 540, 545, "ladder", 1),
        ),
        stays=(Stay("elm", "rear", "ladder", 1, 1, 1, 500, 545),),
    )
    return "; ".join(breach.text for breach in broken_rules(day, plan))


@pytest.mark.parametrize(
    "work", [{"kind": "wash"}, {"kind": "treat", "chemical": "hypochlorite"}, {"kind": "seal"}, {"kind": "fill"}]
)
def test_no_ladder_stands_where_paving_is_washed(work: Tables) -> None:
    """Nobody jets, sprays or coats around the feet of a ladder, though nobody is on it: it is down first."""
    assert "'ladder' stands on 'patio' during" in with_a_standing_ladder(520, ON_PATIO | work)
    assert "'ladder' stands on 'patio' during" in with_a_standing_ladder(529, ON_PATIO | work, high=True)
    assert with_a_standing_ladder(545, ON_PATIO | work) == ""


@pytest.mark.parametrize(
    ("work", "is_wet"), [({"kind": "wash"}, True), ({"kind": "treat"}, True), ({"kind": "flush"}, True),
                         ({"kind": "compact", "fresh_for": 0}, False), ({"kind": "sweep"}, False)],
)  # fmt: skip
def test_no_ladder_is_put_up_on_paving_that_is_wet(work: Tables, is_wet: bool) -> None:
    """Nor within an hour of what wetted it: a ladder slips there."""
    said = ON_PATIO | work
    assert ("within an hour of" in with_a_standing_ladder(490, said)) == is_wet
    assert ("within an hour of" in with_a_standing_ladder(431, said, came=431)) == is_wet
    assert "within" not in with_a_standing_ladder(430, said, came=430)
    assert "within" not in with_a_standing_ladder(490, said | ON_DRIVE)
    assert "within" not in with_a_standing_ladder(490, said | ON_WALL)


def test_a_ladder_is_in_nobodys_way_where_it_does_not_stand() -> None:
    assert with_a_standing_ladder(520, ON_PATIO | {"kind": "sweep"}) == ""
    assert with_a_standing_ladder(520, ON_DRIVE | {"kind": "wash"}) == ""
    assert with_a_standing_ladder(520, ON_WALL | {"kind": "wash"}) == ""


def test_a_day_that_washes_first_and_says_so_is_heard() -> None:
    dried = {"after": "wash", "before": "grind", "kind": "dry", "least": 120}
    tables = house({"wash": ON_PATIO, "grind": ON_PATIO}, waits=(dried,))
    assert broken(tables, "wash", ("grind", 620)) == set()


# --- people below ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("above", "below"),
    [
        (ON_WALL | {"kind": "wash"}, ON_PATIO | {"kind": "prune"}),
        (ON_GUTTER | {"kind": "clear"}, ON_PATIO | {"kind": "prune"}),
        (ON_GUTTER | {"kind": "clear"}, ON_WALL | {"kind": "wash"}),
        (ON_WALL | {"kind": "treat", "chemical": "hypochlorite"}, ON_PATIO | {"kind": "sweep"}),
        (ON_WALL | {"kind": "paint", "methods": {"up": {"minutes": 10, "kit": ["ladder"]}}}, ON_PATIO | {"kind": "x"}),
        (ON_WALL | {"kind": "paint", "tags": ["ladder"]}, ON_PATIO | {"kind": "x"}),
        (ON_PATIO | {"kind": "wash"}, ON_PATIO | {"kind": "prune"}),
        (ON_WALL | {"kind": "treat"}, ON_PATIO | {"kind": "prune"}),
        (ON_PATIO | {"kind": "oil", "fresh_for": 0}, ON_PATIO | {"kind": "prune"}),
        (ON_WALL | {"kind": "dry brush", "makes": ["dust"]}, ON_PATIO | {"kind": "sweep"}),
        (ON_PATIO | {"kind": "grind"}, ON_PATIO | {"kind": "sweep"}),
        (ON_PATIO | {"kind": "cut"}, ON_PATIO | {"kind": "kneel"}),
    ],
    ids=["jet", "dirt", "ladder over a lance", "treatment", "ladder", "the site's ladder", "reach of a jet",
         "what is not named", "oil", "a dry brush", "a disc", "a saw"],
)  # fmt: skip
def test_nobody_works_below_another(above: Tables, below: Tables) -> None:
    tables = house({"above": above, "below": below}, hands=2, gutter={"high": True})
    assert broken(tables, ("above", 490), ("below", 499)) == {9}
    assert broken(tables, ("above", 490), ("below", 500)) == set()
    elsewhere = house({"above": above, "below": below | ON_DRIVE}, hands=2)
    assert broken(elsewhere, ("above", 490), ("below", 499)) == set()


def test_who_works_high_up_stands_below_what_falls_beside() -> None:
    """No moss is gathered under a roof edge as the gutter there is cleared; elsewhere, or if it is looked at, it is."""
    high: Tables = {"ground": "rear", "stood_on": False, "high": True}
    stages = {"above": ON_GUTTER | {"kind": "clear"}, "below": {"surface": "fascia", "kind": "gather"}}
    for edge, work, rules in (
        (high, "clear", {9}),
        (high, "rinse", {9}),
        (high, "treat", {9}),
        (high | {"ground": "front"}, "clear", set()),
        (high, "look", set()),
    ):
        stages["above"]["kind"] = work
        stages["more"] = {"surface": "fascia", "kind": "clear"}
        tables = house(stages, hands=2, gutter=high, fascia=edge)
        assert broken(tables, ("above", 490), ("below", 499), ("more", 600)) == rules, (edge, work)


def test_two_may_brush_side_by_side_where_they_stand() -> None:
    """Only from what nobody stands on does dust fall on another; a broom is no disc."""
    brush, sweep = ON_PATIO | {"kind": "brush", "makes": ["dust"]}, ON_PATIO | {"kind": "sweep"}
    for beside in (brush, sweep):
        assert broken(house({"one": beside, "two": brush}, hands=2), ("one", 490), ("two", 499)) == set()


def test_what_is_swept_is_not_sprayed_meanwhile() -> None:
    """The steps beside, while the patio is washed, not while it is wetted; what the jet spares stays dry."""
    for wet, spares, rules in (("wash", [], {9}), ("wash", ["steps"], set()), ("wet", [], set())):
        stages = {"wet": ON_PATIO | {"kind": wet, "spares": spares}, "sweep": {"surface": "steps"}}
        tables = house(stages, hands=2, steps=REAR)
        assert broken(tables, ("wet", 490), ("sweep", 499)) == rules
        assert broken(tables, ("sweep", 490), ("wet", 499)) == rules
        assert broken(tables, ("sweep", 490), ("wet", 500)) == set()


@pytest.mark.parametrize(("above", "spoils"), [("clear", True), ("flush", True), ("wash", True), ("look", False)])
def test_nothing_comes_down_on_what_dwells(above: str, spoils: bool) -> None:
    """The gutter over a wall that is treated, then dwells from 08:20 to 09:00, though it is rinsed after that."""
    stages = {"treat": ON_WALL, "above": ON_GUTTER | {"kind": above}, "rinse": ON_WALL | {"after": ["treat"]}}
    dwell: Tables = {"after": "treat", "before": "rinse", "kind": "dwell", "least": 40, "closes": False}
    tables = house(stages, waits=(dwell,), gutter={"high": True})
    assert broken(tables, "above", "treat", ("rinse", 550)) == set()
    assert broken(tables, "treat", "above", ("rinse", 540)) == ({9} if spoils else set())
    assert broken(tables, "treat", ("above", 525), ("rinse", 540)) == ({9} if spoils else set())
    tables["jobs"]["elm"]["stages"]["above"]["spares"] = ["wall", "patio"]
    assert broken(tables, "treat", "above", ("rinse", 540)) == set()


@pytest.mark.parametrize("kind", ["paint", "varnish", "coat", "stain", "seal", "oil"])
@pytest.mark.parametrize("comes", ["treat", "sweep", "cut", "wash"])
def test_a_coat_is_spoiled_by_mist_dust_and_spray_beside_it(kind: str, comes: str) -> None:
    """A wall is coated; the steps beside it are treated, swept, cut or washed before that, unless it is spared."""
    stages: Tables = {"coat": ON_WALL | {"kind": kind}, "comes": {"surface": "steps", "kind": comes}}
    tables = house(stages, steps=REAR)
    assert broken(tables, "comes", "coat") == set()
    assert broken(tables, "coat", "comes") == {9}
    stages["comes"]["spares"] = ["wall"]
    assert broken(house(stages, steps=REAR), "coat", "comes") == set()
    stages["coat"]["fresh_for"], stages["comes"]["spares"] = 30, []
    assert broken(house(stages, steps=REAR), "coat", ("comes", 530)) == set()
    assert broken(house(stages, steps=REAR), "coat", ("comes", 529)) == {9}


@pytest.mark.parametrize("kind", ["treat", "seal", "oil", "paint"])
@pytest.mark.parametrize(("maker", "spoils"), [("sweep", True), ("grind", True), ("wash", True), ("wet", False)])
def test_no_dust_and_no_spray_comes_on_what_another_puts_on(kind: str, maker: str, spoils: bool) -> None:
    """On the steps beside, while the patio is treated, sealed or oiled; what it leaves bears both at once."""
    laid = ON_PATIO | {"kind": kind, "fresh_to": []}
    for steps, rules in ((REAR, {9} if spoils else set()), ({"ground": "front"}, set())):
        tables = house({"laid": laid, "maker": {"surface": "steps", "kind": maker}}, hands=2, steps=steps)
        assert broken(tables, ("laid", 490), ("maker", 499)) == rules
        assert broken(tables, ("maker", 490), ("laid", 499)) == rules
        assert broken(tables, ("laid", 490), ("maker", 500)) == set()
        assert broken(tables, ("maker", 490), ("laid", 500)) == set()


@pytest.mark.parametrize(
    ("above", "said"),
    [
        (ON_WALL | {"kind": "wash"}, ON_PATIO),
        (ON_WALL | {"kind": "treat", "chemical": "acid"}, ON_WALL),
        (ON_GUTTER | {"kind": "clear"}, ON_WALL),
        (ON_PATIO | {"kind": "paint", "tags": ["ladder"]}, ON_PATIO),
    ],
    ids=["jet", "treatment", "dirt", "the site's ladder"],
)
def test_nobody_sees_to_kit_below_another(above: Tables, said: Tables) -> None:
    """One works above for ten minutes; another sets the saw up until 08:15 for what is below, or packs it down from
    08:20: five minutes each."""
    for below in (said, said | ON_DRIVE):
        tables = house({"above": above, "below": sawn(below)}, hands=2, gutter={"high": True})
        is_elsewhere = below["surface"] == "drive"
        assert seeing_to(tables, "set up", 490, ("below", 495), ("above", 505)) == set()
        assert seeing_to(tables, "set up", 490, ("above", 494), ("below", 504)) == (set() if is_elsewhere else {9})
        assert seeing_to(tables, "pack down", 500, ("below", 490), ("above", 505)) == set()
        assert seeing_to(tables, "pack down", 500, ("below", 490), ("above", 504)) == (set() if is_elsewhere else {9})


def test_kit_that_has_another_place_is_seen_to_there() -> None:
    """The saw is for a path out of reach too, or for the paving that is being jetted, which has an edge."""
    jet = ON_WALL | {"kind": "wash"}
    tables = house({"above": jet, "below": sawn(ON_PATIO), "far": sawn({"surface": "path"})}, hands=2, path=REAR)
    assert seeing_to(tables, "set up", 490, ("above", 490), ("below", 500), "far") == set()
    tables = house({"above": jet, "below": sawn(ON_PATIO)}, hands=2)
    assert seeing_to(tables, "set up", 490, ("above", 490), ("below", 500)) == {9}
    paving = house({"above": ON_PATIO | {"kind": "wash"}, "below": sawn(ON_PATIO)}, hands=2)
    assert seeing_to(paving, "set up", 490, ("above", 490), ("below", 500)) == set()


REAR: Tables = {"ground": "rear"}


def sawn(said: Tables) -> Tables:
    return said | {"kind": "x", "methods": {"hand": {"minutes": 10, "kit": ["saw"]}}}


Chores = Literal["set up", "pack down"]


def seeing_to(tables: Tables, what: Chores, start: int, *order: str | tuple[str, int]) -> set[int]:
    """The rules broken where the second hand sees to the saw from a minute on, for five."""
    tables["kit"]["saw"] = {"load": 0, "set_up": 5 * (what == "set up"), "pack_down": 5 * (what == "pack down")}
    day, plan = planned(tables, *order)
    [stay] = plan.stays
    stay = replace(stay, carried_in=min(stay.carried_in, start), carried_out=max(stay.carried_out, start + 5))
    chore = Chore(what, "elm", 1, stay.ground, ("hand1",), start, start + 5, "saw", 1)
    return {breach.rule for breach in broken_rules(day, replace(plan, stays=(stay,), chores=(chore,)))}


# --- sheets ---------------------------------------------------------------------------------------------------


def sheeted(**said: Any) -> Tables:
    ways = {"hand": {"minutes": 10, "kit": ["sheets"]}}
    cover = ON_WALL | {"methods": ways} | said
    return house({"cover": cover, "treat": ON_WALL | {"after": ["cover"]}, "rinse": ON_WALL | {"after": ["treat"]}})


def test_sheets_stay_until_all_that_they_are_for_is_over() -> None:
    everything = ("cover", "treat", "rinse")  # 08:10, 08:20 and 08:30, each ten minutes
    assert broken(sheeted(), *everything, gone={"sheets": 520}) == set()
    assert broken(sheeted(), *everything, gone={"sheets": 519}) == {4}
    assert broken(sheeted(stays_for=["treat"]), *everything, gone={"sheets": 510}) == set()
    assert broken(sheeted(stays_for=["treat"]), *everything, gone={"sheets": 509}) == {4}
    assert broken(sheeted(stays_for=[]), *everything, gone={"sheets": 500}) == set()


FENCE: Tables = {
    "cover": ON_WALL | {"methods": {"hand": {"minutes": 10, "kit": ["sheets"]}}, "lies_on": ["patio"]},
    "coat": ON_WALL | {"after": ["cover"], "kind": "work"},
    "wash": ON_PATIO,
}


def test_what_lies_under_sheets_is_worked_before_they_are_laid_or_once_they_are_up() -> None:
    tables = house(FENCE, wall={"worked_from": []}, hands=2)
    assert broken(tables, "wash", "cover", "coat", gone={"sheets": 520}) == set()
    assert broken(tables, "cover", "coat", "wash", gone={"sheets": 510}) == set()
    assert broken(tables, "cover", "wash", "coat", gone={"sheets": 520}) == {4}
    assert broken(tables, "cover", "coat", ("wash", 500), gone={"sheets": 510}) == {4}  # at once
    assert broken(tables, "cover", "coat", "wash", gone={"sheets": 515}) == {4}  # they are only taken up then


def test_sheets_without_kit_of_ours_lie_until_what_they_are_for_is_over() -> None:
    tables = house(FENCE | {"cover": FENCE["cover"] | {"methods": {"hand": {"minutes": 10}}}}, wall={"worked_from": []})
    assert broken(tables, "wash", "cover", "coat") == set()
    assert broken(tables, "cover", "wash", "coat") == {4}


def test_sheets_are_not_laid_on_what_waits() -> None:
    """A treatment stands on the patio from 08:20 until it is washed: nobody lays sheets on it."""
    stages = FENCE | {"treat": ON_PATIO}
    wait: Tables = {"after": "treat", "before": "wash", "kind": "dwell", "least": 10}
    tables = house(stages, waits=(wait,), wall={"worked_from": []})
    assert broken(tables, "treat", ("wash", 510), "cover", "coat", gone={"sheets": 540}) == set()
    assert broken(tables, "treat", "cover", "coat", ("wash", 520), gone={"sheets": 520}) == {8}


@pytest.mark.parametrize(
    ("wet", "reaches"),
    [
        (ON_PATIO | {"kind": "wash"}, True),  # a jet travels over the ground
        (ON_PATIO | {"kind": "flush"}, False),  # mere water runs down, and goes nowhere else
        (ON_PATIO | {"kind": "wash", "spares": ["wall"]}, False),
        (ON_DRIVE | {"kind": "wash"}, False),
        (ON_WALL | {"kind": "wash"}, True),
        (ON_PATIO | {"kind": "sweep"}, False),
    ],
    ids=["jet beside", "water beside", "spared", "other ground", "itself", "broom"],
)
def test_what_must_be_dry_is_not_begun_after_a_jet_beside_it(wet: Tables, reaches: bool) -> None:
    """Dry for an hour: wood is oiled dry."""
    tables = house({"wet": wet, "coat": ON_WALL | {"kind": "work", "dry_for": 60}}, wall={"worked_from": []})
    assert broken(tables, "wet", ("coat", 560)) == set()
    assert broken(tables, "coat", "wet") == set()
    assert broken(tables, "wet", ("coat", 559)) == ({9} if reaches else set())


def test_where_its_own_surface_is_washed_the_wait_for_drying_counts() -> None:
    """A measured deck may be oiled as soon as its wait says so, and nothing else there may have wetted it."""
    wait: Tables = {"after": "wash", "before": "coat", "kind": "dry", "least": 20}
    stages = {"wash": ON_PATIO, "coat": ON_PATIO | {"dry_for": 60}, "rinse": ON_WALL}
    tables = house(stages, waits=(wait,), wall={"worked_from": []})
    assert broken(tables, "rinse", ("wash", 540), ("coat", 570)) == set()
    assert broken(tables, "rinse", ("wash", 510), ("coat", 540)) == {9}


def test_sheets_are_there_before_what_they_are_for() -> None:
    tables = sheeted(stays_for=["treat", "rinse"])
    tables["jobs"]["elm"]["stages"]["treat"]["after"] = []
    assert broken(tables, "treat", "cover", "rinse", gone={"sheets": 520}) == {4}


def test_sheets_that_cover_serve_nothing_else() -> None:
    tables = sheeted()
    tables["jobs"]["elm"]["stages"]["carry"] = {
        "surface": "patio", "kind": "work", "methods": {"hand": {"minutes": 10, "kit": ["sheets"]}},
    }  # fmt: skip
    assert broken(tables, "cover", "treat", "carry", "rinse", gone={"sheets": 530}) == {4}
    assert broken(tables, "cover", "treat", "rinse", "carry", gone={"sheets": 530}) == set()


# --- rain and the other limits --------------------------------------------------------------------------------


def with_weather(tables: Tables, **at_nine: Any) -> Tables:
    """The same weather all day but for what is said of the hour from 09:00."""
    hours = [{"minute": minute} | HOUR for minute in range(420, 1081, 60)]
    hours[2] |= at_nine
    return tables | {"weather": hours}


def test_a_layer_and_the_one_that_covers_it_lie_on_one_side_of_the_rain() -> None:
    tables = with_weather(house(JOINTS), rain_chance=0.7)
    assert broken(tables, *LAYERS) == set()  # over at 08:50
    assert broken(tables, "fill-1", "compact-1", ("fill-2", 600), "compact-2") == {10}
    assert broken(tables, "fill-1", ("compact-1", 600), "fill-2", "compact-2") == {10}
    assert broken(tables, ("fill-1", 600), "compact-1", "fill-2", "compact-2") == set()
    dry = with_weather(house(JOINTS), rain_chance=0.4)
    assert broken(dry, "fill-1", "compact-1", ("fill-2", 600), "compact-2") == set()


def test_compaction_does_not_run_into_the_rain() -> None:
    tables = with_weather(house({"compact": ON_PATIO}), rain_chance=0.7)
    assert broken(tables, ("compact", 530)) == set()
    assert broken(tables, ("compact", 531)) == {10}
    tables["jobs"]["elm"]["stages"]["compact"]["dry_after"] = 20
    assert broken(tables, ("compact", 511)) == {10}
    assert broken(tables, ("compact", 510)) == set()


@pytest.mark.parametrize(
    ("need", "weather"),
    [
        ({"stopped_by_rain": True}, {"rain_chance": 0.6}),
        ({"coldest": 10.0}, {"air": 9.0}),
        ({"hottest": 20.0}, {"air": 15.0, "sun": True}),  # in the sun 10 C more than the air
        ({"windiest": 20.0}, {"wind": 60.0}),
        ({"above_dew": 3.0}, {"humidity": 0.95}),  # the dew point is 0.8 C below the air (Magnus's formula)
    ],
    ids=["rain", "coldest", "hottest", "wind", "dew"],
)
def test_every_limit_of_the_weather_is_read(need: Tables, weather: Tables) -> None:
    tables = with_weather(house({"prune": ON_PATIO | need}), **weather)
    assert broken(tables, ("prune", 545)) == {10}
    assert broken(tables, ("prune", 600)) == set()


@pytest.mark.parametrize("up", [{"methods": {"up": {"minutes": 10, "kit": ["ladder"]}}}, {"tags": ["ladder"]}])
def test_a_ladder_has_a_limit_of_wind_unless_its_stage_says_its_own(up: Tables) -> None:
    """30 km/h where the stage says nothing: force 5 begins at 29 (common practice, no source)."""
    for wind, own, rules in ((31.0, {}, {10}), (30.0, {}, set()), (31.0, {"windiest": 40.0}, set())):
        tables = with_weather(house({"look": ON_GUTTER | {"makes": []} | up | own}), wind=wind)
        assert broken(tables, ("look", 545)) == rules
        assert broken(tables, ("look", 600)) == set()


def test_dry_after_closes_the_time_before_rain() -> None:
    tables = with_weather(house({"prune": ON_PATIO | {"stopped_by_rain": True, "dry_after": 30}}), rain_chance=0.6)
    assert broken(tables, ("prune", 500)) == set()  # over at 08:30
    assert broken(tables, ("prune", 501)) == {10}


def test_dry_for_closes_the_time_after_rain() -> None:
    tables = house({"coat": ON_WALL | {"dry_for": 60}})
    tables["weather"] = [{"minute": minute, **HOUR, "rain_chance": chance} for minute, chance in ((480, 0.9), (540, 0))]
    assert broken(tables, ("coat", 600)) == set()
    assert broken(tables, ("coat", 599)) == {10}


def test_what_lies_in_the_shade_is_as_cool_as_the_air() -> None:
    stages = {"prune": ON_PATIO | {"hottest": 20.0}}
    sunny = with_weather(house(stages), sun=True)
    shaded = with_weather(house(stages, patio={"shaded": True}), sun=True)
    assert broken(sunny, ("prune", 545)) == {10}
    assert broken(shaded, ("prune", 545)) == set()
