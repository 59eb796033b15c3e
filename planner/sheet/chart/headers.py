"""The head of a lane: the titles of its jobs, and what was promised there."""

from planner.sheet.chart.canvas import KIT, Canvas
from planner.sheet.chart.scene import Scene
from planner.sheet.chart.shapes import Thing
from planner.sheet.chart.shelf import Shelf
from planner.sheet.chart.text import elided, wrapped
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
    lines = wrapped(title, canvas.margin - 1.5 * pad, canvas.text, canvas.measure, lines=3, bold=True)
    for number, line in enumerate(lines):
        y = top + canvas.gap(4) + (number + 0.8) * canvas.row * 1.1
        canvas.label(pad, y, line, "job title", size=canvas.text, bold=True, pinned="left", of=Thing(words=title))
    return canvas.gap(4) + max(len(lines), 1) * canvas.row * 1.1


def _title_over_visit(canvas: Canvas, reading: Scene, job: str, shelf: Shelf, top: float) -> None:
    """The title of a job that shares the lane, and its ways in, over its time."""
    title = reading.names.job(job)
    start, end = (canvas.x(minute) for minute in reading.extent(job))
    room = end - start - 6
    ways = [
        f"{reading.names.ground(job, ground)} {reading.way_words((job, ground))}"
        for _, ground in reading.zones(job)
        if ground is not None
    ]
    size = canvas.small
    for text, role, bold in ((title, "job title", True), ("; ".join(ways), "caption", False)):
        shown = elided(text, room, size, canvas.measure, bold=bold)
        row = shelf.put([(start, start + canvas.wide(shown, bold=bold))]) if shown else None
        if row is not None:
            y = top + canvas.gap(3) + (row + 0.76) * canvas.row
            canvas.label(start, y, shown, role, bold=bold, of=Thing(words=text))
        elif bold:
            shelf.put([(start, start + canvas.number_width())])
            y = top + canvas.gap(3) + 0.76 * canvas.row
            minute = reading.extent(job)[0]
            canvas.note(minute, start, y, f"{show_clock(minute)} {title}", Thing(("job", job), title), anchor="start")


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
            for shown in (text,) if here else (told, text):
                if _draw_promise(canvas, shelf, (start, end), shown, told, job, top):
                    break


def _draw_promise(
    canvas: Canvas, shelf: Shelf, span: tuple[int, int], text: str, words: str, job: str, top: float
) -> bool:
    """Draw a bracket and its name where there is room; whether there was."""
    x0, x1 = (min(max(canvas.x(minute), canvas.margin), canvas.right) for minute in span)
    wide = canvas.wide(text)
    for left in (x1 + 6, x0 - wide - 6):
        if not canvas.margin <= left <= canvas.right - wide:
            continue
        row = shelf.put([(min(x0, left), max(x1, left + wide))], [(left, left + wide)])
        if row is None:
            continue
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
