"""The PDFs read back: nothing cut, the sides counted, any script shown, on both papers."""

import re
from dataclasses import replace
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from planner.day import Day
from planner.sheet.export import sheet_chart
from planner.sheet.fonts import runs
from planner.sheet.papers.pdf import run_sheet_pdf
from planner.sheet.papers.pdf_chart import paper_measure
from planner.sheet.papers.runsheet import RunSheet, run_sheet
from planner.sheet.papers.slip import slips
from planner.sheet.papers.slip_pdf import slips_pdf
from tests.days import tiny_day
from tests.sheet.busy import busy_day, busy_plan
from tests.sheet.hostile import FAR_EAST, LONG, SCRIPT, hostile_day
from tests.sheet.plans import tiny_plan

POINTS = {"A4": (595, 842), "Letter": (612, 792)}
"""210 x 297 mm (ISO 216) and 8.5 x 11 inches, in points of 1/72 inch."""


def read(data: bytes) -> PdfReader:
    return PdfReader(BytesIO(data), strict=True)


def letters(text: str) -> str:
    """The text without spaces, as lines may break anywhere."""
    return re.sub(r"\s+", "", text)


def printed(data: bytes) -> str:
    return letters("".join(page.extract_text() for page in read(data).pages))


def texts(value: Any) -> list[str]:
    """Every text in the sheet's data, at any depth."""
    if isinstance(value, str):
        return [value]
    if isinstance(value, tuple):
        return [text for part in value for text in texts(part)]
    if hasattr(value, "__dataclass_fields__"):
        is_notes = hasattr(value, "handover")  # whose "before" and "after" are texts, not keys
        skipped = ("keep_off",) if is_notes else ("kind", "job", "hand", "surface", "after", "before")
        return [t for name in value.__dataclass_fields__ if name not in skipped for t in texts(getattr(value, name))]
    return []


def full_sheet(day: Day) -> RunSheet:
    return run_sheet(day, tiny_plan(), verdict="Fits with 3 h 9 min spare.")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_word_of_the_sheet_is_on_paper(paper: Any) -> None:
    job = tiny_day().model_dump()["jobs"]["elm"]
    job["customer"] = {"name": "Mx Moss", "before": ("Move the pots",), "not_promised": ("Rust",)}
    job["quoted"] = {"Green off the wall": ("treat", "rinse")}
    job["stages"]["treat"] |= {"mixing": "1 part to 1 part", "wear": ("gloves", "goggles"), "tags": ("chlorine",)}
    sheet = full_sheet(tiny_day(jobs={"elm": job}))
    on_paper = printed(run_sheet_pdf(sheet, paper=paper))
    wanted = texts(sheet)
    assert len(wanted) > 60
    assert [text for text in wanted if letters(text) not in on_paper] == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_page_has_the_papers_size_and_the_sides_are_counted(paper: Any) -> None:
    reader = read(run_sheet_pdf(full_sheet(tiny_day()), paper=paper))
    sizes = {(round(float(p.mediabox.width)), round(float(p.mediabox.height))) for p in reader.pages}
    assert sizes == {POINTS[paper]}
    for number, page in enumerate(reader.pages, 1):
        assert f"side {number} of {len(reader.pages)}" in page.extract_text()


def test_it_says_its_title_and_language() -> None:
    reader = read(run_sheet_pdf(full_sheet(tiny_day())))
    assert reader.metadata is not None
    assert reader.metadata.title == "Run sheet, Tuesday 16 June 2026"
    assert reader.trailer["/Root"]["/Lang"] == "en"


def test_the_fonts_are_in_the_file() -> None:
    page = read(run_sheet_pdf(full_sheet(tiny_day()))).pages[0]
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]  # type: ignore[index]
    drawn = [f for f in fonts if "DejaVu" in str(f["/BaseFont"])]
    assert drawn
    assert all("/FontFile2" in f["/FontDescriptor"] for f in drawn)


