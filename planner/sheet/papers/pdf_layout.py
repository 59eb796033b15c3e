"""Laying out printed pages: styles by scale, tables that break well, lists with tick boxes, pages that are counted.

Everything is black and white, and sized for arm's length at scale 1; a document is set a little smaller where that
saves a side, never so small that it could not be read in a van.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from io import BytesIO
from itertools import combinations_with_replacement, pairwise
from typing import Any

from reportlab.lib import colors
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Paragraph, Table

from planner.sheet.fonts import BOLD, REGULAR, markup, register_fonts, runs
from planner.sheet.papers.paper import Paper

MARGIN = 8 * mm
FOOT = 5 * mm
HALF_A_SIDE = 360.0
"""The tallest that columns get, in points."""

SCALES = (1.0, 0.9)
"""Sizes that are tried: the first that takes the fewest sides is used."""

LEAST = 10.0
"""No text of what is done and carried is set smaller, in points: it is read at arm's length, in a van."""

LEAST_SMALL = 9.0
"""The same of what is read before the work, and of the heads of tables."""

TICK = "☐"
GREY = colors.HexColor("#e2e2e2")
RULE = colors.HexColor("#555555")

STYLES: dict[str, tuple[float, bool]] = {
    "title": (17, True),
    "section": (12.5, True),
    "group": (10.5, True),
    "big": (13.5, True),
    "strong": (11, True),
    "time": (10.5, True),
    "body": (10.5, False),
    "small": (9, False),
    "tick": (11.5, False),
}
"""Size in points at scale 1, and whether it is bold."""


@dataclass(frozen=True, slots=True)
class Setter:
    """Sets text at a scale on a page that is so wide and high within its margins, in points."""

    scale: float
    width: float
    height: float

    def pt(self, points: float) -> float:
        """A length that goes with the scale."""
        return points * self.scale

    def size(self, style: str) -> float:
        """The size of a style's text, in points."""
        return max(self.pt(STYLES[style][0]), LEAST_SMALL if style == "small" else LEAST)

    def wide(self, text: str, *, bold: bool = False) -> float:
        """How wide a plain text of the body is, in points at scale 1."""
        return sum(stringWidth(piece, font, self.size("body")) for font, piece in runs(text, bold=bold)) / self.scale

    def marked(self, text: str, style: str = "body", **more: Any) -> Paragraph:
        """A paragraph of paragraph markup: every text from a file in it must have gone through `markup`."""
        size, bold = self.size(style), STYLES[style][1]
        made = ParagraphStyle(
            style,
            fontName=BOLD if bold else REGULAR,
            fontSize=size,
            leading=size * 1.15,
            splitLongWords=1,
            **more,
        )
        return Paragraph(text, made)

    def text(self, text: str, style: str = "body", **more: Any) -> Paragraph:
        """A paragraph of plain text."""
        return self.marked(markup(text), style, **more)

    def section(self, text: str) -> Flowable:
        """A section's heading, with a rule under it."""
        heading = Table(
            [[self.text(text, "section")]],
            colWidths=[self.width],
            spaceBefore=self.pt(5),
            spaceAfter=self.pt(2),
        )
        heading.setStyle([("LINEBELOW", (0, 0), (-1, -1), 1.2, colors.black), *_padding(0, 0, 0, 2)])
        return heading

    def listed(self, heading: str, lines: Sequence[str], *, ticks: bool = False) -> list[Flowable]:
        """A group's heading and its lines, with a tick box or a bullet each; nothing when there are no lines.

        A line may have lines of its own under it, after a line feed.
        """
        if not lines:
            return []
        sign, style = (TICK, "tick") if ticks else ("•", "body")
        lead = self.pt(16 if ticks else 12)
        space = self.pt(1.5 if ticks else 0.5)
        marked: list[Flowable] = [
            self._led(sign, style, lead, "<br/>".join(markup(part) for part in line.split("\n")), space)
            for line in lines
        ]
        return [self.text(heading, "group", spaceBefore=self.pt(4)), *marked] if heading else marked

    def _led(self, sign: str, style: str, lead: float, text: str, space: float) -> Paragraph:
        bullet = f'<bullet font="{REGULAR}" size="{self.size(style)}">{sign}</bullet>'
        return self.marked(bullet + text, leftIndent=lead, spaceBefore=space)

    def columns(
        self, groups: Sequence[list[Flowable]], count: int, most: float = HALF_A_SIDE
    ) -> list[Flowable]:
        """Groups of lines in columns, as level as their order allows; a group is never broken over columns.

        When a column would be taller than ``most`` points the groups follow each other instead, to break over sides.
        """
        groups = [group for group in groups if group]
        gap = self.pt(14)
        width = (self.width - gap * (count - 1)) / count
        heights = [sum(line.wrap(width, 0xFFFF)[1] + line.getSpaceBefore() for line in group) for group in groups]
        if not groups or max(max(heights), sum(heights) / count) > most:
            return [line for group in groups for line in group]
        cuts = min(
            ((0, *inner, len(groups)) for inner in combinations_with_replacement(range(len(groups) + 1), count - 1)),
            key=lambda cut: (max(sum(heights[a:b]) for a, b in pairwise(cut)), [-place for place in cut]),
        )
        cells = [[line for group in groups[a:b] for line in group] for a, b in pairwise(cuts)]
        table = Table([cells], [width + gap] * (count - 1) + [width])
        table.setStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                *_padding(0, 0, gap, 0),
                ("RIGHTPADDING", (-1, 0), (-1, 0), 0),
            ]
        )
        return [table]

    def table(
        self,
        head: Sequence[str | Flowable],
        rows: Sequence[Sequence[str | Flowable]],
        widths: Sequence[float | None],
        style: Sequence[tuple[Any, ...]] = (),
    ) -> Table:
        """A ruled table whose head is repeated on each page; a width that is None takes what is left.

        It never leaves fewer than two rows behind, nor takes fewer than two along, when it breaks over pages. A row is
        broken only in a table where some row is taller than half a side.
        """
        given = [None if width is None else self.pt(width) for width in widths]
        rest = (self.width - sum(width or 0 for width in given)) / max(1, given.count(None))
        room = [rest if width is None else width for width in given]
        cells = [[cell if isinstance(cell, Flowable) else self.text(cell, "small") for cell in head]]
        cells += [[cell if isinstance(cell, Flowable) else self.text(cell) for cell in row] for row in rows]
        tallest = max(cell.wrap(width, 0xFFFF)[1] for row in cells for cell, width in zip(row, room, strict=True))
        table = Table(cells, room, repeatRows=1, splitInRow=int(tallest > HALF_A_SIDE))
        table.hAlign = "LEFT"
        table.setStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
                ("LINEBELOW", (0, 0), (-1, 0), 1, colors.black),
                ("LINEBELOW", (0, 1), (-1, -1), 0.4, RULE),
                *_padding(self.pt(3), self.pt(1), self.pt(3), self.pt(2)),
                *style,
            ]
        )
        if tallest <= HALF_A_SIDE:
            few = min(2, len(rows))
            table.setStyle([("NOSPLIT", (0, 0), (-1, few)), ("NOSPLIT", (0, -few), (-1, -1))])
        return table


