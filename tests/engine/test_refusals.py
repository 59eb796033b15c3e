"""Why there is no plan: what is named is enough, each part of it is needed, and kit, taps and trips are known."""

import re
from typing import Any

import pytest
from ortools.sat.python import cp_model

from planner.day import Day
from planner.day.estimate import with_weather
from planner.engine import plan_day
from planner.engine.conflict import UNTRIED, facts
from planner.engine.facts_told import as_wholes
from planner.engine.search import Search
from tests.days import tiny_day
from tests.engine.rule_days import TWO, stage
from tests.engine.rule_days import day as made_day
from tests.engine.test_fresh_work import day_of as day_by_recipe
from tests.engine.test_proofs import day_of

Tables = dict[str, Any]


def refusal(tables: Tables) -> str:
    """The facts in one line; there must be no plan."""
    result = plan_day(Day.model_validate(tables), seconds=20)
    assert result.is_impossible
    return " / ".join(result.conflict)


def has_plan(tables: Tables) -> bool:
    return plan_day(Day.model_validate(tables), seconds=20).plan is not None


def two_at_once(*, own: int = 2, taps: int = 2) -> Tables:
    """Two hands who must both begin to rinse at the minute at which the treating ends."""
    tables = day_of(
        {"side": {"minutes": 0}},
        {"treat": ("side", 10, {}), "left": ("side", 10, {"kit": ["hose"]}), "right": ("side", 10, {"kit": ["hose"]})},
    )
    tables["hands"]["bo"] = {}
    tables["kit"]["hose"] = {"own": own, "supply": ["tap"]}
    tables["jobs"]["elm"]["grounds"]["side"]["supplies"] = {"tap": taps}
    tables["jobs"]["elm"]["waits"] = [{"after": "treat", "before": b, "most": 0} for b in ("left", "right")]
    return tables


def test_that_there_is_no_plan_is_settled_by_harder_reasoning_where_usual_looks_do_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    usual = Search.solve

    def solved(search: Search, *asked: Any, **more: Any) -> tuple[cp_model.CpSolver, cp_model.CpSolverStatus]:
        return usual(search, *asked, **more) if more.get("way") else (cp_model.CpSolver(), cp_model.UNKNOWN)

    monkeypatch.setattr(Search, "solve", solved)
    assert "1 of 'hose' is owned" in refusal(two_at_once(own=1))


def test_two_hoses_on_two_taps_go_together() -> None:
    assert has_plan(two_at_once())


def test_kit_of_which_too_little_is_owned_is_a_reason() -> None:
    said = refusal(two_at_once(own=1))
    assert "1 of 'hose' is owned" in said
    assert "tap" not in said


def test_taps_that_are_too_few_are_a_reason() -> None:
    said = refusal(two_at_once(taps=1))
    assert "1 tap" in said
    assert "owned" not in said


def pinned(one: Tables, other: Tables, **tables: Any) -> Day:
    """Two hands, and two hours of work on patio and steps, of which the second begins half an hour after the first."""
    stages = {"wash": stage("patio", 60, **one, starts_at=600), "brush": stage("steps", 60, **other, starts_at=630)}
    return made_day(stages, **{"hands": TWO} | tables)


ALONE: Tables = {"ash": {}, "bo": {"own_transport": True, "hours": [500, 525]}}
MEAL = {"length": 20, "once_over": 60, "earliest": 590, "latest": 640}

CANNOT_BE = {
    "two things at once": (pinned({}, {}, hands={"ash": {}}), 2),
    "both by one hand": (pinned({"hand": "ash"}, {"hand": "ash"}), 4),
    "kept apart": (pinned({}, {}, job={"apart": [["wash", "brush"]]}), 3),
    "dust on what it spoils": (pinned({"makes": ["dust"]}, {"spoiled_by": ["dust"]}), 3),
    "too long for one who comes alone": (made_day({"sweep": stage("patio", 30, hand="bo")}, hands=ALONE), 2),
    "the meal": (made_day({"sweep": stage("patio", 60, starts_at=600)}, meal=MEAL), 2),
}
"""Days that cannot be, each with how many facts are against it."""


