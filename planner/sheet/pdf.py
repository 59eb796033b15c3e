"""The run sheet as a PDF, A4 or Letter: black and white, on one or two sides where the day allows it."""

from collections.abc import Callable
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer, Table

from planner.sheet.cautions import CautionNote
from planner.sheet.chart import Chart
from planner.sheet.fonts import markup
from planner.sheet.order import Order, Part, Row
from planner.sheet.paper import Paper
from planner.sheet.pdf_chart import ChartFlowable
from planner.sheet.pdf_layout import GREY, RULE, TICK, Setter, typeset
from planner.sheet.runsheet import JobSheet, RunSheet
from planner.sheet.wording import moment
from planner.trade.cautions import DEFERS

Picture = Callable[[float], Chart]

CHART_WIDTH = 760.0
"""Width in pixels at which the chart is laid out at scale 1: its smallest text is then 7 points high."""

MOST_PLACE = 130.0
"""The widest that the column of places gets, in points at scale 1."""

STRONG_ROWS = ("stage", "in", "out")


def run_sheet_pdf(sheet: RunSheet, *, paper: Paper = "A4", picture: Picture | None = None) -> bytes:
    """The run sheet as the bytes of a PDF.

    Parameters
    ----------
    sheet
        What is on it.
    paper
        The paper it is printed on.
    picture
        Lays out the chart at a width in pixels, with `paper_measure`; the chart is left out when None.
    """
    title = f"{sheet.head.title}, {sheet.head.date}"
    return typeset(lambda setter: _RunSheetWriter(sheet, setter, picture).written(), title=title, paper=paper)


