"""Names of very many parts in a TOML text: the standard reader's time and memory grow with the square of them."""

import re

MOST_PARTS = 32
"""A dotted name of more parts is not read."""

_PIECE = re.compile(
    r'''"""(?:[^"\\]++|\\.|"(?!""))*+(?:"""|\Z)|"(?:[^"\\\n]++|\\.)*+(?:"|(?=\n)|\Z)'''
    r"""|'{3}(?:[^']++|'(?!''))*+(?:'{3}|\Z)|'[^'\n]*+(?:'|(?=\n)|\Z)|\#[^\n]*+|[.\n=,\[\]{}]""",
    re.DOTALL,
)
"""A text, a remark, or a sign that stands in neither. Every piece is gone over once, whatever the file holds."""


def line_of_a_deep_name(text: str) -> int | None:
    """The line on which a dotted name gets too many parts; None when no name does."""
    dots = 0
    for piece in _PIECE.finditer(text):
        sign = piece[0]
        if sign == ".":
            dots += 1
            if dots >= MOST_PARTS:
                return text.count("\n", 0, piece.end()) + 1
        elif sign in "\n=,[]{}":
            dots = 0
    return None
