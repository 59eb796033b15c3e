"""Tables of plans worked out on paper (`tests.plan.worked`): every figure is counted there by hand."""

import json
import math
from dataclasses import replace

import pytest

from planner.day import Day
from planner.plan import tables
from planner.plan.plan import Plan
from planner.plan.plan_file import plan_to_json
from tests.plan.worked import pair, pair_tables, round_trip, tiny

ALL = {
    tables.timeline: tables.TIMELINE,
    tables.crossings: tables.CROSSINGS,
    tables.waits: tables.WAITS,
    tables.load_list: tables.LOAD_LIST,
    tables.quantities: tables.QUANTITIES,
    tables.exposure: tables.EXPOSURE,
    tables.hours: tables.HOURS,
}


@pytest.mark.parametrize("table", ALL, ids=lambda x: x.__name__)
def test_columns_are_as_documented_even_when_there_is_nothing(table: object) -> None:
    day, plan = pair()
    assert tuple(table(day, plan).columns) == ALL[table]
    nothing = Plan(drives=(), visits=(), works=())
    assert tuple(table(day, nothing).columns) == ALL[table]


def test_the_timeline_has_every_duty_of_every_hand() -> None:
    day, plan = pair()
    table = tables.timeline(day, plan)
    assert list(table.hand.unique()) == ["ash", "bo"]
    for hand, own in table.groupby("hand"):
        assert (own.start.iloc[1:].to_numpy() >= own.end.iloc[:-1].to_numpy()).all(), hand
    assert (table.end - table.start == table.minutes).all()
    counts = table.what.value_counts().to_dict()
    assert counts == {
        "drive": 4, "walk in": 4, "walk out": 4, "set up": 4, "pack down": 4, "lay": 1, "lift": 1, "stage": 6,
        "break": 1,
    }  # fmt: skip


def test_crossings_say_what_is_carried_and_how_heavy_it_is() -> None:
    table = tables.crossings(*pair())
    assert list(table.load_in) == [1.0, 1.5, 1.5, 2.0]
    assert list(table.load_out) == [1.0, 1.5, 1.5, 0.5]  # two empty cans, each a quarter of a full one
    assert table.carried_in.iloc[3] == "2 x Sealer"
    assert table.restricted.all()


def test_waits_say_what_fills_them() -> None:
    row = tables.waits(*tiny()).iloc[0]
    assert (row.minutes, row["least"], row["most"], row.filled, row.unfilled, row.filled_by) == (
        34,
        30,
        45,
        34,
        0,
        "sweep",
    )
    row = tables.waits(*round_trip()).iloc[0]
    assert (row.minutes, row.filled_by) == (104, "drive to oak, break, clear, drive to elm")


def test_a_wait_says_what_each_patch_of_it_waits() -> None:
    """By hand: treated 08:20-08:32, rinsed 09:02-09:22 at an even pace; 30 to 62 where nothing is said of the order.

    In the same order the first patch waits from 08:20 to 09:02 and the last from 08:32 to 09:22: 42 and 50 minutes.
    """
    day, plan = tiny()
    treat, rinse = (work for work in sorted(plan.works, key=lambda w: w.start) if work.stage in ("treat", "rinse"))
    works = (replace(treat, start=500, end=512), replace(rinse, start=542, end=562))
    for order, patches in ((None, (30, 62)), ("same", (42, 50)), ("reversed", (30, 62))):
        [wait] = day.jobs["elm"].waits
        job = day.jobs["elm"].model_copy(update={"waits": (wait.model_copy(update={"order": order}),)})
        said = day.model_copy(update={"jobs": {"elm": job}})
        row = tables.waits(said, replace(plan, works=works)).iloc[0]
        assert (row["order"], row.patch_shortest, row.patch_longest) == (order, *patches)
        [told] = json.loads(plan_to_json(replace(plan, works=works), said))["waits"]
        assert (told["after"], told["before"], told["order"]) == ("treat", "rinse", order)
        assert (told["patch_shortest"], told["patch_longest"]) == patches


def test_an_idle_minute_in_a_wait_is_unfilled() -> None:
    """Without the sweep (512 to 532) the dwell has 20 idle minutes."""
    day, plan = tiny()
    row = tables.waits(day, replace(plan, works=(plan.works[0], plan.works[2]))).iloc[0]
    assert (row.filled, row.unfilled) == (14, 20)


def test_the_load_list_goes_by_groups_and_in_the_order_of_need() -> None:
    """The van's groups are "heavy" and "water", then those of what has none, by name; the hose is needed at 495 and the
    lance at 499, the sprayer before the sealer."""
    table = tables.load_list(*pair())
    assert list(table.name) == [
        "compactor", "rubber pad", "hose", "lance",
        "sprayer", "first aid kit", "Sealer", "Floor protection sheets", "roller sleeve", "chemical gloves",
    ]  # fmt: skip
    sealer = table[table.key == "sealer"].iloc[0]
    assert (sealer["count"], sealer.container, sealer.kind) == (2, "can", "material")


def test_kit_that_a_method_needs_is_loaded_too() -> None:
    day, plan = pair()
    closure = {
        kit for w in plan.works for kit in day.kit_closure(day.jobs[w.job].stages[w.stage].methods[w.method].kit)
    }
    table = tables.load_list(day, plan)
    assert closure == set(table[table.kind == "kit"].key) == {"compactor", "sprayer", "lance", "hose"}


