"""``slackwater fit FILE|FOLDER``: will it fit, why or why not, and what would make it fit."""

import argparse
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from rich.console import Console
from rich.padding import Padding
from rich.status import Status
from rich.table import Table

from planner import cli
from planner.cli import settling
from planner.cli.kept_day import DayShown, UnderWay, kept_or_planned
from planner.cli.offers import print_offers
from planner.cli.on_terminal import harmless_text
from planner.cli.telling import Told
from planner.day import Day
from planner.day.reading import day_text
from planner.engine import Result
from planner.fit.break_even import break_even
from planner.fit.chain import chain
from planner.fit.chance import Shared
from planner.fit.giving_up import what_to_give_up
from planner.fit.help_from_now import help_from_now
from planner.fit.remedies import try_remedies
from planner.fit.remedy_days import remedies_of
from planner.fit.risk import play_out
from planner.fit.second_hand import least_help
from planner.fit.trade_off import trade_off
from planner.fit.two_days import split_over_two_days
from planner.fit.verdict import verdict
from planner.fit.way_in import price_of_way_in
from planner.fit.week import plan_week
from planner.fit.within_reach import Reach, within_reach, worth_trying
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan

STUDIES = ("remedies", "second-hand", "two-days", "trade-off", "way-in")
"""What may be asked for beyond the verdict; each plans the day again several times."""

USUAL_STUDIES = ("remedies", "second-hand")
"""Those made unasked for a day that does not fit; of a day under way, of which only the rest can change, no others."""

ASKED_SECONDS, UNASKED_SECONDS = 60.0, 20.0
"""How long each study may take; most end sooner."""

TWO_DAYS = ("day", "stage", "hands-on", "before it goes on")
"""The columns of a split over two days."""


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "fit",
        help="say whether a day fits, why, and what would make it fit",
        description="Say whether a day fits, what carries its finish and how sure it is. A day that does not fit is "
        "planned again with each remedy and with the least help of a second hand. For a folder: one line for each day.",
    )
    settling.add_day(parser, "the day file (TOML), or a folder of them")
    settling.add_planning(parser)
    parser.add_argument("--chain", action="store_true", help="show what carries the finish, step by step")
    parser.add_argument(
        "--study",
        action="append",
        choices=[*STUDIES, "all", "none"],
        help="plan the day again to find remedies, the least help, a split over two days, the trade-off of minutes and "
        "crossings, or the price of the way in; may be given more than once",
    )
    parser.add_argument(
        "--pays", metavar="JOB.STAGE.METHOD", help="from what area on this method pays, by planning with and without it"
    )
    parser.add_argument(
        "--save",
        type=settling.whole(1, 24 * 60),
        metavar="MINUTES",
        help="look for the least help that saves so many minutes, whether the day fits or not",
    )
    parser.add_argument(
        "--study-seconds",
        type=settling.seconds,
        help=f"how long each study may take (default {ASKED_SECONDS:g}, of those made unasked {UNASKED_SECONDS:g})",
    )


def run(asked: argparse.Namespace) -> int:
    """Judge and print; the exit code says whether the day fits."""
    if asked.study_seconds is None:
        asked.study_seconds = ASKED_SECONDS if asked.study or asked.save or asked.pays else UNASKED_SECONDS
    console = Console(highlight=False)
    if asked.file.is_dir():
        return _folder(console, asked)
    pays = _method_asked(settling.day_of(asked), asked.pays)
    shown = kept_or_planned(asked, console)
    if isinstance(shown, DayShown) and shown.under_way is not None:
        _refuse_what_is_past(asked)
    if isinstance(shown, Result):
        console.print(harmless_text(shown.summary()))
        if shown.stopped:
            return cli.STOPPED
        if not asked.study or {"two-days", "all"} & set(asked.study):
            _two_days_instead(console, settling.day_of(asked), asked.study_seconds)
        return cli.NO_PLAN if shown.is_impossible else cli.NOT_FOUND
    day, plan = shown.day, shown.plan
    _print_verdict(console, day, plan, settling.shared_by(asked), steps=asked.chain)
    if shown.stopped:
        console.print("Stopped before the end; this is the best so far.")
        return cli.STOPPED
    lacking = _out_of_reach(asked) if shown.under_way is None else []  # of a day under way only the rest counts
    if lacking:
        _print_study(console, "Out of reach, and what it would save", "", ("",), [(one.words,) for one in lacking])
    for name in _studies(asked, is_late=plan.home > latest_finish(day)):
        if shown.under_way is None:
            _study(console, name, day, plan, asked, lacking)
        elif name in USUAL_STUDIES:
            _study_the_rest(console, name, plan, shown.under_way, asked)
    if pays is not None:
        with console.status("Planning with and without it ..."):
            found = break_even(day, *pays, seconds=asked.study_seconds)
        _print_study(console, "When it pays", found.sentence, ("measure", "value with it", "without"), found.rows())
    return settling.code_of(day, plan)


