"""How wide a text is, so that what is drawn never overlaps and is never cut."""

from collections.abc import Callable
from functools import lru_cache

Measure = Callable[[str, float, bool], float]
"""Width in pixels of a text at a size in pixels, bold or not."""

# Widths of the signs from space to tilde in hundredths of the size, as of DejaVu Sans (its own metrics). It is one of
# the widest of the plain faces, so a text that fits by this table fits in the others too.
_FIRST = 32
_WIDTHS = (
    32, 40, 46, 84, 64, 95, 78, 27, 39, 39, 50, 84, 32, 36, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34,
    84, 84, 84, 53, 100, 68, 69, 70, 77, 63, 58, 77, 75, 29, 29, 66, 56, 86, 75, 79, 60, 79, 69, 63, 61, 73, 68, 99,
    69, 61, 69, 39, 34, 39, 84, 50, 50, 61, 63, 55, 63, 62, 35, 63, 63, 28, 28, 58, 28, 97, 63, 61, 63, 63, 41, 52,
    39, 63, 59, 82, 59, 59, 52, 64, 34, 64, 84,
)  # fmt: skip
_OTHER = 66  # accented letters are as wide as the plain ones
_WIDE = 100  # ellipsis, arrows, and the scripts from Hangul on
_BOLD = 1.14


def table_measure(text: str, size: float, bold: bool = False) -> float:
    """The width of a text by a table of letter widths; no font is needed."""
    return _hundredths(text) * size / 100 * (_BOLD if bold else 1.0)


@lru_cache(8192)
def _hundredths(text: str) -> int:
    return sum(_width(ord(sign)) for sign in text)


def _width(code: int) -> int:
    if _FIRST <= code < _FIRST + len(_WIDTHS):
        return _WIDTHS[code - _FIRST]
    return _OTHER if code < 0x1100 else _WIDE


def elided(text: str, room: float, size: float, measure: Measure, *, bold: bool = False) -> str:
    """The text, shortened with an ellipsis to the room there is; empty when not even three letters fit."""
    if measure(text, size, bold) <= room:
        return text
    for length in range(len(text) - 1, 2, -1):
        shorter = text[:length].rstrip() + "…"
        if measure(shorter, size, bold) <= room:
            return shorter
    return ""


def wrapped(text: str, room: float, size: float, measure: Measure, *, lines: int, bold: bool = False) -> list[str]:
    """The text broken between words into at most so many lines, the last one shortened if it must be."""
    done: list[str] = []
    words = text.split(" ")
    while words and len(done) < lines - 1:
        count = len(words)
        while count > 1 and measure(" ".join(words[:count]), size, bold) > room:
            count -= 1
        done.append(elided(" ".join(words[:count]), room, size, measure, bold=bold))
        words = words[count:]
    if words:
        done.append(elided(" ".join(words), room, size, measure, bold=bold))
    return [line for line in done if line]
