"""The picture as SVG, and its inks, held to the standards of the W3C."""

from itertools import combinations
from xml.etree import ElementTree

import pytest

from planner.day import Day
from planner.sheet.chart import THEMES, Path, Rect, Theme, chart
from planner.sheet.chart.svg import chart_svg
from planner.sheet.chart.themes import ROLES
from tests.contrast import contrast
from tests.plan import worked
from tests.sheet.busy import busy_day, busy_plan

SVG = "{http://www.w3.org/2000/svg}"


def test_the_contrast_formula_gives_21_for_black_on_white() -> None:
    """The ends that WCAG 2.1 itself names: 1 to 21."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#777777") == pytest.approx(1)


@pytest.fixture(params=THEMES.values(), ids=THEMES)
def theme(request: pytest.FixtureRequest) -> Theme:
    return request.param


def test_every_text_is_told_from_its_ground(theme: Theme) -> None:
    """WCAG 2.1, success criterion 1.4.3: at least 4.5 to 1."""
    texts = [
        role for role in ROLES if role.endswith(("name", "title")) or role in ("load", "flag", "number", "note", "key")
    ]
    texts += ["caption", "place", *(f"hand {number}" for number in range(1, 7))]
    for role in texts:
        for ground in ("paper", "ground", "pool" if role == "pool name" else "paper"):
            assert contrast(theme.ink(role).fill, theme.colour(ground)) >= 4.5, (role, ground)


def test_in_high_contrast_text_reaches_seven_to_one_and_every_mark_three() -> None:
    """WCAG 2.1, 1.4.6 and 1.4.11."""
    theme = THEMES["contrast"]
    for name in ("ink", "faint", "heavy", "water", "on pool", "promise", "path 1", "path 2", "path 3", "path 4"):
        for ground in ("paper", "ground", "pool", "reach", "night"):
            assert contrast(theme.colour(name), theme.colour(ground)) >= 7, (name, ground)
    for name in ("line", "kit", "night ink", "rain ink", "quiet ink"):
        assert contrast(theme.colour(name), theme.colour("paper")) >= 3, name


def test_every_stroke_that_matters_is_told_from_its_ground(theme: Theme) -> None:
    """WCAG 2.1, success criterion 1.4.11: at least 3 to 1."""
    for role in (
        "threshold",
        "crossing",
        "restricted crossing",
        "least",
        "most",
        "surface",
        "now",
        "stage",
        *(f"path {n}" for n in range(1, 7)),
    ):
        for ground in ("paper", "ground"):
            assert contrast(theme.ink(role).stroke, theme.colour(ground)) >= 3, (role, ground)
    for ground in ("paper", "ground"):
        assert contrast(theme.ink("kit band").fill, theme.colour(ground)) >= 3, ground


def test_grey_has_no_hue() -> None:
    for colour in THEMES["grey"].palette.values():
        assert colour[1:3] == colour[3:5] == colour[5:7]


def test_no_two_things_differ_by_hue_alone() -> None:
    """WCAG 2.1, success criterion 1.4.1: paths differ by dash, crossings by weight, thresholds by weight."""
    dashes = [ROLES[f"path {number}"].dash for number in range(1, 7)]
    assert all(one != other for one, other in combinations(dashes, 2))
    assert ROLES["restricted crossing"].width >= 2 * ROLES["crossing"].width
    assert ROLES["restricted threshold"].width > ROLES["threshold"].width
    picture = chart(busy_day(2, 2), busy_plan(busy_day(2, 2)), width=1366)
    patterns = {
        (s.role, s.pattern) for s in picture.shapes if isinstance(s, Rect | Path) and s.role.startswith("shade")
    }
    assert len({pattern for _, pattern in patterns}) == len(patterns)


def test_every_role_that_is_drawn_has_an_ink() -> None:
    for make in (worked.tiny, worked.pair, worked.round_trip):
        day, plan = make()
        for shape in chart(day, plan, width=900, now=plan.leaves, compare=plan).shapes:
            assert shape.role in ROLES


def test_it_is_one_svg_with_title_and_words(theme: Theme) -> None:
    day, plan = worked.tiny()
    root = ElementTree.fromstring(chart_svg(chart(day, plan, width=900), theme))
    assert root.tag == f"{SVG}svg"
    title, words = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert words is not None
    assert root.get("aria-labelledby", "").split() == [title.get("id"), words.get("id")]
    assert "home 09:34" in (words.text or "")


def test_every_thing_has_a_title_of_its_own() -> None:
    day, plan = worked.tiny()
    picture = chart(day, plan, width=1366)
    root = ElementTree.fromstring(chart_svg(picture))
    titles = {group.findtext(f"{SVG}title") for group in root.iter(f"{SVG}g")}
    for work in plan.works:
        item = picture.item(("work", work.job, work.stage))
        assert item is not None
        assert item.words in titles


def test_patterns_that_are_used_are_there_and_have_names_of_their_own() -> None:
    text = chart_svg(chart(*worked.pair(), width=1366), "grey")
    root = ElementTree.fromstring(text)
    known = [pattern.get("id") for pattern in root.iter(f"{SVG}pattern")]
    used = {element.get("fill", "")[5:-1] for element in root.iter() if element.get("fill", "").startswith("url(#")}
    assert len(known) == len(set(known))
    assert used == set(known)


def test_names_from_a_file_cannot_break_out() -> None:
    """XML 1.0, sections 2.2 and 2.4: markup is escaped, signs that are not allowed are left out."""
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    wicked = "</text><script>alert(1)</script>\x00\x0b\ufffe & \"'"
    tables["title"] = tables["jobs"]["elm"]["title"] = wicked
    tables["jobs"]["elm"]["stages"]["treat"]["name"] = wicked
    root = ElementTree.fromstring(chart_svg(chart(Day.model_validate(tables), plan, width=1366)))
    assert not list(root.iter(f"{SVG}script"))


def test_an_unknown_theme_is_a_plain_error() -> None:
    with pytest.raises(KeyError, match="sepia"):
        chart_svg(chart(*worked.tiny(), width=900), "sepia")
