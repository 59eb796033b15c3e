"""Days that were once called proven best though the work was ruined or somebody was hurt, by what must not happen.

What went wrong on them is told in `tests.engine.ruined`, line by line, with the tests that ask for it; those that no
other module asks are here. Each asks it of the first plan and of a better one, from the times of the works, whatever
those are. The judgements are those of the trade (common practice, no source).
"""

import ast
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from planner.day import Day
from planner.day.sections import in_sections
from planner.engine import first_plan, plan_day
from planner.engine.build import build
from planner.engine.index import Index
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan, Work
from planner.trade.library import library
from tests.engine.planned_samples import planned_sample
from tests.engine.ruined import LINES
from tests.engine.rule_days import away_for_the_wash, water_first
from tests.engine.test_fresh_work import FRONT, PATIO, REAR, WALL, by_hand, day_of, share_time
from tests.engine.test_patches import spans, waited
from tests.trade.measures import measures_for

Tables = dict[str, Any]

TESTS = Path(__file__).parents[1]

HOUSE: Tables = {"supplies": REAR["supplies"], "way_in": {"minutes": "2 min", "restricted": True, "load_limit": 2.0}}
"""The rear, through the house."""


def plans(day: Day) -> list[Plan]:
    """The first plan of a day and a better one; both keep every rule, and none that the engine found was refused."""
    better = plan_day(day, seconds=1.0)
    assert better.refused == ()
    found = [plan for plan in (first_plan(day), better.plan) if plan is not None]
    assert found
    assert all(broken_rules(day, plan) == [] for plan in found)
    return found


def works_of(plan: Plan) -> dict[str, Work]:
    return {work.stage: work for work in plan.works}


def hours(**at: Tables) -> list[Tables]:
    """A dry, mild day, but for what is said of hours such as ``h10``."""
    mild = {"air": 15, "humidity": 0.6, "wind": 8, "rain": 0.0}
    return [{"time": f"{hour:02d}:00", **mild, **at.get(f"h{hour}", {})} for hour in range(6, 21)]


@pytest.mark.parametrize("line", LINES)
def test_each_line_has_its_tests(line: str) -> None:
    assert LINES[line]
    for named in LINES[line]:
        file, _, name = named.partition("::")
        tree = ast.parse((TESTS / file).read_text("utf-8"))
        assert name in {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}, named


# --- layers and the rain -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("recipe", ["clean-and-repoint-patio", "grind-and-refill-joints"])
def test_compaction_by_recipe_does_not_run_into_the_rain(recipe: str) -> None:
    """Rain from ten to eleven. The first layer must be down an hour before, the second, that stays, two."""
    day = day_of([{**PATIO, "recipe": recipe, "area": "2 m2", "ground": "rear"}], weather=hours(h10={"rain": 0.9}))
    for plan in plans(day):
        works = works_of(plan)
        for key, dry in (("compact-1", 60), ("compact-2", 120)):
            assert works[key].end <= 600 - dry or works[key].start >= 660
        for layer, cover in pairwise(("fill-1", "compact-1", "fill-2", "compact-2")):
            assert works[cover].end <= 600 or works[layer].start >= 660


def test_no_shower_falls_on_a_layer_that_is_not_covered_yet() -> None:
    """A shower from nine to ten, and an hour and a half at the least from the one layer to the other: filled at 08:10
    and compacted at ten, either would lie dry while it is worked, and the first would be washed out between."""
    fresh = {"fill": {"surface": "patio"}, "compact": {"surface": "patio"}}
    waits = [{"after": "fill", "before": "compact", "kind": "order", "least": 90}]
    tables = by_hand(fresh, waits=waits, patio={}).model_dump(by_alias=True, exclude_none=True)
    for plan in plans(Day.model_validate(tables | {"weather": hours(h9={"rain": 0.9})})):
        works = works_of(plan)
        assert works["compact"].end <= 540 or works["fill"].start >= 600


def test_no_sand_is_swept_into_blocks_that_a_shower_has_wetted() -> None:
    """Dry from ten by the recipe's least, were it not for the shower from nine to ten: two hours after that, then."""
    drive = {"recipe": "wash-and-sand-blocks", "ground": "front", "area": "4 m2"}
    for plan in plans(day_of([drive], weather=hours(h9={"rain": 0.9}))):
        works = works_of(plan)
        assert works["sand-1"].end <= 540 or works["sand-1"].start >= 600 + 120


# --- treatments: every patch, and what is left of them -------------------------------------------------------------


def test_every_patch_of_a_treated_drive_by_recipe_stands_within_its_bounds() -> None:
    """60 m2 are sprayed in 36 minutes and washed in more than an hour; the label allows 15 to 45."""
    day = in_sections(day_of([{"recipe": "treat-drive", "ground": "front", "area": "60 m2"}]))
    for plan in plans(day):
        assert len(spans(day, plan, "elm", "treat")) > 1
        assert all(15 <= minutes <= 45 for minutes in waited(day, plan, "elm", "treat", "wash"))


def test_water_is_fetched_before_the_acid_is_opened_and_not_while_it_dwells() -> None:
    """One trip takes the sprayer or the can: the dwell would be filled with the second."""
    for plan in plans(water_first()):
        [can] = [c for c in plan.crossings if any(x.what == "water" for x in c.carried_in)]
        assert can.start + 5 <= works_of(plan)["acid"].start


def test_the_rest_of_the_can_does_not_stay_behind_the_house() -> None:
    """8 m2 at 0.3 L/m2 of 2 % out of 14 % are 0.34 L: of cans of 5 L all that was brought goes out again but that."""
    day = day_of([WALL | {"worked_from": []}], grounds={"rear": HOUSE})
    assert day.materials["hypochlorite"].holds_litres == 5
    for plan in plans(day):
        came = sum(x.count for c in plan.crossings for x in c.carried_in if x.what == "hypochlorite")
        out = [x for c in plan.crossings for x in c.carried_out if x.what == "hypochlorite"]
        assert came == sum(x.count for x in out) > 0
        litres = sum(5 * x.count * (1.0 if x.rest is None else x.rest) for x in out)
        assert litres == pytest.approx(5 * came - 8 * 0.3 * 2 / 14, abs=0.06)


