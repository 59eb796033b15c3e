"""Signs that are no part of a text: orders to a terminal, and those that turn the reading direction."""

import unicodedata

_TURNING = set("\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")
"""Marks, embeddings, overrides and isolates (Unicode Standard Annex 9), and the mark of byte order."""


def is_an_order(sign: str) -> bool:
    """Whether a sign does something instead of being read; the end of a line is one too."""
    return unicodedata.category(sign) in ("Cc", "Cs") or sign in _TURNING