def test_each_wait_stands_in_one_row_with_its_bounds() -> None:
    on_paper = printed(run_sheet_pdf(full_sheet(tiny_day())))
    # Treated until 08:28; it dwells 30 to 45 minutes.
    assert letters("Treat: wall, until 08:28 Rinse: wall 08:58 09:13 Sweep: path") in on_paper


def wordy(sheet: RunSheet, times: int = 16) -> RunSheet:
    """The sheet with a note to each stage that takes several lines."""
    noted = [
        tuple(replace(e, note="mind the step " * times) if e.kind == "stage" else e for e in order.entries)
        for order in sheet.orders
    ]
    orders = [replace(order, entries=entries) for order, entries in zip(sheet.orders, noted, strict=True)]
    return replace(sheet, orders=tuple(orders))


@pytest.mark.parametrize(("rounds", "times"), [(5, 16), (7, 16), (24, 16), *((2, 60 + 6 * n) for n in range(8))])
def test_the_order_breaks_with_its_head_repeated_and_no_row_alone_or_torn(rounds: int, times: int) -> None:
    """The last ones have entries so tall that no two of them fit at the foot of a side where a hand's order begins."""
    day = busy_day(jobs=1, rounds=rounds)
    sheet = wordy(run_sheet(day, busy_plan(day)), times)
    pages = [page.extract_text() for page in read(run_sheet_pdf(sheet)).pages]
    orders = [text.split("Load list")[0].split("Waits")[0] for text in pages]
    tables = [table for text in orders for table in text.split("Actual")[1:]]
    # Each entry is looked for whole in one table of one side: a row that is torn stands whole in none.
    wanted = [
        letters("".join(part.what + part.kit for part in e.phrases) + e.note) for o in sheet.orders for e in o.entries
    ]
    bare = [re.sub(r"[:·☐–]|\d\d:\d\d", "", letters(table)) for table in tables]
    assert len(tables) > len(sheet.orders)
    assert [text for text in wanted if not any(re.sub(r"[:·☐–]|\d\d:\d\d", "", text) in one for one in bare)] == []
    assert all(len(re.findall(r"☐", table)) >= 2 for table in tables)


def sizes_of(pages: Any) -> dict[float, str]:
    """What is set in each size of text, in points."""
    sizes: dict[float, str] = {}

    def visit(text: str, matrix: list[float], placed: list[float], _font: Any, size: float) -> None:
        height = round(abs(size * placed[3] * matrix[3]), 1)
        sizes[height] = sizes.get(height, "") + text

    for page in pages:
        page.extract_text(visitor_text=visit)
    return {size: text for size, text in sizes.items() if text.strip()}


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("jobs", [1, 4])
def test_what_is_done_and_carried_is_ten_points_or_more_however_full_the_day(jobs: int, paper: Any) -> None:
    day = busy_day(jobs=jobs)
    sheet = wordy(run_sheet(day, busy_plan(day)))
    picture = sheet_chart(day, busy_plan(day), paper_measure)
    sizes = sizes_of(read(run_sheet_pdf(sheet, paper=paper, picture=picture)).pages)
    assert min(sizes) >= 7
    small = letters("".join(text for size, text in sizes.items() if size < 10))
    carried = [line for group in sheet.load for line in group.lines]
    done = [e.note for order in sheet.orders for e in order.entries if e.note]
    assert carried
    assert done
    assert [line for line in (*carried, *done) if letters(line) in small and len(line) > 12] == []


@pytest.mark.parametrize("jobs", [1, 4])
def test_order_load_and_cautions_have_sides_of_their_own(jobs: int) -> None:
    day = busy_day(jobs=jobs)
    sheet = run_sheet(day, busy_plan(day), verdict="Fits.")
    sides = [page.extract_text() for page in read(run_sheet_pdf(sheet)).pages]
    order = [number for number, text in enumerate(sides) if "Order of the day" in text]
    load = [number for number, text in enumerate(sides) if "Load list" in text]
    cautions = [number for number, text in enumerate(sides) if "Cautions today" in text]
    assert max(order) < min(load) <= min(cautions)
    [first] = load
    assert sides[first].splitlines()[2] == "Load list", "after the foot nothing stands over it"
    lines = [line for group in sheet.load for line in group.lines]
    assert sides[first].count("☐") >= len(lines), "each thing has its box to tick"


