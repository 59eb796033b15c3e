"""``slackwater pace``: own pace beside the shipped one; noting what a day took; export, wipe, on and off."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from rich.console import Console
from rich.table import Table

from planner import cli
from planner.cli import settling
from planner.cli.on_terminal import harmless_text
from planner.cli.outputs import add_force, check_record_file
from planner.cli.saying import say
from planner.cli.telling import Told
from planner.day.reading import read_day
from planner.plan.kept import plan_path, read_kept
from planner.plan.pieces import with_pieces
from planner.record import Pace, Record
from planner.record.applied import changes, learned, otherwise_than_planned, timings_of
from planner.trade import units


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "pace",
        help="show own pace beside the shipped rates, and note what a day took",
        description="Own pace: what the record of this machine has learned, beside the shipped rate and with the "
        "number of jobs behind it. Only times of your own days are kept, and nothing leaves this machine.",
    )
    doing = parser.add_mutually_exclusive_group()
    doing.add_argument("--day", type=Path, metavar="FILE", help="show what own pace changes in this day")
    doing.add_argument(
        "--note", type=Path, metavar="FILE", help="note what the stages of this day took, by its kept plan and --took"
    )
    doing.add_argument("--export", type=Path, metavar="OUT", help="write the whole record to a .csv or .json file")
    doing.add_argument("--wipe", action="store_true", help="delete all noted times, for good; quotes stay")
    doing.add_argument("--off", action="store_true", help="stop learning, and plan at the shipped pace")
    doing.add_argument("--on", action="store_true", help="learn, and plan at own pace")
    parser.add_argument(
        "--took",
        nargs="+",
        default=[],
        metavar="STAGE=MINUTES",
        help="with --note: note just these, for example wash=55 or elm.wash='1 h 10 min'",
    )
    add_force(parser)


def run(asked: argparse.Namespace) -> int:
    """Do as asked, and say what was done."""
    if asked.took and asked.note is None:
        raise Told("--took goes with --note FILE, the day that the stages belong to")
    console = Console(highlight=False)
    with settling.opened_record() as record:
        if asked.export is not None:
            check_record_file(asked.export, asked)
            for path in record.export(asked.export):
                say(path)
        elif asked.wipe:
            _wipe(record)
        elif asked.on or asked.off:
            record.is_learning = asked.on
            say(f"Own pace is {'on' if asked.on else 'off'}.")
        elif asked.note is not None:
            _note(record, asked, console)
        elif asked.day is not None:
            _show_day(record, asked.day, console)
        else:
            _show(record, console)
    return cli.DONE


def _wipe(record: Record) -> None:
    left = record.wipe()
    say("All noted times are deleted.")
    for path in left:
        say(f"A broken record that was set aside still holds what it held: {path}; delete it if you wish.")


def _show(record: Record, console: Console) -> None:
    if not record.is_learning:
        say("Own pace is off: nothing is noted, and days are planned at the shipped pace.")
    try:
        rows = learned(record)
    except ValueError as fault:  # the user's own trade library
        raise Told(str(fault)) from None
    if not rows:
        say("No times are noted yet; note a day with: slackwater pace --note FILE --took STAGE=MINUTES")
        return
    named = [((x.pace.method, x.pace.condition), x.shipped, x.own, x.pace) for x in rows]
    _print(console, ("method", "condition"), named)


def _show_day(record: Record, file: Path, console: Console) -> None:
    rows = changes(read_day(file), record)
    if not rows:
        say(f"{file}: own pace changes nothing in this day.")
        return
    named = [((f"{x.job}.{x.stage}", x.pace.method, x.pace.condition), x.shipped, x.own, x.pace) for x in rows]
    _print(console, ("stage", "method", "condition"), named)


def _print(console: Console, heads: tuple[str, ...], rows: Sequence[tuple[tuple[str, ...], str, str, Pace]]) -> None:
    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False)
    for head in heads:
        table.add_column(head, overflow="fold")
    for head in ("shipped", "own", "takes", "jobs"):
        table.add_column(head, justify="right", no_wrap=True)
    for names, shipped, own, pace in rows:
        table.add_row(
            *(harmless_text(name) for name in names), shipped, own, f"x{pace.factor:.2f}", str(pace.jobs_behind)
        )
    console.print(table)


def _note(record: Record, asked: argparse.Namespace, console: Console) -> None:
    """Note a day's times; what was noted of the same stage of that day before gives way."""
    day = read_day(asked.note)
    path = plan_path(asked.note)
    kept = read_kept(asked.note)
    plan = settling.read_plan(path) if kept is None else kept.plan
    if not record.is_learning:
        raise Told("own pace is off, so nothing is noted; turn it on with: slackwater pace --on")
    made = changes(day, record)
    if kept is not None and kept.progress is not None:
        day = with_pieces(day, kept.progress)
    try:
        stages = otherwise_than_planned(day, plan, made)
        if asked.took:
            planned = [(work.job, work.stage) for work in plan.works]
            stages = dict(_took(words, planned) for words in asked.took)
        timings = timings_of(day, plan, made, stages=stages)
    except ValueError as fault:
        raise Told(f"{path}: {fault}") from None
    if not timings:
        raise Told(f"{path}: every stage in it takes as long as planned; say what they took with --took STAGE=MINUTES")
    record.note_in_place(timings)
    for timing in timings:
        planned_time, took = units.show_minutes(timing.planned_minutes), units.show_minutes(timing.actual_minutes)
        console.print(harmless_text(f"noted: {timing.job}.{timing.stage}, planned {planned_time}, took {took}"))


def _took(words: str, planned: list[tuple[str, str]]) -> tuple[tuple[str, str], float]:
    """A stage and its minutes from words such as ``elm.wash=55``.

    Raises `ValueError` when there is no such stage in the plan, or several, or the time is none.
    """
    name, is_said, time = words.partition("=")
    if not is_said:
        raise ValueError(f"--took '{words}' has no time; write for example wash=55")
    matching = [pair for pair in planned if name in (".".join(pair), pair[1])]
    if not matching:
        known = ", ".join(".".join(pair) for pair in planned)
        raise ValueError(f"--took: there is no stage '{name}' in the plan; it has {known}")
    if len(matching) > 1:
        raise ValueError(f"--took: '{name}' may be {' or '.join('.'.join(p) for p in matching)}; name the job too")
    minutes = units.minutes(f"{time} min" if time.strip().replace(".", "", 1).isdecimal() else time)
    if minutes <= 0:
        raise ValueError(f"--took: '{words}' is no time; give more than 0 minutes")
    return matching[0], minutes
