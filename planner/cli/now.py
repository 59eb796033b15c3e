"""``slackwater now FILE --at TIME``: say what is done on the day, and plan the rest again."""

import argparse
from typing import Any

from rich.console import Console
from rich.text import Text

from planner import cli
from planner.cli import settling
from planner.cli.faults import Told
from planner.cli.printing import print_plan
from planner.day import Day
from planner.plan.progress import Noted, Progress
from planner.trade.units import clock


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "now",
        help="say what is done on the day, and plan the rest again",
        description="On the day: note what is done, begun or given up, and plan the rest anew from the plan kept beside "
        "the day. Stages are named 'stage' or 'job.stage', times '11:25'. An extra stage is written into the day file.",
    )
    settling.add_day(parser)
    settling.add_planning(parser, seconds=10.0)
    parser.add_argument("--at", required=True, metavar="TIME", help="the time it is now")
    parser.add_argument(
        "--done", nargs="+", default=[], metavar="STAGE@TIME", help="stages that are done, and since when"
    )
    parser.add_argument("--begun", nargs="+", default=[], metavar="STAGE@TIME", help="stages under way, and since when")
    parser.add_argument("--dropped", nargs="+", default=[], metavar="STAGE", help="stages given up for today")
    parser.add_argument("--arrived", nargs="+", default=[], metavar="JOB@TIME", help="when the van really got there")
    parser.add_argument("--gone", nargs="+", default=[], metavar="HAND@TIME", help="hands who went home")
    parser.add_argument("--rain", metavar="TIME", help="it rains from this time on")
    parser.add_argument("--keep", action="store_true", help="keep the new plan beside the day")


def run(asked: argparse.Namespace) -> int:
    """Plan the rest and print the whole day; what is urgent comes first."""
    from planner.engine import plan_rest

    console = Console(highlight=False)
    day = settling.day_of(asked)
    plan = settling.read_plan(settling.plan_path(asked.file))
    progress = progress_of(day, asked)
    with console.status("Planning the rest ..."):
        try:
            result = plan_rest(
                day,
                plan,
                progress,
                seconds=asked.seconds,
                workers=asked.workers,
                seed=asked.seed,
                deterministic=asked.repeatable,
            )
        except ValueError as fault:
            raise Told(f"{settling.plan_path(asked.file)}: {fault}") from None
    for words in result.urgent:
        console.print(Text(f"FIRST: {words}", style="bold"))
    for job, stage in result.assumed:
        console.print(Text(f"Taken as done: {job}.{stage} (nothing was noted, but later work was)."))
    if result.plan is None:
        console.print(Text(result.summary()))
        return cli.NO_PLAN if result.is_impossible else cli.NOT_FOUND
    print_plan(console, day, result.plan)
    if asked.keep:
        settling.save_plan(day, result.plan, settling.plan_path(asked.file))
        console.print(Text(f"Kept as {settling.plan_path(asked.file)}"))
    return cli.LATE if result.plan.proof is not None and result.plan.proof.overrun else cli.DONE


def progress_of(day: Day, asked: argparse.Namespace) -> Progress:
    """What a command says of the day.

    Raises
    ------
    Told
        When it names what the day does not have, or something that is not a time.
    """
    done = [_named_at(word, "--done") for word in asked.done]
    begun = [_named_at(word, "--begun") for word in asked.begun]
    noted = [Noted(*_stage(day, name), end=minute) for name, minute in done]
    noted += [Noted(*_stage(day, name), start=minute) for name, minute in begun]
    return Progress(
        at=_time(asked.at, "--at"),
        noted=tuple(noted),
        dropped=tuple(_stage(day, name) for name in asked.dropped),
        arrived=dict(_named_at(word, "--arrived") for word in asked.arrived),
        gone=dict(_named_at(word, "--gone") for word in asked.gone),
        rain=None if asked.rain is None else _time(asked.rain, "--rain"),
    )


def _time(text: str, option: str) -> int:
    try:
        return clock(text)
    except ValueError as fault:
        raise Told(f"{option}: {fault}") from None


def _named_at(word: str, option: str) -> tuple[str, int]:
    name, at, time = word.rpartition("@")
    if not at or not name:
        raise Told(f"{option}: '{word}' says no time; write for example '{word}@11:25'")
    return name, _time(time, option)


def _stage(day: Day, name: str) -> tuple[str, str]:
    """The (job, stage) that a word means."""
    found = [(j, s) for j, s, _ in day.stages() if name in (s, f"{j}.{s}")]
    if len(found) == 1:
        return found[0]
    if found:
        raise Told(f"'{name}' is a stage of several jobs; write {' or '.join('.'.join(x) for x in found)}")
    from planner.day.faults import suggestion

    known = [s for _, s, _ in day.stages()]
    raise Told(f"the day has no stage '{name}'; {suggestion(name, known)}")