# --- what is finished ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("recipe", "below"), [("treat-steps", "steps"), ("treat-drive", "drive")])
def test_no_wall_is_rinsed_onto_what_it_drains_to_once_that_is_washed(recipe: str, below: str) -> None:
    wall = {**WALL, "ground": "front", "worked_from": [], "drains_to": [below]}
    for plan in plans(day_of([{"recipe": recipe, "ground": "front", "area": "4 m2"}, wall])):
        works = works_of(plan)
        last = works.get("rinse", works["wash"])
        assert works["wall-rinse"].end <= last.start


def wall_over_paving(**said: Any) -> Day:
    """Two hands at a wall and a drive of one ground, both by recipe; nothing is said of which is below."""
    wall = {"recipe": "treat-wall", "prefix": "wall", "ground": "front", "area": "4 m2"} | said
    return day_of([{"recipe": "treat-drive", "ground": "front", "area": "4 m2"}, wall], hands=2)


def test_a_wall_by_recipe_stands_over_the_paving_of_its_ground() -> None:
    """Nobody is on the drive while the wall above it is washed, sprayed or rinsed, and it is rinsed after that."""
    for plan in plans(wall_over_paving()):
        works = works_of(plan)
        above = [works[key] for key in ("wall-wash", "wall-treat", "wall-rinse")]
        below = [works[key] for key in ("sweep", "treat", "wash", "rinse")]
        assert not any(share_time(one, other) for one in above for other in below)
        assert max(work.end for work in above) <= works["rinse"].start


@pytest.mark.parametrize(
    ("moved", "by", "word"),
    [("wall-treat", "wash", "is within reach of"), ("wall-rinse", "rinse", "runs or falls onto 'drive'")],
    ids=["below another", "once it is clean"],
)
def test_the_checker_knows_what_a_wall_by_recipe_stands_over(moved: str, by: str, word: str) -> None:
    """The wall is sprayed while the drive is washed, or rinsed once that is done; a wall elsewhere may be."""
    day, elsewhere = wall_over_paving(), wall_over_paving(drains_to=[])
    plan = first_plan(day)
    assert plan is not None
    works = works_of(plan)
    late = works[by].start if moved == "wall-treat" else works[by].end
    work = replace(works[moved], start=late, end=late + works[moved].end - works[moved].start)
    changed = replace(plan, works=tuple(work if w.stage == moved else w for w in plan.works))
    assert any(word in rule.text for rule in broken_rules(day, changed))
    assert not any(word in rule.text for rule in broken_rules(elsewhere, changed))


@pytest.mark.parametrize(("recipe", "hands"), [("soft-wash-render", 1), ("treat-wall", 2)])
def test_windows_are_rinsed_once_the_wall_that_they_are_in_is(recipe: str, hands: int) -> None:
    """Nobody is at the windows while the wall about them is sprayed or rinsed, and nothing runs over them after."""
    wall = {"recipe": recipe, "prefix": "w", "ground": "front", "area": "12 m2"}
    windows = {"recipe": "rinse-windows", "prefix": "glass", "ground": "front", "area": "4 m2"}
    day = in_sections(day_of([windows, wall], hands=hands))
    for plan in plans(day):
        works = works_of(plan)
        at_the_wall = [work for key, work in works.items() if key.startswith("w-") and key != "w-cover"]
        assert len(at_the_wall) >= 2
        for work in at_the_wall:
            assert not share_time(work, works["glass-wash"])
            assert not share_time(work, works["glass-rinse"])
            if day.jobs["elm"].stages[work.stage].wets:
                assert work.end <= works["glass-rinse"].start
        assert works["glass-rinse"].start <= works["glass-wash"].end + 5, "soap has dried on the glass"


def test_nobody_kneels_at_a_stain_while_the_drive_about_it_is_sprayed() -> None:
    stain = {"recipe": "lift-oil-stains", "prefix": "oil", "ground": "front", "area": "1 m2"}
    day = in_sections(day_of([{"recipe": "treat-drive", "ground": "front", "area": "12 m2"}, stain], hands=2))
    for plan in plans(day):
        works = works_of(plan)
        kneeling = [work for key, work in works.items() if key.startswith("oil-")]
        spraying = [work for key, work in works.items() if key.split("_")[0] in ("treat", "wash")]
        assert len(kneeling) >= 3
        assert len(spraying) >= 2
        assert not any(share_time(one, other) for one in kneeling for other in spraying)
        for one in kneeling:  # nor while what was put on the drive about it works
            assert one.end <= works["treat"].start or one.start >= works["wash"].end


@pytest.mark.parametrize(
    ("paving", "extra"),
    [
        ("treat-drive", {}),
        ("wash-and-sand-blocks", {}),
        ("clean-and-repoint-patio", {"slab": "600 x 600 mm", "joint_width": "10 mm"}),
    ],
)
def test_oil_is_lifted_before_the_paving_that_it_is_in_is_washed(paving: str, extra: Tables) -> None:
    """The wash takes up what is left of oil and degreaser: nothing of that runs onto paving that is done."""
    stain = {"recipe": "lift-oil-stains", "prefix": "oil", "ground": "front", "area": "1 m2"}
    about = {"recipe": paving, "ground": "front", "area": "8 m2", **extra}
    for uses in ([about, stain], [stain, about]):
        for plan in plans(in_sections(day_of(uses))):
            oil = [work for work in plan.works if work.stage.startswith("oil-")]
            washes = [work for work in plan.works if work.stage.split("_")[0] in ("wash", "rinse", "wet", "sand-1")]
            assert len(oil) >= 3
            assert washes
            assert max(work.end for work in oil) <= min(work.start for work in washes)


def test_no_ladder_stands_where_somebody_jets() -> None:
    """It is used before the paving at its feet is washed and again after: it is down meanwhile, and put up again."""
    for plan in plans(away_for_the_wash()):
        wash = works_of(plan)["wash"]
        ups, downs = ([c for c in plan.chores if c.what == what] for what in ("set up", "pack down"))
        assert len(ups) == len(downs) == 2
        for up, down in zip(ups, downs, strict=True):
            assert down.end <= wash.start or up.start >= wash.end


def test_fascias_are_rinsed_before_the_soap_dries() -> None:
    fascia = {"recipe": "clean-fascias", "prefix": "fascia", "ground": "rear", "run": "6 m"}
    gutter = {"recipe": "reseal-gutter-joints", "prefix": "gutter", "ground": "rear", "run": "6 m"}
    for plan in plans(in_sections(day_of([fascia, gutter], hands=2))):
        works = works_of(plan)
        assert works["fascia-rinse"].start <= works["fascia-wash"].end + 10
        assert works["gutter-dry"].end <= works["fascia-rinse"].start


