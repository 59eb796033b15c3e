"""One day, one plan: what a command showed last is what every other shows, a day under way as it went."""

import csv
import datetime as dt
import json
import re
from pathlib import Path
from zoneinfo import ZoneInfo

import icalendar
import pypdfium2
import pytest

from planner import cli
from planner.day.reading import read_day
from planner.desktop.model.filing import open_file
from planner.plan.kept import holds_for, read_kept
from planner.plan.pieces import with_pieces
from planner.plan.plan import Plan
from planner.trade.units import show_clock, show_minutes
from tests.cli.commands import Run

QUICK = ("--seconds", "60")


def kept_plan(path: Path) -> Plan:
    kept = read_kept(path)
    assert kept is not None
    return kept.plan


def starts_in_tables(folder: Path) -> dict[str, int]:
    """When each stage begins, as another program reads the table."""
    with (folder / "timeline.csv").open(encoding="utf-8-sig", newline="") as lines:
        return {row["stage"]: int(row["start"]) for row in csv.DictReader(lines) if row["stage"]}


def _minute(moment: dt.datetime) -> int:
    there = moment.astimezone(ZoneInfo("Europe/London"))
    return 60 * there.hour + there.minute


def outputs(run: Run, day: Path) -> dict[str, object]:
    """Each document of a day, made now: the codes, and what each says of its stages, their times and their hands."""
    out, fit = day.parent, run("fit", day, *QUICK)
    codes = {
        "sheet": run("sheet", day, "-o", out / "x.html", *QUICK).code,
        "tables": run("export", day, "tables", "-o", out / "tables", *QUICK).code,
        "calendar": run("export", day, "calendar", "--stages", "-o", out / "x.ics", *QUICK).code,
        "json": run("export", day, "json", "-o", out / "x.json", *QUICK).code,
        "fit": fit.code,
        "slip": run("sheet", day, "--slips", "-o", out / "slip.html", *QUICK).code,
        "paper": run("sheet", day, "-o", out / "x.pdf", *QUICK).code,
    }
    pages = [*pypdfium2.PdfDocument(out / "x.pdf")]
    works = json.loads((out / "x.json").read_text("utf-8"))["works"]
    calendar = icalendar.Calendar.from_ical((out / "x.ics").read_text("utf-8"))
    return {
        "codes": codes,
        "json": {work["stage"]: work["start"] for work in works},
        "hands": {work["stage"]: (work["end"], *work["hands"]) for work in works},
        "fit": " ".join(fit.out.split()),
        "tables": starts_in_tables(out / "tables"),
        "events": {_minute(e.decoded("DTSTART")) for e in calendar.walk("VEVENT")},
        "page": (out / "x.html").read_text("utf-8"),
        "slip": (out / "slip.html").read_text("utf-8"),
        "paper": "".join(page.get_textpage().get_text_range() for page in pages),
    }


def test_what_was_shown_is_what_is_printed(run: Run, tiny: Path) -> None:
    assert run("plan", tiny, *QUICK).code == cli.DONE
    plan = kept_plan(tiny)
    found = outputs(run, tiny)
    assert set(found["codes"].values()) == {cli.DONE}
    assert found["json"] == found["tables"] == {work.stage: work.start for work in plan.works}
    assert kept_plan(tiny) == plan, "nobody planned again"
    assert run("check", tiny, tiny.with_suffix(".plan.json")).code == cli.DONE


def test_a_sheet_of_a_day_that_was_never_planned_keeps_the_plan_that_it_shows(run: Run, tiny: Path) -> None:
    assert run("sheet", tiny, "-o", tiny.with_name("x.html"), *QUICK).code == cli.DONE
    plan = kept_plan(tiny)
    assert run("plan", tiny, "--look", *QUICK).code == cli.DONE
    assert kept_plan(tiny) == plan


@pytest.mark.parametrize(
    ("old", "new", "part"),
    [
        ('minutes = "20 min"', 'minutes = "22 min"', "the job 'elm'"),
        ("cost_per_hour = 24.0", "cost_per_hour = 26.0", "the hands"),
        ('set_up = "4 min"', 'set_up = "5 min"', "the kit"),
    ],
)
def test_a_plan_of_a_changed_day_is_told_with_what_changed(run: Run, tiny: Path, old: str, new: str, part: str) -> None:
    run("plan", tiny, *QUICK)
    text = tiny.read_text()
    assert old in text
    tiny.write_text(text.replace(old, new))
    ran = run("sheet", tiny, "-o", tiny.with_name("x.html"), *QUICK)
    assert ran.code == cli.DONE
    assert f"changed since: {part}" in ran.err


