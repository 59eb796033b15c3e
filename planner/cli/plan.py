"""``slackwater plan FILE``: plan a day and print it."""

import argparse
from pathlib import Path
from typing import Any

from rich.console import Console

from planner import cli
from planner.cli import settling
from planner.cli.kept_day import keep_shown
from planner.cli.on_terminal import harmless_text, print_plan
from planner.cli.outputs import check_output
from planner.cli.saying import say
from planner.cli.telling import Told
from planner.day.safekeeping import FileFault
from planner.plan.kept import Kept, plan_path, read_kept, seen, set_aside
from planner.plan.plan import Plan
from planner.plan.plan_file import plan_to_json
from planner.trade.units import show_clock


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
    parser.add_argument("--keep", action="store_true", help="keep it beside the day even where it is for other hands")
    parser.add_argument("--look", action="store_true", help="only look: the plan kept beside the day stays as it is")
    parser.add_argument(
        "--force", action="store_true", help="forget what was noted of the day, and write over somebody else's file"
    )


def run(asked: argparse.Namespace) -> int:
    """Plan and print; the exit code says whether the day fits."""
    only_json = asked.json is not None and str(asked.json) == "-"
    console = Console(stderr=only_json, highlight=False, soft_wrap=False)
    check_output(asked.json, asked)
    day = settling.day_of(asked)
    kept = _kept(asked)
    before = _seen(asked, kept)
    result = settling.planned(day, asked, console, _shown_before(asked, kept))
    if result.plan is None:
        console.print(harmless_text(result.summary()))
        if result.stopped:
            return cli.STOPPED
        return cli.NO_PLAN if result.is_impossible else cli.NOT_FOUND
    plan = result.plan
    try:  # first of all: whoever reads the print may have enough
        is_kept = before is not None and keep_shown(asked.file, day, Kept(plan, seen=before))
        if asked.json is not None and not only_json:
            settling.save_plan(day, plan, asked.json)
    finally:  # a plan that cannot be kept is not lost: it is printed
        if only_json:
            print(plan_to_json(plan, day))
        else:
            print_plan(console, day, plan)
    if is_kept and asked.keep:
        console.print(harmless_text(f"Kept as {plan_path(asked.file)}"))
    if asked.keep and not is_kept:
        return cli.FAULTY
    if result.stopped:
        console.print("Stopped before the end; this is the best so far.")
        return cli.STOPPED
    return settling.code_of(day, plan)


def _kept(asked: argparse.Namespace) -> Kept | FileFault | None:
    """What is kept beside the day, or why it cannot be read."""
    try:
        return read_kept(asked.file)
    except FileFault as fault:
        return fault


def _shown_before(asked: argparse.Namespace, kept: Kept | FileFault | None) -> Plan | None:
    """The plan that was shown last, than which none that is shown now is to be worse; equal runs know of none."""
    if asked.repeatable or not isinstance(kept, Kept) or kept.progress is not None:
        return None
    return kept.plan


def _seen(asked: argparse.Namespace, kept: Kept | FileFault | None) -> str | None:
    """What is kept beside the day now, where the plan may take its place; None where it is to be shown only.

    Raises `Told` when it was asked to be kept, and that would forget what was noted of the day, or lose what cannot be
    read.
    """
    if asked.look or (asked.hands is not None and not asked.keep):
        return None
    if isinstance(kept, FileFault):
        if asked.force:
            for path in set_aside(asked.file):
                say(f"What was kept is now {path}", is_fault=True)
            return seen(asked.file)
        _not_kept(asked, f"{kept}; with --force the day is planned anew, and what is there stays as a copy")
        return None
    if kept is not None and kept.progress is not None and not asked.force:
        since = show_clock(kept.progress.at)
        why = (
            f"{plan_path(asked.file)}: the day is under way, and what was noted of it up to {since} would be "
            f"forgotten; plan its rest with: slackwater now {asked.file} --at TIME, or give --force"
        )
        _not_kept(asked, why)
        return None
    return seen(asked.file) if kept is None else kept.seen


def _not_kept(asked: argparse.Namespace, why: str) -> None:
    if asked.keep:
        raise Told(why)
    say(f"Shown, not kept: {why}", is_fault=True)