def _studies(asked: argparse.Namespace, *, is_late: bool) -> Sequence[str]:
    wanted = asked.study or (USUAL_STUDIES if is_late else ())
    if "all" in wanted:
        return STUDIES
    if asked.save is not None:
        wanted = (*wanted, "second-hand")
    return [name for name in STUDIES if name in wanted]


def _refuse_what_is_past(asked: argparse.Namespace) -> None:
    """Of a day under way only what is left can be changed.

    Raises `Told` for a study that weighs a day before it begins.
    """
    past = [f"--study {name}" for name in asked.study or () if name not in (*USUAL_STUDIES, "all", "none")]
    past += ["--pays"] if asked.pays else []
    if past:
        may_be = f"of its rest --study may be {' or '.join(USUAL_STUDIES)}"
        why = f"{asked.file} is under way, and this weighs a day before it begins; {may_be}"
        raise Told(f"{past[0]}: {why}", code=cli.MISUSED)


def _method_asked(day: Day, text: str | None) -> tuple[str, str, str] | None:
    """The job, stage and method that ``--pays`` names.

    Raises `Told` when the day has no such method, or nothing to compare it with.
    """
    if text is None:
        return None
    known = [f"{j}.{s}.{m}" for j, s, stage in day.stages() if len(stage.methods) > 1 for m in stage.methods]
    if text not in known:
        may_be = f"it may be {', '.join(known)}" if known else "no stage of this day has more than one method"
        raise Told(f"--pays {text}: the day has no such method beside another; {may_be}")
    job, stage, method = text.split(".")
    return job, stage, method


def _print_verdict(console: Console, day: Day, plan: Plan, shared: Shared, *, steps: bool) -> None:
    risk = play_out(day, plan, shared=shared)
    judged = verdict(day, plan, risk)
    console.print(harmless_text(judged.sentence, "bold"))
    console.print(harmless_text(judged.reason))
    if steps:
        columns = ("when", "what", "who", "it waits for")
        _print_study(console, "What carries the finish", "", columns, chain(day, plan).rows())
    _print_study(console, f"Played out {risk.plays} times", risk.sentence, ("", ""), risk.rows())


def _two_days_instead(console: Console, day: Day, seconds: float) -> None:
    """For a day without a plan: a split over two days, if one is found; otherwise the conflict has said it all."""
    with console.status("Planning it over two days ...") as status:
        split = split_over_two_days(day, seconds=seconds, on_done=_progress(status, "two-days"))
    if split.plan is not None:
        _print_study(console, "Over two days", split.sentence, TWO_DAYS, split.rows())


def _out_of_reach(asked: argparse.Namespace) -> list[Reach]:
    """What falls out for want of a supply, kit or a hand."""
    hands = getattr(asked, "hands", None)
    at_pace = partial(settling.as_asked, pace=asked.pace, hands=hands, is_said=False)
    return list(within_reach(day_text(asked.file), asked.file, as_asked=at_pace))


def _study(
    console: Console, name: str, day: Day, plan: Plan, asked: argparse.Namespace, lacking: Sequence[Reach]
) -> None:
    """Make one study and print it."""
    seconds: float = asked.study_seconds
    told: tuple[str, str, Sequence[str], Iterable[Sequence[str]]]
    with console.status(f"Planning again for the {name.replace('-', ' ')} ...") as status:
        heard = _progress(status, name)
        if name == "remedies":
            offered = sorted([*remedies_of(day, plan), *worth_trying(lacking)], key=lambda remedy: remedy.trouble)
            tried = try_remedies(day, plan, remedies=offered, seconds=seconds, on_done=heard)
            columns = ("remedy", "minutes gained", "crossings saved", "money", "the day then")
            told = ("Remedies", tried.sentence, columns, tried.rows())
        elif name == "second-hand":
            least = least_help(day, plan, save=asked.save, seconds=seconds, on_done=heard)
            told = ("The least help", least.sentence, ("", ""), least.rows())
        elif name == "two-days":
            split = split_over_two_days(day, plan, seconds=seconds, on_done=heard)
            told = ("Over two days", split.sentence, TWO_DAYS, split.rows())
        elif name == "trade-off":
            trade = trade_off(day, seconds=seconds, on_done=heard)
            told = ("Trips against time", trade.sentence, ("crossings", "home", "against the next", ""), trade.rows())
        else:
            for key in day.jobs:
                _way_in(console, day, key, seconds / len(day.jobs))
            return
    _print_study(console, *told)


