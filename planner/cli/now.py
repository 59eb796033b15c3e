"""``slackwater now FILE --at TIME``: say what is done on the day, and plan the rest again."""

import argparse
from collections.abc import Collection, Sequence
from typing import Any

from rich.console import Console

from planner import cli
from planner.cli import settling
from planner.cli.kept_day import keep_shown
from planner.cli.on_terminal import harmless_text, print_plan
from planner.cli.telling import Told
from planner.day import Day
from planner.day.faults import suggestion
from planner.engine import Result, plan_rest
from planner.plan.kept import Kept, plan_path, read_kept
from planner.plan.progress import Noted, Progress
from planner.trade.units import clock


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "now",
        help="say what is done on the day, and plan the rest again",
        description="On the day: note what is done, begun or given up, and plan the rest anew from the plan "
        "kept beside the day. Stages are named 'stage' or 'job.stage', times '11:25'. An extra stage is written into "
        "the day file.",
    )
    settling.add_day(parser)
    settling.add_planning(parser, usual=10.0)
    parser.add_argument("--at", required=True, metavar="TIME", help="the time it is now")
    parser.add_argument(
        "--done", nargs="+", default=[], metavar="STAGE@TIME", help="stages that are done, and since when"
    )
    parser.add_argument("--begun", nargs="+", default=[], metavar="STAGE@TIME", help="stages under way, and since when")
    parser.add_argument("--dropped", nargs="+", default=[], metavar="STAGE", help="stages given up for today")
    parser.add_argument("--arrived", nargs="+", default=[], metavar="JOB@TIME", help="when the van really got there")
    parser.add_argument("--gone", nargs="+", default=[], metavar="HAND@TIME", help="hands who went home")
    parser.add_argument("--rain", metavar="TIME", help="it rains from this time on")
    parser.add_argument("--keep", action="store_true", help="fail where the new plan cannot be kept beside the day")
    parser.add_argument("--look", action="store_true", help="only look: what is kept beside the day stays as it is")


def run(asked: argparse.Namespace) -> int:
    """Plan the rest and print the whole day; what is urgent comes first."""
    console = Console(highlight=False)
    day = settling.day_of(asked)
    path = plan_path(asked.file)
    kept = read_kept(asked.file)
    if kept is None:
        raise Told(f"{path}: there is no plan of the day yet; make one with: slackwater plan {asked.file} --keep")
    plan, progress = kept.plan, progress_of(day, asked)
    if kept.progress is not None:
        progress = kept.progress.with_later(progress)
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
            raise Told(f"{asked.file}: {fault}") from None
    _say_first(console, result)
    if result.plan is None or result.day is None:
        console.print(harmless_text(result.summary()))
        return cli.NO_PLAN if result.is_impossible else cli.NOT_FOUND
    print_plan(console, result.day, result.plan)
    if not asked.look:
        is_kept = keep_shown(asked.file, day, Kept(result.plan, progress, kept.seen))
        if is_kept:
            console.print(harmless_text(f"Kept as {path}, with what was noted"))
        elif asked.keep:
            return cli.FAULTY
    return settling.code_of(result.day, result.plan)


def _say_first(console: Console, result: Result) -> None:
    for words in result.urgent:
        console.print(harmless_text(f"FIRST: {words}", "bold"))
    for job, stage in result.assumed:
        console.print(harmless_text(f"Taken as done: {job}.{stage} (nothing was noted of it)."))


# --- what a command says --------------------------------------------------------------------------------------------


def progress_of(day: Day, asked: argparse.Namespace) -> Progress:
    """What a command says of the day.

    Raises
    ------
    Told
        When it names what the day does not have, or something that is not a time.
    """
    done = {_stage(day, name): minute for name, minute in _named("--done", asked.done)}
    begun = {_stage(day, name): minute for name, minute in _named("--begun", asked.begun)}
    return Progress(
        at=_time(asked.at, "--at"),
        noted=tuple(Noted(*x, begun.get(x), done.get(x)) for x in dict.fromkeys((*begun, *done))),
        dropped=tuple(_stage(day, name) for name in asked.dropped),
        arrived={
            _known(name, day.jobs, "--arrived", "job"): minute for name, minute in _named("--arrived", asked.arrived)
        },
        gone={_known(name, day.hands, "--gone", "hand"): minute for name, minute in _named("--gone", asked.gone)},
        rain=None if asked.rain is None else _time(asked.rain, "--rain"),
    )


def _known(name: str, names: Collection[str], option: str, what: str) -> str:
    if name not in names:
        raise Told(f"{option}: the day has no {what} '{name}'; {suggestion(name, names)}")
    return name


def _named(option: str, words: Sequence[str]) -> list[tuple[str, int]]:
    """Each word as a name and a minute; a name that comes twice is a slip."""
    found = [_named_at(word, option) for word in words]
    names = [name for name, _ in found]
    for name in names:
        if names.count(name) > 1:
            raise Told(f"{option}: '{name}' is there twice; give one time")
    return found


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
    known = [s for _, s, _ in day.stages()]
    raise Told(f"the day has no stage '{name}'; {suggestion(name, known)}")
