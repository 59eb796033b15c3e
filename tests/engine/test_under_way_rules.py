"""What a day under way must keep and cannot be asked of a fresh one: days on which a season of telling found it broken.

Each is a tiny day whose plan is made by the engine; what is told of it is what brought the fault out.
"""

from dataclasses import replace
from typing import Any

import pytest

from planner.day import Day
from planner.engine import Result, first_rest, plan_day, plan_rest
from planner.engine.build import build
from planner.engine.ranking import Budget
from planner.engine.rules import obey_all
from planner.engine.underway.old_choices import what_is_left
from planner.engine.underway.replanning import Underway
from planner.engine.variables import Caps, Variables
from planner.fit.giving_up import what_to_give_up
from planner.plan.checker import broken_rules
from planner.plan.doubts import asked_of, with_likely
from planner.plan.plan import Plan
from planner.plan.progress import More, Noted, Progress
from planner.plan.went import day_as_it_went
from tests.days import tiny_day
from tests.engine.rule_days import TWO, away_for_the_wash, beneath_a_spray, stage
from tests.engine.rule_days import day as on_a_day
from tests.plan import worked
from tests.season import season

SECONDS = 30.0
"""Far more than any day here needs; all are planned to the proof."""

REAR = {"rear": {"supplies": {"tap": 1}, "way_in": {"minutes": 2, "restricted": True}}}


def made(stages: dict[str, Any], **changes: Any) -> Day:
    """A day of one job with these stages on a path behind the house."""
    tables = tiny_day().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job |= {"grounds": REAR, "surfaces": {"path": {"ground": "rear"}}, "stages": stages, "waits": []}
    job |= changes.pop("job", {})
    return Day.model_validate(tables | changes)


def planned(day: Day) -> Plan:
    """The best plan of a day."""
    plan = plan_day(day, seconds=SECONDS, workers=1).plan
    assert plan is not None
    return plan


def rest(day: Day, plan: Plan, progress: Progress) -> tuple[Result, Plan]:
    """The rest planned again, without a word from the checker against any plan that was thought of."""
    result = plan_rest(day, plan, progress, seconds=SECONDS, workers=1)
    assert result.refused == ()
    assert result.plan is not None, result.summary()
    return result, result.plan


def by_brush(minutes: int = 10, **more: Any) -> dict[str, Any]:
    """A stage on the path."""
    return {"surface": "path", "methods": {"brush": {"minutes": minutes, "kit": ["broom"]} | more}}


def test_a_second_visit_that_does_nothing_takes_no_time_of_leaving_away() -> None:
    """Ten minutes are kept for leaving before the van goes, though the day would let it come back."""
    day = made({"sweep": by_brush(), "wash": by_brush(5)}, job={"visits": 2, "leaving": 10})
    plan = planned(day)
    first = plan.works[0]
    given_up = next(s for s in ("sweep", "wash") if s != first.stage)
    told = Progress(first.end, (Noted("elm", first.stage, first.start, first.end),), dropped=(("elm", given_up),))
    _, new = rest(day, plan, told)
    assert len(new.visits) == 1
    assert new.visits[0].depart >= max(c.end for c in new.crossings) + 10


def test_what_was_carried_in_for_a_stage_that_is_given_up_goes_out_again_full() -> None:
    """Two tubs went in for two stages; one is given up: out go one that is empty and one that is full."""
    tub = {"filler": {"container": "tub", "load": 0.5}}
    day = made({"fill": by_brush(20, uses={"filler": 1}), "point": by_brush(30, uses={"filler": 1})}, materials=tub)
    plan = planned(day)
    assert [x.count for c in plan.crossings for x in c.carried_in if x.is_material] == [2]
    first, second = sorted(plan.works, key=lambda w: w.start)
    told = Progress(first.start + 1, (Noted("elm", first.stage, first.start, None),), dropped=(("elm", second.stage),))
    _, new = rest(day, plan, told)
    out = sorted((x.rest, x.count) for c in new.crossings for x in c.carried_out if x.is_material)
    assert out == [(0.0, 1), (1.0, 1)]


@pytest.mark.parametrize(("at", "crossings"), [(480, 3), (498, 3)])
def test_a_rest_that_is_looked_for_with_containers_going_to_and_fro_can_be_read(at: int, crossings: int) -> None:
    """Three tubs of 1.5 armfuls go in one by one, as the way takes 2: by three walks in a model of one slot too, before
    anything has begun, or once they are all in and the fill is under way."""
    stages = {"fill": {"surface": "path", "methods": {"hand": {"minutes": 10, "uses": {"tub": 3}}}}}
    day = made(stages, materials={"tub": {"load": 1.5}})
    plan = planned(day)
    underway = Underway(day, plan, Progress(at, said=at), Budget(SECONDS, 1, 0, False))
    v = Variables(underway.problem, Caps(None, 1, shuttles=True))
    obey_all(v)
    underway.models.bind(v)
    v.model.minimize(v.home)
    found, _ = underway.models.solve(v, SECONDS)
    assert found is not None
    whole = underway.read(found)
    assert broken_rules(underway.day, whole) == []
    brought = [x.count for c in whole.crossings for x in c.carried_in]
    assert (sum(brought), len(brought)) == (3, crossings)


def test_what_lies_there_is_for_who_needs_it_before_who_might() -> None:
    """One tub is in for the rinse; cleaning by water would take one too, but for 30 minutes, not for 10. Swept until
    08:32 (512), cleaned dry until 522, rinsed until 527, out at 529 and home at 539, with nobody fetching another."""
    dry, wet = {"minutes": 10}, {"minutes": 30, "uses": {"tub": 1}}
    stages: dict[str, Any] = {"sweep": by_brush(10)}
    stages["clean"] = {"surface": "path", "after": ["sweep"], "methods": {"dry": dry, "wet": wet}}
    stages["rinse"] = {"surface": "path", "after": ["clean"], "methods": {"hand": {"minutes": 5, "uses": {"tub": 1}}}}
    day = made(stages, materials={"tub": {"load": 1}})
    plan = planned(day)
    _, new = rest(day, plan, Progress(512, (Noted("elm", "sweep", 492, 512),), said=512))
    assert [w.end for w in new.works] == [512, 522, 527]
    assert new.home == 539


