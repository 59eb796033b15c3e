"""The program works offline, opens no port and sends nothing, and writes only where it is told to.

What the source may import is asked of the source itself; what a run really does is asked of Python's audit hooks
(PEP 578), which see every socket, every process and every file that is opened, whichever library opens it.
"""

import ast
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from planner.day.file import day_to_toml
from planner.plan.plan_file import plan_to_json
from tests.architecture import parsed
from tests.sheet.hostile import SCRIPT, hostile_day
from tests.sheet.plans import tiny_plan

ROOT = Path(__file__).parent.parent
SOURCES = sorted((ROOT / "planner").rglob("*.py"))

NETWORK = {
    "aiohttp", "asyncio", "ftplib", "http", "httpx", "imaplib", "multiprocessing.managers", "nntplib", "poplib",
    "PySide6.QtNetwork", "PySide6.QtNetworkAuth", "PySide6.QtWebChannel", "PySide6.QtWebEngineCore",
    "PySide6.QtWebEngineWidgets", "PySide6.QtWebSockets", "requests", "smtplib", "socket", "socketserver", "ssl",
    "telnetlib", "urllib.request", "urllib3", "webbrowser", "wsgiref", "xmlrpc",
}  # fmt: skip
"""Modules that talk to other machines."""

LISTENERS = {"multiprocessing.connection.Client", "multiprocessing.connection.Listener"}
"""Names from a module that is otherwise needed for pipes between our own processes."""

CODE_FROM_DATA = {"code", "dill", "imp", "marshal", "pickle", "runpy", "shelve", "yaml"}
"""Modules that make code, or any object, of what a file holds."""

CALLS = {"eval", "exec", "compile", "__import__"}
SHELLS = {"os.system", "os.popen", "subprocess.getoutput", "subprocess.getstatusoutput"}


def imports_of(tree: ast.AST) -> Iterator[str]:
    """Every module that a source imports, wherever in it, and every name that it takes from one."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def is_of(name: str, modules: set[str]) -> bool:
    parts = name.split(".")
    return any(".".join(parts[: n + 1]) in modules for n in range(len(parts)))


OWN_PAIR = {"desktop/application.py": {"socket"}}
"""A pair of sockets of one process with itself, by which Qt hears of Ctrl+C; it is bound to no address."""


def wrong_in(tree: ast.AST, allowed: set[str]) -> Iterator[str]:
    """What a source imports or calls and may not."""
    barred = NETWORK | LISTENERS | CODE_FROM_DATA
    yield from (name for name in imports_of(tree) if is_of(name, barred) and name not in allowed)
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if (called := ast.unparse(node.func)) in CALLS | SHELLS:
                yield called
            yield from ("shell" for word in node.keywords if word.arg == "shell" and ast.unparse(word.value) != "False")


def test_no_source_talks_to_other_machines_or_makes_code_of_data() -> None:
    """Nothing of ours is pickled by name, either: the window and its planner speak JSON."""
    places = {path.relative_to(ROOT / "planner").as_posix(): path.read_text("utf-8") for path in SOURCES}
    found = {place: list(wrong_in(parsed(text), OWN_PAIR.get(place, set()))) for place, text in places.items()}
    assert {place: names for place, names in found.items() if names} == {}


def test_the_scan_sees_what_it_should() -> None:
    found = set(imports_of(ast.parse("def f():\n import http.client as h\n from urllib import request\nimport os")))
    source = "import pickle\nimport socket\neval(x)\nos.system(x)\nsubprocess.run(x, shell=True)"
    assert list(wrong_in(ast.parse(source), {"socket"})) == ["pickle", "eval", "os.system", "shell"]
    assert is_of("http.client", NETWORK)
    assert "http.client" in found
    assert any(is_of(name, NETWORK) for name in found if name.startswith("urllib"))
    assert not is_of("os", NETWORK)
    assert not is_of("multiprocessing.connection.wait", LISTENERS)


# --- what a run really does ---------------------------------------------------------------------------------------

WATCHED = """
import contextlib, io, json, os, sys
events, written = [], []
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_APPEND | os.O_TRUNC
def watch(event, words):
    if event.startswith(("socket.", "urllib.", "http.", "ftplib.", "smtplib.", "webbrowser.")):
        events.append(event)
    elif event in ("os.system", "os.exec", "os.posix_spawn", "os.spawn", "subprocess.Popen", "os.startfile"):
        events.append(event)
    elif event == "open" and isinstance(words[0], (str, bytes)):
        if any(sign in (words[1] or "") for sign in "wax+") or (words[2] or 0) & WRITES:
            written.append(os.path.realpath(os.fsdecode(words[0])))
    elif event in ("os.rename", "os.remove", "os.mkdir", "os.link", "os.symlink", "sqlite3.connect"):
        if words[0] != ":memory:":
            written.append(os.path.realpath(os.fsdecode(words[0])))