def test_oil_is_lifted_after_the_wash_where_the_job_says_so() -> None:
    stain = {"recipe": "lift-oil-stains", "prefix": "oil", "ground": "front", "area": "1 m2", "after": ["rinse"]}
    day = in_sections(day_of([{"recipe": "treat-drive", "ground": "front", "area": "8 m2"}, stain]))
    for plan in plans(day):
        works = works_of(plan)
        assert works["rinse"].end <= works["oil-absorb"].start


@pytest.mark.parametrize("above", ["clean-fascias", "clear-gutters"])
def test_no_channel_is_flushed_before_what_stands_above_it_is_cleared(above: str) -> None:
    channel = {"recipe": "clear-channel-drains", "prefix": "channel", "ground": "rear", "run": "4 m"}
    uses = [channel, {"recipe": above, "prefix": "above", "ground": "rear", "run": "6 m"}]
    for plan in plans(in_sections(day_of(uses))):
        works = works_of(plan)
        over = [work for key, work in works.items() if key.startswith("above-") and not key.endswith("-check")]
        assert over
        assert max(work.end for work in over) <= works["channel-flush"].start


@pytest.mark.parametrize("recipe", ["clear-gutters", "reseal-gutter-joints", "fit-gutter-guard"])
def test_no_moss_is_scraped_into_a_gutter_that_is_done(recipe: str) -> None:
    """The gutter is written first; but for a job that says so itself, moss comes down before anything is done to it."""
    edge = {"recipe": "scrape-roof-edge", "prefix": "edge", "ground": "rear", "run": "4 m"}
    gutter = {"recipe": recipe, "prefix": "gutter", "ground": "rear", "run": "4 m"}
    for plan in plans(in_sections(day_of([gutter, edge]))):
        works = works_of(plan)
        first = min(work.start for key, work in works.items() if key.startswith("gutter-"))
        assert works["edge-scrape"].end <= first
    if recipe == "clear-gutters":  # what is resealed bears no moss
        for plan in plans(in_sections(day_of([gutter, edge | {"after": ["gutter-clear"]}]))):
            works = works_of(plan)
            assert works["gutter-clear"].end <= works["edge-scrape"].start


@pytest.mark.parametrize("prefix", [{}, {"prefix": "later"}])
@pytest.mark.parametrize(("recipe", "last"), [("reseal-gutter-joints", "dry"), ("fit-gutter-guard", "check")])
def test_joints_of_a_gutter_are_dried_and_guards_fitted_once_it_is_cleared_and_flushed(
    recipe: str, last: str, prefix: dict[str, str]
) -> None:
    """What is resealed is written first; nobody flushes through fresh joints, or clears below a guard."""
    clear = {"recipe": "clear-gutters", "ground": "rear", "run": "4 m", "conditions": ["blocked downpipe"]}
    first = "-".join([*prefix.values(), last])
    later = {"recipe": recipe, "ground": "rear", "run": "4 m", **prefix}
    for plan in plans(in_sections(day_of([later, clear], hands=2))):
        works = works_of(plan)
        assert works["clear"].end <= works["flush"].start
        assert works["flush"].end <= works[first].start


def test_nobody_gathers_moss_below_anothers_gutter() -> None:
    """Both are high up on one ground, so what falls from the one falls on who stands below the other."""
    edge = {"recipe": "scrape-roof-edge", "prefix": "edge", "ground": "rear", "run": "6 m"}
    gutter = {"recipe": "clear-gutters", "prefix": "gutter", "ground": "rear", "run": "6 m"}
    for plan in plans(in_sections(day_of([edge, gutter], hands=2))):
        works = works_of(plan)
        assert not share_time(works["edge-clear"], works["gutter-clear"])
        assert not share_time(works["edge-scrape"], works["gutter-clear"])


def test_sunken_blocks_are_laid_on_sand_in_a_yard_that_is_washed() -> None:
    """It can be done in a day, and nothing is jetted from the bed being dug until the blocks lie with sanded joints."""
    sunken = {"recipe": "relay-sunken-paving", "prefix": "sunken", "ground": "rear", "area": "1 m2"}
    yard = {"recipe": "treat-drive", "prefix": "yard", "ground": "rear", "area": "12 m2"}
    for plan in plans(in_sections(day_of([sunken | {"conditions": ["blocks on sand"]}, yard], hands=2))):
        works = works_of(plan)
        for jet in (works["yard-wash"], works["yard-rinse"]):
            assert jet.end <= works["sunken-bed"].start or works["sunken-bed"].end + 60 <= jet.start
            assert jet.end <= works["sunken-lay-blocks"].start
        assert works["sunken-lay-blocks"].end <= works["sunken-settle"].start <= works["sunken-joints"].start


def test_no_salts_are_brushed_off_dry_from_a_wall_that_was_wetted_from_above() -> None:
    """Fascias are rinsed above a salted wall: wet brick shows no salts, and they go back into it."""
    salts = {"recipe": "remove-efflorescence", "prefix": "salts", "ground": "rear", "area": "6 m2"}
    fascia = {"recipe": "clean-fascias", "prefix": "fascia", "ground": "rear", "run": "6 m"}
    for plan in plans(in_sections(day_of([fascia, salts]))):
        works = works_of(plan)
        for wet in ("fascia-wash", "fascia-rinse"):
            assert works["salts-brush"].end <= works[wet].start or works[wet].end + 240 <= works["salts-brush"].start
            assert works[wet].end <= works["salts-rinse-again"].start, "it runs down a wall that is finished"


def test_dust_does_not_lie_for_half_an_hour_nor_get_wet() -> None:
    use = {**PATIO, "recipe": "grind-and-refill-joints", "area": "3 m2", "ground": "rear"}
    for plan in plans(day_of([use, WALL | {"worked_from": ["paving"]}])):
        works = works_of(plan)
        assert 0 <= works["sweep"].start - works["grind"].end <= 30
        for wet in ("wet", "wall-rinse", "wall-treat"):
            assert works["sweep"].end <= works[wet].start or works[wet].end <= works["grind"].start
        assert works["sweep"].end <= works["wall-rinse"].start


