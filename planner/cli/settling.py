"""What several commands share: their common words, a day read and changed by them, and a plan of it found or made."""

import argparse
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from rich.console import Console

from planner import cli
from planner.cli.saying import say
from planner.cli.telling import Told
from planner.day import Day, Hand
from planner.day.reading import read_day
from planner.day.safekeeping import read_text, save_text
from planner.engine import Result, plan_day
from planner.fit.chance import USUAL, Shared
from planner.plan.checker import BrokenRule, broken_rules
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from planner.plan.plan_file import PlanFault, plan_from_json, plan_to_json
from planner.record import Record, RecordFault, default_path
from planner.record.applied import changed, changes


def add_day(parser: argparse.ArgumentParser, what: str = "the day file (TOML)") -> None:
    """The file argument of a command on one day."""
    parser.add_argument("file", type=Path, metavar="FILE", help=what)


def add_planning(parser: argparse.ArgumentParser, usual: float = 20.0) -> None:
    """The words that say how to plan."""
    parser.add_argument(
        "--seconds", type=seconds, default=usual, help="how long to plan at the most (default %(default)s)"
    )
    parser.add_argument(
        "--workers", type=whole(1, 6), default=2, help="how many threads to plan with (default %(default)s)"
    )
    parser.add_argument("--seed", type=whole(0, 2**31 - 1), default=0, help="a number that steers the search")
    parser.add_argument(
        "--repeatable", action="store_true", help="make equal runs give equal plans; seconds are then units of work"
    )
    parser.add_argument("--hands", type=whole(1, 6), help="plan with so many hands instead of those of the day")
    add_pace(parser)


def add_pace(parser: argparse.ArgumentParser) -> None:
    """The words that say at whose pace."""
    pace = parser.add_mutually_exclusive_group()
    pace.add_argument(
        "--own-pace", dest="pace", action="store_const", const="own", help="at own pace where it is known (the default)"
    )
    pace.add_argument("--shipped-pace", dest="pace", action="store_const", const="shipped", help="at the shipped pace")


def seconds(text: str) -> float:
    """Reads how long something may take."""
    found = float(text)
    if not 0 < found <= 86_400:
        raise argparse.ArgumentTypeError("give more than 0 and at most 86400 seconds")
    return found


def whole(least: int, most: int) -> Callable[[str], int]:
    """Reads a whole number within bounds."""

    def number(text: str) -> int:
        value = int(text)
        if not least <= value <= most:
            raise argparse.ArgumentTypeError(f"give a number from {least} to {most}")
        return value

    return number


def day_of(asked: argparse.Namespace) -> Day:
    """The day that a command names, at the pace and with the hands it asks for."""
    return day_in(asked.file, asked.pace, getattr(asked, "hands", None))


def day_in(file: Path, pace: str | None, hands: int | None) -> Day:
    """The day in a file at a pace, "own" or "shipped" as `add_pace` has it, and with so many hands if it is said."""
    return as_asked(read_day(file), pace, hands)


def as_asked(day: Day, pace: str | None, hands: int | None, *, is_said: bool = True) -> Day:
    """A day at a pace and with so many hands; what there is to say of the pace is said, unless it has been already."""
    if pace != "shipped":
        day = _at_own_pace(day, is_said=is_said)
    return day if hands is None else with_hands(day, hands)


def at_any_pace(day: Day, file: Path, pace: str | None, hands: int | None) -> Iterator[Day]:
    """The day in a file at each pace at which a plan of it may be made: as it is asked for, if it is, or at any."""
    yield day
    if pace is None:
        yield as_asked(read_day(file), "shipped", hands)


def days_of(day: Day, asked: argparse.Namespace) -> Iterator[Day]:
    """The day that a command names, at each such pace."""
    return at_any_pace(day, asked.file, asked.pace, getattr(asked, "hands", None))