def test_a_comment_changes_nothing(run: Run, tiny: Path) -> None:
    run("plan", tiny, *QUICK)
    plan = kept_plan(tiny)
    tiny.write_text("# for Tuesday\n" + tiny.read_text())
    ran = run("sheet", tiny, "-o", tiny.with_name("x.html"), *QUICK)
    assert (ran.code, ran.err) == (cli.DONE, "")
    assert kept_plan(tiny) == plan


def test_a_plan_for_other_hands_is_a_question_and_not_kept(run: Run, tiny: Path) -> None:
    run("plan", tiny, *QUICK)
    plan = kept_plan(tiny)
    assert run("plan", tiny, "--hands", "2", *QUICK).code == cli.DONE
    assert kept_plan(tiny) == plan


FINISH = 13 * 60
"""By when the van is to be home."""

NAMES = {"treat": "Treat the wall", "rinse": "Rinse the wall", "sweep": "Sweep the path"}

TREATED = ("--done", "treat@08:28")

TOLD = [
    ("a stage done late", "08:40", ("--done", "treat@08:38")),
    ("a stage given up", "08:40", ("--done", "treat@08:38", "--dropped", "sweep")),
    ("rain at noon", "08:40", ("--done", "treat@08:38", "--rain", "12:00")),
    ("the van there late", "08:20", ("--arrived", "elm@08:18")),
    ("one under way", "08:45", ("--done", "treat@08:40", "--begun", "sweep@08:44")),
    ("most of it done", "09:40", ("--done", "treat@08:30", "sweep@08:55", "rinse@09:30")),
    ("half done", "08:50", ("--done", "treat@08:28", "--half", "sweep=30 of 40 m2@08:50")),
    ("half done, the rest longer", "08:50", (*TREATED, "--half", "sweep=75 %@08:50", "--rest-takes", "sweep=9 min")),
    ("a treatment half done", "08:40", ("--half", "treat=50 %@08:24", "--not-yet", "sweep")),
    ("a hand who comes late", "07:55", ("--late", "ash@08:20")),
    ("not begun in its time", "08:40", ("--not-yet", "treat")),
    ("kit that comes later", "08:30", (*TREATED, "--without", "broom@09:00")),
    ("kit that is fetched", "08:30", (*TREATED, "--fetch", "broom")),
    ("rain from and until", "08:40", (*TREATED, "--rain", "09:30-10:30")),
    ("more asked for", "08:55", ("--done", "treat@08:28", "sweep@08:52", "--more", "sweep=10 min")),
    ("nobody in until", "08:10", ("--arrived", "elm@08:10", "--nobody-in", "elm@08:30")),
    ("a dwell that ran over", "09:20", ("--done", "treat@08:30", "--not-yet", "sweep")),
    ("the likely answer", "08:55", ("--done", "sweep@08:52", "--likely")),
    ("in another order", "08:36", ("--done", "sweep@08:35", "--not-yet", "treat")),
    ("all of it done", "09:55", ("--done", "treat@08:28", "sweep@08:52", "rinse@09:23")),
    ("no tap after all", "08:12", ("--arrived", "elm@08:10", "--no-tap", "elm", "--dropped", "treat", "rinse")),
    ("broken off", "08:40", (*TREATED, "--begun", "sweep@08:32", "--dropped", "sweep", "--without", "broom")),
]


@pytest.mark.parametrize(("at", "words"), [told[1:] for told in TOLD], ids=[told[0] for told in TOLD])
def test_every_output_shows_the_day_as_it_went(run: Run, planned: Path, at: str, words: tuple[str, ...]) -> None:
    assert run("now", planned, "--at", at, *words, *QUICK).code == cli.DONE
    shows_one_day(run, planned)


ONE_DAY = [
    ("08:31", ("--done", "treat@08:30")),
    ("08:50", ("--begun", "sweep@08:34", "--half", "sweep=50 %@08:48")),
    ("08:53", ("--done", "sweep-rest@08:52", "--begun", "sweep-rest@08:49")),
    ("08:55", ("--done", "sweep@08:54", "--rain", "11:00")),  # it was not half done: all of it is
    ("08:56", ("--not-so", "rain", "--dropped", "sweep")),
    ("09:25", ("--back", "sweep", "--done", "sweep@08:54", "rinse@09:20", "--begun", "rinse@09:05")),
]
"""Told one after the other, each time of the day that the last made."""


def test_after_each_telling_every_output_shows_one_day(run: Run, planned: Path) -> None:
    for at, words in ONE_DAY:
        assert run("now", planned, "--at", at, *words, "--likely", *QUICK).code == cli.DONE, at
        shows_one_day(run, planned)
        what_is_left_is_what_was_not_done(run, planned, at)
    kept = read_kept(planned)
    assert kept is not None
    assert kept.progress is not None
    assert {n.stage for n in kept.progress.noted} == {"treat", "sweep", "rinse"}, "no rest of what is done"


