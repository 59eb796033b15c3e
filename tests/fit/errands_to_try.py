"""Errands for the tests of processes side by side, done by ``python -m tests.fit.errands_to_try``."""

import os
import time

from planner.fit.errands import serve


def doubled(number: int) -> int:
    """Twice as much."""
    return 2 * number


def crashing() -> None:
    """End the process at once."""
    os._exit(7)


def failing() -> None:
    """Raise a fault in words."""
    raise ValueError("the tap is dry")


def sleeping() -> None:
    """Give no answer."""
    time.sleep(600)


def chatting() -> str:
    """Print where the answers go, as a library might."""
    print("so many threads")
    os.write(1, b"and more\n")
    return "done"


def giving_no_data() -> object:
    """Give what is no plain data."""
    return object()


if __name__ == "__main__":
    serve("tests")