def test_dust_of_a_day_by_hand_is_taken_up_before_anything_there_gets_wet() -> None:
    """The day says no more than that it is swept after it is cut: no most, and no order with what wets."""
    stages = {
        "rinse-wall": {"surface": "wall"},
        "wash": {"surface": "patio"},
        "grind": {"surface": "patio"},
        "sweep": {"surface": "patio", "after": ["grind"]},
    }
    for plan in plans(by_hand(stages, patio={}, wall={"stood_on": False, "worked_from": ["patio"]})):
        works = works_of(plan)
        assert works["grind"].end <= works["sweep"].start
        assert works["sweep"].end <= min(works["rinse-wall"].start, works["wash"].start)


@pytest.mark.parametrize("after", ["wash-blocks", "fill-1"])
def test_no_gutter_is_cleared_onto_what_is_washed_or_between_layers(after: str) -> None:
    """The yard of a day by its forecast, and the whole house; each once had it so."""
    name, gutter = ("by_the_forecast", "clear") if after == "wash-blocks" else ("one_house", "rear-gutter-clear")
    day, result = planned_sample(name)
    assert result.plan is not None
    [job] = day.jobs.values()
    [clear] = [w for w in result.plan.works if w.stage == gutter]
    below = [w for w in result.plan.works if job.ground_of(w.stage) == job.ground_of(gutter)]
    wet = [w for w in below if job.stages[w.stage].cleans and w.stage != gutter]
    assert wet
    for surface in {job.stages[w.stage].surface for w in wet}:
        assert clear.end <= max(w.start for w in wet if job.stages[w.stage].surface == surface)
    for fresh in (w for w in below if job.stages[w.stage].spoiled_while_fresh_by):
        assert clear.end <= fresh.start


def test_nothing_falls_on_a_section_that_is_washed_though_another_is_washed_later() -> None:
    """The gutter is cleared at ten at the soonest: with the first half washed before that, its dirt would lie there."""
    way = {"minutes": 20}
    stages = {
        "treat": {"surface": "deck", "methods": {"hand": way}},
        "wash": {"surface": "deck", "methods": {"hand": way}},
        "clear": {"surface": "gutter", "not_before": 600},
        "prune": {"surface": "hedge", "starts_at": 490},
    }
    dwell = {"after": "treat", "before": "wash", "kind": "dwell", "order": "same", "least": 5, "most": 15}
    gutter = {"stood_on": False, "high": True}
    day = in_sections(by_hand(stages, waits=[dwell], deck={"area": 20}, gutter=gutter, hedge=gutter | {"high": False}))
    for plan in plans(day):
        works = works_of(plan)
        washed = [work for key, work in works.items() if key.startswith("wash")]
        assert len(washed) > 1
        assert works["clear"].end <= min(work.start for work in washed)
        first = min(washed, key=lambda work: work.start)
        late = replace(works["clear"], start=first.end, end=first.end + 10)
        changed = replace(plan, works=tuple(late if w.stage == "clear" else w for w in plan.works))
        assert any("runs or falls onto 'deck'" in rule.text for rule in broken_rules(day, changed))


def test_no_acid_is_opened_before_what_holds_hypochlorite_was_rinsed_for_the_last_time() -> None:
    """A wall and, apart from it, a drive that drains to the same channel: the drive is washed at once, and rinsed again
    from ten on. Acid is put on the wall after that; or before all of it, with its own rinse over."""
    stages = {
        "treat": {"surface": "drive", "chemical": "hypochlorite"},
        "wash": {"surface": "drive", "rinses": True, "after": ["treat"]},
        "rinse": {"surface": "drive", "rinses": True, "after": ["wash"], "not_before": 600},
        "acid": {"surface": "wall", "chemical": "acid"},
        "rinse-wall": {"surface": "wall", "rinses": True, "after": ["acid"]},
    }
    channel = {"drains_to": ["channel"]}
    for late in (490, 495):  # the acid may come first, or has to come after
        stages["acid"]["not_before"] = late
        stages["treat"] |= {} if late == 490 else {"not_after": 500}
        for plan in plans(by_hand(stages, drive=channel, wall=channel | {"stood_on": False}, channel={})):
            works = works_of(plan)
            is_last = works["acid"].start >= works["treat"].end
            assert is_last or late == 490
            if is_last:
                assert works["acid"].start >= max(works["wash"].end, works["rinse"].end)
            else:
                assert works["treat"].start >= works["rinse-wall"].end


@pytest.mark.parametrize("below", ["treat-drive", "treat-steps", "lift-oil-stains"])
def test_acid_above_what_it_must_never_meet_is_rinsed_off_that_first(below: str) -> None:
    """Hypochlorite on a drive or steps, alkali on a stain.

    Both by our recipes on one day: no reason to refuse it, as long as no acid is left where the other is opened.
    """
    salts = {"recipe": "remove-efflorescence", "prefix": "salts", "ground": "front", "area": "5 m2"}
    day = in_sections(day_of([salts, {"recipe": below, "prefix": "low", "ground": "front", "area": "3 m2"}]))
    for plan in plans(day):
        works = works_of(plan)
        assert works["salts-rinse-again"].end <= works["low-rinse-first"].start
        treated = [work.start for key, work in works.items() if key.split("_")[0] in ("low-treat", "low-degrease")]
        assert treated
        assert works["low-rinse-first"].end <= min(treated)


@pytest.mark.parametrize("above", ["treat-wall", "clean-fascias", "remove-efflorescence elsewhere"])
def test_a_drive_is_not_rinsed_first_for_nothing(above: str) -> None:
    """Not where the same is put on above, mere soap, or acid on another ground, or where the wall drains elsewhere."""
    name, _, elsewhere = above.partition(" ")
    measure = {"run": "5 m"} if name == "clean-fascias" else {"area": "5 m2"}
    use = {"recipe": name, "prefix": "above", "ground": "rear" if elsewhere else "front", **measure}
    drive = {"recipe": "treat-drive", "ground": "front", "area": "10 m2"}
    assert "rinse-first" not in day_of([use, drive]).jobs["elm"].stages
    salts = {"recipe": "remove-efflorescence", "prefix": "salts", "ground": "front", "area": "5 m2"}
    assert "rinse-first" in day_of([salts, drive]).jobs["elm"].stages
    assert "rinse-first" not in day_of([salts | {"drains_to": []}, drive]).jobs["elm"].stages


