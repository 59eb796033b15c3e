"""``slackwater sheet FILE -o OUT``: the run sheet, or the customers' slips, as HTML or PDF."""

import argparse
from pathlib import Path
from typing import Any

from rich.console import Console

from planner.cli import settling
from planner.cli.kept_day import shown_day
from planner.cli.on_terminal import verdict_line
from planner.cli.outputs import add_force, check_output
from planner.sheet.export import export


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "sheet",
        help="write the run sheet, or the customers' slips",
        description="Write the run sheet of a day (its plan is the one kept beside it, or is made now).",
    )
    settling.add_day(parser)
    settling.add_planning(parser)
    add_output(parser, "the file to write, .pdf or .html")
    parser.add_argument("--slips", action="store_true", help="write the customers' slips instead")
    parser.add_argument("--with-price", action="store_true", help="with --slips: tell the price")
    parser.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="paper size (default %(default)s)")


def add_output(parser: argparse.ArgumentParser, what: str) -> None:
    """Where to write, and which plan."""
    parser.add_argument("-o", "--out", type=Path, required=True, metavar="OUT", help=what)
    parser.add_argument("--plan", type=Path, metavar="PLAN", help="a plan of the day (JSON) to use")
    add_force(parser)


def run(asked: argparse.Namespace) -> int:
    """Write the document."""
    check_output(asked.out, asked)
    console = Console(stderr=True)
    shown = shown_day(asked, console)
    day, plan = shown.day, shown.plan
    written = export(
        day,
        plan,
        asked.out,
        "slip" if asked.slips else "sheet",
        paper=asked.paper,
        verdict=verdict_line(day, plan),
        with_price=asked.with_price,
    )
    for path in written:
        print(path)
    return shown.code
