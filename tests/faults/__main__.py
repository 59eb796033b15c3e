"""Tries every attack and counts: ``python -m tests.faults --all``; without the word, one case in fifty.

Exits with 1 when a case was badly met. It takes a quarter of an hour.
"""

import argparse
import os
import sys
import tempfile
import time
from pathlib import Path

from tests.cli.commands import SAMPLES
from tests.faults.attacks import ATTACKS
from tests.faults.canaries import COMMANDS, songs_of
from tests.faults.endless import ENDLESS, READING
from tests.faults.half_done import HALF_DONE, badly_met
from tests.faults.limits import within_limits

MOST_SECONDS = 60
"""A case takes a second or less."""


def main() -> int:
    """Try, print a line for each attack, and the sum."""
    parser = argparse.ArgumentParser(description="Tries every attack and counts what was badly met.")
    parser.add_argument("--all", action="store_true", help="every case, not one in fifty")
    parser.add_argument("--only", default="", help="attacks whose name has this in it")
    asked = parser.parse_args()
    tried, bad = 0, list[str]()
    print(f"{'attack':<32}{'cases':>8}{'badly met':>12}")
    for name, (cases, found) in _tried(every=1 if asked.all else 50, only=asked.only):
        tried, bad = tried + cases, bad + found
        print(f"{name:<32}{cases:>8}{len(found):>12}", flush=True)
        for words in found[:5]:
            print(f"    {words}", flush=True)
    print(f"{'together':<32}{tried:>8}{len(bad):>12}")
    return 1 if bad else 0


def _tried(*, every: int, only: str):  # type: ignore[no-untyped-def]
    """Each attack's name, with how many cases were tried and what was badly met."""
    with tempfile.TemporaryDirectory(prefix="faults-") as place:
        root = Path(place)
        for name, attack in ATTACKS.items():
            if only in name:
                yield name, _cases(name, attack, root, every)
        if only in "canary modules":
            names = list(COMMANDS)[:: min(every, 7)]
            folders = {name: _made(root / f"canary{at}") for at, name in enumerate(names)}
            songs = [f"{name}: {song}" for name in names for song in songs_of(COMMANDS[name], folders[name])]
            yield "canary modules", (len(names), songs)
        if only in "texts without end":
            names = list(ENDLESS)[:: min(every, 7)]
            yield "texts without end", (len(names), [w for n in names for w in _endless(n, _made(root / "endless"))])
        for name in HALF_DONE:
            if only in f"killed: {name}":
                yield f"killed: {name}", badly_met(name, root / f"killed {name}", every=min(every, 10))


def _cases(name, attack, root, every):  # type: ignore[no-untyped-def]
    found, numbers = [], range(0, attack.cases, every)
    for number in numbers:
        bad, seconds = _case(attack, number, root)
        if seconds > MOST_SECONDS:  # once more: a machine with much else to do may stand still for so long
            bad, seconds = _case(attack, number, root)
        found += [f"{name} {number}: {words}" for words in bad]
        if seconds > MOST_SECONDS:
            found.append(f"{name} {number}: it took more than {MOST_SECONDS} seconds, twice")
    return len(numbers), found


def _case(attack, number, root):  # type: ignore[no-untyped-def]
    with tempfile.TemporaryDirectory(dir=root) as folder:
        began = time.monotonic()
        return attack.met(number, Path(folder)), time.monotonic() - began


def _endless(name: str, folder: Path) -> list[str]:
    path = folder / "day.toml"
    path.write_text(ENDLESS[name]((SAMPLES / "tiny.toml").read_text(encoding="utf-8")), encoding="utf-8")
    done = within_limits(READING, str(path))
    return [] if done.returncode == 0 else [f"{name}: {done.stderr[-100:]}"]


def _made(folder: Path) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    return folder


if __name__ == "__main__":
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    sys.exit(main())