def test_what_drains_by_way_of_something_else_is_rinsed_off_too() -> None:
    """Acid on a wall runs over a ledge onto the drive, where bleach is put: the drive itself is rinsed between."""
    stages = {
        "acid": {"surface": "wall", "chemical": "acid"},
        "rinse-wall": {"surface": "wall", "rinses": True, "after": ["acid"]},
        "rinse-drive": {"surface": "drive", "rinses": True, "not_before": 600},
        "treat": {"surface": "drive", "chemical": "hypochlorite", "after": ["rinse-wall"]},
        "wash": {"surface": "drive", "rinses": True, "after": ["treat"]},
    }
    high = {"stood_on": False, "drains_to": ["ledge"]}
    for plan in plans(by_hand(stages, wall=high, ledge={"stood_on": False, "drains_to": ["drive"]}, drive={})):
        works = works_of(plan)
        assert works["acid"].end <= works["rinse-drive"].start
        assert works["rinse-drive"].end <= works["treat"].start


# --- sheets --------------------------------------------------------------------------------------------------------

SHEETED = {
    name: [key for key, stage in recipe["stages"].items() if stage["kind"] == "cover"]
    for name, recipe in library().recipes.items()
    if any(stage["kind"] == "cover" for stage in recipe["stages"].values())
}
"""The recipes with sheets, and the stages that lay them."""


@pytest.mark.parametrize("recipe", SHEETED)
def test_sheets_lie_until_the_last_that_they_are_for(recipe: str) -> None:
    """Not packed before the treatment, the rinse or the coat that they are laid for, and not laid after it."""
    shipped = library().recipes[recipe]["stages"]
    when = [shipped[key]["when"][0] for key in SHEETED[recipe] if "when" in shipped[key]]
    measures = measures_for(recipe) | ({"area": "1 m2"} if "area" in measures_for(recipe) else {})
    day = in_sections(day_of([{"recipe": recipe, "ground": "rear", **measures, "conditions": when}]))
    stages = day.jobs["elm"].stages
    plan = first_plan(day)
    assert plan is not None
    assert broken_rules(day, plan) == []
    for key in SHEETED[recipe]:
        laid = works_of(plan)[key]
        [sheets] = [s for s in plan.stays if (s.kit, s.number) in laid.stays]
        [packing] = [c for c in plan.chores if c.what == "pack down" and (c.kit, c.stay) in laid.stays]
        assert packing.end - packing.start >= 1, "sheets are taken in by somebody, in some minutes"
        gone = min(sheets.carried_out, packing.start)
        named = stages[key].stays_for or [k for k, s in stages.items() if k not in SHEETED[recipe]]
        for work in plan.works:
            part = stages[work.stage].part
            if work.stage in named or (part is not None and part.of in named):
                assert laid.end <= work.start
                assert work.end <= gone


# --- people --------------------------------------------------------------------------------------------------------


def on_a_ladder(*, weather: list[Tables] | None = None, tag: bool = False) -> Day:
    """Two hands: one at a gutter from a ladder, kit of ours or a tag of the stage; the other has work below."""
    way = {"minutes": 20, "kit": [] if tag else ["ladder"]}
    look = {"surface": "gutter", "makes": [], "methods": {"up": way}, "tags": ["ladder"] if tag else []}
    stages = {"look": look, "wash-wall": {"surface": "wall"}, "prune": {"surface": "path"}}
    beside = {"stood_on": False, "worked_from": ["path"]}
    made = by_hand(stages, hands=2, gutter=beside, path={}, wall=beside)
    tables = made.model_dump(by_alias=True, exclude_none=True)
    tables["kit"] = {"ladder": {"load": 0, "tags": ["ladder"]}}
    return Day.model_validate(tables | {"weather": weather or []})


@pytest.mark.parametrize("tag", [False, True], ids=["kit", "tag"])
def test_nobody_is_up_a_ladder_within_anothers_reach(tag: bool) -> None:
    """The ladder stands on the path, which is pruned, and over which the wall beside is washed."""
    for plan in plans(on_a_ladder(tag=tag)):
        works = works_of(plan)
        assert not share_time(works["look"], works["prune"])
        assert not share_time(works["look"], works["wash-wall"])


@pytest.mark.parametrize("tag", [False, True], ids=["kit", "tag"])
def test_nobody_goes_up_a_ladder_in_a_wind_that_moves_it(tag: bool) -> None:
    """Wind of 35 km/h until eleven (force 5 begins at 29): neither with our ladder, nor with one of the site."""
    wind = {f"h{hour}": {"wind": 35} for hour in range(6, 11)}
    for plan in plans(on_a_ladder(tag=tag, weather=hours(**wind))):
        assert works_of(plan)["look"].start >= 660


def test_no_kit_is_seen_to_below_anothers_spray_or_jet() -> None:
    """Render is treated and rinsed, and the drive below it is cleaned: nobody sets up or packs down kit for either
    under the spray, nor under the rinse."""
    render = {"recipe": "soft-wash-render", "prefix": "wall", "ground": "front", "area": "4 m2"}
    day = day_of([render, {"recipe": "treat-drive", "ground": "front", "area": "4 m2"}], hands=2)
    for plan in plans(day):
        above = [w for w in plan.works if w.stage in ("wall-treat", "wall-rinse")]
        assert len(above) == 2
        chores = [c for c in plan.chores if c.what in ("set up", "pack down")]
        assert len(chores) >= 4
        assert not any(c.start < w.end and w.start < c.end for c in chores for w in above)


def test_no_channel_lies_open_for_hours_where_somebody_walks() -> None:
    """Joints are cut beside it, dry, and then it is flushed: its gratings are lifted no sooner, and soon are back."""
    brick = {"recipe": "repoint-brickwork", "prefix": "brick", "ground": "rear", "area": "1 m2"}
    for plan in plans(day_of([brick, {"recipe": "clear-channel-drains", "ground": "rear", "run": "4 m"}])):
        works = works_of(plan)
        assert works["brick-grind"].end <= works["flush"].start
        assert works["flush"].start <= works["scoop"].end + 30
        assert works["refit"].start <= works["flush"].end + 30


@pytest.mark.parametrize("hands", [1, 2])
@pytest.mark.parametrize(
    "recipe", ["clean-and-repoint-patio", "wash-and-sand-blocks", "treat-drive", "grind-and-refill-joints"]
)
def test_a_channel_is_cleared_when_its_paving_is_washed_and_before_its_joints_are_filled(
    recipe: str, hands: int
) -> None:
    channel = {"recipe": "clear-channel-drains", "prefix": "channel", "ground": "rear", "run": "4 m"}
    paving = {"recipe": recipe, "prefix": "low", "ground": "rear", **measures_for(recipe)}
    day = in_sections(day_of([channel, paving], hands=hands))
    for plan in plans(day):
        works = works_of(plan)
        dirty = [w for w in works.values() if w.stage.split("_")[0] in ("low-grind", "low-wash", "low-rinse")]
        assert dirty
        assert max(w.end for w in dirty) <= works["channel-scoop"].start
        laid = ("low-fill", "low-sand", "low-compact", "low-settle")
        assert all(works["channel-flush"].end <= w.start for w in works.values() if w.stage.startswith(laid))


