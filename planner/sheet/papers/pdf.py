"""The run sheet as a PDF, A4 or Letter, black and white.

The order of the day has the first side, or as many as it takes; what is carried begins another; what is read before and
after the work comes last.
"""

from typing import Any

from reportlab.lib import colors
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak, Spacer, Table

from planner.sheet.chart import Chart
from planner.sheet.fonts import markup
from planner.sheet.papers.agenda import Agenda, AgendaEntry, Phrase
from planner.sheet.papers.cautions import CautionNote
from planner.sheet.papers.paper import Paper
from planner.sheet.papers.pdf_chart import ChartFlowable
from planner.sheet.papers.pdf_layout import GREY, RULE, TICK, Setter, typeset
from planner.sheet.papers.runsheet import JobSheet, RunSheet
from planner.sheet.papers.waits import WaitRow
from planner.sheet.wording import moment
from planner.trade.cautions import DEFERS

NOT_PLANNED = "not in today's plan"

ACTUAL = 52.0
"""Width of the column for actual times, in points at scale 1."""

CUSTOMER = 0.6
"""The tallest that the columns of one customer get, as a part of the side's height."""

MOST_WHAT = 0.28
"""The widest that a stage's name gets in the table of waits, as a part of the side's width."""


def run_sheet_pdf(sheet: RunSheet, *, paper: Paper = "A4", picture: Chart | None = None) -> bytes:
    """The run sheet as the bytes of a PDF, with or without a picture that was laid out with `paper_measure`."""
    title = f"{sheet.head.title}, {sheet.head.date}"
    return typeset(lambda setter: _RunSheetWriter(sheet, setter, picture).written(), title=title, paper=paper)


