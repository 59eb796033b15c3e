"""What a command leaves when it is ended half-way: all of before, or all of after, never some of each."""

import contextlib
import os
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from shutil import copyfile

from planner.cli import main
from planner.day.file import read_day
from planner.plan.checker import broken_rules
from planner.plan.kept import Kept, keep, plan_path, read_kept
from planner.plan.plan_file import plan_from_json, plan_to_json
from planner.plan.progress import Noted, Progress
from planner.record import Record
from tests.cli.commands import SAMPLES
from tests.faults.kills import each_instant
from tests.own_folders import laid_under
from tests.sheet.plans import tiny_plan

GIVEN_UP = ("elm", "sweep")
BEFORE = Progress(500, (Noted("elm", "treat", 496, None),), dropped=(GIVEN_UP,))

JOBS = (
    "job,customer,recipe,run,ground,place\n"
    "Gutters one,Ash,clear-gutters,11 m,front,yard\n"
    "Gutters two,Bo,clear-gutters,12 m,front,yard\n"
)


@dataclass(frozen=True)
class HalfDone:
    """A command to be ended: what is there before, the command, and what is wrong with what it leaves."""

    prepared: Callable[[Path], None]
    action: Callable[[Path], object]
    wrong: Callable[[Path], list[str]]


def badly_met(name: str, folder: Path, *, every: int = 1) -> tuple[int, list[str]]:
    """End a command at each (or every so manieth) of its instants; how many those are, and what is wrong then."""
    case = HALF_DONE[name]
    _load_all(folder)
    left = each_instant(folder, case.action, case.prepared, every)
    return len(left), [f"{name}, instant {own.name}: {wrong}" for own in left for wrong in case.wrong(own)]


@cache
def _load_all(folder: Path) -> None:
    """Load what the commands need, so that their forks need not each load it again."""
    import planner.engine.search  # noqa: F401  the solver

    folder.mkdir(parents=True, exist_ok=True)
    with contextlib.redirect_stdout(open(os.devnull, "w")), laid_under(folder):
        assert main(["check", str(SAMPLES / "by_recipe.toml")]) == 0


def _day(folder: Path) -> Path:
    return folder / "day.toml"


def _with_day(folder: Path) -> None:
    copyfile(SAMPLES / "tiny.toml", _day(folder))


def _run(*words: object) -> Callable[[Path], object]:
    def action(folder: Path) -> None:
        os.chdir(folder)
        with laid_under(folder):
            code = main([str(word) for word in words])
        assert code in (0, 4), code

    return action


# --- the day under way -------------------------------------------------------------------------------------------


def _under_way(folder: Path) -> None:
    _with_day(folder)
    keep(_day(folder), read_day(_day(folder)), Kept(tiny_plan(), BEFORE))


def _record_is_whole(folder: Path) -> list[str]:
    kept = read_kept(_day(folder))
    if kept is None or kept.progress is None:
        return ["what was noted is lost"]
    wrong = [] if GIVEN_UP in kept.progress.dropped else ["a stage that was given up is not"]
    is_after = kept.progress.at != BEFORE.at
    if is_after is (kept.plan == tiny_plan()):
        wrong.append("plan and record are not of one moment")
    if is_after and kept.plan.work(*GIVEN_UP) is not None:
        wrong.append("a stage that was given up is planned again")
    return wrong


# --- a plan kept -------------------------------------------------------------------------------------------------


def _with_plan(folder: Path) -> None:
    _with_day(folder)
    text = plan_to_json(tiny_plan(), read_day(_day(folder)))
    plan_path(_day(folder)).write_text(text, encoding="utf-8")


def _plan_holds(folder: Path) -> list[str]:
    plan = plan_from_json(plan_path(_day(folder)).read_text(encoding="utf-8"))
    return [rule.text for rule in broken_rules(read_day(_day(folder)), plan)]


# --- the record of the trade -------------------------------------------------------------------------------------


def _with_quote(folder: Path) -> None:
    _with_day(folder)
    (folder / "jobs.csv").write_text(JOBS)
    with laid_under(folder), contextlib.redirect_stdout(open(os.devnull, "w")):
        assert main(["quote", "add", str(folder / "jobs.csv")]) == 0


def _with_jobs(folder: Path) -> None:
    _with_day(folder)
    (folder / "jobs.csv").write_text(JOBS)


def _opened(folder: Path) -> Record:
    return Record.open(folder / "data" / "slackwater" / "record.sqlite")


def _quote_is_somewhere(folder: Path) -> list[str]:
    with _opened(folder) as record:
        quote = record.quote(1)
    jobs = sum(job.title == quote.title for job in read_day(_day(folder)).jobs.values())
    if quote.state == "open":
        return [] if jobs == 0 else ["the quote is open and in the day too"]
    return [] if jobs == 1 else ["the quote is lost: neither open nor in the day"]


def _quotes_are_both_or_none(folder: Path) -> list[str]:
    with _opened(folder) as record:
        count = len(record.quotes())
    return [] if count in (0, 2) else [f"{count} of 2 quotes are kept"]


def _times_are_both_or_none(folder: Path) -> list[str]:
    with _opened(folder) as record:
        count = len(record.timings())
    return [] if count in (0, 2) else [f"{count} of 2 times are noted"]


# --- the window --------------------------------------------------------------------------------------------------


def _save_in_the_window(folder: Path) -> None:
    from planner.desktop.model.filing import open_file, save_file
    from planner.plan.progress import Noted

    filed = open_file(_day(folder))
    filed.open_day.set("Change title", ("title",), "changed")
    day = filed.open_day.day
    assert day is not None
    filed.open_day.keep_plan(tiny_plan())
    filed.open_day.mark(Noted("elm", "treat", 496, 508))
    filed.open_day.keep_plan(tiny_plan())
    save_file(filed, _day(folder))


def _day_and_kept_are_whole(folder: Path) -> list[str]:
    wrong = [] if read_day(_day(folder)).title in ("changed", "One wall, one path") else ["the day is of no moment"]
    kept = read_kept(_day(folder))
    if kept is None or kept.progress is None:
        return [*wrong, "what was noted is lost"]
    return wrong if GIVEN_UP in kept.progress.dropped else [*wrong, "a stage that was given up is not"]


QUICK = ("--seconds", "1", "--workers", "1", "--shipped-pace")

HALF_DONE = {
    "now --keep": HalfDone(
        _under_way,
        _run("now", "day.toml", "--at", "08:29", "--done", "treat@08:28", "--keep", *QUICK),
        _record_is_whole,
    ),
    "plan --keep": HalfDone(_with_plan, _run("plan", "day.toml", "--keep", *QUICK), _plan_holds),
    "quote bring": HalfDone(_with_quote, _run("quote", "bring", 1, "day.toml"), _quote_is_somewhere),
    "quote add": HalfDone(_with_jobs, _run("quote", "add", "jobs.csv"), _quotes_are_both_or_none),
    "pace --note": HalfDone(
        _with_plan, _run("pace", "--note", "day.toml", "--took", "treat=20", "rinse=30"), _times_are_both_or_none
    ),
    "saving in the window": HalfDone(_under_way, _save_in_the_window, _day_and_kept_are_whole),
}
