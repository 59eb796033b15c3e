"""The head of a lane: the titles of its jobs, and what was promised there."""

from collections.abc import Sequence

from planner.sheet.chart.canvas import KIT, NAME_BACK, Canvas
from planner.sheet.chart.scene import Scene
from planner.sheet.chart.shapes import Thing
from planner.sheet.chart.shelf import Interval, Shelf
from planner.sheet.chart.text import wrapped
from planner.trade.units import show_clock

PAD = 10
"""Left of the margin's texts, in pixels at scale 1."""


def caption(canvas: Canvas, text: str, y: float, role: str, *, bold: bool = False) -> None:
    """A line of text in the margin."""
    pad = PAD * canvas.scale
    canvas.label(pad, y, text, role, bold=bold, pinned="left", room=canvas.margin - 1.5 * pad, of=Thing(words=text))


def draw_header(canvas: Canvas, reading: Scene, lane: list[str], top: float) -> float:
    """Draw titles and promises under ``top``; gives back the lower edge."""
    crossed = [(canvas.x(a), canvas.x(b)) for a, b in reading.drives_through(lane[0], below=False)]
    shelf = Shelf(6, crossed)
    least = _title_in_margin(canvas, reading, lane[0], top) if len(lane) == 1 else 0.0
    if len(lane) > 1:
        for job in lane:
            _title_over_visit(canvas, reading, job, shelf, top)
    for job in lane:
        _draw_promises(canvas, reading, job, shelf, top)
    return top + max(least, len(shelf.rows) * canvas.row + canvas.gap(3)) + canvas.gap(3)


def _title_in_margin(canvas: Canvas, reading: Scene, job: str, top: float) -> float:
    """The title of a job that has the lane to itself; gives back its height."""
    pad, title = PAD * canvas.scale, reading.names.job(job)
    lines = wrapped(title, canvas.margin - 1.5 * pad, canvas.text, canvas.measure, lines=4, bold=True)
    for number, line in enumerate(lines):
        y = top + canvas.gap(4) + (number + 0.8) * canvas.row * 1.1
        canvas.label(pad, y, line, "job title", size=canvas.text, bold=True, pinned="left", of=Thing(words=title))
    height = max(len(lines), 1) * canvas.row * 1.1
    of = Thing(("job", job), reading.job_words(job))
    canvas.item(of, (pad, top, canvas.margin - pad, top + height), reading.extent(job)[0])
    return canvas.gap(4) + max(len(lines), 1) * canvas.row * 1.1


def _title_over_visit(canvas: Canvas, reading: Scene, job: str, shelf: Shelf, top: float) -> None:
    """The title of a job that shares the lane, and its ways in, over its time."""
    title = reading.names.job(job)
    start, end = (canvas.x(minute) for minute in reading.extent(job))
    ways = [
        f"{reading.names.ground(job, ground)} {reading.way_words((job, ground))}"
        for _, ground in reading.zones(job)
        if ground is not None
    ]
    for text, role, bold in ((title, "job title", True), ("; ".join(ways), "caption", False)):
        _write_over(canvas, shelf, (start, end), text, role, top, bold=bold)
    of = Thing(("job", job), reading.job_words(job))
    canvas.item(of, (start, top, end, top + canvas.row), reading.extent(job)[0])


def _write_over(
    canvas: Canvas, shelf: Shelf, visit: Interval, text: str, role: str, top: float, *, bold: bool
) -> None:
    """Lines over a visit, from its start on or up to its end, in the first rows with room; shortened only at last."""
    start, end = visit
    room = canvas.width - 4 - max(canvas.margin, start + 4)
    for line in wrapped(text, room, canvas.small, canvas.measure, lines=2, bold=bold):
        wide = canvas.wide(line, bold=bold)
        spots = [left for left in (start + 4, end - wide - 4) if canvas.margin <= left <= canvas.width - wide - 4]
        _write_in_row(canvas, shelf, spots or [start + 4], line, role, top, bold=bold)


def _write_in_row(
    canvas: Canvas, shelf: Shelf, spots: Sequence[float], text: str, role: str, top: float, *, bold: bool = False
) -> None:
    """Write a line in the first row with room, at last over a path that runs behind it."""
    wide = canvas.wide(text, bold=bold)
    free = [(row, left) for left in spots if (row := shelf.free_row([], [(left, left + wide)])) is not None]
    row, left = min(free, default=(-1, spots[0]))
    if row < 0:
        row = shelf.free_row([(left, left + wide)]) or 0
        y = top + canvas.gap(3) + row * canvas.row
        canvas.rect((left - 2, y, left + wide + 2, y + canvas.row), "name back", NAME_BACK)
    shelf.take((left, left + wide), row)
    y = top + canvas.gap(3) + (row + 0.76) * canvas.row
    canvas.label(left, y, text, role, bold=bold, of=Thing(words=text))


def _draw_promises(canvas: Canvas, reading: Scene, job: str, shelf: Shelf, top: float) -> None:
    """The arrival window and the promised end as brackets; one that lies beside another job's visit names its own."""
    given = reading.day.jobs[job]
    spans: list[tuple[int, int, str]] = []
    if given.arrive:
        start, end = given.arrive
        spans.append((start, end, f"arrive {show_clock(start)}–{show_clock(end)}"))
    if given.done_by is not None:
        spans.append((given.done_by, given.done_by, f"promised gone by {show_clock(given.done_by)}"))
    arrives, leaves = reading.extent(job)
    for start, end, text in spans:
        if start <= canvas.last and end >= canvas.first:
            told = f"{reading.names.job(job)}: {text}"
            here = start <= leaves and end >= arrives
            tries = [(shown, clear) for clear in (True, False) for shown in ((text,) if here else (told, text))]
            for shown, clear in tries:
                if _draw_promise(canvas, shelf, (start, end), shown, told, job, top, clear=clear):
                    break


def _draw_promise(
    canvas: Canvas, shelf: Shelf, span: tuple[int, int], text: str, words: str, job: str, top: float, *, clear: bool
) -> bool:
    """Draw a bracket and its name where there is room, perhaps only ``clear`` of the paths; whether there was."""
    x0, x1 = (min(max(canvas.x(minute), canvas.margin), canvas.right) for minute in span)
    wide = canvas.wide(text)
    for left in (x1 + 6, x0 - wide - 6):
        if not canvas.margin <= left <= canvas.right - wide:
            continue
        row = shelf.put([(min(x0, left), max(x1, left + wide))], [(left, left + wide)] if clear else [])
        if row is None:
            continue
        if not clear:
            above = top + canvas.gap(3) + row * canvas.row
            canvas.rect((left - 2, above, left + wide + 2, above + canvas.row), "name back", NAME_BACK)
        y = top + canvas.gap(3) + (row + 0.5) * canvas.row
        about = ("promise", job, span[0])
        canvas.line((x0, y, x1, y), "promise", KIT, of=Thing(about, words))
        for x in (x0, x1):
            canvas.line((x, y - 4, x, y + 4), "promise", KIT, of=Thing(about, words))
        canvas.label(left, y + 0.35 * canvas.small, text, "promise name", of=Thing(about, words))
        box = (min(x0, left), y - 6, max(x1, left + wide), y + 6)
        canvas.item(Thing(about, words), box, span[0])
        return True
    return False