def test_the_same_sheet_gives_the_same_file() -> None:
    assert run_sheet_pdf(full_sheet(tiny_day())) == run_sheet_pdf(full_sheet(tiny_day()))


def test_hostile_names_are_printed_whole_and_do_nothing() -> None:
    day = hostile_day()
    data = run_sheet_pdf(full_sheet(day), picture=sheet_chart(day, tiny_plan(), paper_measure))
    on_paper = printed(data)
    assert on_paper.count(letters(SCRIPT)) >= 5
    assert letters(LONG) in on_paper
    assert letters(FAR_EAST) in on_paper
    reader = read(data)
    assert "/OpenAction" not in reader.trailer["/Root"]
    assert "/Names" not in reader.trailer["/Root"]
    assert all("/Annots" not in page for page in reader.pages)


def test_a_name_longer_than_a_side_does_not_stop_the_printing() -> None:
    job = tiny_day().model_dump()["jobs"]["elm"]
    job["stages"]["treat"]["wear"] = tuple(f"{n} {LONG}" for n in range(60))
    job["customer"] = {"before": tuple(f"{n} {LONG}" for n in range(60))}
    data = run_sheet_pdf(full_sheet(tiny_day(jobs={"elm": job})))
    # In the row, in the load list and in the notes, less at most one word that a side's foot or head cuts in two.
    assert 0 <= 3 * 60 * LONG.count("Xylo") - printed(data).count("Xylophone") <= len(read(data).pages)


def test_hebrew_is_printed_from_right_to_left() -> None:
    # Unicode standard annex 9: in a line of Hebrew the first letter stands rightmost.
    [(_, seen)] = runs("שלום")
    assert seen == "םולש"


def test_arabic_letters_are_joined() -> None:
    # Meem, reh, hah, beh, alef in their joined forms (Unicode's Arabic Presentation Forms-B), seen from the left.
    [(_, seen)] = runs("مرحبا")
    assert seen == "\ufe8e\ufe92\ufea3\ufeae\ufee3"


def test_a_sign_that_no_font_has_is_told_by_its_number() -> None:
    assert runs("a\u0e44b") == [("SheetRegular", "a"), ("SheetRegular", "[U+0E44]"), ("SheetRegular", "b")]


def test_the_charts_words_are_in_the_pdf() -> None:
    day, plan = tiny_day(), tiny_plan()
    picture = sheet_chart(day, plan, paper_measure)
    on_paper = printed(run_sheet_pdf(full_sheet(day), picture=picture))
    labels = [label.text for label in picture.labels()]
    assert len(labels) > 10
    assert [text for text in labels if letters(text) not in on_paper] == []


@pytest.mark.parametrize(("customers", "sides"), [(1, 1), (2, 1), (3, 2)])
def test_two_slips_share_a_side(customers: int, sides: int) -> None:
    [slip] = slips(tiny_day(), tiny_plan())
    assert len(read(slips_pdf([slip] * customers)).pages) == sides


def test_a_slip_says_what_to_do_when_we_come_and_what_to_keep_off() -> None:
    job = tiny_day().model_dump()["jobs"]["elm"]
    job["customer"] = {"name": "Mx Moss", "before": ("Move the pots", "Shut the windows"), "not_promised": ("Rust",)}
    job["waits"] = [*job["waits"], {"after": "sweep", "kind": "cure", "least": 1080}]
    day = tiny_day(jobs={"elm": job})
    on_paper = printed(slips_pdf(slips(day, tiny_plan())))
    for text in ("Mx Moss", "Move the pots", "Shut the windows", "about 08:00 to 09:45", "Wed 17 June 03:00", "Rust"):
        assert letters(text) in on_paper
