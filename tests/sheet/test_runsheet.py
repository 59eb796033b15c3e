"""What is on the run sheet, against the tiny plan as it is written down by hand."""

from dataclasses import replace

import pytest

from planner.day.names import Names, plain
from planner.plan.plan import Carried, Plan
from planner.sheet.papers.agenda import agenda
from planner.sheet.papers.hand_order import OrderRow, orders
from planner.sheet.papers.runsheet import RunSheet, run_sheet
from planner.sheet.papers.waits import WaitRow, stage_notes
from planner.sheet.wording import moment
from planner.trade.cautions import DEFERS
from planner.trade.units import show_clock
from tests.days import tiny_day
from tests.sheet.busy import busy_day, busy_plan
from tests.sheet.plans import tiny_plan


def rows(plan: Plan) -> list[OrderRow]:
    """The rows of the only hand's order."""
    day = tiny_day()
    [order] = orders(day, plan, stage_notes(day, plan))
    return order.rows


@pytest.fixture
def sheet() -> RunSheet:
    return run_sheet(tiny_day(), tiny_plan(), verdict="Fits with 3 h spare.")


def with_job(**changes: object) -> RunSheet:
    """The run sheet of the tiny day with its job changed."""
    job = tiny_day().model_dump()["jobs"]["elm"] | changes
    return run_sheet(tiny_day(jobs={"elm": job}), tiny_plan())


def test_the_head_says_when_to_leave_and_be_home(sheet: RunSheet) -> None:
    head = sheet.head
    assert head.date == "Tuesday 16 June 2026"  # a Tuesday by the Gregorian calendar
    assert (head.leaves, head.home) == ("08:00", "09:51")
    assert head.crossings == "2 crossings through the house"
    assert head.verdict == "Fits with 3 h spare."


def test_the_order_holds_every_duty_of_the_hand_in_order_of_time() -> None:
    told = [(row.kind, show_clock(row.start), row.kit) for row in rows(tiny_plan())]
    assert told == [
        ("drive", "08:00", ""),
        ("in", "08:10", "sprayer, broom"),
        ("set up", "08:12", "sprayer"),
        ("stage", "08:16", "sprayer"),
        ("pack down", "08:28", "sprayer"),
        ("stage", "08:32", "broom"),
        ("out", "08:56", "sprayer, broom"),
        ("in", "09:00", "washer"),
        ("set up", "09:02", "washer"),
        ("stage", "09:08", "washer"),
        ("break", "09:23", ""),
        ("pack down", "09:34", "washer"),
        ("out", "09:39", "washer"),
        ("drive", "09:41", ""),
    ]


@pytest.mark.parametrize(("pack_down", "told"), [(4, "Rinse out and pack down"), (0, "Rinse out")])
def test_that_a_sprayer_is_rinsed_out_is_told(pack_down: int, told: str) -> None:
    kit = tiny_day().model_dump()["kit"]
    kit["sprayer"] |= {"pack_down": pack_down, "rinse_out": 4 - pack_down or 2}
    day = tiny_day(kit=kit)
    [order] = orders(day, tiny_plan(), {})
    assert [row.what for row in order.rows if row.kind == "pack down"] == [told, "Pack down"]


def test_a_gap_of_five_minutes_is_told_as_free_time_and_a_shorter_one_is_not() -> None:
    plan = tiny_plan()
    without_break = type(plan)(plan.drives, plan.visits, plan.works, plan.crossings, plan.stays, plan.chores)
    free = [row for row in rows(without_break) if row.kind == "free"]
    assert [(row.start, row.end, row.to_do) for row in free] == [(563, 574, False)]  # 532 to 536 is too short