@pytest.mark.parametrize(
    ("above", "runs"),
    [("clear-gutters", ["clear"]), ("treat-wall", ["wash", "rinse"]), ("lift-oil-stains", ["scrub"]),
     ("scrape-roof-edge", ["scrape"]), ("clean-fascias", ["wash", "rinse"])],
)  # fmt: skip
def test_no_channel_lies_open_below_a_gutter_a_wall_or_beside_an_oil_stain(above: str, runs: list[str]) -> None:
    """What falls and runs there comes before it is scooped out, by two hands too; else it is flushed down the pipe."""
    channel = {"recipe": "clear-channel-drains", "prefix": "channel", "ground": "rear", "run": "4 m"}
    use = {"recipe": above, "prefix": "above", "ground": "rear", **measures_for(above)}
    for plan in plans(in_sections(day_of([channel, use], hands=2))):
        works = works_of(plan)
        dirty = [w for w in works.values() if w.stage.split("_")[0] in {f"above-{x}" for x in runs}]
        assert dirty
        assert max(w.end for w in dirty) <= works["channel-scoop"].start


def test_a_channel_is_flushed_onto_no_fence_and_onto_the_blocks_that_it_lies_in() -> None:
    """A hose in a channel: the fence across the yard is as dry as before; no sand goes into blocks that it wetted."""
    channel = {"recipe": "clear-channel-drains", "prefix": "channel", "ground": "rear", "run": "4 m"}
    fence = {"recipe": "treat-fence", "prefix": "fence", "ground": "rear", "area": "4 m2", "after": ["channel-refit"]}
    for plan in plans(day_of([channel, fence])):
        works = works_of(plan)
        assert works["channel-flush"].end <= works["fence-coat"].start < works["channel-flush"].end + 240
    blocks = {"recipe": "wash-and-sand-blocks", "prefix": "low", "ground": "rear", "area": "6 m2"}
    for plan in plans(in_sections(day_of([channel, blocks]))):
        works = works_of(plan)
        sanded = [w for w in plan.works if w.stage.startswith("low-sand")]
        assert sanded
        assert all(w.start >= works["channel-flush"].end + 120 for w in sanded)


@pytest.mark.parametrize("hands", [1, 2])
def test_no_acid_is_sprayed_beside_a_wall_that_hypochlorite_is_on(hands: int) -> None:
    """Two walls of one yard, neither of which drains onto the other: mist drifts, and what it gives is chlorine."""
    salts = {"recipe": "remove-efflorescence", "prefix": "salts", "ground": "rear", "area": "8 m2"}
    for plan in plans(in_sections(day_of([salts, WALL | {"worked_from": []}], hands=hands))):
        acid = [w for w in plan.works if w.stage.split("_")[0] == "salts-acid"]
        bleach = [w for w in plan.works if w.stage.split("_")[0] == "wall-treat"]
        off = {"salts-acid": "salts-rinse", "wall-treat": "wall-rinse"}
        assert acid
        assert bleach
        for on, others in ((acid, bleach), (bleach, acid)):
            for work in on:
                key, _, section = work.stage.partition("_")
                rinse = works_of(plan)["_".join(x for x in (off[key], section) if x)]
                assert not any(w.start < rinse.start and work.start < w.end for w in others)


def test_nobody_sweeps_or_jets_beside_what_another_seals_or_treats() -> None:
    """By hand, with no word of what spoils it, and what it leaves bears both: only while it is put on."""
    for kind in ("treat", "seal", "oil"):
        for dirty in ("sweep", "grind", "wash"):
            stages: Tables = {
                kind: {"surface": "path", "fresh_to": [], "by_hand": "hand0"},
                dirty: {"surface": "steps", "by_hand": "hand1"},
            }
            for plan in plans(by_hand(stages, hands=2, path={}, steps={})):
                assert not share_time(*plan.works), (kind, dirty)


def test_nobody_is_up_a_ladder_above_or_beside_anothers_pole_at_the_eaves() -> None:
    """One fits a guard in the gutter while the other would wash the fascia below it, by a pole from the ground."""
    guard = {"recipe": "fit-gutter-guard", "prefix": "guard", "ground": "rear", "run": "6 m"}
    fascia = {"recipe": "clean-fascias", "prefix": "fascia", "ground": "rear", "run": "6 m"}
    for plan in plans(day_of([guard, fascia], hands=2)):
        up = [w for w in plan.works if w.stage.startswith("guard")]
        assert not any(share_time(w, other) for w in up for other in plan.works if other.stage.startswith("fascia"))


@pytest.mark.parametrize(
    "behind", [{"recipe": "relay-sunken-paving", "area": "2 m2"}, {"recipe": "clear-gutters", "run": "8 m"}]
)
def test_no_rubble_is_carried_over_steps_that_are_washed(behind: Tables) -> None:
    """What lies behind them is done, and all of it carried out, before the steps that one goes over are washed."""
    way = {"minutes": "2 min", "over": ["step-steps"]}
    grounds = {"rear": REAR | {"way_in": way}, "front": FRONT}
    steps = {"recipe": "treat-steps", "prefix": "step", "ground": "front", "area": "4 m2"}
    for plan in plans(day_of([steps, behind | {"prefix": "far", "ground": "rear"}], grounds=grounds)):
        washed = works_of(plan)["step-wash"]
        legs = [leg for c in plan.crossings for leg in ((c.start, c.start + 2), (c.end - 2, c.end))]
        assert legs
        assert all(end <= washed.start or start >= washed.end + 60 for start, end in legs)
        assert all(w.end <= washed.start for w in plan.works if w.stage.startswith("far"))