def _at_own_pace(day: Day, *, is_said: bool) -> Day:
    """The day at own pace, if there is a record that is learning; a record at fault is told, and keeps nobody back."""
    try:
        if not default_path().exists():
            return day
        with opened_record() as record:
            made = changes(day, record)
    except (RecordFault, OSError) as fault:
        if is_said:
            say(f"Planned at the shipped pace: {fault}", is_fault=True)
        return day
    if made and is_said:
        count = f"{len(made)} way{'s' if len(made) != 1 else ''} of working"
        say(f"At own pace: {count} (see slackwater pace --day FILE; without it: --shipped-pace)", is_fault=True)
    return changed(day, made)


def shared_by(asked: argparse.Namespace) -> Shared:
    """What the stages of a day share by the user's own record; the usual parts without one, or where it is at fault."""
    if asked.pace == "shipped" or not default_path().exists():
        return USUAL
    try:
        with opened_record() as record:
            return record.shared()
    except (RecordFault, OSError):  # told when the day was put at own pace
        return USUAL


@contextmanager
def opened_record() -> Iterator[Record]:
    """The user's record; what must be said of its opening is said."""
    with Record.open() as record:
        if record.notice:
            say(record.notice, is_fault=True)
        yield record


def broken_at_any_pace(day: Day, plan: Plan, asked: argparse.Namespace) -> list[BrokenRule]:
    """The rules that a plan breaks; where no pace was asked for, a plan made at the shipped one is as good."""
    broken: list[BrokenRule] = []
    for one in days_of(day, asked):
        found = broken_rules(one, plan)
        if not found:
            return []
        broken = broken or found
    return broken


def with_hands(day: Day, count: int) -> Day:
    """A day with its first so many hands; where it has fewer, more like its first are added."""
    hands = dict(list(day.hands.items())[:count])
    model = next(iter(day.hands.values()))
    for number in range(len(hands) + 1, count + 1):
        hands[f"hand-{number}"] = Hand(name=f"Hand {number}", hours=model.hours, cost_per_hour=model.cost_per_hour)
    return day.model_copy(update={"hands": hands})


def planned(day: Day, asked: argparse.Namespace, console: Console, previous: Plan | None = None) -> Result:
    """Plan a day as a command asks, showing on a terminal how far it is; Ctrl+C keeps the best so far."""
    with _stopped_by_interrupt() as stop, console.status("Planning ...") as status:

        def show(plan: Plan) -> None:
            proof = plan.proof
            if proof is not None:
                status.update(
                    f"Planning ... best so far: {proof.minutes} min home, {proof.crossings} restricted crossings"
                    f" (one thing after another: {proof.serial_minutes} min, {proof.serial_crossings})"
                )

        return plan_day(
            day,
            seconds=asked.seconds,
            workers=asked.workers,
            seed=asked.seed,
            deterministic=asked.repeatable,
            previous=previous,
            on_better=show,
            stop=stop,
        )


@contextmanager
def _stopped_by_interrupt() -> Iterator[threading.Event]:
    """An event that the first Ctrl+C sets; the next one ends the program as usual."""
    stop = threading.Event()
    if threading.current_thread() is not threading.main_thread():
        yield stop
        return
    before = signal.getsignal(signal.SIGINT)

    def interrupted(*_: object) -> None:
        stop.set()
        signal.signal(signal.SIGINT, before)

    signal.signal(signal.SIGINT, interrupted)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)


def save_plan(day: Day, plan: Plan, path: Path) -> None:
    """Keep a plan as JSON, whole or not at all."""
    save_text(path, plan_to_json(plan, day) + "\n")


def read_plan(path: Path) -> Plan:
    """Read a plan that was kept; a fault names the file."""
    try:
        return plan_from_json(read_text(path))
    except PlanFault as fault:
        raise Told(f"{path}: {fault}") from None


def code_of(day: Day, plan: Plan) -> int:
    """What a command that shows a plan ends with: whether the van is home in time."""
    return cli.LATE if plan.home > latest_finish(day) else cli.DONE