class _RunSheetWriter:
    """Writes the sections of one run sheet at one scale."""

    def __init__(self, sheet: RunSheet, setter: Setter, picture: Picture | None) -> None:
        self.sheet, self.set, self.picture = sheet, setter, picture

    def written(self) -> list[Flowable]:
        flow = self.head()
        if self.picture:
            chart = self.picture(CHART_WIDTH / self.set.scale)
            flow += [Spacer(1, self.set.pt(4)), ChartFlowable(chart, self.set.width)]
        for order in self.sheet.orders:
            flow += self.order(order)
        flow += [*self.waits(), *self.columns()]
        for job in self.sheet.jobs:
            flow += self.job(job)
        return flow

    def at(self, minute: int) -> str:
        return moment(self.sheet.date, minute)

    def head(self) -> list[Flowable]:
        head, text = self.sheet.head, self.set.text
        return [
            text(head.title, "title"),
            text(f"{head.date} · {head.hands}"),
            *([text(head.verdict, "strong", spaceBefore=self.set.pt(2))] if head.verdict else []),
            text(
                f"Leave {head.leaves} · Home {head.home} · {head.crossings}",
                "big",
                spaceBefore=self.set.pt(2),
            ),
        ]

    def order(self, order: Order) -> list[Flowable]:
        flow: list[Flowable] = [
            CondPageBreak(self.set.pt(110)),
            self.set.section(f"Order of the day: {order.name}"),
        ]
        for part in order.parts:
            flow += [self.part(part), Spacer(1, self.set.pt(3))]
        return flow

    def part(self, part: Part) -> Table:
        """One visit's rows: tick, time, place, what with what, and room for the actual times."""
        text = self.set.text
        head: list[str | Flowable] = ["", "Time", "Place", text(part.title, "strong"), "Actual"]
        rows: list[list[str | Flowable]] = [
            [
                text(TICK if row.to_do else "", "tick"),
                text(self.span(row), "strong"),
                row.place,
                self.what(row),
                "",
            ]
            for row in part.rows
        ]
        style: list[tuple[Any, ...]] = [
            ("LINEBEFORE", (-1, 0), (-1, -1), 0.4, RULE),
            ("VALIGN", (0, 1), (0, -1), "MIDDLE"),
        ]
        style += [
            ("BACKGROUND", (0, n), (-2, n), GREY) for n, row in enumerate(part.rows, 1) if row.kind in ("in", "out")
        ]
        widest = max(self.set.wide(text) for text in ("Place", *(row.place for row in part.rows)))
        return self.set.table(head, rows, (18, 78, min(widest + 8, MOST_PLACE), None, 58), style)

    def span(self, row: Row) -> str:
        return self.at(row.start) if row.end == row.start else f"{self.at(row.start)}–{self.at(row.end)}"

    def what(self, row: Row) -> Flowable:
        what = f"<b>{markup(row.what)}</b>" if row.kind in STRONG_ROWS else markup(row.what)
        if row.kit:
            what += f": {markup(row.kit)}"
        if row.note:
            what += f' · <font size="{self.set.pt(9.5)}">{markup(row.note)}</font>'
        return self.set.marked(what)

    def waits(self) -> list[Flowable]:
        if not self.sheet.waits:
            return []
        strong = self.set.text
        rows: list[list[str | Flowable]] = [
            [
                f"{row.what}, until {self.at(row.begins)}",
                row.next_what,
                strong(self.at(row.not_before), "strong"),
                strong("any time" if row.not_after is None else self.at(row.not_after), "strong"),
                "; ".join(row.meanwhile) or "nothing: rest",
            ]
            for row in self.sheet.waits
        ]
        head = ("After", "Next", "Not before", "Not after", "Meanwhile")
        return self.titled("Waits", self.set.table(head, rows, (190, 120, 52, 52, None)))

    def titled(self, heading: str, table: Table) -> list[Flowable]:
        """A table under a section's heading that never stands alone at the foot of a side."""
        return [CondPageBreak(self.set.pt(75)), self.set.section(heading), table]

    def columns(self) -> list[Flowable]:
        """Load list in columns, mixing, and cautions."""
        flow: list[Flowable] = []
        load = [self.set.listed(group.name, group.lines, ticks=True) for group in self.sheet.load]
        flow += self.in_columns("Load list", load, 4)
        mixing = [f"{self.at(mix.needed)} {mix.what}: {mix.mix}" for mix in self.sheet.mixing]
        flow += self.in_columns("Mixing", [self.set.listed("", mixing)] if mixing else [], 1)
        if self.sheet.cautions:
            cautions = [self.caution(one) for one in self.sheet.cautions]
            flow += [KeepTogether([self.set.section("Cautions today"), *cautions[:2]]), *cautions[2:]]
            flow += [self.set.text(one, "small", spaceBefore=self.set.pt(2)) for one in self.sheet.exposure]
            flow.append(self.set.text(DEFERS, "small", spaceBefore=self.set.pt(2)))
        return flow

    def caution(self, one: CautionNote) -> Flowable:
        text = f"<b>{markup(one.title)}</b> ({markup(one.about)}): {markup(one.text)}"
        return self.set.marked(text, "small", spaceBefore=self.set.pt(1.5))

    def in_columns(self, heading: str, groups: list[list[Flowable]], count: int) -> list[Flowable]:
        """Groups in columns under a section's heading; nothing when there are none."""
        if not groups:
            return []
        return [KeepTogether([self.set.section(heading), *self.set.columns(groups, count)])]

    def job(self, job: JobSheet) -> list[Flowable]:
        title = job.title if job.customer == job.title else f"{job.title}: {job.customer}"
        notes, listed = job.notes, self.set.listed
        flow: list[Flowable] = [self.set.section(title)]
        if job.quoted:
            rows: list[list[str | Flowable]] = [
                [self.set.text(TICK, "tick"), item.item, ", ".join(item.stages) or "not in today's plan"]
                for item in job.quoted
            ]
            flow += [
                self.set.table(("", "Quoted", "Done by"), rows, (18, 150, None)),
                Spacer(1, self.set.pt(3)),
            ]
        lists = [
            listed("Quantities", job.quantities),
            listed("Before we come", notes.before, ticks=True),
            listed("At handover", notes.handover, ticks=True),
            listed("Afterwards", notes.after),
            listed("Not promised", notes.not_promised),
        ]
        flow += self.set.columns(lists, 3)
        return [KeepTogether([*flow, self.signature()])]

    def signature(self) -> Table:
        """Lines to write on: times at the job, the customer's name to it, and when."""
        texts = ("Arrived and left", "Shown to the customer: signature", "Date and time")
        widths = [self.set.width * part for part in (0.3, 0.42, 0.28)]
        lines = Table([[self.set.text(text, "small") for text in texts]], widths, spaceBefore=self.set.pt(20))
        lines.setStyle([("LINEABOVE", (n, 0), (n, 0), 0.8, RULE) for n in range(3)])
        return lines