def test_what_was_carried_to_where_nothing_is_left_to_do_is_fetched() -> None:
    """Two tubs of 1.5 armfuls go in one by one, as the way takes 2. At 08:14 (494) Ash is back from the first walk, and
    the fill is given up: Ash sweeps the front for ten minutes and walks four for the tub, and is home at 08:38."""
    grounds = REAR | {"front": {"way_in": {"minutes": 0}}}
    places = {"path": {"ground": "rear"}, "drive": {"ground": "front"}}
    stages = {"fill": {"surface": "path", "methods": {"hand": {"minutes": 10, "uses": {"tub": 2}}}}}
    stages["sweep"] = by_brush(10) | {"surface": "drive", "after": ["fill"]}
    day = made(stages, materials={"tub": {"load": 1.5}}, job={"grounds": grounds, "surfaces": places})
    plan = planned(day)
    told = Progress(494, dropped=(("elm", "fill"),), said=494)
    _, new = rest(day, plan, told)
    assert [[x.what for x in c.carried_out] for c in new.crossings] == [[], ["tub"]]
    assert (new.crossings[-1].start >= 494, new.home) == (True, 518)


def test_a_section_that_works_from_anothers_container_keeps_it_on_the_ground() -> None:
    """One can does for two sections, and is counted with the first: it goes out after the second."""
    stages = {"one": by_brush(uses={"filler": 1}), "two": by_brush(uses={"filler": 0}), "other": by_brush()}
    day = made(stages, materials={"filler": {"container": "tub", "load": 0.5}})
    (leaving,) = build(day).leaving
    assert leaving.after == (0, 1)


def test_kit_that_is_rinsed_out_serves_no_other_chemical_than_it_has_served() -> None:
    """The sprayer stands with one chemical in it; before the other it is packed down, which rinses it out."""
    sprayer = {"sprayer": {"load": 0.5, "pack_down": 1, "rinse_out": 2}, "broom": {"load": 0.5}}
    one, other = (
        {"surface": "path", "chemical": chemical, "methods": {"spray": {"minutes": 5, "kit": ["sprayer"]}}}
        for chemical in ("detergent", "acid")
    )
    day = made({"one": one, "other": other}, kit=sprayer)
    plan = planned(day)
    first, second = sorted(plan.works, key=lambda w: w.start)
    _, new = rest(day, plan, Progress(first.end, (Noted("elm", first.stage, first.start, first.end),)))
    stays = {w.stage: w.stays for w in new.works}
    assert stays[first.stage] != stays[second.stage]


@pytest.mark.parametrize(("since", "rules"), [(None, {7}), (511, {7}), (512, {7}), (513, set())])
def test_the_order_of_what_has_begun_cannot_be_changed_any_more(since: int | None, rules: set[int]) -> None:
    """The sweep runs from 08:32 (512) to 08:52 and ought to come after the rinse; from 08:33 on it is as it is."""
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    tables["jobs"]["elm"]["stages"]["sweep"]["after"] = ["rinse"]
    assert {b.rule for b in broken_rules(Day.model_validate(tables), plan, since=since)} == rules


@pytest.mark.parametrize(("since", "rules"), [(None, {8}), (500, {8}), (508, {8}), (511, {8}), (513, set())])
def test_only_what_had_begun_on_both_sides_is_left_on_a_closed_surface(since: int | None, rules: set[int]) -> None:
    """The treatment, 08:16 to 08:28, closes the path on which the sweep, from 08:32 (512), stands: once both have begun
    before now nothing can be put off. One minute sooner the sweep could still wait."""
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    tables["jobs"]["elm"]["surfaces"]["wall"]["stood_on"] = True
    tables["jobs"]["elm"]["surfaces"]["path"]["over"] = ["wall"]
    found = broken_rules(Day.model_validate(tables), replace(plan, since=since))
    assert {b.rule for b in found} == rules


@pytest.mark.parametrize("number", [142])
def test_a_short_season(number: int) -> None:
    """Tiny days told of, planned again, kept, killed and corrected: nothing is badly met."""
    counts = [*season(1, 5.0, 1, number)][-1]
    assert counts.faults == []
    assert counts.planned > 0


@pytest.mark.parametrize(("since", "rules"), [(None, {10}), (512, {10}), (513, set())])
def test_what_runs_when_the_rain_comes_is_not_to_be_put_elsewhere(since: int | None, rules: set[int]) -> None:
    """The sweep, 08:32 (512) to 08:52, is not to begin after 08:40: from 08:33 on it has begun."""
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    tables["jobs"]["elm"]["stages"]["sweep"]["not_after"] = 520
    assert {b.rule for b in broken_rules(Day.model_validate(tables), plan, since=since)} == rules


@pytest.mark.parametrize(("since", "rules"), [(None, {9}), (542, {9}), (543, set())])
def test_of_two_that_must_be_apart_the_later_might_have_waited(since: int | None, rules: set[int]) -> None:
    """Rinsing, 09:02 (542) to 09:17, begins while a sweep of half an hour more still runs."""
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    tables["jobs"]["elm"]["apart"] = [["sweep", "rinse"]]
    works = tuple(replace(w, end=w.end + 30) if w.stage == "sweep" else w for w in plan.works)
    found = broken_rules(Day.model_validate(tables), replace(plan, works=works), since=since)
    assert {b.rule for b in found} & {9} == rules


def sheeted() -> tuple[Day, Plan, Progress]:
    """Sheets for a coat, then a sweep; the sweep is done, the coat was not begun in its time."""
    kit = {"broom": {"load": 0.2}, "sheets": {"load": 0.2, "set_up": 2, "pack_down": 3}}
    stages = {
        "cover": {
            "surface": "path",
            "kind": "cover",
            "stays_for": ["coat"],
            "methods": {"lay": {"minutes": 5, "kit": ["sheets"]}},
        },
        "coat": by_brush(20) | {"after": ["cover"]},
        "sweep": by_brush(10) | {"after": ["coat"]},
    }
    day = made(stages, kit=kit)
    plan = planned(day)
    cover, sweep = plan.work("elm", "cover"), plan.work("elm", "sweep")
    assert cover is not None
    assert sweep is not None
    notes = (Noted("elm", "cover", cover.start, cover.end), Noted("elm", "sweep", sweep.start, sweep.end))
    packed = max(c.end for c in plan.chores if c.kit == "sheets")
    at = max(sweep.end, packed)
    return day, plan, Progress(at, notes, said=at).with_not_yet("elm", "coat")


