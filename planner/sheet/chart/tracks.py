"""A hand's track in a zone: bars on the path, each with its name in it, over it on a staff, or by number."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.sheet.chart.canvas import BAR, STROKE, Canvas
from planner.sheet.chart.shelf import Interval, Shelf
from planner.sheet.chart.things import Bar
from planner.trade.units import show_clock

SOLE = 5
"""Height of the patterned foot of a stage's bar, in pixels at scale 1."""


@dataclass(frozen=True, slots=True)
class _Flag:
    """A name over a bar, in a row counted from the bar upward (-1: in it); an empty text stands for a number."""

    bar: Bar
    row: int
    text: str
    left: float
    staff: float


def draw_track(
    canvas: Canvas, bars: Sequence[Bar], strokes: Sequence[Interval], top: float, ceiling: float = 0.0
) -> tuple[float, float]:
    """Draw the bars of one hand under ``top`` with at least ``ceiling`` over them.

    Returns
    -------
    tuple of float
        The level of the path and the lower edge of the track.
    """
    flags = _flags(canvas, bars, strokes)
    depth = max((flag.row + 1 for flag in flags), default=0)
    bar_top = top + max(depth * canvas.row, ceiling) + canvas.gap(3)
    level = bar_top + canvas.bar / 2
    for bar in bars:
        _draw_bar(canvas, bar, level)
    for flag in flags:
        _draw_flag(canvas, flag, bar_top)
    return level, _draw_others(canvas, bars, bar_top + canvas.bar)


def _flags(canvas: Canvas, bars: Sequence[Bar], strokes: Sequence[Interval]) -> list[_Flag]:
    """The bars whose name does not lie in them, from right to left so that staffs pass beside later names."""
    shelf = Shelf(canvas.density.label_rows, strokes)
    outside = [bar for bar in bars if bar.kind in ("stage", "break") and not _inside(canvas, bar)]
    return [_flag(canvas, shelf, bar) for bar in sorted(outside, key=lambda b: b.start, reverse=True)]


def _flag(canvas: Canvas, shelf: Shelf, bar: Bar) -> _Flag:
    """The name over a bar, from its start or about its middle; else a number in it, else a number over it."""
    left, right = canvas.x(bar.start), canvas.x(bar.end)
    middle, numbers = (left + right) / 2, canvas.number_width()
    shelf.most = canvas.density.label_rows
    for title in dict.fromkeys(bar.titles[1:]):
        wide = canvas.wide(title)
        for text, staff in ((left + 5, left), (middle - wide / 2, middle), (right - wide, middle)):
            if canvas.margin <= text and text + wide <= canvas.right:
                row = shelf.put_flag((text, text + wide), (staff - 1, staff + 1))
                if row is not None:
                    return _Flag(bar, row, title, text, staff)
    if right - left >= numbers:
        return _Flag(bar, -1, "", middle, middle)
    shelf.most = None
    for back in range(0, int(numbers) + 1, 2):
        row = shelf.put_flag((left - back, left - back + numbers), (left - 1, left + 1))
        if row is not None:
            return _Flag(bar, row, "", left - back, left)
    return _Flag(bar, shelf.put([(left, left + numbers)]) or 0, "", left, left)


def _inside(canvas: Canvas, bar: Bar) -> list[str]:
    """The longest name that lies in the bar, in one row or two; none if none does."""
    room = canvas.x(bar.end) - canvas.x(bar.start) - 8 * canvas.scale
    for title in bar.titles:
        if canvas.wide(title) <= room:
            return [title]
        if bar.kind == "stage" and not canvas.brief:
            first, second = _halves(canvas, title)
            if second and max(canvas.wide(first), canvas.wide(second)) <= room:
                return [first, second]
    return []


def _halves(canvas: Canvas, title: str) -> tuple[str, str]:
    """A name broken between two words so that the wider half is as narrow as can be; the second may be empty."""
    words = title.split(" ")
    breaks = [
        (" ".join(words[:count]).removesuffix(" ·"), " ".join(words[count:]).removeprefix("· "))
        for count in range(1, len(words))
    ]
    return min(breaks, key=lambda pair: max(canvas.wide(pair[0]), canvas.wide(pair[1])), default=(title, ""))


def _draw_bar(canvas: Canvas, bar: Bar, level: float) -> None:
    x0, x1 = canvas.x(bar.start), canvas.x(bar.end)
    is_chore = bar.kind not in ("stage", "break")
    half = canvas.bar / 2 * (0.44 if is_chore else 1.0)
    box = (x0, level - half, x1, level + half)
    canvas.item(bar, box, bar.start)
    role = "chore" if is_chore else bar.kind
    pattern = bar.pattern if is_chore else "solid"
    canvas.rect(box, role, BAR, pattern=pattern, round_by=2.0, of=bar)
    lines = _inside(canvas, bar)
    sole = SOLE * canvas.scale if bar.kind == "stage" and bar.pattern != "solid" else 0.0
    if sole:
        foot = (x0 + 1, level + half - sole, x1 - 1, level + half - 1)
        canvas.rect(foot, "sole", BAR, pattern=bar.pattern, of=bar)
    for number, line in enumerate(lines if not is_chore else []):
        y = level - sole / 2 + (number - (len(lines) - 1) / 2) * 12 * canvas.scale + 0.36 * canvas.small
        canvas.label(x0 + 5 * canvas.scale, y, line, f"{bar.kind} name", of=bar)


def _draw_others(canvas: Canvas, bars: Sequence[Bar], top: float) -> float:
    """Under the track, where the other plan has these stages at another time; gives back the lower edge."""
    shelf = Shelf(gap=1.0)
    for bar in bars:
        if bar.was is None:
            continue
        x0, x1 = (min(max(canvas.x(minute), canvas.margin), canvas.right) for minute in bar.was)
        row = shelf.put([(x0, x1)]) or 0
        y = top + canvas.gap(3) + row * (canvas.row + 2)
        canvas.rect((x0, y, x1, y + canvas.row), "other plan", STROKE, pattern="bare", of=bar)
        name = next((title for title in bar.titles[1:] if canvas.wide(title) + 7 <= x1 - x0), "")
        canvas.label(x0 + 4, y + 0.76 * canvas.row, name, "other plan name", of=bar)
    return top + (canvas.gap(3) + len(shelf.rows) * (canvas.row + 2) if shelf.rows else 0.0)


def _draw_flag(canvas: Canvas, flag: _Flag, bar_top: float) -> None:
    bar = flag.bar
    baseline = bar_top - canvas.gap(3) - flag.row * canvas.row - 0.26 * canvas.row
    told = f"{show_clock(bar.start)} {bar.titles[0]}"
    if flag.row < 0:
        sole = SOLE * canvas.scale if bar.pattern != "solid" else 0.0
        y = bar_top + canvas.bar / 2 - sole / 2 + 0.36 * canvas.small
        canvas.note(bar.start, flag.left, y, told, bar, anchor="middle")
        return
    stands_beside = bool(flag.text) and flag.staff < flag.left
    foot = baseline - 0.6 * canvas.small if stands_beside else baseline + 3
    if flag.text or flag.row:
        canvas.line((flag.staff, foot, flag.staff, bar_top), "staff", STROKE)
    if flag.text:
        canvas.label(flag.left, baseline, flag.text, "flag", of=bar)
    else:
        canvas.note(bar.start, flag.left, baseline, told, bar, anchor="start")
