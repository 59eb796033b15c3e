"""``slackwater schema``: the JSON schema of a plan."""

import argparse
import json
from typing import Any

from planner import cli
from planner.plan.plan_file import plan_schema


def add(commands: Any) -> None:
    """The words of this command."""
    commands.add_parser(
        "schema", help="print the JSON schema of a plan", description="Print the JSON schema of a plan."
    )


def run(asked: argparse.Namespace) -> int:
    """Print it."""
    print(json.dumps(plan_schema(), indent=1))
    return cli.DONE