def _study_the_rest(console: Console, name: str, plan: Plan, under_way: UnderWay, asked: argparse.Namespace) -> None:
    """Make one study of what is left of a day under way, and print it."""
    if name == "remedies":
        _what_to_give_up(console, plan, under_way, asked.file)
    else:
        _help_yet(console, plan, under_way, asked)


def _what_to_give_up(console: Console, plan: Plan, under_way: UnderWay, file: Path) -> None:
    day, progress = under_way.day, under_way.progress
    with console.status("Planning the rest again ..."):
        offers = what_to_give_up(day, plan, progress)
    _print_title(console, "What is left")
    if offers:
        print_offers(console, day, progress, offers)
        console.print(harmless_text(f"To give it up: slackwater now {file} --at TIME, and those words"))
    else:
        console.print("Nothing that could be given up would help.")


def _help_yet(console: Console, plan: Plan, under_way: UnderWay, asked: argparse.Namespace) -> None:
    told, seconds = (under_way.day, plan, under_way.progress), asked.study_seconds
    with console.status("Planning the rest again ...") as status:
        heard = _progress(status, "second-hand")
        least = help_from_now(*told, plan, save=asked.save, seconds=seconds, on_done=heard)
    _print_study(console, "Help that could still come", least.sentence, ("", ""), least.rows())
    if least.stretch is not None and least.stretch.paid:
        how = f"a table under [hands] with own_transport = true, then: slackwater now {asked.file} --at TIME"
        console.print(harmless_text(f"  To plan with it: {how}"))


def _way_in(console: Console, day: Day, job: str, seconds: float) -> None:
    price = price_of_way_in(day, job, seconds=seconds)
    _print_study(console, "The way in", price.sentence, ("", "as it is", "with a side access"), price.rows())


def _progress(status: Status, name: str) -> Callable[[int, int, Any], None]:
    def heard(done: int, of: int, last: Any) -> None:
        words = f"Planning again for the {name.replace('-', ' ')} ... {done} of {of}: {last.name}"
        status.update(harmless_text(words))

    return heard


def _print_study(
    console: Console, title: str, sentence: str, columns: Sequence[str], rows: Iterable[Sequence[str]]
) -> None:
    _print_title(console, title)
    if sentence:
        console.print(Padding(harmless_text(sentence), (0, 0, 0, 2)))
    table = Table(box=None, show_header=any(columns), header_style="dim", padding=(0, 2, 0, 0), pad_edge=False)
    for column in columns:
        table.add_column(column, overflow="fold")
    for row in rows:
        table.add_row(*(harmless_text(cell) for cell in row))
    console.print(Padding(table, (0, 0, 0, 2)))


def _print_title(console: Console, title: str) -> None:
    console.print()
    console.print(harmless_text(title, "bold underline"))


def _folder(console: Console, asked: argparse.Namespace) -> int:
    """Every day of a folder, in one table; the exit code is of the worst."""
    folder: Path = asked.file
    if not any(folder.glob("*.toml")):
        raise Told(f"{folder}: there is no day file (*.toml) in this folder")
    with console.status("Planning ...") as status:
        week = plan_week(
            folder,
            seconds=asked.seconds,
            read=settling.day_in,
            paces=settling.at_any_pace,
            read_with=(asked.pace, asked.hands),
            keeps=asked.hands is None,
            on_done=_progress(status, "days of the folder"),
        )
    columns = ("day", "date", "verdict", "home", "restricted crossings", "")
    _print_study(console, str(folder), week.sentence, columns, week.rows())
    if any(line.home is None for line in week.lines):
        return cli.FAULTY
    return cli.LATE if any(line.word == "does not fit" for line in week.lines) else cli.DONE
