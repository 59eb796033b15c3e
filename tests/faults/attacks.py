"""Attacks on what the program reads and on its window, each a row of cases that are made anew from their number.

A case is *badly met* when it ends in a traceback, when a fault is told without naming its file, or when something that
was there before is lost. `python -m tests.faults` tries them all and counts.
"""

import contextlib
import io
import os
import random
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from planner.cli import DONE, FAULTY, main
from planner.day.file import read_day
from planner.day.safekeeping import FileFault
from planner.plan.kept import Kept, keep, plan_path, read_kept
from planner.plan.progress import Noted, Progress
from planner.record import Record
from planner.record.database import RecordFault
from planner.trade.forecast import read_csv, read_json
from tests.cli.commands import SAMPLES
from tests.faults.crashes import window_crash
from tests.faults.hostile_names import CASES, hostile_name
from tests.own_folders import laid_under
from tests.sheet.plans import tiny_plan

Bad = list[str]

SPLINTERS: tuple[str, ...] = (
    "", "\x00", "\r", "\n", "\t", '"', "'", '"""', "'''", "[", "]", "[[", "{", "}", "=", ".", ",", "#", "\\", "\\u0000",
    "-1", "0", "1e999", "nan", "inf", "9" * 30, "9" * 5000, "true", "1979-05-27", "07:30", "25:61", "20 m2/0", "40 km/",
    "20 m**9**9**9", "08:00 +99999", "\u202e", "\ufeff", "é", "\U0001f600", "<img src='file:///etc/passwd'>", "../../x",
    "=cmd()", "{{ 7*7 }}", "[bold]x[/bold]", "\x1b]0;x\x07", "a" * 3000, "a." * 40 + "a",
)  # fmt: skip
"""What is put into files, or in the place of what stands there."""


@dataclass(frozen=True)
class Attack:
    """So many cases, each tried in a folder of its own, some of them ``in_tests``; gives what was badly met."""

    cases: int
    met: Callable[[int, Path], Bad]
    in_tests: int = 6


def spoilt(text: str, rng: random.Random) -> str:
    """A text with one to three places spoilt: bits taken out, put in, doubled, moved, or other values."""
    for _ in range(rng.randint(1, 3)):
        at = rng.randrange(len(text) + 1)
        end = min(len(text), at + rng.choice((0, 1, 1, 3, 12, 80)))
        kind = rng.randrange(5)
        if kind == 0:
            text = text[:at] + text[end:]
        elif kind == 1:
            text = text[:at] + rng.choice(SPLINTERS) + text[end:]
        elif kind == 2:
            text = text[:end] + text[at:]
        elif kind == 3:
            lines = text.splitlines(keepends=True) or [""]
            one, other = rng.randrange(len(lines)), rng.randrange(len(lines))
            lines[one], lines[other] = lines[other], lines[one]
            text = "".join(lines)
        else:
            words = text.split(" ")
            words[rng.randrange(len(words))] = rng.choice(SPLINTERS)
            text = " ".join(words)
    return text


def spoilt_bytes(data: bytes, rng: random.Random) -> bytes:
    """The bytes with one to four bits turned, or a piece gone."""
    found = bytearray(data)
    if rng.random() < 0.2:
        at = rng.randrange(len(found))
        return bytes(found[:at] + found[at + rng.randint(1, 600) :])
    for _ in range(rng.randint(1, 4)):
        found[rng.randrange(len(found))] ^= 1 << rng.randrange(8)
    return bytes(found)


def command(folder: Path, *words: object, allowed: tuple[int, ...] = (DONE, FAULTY)) -> Bad:
    """Run a command in this process, with the user's folders in ``folder``; what is wrong with how it ended."""
    out, err = io.StringIO(), io.StringIO()
    with laid_under(folder), contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = main([str(word) for word in words])
        except SystemExit as end:
            code = int(end.code or 0)
        except BaseException as fault:
            return [f"{words[0]}: {type(fault).__name__}: {str(fault)[:120]}"]
    bad = [] if code in allowed else [f"{words[0]}: ended with {code}"]
    if "Traceback" in err.getvalue():
        bad.append(f"{words[0]}: a traceback")
    names = (str(folder), folder.name, "/dev/zero")  # a link is told by what it leads to
    if code == FAULTY and not any(name in err.getvalue() for name in names):
        bad.append(f"{words[0]}: a fault that names no file: {err.getvalue()[:120]}")
    return bad


# --- files ---------------------------------------------------------------------------------------------------------


def _sample(rng: random.Random) -> Path:
    return rng.choice(sorted(SAMPLES.glob("*.toml")))


def day_file(number: int, folder: Path) -> Bad:
    """A day file with something spoilt in it, checked."""
    rng = random.Random(number)
    path = folder / "day.toml"
    path.write_bytes(spoilt(_sample(rng).read_text(encoding="utf-8"), rng).encode("utf-8", "replace"))
    return command(folder, "check", path)


