"""The customers' slips as a PDF, two to a side, to be cut apart."""

from collections.abc import Sequence

from reportlab.lib import colors
from reportlab.platypus import Flowable, HRFlowable, KeepTogether, Spacer

from planner.sheet.papers.paper import Paper
from planner.sheet.papers.pdf_layout import Setter, typeset
from planner.sheet.papers.slip import PLANNED, Slip
from planner.sheet.wording import long_date

CUT = 8.0
"""Room for the line along which slips are cut apart, in points."""

SCALE = 1.15
"""Slips are set larger than the run sheet: they have room, and lie on a kitchen table."""


def slips_pdf(told: Sequence[Slip], *, paper: Paper = "A4") -> bytes:
    """The slips as the bytes of a PDF; a slip takes half a side, or more where it says more than that holds."""
    title = f"Customer slips, {long_date(told[0].date)}" if told else "Customer slips"

    def write(setter: Setter) -> list[Flowable]:
        return [_half_a_side(slip, setter) for slip in told] or [setter.text("No customer is visited.")]

    return typeset(write, title=title, paper=paper, scales=(SCALE,))


def _half_a_side(slip: Slip, setter: Setter) -> Flowable:
    lines = _lines(slip, setter)
    used = sum(
        line.wrap(setter.width, setter.height)[1] + line.getSpaceBefore() + line.getSpaceAfter() for line in lines
    )
    rest = max(0.0, setter.height / 2 - used - CUT)
    cut = HRFlowable("100%", 0.6, color=colors.black, dash=(4, 4), spaceBefore=CUT / 2, spaceAfter=CUT / 4)
    return KeepTogether([*lines, Spacer(1, rest), cut])


def _lines(slip: Slip, setter: Setter) -> list[Flowable]:
    text, listed = setter.text, setter.listed
    lines: list[Flowable] = [
        text(f"{long_date(slip.date)}: our visit to you", "section"),
        text(slip.name, "group", spaceAfter=3),
        *(text(f"We come {visit}", "strong") for visit in slip.visits),
    ]
    if slip.price:
        lines.append(text(f"Price: {slip.price}"))
    groups = [
        [*listed("Before we come, please", slip.notes.before, ticks=True)],
        [*listed("What we do", slip.work)],
        [*listed("Afterwards", slip.notes.after)],
        [*listed("Not part of the work", slip.notes.not_promised)],
    ]
    return [*lines, *setter.columns(groups, 2), text(PLANNED, "small", spaceBefore=5)]
