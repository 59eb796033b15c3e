"""What lies behind the day: hours, darkness, rain, quiet, the latest finish, now; and the van's strip."""

from collections.abc import Sequence

from planner.day.names import sentence
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from planner.sheet.chart.canvas import BAR, GRID, NOW, SHADE, Canvas
from planner.sheet.chart.captions import drive_words, fetch_words
from planner.sheet.chart.scene import Scene
from planner.sheet.chart.shapes import Pattern, Thing
from planner.sheet.chart.shelf import Shelf
from planner.trade.daylight import daylight
from planner.trade.units import show_clock
from planner.trade.weather import holding

RAIN_LIKELY = 0.5
"""From this chance of rain on an hour is shaded."""


def head_height(canvas: Canvas) -> float:
    """The height of the pinned head: hours, the van's strip, and the names of marks and shades."""
    return canvas.row * 3 + 14 * canvas.scale


def draw_head(canvas: Canvas, reading: Scene, *, now: int | None, compare: Plan | None, bottom: float) -> None:
    """Draw the head, and the lines and shades that run from it down to ``bottom``."""
    head = head_height(canvas)
    _draw_hours(canvas, bottom)
    _draw_strip(canvas, reading)
    shelf = Shelf(1)
    marks = marks_of(reading, compare)
    if now is not None:
        marks.insert(0, (now, f"now {show_clock(now)}", "now"))
    for minute, text, role in marks:
        if canvas.first <= minute <= canvas.last:
            _draw_mark(canvas, shelf, minute, text, role, head, bottom)
    for start, end, text, role, pattern in _shades(reading):
        _draw_shade(canvas, shelf, (start, end), text, role, pattern, head, bottom)


def marks_of(reading: Scene, compare: Plan | None) -> list[tuple[int, str, str]]:
    """Minute, name and role of each line down the picture but that of now, the latest first.

    The later takes the room on its right, the sooner has some on its left.
    """
    home, finish = reading.plan.home, latest_finish(reading.day)
    marks = [(home, f"home {show_clock(home)}", "home"), (finish, f"finish by {show_clock(finish)}", "finish")]
    if compare is not None:
        marks.append((compare.home, f"other plan home {show_clock(compare.home)}", "other plan"))
    return sorted(marks, reverse=True)


