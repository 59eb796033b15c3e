"""Out again, and by what each lifts: a plan that keeps it, and changes that break it, worked out by hand.

The pair's day: Ash and Bo carry a compactor together, and Bo seals the rear patio with two cans. Guideline figures:
25 kg and 16 kg for one, two thirds of the sum for a pair (HSE INDG143 / L23).
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from planner.day import Day
from planner.day.rinsing_out import with_rinsing_out
from planner.engine import plan_day
from planner.plan.checker import broken_rules
from planner.plan.plan import Carried, Plan
from tests.plan.worked import pair, pair_tables

Tables = dict[str, Any]


def said(
    change: Callable[[Tables], None] = lambda tables: None,
    carried: Callable[[Plan], Plan] = lambda p: p,
    as_it_is_read: Callable[[Day], Day] = lambda d: d,
) -> str:
    """What the checker says of the pair's plan on a changed day, or changed itself."""
    tables = pair_tables()
    change(tables)
    day, plan = pair(tables)
    return "; ".join(x.text for x in broken_rules(as_it_is_read(day), carried(plan)) if x.rule in (4, 5))


def leg(index: int, **words: Any) -> Callable[[Plan], Plan]:
    """The plan with another load on one crossing."""

    def change(plan: Plan) -> Plan:
        crossings = list(plan.crossings)
        crossings[index] = replace(crossings[index], **words)
        return replace(plan, crossings=tuple(crossings))

    return change


def out(count: int, rest: float | None) -> Carried:
    return Carried("sealer", count, is_material=True, rest=rest)


# --- containers and what is in them -----------------------------------------------------------------------------------


def test_nothing_is_left_behind() -> None:
    assert said() == ""
    assert "none are carried out" in said(carried=leg(3, carried_out=()))
    assert "are carried out" in said(carried=leg(3, carried_out=(out(1, 0.0),)))


def expect_some_left(tables: Tables) -> None:
    """Of two cans of sealer 1.4 are used: one goes out empty, one with 0.6 of it left."""
    tables["jobs"]["elm"]["stages"]["seal"]["methods"]["roll"]["expected"] = {"sealer": 1.4}


def test_what_is_left_goes_out_in_its_can() -> None:
    rest = leg(3, carried_out=(out(1, 0.0), out(1, 0.6)))
    assert said(expect_some_left, rest) == ""
    assert "holding 0 %, 60 %" in said(expect_some_left)


def test_the_customer_may_keep_the_rest_but_not_the_empty_can() -> None:
    def keeps(tables: Tables) -> None:
        expect_some_left(tables)
        tables["jobs"]["elm"]["customer"] = {"keeps": ["sealer"]}

    assert said(keeps, leg(3, carried_out=(out(1, 0.0),))) == ""
    assert said(keeps, leg(3, carried_out=(out(1, 0.0), out(1, 0.6)))) != ""
    assert said(keeps, leg(3, carried_out=())) != ""


def test_clean_water_that_is_left_is_poured_away() -> None:
    def is_water(tables: Tables) -> None:
        expect_some_left(tables)
        tables["materials"]["sealer"]["water"] = True
        for stage in ("acid", "bleach"):
            del tables["jobs"]["elm"]["stages"][stage]["chemical"]

    assert said(is_water) == ""


def leave_rubble(tables: Tables) -> None:
    """Compacting leaves one bag of rubble and a half."""
    tables["materials"]["rubble"] = {"name": "Rubble", "load": 0.5, "mass": 14.2, "empty": 0.2, "container": "bag"}
    tables["jobs"]["elm"]["stages"]["compact"]["methods"]["plate"]["leaves"] = {"rubble": 1.5}


BAGS = (Carried("rubble", 1, is_material=True, rest=1.0), Carried("rubble", 1, is_material=True, rest=0.5))


def test_rubble_goes_out_after_the_stage_that_leaves_it() -> None:
    assert "Rubble" in said(leave_rubble)
    assert said(leave_rubble, leg(3, carried_out=(*BAGS, out(2, 0.0)))) == ""
    early = leg(0, carried_out=(Carried("sprayer"), *BAGS))  # out at 534, and compacting ends at 564
    assert "have left" in said(leave_rubble, early)


