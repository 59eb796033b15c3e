"""``slackwater quote``: work that was quoted, kept until it is done, and brought into a day whole."""

import argparse
import datetime as dt
from pathlib import Path
from typing import Any

from planner import cli
from planner.cli import adding
from planner.cli.saying import say
from planner.cli.settling import opened_record, whole
from planner.cli.telling import Told
from planner.day.file import DayFaults, DayFile
from planner.day.reading import day_text
from planner.record import Quote
from planner.record.quoted_jobs import job_of, quotes_from_csv, table_of_jobs


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "quote",
        help="keep quoted work, and bring it into a day",
        description="Keep quoted work until it is done, and bring it into a day whole, so that nothing is forgotten.",
    )
    doing = parser.add_subparsers(dest="doing", metavar="WHAT", required=True)
    new = doing.add_parser("add", help="keep quotes, from a table of jobs or said here")
    new.add_argument("table", type=Path, nargs="?", metavar="CSV", help="a table of jobs, as take-in reads it")
    new.add_argument("--title", help="without a table: what the job is called")
    new.add_argument("--customer", default="", help="without a table: whose job it is")
    new.add_argument(
        "--work",
        nargs="+",
        action="append",
        default=[],
        metavar="COLUMN=VALUE",
        help="without a table: one surface, for example recipe=clear-gutters run='11 m' ground=front; may be repeated",
    )
    new.add_argument("--promise", action="append", default=[], help="what was promised, in their words")
    new.add_argument("--on", type=dt.date.fromisoformat, default=None, metavar="DATE", help="day of the quote (today)")
    listed = doing.add_parser("list", help="show the quotes that are in no day yet")
    listed.add_argument("--all", action="store_true", help="show those planned and done too")
    bring = doing.add_parser("bring", help="bring a quote into a day file")
    _add_number(bring)
    bring.add_argument("file", type=Path, metavar="FILE", help="the day file (TOML)")
    bring.add_argument(
        "--drive",
        action="append",
        default=[],
        metavar="PLACE=MINUTES",
        help="travel time to its place, for example yard='16 min'; may be repeated",
    )
    _add_number(doing.add_parser("done", help="mark a quote done"))
    _add_number(doing.add_parser("back", help="put a planned quote back among the open ones"))


def _add_number(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("number", type=whole(1, 2**31 - 1), metavar="N", help="number of the quote, from the list")


def run(asked: argparse.Namespace) -> int:
    """Do as asked, and say what was done."""
    return {"add": _add, "list": _list, "bring": _bring, "done": _done, "back": _back}[asked.doing](asked)


def _add(asked: argparse.Namespace) -> int:
    if (asked.table is None) == (not asked.work):
        raise Told("give a table of jobs, or --title with --work for each surface")
    if asked.table is not None:
        text, path = day_text(asked.table), asked.table
    else:
        text, path = _said(asked), Path("--work")
    try:
        quotes = quotes_from_csv(text, path, asked.on or dt.date.today(), asked.promise)
    except ValueError as fault:
        raise Told(str(fault)) from None
    if not quotes:
        raise Told(f"{path}: there are no jobs in it; write a row for each surface")
    with opened_record() as record:
        with record.as_one():
            kept = [record.add_quote(quote) for quote in quotes]
        for quote in kept:
            say(f"kept: {_line(quote)}")
    return cli.DONE


def _said(asked: argparse.Namespace) -> str:
    """The table of jobs that ``--title`` and ``--work`` stand for."""
    if not asked.title:
        raise Told("say what the job is called with --title")
    rows = []
    for words in asked.work:
        pairs = [word.partition("=") for word in words]
        wrong = next((name for name, is_said, _ in pairs if not is_said), None)
        if wrong is not None:
            raise Told(f"--work: '{wrong}' has no value; write for example run='11 m'")
        rows.append({name: value for name, _, value in pairs} | {"job": asked.title, "customer": asked.customer})
    return table_of_jobs(rows)


def _list(asked: argparse.Namespace) -> int:
    with opened_record() as record:
        quotes = record.quotes() if asked.all else record.open_quotes()
    for quote in quotes:
        say(_line(quote))
        for work in quote.work:
            said = ", ".join(f"{name} {value}" for name, value in work.measures.items())
            say(f"      {work.surface or work.recipe}: {work.recipe} ({said})")
        for promise in quote.promises:
            say(f"      promised: {promise}")
    if not quotes:
        say("There are no quotes." if asked.all else "There are no open quotes.")
    return cli.DONE


def _bring(asked: argparse.Namespace) -> int:
    """The quote is claimed before the file is saved, and given back if that fails: no quote is in two days, or lost."""
    with opened_record() as record:
        quote = record.quote(asked.number)
        file = DayFile.open(asked.file)
        try:
            key, job = job_of(quote)
        except ValueError as fault:
            raise Told(str(fault)) from None
        key = key if key not in file.day.jobs else f"{key}-{quote.id}"
        changes = adding.changes_for_places(file.day, [job["place"]])
        changes += adding.changes_for_trips(file, adding.drives_from(asked.drive, job["place"]))
        changes += adding.changes_for_jobs(file.day, {key: job})
        day = file.change_all(changes)
        record.bring_into_day(quote.id, day.date, file=file.path, job=key)
        try:
            file.save()
        except DayFaults:
            record.put_back(quote.id)
            raise
        record.is_in_day(quote.id)
    say(f"{asked.file}: quote {quote.id} is in as job '{key}', {len(day.jobs[key].stages)} stages")
    return cli.DONE


def _done(asked: argparse.Namespace) -> int:
    with opened_record() as record:
        say(_line(record.mark_done(asked.number)))
    return cli.DONE


def _back(asked: argparse.Namespace) -> int:
    with opened_record() as record:
        say(_line(record.put_back(asked.number)))
    return cli.DONE


def _line(quote: Quote) -> str:
    whose = f", {quote.customer}" if quote.customer else ""
    when = f" for {quote.day}" if quote.day else ""
    return f"{quote.id:>4}  {quote.title}{whose}: quoted {quote.quoted_on}, {quote.state}{when}"
