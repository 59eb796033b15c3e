"""The threshold chart as SVG: one picture that stands alone, with its words for those who do not see it.

The format is Scalable Vector Graphics 1.1 of the W3C; roles are named by WAI-ARIA 1.2 and its graphics module 1.0.
"""

from functools import singledispatch
from xml.sax.saxutils import escape, quoteattr

from planner.sheet.chart import THEMES, Chart, Ink, Label, Line, Path, Rect, Shape, Theme

FONTS = "'Segoe UI', 'Helvetica Neue', Arial, 'DejaVu Sans', sans-serif"
"""Faces of about the width that texts are measured with."""

TILE = 6
"""Width and height of one tile of a pattern, in pixels."""

STROKES = {
    "hatch": "M0 6L6 0M-1 1L1 -1M5 7L7 5",
    "rise": "M0 6L6 0M-1 1L1 -1M5 7L7 5",
    "fall": "M0 0L6 6M-1 5L1 7M5 -1L7 1",
    "cross": "M0 0L6 6M0 6L6 0",
    "waves": "M0 4Q1.5 2.5 3 4T6 4",
}
"""What each pattern draws in a tile; dots are a filled circle."""


def chart_svg(picture: Chart, theme: Theme | str = "light") -> str:
    """The picture as the text of an SVG file, in a theme or the one of that name in `planner.sheet.chart.THEMES`."""
    inks = (THEMES[theme] if isinstance(theme, str) else theme).scaled(picture.scale)
    width, height = _n(picture.width), _n(picture.height)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}" role="graphics-document document" '
        f'aria-labelledby="chart-title chart-words" font-family={quoteattr(FONTS)}>',
        f'<title id="chart-title">{_text(picture.title)}</title>',
        f'<desc id="chart-words">{_text(" ".join(picture.summary))}</desc>',
        f"<defs>{''.join(_patterns(picture, inks))}</defs>",
        f'<rect width="{width}" height="{height}" fill="{inks.colour("paper")}"/>',
        *_shapes(picture, inks),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _shapes(picture: Chart, theme: Theme) -> list[str]:
    """All shapes, from back to front; what stands for something says so to a screen reader."""
    drawn = []
    for shape in picture.shapes:
        body = _draw(shape, theme)
        if shape.about:
            label = _text(shape.words or " ".join(str(part) for part in shape.about))
            drawn.append(f'<g role="graphics-symbol img"><title>{label}</title>{body}</g>')
        elif shape.words and not isinstance(shape, Label):
            drawn.append(f"<g><title>{_text(shape.words)}</title>{body}</g>")
        else:
            drawn.append(body)
    return drawn


def _patterns(picture: Chart, theme: Theme) -> list[str]:
    """A tile for each pair of role and pattern in use."""
    used = {(s.role, s.pattern) for s in picture.shapes if isinstance(s, Rect | Path) and _is_tiled(s)}
    tiles = []
    for role, pattern in sorted(used):
        ink = theme.ink(role)
        back = f'<rect width="{TILE}" height="{TILE}" fill="{ink.fill}"/>' if ink.fill else ""
        if pattern == "dots":
            mark = "".join(f'<circle cx="{c}" cy="{c}" r="0.9" fill="{ink.stroke}"/>' for c in (1.5, 4.5))
        else:
            mark = f'<path d="{STROKES[pattern]}" stroke="{ink.stroke}" stroke-width="0.8" fill="none"/>'
        size = f'width="{TILE}" height="{TILE}" patternUnits="userSpaceOnUse"'
        turn = f' patternTransform="scale({_n(picture.scale)})"' if picture.scale != 1 else ""
        tiles.append(f'<pattern id="{_tile(role, pattern)}" {size}{turn}>{back}{mark}</pattern>')
    return tiles


def _is_tiled(shape: Rect | Path) -> bool:
    return shape.pattern not in ("solid", "bare") and not (isinstance(shape, Path) and not shape.closed)


def _tile(role: str, pattern: str) -> str:
    return "".join(sign if sign.isalnum() else "-" for sign in f"{role}-{pattern}")


def _fill(shape: Rect | Path, ink: Ink) -> str:
    if isinstance(shape, Path) and not shape.closed:
        return 'fill="none"'
    if _is_tiled(shape):
        return f'fill="url(#{_tile(shape.role, shape.pattern)})"'
    return f'fill="{ink.fill or "none"}"'


def _stroke(ink: Ink) -> str:
    if not ink.stroke or not ink.edge:
        return ""
    dash = f' stroke-dasharray="{" ".join(_n(part) for part in ink.dash)}"' if ink.dash else ""
    return f' stroke="{ink.stroke}" stroke-width="{_n(ink.width)}"{dash}'


@singledispatch
def _draw(shape: Shape, theme: Theme) -> str:
    raise TypeError(f"{type(shape).__name__} is no shape that can be drawn")


@_draw.register
def _(shape: Rect, theme: Theme) -> str:
    ink = theme.ink(shape.role)
    corner = f' rx="{_n(shape.round)}"' if shape.round else ""
    place = f'x="{_n(shape.x)}" y="{_n(shape.y)}" width="{_n(shape.width)}" height="{_n(shape.height)}"{corner}'
    return f"<rect {place} {_fill(shape, ink)}{_stroke(ink)}/>"


@_draw.register
def _(shape: Line, theme: Theme) -> str:
    place = f'x1="{_n(shape.x1)}" y1="{_n(shape.y1)}" x2="{_n(shape.x2)}" y2="{_n(shape.y2)}"'
    return f"<line {place}{_stroke(theme.ink(shape.role))}/>"


@_draw.register
def _(shape: Path, theme: Theme) -> str:
    ink = theme.ink(shape.role)
    steps = " L".join(f"{_n(x)} {_n(y)}" for x, y in shape.points)
    end = "Z" if shape.closed else ""
    return f'<path d="M{steps}{end}" {_fill(shape, ink)}{_stroke(ink)} stroke-linejoin="round"/>'


@_draw.register
def _(shape: Label, theme: Theme) -> str:
    ink = theme.ink(shape.role)
    weight = ' font-weight="bold"' if shape.bold else ""
    anchor = f' text-anchor="{shape.anchor}"' if shape.anchor != "start" else ""
    place = f'x="{_n(shape.x)}" y="{_n(shape.y)}" font-size="{_n(shape.size)}"'
    return f'<text {place}{anchor}{weight} fill="{ink.fill}">{_text(shape.text)}</text>'


def _n(number: float) -> str:
    """A number as short as it can be."""
    return f"{number:.2f}".rstrip("0").rstrip(".")


def _text(text: str) -> str:
    """A text made harmless: markup escaped, signs that XML 1.0 does not allow left out."""
    return escape("".join(sign for sign in text if _is_allowed(ord(sign))))


def _is_allowed(code: int) -> bool:
    """Whether XML 1.0 (section 2.2, Char) allows a sign."""
    return code in (0x9, 0xA) or 0x20 <= code < 0xD800 or 0xE000 <= code < 0xFFFE or code >= 0x10000
