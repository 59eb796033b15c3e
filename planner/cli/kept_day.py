"""The plan of a day as every command shows it: what was shown last, kept beside the day, until the day changes.

A day under way is shown as it went: what was, with its real times, and what is left.
"""

import argparse
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from rich.console import Console

from planner import cli
from planner.cli import settling
from planner.cli.saying import say
from planner.cli.telling import Told
from planner.day import Day
from planner.day.safekeeping import FileFault, followed
from planner.engine import Result
from planner.plan.checker import BrokenRule, broken_rules
from planner.plan.kept import (
    TOLD_SINCE,
    Kept,
    KeptMeanwhile,
    changed_words,
    held,
    keep,
    keep_record,
    plan_path,
    read_kept,
    why_not_held,
)
from planner.plan.plan import Plan
from planner.plan.progress import Progress, ProgressError
from planner.plan.went import day_as_it_went


@dataclass(frozen=True)
class UnderWay:
    """A day under way, for whoever plans its rest otherwise: the day as its file says, and what was told of it."""

    day: Day
    progress: Progress


@dataclass(frozen=True)
class DayShown:
    """A day, as it went where it is under way, with its plan; ``stopped`` when planned now, not to the end."""

    day: Day
    plan: Plan
    stopped: bool = False
    under_way: UnderWay | None = None

    @property
    def code(self) -> int:
        """What a command that shows it ends with."""
        return settling.code_of(self.day, self.plan)


def shown_day(asked: argparse.Namespace, console: Console) -> DayShown:
    """The day that a command names, with the plan it names, or that is kept, or else one made now and kept.

    Raises `Told` when the plan named breaks rules of the day, when a day under way no longer goes with its file, or
    when there is no plan; with the exit code that says which, and `FileFault` when what is kept cannot be read.
    """
    if getattr(asked, "plan", None) is not None:
        return _named(settling.day_of(asked), asked)
    found = kept_or_planned(asked, console)
    if isinstance(found, Result):
        if found.stopped:
            raise KeyboardInterrupt
        raise Told(found.summary(), code=cli.NO_PLAN if found.is_impossible else cli.NOT_FOUND)
    if found.stopped:  # nobody asked for a document of half a search
        raise KeyboardInterrupt
    return found


def kept_or_planned(asked: argparse.Namespace, console: Console) -> DayShown | Result:
    """The plan that is kept for the day, where it still is one; else one made now and kept, or why there is none.

    A plan for other hands than the day's own is a question, and not kept.
    """
    day = settling.day_of(asked)
    kept = read_kept(asked.file)
    found = None if kept is None else _held(day, kept, asked)
    if found is not None:
        return found
    before = None if kept is None or asked.repeatable else kept.plan
    result = settling.planned(day, asked, console, before)
    if result.plan is None:
        return result
    if asked.hands is None:
        keep_shown(asked.file, day, Kept(result.plan, seen="" if kept is None else kept.seen))
    return DayShown(day, result.plan, result.stopped)


def keep_shown(file: Path, day: Day, kept: Kept) -> bool:
    """Keep what was shown, so that every other command shows the same; what keeps it from being kept is told."""
    return _is_kept(file, lambda: keep(file, day, kept))


def keep_told(file: Path, kept: Kept, progress: Progress) -> bool:
    """Keep what was told of a day where there is no plan of it, with the plan as it was; else as `keep_shown`."""
    return _is_kept(file, lambda: keep_record(file, kept, progress.as_told()))


def _is_kept(file: Path, save: Callable[[], object]) -> bool:
    try:
        save()
    except KeptMeanwhile:
        why = "another program has kept a plan of the day meanwhile; this one is not kept"
        say(f"{plan_path(file)}: {why}", is_fault=True)
    except FileFault as fault:
        say(f"{fault}; the plan is shown, not kept", is_fault=True)
    else:
        return True
    return False


def broken_in(asked: argparse.Namespace) -> list[BrokenRule]:
    """The rules of the day that the plan named breaks; one that carries what was noted is held to the day as it went.

    Raises `Told` when it cannot be read, or what was noted does not go with the day.
    """
    day = settling.day_of(asked)
    kept = read_kept(asked.file) if followed(asked.plan) == followed(plan_path(asked.file)) else None
    if kept is None or kept.progress is None:
        return settling.broken_at_any_pace(day, settling.read_plan(asked.plan), asked)
    if kept.is_behind:
        raise Told(f"{asked.plan}: {TOLD_SINCE} since is not in the plan", code=cli.BROKEN)
    since = kept.progress.at
    try:
        went, _ = day_as_it_went(day, kept.plan, replace(kept.progress, settled=since))
    except ProgressError as fault:
        raise Told(f"{asked.plan}: {fault}", code=cli.BROKEN) from None
    return list(broken_rules(went, kept.plan, since=since))


def _named(day: Day, asked: argparse.Namespace) -> DayShown:
    """The plan in the file that is named; that of the day itself may carry what was noted of it."""
    if followed(asked.plan) == followed(plan_path(asked.file)):
        kept = read_kept(asked.file)
        if kept is not None and kept.progress is not None:
            return _as_it_went(day, kept, kept.progress, asked)
    plan = settling.read_plan(asked.plan)
    broken = settling.broken_at_any_pace(day, plan, asked)
    if broken:
        why = f"{asked.plan}: not a plan of {asked.file}: {broken[0].text}; plan the day again"
        raise Told(why, code=cli.BROKEN)
    return DayShown(day, plan)


def _held(day: Day, kept: Kept, asked: argparse.Namespace) -> DayShown | None:
    """What is kept, where it is still for this day; None, and told why, where it is not."""
    if kept.progress is not None:
        return _as_it_went(day, kept, kept.progress, asked)
    found = held(kept, settling.days_of(day, asked))
    if found is not None and not found.changed:
        return DayShown(found.day, found.plan)
    why = f"holds no longer, so the day is planned anew: {why_not_held(kept, day)}"
    say(f"{plan_path(asked.file)}: {why}", is_fault=True)
    return None


def _as_it_went(day: Day, kept: Kept, progress: Progress, asked: argparse.Namespace) -> DayShown:
    """A day under way, as it went.

    Raises `Told` when its plan and its record no longer go with the file: it is not planned from the morning again
    unasked.
    """
    try:
        found = held(kept, settling.days_of(day, asked))
        why = "" if found is not None else why_not_held(kept, day)
    except ProgressError as fault:
        found, why = None, str(fault)
    again = f"plan its rest with: slackwater now {asked.file} --at TIME"
    if found is None:
        raise Told(f"{plan_path(asked.file)}: {why}; {again}", code=cli.BROKEN)
    if found.changed:
        say(f"{plan_path(asked.file)}: {changed_words(found.changed)}; {again}", is_fault=True)
    told = progress.since(kept.plan.since or 0)  # the plan itself is the record of what was before
    return DayShown(found.day, found.plan, under_way=UnderWay(found.by_file, told))
