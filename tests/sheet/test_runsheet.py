"""What is on the run sheet, against the tiny plan as it is written down by hand."""

import pytest

from planner.sheet.runsheet import RunSheet, run_sheet
from planner.sheet.wording import Names, moment, plain
from tests.days import tiny_day
from tests.sheet.plans import tiny_plan


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


def test_the_order_holds_every_duty_of_the_hand_in_order_of_time(sheet: RunSheet) -> None:
    [order] = sheet.orders
    told = [(row.kind, moment(sheet.date, row.start), row.kit) for row in order.rows]
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


def test_a_gap_of_five_minutes_is_told_as_free_time_and_a_shorter_one_is_not() -> None:
    plan = tiny_plan()
    without_break = type(plan)(plan.drives, plan.visits, plan.works, plan.crossings, plan.stays, plan.chores)
    free = [row for row in run_sheet(tiny_day(), without_break).orders[0].rows if row.kind == "free"]
    assert [(row.start, row.end, row.to_do) for row in free] == [(563, 574, False)]  # 532 to 536 is too short


def test_a_wait_says_not_before_not_after_and_what_fills_it(sheet: RunSheet) -> None:
    [wait] = sheet.waits
    # Treated until 08:28, dwells 30 to 45 minutes.
    assert (moment(sheet.date, wait.not_before), wait.not_after) == ("08:58", 8 * 60 + 28 + 45)
    assert wait.meanwhile == ("Sweep: path",)
    notes = {row.what: row.note for row in sheet.orders[0].rows if row.kind == "stage"}
    assert notes["Rinse: wall"] == "Not before 08:58, not after 09:13"
    assert "not before 08:58, not after 09:13" in notes["Treat: wall"]
    assert notes["Sweep: path"] == ""


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
    assert titles == ["Hypochlorite", "Fragile roof", "Working alone", "no-such-caution"]
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
        "noise 75 dB(A) without ear protection, 10 points, below the action value",
    )


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