def test_two_units_out_at_once_are_two_to_load() -> None:
    day, plan = round_trip()
    washer = plan.stays[0]
    again = replace(washer, number=2, carried_in=washer.carried_in + 10)
    later = replace(washer, number=2, carried_in=washer.carried_out, carried_out=washer.carried_out + 10)
    for other, count in ((again, 2), (later, 1)):
        table = tables.load_list(day, replace(plan, stays=(*plan.stays, other)))
        assert table[table.key == "washer"]["count"].iloc[0] == count


def test_quantities_are_what_the_containers_hold() -> None:
    """Two cans of 5 litres."""
    row = tables.quantities(*pair()).iloc[0]
    assert (row.stage, row["count"], row.litres, row.kg) == ("seal", 2, 10.0, None)


def longer_compacting(minutes: int) -> tuple[Day, Plan]:
    words = pair_tables()
    words["jobs"]["elm"]["stages"]["compact"]["methods"]["plate"]["minutes"] = minutes  # trigger held for half of it
    day, plan = pair(words)
    compact = replace(plan.works[4], end=plan.works[4].start + minutes)
    return day, replace(plan, works=(*plan.works[:4], compact, *plan.works[5:]))


def test_exposure_is_that_of_the_ready_reckoners() -> None:
    """5 m/s2 for 3 h is 150 points (HSE hand-arm vibration ready reckoner); 95 dB(A) for a tenth of 8 h is 85 dB(A),
    the upper action value, 100 points (Control of Noise at Work Regulations 2005, HSE ready reckoner)."""
    ash, bo = (row for _, row in tables.exposure(*longer_compacting(360)).iterrows())
    assert (ash.vibration_minutes, ash.vibration_points) == (180, pytest.approx(150))
    assert ash.vibration == "at or above the action value"
    assert bo.vibration_points == 0
    assert math.isnan(bo.noise_daily)
    ash = tables.exposure(*longer_compacting(96)).iloc[0]
    assert ash.noise_daily == pytest.approx(85)
    assert ash.noise_points == pytest.approx(100)
    assert ash.noise == "at or above the action value"


def test_one_tool_is_held_at_a_time_and_all_of_them_are_heard() -> None:
    """The compactor (5 m/s2, 95 dB(A)) beside kit that shakes less and is as loud: 3 h at 5 m/s2 stay 150 points
    (HSE ready reckoner), and two equal sources are 3 dB louder than one (their energies add up)."""
    words = pair_tables()
    words["kit"]["fan"] = {"vibration": 4.0, "noise": 95.0}
    words["kit"]["compactor"]["needs"] = ["fan"]
    words["jobs"]["elm"]["stages"]["compact"]["methods"]["plate"]["minutes"] = 360
    day, plan = pair(words)
    compact = replace(plan.works[4], end=plan.works[4].start + 360)
    alone = tables.exposure(*longer_compacting(360)).iloc[0]
    ash = tables.exposure(day, replace(plan, works=(*plan.works[:4], compact, *plan.works[5:]))).iloc[0]
    assert ash.vibration_points == pytest.approx(150)
    assert ash.noise_daily - alone.noise_daily == pytest.approx(10 * math.log10(2))
    assert ash.noise_minutes == alone.noise_minutes == 180


def test_lifts_stand_against_the_guideline() -> None:
    """HSE INDG143 / L23: 25 kg for a man and 16 kg for a woman, two thirds of the sum for a pair. Ash carries the lance
    (9 kg) and the sprayer (8 kg) one by one or together, and with Bo a compactor of 40 kg, over 33 kg."""
    words = pair_tables()
    words["kit"]["compactor"]["mass"] = 40.0
    table = tables.exposure(*pair(words)).set_index("hand")
    ash = table.loc["ash"]
    assert (ash.lift_kg, ash.lift_hands, ash.lift_what) == (40.0, 2, "compactor")
    assert ash.lift == "above both guideline figures"
    words["kit"]["compactor"]["mass"] = 21.0  # two thirds of twice 16 kg are 21.3 kg
    assert tables.exposure(*pair(words)).lift.iloc[0] == "within the guideline figures"


def test_dust_is_counted_for_the_hands_who_make_it() -> None:
    """Compacting, 20 minutes, is Ash's; nothing that Bo does makes dust."""
    assert list(tables.exposure(*pair()).dust_minutes) == [20, 0]


def test_hours_add_up() -> None:
    day, plan = pair()
    table = tables.hours(day, plan).set_index("hand")
    ash = table.loc["ash"]
    assert (ash.start, ash.end, ash.minutes) == (480, 611, 131)
    # lay 8, sprayer 2 + 2, acid 10, rinse 6, bleach 8, compactor 4 + 3, compact 20, lift 5
    assert (ash.working, ash.walking, ash.driving, ash.resting) == (68, 12, 30, 20)
    day, plan = round_trip()
    cy = tables.hours(day, plan).set_index("hand").loc["cy"]
    assert (cy.start, cy.end, cy.driving, cy.break_due) == (560, 620, 0, 0)
    ash = tables.hours(day, plan).set_index("hand").loc["ash"]
    assert (ash.break_due, ash.break_by_law) == (15, 0)  # the law asks for one over six hours, the day sooner


def test_cost_is_for_all_hours_out() -> None:
    """94 minutes at 24 an hour."""
    assert tables.hours(*tiny()).cost.iloc[0] == pytest.approx(94 / 60 * 24)


def test_whole_numbers_stay_whole_beside_what_does_not_apply() -> None:
    visits = list(tables.timeline(*tiny())["visit"])
    assert None in visits  # a drive belongs to no visit
    assert {type(visit) for visit in visits} == {int, type(None)}