@pytest.mark.parametrize("name", CANNOT_BE)
def test_a_refusal_names_all_that_is_against_it_and_nothing_else(name: str) -> None:
    """Without any one of the facts that are named the day can be."""
    day, count = CANNOT_BE[name]
    result = plan_day(day, seconds=20)
    assert result.is_impossible
    named = [fact for fact in facts(day) if fact.words in result.conflict]
    assert len(named) == count, result.conflict
    for fact in named:
        assert plan_day(fact.without(day), seconds=20).plan is not None, fact.words


def bags_by(minute: int, limit: float) -> Tables:
    """Six bags, two minutes each way, that must be laid (10 minutes) by a time; the van can be there at 08:10."""
    tables = day_of({"side": {"minutes": 2, "load_limit": limit}}, {"lay": ("side", 10, {"uses": {"bags": 6}})})
    tables["jobs"]["elm"]["stages"]["lay"]["not_after"] = minute
    return tables


def test_trips_are_a_reason() -> None:
    """Five trips of four minutes, two in with the sixth bag, and ten of laying: 08:42 at the soonest."""
    assert has_plan(bags_by(522, 1))
    said = refusal(bags_by(521, 1))
    assert "at most 1 armful a trip" in said
    assert "not after 08:41" in said
    assert has_plan(bags_by(521, 2))


def test_a_least_that_binds_nothing_is_no_reason() -> None:
    """A cure closes its surface for good, however long it is; the sweep of that path must come later all the same."""
    tables = tiny_day(hands={"ash": {}}).model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["stages"]["seal"] = {"surface": "path", "methods": {"usual": {"minutes": 5}}, "not_after": 600}
    job["stages"]["sweep"]["not_before"] = 700
    job["waits"] = [{"after": "seal", "kind": "cure", "least": 18 * 60}]
    said = refusal(tables)
    assert "at least" not in said
    assert "kept clear after 'Seal: path'" in said
    assert "not before 11:40" in said


def test_bounds_by_the_hour_are_told_from_the_fewest_minutes_to_the_most() -> None:
    """By noon the sun dries it in five to ten minutes: these bind then, and not the 30 and 45 of the label alone."""
    tables = tiny_day(hands={"ash": {}}).model_dump(by_alias=True)
    [wait] = tables["jobs"]["elm"]["waits"]
    wait["by_hour"] = [{"since": 720, "least": 5, "most": 10}]
    told = " / ".join(fact.words for fact in facts(Day.model_validate(tables)))
    assert "at most 10 min to 45 min, by the hour, between 'Treat: wall' and 'Rinse: wall'" in told
    assert "at least 5 min to 30 min, by the hour, between 'Treat: wall' and 'Rinse: wall'" in told


def drawn_from_one(minute: int, *, shared: bool) -> Tables:
    """Two bags for the one, one for the other, a bag a trip of two minutes each way; the smaller is due."""
    tables = day_of(
        {"side": {"minutes": 2, "load_limit": 1}},
        {"wall": ("side", 10, {"uses": {"bags": 1}}), "steps": ("side", 10, {"uses": {"bags": 2}})},
    )
    tables["materials"]["bags"]["shared"] = shared
    tables["jobs"]["elm"]["stages"]["wall"]["not_after"] = minute
    return tables


def test_what_stages_share_is_a_reason_with_the_stages_and_what_would_help() -> None:
    """There at 08:10 and in by 08:12, ten minutes of work: 08:22 with a bag of its own, 08:26 where two are there."""
    assert has_plan(drawn_from_one(502, shared=False))
    assert has_plan(drawn_from_one(506, shared=True))
    said = refusal(drawn_from_one(505, shared=True))
    assert "all of 'bags' that stages share is there before the first of them: 2 for 'Wall: side'" in said
    assert "'Wall: side' and 'Steps: side'" in said
    assert "shared = false" in said


def set_up_in_turn(minute: int, *needs: str) -> Tables:
    """Two hands, and ten minutes each for hose and washer; the wash of ten is due."""
    tables = day_of({"side": {"minutes": 0}}, {"wash": ("side", 10, {"kit": ["hose", "washer"]})})
    tables["hands"]["bo"] = {}
    tables["kit"] = {"hose": {"load": 1, "set_up": 10}, "washer": {"load": 1, "set_up": 10, "needs": list(needs)}}
    tables["jobs"]["elm"]["stages"]["wash"]["not_after"] = minute
    return tables


