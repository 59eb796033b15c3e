"""A hand's track in a zone: bars on the path, each with its name in it, over it on a staff, or by number."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.sheet.chart.canvas import BAR, STROKE, Canvas
from planner.sheet.chart.reading import Bar
from planner.sheet.chart.shelf import Interval, Shelf
from planner.trade.units import show_clock

SOLE = 5
"""Height of the patterned foot of a stage's bar, in pixels at scale 1."""


@dataclass(frozen=True, slots=True)
class _Flag:
    """A name over a bar, in a row counted from the bar upward; an empty text stands for a number."""

    bar: Bar
    row: int
    text: str
    back: float = 0.0


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
    return level, bar_top + canvas.bar


def _flags(canvas: Canvas, bars: Sequence[Bar], strokes: Sequence[Interval]) -> list[_Flag]:
    """The bars whose name does not lie in them, from right to left so that staffs pass beside later names."""
    shelf, flags = Shelf(canvas.density.label_rows, strokes), []
    numbers = canvas.number_width()
    for bar in sorted(bars, key=lambda b: b.start, reverse=True):
        if bar.kind not in ("stage", "break") or _inside(canvas, bar):
            continue
        left = canvas.x(bar.start)
        staff = (left - 1, left + 1)
        shelf.most = canvas.density.label_rows
        for title in dict.fromkeys(bar.titles[1:]):
            text = (left + 5, left + 5 + canvas.wide(title))
            if text[1] > canvas.right:
                continue
            row = shelf.put_flag(text, staff)
            if row is not None:
                flags.append(_Flag(bar, row, title))
                break
        else:
            if canvas.x(bar.end) - left < numbers:
                shelf.most = None
                flags.append(_number_flag(shelf, bar, left, numbers))
            else:
                flags.append(_Flag(bar, -1, ""))
    return flags


def _number_flag(shelf: Shelf, bar: Bar, left: float, wide: float) -> _Flag:
    """A number over a bar, moved to the left until it stands free of what passes there."""
    for back in range(0, int(wide) + 1, 2):
        row = shelf.put_flag((left - back, left - back + wide), (left - 1, left + 1))
        if row is not None:
            return _Flag(bar, row, "", back)
    return _Flag(bar, shelf.put([(left, left + wide)]) or 0, "")


def _inside(canvas: Canvas, bar: Bar) -> list[str]:
    """The longest name that lies in the bar, in one row or two; none if none does."""
    room = canvas.x(bar.end) - canvas.x(bar.start) - 8 * canvas.scale
    for title in bar.titles:
        if canvas.wide(title) <= room:
            return [title]
        if bar.kind == "stage":
            first, second = _halves(canvas, title)
            if second and max(canvas.wide(first), canvas.wide(second)) <= room:
                return [first, second]
    return []


def _halves(canvas: Canvas, title: str) -> tuple[str, str]:
    """A name broken between two words so that the wider half is as narrow as can be; the second may be empty."""
    words = title.split(" ")
    breaks = [(" ".join(words[:count]), " ".join(words[count:])) for count in range(1, len(words))]
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
    if bar.was is not None:
        _draw_was(canvas, bar, level + half)
    for number, line in enumerate(lines if not is_chore else []):
        y = level - sole / 2 + (number - (len(lines) - 1) / 2) * 12 * canvas.scale + 0.36 * canvas.small
        canvas.label(x0 + 5 * canvas.scale, y, line, f"{bar.kind} name", of=bar)


def _draw_was(canvas: Canvas, bar: Bar, foot: float) -> None:
    """A hollow mark under the path where the stage starts in the other plan."""
    if bar.was is not None:
        x = min(max(canvas.x(bar.was), canvas.margin), canvas.right)
        now = canvas.x(bar.start)
        canvas.line((x, foot + 3, now, foot + 3), "other plan", STROKE, of=bar)
        canvas.rect((x - 2, foot + 1, x + 2, foot + 5), "other plan", STROKE, pattern="bare", of=bar)


def _draw_flag(canvas: Canvas, flag: _Flag, bar_top: float) -> None:
    bar, left = flag.bar, canvas.x(flag.bar.start)
    baseline = bar_top - canvas.gap(3) - flag.row * canvas.row - 0.26 * canvas.row
    told = f"{show_clock(bar.start)} {bar.titles[0]}"
    if flag.row < 0:
        middle = (left + canvas.x(bar.end)) / 2
        sole = SOLE * canvas.scale if bar.pattern != "solid" else 0.0
        y = bar_top + canvas.bar / 2 - sole / 2 + 0.36 * canvas.small
        canvas.note(bar.start, middle, y, told, bar, anchor="middle")
        return
    if not flag.text:
        canvas.note(bar.start, left - flag.back, baseline, told, bar, anchor="start")
        if flag.row:
            canvas.line((left, baseline + 3, left, bar_top), "staff", STROKE)
        return
    canvas.line((left + 0.5, baseline - 0.6 * canvas.small, left + 0.5, bar_top), "staff", STROKE)
    canvas.label(left + 5, baseline, flag.text, "flag", of=bar)
