"""What a command may write over: what it wrote before, and nothing that somebody needs."""

import argparse
import json
import os
from pathlib import Path

from planner.cli.telling import Told
from planner.day.safekeeping import FileFault, read_bytes
from planner.plan.kept import old_record_path, plan_path

_BEGINNINGS: dict[str, tuple[bytes, ...]] = {
    ".pdf": (b"%PDF-",),
    ".html": (b"<!doctype html", b"<html"),
    ".svg": (b"<svg", b"<?xml"),
    ".png": (b"\x89PNG\r\n",),
    ".ics": (b"begin:vcalendar",),
}
"""How a document of that suffix begins, in small letters: what begins otherwise is not one that we wrote."""


def add_force(parser: argparse.ArgumentParser) -> None:
    """The word that lets a command write over what it would leave alone."""
    parser.add_argument("--force", action="store_true", help="write over a file even where it is somebody else's")


def check_output(path: Path | None, asked: argparse.Namespace) -> None:
    """See that an output is no input of the command, and nothing that it did not write.

    Raises
    ------
    Told
        When it is; for a file of somebody else ``--force`` says that it may go.
    """
    if path is None or str(path) == "-":
        return
    day = asked.file
    for one, what in (
        (day, "the day itself"),
        (plan_path(day), "the plan and the record kept beside the day"),
        (old_record_path(day), "the record of the day"),
        (getattr(asked, "plan", None), "the plan to write of"),
    ):
        if isinstance(one, Path) and _are_one(path, one):
            raise Told(f"{path}: this is {what}, and is not written over; give another name")
    if path.is_file() and not asked.force and not _is_like_ours(path):
        raise Told(f"{path}: there is a file of another kind; give another name, or --force to write over it")


def _are_one(one: Path, other: Path) -> bool:
    try:
        return os.path.samefile(one, other)
    except OSError:
        return os.path.realpath(one) == os.path.realpath(other)


def _is_like_ours(path: Path) -> bool:
    try:
        data = read_bytes(path)
    except FileFault:
        return False
    if not data:
        return True
    if path.suffix.lower() == ".json":
        return _is_plan(data)
    return data[:40].lstrip().lower().startswith(tuple(x.lower() for x in _BEGINNINGS.get(path.suffix.lower(), ())))


def _is_plan(data: bytes) -> bool:
    try:
        found = json.loads(data)
    except (ValueError, RecursionError):
        return False
    return isinstance(found, dict) and {"works", "drives", "visits"} <= found.keys() and "record" not in found
