"""Documents of a planned day written to files, for the command and the window alike."""

from pathlib import Path
from typing import Literal

from planner.day import Day
from planner.day.safekeeping import ReadFault, SaveFault, read_text, save_bytes, save_text
from planner.plan import plan_file
from planner.plan.plan import Plan
from planner.resources import resource
from planner.sheet.calendar import calendar_text
from planner.sheet.chart import Chart, chart
from planner.sheet.chart.svg import chart_svg
from planner.sheet.chart.text import Measure, table_measure
from planner.sheet.csv_tables import csv_tables
from planner.sheet.papers.html import run_sheet_html, slips_html
from planner.sheet.papers.paper import Paper
from planner.sheet.papers.runsheet import run_sheet
from planner.sheet.papers.slip import slips

What = Literal["sheet", "slip", "calendar", "tables", "json", "chart"]

SUFFIXES: dict[What, tuple[str, ...]] = {
    "sheet": (".pdf", ".html"),
    "slip": (".pdf", ".html"),
    "calendar": (".ics",),
    "tables": (),
    "json": (".json",),
    "chart": (".svg", ".png"),
}
"""The suffixes that each document may have; the tables go into a folder."""

PAGE_WIDTH = 770.0
"""Width in pixels at which the chart is laid out for a sheet: over the width of either paper its text is 7 points."""

FLAT = 1.0
"""A height that asks for the chart to be packed as closely as it can be."""

MOST_HEIGHT = 300.0
"""Height in pixels above which a sheet's chart leaves kit and loads to the order of the day."""

SCREEN_WIDTH = 1400.0
"""Width in pixels of the chart as a picture of its own."""

PICTURE_ZOOM = 2.0
"""Pixels of a PNG for each pixel of the chart."""


class ExportFault(ValueError):  # noqa: N818 - as the other faults that a person can put right
    """What was asked for cannot be written; the text says why and what would be right."""

    is_told = True


def export(
    day: Day,
    plan: Plan,
    path: str | Path,
    what: What,
    *,
    paper: Paper = "A4",
    verdict: str = "",
    with_price: bool = False,
    stages: bool = False,
    waits: bool = False,
    theme: str = "light",
) -> tuple[Path, ...]:
    """Write a document of a planned day.

    Parameters
    ----------
    day, plan
        A day and a plan of it that was checked.
    path
        The file to write, its kind told by its suffix; for "tables" a folder, which is made if need be.
    what
        "sheet" (run sheet: .pdf, .html), "slip" (customers' slips: .pdf, .html), "calendar" (.ics), "tables" (a
        folder of .csv), "json" (.json), "chart" (.svg, .png).
    paper
        "A4" or "Letter", for sheet and slip.
    verdict
        One sentence for the head of the run sheet.
    with_price
        Whether a slip tells the price.
    stages, waits
        Whether the calendar holds each stage, and an alarm for each wait.
    theme
        Of the chart as a picture: "light", "dark", "grey" or "print".

    Returns
    -------
    tuple of Path
        The files that were written.

    Raises
    ------
    ExportFault
        When the suffix does not go with what was asked for.
    SaveFault
        When a file cannot be written; it is then as it was.
    """
    path = Path(path)
    _check(path, what)
    if what == "tables":
        return _save_tables(day, plan, path)
    if what == "calendar":
        return (save_text(path, _calendar(day, plan, path, stages=stages, waits=waits)),)
    if what == "json":
        return (save_text(path, plan_file.plan_to_json(plan, day) + "\n"),)
    if what == "chart":
        return (save_bytes(path, chart_picture(day, plan, path.suffix.lower(), theme=theme)),)
    if what == "slip":
        return (save_bytes(path, _slips(day, plan, path.suffix.lower(), paper, with_price=with_price)),)
    return (save_bytes(path, _sheet(day, plan, path.suffix.lower(), paper, verdict)),)


def _check(path: Path, what: str) -> None:
    if what not in SUFFIXES:
        raise ExportFault(f"'{what}' is no document; ask for {', '.join(SUFFIXES)}")
    allowed = SUFFIXES[what]
    if allowed and path.suffix.lower() not in allowed:
        raise ExportFault(f"{path}: a {what} is not written as '{path.suffix}'; end the name in {' or '.join(allowed)}")


def chart_picture(day: Day, plan: Plan, suffix: str, *, theme: str = "light") -> bytes:
    """The chart as the bytes of an SVG or PNG file, as ``suffix`` says."""
    svg = chart_svg(chart(day, plan, width=SCREEN_WIDTH), theme)
    return svg.encode("utf-8") if suffix == ".svg" else png_of_svg(svg)


def sheet_chart(day: Day, plan: Plan, measure: Measure = table_measure) -> Chart:
    """The chart as it stands on a sheet, without kit and loads where it would take too much of a side with them."""
    full = chart(day, plan, width=PAGE_WIDTH, height=FLAT, measure=measure)
    if full.height <= MOST_HEIGHT:
        return full
    return chart(day, plan, width=PAGE_WIDTH, height=FLAT, measure=measure, brief=True)


def png_of_svg(svg: str) -> bytes:
    """An SVG of ours drawn as PNG with the bundled font, alike on every machine."""
    import resvg_py

    fonts = [str(resource("fonts", name)) for name in ("DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf")]
    return bytes(resvg_py.svg_to_bytes(svg_string=svg, skip_system_fonts=True, font_files=fonts, zoom=PICTURE_ZOOM))


def _sheet(day: Day, plan: Plan, suffix: str, paper: Paper, verdict: str) -> bytes:
    sheet = run_sheet(day, plan, verdict=verdict)
    if suffix == ".pdf":
        from planner.sheet.papers.pdf import run_sheet_pdf
        from planner.sheet.papers.pdf_chart import paper_measure

        return run_sheet_pdf(sheet, paper=paper, picture=sheet_chart(day, plan, paper_measure))
    svg = chart_svg(sheet_chart(day, plan), "grey")
    return run_sheet_html(sheet, paper=paper, chart_svg=svg).encode("utf-8")


def _slips(day: Day, plan: Plan, suffix: str, paper: Paper, *, with_price: bool) -> bytes:
    told = slips(day, plan, with_price=with_price)
    if suffix == ".pdf":
        from planner.sheet.papers.slip_pdf import slips_pdf

        return slips_pdf(told, paper=paper)
    return slips_html(told, paper=paper).encode("utf-8")


def _calendar(day: Day, plan: Plan, path: Path, *, stages: bool, waits: bool) -> str:
    """The calendar's text; what an earlier export under the same name had and the plan has not is cancelled."""
    try:
        previous = read_text(path) if path.exists() else ""
    except ReadFault:  # it is replaced anyway, and saving says what is wrong with the place
        previous = ""
    return calendar_text(day, plan, stages=stages, waits=waits, previous=previous)


def _save_tables(day: Day, plan: Plan, folder: Path) -> tuple[Path, ...]:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise SaveFault(folder, fault.strerror or "the folder cannot be made", "choose another folder") from fault
    return tuple(save_text(folder / f"{name}.csv", text) for name, text in csv_tables(day, plan).items())
