"""``slackwater check FILE [PLAN]``: is a day file right, and does a plan keep every rule of it?"""

import argparse
from pathlib import Path
from typing import Any

from planner import cli
from planner.cli import settling
from planner.cli.kept_day import broken_in
from planner.cli.saying import say
from planner.day.reading import read_day


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "check",
        help="check a day file, or a plan against its day",
        description="Check a day file; with a plan, check that it keeps every rule of the day.",
    )
    settling.add_day(parser)
    parser.add_argument("plan", type=Path, nargs="?", metavar="PLAN", help="a plan of the day (JSON)")
    settling.add_pace(parser)


def run(asked: argparse.Namespace) -> int:
    """Print every fault or broken rule, or that there is none."""
    day = read_day(asked.file) if asked.plan is None else settling.day_of(asked)
    stages = len(day.stages())
    say(f"{asked.file}: right; {len(day.jobs)} job{'s' if len(day.jobs) != 1 else ''}, {stages} stages")
    if asked.plan is None:
        return cli.DONE
    broken = broken_in(asked)
    for rule in broken:
        say(f"{asked.plan}: rule {rule.rule}: {rule.text}")
    if broken:
        return cli.BROKEN
    say(f"{asked.plan}: keeps every rule of the day")
    return cli.DONE
