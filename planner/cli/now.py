"""``slackwater now FILE --at TIME``: say what is done on the day, and plan the rest again."""

import argparse
import shlex
from pathlib import Path
from typing import Any

from rich.console import Console

from planner import cli
from planner.cli import settling
from planner.cli.kept_day import keep_shown, keep_told
from planner.cli.offers import print_offers
from planner.cli.on_terminal import harmless_text, print_plan
from planner.cli.telling import Told
from planner.cli.told import add_words, answer_words, progress_of
from planner.day import Day
from planner.day.file import write_day
from planner.day.names import Names
from planner.engine import Result, plan_rest
from planner.fit.giving_up import what_to_give_up
from planner.plan.another_day import left_for_another_day, what_it_takes
from planner.plan.doubts import Doubt, asked_of, with_likely
from planner.plan.kept import Kept, plan_path, read_kept
from planner.plan.pieces import with_pieces, without_gone_pieces
from planner.plan.plan import Plan
from planner.plan.progress import NOTHING_TOLD, Progress
from planner.plan.running import running_waits
from planner.plan.told_items import with_causes
from planner.plan.went import to_fetch
from planner.plan.what_changed import what_changed


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "now",
        help="say what is done on the day, and plan the rest again",
        description="On the day: note what is done, begun or given up, and what else became of it, in any order, and "
        "plan the rest anew from the plan kept beside the day. Stages are named 'stage' or 'job.stage', times '11:25'. "
        "What must have happened for it to be so is asked, with the words to answer it.",
    )
    settling.add_day(parser)
    settling.add_planning(parser, usual=10.0)
    add_words(parser)
    parser.add_argument("--likely", action="store_true", help="take the likely answer to whatever is asked")
    parser.add_argument("--left", type=Path, metavar="OUT", help="write what is left for another day as a day file")
    parser.add_argument("--keep", action="store_true", help="fail where the new plan cannot be kept beside the day")
    parser.add_argument("--look", action="store_true", help="only look: what is kept beside the day stays as it is")


def run(asked: argparse.Namespace) -> int:
    """Plan the rest and print the whole day; what is urgent comes first."""
    console = Console(highlight=False)
    day = settling.day_of(asked)
    kept = read_kept(asked.file)
    if kept is None:
        path = plan_path(asked.file)
        raise Told(f"{path}: there is no plan of the day yet; make one with: slackwater plan {asked.file} --keep")
    try:
        progress = progress_of(with_pieces(day, kept.progress or NOTHING_TOLD), kept.plan, kept.progress, asked)
        progress = without_gone_pieces(day, progress)
        if kept.is_behind:  # the plan itself is the record only up to when it was made
            progress = progress.since(kept.plan.since or 0)
        open_questions = asked_of(day, kept.plan, progress)
        if open_questions and asked.likely:
            progress = with_likely(day, kept.plan, progress)
            open_questions = asked_of(day, kept.plan, progress)
        if open_questions:
            return _ask(console, asked, open_questions)
        progress = with_causes(day, kept.progress or NOTHING_TOLD, progress)
        with console.status("Planning the rest ..."):
            result = _planned(day, kept.plan, progress, asked)
    except ValueError as fault:
        if isinstance(fault, Told):
            raise
        raise Told(f"{asked.file}: {fault}") from None
    return _told(console, day, kept, progress, result, asked)


def _planned(day: Day, plan: Plan, progress: Progress, asked: argparse.Namespace) -> Result:
    return plan_rest(
        day,
        plan,
        progress,
        seconds=asked.seconds,
        workers=asked.workers,
        seed=asked.seed,
        deterministic=asked.repeatable,
    )


def _told(console: Console, day: Day, kept: Kept, progress: Progress, result: Result, asked: argparse.Namespace) -> int:
    """Keep what came of it, print it, and give the exit code: whoever reads no further has what was told kept."""
    if result.plan is None or result.day is None:
        offers = what_to_give_up(day, kept.plan, progress)
        is_asked = result.is_impossible and bool(offers)
        is_kept = not (is_asked or asked.look) and keep_told(asked.file, kept, progress)
        _say_urgent(console, result)
        console.print(harmless_text(result.summary()))
        print_offers(console, day, progress, offers)
        if not is_asked:
            if is_kept:
                _say_noted(console, asked)
            code = cli.NO_PLAN if result.is_impossible else cli.NOT_FOUND
            return code if is_kept or asked.look or not asked.keep else cli.FAULTY
        if not asked.likely:
            console.print("ASKED: What of it is given up for today?", style="bold")
            return _say_how_to_answer(console, asked)
        progress = offers[0].on(progress)
        return _told(console, day, kept, progress, _planned(day, kept.plan, progress, asked), asked)
    record = result.progress or progress
    is_kept = not asked.look and keep_shown(asked.file, day, Kept(result.plan, record, kept.seen))
    _say_urgent(console, result)
    console.print(harmless_text(what_changed(result.day, kept.plan, result.plan, progress.at)))
    for wait in running_waits(result.day, result.plan, record, progress.at):
        console.print(harmless_text(f"RUNS: {wait.words(progress.at)}", "bold"))
    print_plan(console, result.day, result.plan)
    code = settling.code_of(result.day, result.plan)
    for job, words in to_fetch(day, record):
        console.print(harmless_text(f"At {Names(day).job(job)}: {words}"))
    if code == cli.LATE or record.over or record.promised:
        print_offers(console, day, progress, what_to_give_up(day, kept.plan, progress))
    if asked.left is not None:
        _write_what_is_left(console, day, result.plan, record, asked.left)
    if is_kept:
        console.print(harmless_text(f"Kept as {plan_path(asked.file)}, with what was noted"))
    return cli.FAULTY if asked.keep and not is_kept and not asked.look else code


def _say_urgent(console: Console, result: Result) -> None:
    for words in result.urgent:
        console.print(harmless_text(f"FIRST: {words}", "bold"))


def _say_noted(console: Console, asked: argparse.Namespace) -> None:
    """What was told is noted though there is no plan of it: it happened."""
    path = plan_path(asked.file)
    console.print(harmless_text(f"What was told is noted in {path}; the plan in it holds no longer."))
    console.print("What was not so is taken back with --back STAGE or --not-so WHAT.")


def _ask(console: Console, asked: argparse.Namespace, questions: tuple[Doubt, ...]) -> int:
    """Each question with its answers, and the exact words to give them."""
    for question in questions:
        console.print(harmless_text(f"ASKED: {question.words}{'' if question.words.endswith('?') else '.'}", "bold"))
        for n, reply in enumerate(question.replies):
            likely = " (likely)" if n == 0 else ""
            console.print(harmless_text(f"  {reply.words}{likely}: {answer_words(reply.job, reply.stage, reply.does)}"))
    return _say_how_to_answer(console, asked)


def _say_how_to_answer(console: Console, asked: argparse.Namespace) -> int:
    command = shlex.join(("slackwater", *asked.words))
    console.print("Nothing was planned or kept. Give the command again with an answer to each, or all as likely:")
    console.print(harmless_text(f"  {command} --likely"), soft_wrap=True)
    return cli.ASKED


def _write_what_is_left(console: Console, day: Day, plan: Plan, progress: Progress, out: Path) -> None:
    """Write what is left for another day as a day file; where nothing is, say so."""
    another = left_for_another_day(day, plan, progress)
    if another is None:
        console.print(harmless_text("Nothing is left for another day."))
        return
    console.print(harmless_text(f"What is left is a day of its own: {write_day(another, out)}"))
    takes = what_it_takes(another)
    if takes:
        console.print(harmless_text(f"It takes: {'; '.join(takes)}."))