def test_on_paper_each_turn_at_the_van_is_one_entry_that_names_what_goes_in_and_out(sheet: RunSheet) -> None:
    [hand] = sheet.orders
    told = [
        (entry.kind, show_clock(entry.start or 0), [(phrase.what, phrase.kit) for phrase in entry.phrases])
        for entry in hand.entries
    ]
    # By hand from the plan: sprayer and broom in at 08:10, out at 08:56; the washer in at 09:00, out at 09:39. The
    # sprayer is named as it is set up, as the broom came in with it, and not again while nothing else is named.
    assert told == [
        ("visit", "08:00", [("Drive to elm", ""), ("Elm Cottage", "")]),
        ("crossing", "08:10", [("rear: Crossing 1, in through the house", "sprayer, broom"), ("Set up", "sprayer")]),
        ("stage", "08:16", [("Treat: wall", "")]),
        ("stage", "08:28", [("Pack down", "sprayer"), ("Sweep: path", "broom")]),
        ("crossing", "08:56", [("Crossing 1, out", "sprayer, broom"), ("Crossing 2, in", "washer"), ("Set up", "")]),
        ("stage", "09:08", [("Rinse: wall", "")]),
        ("rest", "09:23", [("Break", "")]),
        ("crossing", "09:34", [("Pack down", ""), ("Crossing 2, out", "washer")]),
        ("visit", "09:41", [("Drive to yard", "")]),
    ]


def test_no_duty_is_lost_when_rows_are_folded() -> None:
    day = busy_day(jobs=2, rounds=3)
    folded = [agenda(order) for order in orders(day, busy_plan(day), {})]
    duties = [order.rows for order in orders(day, busy_plan(day), {})]
    for hand, own in zip(folded, duties, strict=True):
        heads = sum(
            phrase.what == day.jobs[job].title for e in hand.entries for phrase in e.phrases for job in day.jobs
        )
        assert heads == 2
        assert sum(len(entry.phrases) for entry in hand.entries) - heads == len(own)
        begins = {entry.start for entry in hand.entries} | {p.start for e in hand.entries for p in e.phrases}
        assert {row.start for row in own} <= begins


def test_a_caution_keeps_what_it_says_and_leaves_to_the_last_line_what_that_says_for_all() -> None:
    with_tag = tiny_day().model_dump()["jobs"]["elm"]
    with_tag["stages"]["treat"]["tags"] = ("chlorine",)
    [caution, *_] = run_sheet(tiny_day(jobs={"elm": with_tag}), tiny_plan()).cautions
    assert "toxic gas" in caution.text
    assert "label" not in caution.text
    assert "product labels and safety data sheets" in DEFERS


def test_a_wait_filled_with_packing_is_not_told_as_idle() -> None:
    plan = tiny_plan()
    idle = replace(plan, works=tuple(w for w in plan.works if w.stage != "sweep"))
    [wait] = run_sheet(tiny_day(), idle).waits
    # From 08:28 to 09:02 the sprayer is packed down and the washer set up, and nothing else is done.
    assert set(wait.meanwhile) == {"Pack down", "Set up"}


def test_a_wait_says_not_before_not_after_and_what_fills_it(sheet: RunSheet) -> None:
    [wait] = sheet.waits
    # Treated until 08:28, dwells 30 to 45 minutes.
    assert (moment(sheet.date, wait.not_before), wait.not_after) == ("08:58", 8 * 60 + 28 + 45)
    assert wait.meanwhile == ("Sweep: path",)
    notes = {row.what: row.note for row in rows(tiny_plan()) if row.kind == "stage"}
    assert notes["Rinse: wall"] == "Not before 08:58, not after 09:13"
    assert "not before 08:58, not after 09:13" in notes["Treat: wall"]
    assert notes["Sweep: path"] == ""


def test_what_follows_at_once_is_no_rest() -> None:
    """Compacting begins in the minute in which filling ends: nobody rests; in twenty minutes without work one may."""
    row = WaitRow("elm", "fill", "compact", "Fill", "Compact", "order", 600, 600, 645, 600, ())
    assert row.filling == "at once"
    assert replace(row, planned=620).filling == "nothing: rest"
    assert replace(row, planned=620, meanwhile=("Pack down",)).filling == "Pack down"


