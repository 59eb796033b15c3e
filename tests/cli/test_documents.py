"""``sheet`` and ``export``: what they write can be read by other people's libraries."""

import io
import json
from pathlib import Path

import html5lib
import icalendar
import pandas as pd
import pytest
from pypdf import PdfReader

from planner import cli
from planner.plan.plan_file import plan_from_json
from tests.cli.commands import Run
from tests.sheet.plans import tiny_plan


@pytest.mark.parametrize("more", [(), ("--slips",), ("--slips", "--with-price"), ("--paper", "Letter")])
def test_pages_as_html_and_pdf(run: Run, planned: Path, more: tuple[str, ...]) -> None:
    page, print_out = planned.with_name("out.html"), planned.with_name("out.pdf")
    for path in (page, print_out):
        ran = run("sheet", planned, "-o", path, *more)
        assert ran == (cli.DONE, f"{path}\n", "")
    html5lib.HTMLParser(strict=True).parse(page.read_text(encoding="utf-8"))
    text = "".join(leaf.extract_text() for leaf in PdfReader(io.BytesIO(print_out.read_bytes())).pages)
    for words in ("Elm Cottage", "08:10" if "--slips" not in more else "08:00"):
        assert words in page.read_text(encoding="utf-8")
        assert words in text


def test_the_sheet_is_of_the_kept_plan(run: Run, planned: Path) -> None:
    run("sheet", planned, "-o", planned.with_name("x.html"))
    # The plan written by hand rinses at 09:08 to 09:23 and is home at 09:51.
    page = planned.with_name("x.html").read_text(encoding="utf-8")
    assert "09:08" in page
    assert "09:51" in page


def test_without_a_plan_one_is_made(run: Run, tiny: Path) -> None:
    ran = run("export", tiny, "json", "-o", tiny.with_name("x.json"), "--seconds", "60")
    assert ran.code == cli.DONE
    assert {work.stage for work in plan_from_json(tiny.with_name("x.json").read_text()).works} == {
        "treat",
        "rinse",
        "sweep",
    }


def test_a_kept_plan_that_no_longer_holds_is_made_anew(run: Run, planned: Path) -> None:
    planned.write_text(planned.read_text().replace('minutes = "15 min"', 'minutes = "25 min"'))
    ran = run("export", planned, "json", "-o", planned.with_name("x.json"), "--seconds", "60")
    assert ran.code == cli.DONE
    assert ran.err.startswith(f"{planned.with_suffix('.plan.json')}: holds no longer, so the day is planned anew: ")
    rinse = plan_from_json(planned.with_name("x.json").read_text()).work("elm", "rinse")
    assert rinse is not None
    assert rinse.end - rinse.start == 25


@pytest.mark.parametrize("words", [("sheet",), ("export", "json")])
def test_codes_are_those_that_the_readme_tells(run: Run, tiny: Path, words: tuple[str, ...]) -> None:
    """3 for a day that has no plan, 4 for one that ends past its latest finish: as for every command."""
    out = tiny.with_name("x.html" if words[0] == "sheet" else "x.json")
    late = tiny.with_name("late.toml")
    late.write_text(tiny.read_text().replace('finish = "13:00"', 'finish = "08:30"'))
    assert '"08:30"' in late.read_text()
    ran = run(words[0], late, *words[1:], "-o", out, "--seconds", "60")
    assert (ran.code, out.exists()) == (cli.LATE, True), ran.err
    impossible = tiny.with_name("never.toml")
    impossible.write_text(tiny.read_text().replace('place = "elm"', 'place = "elm"\ndone_by = "08:10"', 1))
    ran = run(words[0], impossible, *words[1:], "-o", tiny.with_name("none.pdf"), "--seconds", "60")
    assert (ran.code, tiny.with_name("none.pdf").exists()) == (cli.NO_PLAN, False), ran.err


def test_json_is_the_plan(run: Run, planned: Path) -> None:
    out = planned.with_name("x.json")
    assert run("export", planned, "json", "-o", out) == (cli.DONE, f"{out}\n", "")
    assert plan_from_json(out.read_text(encoding="utf-8")) == tiny_plan()
    assert json.loads(out.read_text(encoding="utf-8"))["day"] == "One wall, one path"


def test_the_calendar_has_the_visit_the_stages_and_the_alarms(run: Run, planned: Path) -> None:
    out = planned.with_name("x.ics")
    run("export", planned, "calendar", "-o", out)
    few = icalendar.Calendar.from_ical(out.read_text(encoding="utf-8"))
    assert len(few.walk("VEVENT")) == 1
    ran = run("export", planned, "calendar", "-o", out, "--stages", "--alarms")
    assert ran.code == cli.DONE
    calendar = icalendar.Calendar.from_ical(out.read_text(encoding="utf-8"))
    starts = {entry["DTSTART"].dt.strftime("%H:%M") for entry in calendar.walk("VEVENT")}
    assert {"08:10", "08:16", "08:32", "09:08"} <= starts  # the visit and its three stages, as planned by hand
    assert calendar.walk("VALARM")


def test_tables_are_read_by_pandas(run: Run, planned: Path) -> None:
    folder = planned.with_name("tables")
    ran = run("export", planned, "tables", "-o", folder)
    assert ran.code == cli.DONE
    written = [Path(line) for line in ran.out.splitlines()]
    assert sorted(written) == sorted(folder.glob("*.csv"))
    tables = {path.stem: pd.read_csv(path) for path in written}
    assert len(tables) >= 4
    assert all(len(table.columns) > 1 for table in tables.values())
    timeline = tables["timeline"]
    [rinse] = timeline[timeline["stage"] == "rinse"].itertuples()
    assert (rinse.start_clock, rinse.end_clock, rinse.minutes) == ("09:08", "09:23", 15)


@pytest.mark.parametrize("theme", ["light", "dark", "grey", "print"])
def test_the_chart_as_a_picture(run: Run, planned: Path, theme: str) -> None:
    svg, png = planned.with_name("x.svg"), planned.with_name("x.png")
    assert run("export", planned, "chart", "-o", svg, "--theme", theme).code == cli.DONE
    assert run("export", planned, "chart", "-o", png, "--theme", theme).code == cli.DONE
    assert svg.read_bytes().startswith(b"<svg")
    assert png.read_bytes().startswith(b"\x89PNG\r\n\x1a\n")  # ISO/IEC 15948, the signature
