"""``slackwater open [FILE...]``: the window."""

import argparse
from typing import Any


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser("open", help="open the window", description="Open days in the window.")
    parser.add_argument("files", nargs="*", metavar="FILE", help="day files")


def run(asked: argparse.Namespace) -> int:
    """Open the window; the only command that loads Qt."""
    from planner.desktop import main

    return main(list(asked.files))
