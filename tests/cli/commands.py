"""What a command did, and running one in a process of its own."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parent.parent.parent
SAMPLES = ROOT / "sample_days"


class Ran(NamedTuple):
    """The end of a command."""

    code: int
    out: str
    err: str

    @property
    def told(self) -> list[str]:
        """What it told the user on the error stream, a line each."""
        return self.err.splitlines()


Run = Callable[..., Ran]


def apart(*words: object) -> Ran:
    """Run ``python`` with these words in a process of its own."""
    command = [sys.executable, *map(str, words)]
    done = subprocess.run(command, capture_output=True, cwd=ROOT, timeout=300, check=False)
    return Ran(done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8"))