def test_kit_that_is_set_up_in_turn_is_a_reason_with_the_stages_and_what_would_help() -> None:
    """There at 08:10: 08:40 one after the other, 08:30 side by side."""
    assert has_plan(set_up_in_turn(510))
    assert has_plan(set_up_in_turn(520, "hose"))
    said = refusal(set_up_in_turn(519, "hose"))
    assert "'washer' is set up for 'Wash: side' once 'hose' stands there; more time before it" in said


def below_a_ladder(minute: int, *tags: str) -> Tables:
    """Two hands, ten minutes at a gutter and ten on the path below it; both are due."""
    tables = day_of({"side": {"minutes": 0}}, {"look": ("side", 10, {}), "prune": ("side", 10, {})})
    tables["hands"]["bo"] = {}
    job = tables["jobs"]["elm"]
    job["surfaces"]["gutter"] = {"ground": "side", "stood_on": False, "worked_from": ["side"]}
    job["stages"]["look"] |= {"surface": "gutter", "tags": list(tags), "not_after": minute}
    job["stages"]["prune"]["not_after"] = minute
    return tables


def test_a_ladder_is_a_reason_with_its_stage_and_what_would_help() -> None:
    assert has_plan(below_a_ladder(500))
    assert has_plan(below_a_ladder(510, "ladder"))
    said = refusal(below_a_ladder(509, "ladder"))
    assert "nobody works below the ladder of 'Look: gutter'" in said
    assert "would help" in said


def hour(minute: int, *, wind: float = 5.0, rain: float = 0.0, humidity: float = 0.6, air: float = 15.0) -> Tables:
    return {"minute": minute, "air": air, "humidity": humidity, "wind": wind, "rain_chance": rain}


def test_a_way_over_what_is_wet_is_a_reason() -> None:
    """The steps are washed by 08:40, and wet until 09:40; what lies behind them is to be done by nine."""
    stages = {
        "wash": stage("steps", 30, kind="wash", not_before=490, not_after=520),
        "sort": stage("shed", 10, not_before=500, not_after=540),
    }
    surfaces = {"steps": {"ground": "front"}, "shed": {"ground": "rear"}}
    way = {"minutes": 5, "restricted": True, "over": ["steps"]}
    grounds = {"rear": {"way_in": way}, "front": {"way_in": {"minutes": 0}}}
    found = plan_day(made_day(stages, job={"grounds": grounds, "surfaces": surfaces}), seconds=20)
    assert found.plan is None
    told = [fact for fact in found.conflict if "nobody walks over 'steps'" in fact]
    assert len(told) == 1
    assert "while that is worked, waits, or is fresh or wet" in told[0]
    dry = stages | {"wash": stages["wash"] | {"kind": "sweep"}}
    assert plan_day(made_day(dry, job={"grounds": grounds, "surfaces": surfaces}), seconds=20).plan is not None


def test_wind_on_a_ladder_is_told_with_its_stage_and_the_hours_that_keep_it() -> None:
    """Due by 09:20: calm from eight or from nine it is done, the wind of ten is no reason, nor what pruning minds."""
    tables = below_a_ladder(560, "ladder")
    tables["jobs"]["elm"]["stages"]["prune"] |= {"windiest": 40.0, "stopped_by_rain": True}
    winds = {480: 35.0, 540: 35.0, 600: 45.0}
    for calm in (480, 540):
        assert has_plan(tables | {"weather": [hour(at, wind=5 if at == calm else wind) for at, wind in winds.items()]})
    tables["weather"] = [hour(at, wind=wind, rain=0.9 if at == 600 else 0.0) for at, wind in winds.items()]
    said = refusal(tables)
    assert "'Look: gutter' cannot take wind above 30 km/h on a ladder, forecast for 08:00 to 10:00;" in said
    assert "work from the ground, would help" in said
    assert "below the ladder" not in said
    assert "'Prune: side' cannot" not in said
    assert "45" not in said


