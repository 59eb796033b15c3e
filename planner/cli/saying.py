"""Words that came from a file, printed so that they are words and nothing else.

A terminal takes some signs for orders: to clear itself, to change its title, to write from right to left.
"""

import sys
import unicodedata

_TURNING = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
"""Bidirectional classes of the signs that turn the reading direction (Unicode Standard Annex 9)."""


def harmless(text: str) -> str:
    """The text without control signs, but for the end of a line, and without signs that turn the reading direction."""
    return "".join(sign for sign in text if sign == "\n" or not _is_an_order(sign))


def say(text: object, *, is_fault: bool = False) -> None:
    """Print a line; a fault, or what else is not the result, on the error stream."""
    print(harmless(str(text)), file=sys.stderr if is_fault else sys.stdout)


def _is_an_order(sign: str) -> bool:
    return unicodedata.category(sign) in ("Cc", "Cs") or unicodedata.bidirectional(sign) in _TURNING
