"""What a command may write over: what it wrote before, and nothing that somebody needs."""

import argparse
import json
import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from planner.cli.telling import Told
from planner.day.safekeeping import FileFault, read_bytes
from planner.plan.kept import old_record_path, plan_path
from planner.record.taking_out import QUOTE_COLUMNS
from planner.record.timings import COLUMNS

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

    Raises `Told` when it is; for a file of somebody else ``--force`` says that it may go.
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
    _spare_others(path, asked, lambda data: _is_like_ours(path, data))


def _spare_others(path: Path, asked: argparse.Namespace, is_ours: Callable[[bytes], bool]) -> None:
    """See that what is there is empty or like what is to be written, unless it may go."""
    if not path.is_file() or asked.force:
        return
    with suppress(FileFault):
        data = read_bytes(path)
        if not data or is_ours(data):
            return
    raise Told(f"{path}: there is a file of another kind; give another name, or --force to write over it")


def check_table(path: Path, head: str, asked: argparse.Namespace) -> None:
    """See that a table is written over no file but one that begins as it does.

    Raises `Told` when there is another, and no ``--force``.
    """
    begins = head.removeprefix("\ufeff").encode("utf-8")
    _spare_others(path, asked, lambda data: data.removeprefix(b"\xef\xbb\xbf").startswith(begins))


def check_record_file(path: Path, asked: argparse.Namespace) -> None:
    """See that the record is taken out over no file but one that it was taken out to before.

    Raises `Told` when there is another, and no ``--force``.
    """
    if path.suffix.lower() == ".json":
        _spare_others(path, asked, lambda data: _has(data, {"timings", "quotes"}))
        return
    check_table(path, ",".join(COLUMNS), asked)
    check_table(path.with_stem(f"{path.stem}-quotes"), ",".join(QUOTE_COLUMNS), asked)


def _are_one(one: Path, other: Path) -> bool:
    try:
        return os.path.samefile(one, other)
    except OSError:
        return os.path.realpath(one) == os.path.realpath(other)


def _is_like_ours(path: Path, data: bytes) -> bool:
    if path.suffix.lower() == ".json":
        return _has(data, {"works", "drives", "visits"})
    return data[:40].lstrip().lower().startswith(tuple(x.lower() for x in _BEGINNINGS.get(path.suffix.lower(), ())))


def _has(data: bytes, names: set[str]) -> bool:
    """Whether this is a JSON object with these names, and no record of a day, which is kept with its plan."""
    try:
        found = json.loads(data)
    except (ValueError, RecursionError):
        return False
    return isinstance(found, dict) and names <= found.keys() and "record" not in found