def test_rain_on_an_open_layer_is_told_with_what_covers_it_and_its_hours() -> None:
    """Filled from 08:10 and pressed two hours later it is 10:30, in the rain of ten; that of eleven changes nothing,
    as they are gone by one o'clock."""
    tables = day_of({"side": {"minutes": 0}}, {"fill": ("side", 10, {}), "press": ("side", 10, {})}, done_by=780)
    for made in tables["jobs"]["elm"]["stages"].values():
        made["fresh_to"] = ["rain"]
    tables["jobs"]["elm"]["waits"] = [{"after": "fill", "before": "press", "least": 120}]
    assert has_plan(tables | {"weather": [hour(480), hour(600), hour(660, rain=0.9), hour(720)]})
    assert not has_plan(tables | {"weather": [hour(480), hour(600, rain=0.9), hour(660), hour(720)]})
    said = refusal(tables | {"weather": [hour(480), hour(600, rain=0.9), hour(660, rain=0.9), hour(720)]})
    assert "'Fill: side' cannot take rain (chance 50 % or more), nor until 'Press: side' covers it, " in said
    assert "forecast for 10:00" in said
    assert "for 10:00 to 11:00; a dry day, or dry hours, would help" in said


def test_two_limits_of_one_stage_are_told_apart() -> None:
    """Cold until nine and wet from nine until it is due: both are needed, and each has its hours."""
    tables = day_of({"side": {"minutes": 0}}, {"paint": ("side", 30, {})}, done_by=600)
    tables["jobs"]["elm"]["stages"]["paint"] |= {"coldest": 8.0, "stopped_by_rain": True, "dry_after": 15}
    said = refusal(tables | {"weather": [hour(480, air=5.0), hour(540, rain=0.8), hour(600, air=5.0, rain=0.8)]})
    assert "'Paint: side' cannot take air below 8 C, forecast for 08:00 to 09:00; a warmer day" in said
    assert "nor for 15 min after it, forecast for 09:00 to 10:00; a dry day" in said


def test_what_does_not_dry_by_the_forecast_is_told_as_the_forecasts() -> None:
    """In air that is full of water nothing dries; the least of the file, half an hour, is no reason.
    The day begins at eight."""
    tables = day_of({"side": {"minutes": 0}}, {"wash": ("side", 10, {}), "seal": ("side", 10, {})}, done_by=780)
    tables["jobs"]["elm"]["waits"] = [{"after": "wash", "before": "seal", "kind": "dry", "least": 30, "weather": "dry"}]
    tables["weather"] = [hour(at, humidity=1.0) for at in range(420, 1200, 60)]
    day = with_weather(Day.model_validate(tables))
    result = plan_day(day, seconds=20)
    said = " / ".join(result.conflict)
    assert "by the forecast what 'Wash: side' wets does not dry any more from 08:00 on before 'Seal: side'" in said
    assert "at least 30 min" not in said


def test_of_work_in_sections_a_fact_is_told_once_and_of_the_whole() -> None:
    """Four sections were told of four times each; that one comes after another goes without saying."""
    sections = [f"'Rinse, section {n} of 3'" for n in (1, 2, 3)]
    spoils = " and ".join(f"would spoil {section} while it is fresh" for section in sections)
    told = as_wholes(
        [
            f"Elm: 'Sweep' {spoils} and would wet the dust of 'Grind' on 'Patio'; another day would help",
            *(f"Elm: at most 40 min between 'Treat, section {n} of 3' and {sections[n - 1]}" for n in (1, 2, 3)),
            f"Elm: {sections[1]} after {sections[0]}",
            f"Elm: {sections[0]} after 'Treat, section 1 of 3'",
        ]
    )
    assert told == (
        "Elm: 'Sweep' would spoil 'Rinse' while it is fresh and would wet the dust of 'Grind' on 'Patio'; another day "
        "would help",
        "Elm: at most 40 min between 'Treat' and 'Rinse'",
        "Elm: 'Rinse' after 'Treat'",
    )