def rubble(*rests: float) -> tuple[Carried, ...]:
    return tuple(Carried("rubble", 1, is_material=True, rest=rest) for rest in rests)


def test_what_several_stages_leave_is_put_together() -> None:
    """The rinse, over at 524, leaves three tenths of a bag, compacting a bag and a half: a full one and one of 80 %."""

    def leave_more(tables: Tables) -> None:
        leave_rubble(tables)
        tables["materials"]["rubble"]["mass"] = 12
        tables["jobs"]["elm"]["stages"]["rinse"]["methods"]["spray"]["leaves"] = {"rubble": 0.3}

    assert said(leave_more, leg(3, carried_out=(*rubble(1.0, 0.8), out(2, 0.0)))) == ""
    assert "must leave" in said(leave_more, leg(3, carried_out=(*rubble(1.0, 0.5, 0.3), out(2, 0.0))))
    early = leg(0, carried_out=(Carried("sprayer"), *rubble(0.8)))  # out at 534, while compacting adds to it
    late = leg(3, carried_out=(*rubble(1.0), out(2, 0.0)))
    assert "have left" in said(leave_more, lambda plan: late(early(plan)))


def test_what_the_engine_takes_out_is_put_together_too() -> None:
    """Whatever the order, of three tenths and eight tenths of a bag a full one goes out and one of a tenth."""
    tables = pair_tables()
    leave_rubble(tables)
    stages = tables["jobs"]["elm"]["stages"]
    stages["rinse"]["methods"]["spray"]["leaves"] = {"rubble": 0.3}
    stages["compact"]["methods"]["plate"]["leaves"] = {"rubble": 0.8}
    result = plan_day(Day.model_validate(tables), seconds=10)
    assert result.refused == ()
    assert result.plan is not None
    carried = [x for c in result.plan.crossings for x in c.carried_out if x.what == "rubble"]
    assert sorted((x.count, x.rest) for x in carried) == [(1, pytest.approx(0.1)), (1, 1.0)]


# --- masses -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("mass", "is_kept"), [(12.4, True), (12.6, False)])
def test_one_hand_carries_what_it_lifts(mass: float, is_kept: bool) -> None:
    """Two cans at once: 24.8 kg are within 25, and 25.2 are not."""
    found = said(lambda t: t["materials"]["sealer"].update(mass=mass))
    assert (found == "") is is_kept, found


@pytest.mark.parametrize(("lifts", "mass", "is_kept"), [
    ((25, 25), 33, True), ((25, 25), 34, False),  # 2/3 x 50 = 33.3
    ((25, 16), 27, True), ((25, 16), 28, False),  # 2/3 x 41 = 27.3
    ((40, 40), 50, True),  # their own figures: 2/3 x 80 = 53.3
])  # fmt: skip
def test_a_pair_carries_two_thirds_of_the_sum(lifts: tuple[int, int], mass: float, is_kept: bool) -> None:
    def change(tables: Tables) -> None:
        tables["kit"]["compactor"]["mass"] = mass
        for hand, kg in zip(("ash", "bo"), lifts, strict=True):
            tables["hands"][hand]["lifts"] = kg

    found = said(change)
    assert (found == "") is is_kept, found


def test_kit_on_an_open_way_is_lifted_too() -> None:
    """The hose, 3 armfuls by twos, makes two goes: 48 kg are 24 each, 52 are 26."""
    assert said(lambda t: t["kit"]["hose"].update(mass=48)) == ""
    assert "Bo lift 25" in said(lambda t: t["kit"]["hose"].update(mass=52))

    def with_wheels(tables: Tables) -> None:
        tables["kit"]["hose"]["mass"] = 52
        tables["kit"]["truck"] = {"wheels": 80}
        tables["jobs"]["elm"]["grounds"]["front"]["way_in"]["wheeled"] = True

    assert said(with_wheels) == ""


