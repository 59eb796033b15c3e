"""Below the picture: what its patterns and strokes say, in a line or two. Names are beside their things."""

from planner.sheet.chart.canvas import BAR, Canvas
from planner.sheet.chart.shapes import Path, Pattern, Rect

KEY: tuple[tuple[str, Pattern, str], ...] = (
    ("sole", "dots", "makes dust"),
    ("sole", "hatch", "spray or rinse"),
    ("sole", "cross", "chemical"),
    ("chore", "rise", "set up"),
    ("chore", "fall", "pack down"),
    ("waves", "waves", "wait, filled"),
    ("bare pool", "bare", "wait, bare"),
    ("restricted crossing arrow", "solid", "restricted crossing, loaded"),
    ("restricted crossing empty arrow", "bare", "restricted crossing, empty-handed"),
    ("crossing arrow", "solid", "crossing"),
    ("other plan", "bare", "the other plan"),
    ("shade: quiet", "fall", "quiet hours"),
    ("shade: rain", "rise", "rain likely"),
    ("shade: daylight", "dots", "dark"),
)
"""Role, pattern and words of what may need explaining."""


def draw_legend(canvas: Canvas, top: float, width: float) -> float:
    """Draw the key under ``top`` in so much width, pinned to the left; gives back the lower edge.

    A brief picture has none: what its patterns say is in the order of the day beside it.
    """
    if canvas.brief:
        return top
    used = {(s.role, s.pattern) for s in canvas.shapes if isinstance(s, Rect | Path)}
    return _draw_key(canvas, [entry for entry in KEY if entry[:2] in used], top + canvas.gap(8), width)


def _draw_key(canvas: Canvas, entries: list[tuple[str, Pattern, str]], top: float, width: float) -> float:
    """A sample and its words for each pattern in use, in as many rows as it takes."""
    pad, sample = 10 * canvas.scale, 20 * canvas.scale
    x, y = pad, top
    for role, pattern, text in entries:
        wide = sample + 5 + canvas.wide(text) + 18 * canvas.scale
        if x + wide > width and x > pad:
            x, y = pad, y + canvas.row * 1.3
        middle = y + canvas.row * 0.5
        if "arrow" in role:
            half = 4.5 * canvas.scale
            points = [(x + sample / 2 - half, middle - half), (x + sample / 2 + half, middle - half)]
            points.append((x + sample / 2, middle + half))
            canvas.path(points, role, BAR, closed=True, pattern=pattern, pinned="left")
        else:
            box = (x, middle - 4 * canvas.scale, x + sample, middle + 4 * canvas.scale)
            canvas.rect(box, role, BAR, pattern=pattern, pinned="left")
        canvas.label(x + sample + 5, middle + 0.35 * canvas.small, text, "key", pinned="left")
        x += wide
    return y + canvas.row * 1.3 + canvas.gap(4) if entries else top