HALF_TREATED = [
    ("08:40", ("--half", "treat=50 %@08:24", "--not-yet", "sweep")),
    ("09:08", ("--begun", "rinse@08:57", "--done", "rinse@09:07", "--not-yet", "treat-rest")),
    ("09:10", ("--dropped", "treat-rest", "rinse-later")),
    ("09:11", ("--back", "treat-rest", "rinse-later", "--not-yet", "sweep")),
    ("09:20", ("--begun", "treat-rest@09:14", "--half", "treat-rest=50 %@09:18")),
    ("09:21", ("--done", "treat@08:26")),  # it was not half done: all of it is
]
"""A treatment that is left half done, and again, told one after the other."""


def test_pieces_of_a_treatment_and_its_rinse_are_shown_as_one_day(run: Run, planned: Path) -> None:
    seen = set[str]()
    for at, words in HALF_TREATED:
        assert run("now", planned, "--at", at, *words, "--likely", *QUICK).code == cli.DONE, at
        shows_one_day(run, planned)
        what_is_left_is_what_was_not_done(run, planned, at)
        seen |= {work.stage for work in kept_plan(planned).works}
    assert {"treat-rest", "rinse-later"} <= seen
    assert {work.stage for work in kept_plan(planned).works} == {"treat", "rinse", "sweep"}, "no pieces any more"


def what_is_left_is_what_was_not_done(run: Run, day: Path, at: str) -> None:
    """What the plan does and what is left for another day are all of the day."""
    out = day.with_name("left.toml")
    out.unlink(missing_ok=True)
    assert run("now", day, "--at", at, "--look", "--likely", "--left", out, *QUICK).code == cli.DONE
    left = {s for _, s, _ in read_day(out).stages()} if out.exists() else set()
    done, kept = {work.stage for work in kept_plan(day).works}, read_kept(day)
    assert kept is not None
    assert kept.progress is not None
    broken_off = {s for _, s in kept.progress.dropped}
    whole = {s for _, s, _ in with_pieces(read_day(day), kept.progress).stages()}
    assert done | left == whole
    assert done & left <= broken_off


def shows_one_day(run: Run, planned: Path) -> None:
    """Documents, check, fit and window show the plan that is kept: stages, times, hands, and when the van is home."""
    plan = kept_plan(planned)
    found = outputs(run, planned)
    begins = {work.stage: work.start for work in plan.works}
    assert set(found["codes"].values()) == {cli.DONE}
    assert found["json"] == found["tables"] == begins
    assert found["hands"] == {work.stage: (work.end, *work.hands) for work in plan.works}
    assert set(begins.values()) <= found["events"]
    assert all(show_clock(minute) in str(found[page]) for minute in begins.values() for page in ("page", "paper"))
    spare = re.compile(rf"with\s+{show_minutes(FINISH - plan.home)}\s+spare")
    assert all(spare.search(str(found[page])) for page in ("fit", "page", "paper"))
    assert all(show_clock(plan.home) in str(found[page]) for page in ("page", "paper"))
    quarters = {work.stage: (work.start // 15 * 15, -(-work.end // 15) * 15) for work in plan.works}
    for stage, (first, last) in quarters.items():  # customers are told to the quarter of an hour
        assert f"about {show_clock(first)} to {show_clock(last)}: {NAMES.get(stage, '')}" in str(found["slip"])
    assert run("check", planned, planned.with_suffix(".plan.json")).code == cli.DONE
    window, kept = open_file(planned, read_only=True).open_day, read_kept(planned)
    assert window.plan == plan, "the window shows the same"
    assert window.shown is not None
    assert kept is not None
    assert window.shown.day == holds_for(kept, read_day(planned)), "of the same day"
    assert {s for _, s, _ in window.shown.day.stages()} >= set(begins)
    assert kept_plan(planned) == plan, "no output planned the day from the morning again"
    for stage, name in NAMES.items():
        if stage not in begins:
            assert all(name not in str(found[page]) for page in ("page", "paper", "slip"))


def test_a_day_under_way_that_was_changed_is_not_planned_from_the_morning_unasked(run: Run, tiny: Path) -> None:
    run("plan", tiny, *QUICK)
    run("now", tiny, "--at", "08:40", "--done", "treat@08:38", *QUICK)
    tiny.write_text(tiny.read_text().replace('least = "30 min"', 'least = "44 min"').replace("20 min", "60 min"))
    plan = kept_plan(tiny)
    ran = run("sheet", tiny, "-o", tiny.with_name("x.html"), *QUICK)
    assert ran.code == cli.BROKEN
    assert "slackwater now" in ran.err
    assert not tiny.with_name("x.html").exists()
    assert kept_plan(tiny) == plan