def test_what_covers_still_lies_where_what_it_is_for_is_still_to_come() -> None:
    """Nobody takes sheets up before the coat. That they lie is likely, and asked; the coat is put on over them."""
    day, plan, told = sheeted()
    doubt = asked_of(day, plan, told)[0]
    assert "does it still lie?" in doubt.words
    told = doubt.likely.on(told)
    assert asked_of(day, plan, told) == ()
    _, new = rest(day, plan, told)
    coat = new.work("elm", "coat")
    assert coat is not None
    assert [c.start >= coat.end for c in new.chores if (c.what, c.kit) == ("pack down", "sheets")] == [True]
    cover = new.work("elm", "cover")
    assert cover is not None
    assert cover.end < told.at


def test_covers_that_were_taken_up_too_soon_are_laid_again() -> None:
    day, plan, told = sheeted()
    told = asked_of(day, plan, told)[0].replies[1].on(told)
    assert asked_of(day, plan, told) == ()
    _, new = rest(day, plan, told)
    cover, coat = new.work("elm", "cover"), new.work("elm", "coat")
    assert cover is not None
    assert coat is not None
    assert told.at <= cover.start < cover.end <= coat.start


def dwelling(sweep: int = 60, done_by: int | None = None, **rinse: Any) -> Day:
    """A treatment that must be off within half an hour, and a sweep of an hour."""
    spray = {"surface": "path", "kind": "treat", "chemical": "bleach", "methods": {"spray": {"minutes": 5}}}
    off = {"surface": "path", "kind": "rinse", "rinses": True, "methods": {"hose": {"minutes": 5}}} | rinse
    dwell = {"after": "treat", "before": "rinse", "kind": "dwell", "least": 10, "most": 30}
    places = {"path": {"ground": "rear"}, "steps": {"ground": "rear"}}
    stages = {"sweep": by_brush(sweep) | {"surface": "steps"}, "treat": spray, "rinse": off}
    return made(stages, job={"waits": [dwell], "surfaces": places, "done_by": done_by})


def test_what_takes_two_to_carry_stays_where_one_has_gone_home() -> None:
    """The compactor takes two. At 09:26 (566) the patio is compacted and Bo goes home: Ash walks three minutes out and
    three in again with the sealer, seals for 15, walks out, lifts the sheets in five and is home after 15, at 10:10
    (610). The compactor stays behind the house, also when more is told later, and whoever goes there is told."""
    day, plan = worked.pair()
    noted = tuple(Noted(w.job, w.stage, w.start, w.end) for w in plan.works if w.end <= 566)
    told = Progress(566, noted, gone={"bo": 566}, said=566)
    refused = plan_rest(day, plan, told, seconds=SECONDS, workers=1)
    assert refused.is_impossible
    assert "it takes 2 hands to carry 'compactor', in and out again" in refused.conflict
    offer = what_to_give_up(day, plan, told)[0]
    assert (offer.what(day, told), offer.home, offer.stages) == ("compactor stays at Elm Cottage", 610, ())
    result, new = rest(day, plan, offer.on(told))
    assert result.day is not None
    assert result.day.jobs["elm"].note == "Compactor stays here: fetch it on another day with 2 hands."
    assert [(s.carried_in, s.carried_out) for s in new.stays if s.kit == "compactor"] == [(540, 566)]
    assert result.progress is not None
    later = replace(result.progress.as_told().since(566), at=580, said=580)
    _, then = rest(day, new, later)
    assert [(s.carried_in, s.carried_out) for s in then.stays if s.kit == "compactor"] == [(540, 566)]
    assert then.home == 610
    assert plan_rest(day, new, replace(later, behind=()), seconds=SECONDS, workers=1).is_impossible


@pytest.mark.parametrize("is_begun", [True, False])
def test_what_takes_two_to_carry_is_used_by_one_where_it_stands(*, is_begun: bool) -> None:
    """The compactor stands behind the house, and Bo goes home at 09:05 (545): Ash compacts for 20 minutes all the same.
    It stays there, packed down; nobody carries it, and nothing is given up."""
    day, plan = worked.pair()
    noted = tuple(Noted(w.job, w.stage, w.start, w.end) for w in plan.works if w.end <= 545)
    told = Progress(545, noted, gone={"bo": 545}, said=545)
    compact = told.with_note(Noted("elm", "compact", 544)) if is_begun else told.with_not_yet("elm", "compact")
    told = replace(compact, at=545)
    assert not [doubt.words for doubt in asked_of(day, plan, told)]
    offer = what_to_give_up(day, plan, told)[0]
    assert (offer.what(day, told), offer.stages) == ("compactor stays at Elm Cottage", ())
    result, new = rest(day, plan, offer.on(told))
    work = new.work("elm", "compact")
    assert work is not None
    assert (work.hands, work.end - work.start) == (("ash",), 20)
    assert all(x.what != "compactor" for c in new.crossings for x in c.carried_out)
    (stay,) = [s for s in new.stays if s.kit == "compactor"]
    assert stay.carried_out >= work.end
    assert result.progress is not None
    for at in (work.start + 5, new.home - 1):
        noted = tuple(Noted(w.job, w.stage, w.start, w.end if w.end <= at else None) for w in new.works if w.start < at)
        later = replace(result.progress.as_told().since(545), at=at, noted=noted, not_yet=(), said=at)
        _, then = rest(day, new, later)
        assert then.home == new.home


def test_what_takes_two_to_carry_and_is_in_the_van_is_named() -> None:
    """Bo goes home at 08:53 (533), before both carry the compactor in: the compacting cannot be, and why is said."""
    day, plan = worked.pair()
    noted = tuple(Noted(w.job, w.stage, w.start, w.end) for w in plan.works if w.end <= 533)
    told = Progress(533, noted, gone={"bo": 533}, said=533)
    (asked,) = [doubt for doubt in asked_of(day, plan, told) if "cannot be done" in doubt.words]
    assert "it takes 2 to carry compactor, and Bo went home" in asked.words
    assert asked.likely.on(told).dropped == (("elm", "compact"),)
    rest(day, plan, asked.likely.on(told))