def day_bytes(number: int, folder: Path) -> Bad:
    """A day file with bits turned."""
    rng = random.Random(number)
    path = folder / "day.toml"
    path.write_bytes(spoilt_bytes(_sample(rng).read_bytes(), rng))
    return command(folder, "check", path)


def day_values(number: int, folder: Path) -> Bad:
    """A day file in which one value is another."""
    rng = random.Random(number)
    lines = _sample(rng).read_text(encoding="utf-8").splitlines()
    at = rng.choice([n for n, line in enumerate(lines) if "=" in line and not line.startswith("#")])
    splinter = rng.choice(SPLINTERS).replace('"', "").replace("\\", "").replace("\n", " ").replace("\r", " ")
    value = rng.choice((f'"{splinter}"', splinter, f'["{splinter}"]', "[]", "{}", f'{{ x = "{splinter}" }}'))
    lines[at] = f"{lines[at].split('=')[0]}= {value}"
    path = folder / "day.toml"
    path.write_bytes("\n".join(lines).encode("utf-8", "replace"))
    return command(folder, "check", path)


def own_values(number: int, folder: Path) -> Bad:
    """The user's own values with something spoilt in them; the day is planned by the shipped ones or by those."""
    rng = random.Random(number)
    own = (
        "[kit.washer]\nname = 'Our washer'\nload = 1.0\n\n[limits.great-britain.vibration]\naction = 2.5\n\n"
        "[methods.wash.lance]\nrate = '40 m2/h'\n\n[cautions.own]\ntitle = 'Own'\ntext = 'Mind'\nsource = 'us'\n"
    )
    path = folder / "settings" / "slackwater" / "trade.toml"
    path.parent.mkdir(parents=True)
    path.write_bytes(spoilt(own, rng).encode("utf-8", "replace"))
    day = folder / "day.toml"
    shutil.copyfile(SAMPLES / "by_recipe.toml", day)
    return command(folder, "check", day)


def forecast(number: int, folder: Path) -> Bad:
    """A forecast with something spoilt in it, or with line ends of another age."""
    rng = random.Random(number)
    rows = "".join(f"{hour:02d}:00,{12 + hour / 4},0.{60 + hour},{hour}\n" for hour in range(6, 20))
    table = "time,temperature,humidity,wind\n" + rows
    hourly = '{"hourly": {"time": ["06:00", "07:00"], "temperature_2m": [12, 13], "relative_humidity_2m": [60, 61]'
    text = spoilt(rng.choice((table, hourly + ', "wind_speed_10m": [5, 6]}}')), rng)
    if rng.random() < 0.3:
        text = text.replace("\n", rng.choice(("\r", "\r\n", "\n\r")))
    if rng.random() < 0.1:
        text += "x" * 200_000
    bad = []
    for reader in (read_csv, read_json):
        try:
            reader(text, source="forecast")
        except (ValueError, RecursionError, OverflowError):
            continue
        except Exception as fault:
            bad.append(f"{reader.__name__}: {type(fault).__name__}: {str(fault)[:100]}")
    return bad


def kept_file(number: int, folder: Path) -> Bad:
    """A plan kept with its record, with something spoilt in it: read, or told, and never lost by a new plan."""
    rng = random.Random(number)
    day = folder / "day.toml"
    shutil.copyfile(SAMPLES / "tiny.toml", day)
    keep(day, read_day(day), Kept(tiny_plan(), Progress(520, (Noted("elm", "treat", 496, 508),))))
    path = plan_path(day)
    path.write_bytes(spoilt(path.read_text(encoding="utf-8"), rng).encode("utf-8", "replace"))
    before = path.read_bytes()
    try:
        read_kept(day)
    except FileFault:
        pass
    except Exception as fault:
        return [f"{type(fault).__name__}: {str(fault)[:100]}"]
    bad = command(folder, "check", day, path, allowed=(DONE, FAULTY, 5))
    return bad if path.read_bytes() == before else [*bad, "what was kept was changed by a look at it"]


def record_file(number: int, folder: Path) -> Bad:
    """The record with bits turned: used, told, or set aside, and what it held is still in some file."""
    rng = random.Random(number)
    path = folder / "data" / "slackwater" / "record.sqlite"
    good = _good_record(folder)
    path.parent.mkdir(parents=True)
    path.write_bytes(spoilt_bytes(good, rng))
    before = path.read_bytes()
    day = folder / "day.toml"
    shutil.copyfile(SAMPLES / "tiny.toml", day)
    bad = command(folder, "pace", "--day", day) + command(folder, "quote", "list", "--all")
    try:
        with Record.open(path) as record:
            record.timings()
            record.quotes()
    except RecordFault:
        pass
    except Exception as fault:
        bad.append(f"{type(fault).__name__}: {str(fault)[:100]}")
    was_mended = any(other.name.startswith("record.broken-") for other in path.parent.iterdir())
    if was_mended and not any(other.read_bytes() == before for other in path.parent.iterdir() if other.is_file()):
        bad.append("a broken record is in no file any more")
    return bad


