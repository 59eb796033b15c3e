"""The run sheet and the customers' slips as HTML that stands alone: one file, its style inside, nothing fetched."""

import datetime as dt
from collections.abc import Sequence
from functools import cache, partial
from typing import TYPE_CHECKING, Any

from planner.resources import resource
from planner.sheet.papers.paper import Paper
from planner.sheet.papers.runsheet import RunSheet
from planner.sheet.papers.slip import PLANNED, Slip
from planner.sheet.wording import long_date, moment
from planner.trade.cautions import DEFERS

if TYPE_CHECKING:
    from jinja2 import Environment


@cache
def _templates() -> "Environment":
    """The shipped templates; whatever they are given is escaped."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(resource("sheet")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def run_sheet_html(sheet: RunSheet, *, paper: Paper = "A4", chart_svg: str = "") -> str:
    """The run sheet as an HTML page; the chart, as `planner.sheet.chart.svg.chart_svg` gives it, is set in as it is."""
    chart = _inline(chart_svg)
    return render("run_sheet.html", sheet.date, paper, sheet=sheet, chart=chart, defers=DEFERS)


def slips_html(told: Sequence[Slip], *, paper: Paper = "A4") -> str:
    """The customers' slips as one HTML page, two to a side, to be cut apart."""
    date = told[0].date if told else dt.date.min
    return render("slips.html", date, paper, slips=told, long_date=long_date, planned=PLANNED)


def render(template: str, date: dt.date, paper: Paper, **values: Any) -> str:
    """A shipped template filled in for a date; every value is escaped but our own style and chart."""
    from markupsafe import Markup

    style = Markup(resource("sheet", "print.css").read_text(encoding="utf-8"))
    page = _templates().get_template(template)
    return page.render(at=partial(moment, date), paper=paper, style=style, **values)


def _inline(svg: str) -> Any:
    """SVG to be set into HTML, where an XML declaration has no place."""
    from markupsafe import Markup

    start = svg.find("<svg")
    return Markup(svg[start:]) if start >= 0 else ""
