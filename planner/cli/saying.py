"""Words that came from a file, printed so that they are words and nothing else.

A terminal takes some signs for orders: to clear itself, to change its title, to write from right to left.
"""

import sys

from planner.day.signs import is_an_order


def harmless(text: str) -> str:
    """The text without control signs, but for the end of a line, and without signs that turn the reading direction."""
    return "".join(sign for sign in text if sign == "\n" or not is_an_order(sign))


def say(text: object, *, is_fault: bool = False) -> None:
    """Print a line; a fault, or what else is not the result, on the error stream."""
    print(harmless(str(text)), file=sys.stderr if is_fault else sys.stdout)
