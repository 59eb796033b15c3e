"""The HTML of sheet and slips: strict to the parser, sound to a screen reader, inert whatever the names."""

from collections.abc import Callable
from itertools import pairwise
from typing import Any
from xml.etree.ElementTree import Element

import html5lib
import pytest

from planner.day import Day
from planner.plan.plan import Plan
from planner.sheet.chart import chart
from planner.sheet.chart.svg import chart_svg
from planner.sheet.papers.html import run_sheet_html, slips_html
from planner.sheet.papers.runsheet import run_sheet
from planner.sheet.papers.slip import slips
from tests.days import tiny_day
from tests.sheet.hostile import MARKUP, SCRIPT, hostile_day
from tests.sheet.plans import tiny_plan


def sheet_page(day: Day, plan: Plan) -> str:
    svg = chart_svg(chart(day, plan, width=800), "grey")
    return run_sheet_html(run_sheet(day, plan, verdict=day.title), chart_svg=svg)


def slips_page(day: Day, plan: Plan) -> str:
    return slips_html(slips(day, plan, with_price=True))


PAGES: list[Callable[[Day, Plan], str]] = [sheet_page, slips_page]


@pytest.fixture(params=[(page, make) for page in PAGES for make in (tiny_day, hostile_day)])
def page(request: pytest.FixtureRequest) -> str:
    make_page, make_day = request.param
    return str(make_page(make_day(), tiny_plan()))


def tree(page: str) -> Any:
    """The page as html5lib reads it in strict mode, which raises for any fault of HTML's grammar."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)


def words(element: Element) -> str:
    return " ".join("".join(element.itertext()).split())


def test_it_is_strict_html_with_language_and_title(page: str) -> None:
    root = tree(page)
    assert root.get("lang") == "en"
    assert words(root.find("head/title"))


def test_headings_step_down_one_at_a_time_from_a_single_first_one(page: str) -> None:
    """WCAG 2.2, technique G141 (headings organise a page) and H42."""
    levels = [int(e.tag[1]) for e in tree(page).iter() if e.tag in ("h1", "h2", "h3", "h4", "h5", "h6")]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_every_table_has_scoped_column_heads_and_a_scoped_head_for_each_row(page: str) -> None:
    """WCAG 2.2, technique H63: scope ties header cells to data cells."""
    tables = list(tree(page).iter("table"))
    assert bool(tables) == ("Order of the day" in page)
    for table in tables:
        heads = table.findall("thead/tr/th")
        assert all(head.get("scope") == "col" and words(head) for head in heads)
        for row in table.findall("tbody/tr"):
            assert len(row) == len(heads)
            assert [cell.get("scope") for cell in row.findall("th")] == ["row"]


def test_ids_are_used_once(page: str) -> None:
    ids = [e.get("id") for e in tree(page).iter() if e.get("id")]
    assert len(ids) == len(set(ids))


def test_names_stay_text(page: str) -> None:
    root = tree(page)
    assert not [e for e in root.iter() if e.tag in ("script", "img", "iframe", "link", "object")]
    assert not [name for e in root.iter() for name in e.attrib if str(name).lower().startswith("on")]
    assert "javascript:" not in page.lower()


def test_nothing_is_fetched_from_outside(page: str) -> None:
    root = tree(page)
    assert not [e for e in root.iter() if {"src", "href"} & {str(name).split("}")[-1] for name in e.attrib}]
    assert "@import" not in page
    assert "url(http" not in page


@pytest.mark.parametrize("make_page", PAGES)
def test_hostile_names_are_shown_as_they_are(make_page: Callable[[Day, Plan], str]) -> None:
    body = words(tree(make_page(hostile_day(), tiny_plan())).find("body"))
    assert SCRIPT in body
    assert "שלום" in body
    if make_page is sheet_page:
        assert MARKUP in body  # in the mixing; a template's braces in a name are not run
        assert "{{ 7 * 7 }}" in body


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_paper_is_the_one_asked_for(paper: Any) -> None:
    assert f"size: {paper}" in run_sheet_html(run_sheet(tiny_day(), tiny_plan()), paper=paper)


def test_a_slip_tells_no_price_unless_asked() -> None:
    jobs = tiny_day().model_dump()["jobs"]
    jobs["elm"]["price"] = 123.5
    day = tiny_day(jobs=jobs)
    assert "123.50" not in slips_html(slips(day, tiny_plan()))
    assert "123.50" in slips_html(slips(day, tiny_plan(), with_price=True))


def test_a_slip_tells_times_to_the_quarter_around_the_visit() -> None:
    [slip] = slips(tiny_day(), tiny_plan())
    assert slip.visits == ("about 08:00 to 09:45 (1 h 31 min)",)  # 08:10 to 09:41
    assert slip.work == (
        "about 08:15 to 08:30: Treat: wall",
        "about 08:30 to 09:00: Sweep: path",
        "about 09:00 to 09:30: Rinse: wall",
    )