def test_the_surface_that_cures_is_kept_off_until_its_cure_is_over_rounded_up() -> None:
    waits = [{"after": "sweep", "kind": "cure", "least": 18 * 60}]
    [job] = with_job(waits=waits).jobs
    # Swept until 08:52; 18 h later is 02:52 the next day, a Wednesday; told to the next quarter.
    assert job.notes.after == ("Keep off: path, until Wed 17 June 03:00",)


def test_a_wait_that_closes_nothing_keeps_nobody_off() -> None:
    [job] = with_job(waits=[{"after": "sweep", "kind": "cure", "least": 60, "closes": False}]).jobs
    assert job.notes.after == ()


def test_each_quoted_item_names_the_stages_that_do_it_and_a_forgotten_one_is_marked() -> None:
    [job] = with_job(quoted={"Green off the walls": ["treat", "rinse"], "Gutters": []}).jobs
    assert [(item.stages, item.missing) for item in job.quoted] == [
        (("Treat: wall 08:16", "Rinse: wall 09:08"), False),
        ((), True),
    ]


def test_the_cautions_come_from_stages_kit_and_hazards_and_an_unknown_one_is_not_lost() -> None:
    tables = tiny_day().model_dump()
    tables["jobs"]["elm"]["hazards"] = ("fragile-roof", "no-such-caution")
    tables["jobs"]["elm"]["stages"]["treat"]["tags"] = ("chlorine",)
    sheet = run_sheet(tiny_day(**{key: tables[key] for key in ("jobs", "kit")}), tiny_plan())
    titles = [caution.title for caution in sheet.cautions]
    assert titles == ["Hypochlorite", "Fragile roof", "Working alone", "First aid", "no-such-caution"]
    assert "ask before you start" in sheet.cautions[-1].text


def test_exposure_is_told_by_hand() -> None:
    tables = tiny_day().model_dump()["kit"]
    tables["washer"] |= {"vibration": 5.0, "noise": 90.0}
    treat = tiny_day().model_dump()["jobs"]
    treat["elm"]["stages"]["rinse"]["methods"]["lance"]["trigger"] = 1.0
    sheet = run_sheet(tiny_day(kit=tables, jobs=treat), tiny_plan())
    # 5 m/s2 for 15 minutes: 2 x 25 x 0.25 = 12.5 points (HSE hand-arm vibration ready reckoner's formula), and
    # 90 dB(A) for 15 minutes: 90 + 10 log10(0.25 / 8) = 74.9 dB(A) (Control of Noise at Work Regulations 2005).
    assert sheet.exposure == (
        "ash: out 1 h 51 min, break 11 min; vibration 0.9 m/s² A(8), 12 points, below the action value; "
        "noise 75 dB(A) unprotected, 10 points, below the action value",
    )


def test_dust_heavy_lifts_and_a_missing_break_are_told_by_hand() -> None:
    """A washer of 20 kg and a broom of 6 kg together are over 25 kg and 16 kg (HSE INDG143 / L23), and 20 minutes of
    sweeping make dust. Over six hours the law asks for a break of 20 min (Working Time Regulations 1998, reg. 12).
    """
    tables = tiny_day().model_dump()
    tables["kit"]["washer"]["mass"], tables["kit"]["broom"]["mass"] = 20.0, 6.0
    tables["jobs"]["elm"]["stages"]["sweep"]["makes"] = ("dust",)
    day = tiny_day(kit=tables["kit"], jobs=tables["jobs"])
    [told] = run_sheet(day, tiny_plan()).exposure
    assert "dust for 20 min, which needs respiratory protection" in told
    assert "heaviest in one go 20 kg (washer), above the lower guideline figure, 25 kg and 16 kg" in told
    crossing = replace(tiny_plan().crossings[0], carried_in=(Carried("washer"), Carried("broom")))
    plan = replace(tiny_plan(), crossings=(crossing,), rests=())
    sheet = run_sheet(day, plan)
    assert (
        "heaviest in one go 26 kg (washer, broom), above both guideline figures, 25 kg and 16 kg" in sheet.exposure[0]
    )
    assert any(caution.title == "Lifting" for caution in sheet.cautions)
    assert any(caution.title == "Respirable silica dust" for caution in sheet.cautions)
    late = replace(plan, drives=(*plan.drives[:-1], replace(plan.drives[-1], end=plan.leaves + 361)))
    assert "no break, and the law asks for 20 min" in run_sheet(day, late).exposure[0]