def _draw_hours(canvas: Canvas, bottom: float) -> None:
    head = head_height(canvas)
    canvas.rect((0, 0, canvas.width, head), "head", SHADE, pinned="top")
    per_hour = canvas.x(60) - canvas.x(0)
    wide = canvas.wide("00:00", canvas.text)
    every = next(hours for hours in (1, 2, 3, 4, 6, 12, 24) if per_hour * hours >= wide + 14 or hours == 24)
    for minute in range(-(-canvas.first // 30) * 30, canvas.last + 1, 30):
        x = canvas.x(minute)
        is_hour = minute % 60 == 0
        canvas.line((x, head, x, bottom), "hour" if is_hour else "half hour", GRID)
        tick = canvas.row + 4 * canvas.scale
        canvas.line((x, tick - (5 if is_hour else 3), x, tick), "tick", GRID, pinned="top")
        if minute % (60 * every) == 0 and x - wide / 2 >= canvas.margin - 4 and x + wide / 2 <= canvas.width:
            y = canvas.row - 2 * canvas.scale
            canvas.label(x, y, show_clock(minute)[:5], "hour name", size=canvas.text, anchor="middle", pinned="top")
    canvas.line((0, head, canvas.width, head), "head edge", GRID, pinned="top")


def _draw_strip(canvas: Canvas, reading: Scene) -> None:
    """Where the van is: on the road, or at a place."""
    names, plan = reading.names, reading.plan
    top = canvas.row + 7 * canvas.scale
    bottom = top + canvas.row + 2 * canvas.scale
    baseline = (top + bottom) / 2 + 0.35 * canvas.small
    canvas.label(10 * canvas.scale, baseline, "The van", "caption", pinned="top", room=canvas.margin - 14)
    shelf = Shelf(1, gap=2)
    for bar in reading.bars:
        if not bar.zone[0]:  # a break on the road
            box = (canvas.x(bar.start), top, canvas.x(bar.end), bottom)
            canvas.rect(box, "break", BAR, pattern="bare", of=bar, pinned="top")
            canvas.item(bar, box, bar.start)
    for drive in plan.drives:
        x0, x1 = canvas.x(drive.start), canvas.x(drive.end)
        words, about = drive_words(reading.day, drive), ("drive", drive.start)
        canvas.rect((x0, top, x1, bottom), "drive", BAR, pattern="rise", of=Thing(about, words), pinned="top")
        canvas.item(Thing(about, words), (x0, top, x1, bottom), drive.start)
        shelf.take((x0, x1), 0)
    drives = sorted(plan.drives, key=lambda d: d.start)
    stands: list[tuple[float, float, str]] = [
        (canvas.x(v.arrive), canvas.x(v.depart), names.place(reading.day.jobs[v.job].place)) for v in plan.visits
    ]
    if drives:
        stands.append((canvas.x(drives[-1].end), canvas.right + canvas.edge, names.place(drives[-1].to_place)))
        stands.append((canvas.margin, canvas.x(drives[0].start), names.place(drives[0].from_place)))
    for x0, x1, name in stands:
        canvas.rect((x0, top, min(x1, canvas.width), bottom), "stand", SHADE, pinned="top")
        if canvas.wide(name) + 10 <= x1 - x0 and shelf.put([], [(x0 + 5, x0 + 5 + canvas.wide(name))]) is not None:
            canvas.label(x0 + 5, baseline, name, "place", pinned="top", of=Thing(words=name))
    for fetch in plan.fetches:
        box = (canvas.x(fetch.leaves), top, canvas.x(fetch.back), bottom)
        of = Thing(("drive", fetch.leaves), fetch_words(reading.day, fetch))
        canvas.rect(box, "drive", BAR, pattern="rise", of=of, pinned="top")
        canvas.item(of, box, fetch.leaves)
    for drive in drives:
        text, x0, x1 = f"{drive.end - drive.start} min", canvas.x(drive.start), canvas.x(drive.end)
        about, words = ("drive", drive.start), drive_words(reading.day, drive)
        wide = canvas.wide(text)
        if wide + 6 <= x1 - x0:
            middle = (x0 + x1) / 2
            box = (middle - wide / 2 - 2, top + 1, middle + wide / 2 + 2, bottom - 1)
            canvas.rect(box, "drive name back", BAR, pinned="top", of=Thing(about))
            canvas.label(middle, baseline, text, "drive name", anchor="middle", pinned="top", of=Thing(about, words))


def _draw_mark(canvas: Canvas, shelf: Shelf, minute: int, text: str, role: str, head: float, bottom: float) -> None:
    """A line down the whole picture at one minute, named in the head where there is room."""
    x = canvas.x(minute)
    canvas.line((x, head - 4 * canvas.scale, x, bottom), role, NOW if role == "now" else GRID, of=Thing(words=text))
    for shown in (text, show_clock(minute)):
        wide = canvas.wide(shown, bold=role == "now")
        free = [
            left
            for left in (x + 4, x - 4 - wide)
            if canvas.margin <= left <= canvas.width - wide and shelf.free_row([(left, left + wide)]) is not None
        ]
        if free:
            shelf.put([(free[0], free[0] + wide)])
            y, told = head - 5 * canvas.scale, Thing(words=text)
            canvas.label(free[0], y, shown, f"{role} name", bold=role == "now", pinned="top", of=told)
            break
    canvas.item(Thing((role, minute), sentence(text)), (x - 3, head - canvas.row, x + 3, head), minute)


def _shades(reading: Scene) -> list[tuple[int, int, str, str, Pattern]]:
    """From, to, name, role and pattern of what the sky does over the whole picture."""
    day = reading.day
    shades: list[tuple[int, int, str, str, Pattern]] = []
    located = [place.at for place in day.places.values() if place.at]
    at_jobs = [place for job in reading.jobs if (place := day.places[day.jobs[job].place].at)]
    if located:
        light = daylight(*(at_jobs or located)[0], day.date, day.time_zone)
        shades.append((0, light.dawn, f"dark until {show_clock(light.dawn)}", "shade: daylight", "dots"))
        shades.append((light.dusk, 2880, f"dark from {show_clock(light.dusk)}", "shade: daylight", "dots"))
    for start, end, hour in holding(day.weather):
        if hour.rain_chance >= RAIN_LIKELY:
            shades.append((start, end, f"rain {hour.rain_chance:.0%}", "shade: rain", "rise"))
    return shades


def _draw_shade(
    canvas: Canvas,
    shelf: Shelf,
    span: tuple[int, int],
    text: str,
    role: str,
    pattern: Pattern,
    head: float,
    bottom: float,
) -> None:
    start, end = max(span[0], canvas.first), min(span[1], canvas.last)
    if start >= end:
        return
    x0, x1 = canvas.x(start), canvas.x(end)
    canvas.rect((x0, head, x1, bottom), role, SHADE + 1, pattern=pattern, of=Thing(words=text))
    wide = canvas.wide(text)
    if x0 + 4 + wide <= canvas.right and shelf.put([(x0 + 4, x0 + 4 + wide)]) is not None:
        canvas.label(x0 + 4, head - 5 * canvas.scale, text, "shade name", pinned="top", of=Thing(words=text))
    canvas.item(Thing((role, span[0]), sentence(text)), (x0, head - canvas.row, x1, head), start)


def draw_quiet(canvas: Canvas, reading: Scene, lanes: Sequence[tuple[str, float, float]]) -> None:
    """Shade the quiet hours of each job's lane, named at the lane's foot where there is room."""
    for job, top, bottom in lanes:
        for start, end in reading.day.jobs[job].quiet:
            first, last = max(start, canvas.first), min(end, canvas.last)
            if first >= last:
                continue
            text = f"{reading.names.job(job)}: quiet {show_clock(start)} to {show_clock(end)}"
            x0, x1 = canvas.x(first), canvas.x(last)
            canvas.rect((x0, top, x1, bottom), "shade: quiet", SHADE + 1, pattern="fall", of=Thing(words=text))
            canvas.item(Thing(("quiet", job, start), text), (x0, top, x1, bottom), first)