def with_bo() -> tuple[Day, Plan]:
    """Ash sweeps the path for half an hour, and Bo, who comes by their own car, paints for twenty minutes."""
    hands = {"ash": {}, "bo": {"own_transport": True, "hours": ["08:00", "17:00"]}}
    stages = {"sweep": by_brush(30) | {"by_hand": "ash"}, "paint": by_brush(20, kit=[]) | {"by_hand": "bo"}}
    day = made(stages, hands=hands, job={"surfaces": {"path": {"ground": "rear"}}})
    return day, planned(day)


def test_who_comes_by_themselves_was_there_and_is_away_is_still_one_of_the_day() -> None:
    """Bo came by their own car at 08:10, by the record of 08:15, and, as is said at 08:20 (500), is away until 08:40.
    Ash goes on with the sweep for 30 minutes, and Bo, who has not begun, paints from 08:40 (520) to 09:00; two minutes
    out, ten home: 09:12."""
    day, plan = with_bo()
    told = Progress(500, settled=495, back={"bo": 520}, said=500).with_not_yet("elm", "paint")
    _, new = rest(day, plan, told)
    assert [(w.start, w.end) for w in new.works if w.stage == "paint"] == [(520, 540)]
    assert new.home == 552


def test_what_is_off_since_now_took_no_tap_from_who_washes_meanwhile() -> None:
    """Bo washes the steps with the only tap from 08:25 to 08:45 when it is said at 08:33, three minutes after the
    treatment, that the rinse is given up and it is off by now: in no minute of its own, and in nobody's way."""
    hose, wash = {"hose": {"own": 2, "supply": ["tap"]}}, {"minutes": 20, "kit": ["hose"]}
    stages = {
        "treat": {"surface": "path", "kind": "treat", "chemical": "bleach", "methods": {"spray": {"minutes": 5}}},
        "rinse": {"surface": "path", "rinses": True, "methods": {"hose": {"minutes": 5, "kit": ["hose"]}}},
        "wash": {"surface": "steps", "methods": {"hose": wash}, "by_hand": "bo"},
    }
    stages["rinse"]["by_hand"] = stages["treat"]["by_hand"] = "ash"
    dwell = {"after": "treat", "before": "rinse", "kind": "dwell", "least": 10, "most": 30}
    places = {"path": {"ground": "rear"}, "steps": {"ground": "rear", "stood_on": False}}
    day = made(stages, hands={"ash": {}, "bo": {}}, kit=hose, job={"waits": [dwell], "surfaces": places})
    plan = planned(day)
    told = Progress(513, (Noted("elm", "treat", 505, 510), Noted("elm", "wash", 505)), said=513)
    told = with_likely(day, plan, told).without("elm", "rinse").with_note(Noted("elm", "rinse", None, 513))
    result, new = rest(day, plan, told)
    assert result.progress is not None
    assert result.progress.over == ()
    times = {w.stage: (w.start, w.end) for w in new.works}
    assert times == {"treat": (505, 510), "wash": (505, 525), "rinse": (513, 513)}


def test_a_dwell_is_over_by_the_rinse_whatever_more_of_it_is_asked_for() -> None:
    """Rinsed in time; an hour later the customer asks for ten minutes more: nothing is on any more."""
    day = dwelling()
    plan = planned(day)
    treat, rinse = plan.work("elm", "treat"), plan.work("elm", "rinse")
    assert treat is not None
    assert rinse is not None
    noted = tuple(Noted(w.job, w.stage, w.start, w.end) for w in plan.works)
    at = max(w.end for w in plan.works)
    result, new = rest(day, plan, Progress(at, noted, more=(More("elm", "rinse", 10),), said=at))
    assert result.progress is not None
    assert result.progress.over == ()
    more = new.work("elm", "rinse-more")
    assert more is not None
    assert (more.start >= at, more.end - more.start) == (True, 10)


def test_more_can_be_asked_of_what_a_drying_follows() -> None:
    """The path is washed and dries for 30 minutes, and nobody is on it meanwhile but for more of that wash."""
    wait = {"after": "wash", "before": "sweep", "kind": "dry", "least": 30}
    day = made({"wash": by_brush(5), "sweep": by_brush(20)}, job={"waits": [wait]})
    _, new = rest(day, planned(day), Progress(485, more=(More("elm", "wash", 8),), said=485))
    assert [w.stage for w in new.works] == ["wash", "wash-more", "sweep"]
    more, sweep = new.work("elm", "wash-more"), new.work("elm", "sweep")
    assert more is not None
    assert sweep is not None
    assert sweep.start == more.end + 30


@pytest.mark.parametrize("words", [{"kind": "dry"}, {"kind": "order", "keep_clear": True}])
def test_more_can_be_asked_of_what_ends_a_wait_that_bars_the_surface(words: dict[str, Any]) -> None:
    """The path dries for 30 minutes before it is swept, and nobody is on it meanwhile, or nothing else is done at all.
    More of the sweep follows the sweep, though it waits for that drying too."""
    wait = {"after": "wash", "before": "sweep", "least": 30} | words
    day = made({"wash": by_brush(5), "sweep": by_brush(20)}, job={"waits": [wait]})
    plan = planned(day)
    _, new = rest(day, plan, Progress(485, more=(More("elm", "sweep", 8),), said=485))
    assert [w.stage for w in new.works] == ["wash", "sweep", "sweep-more"]


def test_more_of_a_stage_follows_the_rest_of_it() -> None:
    day = made({"sweep": by_brush(20)})
    plan = planned(day)
    sweep = plan.work("elm", "sweep")
    assert sweep is not None
    note = Noted("elm", "sweep", sweep.start, sweep.start + 10, 0.5)
    at = sweep.start + 11
    _, new = rest(day, plan, Progress(at, (note,), more=(More("elm", "sweep", 8),), said=at))
    assert [w.stage for w in new.works] == ["sweep", "sweep-rest", "sweep-more"]


def test_what_is_on_comes_off_first_by_giving_up_what_stands_before_the_rinse() -> None:
    """The rinse follows the sweep of an hour, which nobody began: so what is on stays on for too long. The sweep is
    offered to be given up, and with what: it then comes off in time."""
    day = dwelling(after=["sweep"])
    treat = Noted("elm", "treat", 500, 505)
    told = Progress(505, (treat,), said=505).with_not_yet("elm", "sweep")
    result, _ = rest(day, planned(day), told)
    assert result.progress is not None
    assert [o.minutes > 0 for o in result.progress.over] == [True]
    offer = what_to_give_up(day, planned(day), told)[0]
    assert offer.stages == (("elm", "sweep"),)
    assert offer.on_less == result.progress.over[0].minutes
    assert "comes off" in offer.saves
    assert offer.takes == ("broom",)
    result, _ = rest(day, planned(day), told.without("elm", "sweep"))
    assert result.progress is not None
    assert result.progress.over == ()