_GOOD: list[bytes] = []


def _good_record(folder: Path) -> bytes:
    """A record with two quotes and two times, made once."""
    if not _GOOD:
        day = folder / "made.toml"
        shutil.copyfile(SAMPLES / "tiny.toml", day)
        plan_path(day).write_text("")
        plan_path(day).unlink()
        keep(day, read_day(day), Kept(tiny_plan()))
        words = ("quote", "add", "--title", "Grüße", "--work", "recipe=clear-gutters", "run=11 m", "ground=front")
        for asked in (words, words, ("pace", "--note", day, "--took", "treat=20", "rinse=30")):
            wrong = command(folder, *asked)
            assert not wrong, wrong
        made = next(folder.rglob("record.sqlite"))
        _GOOD.append(made.read_bytes())
        for file in made.parent.iterdir():
            file.unlink()
        made.parent.rmdir()
    return _GOOD[0]


def strange_file(number: int, folder: Path) -> Bad:
    """A pipe, a folder, a device, a link in a circle or a huge file in the place of one of the files that are read."""
    kinds = ("pipe", "folder", "device", "circle", "huge")
    places = ("day", "plan", "old record", "values", "record", "mark", "forecast", "table", "copy")
    kind, place = kinds[number % len(kinds)], places[number // len(kinds) % len(places)]
    day = folder / "day.toml"
    shutil.copyfile(SAMPLES / "tiny.toml", day)
    path = {
        "day": day,
        "plan": plan_path(day),
        "old record": folder / "day.now.json",
        "values": folder / "settings" / "slackwater" / "trade.toml",
        "record": folder / "data" / "slackwater" / "record.sqlite",
        "mark": folder / "day.plan.json.in-use",
        "forecast": folder / "forecast.csv",
        "table": folder / "table.csv",
        "copy": folder / "copies" / "4000000-1.json",
    }[place]
    if place == "forecast":
        day.write_text(day.read_text(encoding="utf-8").replace("[van]", 'weather_file = "forecast.csv"\n[van]'))
    path.parent.mkdir(parents=True, exist_ok=True)
    path.unlink(missing_ok=True)
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    elif kind == "device":
        path.symlink_to("/dev/zero")
    elif kind == "circle":
        path.symlink_to(path)
    else:
        with path.open("wb") as file:
            file.truncate(2**32)
    if place == "table":
        return [
            wrong
            for words in (
                ("quote", "add", path),
                *(("take-in", day, f"--{what}", path) for what in ("jobs", "places", "travel", "forecast")),
                ("check", day, path),
            )
            for wrong in command(folder, *words, allowed=(FAULTY,))
        ]
    if place in ("copy", "mark", "day", "plan"):
        return _in_the_window(folder, day) + ([] if place == "copy" else _by_commands(folder, day))
    return _by_commands(folder, day)


def _in_the_window(folder: Path, day: Path) -> Bad:
    """What the window reads, without its widgets: the day and what lies beside it, and copies that others left."""
    from planner.desktop.model.filing import open_file
    from planner.desktop.model.safety_copy import left_behind

    try:
        left_behind(folder / "copies")
        open_file(day, read_only=True)
    except FileFault:
        return []
    except Exception as fault:
        return [f"the window: {type(fault).__name__}: {str(fault)[:100]}"]
    return []


def _by_commands(folder: Path, day: Path) -> Bad:
    quick = ("--seconds", "0.5", "--workers", "1")
    bad = command(folder, "plan", day, "--keep", *quick, allowed=(DONE, FAULTY, 4))
    bad += command(folder, "now", day, "--at", "08:30", "--likely", *quick, allowed=(DONE, FAULTY, 3, 4))
    return bad + command(folder, "quote", "list", allowed=(DONE, FAULTY))


ATTACKS: dict[str, Attack] = {
    "day files, spoilt": Attack(1500, day_file),
    "day files, bits turned": Attack(500, day_bytes),
    "day files, one value": Attack(1000, day_values),
    "own values, spoilt": Attack(400, own_values),
    "forecasts, spoilt": Attack(800, forecast),
    "kept plans, spoilt": Attack(500, kept_file),
    "records, bits turned": Attack(300, record_file),
    "strange files": Attack(45, strange_file),
    "hostile names": Attack(CASES, hostile_name, 1),
    "window crashes": Attack(20, window_crash, 2),
}
