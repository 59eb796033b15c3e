"""One function writes every document, for the command and the window."""

import csv
import io
import struct
from pathlib import Path
from typing import Any

import html5lib
import icalendar
import pandas as pd
import pytest
from pypdf import PdfReader

from planner.day.safekeeping import SaveFault
from planner.plan import tables
from planner.plan.plan_file import plan_from_json
from planner.sheet.csv_tables import TABLES, csv_tables, csv_text, guarded
from planner.sheet.export import ExportFault, export
from tests.days import tiny_day
from tests.sheet.hostile import FORMULA, hostile_day
from tests.sheet.plans import tiny_plan


def written(folder: Path, name: str, what: Any, **more: Any) -> bytes:
    [path] = export(tiny_day(), tiny_plan(), folder / name, what, **more)
    assert path == folder / name
    return path.read_bytes()


@pytest.mark.parametrize("what", ["sheet", "slip"])
def test_pages_are_written_as_pdf_or_html_as_the_name_says(tmp_path: Path, what: Any) -> None:
    assert len(PdfReader(io.BytesIO(written(tmp_path, "x.PDF", what))).pages) >= 1
    html5lib.HTMLParser(strict=True).parse(written(tmp_path, "x.html", what).decode())


def test_the_sheet_holds_the_chart_and_the_verdict(tmp_path: Path) -> None:
    page = written(tmp_path, "x.html", "sheet", verdict="It fits.").decode()
    assert "<svg" in page
    assert "It fits." in page


def test_the_plan_comes_back_from_its_json(tmp_path: Path) -> None:
    assert plan_from_json(written(tmp_path, "x.json", "json").decode()) == tiny_plan()


def test_the_chart_is_written_as_svg_and_as_png(tmp_path: Path) -> None:
    assert written(tmp_path, "x.svg", "chart").startswith(b"<svg")
    png = written(tmp_path, "x.png", "chart")
    # The PNG specification (ISO/IEC 15948): signature, then the IHDR chunk with width and height.
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", png[16:24])
    assert width == 2800
    assert height > 200


def test_a_second_calendar_under_the_same_name_cancels_what_is_gone(tmp_path: Path) -> None:
    written(tmp_path, "x.ics", "calendar", stages=True)
    calendar = icalendar.Calendar.from_ical(written(tmp_path, "x.ics", "calendar").decode())
    states = [str(entry.get("STATUS", "")) for entry in calendar.walk("VEVENT")]
    assert sorted(states) == ["", "CANCELLED", "CANCELLED", "CANCELLED"]


def test_the_tables_go_into_a_folder(tmp_path: Path) -> None:
    paths = export(tiny_day(), tiny_plan(), tmp_path / "new" / "tables", "tables")
    assert {path.name for path in paths} == {f"{name}.csv" for name in TABLES}
    assert all(path.stat().st_size for path in paths)


@pytest.mark.parametrize("name", TABLES)
def test_a_table_comes_back_from_its_csv(name: str) -> None:
    table = TABLES[name](tiny_day(), tiny_plan())
    back = pd.read_csv(io.StringIO(csv_tables(tiny_day(), tiny_plan())[name].removeprefix("\ufeff")))
    assert [column for column in back.columns if not column.endswith("_clock")] == list(table.columns)
    assert len(back) == len(table)
    for column in table.columns:
        for one, two in zip(table[column], back[column], strict=True):
            assert (pd.isna(two) and (one is None or pd.isna(one) or one == "")) or one == two


def test_times_of_day_stand_beside_minutes() -> None:
    rows = list(csv.DictReader(io.StringIO(csv_text(tables.timeline(tiny_day(), tiny_plan())).removeprefix("\ufeff"))))
    assert (rows[0]["start"], rows[0]["start_clock"], rows[0]["end_clock"]) == ("480", "08:00", "08:10")


@pytest.mark.parametrize("text", [FORMULA, "+1", "-1", "@SUM(A1)", "\t=1", "'=1"])
def test_a_text_that_a_spreadsheet_might_run_is_guarded(text: str) -> None:
    """OWASP's advice on CSV injection: no cell begins with one of these."""
    assert guarded(text) == "'" + text


def test_no_cell_of_a_hostile_day_begins_as_a_formula() -> None:
    hostile = csv_tables(hostile_day(), tiny_plan())
    cells = [cell for text in hostile.values() for row in csv.reader(io.StringIO(text)) for cell in row]
    assert any(FORMULA in cell for cell in cells)
    assert not [cell for cell in cells if cell[:1] in ("=", "+", "@", "\t")]


@pytest.mark.parametrize(
    ("name", "what", "right"),
    [
        ("x.doc", "sheet", "end the name in .pdf or .html"),
        ("x", "calendar", "end the name in .ics"),
        ("x.jpg", "chart", ".svg or .png"),
        ("x.pdf", "poem", "ask for sheet, slip, calendar"),
    ],
)
def test_a_wrong_name_is_told_with_what_would_be_right(tmp_path: Path, name: str, what: Any, right: str) -> None:
    with pytest.raises(ExportFault, match=right):
        export(tiny_day(), tiny_plan(), tmp_path / name, what)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    for path, what in ((tmp_path / "file" / "tables", "tables"), (tmp_path / "none" / "x.pdf", "sheet")):
        with pytest.raises(SaveFault, match="not saved"):
            export(tiny_day(), tiny_plan(), path, what)  # type: ignore[arg-type]
