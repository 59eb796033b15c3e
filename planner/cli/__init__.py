"""The ``slackwater`` command: thin, and without Qt unless a window is asked for.

Each subcommand is a module of its own with ``add`` (its words) and ``run`` (what it does). ``main`` gives the exit
codes:

====  =====================================================================================
0     done; the day fits
1     a file cannot be read, is not right or cannot be written: each fault is named
2     the command's words are off
3     there is no plan: the facts that cannot hold together are named
4     there is a plan, but it ends past the latest finish
5     a plan breaks rules of its day
6     no plan was found in the time given
7     something must be answered first: each question is told with the words to answer it
130   stopped by the user
====  =====================================================================================
"""

import argparse
import io
import os
import signal
import sys
import threading
from collections.abc import Sequence
from importlib import import_module
from typing import Any

from planner import __version__
from planner.cli.saying import say
from planner.day.own_values import MEANWHILE, what_does_not_hold

COMMANDS = ("plan", "fit", "check", "now", "sheet", "export", "pace", "quote", "take-in", "schema", "open")
"""The subcommands, in the order in which help lists them; each is a module of this package, with ``_`` for ``-``."""

DONE, FAULTY, MISUSED, NO_PLAN, LATE, BROKEN, NOT_FOUND, ASKED, STOPPED = 0, 1, 2, 3, 4, 5, 6, 7, 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; the value is its exit code."""
    try:
        return _run(arguments)
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return STOPPED


def _run(arguments: Sequence[str] | None) -> int:
    words = list(sys.argv[1:] if arguments is None else arguments)
    _print_what_can_be()
    if not words:
        return _window([])
    parser = _parser(words)
    asked = parser.parse_args(words)
    asked.words = words
    try:
        _say_what_does_not_hold(asked.command)
        code: int = _module(asked.command).run(asked)
        sys.stdout.flush()
    except (BrokenPipeError, SystemExit):  # who read our print, `head` say, has enough; rich makes an exit of it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return STOPPED
    except MemoryError:
        print("There was not enough memory; close other programs and try again.", file=sys.stderr)
        return FAULTY
    except OSError as fault:
        if fault.filename is not None:
            say(f"{fault.filename}: {fault.strerror or fault}", is_fault=True)
            return FAULTY
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # else the end of Python tries once more
        print(f"The result cannot be printed: {fault.strerror or fault}.", file=sys.stderr)
        return FAULTY
    except Exception as fault:
        if not getattr(fault, "is_told", False):  # one of ours has a text that is written for the user
            raise
        say(fault, is_fault=True)
        return getattr(fault, "code", FAULTY)
    return code


def _print_what_can_be() -> None:
    """Let a terminal that lacks a letter of somebody's name show a question mark there, and not stop us.

    Where there is no terminal at all, or one without a width, words go nowhere, or to lines of the usual width.
    """
    if sys.stdout is None:  # closed by whoever started us
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115
    if not os.environ.get("COLUMNS", "80").isdecimal() or not 20 <= int(os.environ.get("COLUMNS", "80")) <= 10_000:
        del os.environ["COLUMNS"]
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _say_what_does_not_hold(command: str) -> None:
    """Tell of slips in the user's own values of the trade, which keep nobody from working."""
    if command in ("schema", "open"):  # the one needs none of them, the other tells in its window
        return
    faults = what_does_not_hold()
    for fault in faults:
        say(fault, is_fault=True)
    if faults:
        say(f"In place of your own values {MEANWHILE}.", is_fault=True)


def _module(command: str) -> Any:
    """The module of a command. While it is loaded Ctrl+C ends us at once: what is half loaded may not hear it."""
    before = signal.getsignal(signal.SIGINT)
    is_heard = before is signal.default_int_handler and threading.current_thread() is threading.main_thread()
    if is_heard:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    try:
        return import_module(f"planner.cli.{command.replace('-', '_')}")
    finally:
        if is_heard:
            signal.signal(signal.SIGINT, before)


def _parser(words: Sequence[str]) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="slackwater",
        description="Plans a working day of outside cleaning and repair around its waits and its ways in. "
        "Without a command it opens the window.",
        epilog="Exit codes: 0 done, 1 a file is at fault, 2 wrong use, 3 no plan exists, 4 the day does not fit, "
        "5 a plan breaks rules, 6 none found in time, 7 something must be answered first.",
    )
    parser.add_argument("--version", action="version", version=f"slackwater {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    wanted = [w for w in words if w in COMMANDS][:1] or list(COMMANDS)
    for name in COMMANDS if "-h" in words or "--help" in words else wanted:
        _module(name).add(commands)
    return parser


def _window(paths: list[str]) -> int:
    from planner.desktop import main as open_window

    return open_window(paths)
