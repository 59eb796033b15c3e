"""The built program, tried as one who was handed it: unpacked elsewhere, no Python, no home to write to, no network.

    python -m tests.bundle && SLACKWATER_BUILT=dist python -m pytest tests/bundle/test_built.py

The window is driven on a virtual screen by its keys (``xvfb`` and ``xdotool`` of the system); without them, and without
a built program, the tests say that they were skipped.
"""

import json
import os
import shutil
import subprocess
import sys
import tarfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.bundle.screen import Screen, can_be_driven, until, virtual_screen
from tests.own_folders import own_folders

BUILT = os.environ.get("SLACKWATER_BUILT")
MOST_MEGABYTES = 280
"""More than this, unpacked, is more than a tradesperson's laptop should have to keep for a planner."""

pytestmark = [
    pytest.mark.skipif(BUILT is None, reason="SLACKWATER_BUILT names no folder with a built program"),
    pytest.mark.skipif(sys.platform != "linux", reason="tried on Linux only"),
]


@pytest.fixture(scope="module")
def program(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The program out of its archive, in a folder with spaces and umlauts that cannot be written to."""
    assert BUILT is not None
    (archive,) = Path(BUILT).resolve().glob("slackwater-*.tar.gz")
    folder = tmp_path_factory.mktemp("Grün & Söhne, office")
    with tarfile.open(archive) as packed:
        packed.extractall(folder, filter="data")
    return folder / "slackwater" / "slackwater"


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A folder for days, with one in it."""
    days = tmp_path / "Tage für morgen"
    days.mkdir()
    sample = Path(__file__).parent.parent.parent / "sample_days" / "tiny.toml"
    shutil.copy(sample, days / "tiny.toml")
    return days


def surroundings(tmp_path: Path, **more: str) -> dict[str, str]:
    """An environment without Python on the path, whose home cannot be written to."""
    home = tmp_path / "home"
    home.mkdir(exist_ok=True)
    home.chmod(0o555)
    return {"PATH": "/nowhere", "HOME": str(home), "LANG": "C.UTF-8", **more}


SHUT_IN = """/bin/mount --bind "$HOME" "$HOME" && /bin/mount -o remount,bind,ro "$HOME" && exec "$@" """
"""What closes the home to root as well, for whom a mode closes nothing."""


def shut_in() -> list[str]:
    """What runs a program without any network, and with a home that nobody can write to, where that is allowed."""
    command = ["/usr/bin/unshare", "--net", "--mount"]
    allowed = Path(command[0]).exists() and subprocess.run([*command, "/bin/true"], check=False).returncode == 0
    return [*command, "/bin/sh", "-c", SHUT_IN, "sh"] if allowed else []


def run(program: Path, *words: str, tmp_path: Path) -> subprocess.CompletedProcess[str]:
    command = [*shut_in(), str(program), *words]
    return subprocess.run(
        command, env=surroundings(tmp_path), cwd="/", capture_output=True, text=True, check=False, timeout=300
    )


def test_it_is_small_enough(program: Path) -> None:
    files = [path for path in program.parent.rglob("*") if path.is_file() and not path.is_symlink()]
    megabytes = sum(path.stat().st_size for path in files) / 1e6
    assert megabytes < MOST_MEGABYTES, f"{megabytes:.0f} MB"


def test_it_carries_guide_licences_and_sample_days(program: Path) -> None:
    folder = program.parent
    assert "<h1>The words</h1>" in (folder / "guide.html").read_text("utf-8")
    licences = (folder / "licences.md").read_text("utf-8")
    for name in ("ortools", "pydantic", "reportlab", "pandas", "numpy", "PySide6", "Qt", "DejaVu"):
        assert name in licences, name
    shown = folder / "_internal" / "planner" / "_resources" / "licences.md"  # by the window's About
    assert shown.read_text("utf-8") == licences
    assert (folder / "sample_days" / "rear_patio.toml").is_file()


def test_every_command_has_its_help(program: Path, tmp_path: Path) -> None:
    from planner.cli import COMMANDS

    for command in COMMANDS:
        done = run(program, command, "--help", tmp_path=tmp_path)
        assert (done.returncode, done.stderr) == (0, ""), command


def test_the_command_plans_prints_and_draws(program: Path, place: Path, tmp_path: Path) -> None:
    day = str(place / "tiny.toml")
    planned = run(program, "plan", day, "--keep", tmp_path=tmp_path)
    assert planned.returncode == 0, planned.stderr
    assert "Proven best" in planned.stdout
    for words, made in ((["sheet", day], "sheet.pdf"), (["export", day, "chart"], "chart.png")):
        done = run(program, *words, "-o", str(place / made), tmp_path=tmp_path)
        assert done.returncode == 0, done.stderr
    text = "".join(page.extract_text() for page in PdfReader(place / "sheet.pdf").pages)
    assert "Treat the wall" in text
    assert (place / "chart.png").read_bytes().startswith(b"\x89PNG")
    assert run(program, "fit", day, tmp_path=tmp_path).returncode == 0


@pytest.fixture
def screen() -> Iterator[Screen]:
    """A virtual screen."""
    if not can_be_driven():
        pytest.skip("needs xvfb and xdotool of the system")
    with virtual_screen() as seen:
        yield seen


def test_the_window_plans_in_a_process_of_its_own_and_prints(
    program: Path, place: Path, tmp_path: Path, screen: Screen
) -> None:
    environment = surroundings(tmp_path, DISPLAY=screen.name, **own_folders(tmp_path))
    command = [*shut_in(), str(program), "open", str(place / "tiny.toml")]
    kept, pdf = place / "tiny.plan.json", tmp_path / "from the window.pdf"
    with subprocess.Popen(command, env=environment, cwd="/") as window:
        try:
            shown = until(lambda: screen.window("tiny"))
            assert shown is not None, "no window came up"
            assert until(lambda: _children(window.pid)), "no process of its own thinks"
            assert until(lambda: kept.exists() and json.loads(kept.read_text("utf-8"))), "no plan came"
            screen.press(shown, "ctrl+shift+p")
            asked = until(lambda: screen.window("Save as"))
            assert asked is not None, "nobody asked where to save the run sheet"
            screen.type(asked, str(pdf))
            assert until(lambda: pdf.exists() and pdf.stat().st_size > 1000), "the window wrote no PDF"
            assert "Treat the wall" in PdfReader(pdf).pages[0].extract_text()
        finally:
            window.terminate()


def _children(pid: int) -> list[str]:
    path = Path(f"/proc/{pid}/task/{pid}/children")
    return path.read_text().split() if path.exists() else []
