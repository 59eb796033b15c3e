"""The threshold chart: where everything of a day and its plan lies on the page."""

from dataclasses import dataclass, replace

from planner.day import Day
from planner.day.names import plain
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from planner.sheet.chart.backdrop import draw_head, draw_quiet, head_height, marks_of
from planner.sheet.chart.canvas import Canvas, Density
from planner.sheet.chart.captions import summary
from planner.sheet.chart.gathering import read
from planner.sheet.chart.lanes import draw_lane
from planner.sheet.chart.legend import draw_legend
from planner.sheet.chart.paths import draw_paths
from planner.sheet.chart.scene import Scene
from planner.sheet.chart.shapes import Chart
from planner.sheet.chart.text import Measure, table_measure
from planner.sheet.wording import long_date

LEAST_WIDTH = 480.0
"""Narrower than this, in pixels at scale 1, nothing could be read."""

NAMED_KIT = (Density(), Density(0.6))
"""From airy to close, each piece of kit with its name."""

FOLDED_KIT = (Density(1.0, is_kit_folded=True), Density(0.6, is_kit_folded=True), Density(0.4, is_kit_folded=True))
"""The same, kit as bare lines."""

CLOSEST = Density(0.4)
"""Of a brief picture."""

MOST_STRETCH = 3.0
"""How much distances grow at most where a picture has more height than it needs."""

SHOWN_SPARE = 90
"""A latest finish up to so many minutes after home is shown; one further off would squeeze the day."""


def chart(
    day: Day,
    plan: Plan,
    *,
    width: float,
    height: float | None = None,
    scale: float = 1.0,
    now: int | None = None,
    compare: Plan | None = None,
    measure: Measure = table_measure,
    window: float | None = None,
    brief: bool = False,
    kit_folded: bool | None = None,
) -> Chart:
    """Lay out the picture of a planned day.

    Time runs left to right. Each job has a lane; the line in it is the threshold of a way in, with the van above it and
    the ground below. Hands' paths step over it, stages are bars on them, waits are pools, kit lies as bands.

    Parameters
    ----------
    day, plan
        What is shown.
    width
        Of the page, in pixels; at least `LEAST_WIDTH` times the scale is used.
    height
        Fitted into if it can be, by packing closer or more loosely; the picture is taller if it must be.
    scale
        Of the text and all that goes with it: 1 is a text of 12 pixels, and none smaller than 11.
    now
        The minute of the day at which to draw the now-line.
    compare
        Another plan for the same day, whose other times are marked.
    measure
        Tells how wide a text is; give the screen's or the paper's own for an exact fit.
    window
        How much of the width is seen at a time, when the page is moved under a window: the legend keeps to it.
    brief
        Leave kit and loads to the order of the day beside the picture: crossings then bear the numbers they have there.
    kit_folded
        Whether the bands of kit lie close and without names; None folds them where the height asks for it.
    """
    reading = read(day, plan, compare)
    width = max(width, LEAST_WIDTH * scale)
    page = _Page(width, scale, now, compare, measure, min(width, max(window or width, LEAST_WIDTH * scale)), brief)
    for density in (CLOSEST,) if brief else _densities(kit_folded):
        picture = _laid_out(reading, page, density)
        if height is None or picture.height <= height:
            break
    if height is None or picture.height >= height:
        return picture
    return _stretched(reading, page, density, picture, height)


def _densities(kit_folded: bool | None) -> tuple[Density, ...]:
    return (*(() if kit_folded else NAMED_KIT), *(() if kit_folded is False else FOLDED_KIT))


@dataclass(frozen=True, slots=True)
class _Page:
    """What is asked of every trial of the layout."""

    width: float
    scale: float
    now: int | None
    compare: Plan | None
    measure: Measure
    window: float
    brief: bool


def _stretched(reading: Scene, page: _Page, density: Density, picture: Chart, height: float) -> Chart:
    """The same picture with its distances grown into the height that is left."""
    loose = _laid_out(reading, page, replace(density, stretch=MOST_STRETCH))
    growth = max(loose.height - picture.height, 1.0)
    stretch = min(MOST_STRETCH, 1.0 + (MOST_STRETCH - 1.0) * (height - picture.height) / growth)
    while stretch > 1.0:
        fitted = _laid_out(reading, page, replace(density, stretch=stretch))
        if fitted.height <= height:
            return fitted
        stretch -= 0.15
    return picture


def _laid_out(reading: Scene, page: _Page, density: Density) -> Chart:
    first, last = _hours_shown(reading, page.now, page.compare)
    scale, width = page.scale, page.width
    edge = _edge(reading, page)
    canvas = Canvas(width, _margin(page.window, scale), edge, first, last, scale, page.measure, density, page.brief)
    head = head_height(canvas)
    canvas.strip = head
    canvas.marks = [(canvas.x(minute) - 1, canvas.x(minute) + 1) for minute, *_ in marks_of(reading, page.compare)]
    lanes, bottom = [], head
    for lane in reading.lanes:
        top = bottom
        bottom = draw_lane(canvas, reading, lane, top)
        lanes += [(job, top, bottom) for job in lane]
    draw_quiet(canvas, reading, lanes)
    draw_paths(canvas, reading)
    draw_head(canvas, reading, now=page.now, compare=page.compare, bottom=bottom)
    foot, bottom = bottom, draw_legend(canvas, bottom, page.window)
    day = reading.day
    title = plain(day.title) or f"Plan for {long_date(day.date)}"
    return Chart(
        title=title,
        summary=(f"{title}. {long_date(day.date)}.", *summary(day, reading.plan)),
        width=width,
        height=bottom,
        margin=canvas.margin,
        head=head,
        foot=foot,
        edge=canvas.edge,
        scale=scale,
        first=first,
        last=last,
        shapes=tuple(sorted(canvas.shapes, key=lambda shape: shape.layer)),
        items=tuple(sorted(canvas.items.values(), key=lambda item: (item.minute, item.y, item.x))),
    )


def _margin(width: float, scale: float) -> float:
    return min(150 * scale, width * 0.2)


def _edge(reading: Scene, page: _Page) -> float:
    """Room on the right for the names of the marks at the day's end, where several stand close."""
    has_marks = page.compare is not None or reading.plan.home + SHOWN_SPARE >= latest_finish(reading.day)
    return (120 if page.compare else 100 if has_marks else 14) * page.scale


def _hours_shown(reading: Scene, now: int | None, compare: Plan | None) -> tuple[int, int]:
    """First and last minute of the picture, on half hours."""
    plan, finish = reading.plan, latest_finish(reading.day)
    ends = [plan.home, *([compare.home] if compare else [])]
    starts = [plan.leaves, *([compare.leaves] if compare else [])]
    if now is not None and plan.leaves - 60 <= now <= plan.home + 60:
        starts.append(now)
        ends.append(now)
    if finish <= max(ends) + SHOWN_SPARE:
        ends.append(finish)
    return (min(starts) - 5) // 30 * 30, -(-(max(ends) + 10) // 30) * 30


def describe(picture: Chart) -> tuple[str, ...]:
    """The picture in words, in order of time: for screen readers, and for those who would rather read."""
    return (*picture.summary, *(f"{item.words}." for item in picture.items))