@pytest.mark.parametrize("hands", [1, 2])
def test_no_dirt_comes_on_sealed_joints_of_a_gutter_nor_on_its_guard(hands: int) -> None:
    """Three pieces of work on one gutter, told in the worst order: cleared, its joints sealed, covered with a guard."""
    gutter = {"ground": "rear", "run": "6 m"}
    uses = [
        gutter | {"recipe": "fit-gutter-guard", "prefix": "guard"},
        gutter | {"recipe": "reseal-gutter-joints", "prefix": "joints"},
        gutter | {"recipe": "clear-gutters", "prefix": "leaves"},
    ]
    day = day_of(uses, hands=hands)
    wet = {"spray", "water"} & day.jobs["elm"].stages["guard-check"].nuisances
    assert not wet, "it is checked once its joints are sealed"
    for plan in plans(day):
        works = works_of(plan)
        assert works["leaves-clear"].end <= works["joints-seal"].start
        assert works["joints-seal"].end <= works["guard-fit"].start
        assert works["leaves-clear"].end <= works["guard-fit"].start


@pytest.mark.parametrize(
    "jetted", ["treat-drive", "clean-and-repoint-patio", "wash-and-sand-blocks", "lift-oil-stains"]
)
def test_nothing_is_jetted_below_windows_that_are_rinsed(jetted: str) -> None:
    """It spatters the glass: windows come after the paving below them, onto which they run clean, and once."""
    windows = {"recipe": "rinse-windows", "prefix": "glass", "ground": "rear", "area": "6 m2"}
    paving = {"recipe": jetted, "prefix": "low", "ground": "rear", **measures_for(jetted)} | (
        {} if jetted == "lift-oil-stains" else {"area": "6 m2"}
    )
    day = in_sections(day_of([windows, paving]))
    for plan in plans(day):
        jets = [w for w in plan.works if "spray" in day.jobs["elm"].stages[w.stage].nuisances]
        assert jets
        assert max(w.end for w in jets) <= works_of(plan)["glass-rinse"].start


def test_two_rows_of_windows_are_rinsed_on_one_day() -> None:
    """By pole and brush: what is done to the one does the other no harm."""
    windows = {"recipe": "rinse-windows", "ground": "rear", "area": "6 m2"}
    assert plans(day_of([windows | {"prefix": "upper"}, windows | {"prefix": "lower"}]))


def bound(day: Day, one: str, other: str) -> bool:
    """Whether the problem of a day keeps two of its stages apart at all times, whichever comes first."""
    problem, stages = build(day), Index.of(day).stages
    pair = {stages.index(("elm", one)), stages.index(("elm", other))}
    return any(set(x) == pair for x in problem.apart) or any({x.maker, x.spoiled} == pair for x in problem.spoiling)


def test_nobody_gathers_moss_at_the_foot_of_a_wall_that_another_rinses() -> None:
    """Most plans have the one long before the other; none may have both at once."""
    edge = {"recipe": "scrape-roof-edge", "prefix": "edge", "ground": "rear", "run": "5 m"}
    day = in_sections(day_of([edge, WALL | {"worked_from": []}], hands=2))
    jets = [s for _, s, _ in day.stages() if s.split("_")[0] in ("wall-wash", "wall-treat", "wall-rinse")]
    assert jets
    assert all(bound(day, "edge-clear", jet) for jet in jets)


def test_no_jet_washes_out_the_bed_of_slabs_that_are_lifted() -> None:
    stain = {"recipe": "lift-oil-stains", "prefix": "oil", "ground": "rear", **measures_for("lift-oil-stains")}
    slabs = {"recipe": "relay-sunken-paving", "prefix": "low", "ground": "rear", "area": "2 m2"}
    day = in_sections(day_of([stain, slabs], hands=2))
    assert bound(day, "oil-scrub", "low-bed")
    for plan in plans(day):
        scrub, bed = (works_of(plan)[key] for key in ("oil-scrub", "low-bed"))
        assert scrub.end <= bed.start or scrub.start >= bed.end + 60


def test_no_ladder_is_put_up_on_a_drive_that_is_wet() -> None:
    """Nor on one that was washed less than an hour ago, where the job has the washing first."""
    drive = {"recipe": "treat-drive", "prefix": "drive", "ground": "rear", "area": "6 m2"}
    guard = {"recipe": "fit-gutter-guard", "prefix": "guard", "ground": "rear", "run": "6 m", "after": ["drive-wash"]}
    for plan in plans(in_sections(day_of([drive, guard]))):
        wet = [w for w in plan.works if w.stage.split("_")[0] in ("drive-wash", "drive-rinse")]
        put_up = [c for c in plan.chores if c.what == "set up" and "ladder" in str(c.kit)]
        assert wet
        assert put_up
        assert all(c.start >= w.end + 60 or c.end <= w.start for c in put_up for w in wet)


def test_nobody_kneels_on_what_was_treated_and_left() -> None:
    """The gratings are back before the paving about them is treated, as nothing rinses it."""
    channel = {"recipe": "clear-channel-drains", "prefix": "channel", "ground": "rear", "run": "4 m"}
    for plan in plans(day_of([{"recipe": "treat-and-leave", "ground": "rear", "area": "20 m2"}, channel], hands=2)):
        works = works_of(plan)
        assert works["channel-refit"].end <= works["treat"].start


@pytest.mark.parametrize(
    ("recipe", "kit"),
    [("clean-and-repoint-patio", ("grinder", "vacuum")), ("clear-gutters", ("gutter-poles",))],
)
def test_no_grinder_and_no_gutter_vacuum_stand_where_somebody_jets(recipe: str, kit: tuple[str, ...]) -> None:
    """They are packed down before, and those of the gutter are not set up sooner than the drive below is washed."""
    uses = [{"recipe": recipe, "prefix": "one", "ground": "rear", **measures_for(recipe)}]
    if recipe == "clear-gutters":
        uses.append({"recipe": "treat-drive", "prefix": "two", "ground": "rear", "area": "20 m2"})
    drop = ["one-grind.rake"] if "grinder" in kit else ["one-clear.pole-scoop", "one-clear.ladder"]
    day = in_sections(day_of(uses, hands=2, drop=drop))
    for plan in plans(day):
        jets = [w for w in plan.works if day.jobs["elm"].stages[w.stage].wets]
        assert jets
        for key in kit:
            up = [c.start for c in plan.chores if c.kit == key and c.what == "set up"]
            down = [c.end for c in plan.chores if c.kit == key and c.what == "pack down"]
            assert up
            stands = list(zip(sorted(up), sorted(down), strict=True))
            assert not any(start < w.end and w.start < end for start, end in stands for w in jets)


