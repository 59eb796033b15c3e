"""``slackwater export FILE WHAT -o OUT``: the day for other people's tools."""

import argparse
from typing import Any

from rich.console import Console

from planner.cli import settling
from planner.cli.kept_day import shown_day
from planner.cli.outputs import check_output, check_table
from planner.cli.sheet import add_output
from planner.sheet.csv_tables import csv_tables
from planner.sheet.export import export


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "export",
        help="write a calendar, tables, JSON or the chart",
        description="Write a planned day for other tools: calendar (.ics), tables (a folder of .csv), JSON, chart.",
    )
    settling.add_day(parser)
    parser.add_argument("what", choices=("calendar", "tables", "json", "chart"), help="what to write")
    settling.add_planning(parser)
    add_output(parser, "the file to write (.ics, .json, .svg, .png), or the folder for tables")
    parser.add_argument("--stages", action="store_true", help="calendar: each stage as an entry too")
    parser.add_argument("--alarms", action="store_true", help="calendar: an alarm for each wait")
    parser.add_argument(
        "--theme",
        choices=("light", "dark", "grey", "print"),
        default="light",
        help="chart: its inks (default %(default)s)",
    )


def run(asked: argparse.Namespace) -> int:
    """Write what was asked for."""
    if asked.what != "tables":  # they go into a folder, under names of their own
        check_output(asked.out, asked)
    shown = shown_day(asked, Console(stderr=True))
    day, plan = shown.day, shown.plan
    if asked.what == "tables":
        for name, text in csv_tables(day, plan).items():
            check_table(asked.out / f"{name}.csv", text.partition("\r\n")[0], asked)
    for path in export(day, plan, asked.out, asked.what, stages=asked.stages, waits=asked.alarms, theme=asked.theme):
        print(path)
    return shown.code