def test_sheets_that_are_told_to_lie_before_their_time_are_not_asked_about_again() -> None:
    """The sweep was done before the coat, and before the sheets were to go up: they lie, and that is told once."""
    day, plan, later = sheeted()
    cover = later.of_stage("elm", "cover")
    assert cover is not None
    assert cover.end is not None
    at = cover.end + 15
    assert at < min(c.start for c in plan.chores if (c.what, c.kit) == ("pack down", "sheets"))
    told = Progress(at, (cover, Noted("elm", "sweep", cover.end + 3, cover.end + 13)), said=at)
    told = with_likely(day, plan, told.with_not_yet("elm", "coat"))
    assert asked_of(day, plan, told) == ()


def uncovered() -> tuple[Day, Plan, Progress]:
    """Sheets for a coat, then a sweep, all done as planned: the sheets are up."""
    day, plan, told = sheeted()
    return day, plan, Progress(told.at, tuple(Noted(w.job, w.stage, w.start, w.end) for w in plan.works), said=told.at)


@pytest.mark.parametrize(("promised", "late"), [(None, {}), (531, {"elm": 6})])
def test_what_only_another_order_keeps_has_a_plan_at_once(promised: int | None, late: dict[str, int]) -> None:
    """Treated until 08:17 (497), then a sweep of 15 minutes, then rinsed, says the plan. At 08:35 (515) the sweep is
    not begun: swept first, the rinse begins after 33 of 30 minutes; rinsed at once it is in time, and that is the first
    plan. It then sweeps from 520 to 535 and is out by the way of 2 minutes at 537, 6 later than promised at 531."""
    day = dwelling(sweep=15, done_by=promised)
    plan = planned(day)
    times = {"treat": (492, 497), "sweep": (497, 512), "rinse": (512, 517)}
    works = tuple(replace(w, start=times[w.stage][0], end=times[w.stage][1]) for w in plan.works)
    plan = replace(plan, works=tuple(sorted(works, key=lambda w: w.start)))
    assert broken_rules(day, plan) == []
    told = Progress(515, (Noted("elm", "treat", 492, 497),), said=515).with_not_yet("elm", "sweep")
    told = told.with_not_yet("elm", "rinse")
    first = first_rest(day, plan, told, seconds=SECONDS)
    assert first.plan is not None
    assert first.progress is not None
    assert (first.progress.over, first.progress.promised) == ((), late)
    assert [(w.stage, w.start) for w in first.plan.works] == [("treat", 492), ("rinse", 515), ("sweep", 520)]


def test_what_was_for_two_is_done_by_one_where_the_other_would_be_gone_by_then() -> None:
    """A sweep of 10 minutes, then a fill of 20 for two, or of 50 for one; Bo is there until 08:50 (530). Ash is at the
    job at 08:10 (490), sweeps from 492 to 502, and both fill from 502 to 522. A sweep that is over at 512 leaves 18
    minutes to Bo, less the way out of 2. So Ash fills alone, from 512 to 562, and that is found without any search."""
    fill = {"surface": "path", "after": ["sweep"], "methods": {"pair": {"minutes": 20, "hands": 2}}}
    fill["methods"]["alone"] = {"minutes": 50}
    hands = {"ash": {"name": "Ash"}, "bo": {"name": "Bo", "own_transport": True, "hours": ["08:00", "08:50"]}}
    day = made({"sweep": by_brush(), "fill": fill}, hands=hands)
    plan = planned(day)
    assert [(w.stage, w.start, w.end, w.method) for w in plan.works][1] == ("fill", 502, 522, "pair")
    told = Progress(512, (Noted("elm", "sweep", 492, 512),), said=512)
    first = Underway(day, plan, told, Budget(SECONDS, 1, 0, False)).known()
    assert [(w.stage, w.start, w.end, w.method) for w in first[0].works][1] == ("fill", 512, 562, "alone")


def test_who_is_on_the_way_out_takes_nothing_more_and_makes_the_next_crossing_after_it() -> None:
    """Broom and mop are too much for one walk (2 x 1.5 of 2 armfuls). On the way out with the first, that walk still
    counts: else the next crossing was taken for it, and no plan had the choices of the one in hand."""
    kit = {"broom": {"load": 1.5}, "mop": {"load": 1.5}}
    wash = {"surface": "path", "after": ["sweep"], "methods": {"mop": {"minutes": 10, "kit": ["mop"]}}}
    ground = {"rear": {"way_in": {"minutes": 2, "restricted": True, "load_limit": 2}}}
    day = made({"sweep": by_brush(), "wash": wash}, kit=kit, job={"grounds": ground})
    plan = planned(day)
    out, then = plan.crossings
    told = Progress(out.end - 1, said=out.end - 1)
    went, past = day_as_it_went(day, plan, told)
    left = what_is_left(went, plan, past, told)
    assert left.crossings == (replace(out, carried_in=(), carried_out=()), then)


LATER = {"more": lambda p: p.with_more(More("elm", "coat", 8)), "rest": lambda p: p.with_note(half_of(p))}
"""How there is more of the coat when its sheets are up: a customer asks for it, or it was left half done."""


def half_of(told: Progress) -> Noted:
    """The coat as it was noted, but half done."""
    note = told.of_stage("elm", "coat")
    assert note is not None
    return replace(note, part=0.5)


@pytest.mark.parametrize("piece", ["more", "rest"])
def test_sheets_that_are_up_are_laid_again_for_what_is_asked_or_left(piece: str) -> None:
    """They are laid, the coat goes on, and they are taken up again: that is asked, and then in the rest."""
    day, plan, told = uncovered()
    assert asked_of(day, plan, told) == ()
    told = LATER[piece](told)
    (doubt,) = asked_of(day, plan, told)
    assert "'Cover: path' laid, which should be up by now" in doubt.words
    told = doubt.likely.on(told)
    assert asked_of(day, plan, told) == ()
    result, new = rest(day, plan, told)
    assert result.day is not None
    assert broken_rules(result.day, new, since=told.at) == []
    laid, coat = new.work("elm", "cover-more"), new.work("elm", f"coat-{piece}")
    assert laid is not None
    assert coat is not None
    assert told.at <= laid.start < laid.end <= coat.start
    assert laid.end - laid.start == 5
    packed = [c.start for c in new.chores if (c.what, c.kit) == ("pack down", "sheets") and c.start >= told.at]
    assert [minute >= coat.end for minute in packed] == [True]


