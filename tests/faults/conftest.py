"""For the tests of faults: disks that are full or read-only, and the window's and the command's own fixtures."""

import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.cli.conftest import run, user_folders
from tests.desktop.conftest import apart, no_silent_question, planned, preferences, tiny_file, told, window

__all__ = [
    "apart", "no_silent_question", "planned", "preferences", "run", "tiny_file", "told", "user_folders", "window",
]  # fmt: skip

Disk = Callable[[str], Path]


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Callable[..., Path]]:
    """Mounts a small disk of its own (tmpfs) with the options asked for; skips where we may not."""
    mounted: list[Path] = []

    def make(options: str = "size=256k") -> Path:
        folder = tmp_path / f"disk{len(mounted)}"
        folder.mkdir()
        command = ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(folder)]
        if sys.platform != "linux" or subprocess.run(command, capture_output=True, check=False).returncode != 0:
            pytest.skip("may not mount a tmpfs here")
        mounted.append(folder)
        return folder

    yield make
    for folder in mounted:  # lazily: a window that is not closed yet holds its file
        subprocess.run(["umount", "-l", str(folder)], check=True)


def fill(folder: Path) -> Path:
    """Leave no room on a disk; gives the file whose removal makes room again."""
    ballast = folder / "ballast"
    with ballast.open("wb", buffering=0) as file:
        try:
            while True:
                file.write(bytes(4096))
        except OSError:
            return ballast


def read_only(folder: Path) -> None:
    """Mount a disk anew so that nothing may be written on it."""
    subprocess.run(["mount", "-o", "remount,ro", str(folder)], check=True)
