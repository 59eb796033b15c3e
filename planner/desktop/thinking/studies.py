"""The studies of a plan that the window asks for, each a function that runs in a process of its own.

What a study gives goes back through a pipe, so it is plain data.
"""

import tempfile
import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planner.day.safekeeping import FileFault
from planner.desktop.thinking.questions import Question
from planner.fit import second_hand
from planner.fit.break_even import BreakEven, break_even
from planner.fit.chance import USUAL, Shared
from planner.fit.giving_up import Offer, what_to_give_up
from planner.fit.help_from_now import help_from_now
from planner.fit.remedies import Remedies, try_remedies
from planner.fit.remedy_days import remedies_of
from planner.fit.risk import Risk, play_out
from planner.fit.second_hand import Help
from planner.fit.trade_off import TradeOffs, trade_off
from planner.fit.two_days import Split, split_over_two_days
from planner.fit.verdict import Verdict, verdict
from planner.fit.way_in import PriceOfWayIn, price_of_way_in
from planner.plan.checker import checked
from planner.record import Record, RecordFault, default_path
from planner.sheet.export import What, export
from planner.sheet.papers.paper import Paper

Progress = Callable[[int, int, str], None]
Study = Callable[[Question, Progress, threading.Event], Any]

REMEDY_SECONDS = 60.0
"""For all remedies together; the least help of one more hand is sought in as long again."""


WEIGH_SECONDS = 60.0
"""For the trade-off, and for each of the questions that are weighed."""


@dataclass(frozen=True)
class ToWrite:
    """A document that is wanted as a file."""

    path: Path
    what: What
    paper: Paper = "A4"


@dataclass(frozen=True)
class Written:
    """What became of it: the files, or why there are none."""

    paths: tuple[Path, ...] = ()
    fault: str = ""


def study(question: Question, on_progress: Progress, stop: threading.Event) -> Any:
    """What the study named by the question's task finds. Raises `KeyError` when there is no such study."""
    return STUDIES[question.task](question, on_progress, stop)


def sheet_pdf(question: Question, on_progress: Progress, stop: threading.Event) -> bytes:
    """The run sheet as a PDF; ``extra`` is the paper."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sheet.pdf"
        _export(question, path, "sheet", question.extra or "A4")
        return path.read_bytes()


def document(question: Question, on_progress: Progress, stop: threading.Event) -> Written:
    """A document written to a file; ``extra`` is a `ToWrite`."""
    wanted: ToWrite = question.extra
    try:
        return Written(_export(question, wanted.path, wanted.what, wanted.paper))
    except (OSError, ValueError) as fault:
        return Written(fault=str(fault))
    except FileFault as fault:
        return Written(fault=f"{fault.path.name}: {fault.problem}; {fault.remedy}")


def judged(question: Question, on_progress: Progress, stop: threading.Event) -> Verdict:
    """The verdict on a plan that came from a file."""
    assert question.previous is not None
    return verdict(question.day, question.previous)


def played_out(question: Question, on_progress: Progress, stop: threading.Event) -> Risk:
    """The plan played out many times."""
    assert question.previous is not None
    return play_out(question.day, question.previous, shared=_own_shared())


def _own_shared() -> Shared:
    """What stages share by the user's record; the usual parts where there is none that can be read."""
    try:
        if not default_path().exists():
            return USUAL
        with Record.open() as record:
            return record.shared()
    except (RecordFault, OSError):  # the page of own pace says what is wrong with it
        return USUAL


def _naming(on_progress: Progress) -> Callable[[int, int, Any], None]:
    """Tells how far it is, with the name of what was done last."""
    return lambda done, of, last: on_progress(done, of, last.name)


def remedies(question: Question, on_progress: Progress, stop: threading.Event) -> Remedies:
    """Every remedy tried, side by side; ``extra`` are those that only the file of the day knows."""
    assert question.previous is not None
    offered = [*remedies_of(question.day, question.previous), *(question.extra or ())]
    return try_remedies(
        question.day,
        question.previous,
        remedies=sorted(offered, key=lambda remedy: remedy.trouble),
        seconds=REMEDY_SECONDS,
        stop=stop,
        on_done=_naming(on_progress),
    )


def least_help(question: Question, on_progress: Progress, stop: threading.Event) -> Help:
    """The least help of one more hand that makes the day fit, or saves an hour where it does."""
    assert question.previous is not None
    return second_hand.least_help(
        question.day,
        question.previous,
        seconds=REMEDY_SECONDS,
        stop=stop,
        on_done=_naming(on_progress),
    )


def help_yet(question: Question, on_progress: Progress, stop: threading.Event) -> Help:
    """A hand who could still come on a day under way; ``extra`` is what was told of it."""
    rest = question.previous
    assert rest is not None
    heard = _naming(on_progress)
    return help_from_now(question.day, rest, question.extra, rest, seconds=REMEDY_SECONDS / 2, stop=stop, on_done=heard)


def traded_off(question: Question, on_progress: Progress, stop: threading.Event) -> TradeOffs:
    """All useful pairs of minutes home and restricted crossings, with a plan for each."""
    found = trade_off(
        question.day,
        seconds=WEIGH_SECONDS,
        stop=stop,
        on_done=_naming(on_progress),
    )
    for point in found.points:
        checked(question.day, point.plan)
    return found


def way_in_priced(question: Question, on_progress: Progress, stop: threading.Event) -> PriceOfWayIn:
    """What the way in to a job costs; ``extra`` is the job's key."""
    return price_of_way_in(question.day, question.extra, seconds=WEIGH_SECONDS, stop=stop)


def two_days(question: Question, on_progress: Progress, stop: threading.Event) -> Split:
    """The work split over two days."""
    return split_over_two_days(
        question.day,
        question.previous,
        seconds=WEIGH_SECONDS,
        stop=stop,
        on_done=_naming(on_progress),
    )


def broken_even(question: Question, on_progress: Progress, stop: threading.Event) -> BreakEven:
    """From what measure on a method pays; ``extra`` is its job, stage and key."""
    job, stage, method = question.extra
    return break_even(question.day, job, stage, method, seconds=WEIGH_SECONDS, stop=stop)


def _export(question: Question, path: Path, what: What, paper: Paper) -> tuple[Path, ...]:
    day, plan = question.day, question.previous
    assert plan is not None
    return export(day, plan, path, what, paper=paper, verdict=verdict(day, plan).sentence)


def given_up(question: Question, on_progress: Progress, stop: threading.Event) -> tuple[Offer, ...]:
    """What can be given up of a day under way; ``extra`` is what was told of it."""
    assert question.previous is not None
    return tuple(what_to_give_up(question.day, question.previous, question.extra))


STUDIES: dict[str, Study] = {
    "giving up": given_up,
    "sheet": sheet_pdf,
    "print": sheet_pdf,
    "document": document,
    "verdict": judged,
    "risk": played_out,
    "remedies": remedies,
    "help": least_help,
    "help yet": help_yet,
    "trade-off": traded_off,
    "way in": way_in_priced,
    "two days": two_days,
    "break-even": broken_even,
}