@pytest.mark.parametrize("piece", ["more", "rest"])
def test_sheets_that_lie_longer_than_was_planned_are_not_laid_again(piece: str) -> None:
    day, plan, told = uncovered()
    told = LATER[piece](told)
    (doubt,) = asked_of(day, plan, told)
    (lies,) = [reply for reply in doubt.replies if reply.does == "not up"]
    told = lies.on(told)
    assert asked_of(day, plan, told) == ()
    _, new = rest(day, plan, told)
    coat = new.work("elm", f"coat-{piece}")
    assert coat is not None
    assert new.work("elm", "cover-more") is None
    assert [c.start >= coat.end for c in new.chores if (c.what, c.kit) == ("pack down", "sheets")] == [True]


def test_sheets_are_told_to_lie_in_the_minute_of_the_last_planning() -> None:
    """All was planned again as over; in that minute the customer asks for more of the coat, and the sheets still lie.
    Once the new plan has taken them up, nothing says that they lie: of half a coat it is asked again."""
    day, plan, told = uncovered()
    result, plan = rest(day, plan, told)
    assert result.progress is not None
    again = result.progress.with_later(Progress(told.at, said=told.at)).with_more(More("elm", "coat", 8))
    (doubt,) = asked_of(day, plan, again)
    (lies,) = [reply for reply in doubt.replies if reply.does == "not up"]
    again = lies.on(again)
    assert asked_of(day, plan, again) == ()
    result, new = rest(day, plan, again)
    assert new.work("elm", "cover-more") is None
    assert result.progress is not None
    later = result.progress.with_later(Progress(new.home - 5, said=new.home - 5))
    later = later.with_note(half_of(later))
    assert any("which should be up by now" in doubt.words for doubt in asked_of(day, new, later))


@pytest.mark.parametrize("piece", ["more", "rest"])
def test_what_needs_sheets_that_are_up_can_be_given_up(piece: str) -> None:
    day, plan, told = uncovered()
    told = LATER[piece](told)
    (doubt,) = asked_of(day, plan, told)
    told = doubt.replies[-1].on(told)
    assert asked_of(day, plan, told) == ()
    _, new = rest(day, plan, told)
    assert {w.stage for w in new.works} == {"cover", "coat", "sweep"}


@pytest.mark.parametrize("on", ["path", "steps"])
def test_covers_that_were_not_laid_are_laid_for_what_is_still_to_come_or_given_up(on: str) -> None:
    """Treated without the sheets, from 08:20 to 08:25: they are laid for the rinse where they lie beside it. Nobody
    treads on what dwells; where they lie on that, it is said what to give up: the sheets alone."""
    tables = dwelling(10).model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["stages"] = {k: job["stages"][k] for k in ("treat", "rinse")}
    sheets = {"minutes": 3, "kit": ["broom"]}
    job["stages"]["cover"] = {"surface": on, "stays_for": ["treat", "rinse"], "methods": {"lay": sheets}}
    job["stages"]["treat"]["after"] = ["cover"]
    day = Day.model_validate(tables)
    plan = planned(day)
    told = Progress(506, (Noted("elm", "treat", 500, 505),), said=506).with_not_yet("elm", "cover")
    told = with_likely(day, plan, told)
    if on == "path":
        assert plan_rest(day, plan, told, seconds=SECONDS, workers=1).is_impossible
        told = what_to_give_up(day, plan, told)[0].on(told)
        assert told.dropped == (("elm", "cover"),)
    result, new = rest(day, plan, told)
    assert result.progress is not None
    assert result.progress.over == ()
    works = {w.stage: w for w in new.works}
    assert works["rinse"].start == 515
    assert on == "path" or 506 <= works["cover"].start < works["cover"].end <= 515


def test_nothing_that_needs_sheets_is_planned_without_them() -> None:
    """Where the question was not answered there is no plan, and none was thought of that the checker would refuse."""
    day, plan, told = uncovered()
    result = plan_rest(day, plan, told.with_more(More("elm", "coat", 8)), seconds=SECONDS, workers=1)
    assert (result.plan, result.refused, result.is_impossible) == (None, (), True)


def test_floor_sheets_lie_while_something_behind_the_house_is_still_to_come() -> None:
    """The sweep behind the house was not begun in its time; by the plan the floor sheets were up before the front."""
    places = {"path": {"ground": "rear"}, "drive": {"ground": "front"}}
    house = {"rear": {"way_in": {"minutes": 2, "restricted": True, "protection": "ours"}}}
    stages = {"sweep": by_brush(20), "front": by_brush(10) | {"surface": "drive", "not_before": 600}}
    day = made(stages, job={"grounds": house | {"front": {}}, "surfaces": places})
    plan = planned(day)
    front = plan.work("elm", "front")
    assert front is not None
    assert [c.end <= front.start for c in plan.chores if c.what == "lift"] == [True]
    noted = (Noted("elm", "front", front.start, front.end),)
    told = Progress(front.end, noted, said=front.end).with_not_yet("elm", "sweep")
    _, new = rest(day, plan, told)
    sweep = new.work("elm", "sweep")
    assert sweep is not None
    assert [c.start >= sweep.end for c in new.chores if c.what == "lift"] == [True]


def test_floor_sheets_that_were_laid_for_what_is_given_up_are_lifted() -> None:
    """They were laid for the sweep behind the house; nobody walks in there any more, and they cannot stay."""
    places = {"path": {"ground": "rear"}, "drive": {"ground": "front"}}
    house = {"rear": {"way_in": {"minutes": 2, "restricted": True, "protection": "ours"}}}
    stages = {"sweep": by_brush(20), "front": by_brush(10) | {"surface": "drive"}}
    day = made(stages, job={"grounds": house | {"front": {}}, "surfaces": places})
    plan = planned(day)
    laid = next(c.end for c in plan.chores if c.what == "lay")
    result, new = rest(day, plan, Progress(laid, said=laid).without("elm", "sweep"))
    assert result.refused == ()
    assert not new.crossings
    assert [c.start >= laid for c in new.chores if c.what == "lift"] == [True]