def test_how_long_a_treatment_stays_wet_is_told_at_its_best_hour_too() -> None:
    """Cool until ten, then hot, dry and windy: it must stay for half an hour and does at no hour, least of all late."""
    tables = day_of({"side": {"minutes": 0}}, {"treat": ("side", 10, {}), "rinse": ("side", 10, {})}, done_by=780)
    wait = {"after": "treat", "before": "rinse", "kind": "dwell", "least": 30, "most": 50}
    tables["jobs"]["elm"]["waits"] = [wait | {"weather": "film", "film": 0.1}]
    cool, hot = {"air": 12.0, "humidity": 0.6, "wind": 10.0}, {"air": 30.0, "humidity": 0.3, "wind": 20.0}
    tables["weather"] = [hour(at, **(cool if at < 600 else hot)) for at in range(420, 1200, 60)]
    day = with_weather(Day.model_validate(tables))
    said = " / ".join(plan_day(day, seconds=20).conflict)
    found = re.search(r"'Treat: side' is dry within (\d+) min from (\d\d):00 on \((\d+) min from (\d\d):00 on\)", said)
    assert found is not None, said
    worst, late, best, early = map(int, found.groups())
    assert worst < best < 30
    assert early < late


def test_a_coat_that_must_wait_for_a_day_is_the_reason_and_sheets_elsewhere_are_none() -> None:
    """Washed at half past seven at the soonest, sealed 24 h later; home by three in the night at the very latest."""
    wall = {"recipe": "repoint-brickwork", "ground": "rear", "area": "2 m2"}
    terrace = {"recipe": "wash-dry-seal", "prefix": "terrace", "ground": "rear", "area": "10 m2"}
    result = plan_day(day_by_recipe([wall, terrace]), seconds=20)
    assert result.is_impossible
    first, second, work = result.conflict
    assert "at least 24 h between 'Wash' and 'Seal, first coat'" in first
    assert second == "the van leaves at 07:30 at the earliest"
    assert "home by 03:00 +1" in work


def test_chemicals_that_cannot_be_rinsed_apart_are_told_with_what_would_help() -> None:
    """Hypochlorite on a wall above paving on which a biocide is left: nobody rinses that, before or after."""
    wall = {"recipe": "treat-wall", "prefix": "wall", "ground": "front", "area": "2 m2"}
    green = {"recipe": "treat-and-leave", "ground": "front", "area": "4 m2"}
    result = plan_day(day_by_recipe([wall, green]), seconds=20)
    assert result.is_impossible
    said = " / ".join(result.conflict)
    assert "'Treat the green' and 'Biocide on, left to work' must never meet on 'Green surface'" in said
    assert "another day, or a rinse more, would help" in said
    assert UNTRIED not in said


def test_what_the_day_takes_besides_the_work_is_told_with_it() -> None:
    """Twenty minutes each of two chemicals by one sprayer, there at 08:10. Were it set up and packed down once for
    both, that would be five, five and ten to rinse it out, and it is twice so; ten minutes there, ten home."""
    stages = {
        "algae": stage("patio", 20, "sprayer", chemical="hypochlorite"),
        "moss": stage("steps", 20, "sprayer", chemical="quaternary"),
    }
    sprayer = {"load": 1, "set_up": 5, "pack_down": 5, "rinse_out": 10}
    day = made_day(stages, job={"done_by": 550}, kit={"sprayer": sprayer})
    result = plan_day(day, seconds=20)
    assert result.is_impossible
    beside = "beside that 20 min of setting up and packing down and 20 min of driving at the least"
    assert result.conflict[-1].startswith(f"40 min of hands-on work for one hand, {beside}, home by ")


def test_a_hand_s_own_break_is_named_where_that_is_what_binds() -> None:
    """Ash treats from 08:16 to 08:28, rinses within 45 minutes, and is owed an hour begun between 08:20 and 08:30."""
    tables = tiny_day().model_dump(by_alias=True)
    tables["hands"]["ash"]["rest"] = {"length": 60, "once_over": 30, "soonest": 0, "earliest": 500, "latest": 510}
    tables["jobs"]["elm"]["waits"] = [{"after": "treat", "before": "rinse", "kind": "dwell", "least": 1, "most": 45}]
    tables["jobs"]["elm"]["stages"]["treat"]["starts_at"] = 496
    said = refusal(tables)
    assert "the break of ash, 1 h, not before 08:20, begun by 08:30" in said.lower()
    tables["hands"]["ash"]["rest"]["once_over"] = 6000
    assert has_plan(tables)