class _RunSheetWriter:
    """Writes the sections of one run sheet at one scale."""

    def __init__(self, sheet: RunSheet, setter: Setter, picture: Chart | None) -> None:
        self.sheet, self.set, self.picture = sheet, setter, picture

    def written(self) -> list[Flowable]:
        flow = self.head()
        for order in self.sheet.orders:
            flow += self.order(order)
        if self.sheet.orders:
            flow.append(PageBreak())
        flow += [*self.load(), *self.mixing(), *self.waits(), *self.drawn(), *self.cautions()]
        for job in self.sheet.jobs:
            flow += self.job(job)
        return flow

    def drawn(self) -> list[Flowable]:
        """The picture, where it is given and can be read on one side."""
        if self.picture is None:
            return []
        drawn = ChartFlowable(self.picture, self.set.width, self.set.height - self.set.pt(60))
        heading = self.set.section("The day in one picture")
        return [KeepTogether([heading, Spacer(1, self.set.pt(4)), drawn])] if drawn.is_readable else []

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

    def order(self, order: Agenda) -> list[Flowable]:
        """One hand's day: tick, time, what with what, and room for the actual times."""
        entries = order.entries
        head = ("", "Time", "What, with what", "Actual")
        rows = [self.entry(entry) for entry in entries]
        style: list[tuple[Any, ...]] = [("LINEBEFORE", (-1, 0), (-1, -1), 0.4, RULE)]
        for n, entry in enumerate(entries, 1):
            if entry.kind == "crossing":
                style.append(("BACKGROUND", (0, n), (-2, n), GREY))
            if entry.kind == "visit" and n > 1:
                style.append(("LINEABOVE", (0, n), (-1, n), 1.2, colors.black))
            if entry.kind == "visit" and n < len(entries):
                style.append(("NOSPLIT", (0, n), (-1, n + 1)))
        times = max(self.set.wide(self.span(entry), bold=True) for entry in entries)
        table = self.set.table(head, rows, (17, times + 8, None, ACTUAL), style)
        return [CondPageBreak(self.set.pt(110)), self.set.section(f"Order of the day: {order.name}"), table]

    def entry(self, entry: AgendaEntry) -> list[str | Flowable]:
        lines = [self.phrase(phrase) for phrase in entry.phrases]
        text = "<br/>".join([*lines, *([markup(entry.note)] if entry.note else [])])
        tick, time = self.set.text(TICK if entry.to_do else "", "tick"), self.set.text(self.span(entry), "time")
        return [tick, time, self.set.marked(text), ""]

    def phrase(self, phrase: Phrase) -> str:
        what = markup(phrase.what if phrase.start is None else f"{self.at(phrase.start)} {phrase.what}")
        what = f"<b>{what}</b>" if phrase.is_strong else what
        return f"{what}: {markup(phrase.kit)}" if phrase.kit else what

    def span(self, entry: AgendaEntry) -> str:
        if entry.start is None or entry.end is None:
            return ""
        start = self.at(entry.start)
        return start if entry.end == entry.start else f"{start}–{self.at(entry.end)}"

    def waits(self) -> list[Flowable]:
        if not self.sheet.waits:
            return []
        strong = self.set.text
        rows: list[list[str | Flowable]] = [
            [
                f"{row.what}, until {self.at(row.begins)}",
                row.next_what,
                strong(self.at(row.not_before), "time"),
                strong("any time" if row.not_after is None else self.at(row.not_after), "time"),
                meanwhile(row),
            ]
            for row in self.sheet.waits
        ]
        head = ("After", "Next", "Not before", "Not after", "Meanwhile")
        whats = (
            max(self.set.wide(str(row[0])) for row in rows),
            max(self.set.wide(row.next_what) for row in self.sheet.waits),
        )
        most = MOST_WHAT * self.set.width / self.set.pt(1)
        widths = [min(what + 8, most) for what in whats]
        times = [max(self.set.wide(text), self.set.wide("any time", bold=True)) + 8 for text in head[2:4]]
        return self.titled("Waits", self.set.table(head, rows, (*widths, *times, None)))

    def titled(self, heading: str, table: Table) -> list[Flowable]:
        """A table under a section's heading that never stands alone at the foot of a side."""
        return [KeepTogether([self.set.section(heading), table])]

    def load(self) -> list[Flowable]:
        if not self.sheet.load:
            return []
        columns = [self.set.listed(group.name, group.lines, ticks=True) for group in self.sheet.load]
        return [KeepTogether([self.set.section("Load list"), *self.set.columns(columns, 3)])]

    def mixing(self) -> list[Flowable]:
        lines = [f"{self.at(mix.needed)} {mix.what}: {mix.mix}" for mix in self.sheet.mixing]
        return [KeepTogether([self.set.section("Mixing"), *self.set.listed("", lines, ticks=True)])] if lines else []

    def cautions(self) -> list[Flowable]:
        told = [self.caution(one) for one in self.sheet.cautions]
        told += [markup(text) for text in (*self.sheet.exposure, DEFERS)]
        if len(told) == 1:
            return []
        lines = [self.set.marked(text, "small", spaceBefore=self.set.pt(1.5)) for text in told]
        return [KeepTogether([self.set.section("Cautions today"), lines[0]]), *lines[1:]]

    def caution(self, one: CautionNote) -> str:
        return f"<b>{markup(one.title)}</b> ({markup(one.about)}): {markup(one.text)}"

    def job(self, job: JobSheet) -> list[Flowable]:
        """What is said and shown to one customer, under a heading with room for times and a signature."""
        notes = job.notes
        quoted = ["\n".join((item.item, *(item.stages or (NOT_PLANNED,)))) for item in job.quoted]
        lists = [
            ("Quoted", quoted, True),
            ("Quantities", job.quantities, False),
            ("Before we come", notes.before, True),
            ("At handover", notes.handover, True),
            ("Afterwards", notes.after, False),
            ("Not promised", notes.not_promised, False),
        ]
        groups = [self.set.listed(heading, told, ticks=ticks) for heading, told, ticks in lists]
        return [KeepTogether([self.signed(job), *self.set.columns(groups, 2, CUSTOMER * self.set.height)])]

    def signed(self, job: JobSheet) -> Table:
        """The job's name, and lines to write on: times at the job, the customer's name to it, and when."""
        title = job.title if job.customer == job.title else f"{job.title}: {job.customer}"
        labels = [
            self.set.text(text, "small") for text in ("Arrived, left", "Shown to the customer: signature", "Time")
        ]
        room = [self.set.width * part for part in (0.4, 0.18, 0.32, 0.1)]
        head = Table([[self.set.text(title, "section"), *labels]], room, spaceBefore=self.set.pt(5))
        head.setStyle(
            [
                ("LINEBELOW", (0, 0), (-1, -1), 1.2, colors.black),
                ("LINEBEFORE", (1, 0), (-1, -1), 0.4, RULE),
                ("VALIGN", (0, 0), (0, 0), "BOTTOM"),
                ("VALIGN", (1, 0), (-1, -1), "TOP"),
                ("TOPPADDING", (0, 0), (-1, -1), 0),
                ("LEFTPADDING", (0, 0), (0, -1), 0),
                ("LEFTPADDING", (1, 0), (-1, -1), 3),
                ("BOTTOMPADDING", (0, 0), (0, -1), 2),
                ("BOTTOMPADDING", (1, 0), (-1, -1), self.set.pt(15)),
            ]
        )
        return head


def meanwhile(row: WaitRow) -> str:
    """What to do while a wait runs, what the forecast says of it, and first by how much it is not kept."""
    told = [row.late, row.filling, row.of_patches, row.forecast]
    return "; ".join(filter(None, told))
