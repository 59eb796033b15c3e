"""Texts that take for ever, or all memory, where a reader goes over them again and again."""

from collections.abc import Callable

N = 20_000

ENDLESS: dict[str, Callable[[str], str]] = {
    "blank lines": lambda day: day + "\n" * 5 * N,
    "blank lines first": lambda day: "\n" * 5 * N + day,
    "blanks": lambda day: day + " " * 5 * N,
    "remarks": lambda day: day + "# remark\n" * 5 * N,
    "unknown words": lambda day: "".join(f"k{n} = 1\n" for n in range(N)) + day,
    "unknown tables": lambda day: day + "".join(f"[k{n}]\n" for n in range(N)),
    "list of tables": lambda day: day + "[[jobs.elm.waits]]\n" * N,
    "deep bare name": lambda day: day + "a." * N + "a = 1\n",
    "deep quoted name": lambda day: day + '"a".' * N + "a = 1\n",
    "deep escaped name": lambda day: day + r'"a\"b".' * N + "a = 1\n",
    "deep literal name": lambda day: day + "[" + "'a b' . " * N + "a]\n",
    "deep inline name": lambda day: day + "x = {" + "a." * N + "a = 1}\n",
    "deep name in a list": lambda day: day + "x = [{" + "'a'." * N + "a = 1}]\n",
    "deep lists": lambda day: day + "x = " + "[" * 5 * N,
    "deep tables": lambda day: day + "x = " + "{a=" * 5 * N,
    "open text": lambda day: day + 'x = """' + '"" ' * 5 * N,
    "open texts with strokes": lambda day: day + 'x = "' + '\\"' * 5 * N,
    "open literal": lambda day: day + "x = '''" + "'' " * 5 * N,
    "one long word": lambda day: day + "a" * 50 * N,
    "one long number": lambda day: day + "x = " + "9" * 50 * N,
    "many dots": lambda day: day + "x = 1" + ".1" * 5 * N,
    "many signs": lambda day: day + "=" * 50 * N,
    "a long title": lambda day: day.replace('title = "', 'title = "' + "x" * 50 * N, 1),
    "a long list": lambda day: day + "x = [" + "1, " * 10 * N + "]\n",
}

READING = """
import sys
from pathlib import Path
from planner.day.faults import DayFaults
from planner.day.reading import read_day
from planner.desktop.model.draft import Draft
path = Path(sys.argv[1])
try:
    day = read_day(path)
    print("read")
except DayFaults as faults:
    print(faults.faults[0])
Draft(path.read_text(encoding="utf-8"), path).tables
"""
"""Reads a day file as a command and as the window does."""