def test_who_is_seeing_to_kit_below_another_ends_it_and_begins_no_more() -> None:
    """Ash treats the wall, sooner than planned, while Bo sets up the saw below it: that goes on, and it is packed down
    once the wall is treated."""
    tables = beneath_a_spray().model_dump(by_alias=True, exclude_none=True)
    tables["kit"]["saw"]["pack_down"] = 10
    stages = tables["jobs"]["elm"]["stages"]
    stages["treat"] |= {"by_hand": "ash", "not_before": 540}
    stages["cut"] |= {"by_hand": "bo", "methods": {"so": {"minutes": 5, "kit": ["saw"]}}}
    day = Day.model_validate(tables)
    plan = planned(day)
    [setting_up, packing] = plan.chores
    assert packing.end <= 540
    now = setting_up.start + 5
    _, new = rest(day, plan, Progress(now, (Noted("elm", "treat", now - 2, None),), said=now))
    assert [c.start for c in new.chores if c.what == "set up"] == [setting_up.start]
    assert [c.start >= now - 2 + 20 for c in new.chores if c.what == "pack down"] == [True]


def test_a_ladder_that_stands_where_another_begins_to_wash_is_taken_down_when_there_is_time() -> None:
    """Ash washes the patio sooner than planned, while Bo is up the ladder on it: what is so is not called impossible,
    and the ladder is not put up a second time before the washing is over."""
    tables = away_for_the_wash().model_dump(by_alias=True, exclude_none=True)
    stages = tables["jobs"]["elm"]["stages"]
    tables["hands"] = TWO
    stages["wash"] |= {"by_hand": "ash", "methods": {"so": {"minutes": 30}}}
    stages["clear"] |= {"by_hand": "bo"}
    day = Day.model_validate(tables)
    plan = planned(day)
    first, clear = min(c.start for c in plan.chores), plan.work("elm", "clear")
    assert clear is not None
    now = clear.start + 3
    _, new = rest(day, plan, Progress(now, (Noted("elm", "wash", now - 1, None),), said=now))
    wash = new.work("elm", "wash")
    assert wash is not None
    assert [c.start for c in new.chores if c.what == "set up" and c.start < wash.end] == [first]


def test_a_ladder_that_is_being_brought_over_steps_that_another_begins_to_wash_comes() -> None:
    """Ash washes the steps sooner than planned, while Bo carries the ladder over them: Bo is not asked to undo it."""
    kit = {"ladder": {"load": 1, "tags": ["ladder"], "set_up": 10}}
    stages = {
        "wash": stage("steps", 20, kind="wash", hand="ash", not_before=560),
        "clear": stage("wall", 5, "ladder", makes=[], hand="bo"),
    }
    surfaces = {"steps": {"ground": "front"}, "wall": {"ground": "rear", "stood_on": False}}
    grounds = {"rear": {"way_in": {"minutes": 0, "over": ["steps"]}}, "front": {"way_in": {"minutes": 0}}}
    day = on_a_day(stages, job={"grounds": grounds, "surfaces": surfaces}, kit=kit, hands=TWO)
    plan = planned(day)
    [setting_up] = plan.chores
    now = setting_up.start + 5
    _, new = rest(day, plan, Progress(now, (Noted("elm", "wash", now - 2, None),), said=now))
    assert new.chores == plan.chores


def treated_sooner(*, begun: bool) -> tuple[Plan, Plan, int]:
    """Bo takes the ladder down from the patio, ten minutes, while Ash, done sooner with the drive, treats it for three
    or is about to: the plan, that of the rest, and now."""
    kit = {"ladder": {"load": 1, "tags": ["ladder"], "set_up": 5, "pack_down": 10}}
    surfaces = {key: {"ground": "rear"} for key in ("patio", "drive")}
    stages = {
        "look": stage("wall", 5, "ladder", makes=[], hand="bo"),
        "treat": stage("patio", 3, kind="treat", hand="ash", after=["sort"]),
        "rinse": stage("patio", 5, kind="rinse", hand="ash"),
        "sort": stage("drive", 60, hand="ash"),
    }
    job = {
        "surfaces": surfaces | {"wall": {"ground": "rear", "stood_on": False, "drains_to": ["patio"]}},
        "waits": [{"after": "treat", "before": "rinse", "kind": "dwell", "least": 20, "most": 60}],
    }
    house = on_a_day(stages, job=job, kit=kit, hands=TWO)
    plan = planned(house)
    [packing], sort = [c for c in plan.chores if c.what == "pack down"], plan.work("elm", "sort")
    assert sort is not None
    assert (packing.hands, packing.end < sort.end) == (("bo",), True)
    now = packing.start + 2
    notes = (Noted("elm", "sort", sort.start, now - 1), *((Noted("elm", "treat", now - 1, None),) if begun else ()))
    _, new = rest(house, plan, Progress(now, notes, said=now))
    return plan, new, now


def test_who_takes_a_ladder_down_from_what_another_treats_by_now_goes_on() -> None:
    """Both had begun: neither is asked to undo it, and the rest has a plan that the checker passes."""
    plan, new, now = treated_sooner(begun=True)
    treat = new.work("elm", "treat")
    assert treat is not None
    assert treat.start == now - 1
    assert [(c.start, c.end) for c in new.chores if c.what == "pack down"] == [
        (c.start, c.end) for c in plan.chores if c.what == "pack down"
    ]


def test_what_closes_the_surface_of_a_ladder_that_is_being_taken_down_waits_for_it() -> None:
    """Only the ladder is under way: what would dwell where it stands is still to come, and ends no sooner than that."""
    _, new, now = treated_sooner(begun=False)
    treat = new.work("elm", "treat")
    [packing] = [c for c in new.chores if c.what == "pack down"]
    assert treat is not None
    assert packing.start < now < packing.end <= treat.end


