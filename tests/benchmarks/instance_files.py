"""Files of published project scheduling instances: which lie in a folder, what they hold, and their best values."""

import csv
import re
from pathlib import Path

import psplib

FORMATS = {".sm": "psplib", ".sch": "rcpsp_max"}
"""Suffixes of the instances that are read: PSPLIB single-mode projects, and projects with maximum time lags."""


def instances(folder: Path) -> list[Path]:
    """The instances in a folder: files with a known suffix that hold a project and not a list of best values.

    Some sets are published with names in capitals (``PSP1.SCH``).
    """
    files = sorted(path for path in folder.iterdir() if path.suffix.lower() in FORMATS)
    return [
        path for path in files if path.suffix.lower() == ".sch" or "PRECEDENCE RELATIONS" in path.read_text("latin-1")
    ]


def read(path: Path) -> psplib.ProjectInstance:
    """Read an instance.

    Raises
    ------
    ValueError
        When it is not of the format that its suffix says, or has resources that are used up.
    """
    kind = FORMATS[path.suffix.lower()]
    try:
        instance = psplib.parse(path, instance_format=kind)
    except (ValueError, IndexError, KeyError, StopIteration) as fault:
        raise ValueError(f"{path}: this is no {kind} instance ({fault})") from None
    if not all(resource.renewable for resource in instance.resources):
        raise ValueError(f"{path}: it has resources that are used up; only renewable ones are compared here")
    return instance


def published_optima(folder: Path) -> dict[str, int | str]:
    """Best values that lie beside the instances, by file name.

    Read are ``optima.csv`` (``j301_1.sm,43`` or ``psp1.sch,infeasible`` a line) and PSPLIB's own lists such as
    ``j30opt.sm`` (parameter, instance, makespan; the layout from memory).
    """
    found: dict[str, int | str] = {}
    for path in sorted(folder.glob("*opt.sm")):
        stem = path.name.removesuffix("opt.sm")
        for group, number, makespan in re.findall(r"^\s*(\d+)\s+(\d+)\s+(\d+)\s", path.read_text("latin-1"), re.M):
            found[f"{stem}{group}_{number}.sm"] = int(makespan)
    listed = folder / "optima.csv"
    if listed.exists():
        with listed.open(encoding="utf-8", newline="") as lines:
            for name, value, *_ in csv.reader(lines):
                found[name.strip()] = int(value) if value.strip().isdigit() else value.strip()
    return found