@pytest.mark.parametrize(
    ("tank", "told"),
    [
        (None, "Water in the van's tank, at least 60 L"),
        (80.0, "Water in the van's tank, at least 60 L"),
        (50.0, "Water in the van's tank, at least 60 L; it holds 50 L: fill it up on the way"),
    ],
)
def test_water_that_no_tap_gives_is_in_the_van(tank: float | None, told: str) -> None:
    tables = tiny_day().model_dump()
    tables["van"]["tank"] = tank
    tables["kit"]["washer"]["supply"] = ()
    tables["jobs"]["elm"]["stages"]["rinse"]["methods"]["lance"]["draws"] = 60.0
    day = tiny_day(van=tables["van"], kit=tables["kit"], jobs=tables["jobs"])
    sheet = run_sheet(day, tiny_plan())
    assert told in [line for group in sheet.load for line in group.lines]
    assert sheet.jobs[0].quantities == ("Water from the van's tank, about 60 L",)
    tables["kit"]["washer"]["supply"] = ("tap",)
    day = tiny_day(van=tables["van"], kit=tables["kit"], jobs=tables["jobs"])
    assert run_sheet(day, tiny_plan()).jobs[0].quantities == ("Water from the tap, about 60 L", "From the site: tap")


def test_the_load_list_keeps_the_vans_groups_and_what_is_needed_first_on_top() -> None:
    tables = tiny_day().model_dump()
    tables["van"]["groups"] = ("wet", "dry")
    for key, group in (("sprayer", "wet"), ("washer", "wet"), ("broom", "dry")):
        tables["kit"][key]["group"] = group
    tables["kit"]["washer"]["attachments"] = ("lance",)
    tables["jobs"]["elm"]["stages"]["treat"]["wear"] = ("goggles",)
    sheet = run_sheet(tiny_day(van=tables["van"], kit=tables["kit"], jobs=tables["jobs"]), tiny_plan())
    assert [(group.name, group.lines) for group in sheet.load] == [
        ("Wet", ("Sprayer", "Washer", "Lance")),
        ("Dry", ("Broom",)),
        ("For safety", ("First aid kit",)),
        ("To wear", ("Goggles",)),
    ]


def test_stages_of_one_name_are_told_apart() -> None:
    stages = tiny_day().model_dump()["jobs"]["elm"]["stages"]
    for key in stages:
        stages[key]["name"] = "do it"
    job = tiny_day().model_dump()["jobs"]["elm"] | {"stages": stages}
    names = Names(tiny_day(jobs={"elm": job}))
    assert [names.stage("elm", key) for key in stages] == [
        "Do it: wall (1 of 2)",
        "Do it: wall (2 of 2)",
        "Do it: path",
    ]


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("two\n lines\t here ", "two lines here"),
        ("a\x00b\x07c\x9b", "abc"),
        ("safe\u202egnp.exe", "safegnp.exe"),  # U+202E turns what follows (Unicode standard annex 9)
        ("\u2066x\u2069\ufeff", "x"),
        ("שלום", "שלום"),
    ],
)
def test_signs_that_could_disturb_their_neighbours_are_left_out(text: str, shown: str) -> None:
    assert plain(text) == shown


def test_on_arriving_one_reads_whom_to_ring_and_whether_they_are_in() -> None:
    job = tiny_day().model_dump()["jobs"]["elm"]
    job |= {"note": "The dog is friendly", "customer": {"phone": "01632 960 017", "at_home": False}}
    day = tiny_day(jobs={"elm": job})
    [order] = orders(day, tiny_plan(), stage_notes(day, tiny_plan()))
    assert order.rows[0].note == "01632 960 017; nobody at home; The dog is friendly"