def _padding(left: float, top: float, right: float, bottom: float) -> list[tuple[Any, ...]]:
    everywhere = ((0, 0), (-1, -1))
    return [
        ("LEFTPADDING", *everywhere, left),
        ("TOPPADDING", *everywhere, top),
        ("RIGHTPADDING", *everywhere, right),
        ("BOTTOMPADDING", *everywhere, bottom),
    ]


def typeset(
    write: Callable[[Setter], list[Flowable]], *, title: str, paper: Paper, scales: Sequence[float] = SCALES
) -> bytes:
    """A PDF of what ``write`` gives, at the largest scale that takes the fewest sides, with its sides counted.

    Parameters
    ----------
    write
        Gives the flowables for a scale and a width; it is called afresh for each try.
    title
        Stands in the document's properties and at the foot of each side.
    paper
        The size of the page.
    scales
        Those that are tried.
    """
    register_fonts()
    taken = {scale: _built(write, scale, title, paper, sides=0)[1] for scale in scales}
    scale = min(scales, key=lambda scale: (taken[scale], -scale))
    return _built(write, scale, title, paper, sides=taken[scale])[0]


def _built(
    write: Callable[[Setter], list[Flowable]], scale: float, title: str, paper: Paper, *, sides: int
) -> tuple[bytes, int]:
    """The document at one scale, and how many sides it has; ``sides`` is the number that is printed as their count."""
    size = A4 if paper == "A4" else LETTER
    width, height = size[0] - 2 * MARGIN, size[1] - 2 * MARGIN - FOOT
    buffer = BytesIO()
    document = BaseDocTemplate(buffer, pagesize=size, title=title, lang="en", invariant=1, creator="Slackwater")
    frame = Frame(MARGIN, MARGIN + FOOT, width, height, 0, 0, 0, 0, id="side")
    foot = partial(_draw_foot, title=title, sides=sides)
    document.addPageTemplates([PageTemplate("page", [frame], onPage=foot)])
    document.build(write(Setter(scale, width, height)))
    return buffer.getvalue(), document.page


def _draw_foot(canvas: Any, document: Any, *, title: str, sides: int) -> None:
    width = document.pagesize[0] - 2 * MARGIN
    setter = Setter(1.0, width, FOOT)
    for text, alignment in ((f"side {document.page} of {sides}", 2), (title[:90], 0)):
        line = setter.text(text, "small", alignment=alignment)
        line.wrap(width, FOOT)
        line.drawOn(canvas, MARGIN, MARGIN - 3)