sys.addaudithook(watch)
from planner.cli import main
codes = []
with contextlib.redirect_stdout(io.StringIO()):
    for words in json.loads(sys.argv[1]):
        codes.append(main(words))
print(json.dumps([codes, events, written]))
"""


def watched(commands: list[list[str]], home: Path) -> tuple[list[int], list[str], list[str]]:
    """Run commands in a process that is watched: their codes, what reached out, and where anything was written."""
    names = ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME")
    folders = {name: str(home / name.lower()) for name in names}
    done = subprocess.run(
        [sys.executable, "-B", "-c", WATCHED, json.dumps(commands)],
        capture_output=True, cwd=ROOT, timeout=300, check=False, encoding="utf-8",
        env=os.environ | folders | {"LOCALAPPDATA": folders["XDG_DATA_HOME"], "TMPDIR": str(home)},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    codes, events, written = json.loads(done.stdout)
    return codes, events, written


@pytest.fixture
def hostile_file(tmp_path: Path) -> Path:
    """A day file of which every text is up to no good, with its plan beside it."""
    folder = tmp_path / "days"
    folder.mkdir()
    file = folder / "day.toml"
    file.write_text(day_to_toml(hostile_day()), encoding="utf-8")
    file.with_suffix(".plan.json").write_text(plan_to_json(tiny_plan(), hostile_day()), encoding="utf-8")
    return file


def test_commands_reach_nobody_and_write_only_where_they_are_told(hostile_file: Path, tmp_path: Path) -> None:
    day, out = str(hostile_file), tmp_path / "out"
    out.mkdir()
    commands = [
        ["check", day, str(hostile_file.with_suffix(".plan.json"))],
        ["plan", day, "--seconds", "1", "--json", str(out / "plan.json")],
        ["sheet", day, "-o", str(out / "sheet.html")],
        ["sheet", day, "-o", str(out / "sheet.pdf")],
        ["sheet", day, "--slips", "-o", str(out / "slips.pdf")],
        ["export", day, "calendar", "--stages", "--alarms", "-o", str(out / "day.ics")],
        ["export", day, "tables", "-o", str(out / "tables")],
        ["export", day, "chart", "-o", str(out / "chart.png")],
        ["pace", "--note", day, "--took", "rinse=20"],
        ["pace", "--export", str(out / "record.csv")],
        ["quote", "add", "--title", "../../x", "--work", "recipe=clear-gutters", "run=5 m", f"name={SCRIPT}"],
        ["quote", "list"],
    ]
    codes, events, written = watched(commands, tmp_path / "home")
    assert codes == [0] * len(commands)
    assert events == []
    inside = os.path.realpath(tmp_path)
    assert written, "the watch sees files being written"
    assert [path for path in written if not path.startswith(inside) and path != os.devnull] == []
    assert sorted(path.name for path in out.iterdir()) == [
        "chart.png", "day.ics", "plan.json", "record-quotes.csv", "record.csv", "sheet.html", "sheet.pdf",
        "slips.pdf", "tables",
    ]  # fmt: skip


def test_the_watch_sees_what_it_should(tmp_path: Path) -> None:
    program = WATCHED.split("from planner.cli")[0] + (
        "import socket, subprocess\nsocket.socket().close()\nsubprocess.run([sys.executable, '-c', ''])\n"
        "open(sys.argv[1], 'w').close()\nprint(json.dumps([events, written]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, str(tmp_path / "x")], capture_output=True, timeout=60, check=True
    )
    events, written = json.loads(done.stdout)
    assert {"socket.__new__", "subprocess.Popen"} <= set(events)
    assert os.path.realpath(tmp_path / "x") in written