def test_what_cleans_after_dry_cutting_that_goes_on_waits_until_it_is_over() -> None:
    """Ash cuts beside what was scrubbed before, which is as it is; what is scrubbed later waits for the dust."""
    stages = {
        "grind": stage("steps", 20, kind="grind", hand="ash", makes=["dust"]),
        "scrub": stage("patio", 10, kind="wash", makes=[], hand="bo"),
        "rub": stage("bench", 10, kind="wash", makes=[], hand="bo"),
    }
    surfaces = {key: {"ground": "rear"} for key in ("steps", "patio", "bench")}
    house = on_a_day(stages, job={"surfaces": surfaces}, hands=TWO)
    plan = planned(house)
    grind = plan.work("elm", "grind")
    assert grind is not None
    assert all(w.start >= grind.end for w in plan.works if w.stage != "grind")
    now = grind.start + 5
    told = Progress(now, (Noted("elm", "grind", grind.start, None), Noted("elm", "scrub", now - 1, None)), said=now)
    _, new = rest(house, plan, told)
    last, rub, scrub = (new.work("elm", key) for key in ("grind", "rub", "scrub"))
    assert last is not None
    assert rub is not None
    assert scrub is not None
    assert scrub.start == now - 1, "it had begun, and is as it is"
    assert rub.start >= last.end


def test_what_was_covered_late_binds_no_more_by_what_was_begun_before() -> None:
    """The coat was begun, then the sheets were laid; the sweep is still to come, and is planned."""
    day, plan, _ = sheeted()
    coat = plan.work("elm", "coat")
    assert coat is not None
    noted = (
        Noted("elm", "coat", coat.start, coat.end + 10),
        Noted("elm", "cover", coat.start + 2, coat.start + 7),
    )
    rest(day, plan, Progress(coat.end + 10, noted))


def test_what_was_fresh_is_so_no_more_once_what_it_waited_for_has_begun() -> None:
    """Oil is fresh to water until it is wiped (a dwell of ten minutes): the hose comes after that, told in between."""
    stages = {
        "oil": by_brush(10) | {"fresh_to": ["water"]},
        "wipe": by_brush(10),
        "hose": by_brush(10) | {"makes": ["water"], "after": ["wipe"]},
    }
    day = made(stages, job={"waits": [{"after": "oil", "before": "wipe", "kind": "dwell", "least": 10, "most": 30}]})
    plan = planned(day)
    wipe = plan.work("elm", "wipe")
    assert wipe is not None
    _, new = rest(day, plan, Progress(wipe.end, settled=wipe.end))
    assert new.home == plan.home


@pytest.mark.parametrize("hours", [{"not_after": 0}, {"starts_at": 0}])
def test_what_is_on_comes_off_though_its_own_hour_is_past(hours: dict[str, int]) -> None:
    """The rinse of a dwell is to be over, or begin, by an hour of its own, and was not begun by then."""
    day, plan = worked.tiny()
    tables, rinse = day.model_dump(by_alias=True), plan.work("elm", "rinse")
    assert rinse is not None
    by = rinse.end if "not_after" in hours else rinse.start
    tables["jobs"]["elm"]["stages"]["rinse"] |= dict.fromkeys(hours, by)
    said = Progress(by + 5, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512, 532)))
    result, new = rest(Day.model_validate(tables), plan, said.with_not_yet("elm", "rinse"))
    late = new.work("elm", "rinse")
    assert late is not None
    assert late.start >= by + 5
    assert any("its own hours are past" in words for words in result.urgent)
    assert result.progress is not None
    assert [over.out_of_hours for over in result.progress.over] == [True]


def test_an_hour_that_can_still_be_kept_is_kept() -> None:
    """The rinse may end by its hour, with nothing left over: it does."""
    day, plan = worked.tiny()
    tables, rinse = day.model_dump(by_alias=True), plan.work("elm", "rinse")
    assert rinse is not None
    tables["jobs"]["elm"]["stages"]["rinse"]["not_after"] = rinse.end
    said = Progress(532, (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512, 532)))
    result, new = rest(Day.model_validate(tables), plan, said)
    assert new.works[-1].end <= rinse.end
    assert not any("its own hours" in words for words in result.urgent)


def test_what_was_passed_over_is_given_up_with_what_else_stands_in_the_way() -> None:
    """Treated without the sheets, which lie on what dwells now; and a look at the steps by 08:20 was not taken."""
    tables = dwelling(10).model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["stages"] = {k: job["stages"][k] for k in ("treat", "rinse")}
    sheets = {"minutes": 3, "kit": ["broom"]}
    job["stages"]["cover"] = {"surface": "path", "stays_for": ["treat", "rinse"], "methods": {"lay": sheets}}
    job["stages"]["treat"]["after"] = ["cover"]
    job["stages"]["look"] = {"surface": "steps", "not_after": 500, "methods": {"by": {"minutes": 1}}}
    day = Day.model_validate(tables)
    told = Progress(506, (Noted("elm", "treat", 500, 505),), said=506).with_not_yet("elm", "cover")
    told = with_likely(day, planned(day), told.with_not_yet("elm", "look"))
    assert plan_rest(day, planned(day), told, seconds=SECONDS, workers=1).is_impossible
    offer = what_to_give_up(day, planned(day), told)[0]
    assert set(offer.stages) == {("elm", "cover"), ("elm", "look")}


def test_nobody_is_rung_for_a_promise_that_is_not_what_stands_in_the_way() -> None:
    """The sheets for more of the coat are up, and nothing was answered: no plan, though the promise is far off."""
    day, plan, told = uncovered()
    elm = day.jobs["elm"].model_copy(update={"done_by": 1000})
    result = plan_rest(day.model_copy(update={"jobs": {"elm": elm}}), plan, told.with_more(More("elm", "coat", 8)))
    assert result.plan is None
    assert not any("Ring" in words for words in result.urgent)


def test_what_two_waits_ask_of_one_stage_is_said_once_by_the_worse() -> None:
    """The rinse should begin within 45 minutes of the treatment, and within 40 by another wait: it is an hour now."""
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    (wait,) = tables["jobs"]["elm"]["waits"]
    tables["jobs"]["elm"]["waits"] = [wait, {"after": "treat", "before": "rinse", "kind": "set", "most": 40}]
    told = Progress(568, (Noted("elm", "treat", 496, 508),), said=568).with_not_yet("elm", "sweep")
    result, _ = rest(Day.model_validate(tables), plan, told.with_not_yet("elm", "rinse"))
    (said,) = [words for words in result.urgent if "rinse" in words.lower()]
    assert "by 09:08" in said