def test_nobody_works_below_acid_that_dwells() -> None:
    """Salts on a wall, an oil stain in the drive below: granules, degreaser and broom wait until the acid is off."""
    uses = [
        {"recipe": "remove-efflorescence", "prefix": "salts", "ground": "rear", "area": "9 m2"},
        {"recipe": "lift-oil-stains", "prefix": "oil", "ground": "rear", "area": "2 m2"},
        {"recipe": "treat-drive", "ground": "rear", "area": "20 m2"},
    ]
    for plan in plans(in_sections(day_of(uses, hands=2))):
        dwells = [
            (acid.start, rinse.end)
            for key, acid in works_of(plan).items()
            if key.startswith("salts-acid")
            for rinse in plan.works
            if rinse.stage == key.replace("acid", "rinse")
        ]
        assert dwells
        low = [w for w in plan.works if not w.stage.startswith("salts-")]
        assert low
        assert not any(w.start < end and start < w.end for w in low for start, end in dwells)


def test_no_ladder_goes_over_steps_that_are_wet() -> None:
    """The only way to the rear gutter is over the steps, which are treated and washed."""
    rear = {"supplies": REAR["supplies"], "way_in": {"minutes": "2 min", "over": ["steps"], "restricted": True}}
    steps = {"recipe": "treat-steps", "ground": "front", "area": "2 m2"}
    gutter = {"recipe": "reseal-gutter-joints", "prefix": "gutter", "ground": "rear", "run": "3 m"}
    for plan in plans(day_of([steps, gutter], grounds={"rear": rear, "front": FRONT})):
        legs = [
            (start, start + 2)
            for c in plan.crossings
            for carried, start in ((c.carried_in, c.start), (c.carried_out, c.end - 2))
            if any(x.what == "ladder" for x in carried)
        ]
        assert legs
        wet = [w for w in plan.works if w.stage in ("treat", "wash")]
        assert all(end <= w.start or w.end + 60 <= start for start, end in legs for w in wet)


# --- kit -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["rear_patio", "by_recipe", "three_jobs_two_hands"])
def test_nothing_is_set_up_before_what_drives_it_stands_there(name: str) -> None:
    """Such as the surface cleaner half an hour before its washer."""
    day, result = planned_sample(name)
    plan = result.plan
    assert plan is not None
    ready = [(c, key) for c in plan.chores if c.what == "set up" and c.kit for key in day.kit[c.kit].needs]
    assert ready
    for chore, key in ready:
        where = (chore.job, chore.ground, key)
        stays = [s for s in plan.stays if (s.job, s.ground, s.kit) == where and s.carried_out >= chore.end]
        tried = {c.stay: c.end for c in plan.chores if c.what == "set up" and (c.job, c.ground, c.kit) == where}
        assert min(max(s.carried_in, tried.get(s.number, 0)) for s in stays) <= chore.start


def test_no_moss_falls_on_a_patio_that_is_washed_though_it_is_rinsed_after_that() -> None:
    """A rinse takes no moss off: roof edge and gutter are done before the last wash of what lies below them."""
    edge = {"recipe": "scrape-roof-edge", "prefix": "edge", "ground": "rear", "run": "5 m"}
    gutter = {"recipe": "clear-gutters", "prefix": "gutter", "ground": "rear", "run": "5 m"}
    patio = {"recipe": "treat-drive", "prefix": "patio", "ground": "rear", "area": "10 m2"}
    for plan in plans(in_sections(day_of([patio, edge, gutter]))):
        works = works_of(plan)
        for falls in ("edge-scrape", "edge-clear", "gutter-clear"):
            assert works[falls].end <= works["patio-wash"].start, falls


def test_no_gutter_is_cleared_into_a_wall_that_dwells() -> None:
    """The wall is written first, and is rinsed after it has dwelt for half an hour, in which there is time enough."""
    wall = {"recipe": "treat-wall", "prefix": "wall", "ground": "rear", "area": "10 m2"}
    gutter = {"recipe": "clear-gutters", "prefix": "gutter", "ground": "rear", "run": "4 m"}
    for plan in plans(in_sections(day_of([wall, gutter], hands=2))):
        works = works_of(plan)
        assert works["gutter-clear"].end <= works["wall-treat"].start


def test_nobody_sweeps_below_anothers_dry_brush_nor_in_anothers_spray() -> None:
    salts = {"recipe": "remove-efflorescence", "prefix": "salts", "ground": "rear", "area": "8 m2"}
    yard = {"recipe": "wash-and-sand-blocks", "prefix": "yard", "ground": "rear", "area": "10 m2"}
    for plan in plans(in_sections(day_of([salts, yard], hands=2))):
        works = works_of(plan)
        assert not share_time(works["salts-brush"], works["yard-sweep"])
    steps = {"recipe": "treat-steps", "prefix": "steps", "ground": "rear", "steps": "6 steps", "step_width": "1 m"}
    for plan in plans(in_sections(day_of([steps, yard], hands=2))):
        works = works_of(plan)
        assert not share_time(works["steps-sweep"], works["yard-wash"])
        assert not share_time(works["yard-sweep"], works["steps-wash"])


def test_steps_are_washed_before_the_paving_from_which_they_rise() -> None:
    """Dirt of the steps runs onto it; of another ground, or where the job says otherwise, nothing is put in order."""
    steps = {"recipe": "treat-steps", "prefix": "steps", "ground": "rear", "steps": "4 steps", "step_width": "1 m"}
    yard = {"recipe": "wash-and-sand-blocks", "prefix": "yard", "ground": "rear", "area": "10 m2"}
    for plan in plans(in_sections(day_of([yard, steps]))):
        works = works_of(plan)
        assert works["steps-wash"].end <= works["yard-wash"].start
    assert day_of([yard | {"ground": "front"}, steps]).jobs["elm"].stages["yard-wash"].after == ("yard-sweep",)
    otherwise = day_of([yard, steps | {"after": ["yard-sand-2"]}]).jobs["elm"].stages
    assert otherwise["yard-wash"].after == ("yard-sweep",)


def test_no_treatment_is_sprayed_beside_a_fence_that_was_just_coated() -> None:
    fence = {"recipe": "treat-fence", "prefix": "fence", "ground": "rear", "area": "6 m2"}
    steps = {"recipe": "treat-steps", "prefix": "steps", "ground": "rear", "steps": "4 steps", "step_width": "1 m"}
    for plan in plans(in_sections(day_of([fence, steps], hands=2))):
        works = works_of(plan)
        assert works["steps-treat"].end <= works["fence-coat"].start