def test_a_sack_truck_takes_more_where_there_are_no_steps() -> None:
    def truck(tables: Tables, *, wheeled: bool = True, own: int = 1) -> None:
        tables["materials"]["sealer"]["mass"] = 30
        tables["kit"]["truck"] = {"wheels": 80, "own": own}
        tables["jobs"]["elm"]["grounds"]["rear"]["way_in"]["wheeled"] = wheeled

    assert "lifts 25" in said(truck)
    assert said(truck, leg(3, wheels="truck")) == ""
    assert "takes no wheels" in said(lambda t: truck(t, wheeled=False), leg(3, wheels="truck"))
    assert "we own 0" in said(lambda t: truck(t, own=0), leg(3, wheels="truck"))
    assert "no sack truck" in said(truck, leg(3, wheels="hose"))


# --- water at hand ----------------------------------------------------------------------------------------------------


def water_in_cans(tables: Tables) -> None:
    """No tap at the rear: what is rolled on at the end is water, in two cans of half an armful."""
    tables["materials"]["sealer"] |= {"water": True, "load": 0.5}


def test_water_is_there_before_a_corrosive_is_opened() -> None:
    """The acid is opened at 508; the cans come at 573, or with the sprayer at 506."""
    assert "before any water is there" in said(water_in_cans)
    with_the_sprayer = leg(0, carried_in=(Carried("sprayer"), Carried("sealer", 2, is_material=True)))
    assert said(water_in_cans, lambda plan: leg(3, carried_in=())(with_the_sprayer(plan))) == ""


def test_a_can_of_water_is_carried_in_for_a_stage_that_uses_it_up() -> None:
    """Two are used up; a third, brought with the sprayer, is carried to and fro for nobody."""
    third = leg(0, carried_in=(Carried("sprayer"), Carried("sealer", 1, is_material=True)))
    assert "are used up there" not in said(water_in_cans)
    assert "3 of 'sealer' are carried to" in said(water_in_cans, third)


def test_water_is_there_before_anything_is_mixed() -> None:
    def mixed(tables: Tables) -> None:
        water_in_cans(tables)
        for stage in ("acid", "bleach"):
            del tables["jobs"]["elm"]["stages"][stage]["chemical"]
        tables["jobs"]["elm"]["stages"]["compact"]["mixing"] = "2 L of water to a bag"  # from 544

    assert "'compact'" in said(mixed)


def test_a_tap_or_kit_that_brings_water_will_do() -> None:
    def tap(tables: Tables) -> None:
        water_in_cans(tables)
        tables["jobs"]["elm"]["grounds"]["rear"]["supplies"]["tap"] = 1

    def from_kit(tables: Tables) -> None:
        tables["kit"]["sprayer"]["water"] = True

    assert said(tap) == ""
    assert said(from_kit) == ""


def test_the_engine_brings_water_before_it_opens_a_corrosive() -> None:
    tables = pair_tables()
    water_in_cans(tables)
    day = Day.model_validate(tables)
    result = plan_day(day, seconds=20)
    assert result.plan is not None
    assert result.refused == ()
    acid = result.plan.work("elm", "acid")
    assert acid is not None
    brought = [c.start + 3 for c in result.plan.crossings for x in c.carried_in if x.what == "sealer"]
    assert min(brought) <= acid.start


# --- one sprayer, two chemicals ---------------------------------------------------------------------------------------


def test_a_sprayer_is_rinsed_out_between_two_chemicals() -> None:
    """Acid and then hypochlorite out of one sprayer, without packing it down: kit that says so is held to it, and so is
    kit of which a day that is read says nothing, but none that is said to take no rinsing out."""

    def rinsed(tables: Tables) -> None:
        tables["kit"]["sprayer"] |= {"pack_down": 0, "rinse_out": 2}

    def needs_none(tables: Tables) -> None:
        tables["kit"]["sprayer"]["rinse_out"] = 0

    assert said() == ""
    assert "is not rinsed out between" in said(rinsed)
    assert "is not rinsed out between" in said(as_it_is_read=with_rinsing_out)
    assert said(needs_none, as_it_is_read=with_rinsing_out) == ""


def test_rinsing_out_is_part_of_packing_down() -> None:
    day, _ = pair()
    assert isinstance(day, Day)

    def longer(tables: Tables) -> None:
        tables["kit"]["compactor"]["rinse_out"] = 5

    assert "must take 8 min" in said(longer)
