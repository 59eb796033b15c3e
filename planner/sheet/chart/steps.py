"""Crossings: strokes through a threshold, and what is carried, told on the doorstep."""

from collections.abc import Sequence

from planner.sheet.chart.canvas import STROKE, Canvas
from planner.sheet.chart.shelf import Interval, Shelf
from planner.sheet.chart.things import Tread

CLEAR = 9
"""Room beside a stroke for its arrow, in pixels at scale 1."""


LOAD_ROWS = 3
"""In how many rows loads are told; of those that find no room the order of the day tells."""


def legs_above(canvas: Canvas, steps: Sequence[Tread]) -> list[Interval]:
    """Where the walks of these crossings lie between the van and the threshold."""
    return [_halves(canvas, leg, is_in=is_in)[0] for step in steps for is_in, leg in _both(step)]


def legs_below(canvas: Canvas, steps: Sequence[Tread]) -> list[Interval]:
    """Where the walks of these crossings lie between the threshold and the ground."""
    return [_halves(canvas, leg, is_in=is_in)[1] for step in steps for is_in, leg in _both(step)]


def _both(step: Tread) -> tuple[tuple[bool, Interval], tuple[bool, Interval]]:
    walk_in, walk_out = step.legs
    return (True, walk_in), (False, walk_out)


def _halves(canvas: Canvas, leg: Interval, *, is_in: bool) -> tuple[Interval, Interval]:
    start, middle, end = canvas.x(leg[0]), canvas.x(sum(leg) / 2), canvas.x(leg[1])
    first, second = (start - 1, middle + 1), (middle - 1, end + 1)
    return (first, second) if is_in else (second, first)


def draw_numbers(canvas: Canvas, steps: Sequence[Tread], passing: Sequence[Interval], top: float) -> float:
    """Number the crossings under the threshold as the order of the day does; gives back the lower edge."""
    arrow = 6 * canvas.scale
    middles = [canvas.x(sum(leg) / 2) for step in steps for leg in step.legs]
    shelf = Shelf(None, [*passing, *((middle - arrow, middle + arrow) for middle in middles)], gap=6.0)
    for near in _near_each_other(canvas, sorted(steps, key=lambda s: s.start), arrow):
        first, last = near[0], near[-1]
        text = str(first.number) if first is last else f"{first.number}–{last.number}"
        wide = canvas.wide(text, bold=True)
        sides = (_right_of(canvas, last) + arrow + 7, canvas.x(sum(first.legs[0]) / 2) - arrow - 7 - wide)
        rows = [(shelf.free_row([], [(left, left + wide)]), left) for left in sides]
        row, left = min(((row, left) for row, left in rows if row is not None), default=(1, sides[0]))
        shelf.take((left, left + wide), row)
        canvas.label(left, top + (row + 0.76) * canvas.row, text, "number", bold=True, of=first)
    return top + len(shelf.rows) * canvas.row


def _near_each_other(canvas: Canvas, steps: Sequence[Tread], arrow: float) -> list[list[Tread]]:
    """Crossings with no room between them for a number, together; they are numbered as one: "3–5"."""
    found: list[list[Tread]] = []
    for step in steps:
        room = canvas.wide("00–00", bold=True) + 2 * (arrow + 7)
        if found and canvas.x(sum(step.legs[0]) / 2) - _right_of(canvas, found[-1][-1]) < room:
            found[-1].append(step)
        else:
            found.append([step])
    return found


def _right_of(canvas: Canvas, step: Tread) -> float:
    """Where the arrow of the way in stands; that of the way out, where it comes soon after."""
    way_in, way_out = (canvas.x(sum(leg) / 2) for leg in step.legs)
    return way_out if way_out - way_in < canvas.wide("00–00", bold=True) * 2 else way_in


def draw_doorstep(canvas: Canvas, steps: Sequence[Tread], passing: Sequence[Interval], top: float) -> float:
    """Tell under the threshold what each crossing carries in and out; gives back the lower edge."""
    arrow = 6 * canvas.scale
    middles = [canvas.x(sum(leg) / 2) for step in steps for leg in step.legs]
    arrows = [(middle - arrow, middle + arrow) for middle in middles]
    shelf = Shelf(LOAD_ROWS, [*passing, *legs_below(canvas, steps), *arrows], gap=2.0)
    for step in sorted(steps, key=lambda s: s.start):
        clear = CLEAR * canvas.scale
        walk_in, walk_out = step.legs
        left = max(canvas.x(sum(walk_in) / 2) + clear, canvas.x(walk_in[1]) + 5)
        right = min(canvas.x(sum(walk_out) / 2) - clear, canvas.x(walk_out[0]) - 5)
        _write_load(canvas, shelf, step, step.carried_in, left, top, is_in=True)
        _write_load(canvas, shelf, step, step.carried_out, right, top, is_in=False)
    return top + len(shelf.rows) * canvas.row


def _write_load(
    canvas: Canvas, shelf: Shelf, step: Tread, loads: tuple[str, ...], edge: float, top: float, *, is_in: bool
) -> None:
    """Write a load in the first row where it fits, shorter and shorter; at last only its arrow tells of it."""
    for load in _load_texts(loads):
        text = f"{'in' if is_in else 'out'} {load}"
        wide = canvas.wide(text)
        left = edge if is_in else edge - wide
        row = shelf.put([], [(left, left + wide)])
        if row is not None:
            y = top + (row + 0.76) * canvas.row
            canvas.label(left, y, text, "load", of=step)
            return


def _load_texts(loads: tuple[str, ...]) -> list[str]:
    """A load, shorter and shorter: all of it, then the first things and how many more, then how many."""
    if not loads:
        return []
    whole = ", ".join(loads)
    shorter = [f"{', '.join(loads[:count])} +{len(loads) - count}" for count in range(len(loads) - 1, 0, -1)]
    return [whole, *shorter, f"{len(loads)}"]


def draw_strokes(canvas: Canvas, steps: Sequence[Tread], threshold: float) -> None:
    """Draw each crossing's two strokes through the threshold, with an arrow that is filled when loaded."""
    reach = canvas.scale * 10
    for step in steps:
        role = "restricted crossing" if step.restricted else "crossing"
        for (start, end), loads, way in zip(step.legs, (step.carried_in, step.carried_out), (1, -1), strict=True):
            x = canvas.x((start + end) / 2)
            canvas.line((x, threshold - reach, x, threshold + reach), role, STROKE, of=step)
            tip, half = threshold + way * (reach + 3), 4.5 * canvas.scale
            back = tip - way * 7 * canvas.scale
            canvas.path(
                [(x - half, back), (x + half, back), (x, tip)],
                f"{role} arrow" if loads else f"{role} empty arrow",
                STROKE,
                closed=True,
                pattern="solid" if loads else "bare",
                of=step,
            )
        first, last = canvas.x(step.legs[0][0]), canvas.x(step.legs[1][1])
        canvas.item(step, (first, threshold - reach, last, threshold + reach), step.start)
