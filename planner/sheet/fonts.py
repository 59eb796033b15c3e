"""The font of the printed sheets, and text prepared for it: escaped, in reading order, nothing left blank.

The bundled font draws Latin, Greek, Cyrillic, Hebrew, Arabic and more. Chinese, Japanese and Korean signs are set in
the fonts that PDF readers bring for them; of any other sign that the font lacks its number is printed.
"""

import unicodedata
from functools import cache
from itertools import groupby
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

from planner.resources import resource

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

REGULAR = "SheetRegular"
BOLD = "SheetBold"
NO_FONT = "none"

_EASTERN = {"han": "STSong-Light", "kana": "HeiseiKakuGo-W5", "hangul": "HYGothic-Medium"}


@cache
def register_fonts() -> "TTFont":
    """Make the fonts known to the PDF library; gives the regular one."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.cidfonts import UnicodeCIDFont
    from reportlab.pdfbase.ttfonts import TTFont

    regular = TTFont(REGULAR, str(resource("fonts", "DejaVuSansCondensed.ttf")))
    pdfmetrics.registerFont(regular)
    pdfmetrics.registerFont(TTFont(BOLD, str(resource("fonts", "DejaVuSansCondensed-Bold.ttf"))))
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)
    for name in _EASTERN.values():
        pdfmetrics.registerFont(UnicodeCIDFont(name))
    return regular


def markup(text: str) -> str:
    """The text as paragraph markup: escaped, in the order in which it is seen, each sign in a font that has it."""
    return "".join(
        escape(run) if font == REGULAR else f'<font name="{font}">{escape(run)}</font>' for font, run in runs(text)
    )


def runs(text: str, *, bold: bool = False) -> list[tuple[str, str]]:
    """The text in the order in which it is seen, cut into pieces of one font each, as (font, piece)."""
    register_fonts()
    own = BOLD if bold else REGULAR
    found: list[tuple[str, str]] = []
    for font, signs in groupby(in_sight_order(text), key=_stand_in):
        run = "".join(signs)
        found.append((font or own, run) if font != NO_FONT else (own, "".join(f"[U+{ord(s):04X}]" for s in run)))
    return found


def in_sight_order(text: str) -> str:
    """The text with letters joined and turned round where its script runs from right to left."""
    if not any(unicodedata.bidirectional(sign) in ("R", "AL") for sign in text):
        return text
    from arabic_reshaper import reshape
    from bidi import get_display

    return str(get_display(reshape(text)))


def _stand_in(sign: str) -> str:
    """The name of the font that must stand in for ours, "" when ours has the sign, `NO_FONT` when none does."""
    code = ord(sign)
    if code in register_fonts().face.charToGlyph:
        return ""
    if 0x3040 <= code <= 0x30FF:
        return _EASTERN["kana"]
    if 0xAC00 <= code <= 0xD7A3:
        return _EASTERN["hangul"]
    if 0x3000 <= code <= 0x9FFF or 0xFF00 <= code <= 0xFFEF:
        return _EASTERN["han"]
    return NO_FONT
