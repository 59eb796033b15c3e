"""``slackwater plan FILE``: plan a day and print it."""

import argparse
from pathlib import Path
from typing import Any

from rich.console import Console

from planner import cli
from planner.cli import settling
from planner.cli.on_terminal import harmless_text, print_plan


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "plan",
        help="plan a day and print it",
        description="Plan a day: verdict, each hand's order, what every crossing carries, waits and what fills them.",
    )
    settling.add_day(parser)
    settling.add_planning(parser)
    parser.add_argument("--json", type=Path, metavar="OUT", help="write the plan as JSON too ('-' prints only that)")
    parser.add_argument("--keep", action="store_true", help="keep the plan beside the day, for the other commands")


def run(asked: argparse.Namespace) -> int:
    """Plan and print; the exit code says whether the day fits."""
    only_json = asked.json is not None and str(asked.json) == "-"
    console = Console(stderr=only_json, highlight=False, soft_wrap=False)
    day = settling.day_of(asked)
    result = settling.planned(day, asked, console)
    if result.plan is None:
        console.print(harmless_text(result.summary()))
        return cli.NO_PLAN if result.is_impossible else cli.NOT_FOUND
    plan = result.plan
    kept = settling.plan_path(asked.file) if asked.keep else None
    try:
        for path in (kept, None if only_json else asked.json):  # first of all: whoever reads the print may have enough
            if path is not None:
                settling.save_plan(day, plan, path)
    finally:  # a plan that cannot be kept is not lost: it is printed
        if only_json:
            from planner.plan.plan_file import plan_to_json

            print(plan_to_json(plan, day))
        else:
            print_plan(console, day, plan)
    if kept is not None:
        console.print(f"Kept as {kept}", markup=False)
    if result.stopped:
        console.print("Stopped before the end; this is the best so far.")
    return settling.code_of(day, plan)
