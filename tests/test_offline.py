"""The program works offline, opens no port and sends nothing; files run no code and reach nowhere outside their folder.

What the source may import is asked of the source itself; what a run really does is asked of Python's audit hooks
(PEP 578), which see every socket, every process and every file that is opened, whichever library opens it.
"""

import ast
import json
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import html5lib
import pytest

from planner.cli import main
from planner.day import Day
from planner.day.file import DayFaults, day_to_toml, read_day
from planner.plan.file import PlanFault, plan_from_json, plan_to_json
from planner.sheet.chart import chart
from planner.sheet.export import export
from planner.sheet.svg import chart_svg
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

CODE_FROM_DATA = {"code", "dill", "imp", "marshal", "runpy", "shelve", "yaml"}
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


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: str(path.relative_to(ROOT / "planner")))
def test_no_source_talks_to_other_machines_or_makes_code_of_data(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    names = list(imports_of(tree))
    assert [name for name in names if is_of(name, NETWORK | LISTENERS | CODE_FROM_DATA)] == []
    called = {ast.unparse(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
    assert called & (CALLS | SHELLS) == set()
    assert not [
        keyword
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        for keyword in node.keywords
        if keyword.arg == "shell" and ast.unparse(keyword.value) != "False"
    ]


def test_only_the_private_pipe_of_the_window_pickles() -> None:
    """Messages between our own two processes may be pickled; nothing that lies in a file is ever unpickled."""
    trees = {path.relative_to(ROOT / "planner").as_posix(): ast.parse(path.read_text("utf-8")) for path in SOURCES}
    assert [name for name, tree in trees.items() if "pickle" in imports_of(tree)] == ["desktop/questions.py"]


def test_the_scan_sees_what_it_should() -> None:
    found = set(imports_of(ast.parse("def f():\n import http.client as h\n from urllib import request\nimport os")))
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


# --- files are data -------------------------------------------------------------------------------------------------

CODE = [
    "__import__('os').system('touch {canary}')",
    "{{{{ ''.__class__.__mro__[1].__subclasses__() }}}}{{% include '{canary}' %}}",
    "$(touch {canary}) `touch {canary}` ; touch {canary}",
    "${{jndi:ldap://127.0.0.1/{canary}}}",
    "!!python/object/apply:os.system ['touch {canary}']",
    "%s%n {{0.__class__}} {{title.__init__.__globals__}}",
]


@pytest.mark.parametrize("words", CODE)
def test_texts_of_a_day_are_never_run(tmp_path: Path, words: str) -> None:
    canary = tmp_path / "canary"
    said = words.format(canary=canary)
    day = hostile_day(title=said)
    file = tmp_path / "day.toml"
    file.write_text(day_to_toml(day), encoding="utf-8")
    assert read_day(file).title == said
    kept = file.with_suffix(".plan.json")
    kept.write_text(plan_to_json(tiny_plan(), day), encoding="utf-8")
    for name, what in (("x.html", "sheet"), ("x.ics", "calendar"), ("x.svg", "chart"), ("tables", "tables")):
        arguments = ["sheet", str(file)] if what == "sheet" else ["export", str(file), what]
        assert main([*arguments, "--shipped-pace", "-o", str(tmp_path / name)]) == 0
    assert not canary.exists()
    page = html5lib.parse((tmp_path / "x.html").read_text(encoding="utf-8"), namespaceHTMLElements=False)
    assert said in re.sub(r"\s+", " ", "".join(page.find("body").itertext()))


@pytest.mark.parametrize(
    "text",
    [
        'format = 1\n__class__ = "x"\n',
        'format = 1\n[jobs."../../x"]\n',
        'format = 1\n[places."a/b"]\n',
        "format = 1\n[van]\n__init__ = { __globals__ = 1 }\n",
        '"' + "a" * 100_000 + '" = 1\n',
        "a = " + "[" * 50_000 + "\n",
        "x." * 20_000 + "y = 1\n",
        "format = " + "9" * 10_000 + "\n",
    ],
)
def test_odd_day_files_are_told_as_faults(tmp_path: Path, text: str) -> None:
    file = tmp_path / "day.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DayFaults) as caught:
        read_day(file)
    assert all(line.startswith(str(file)) for line in str(caught.value).splitlines())


@pytest.mark.parametrize(
    "change",
    [
        {"__class__": "os.system"},
        {"works": [{"__reduce__": ["os.system", ["true"]]}]},
        {"py/object": "os.system"},
        {"proof": {"py/reduce": []}},
    ],
)
def test_a_plan_holds_nothing_but_what_its_schema_names(change: dict[str, Any]) -> None:
    told = json.loads(plan_to_json(tiny_plan(), hostile_day())) | change
    with pytest.raises(PlanFault):
        plan_from_json(json.dumps(told))


def test_a_forecast_behind_a_link_is_not_shown(tmp_path: Path) -> None:
    secret = tmp_path / "secret.csv"
    secret.write_text("time,air,humidity,wind\nTHE SECRET,1,1,1\n")
    folder = tmp_path / "days"
    (folder / "sub").mkdir(parents=True)
    (folder / "link.csv").symlink_to(secret)
    (folder / "sub" / "up").symlink_to(tmp_path)
    for name in ("link.csv", "sub/up/secret.csv", str(secret), "../secret.csv", "sub/../../secret.csv"):
        file = folder / "day.toml"
        file.write_text(f"weather_file = {json.dumps(name)}\n{day_to_toml(hostile_day())}", encoding="utf-8")
        with pytest.raises(DayFaults) as caught:
            read_day(file)
        assert "leads out of the folder of the day file" in str(caught.value)
        assert "THE SECRET" not in str(caught.value)


# --- hostile texts in what is written ------------------------------------------------------------------------------

BREAKING_OUT = [
    SCRIPT,
    "</text></svg><script>alert(1)</script>",
    "]]><!--<svg onload=alert(1)>-->",
    "\"' onmouseover='alert(1)' x=\"",
    "<a href='javascript:alert(1)' xlink:href=\"data:text/html,x\">x</a>",
    "&#60;script&#62;&lt;b&gt;",
    "a\r\nEND:VEVENT\r\nBEGIN:VALARM\r\nACTION:PROCEDURE\r\nATTACH:file:///bin/sh",
    "x:;,\\n\\;\u2028\u2029\u0085END:VCALENDAR",
    "\u202egnp.exe\u202c\u200b\ufeff",
]


def day_called(words: str) -> Day:
    """The hostile day with these words in place of each text that a page, a chart or a calendar shows first."""
    tables = hostile_day().model_dump()
    tables["title"] = words
    tables["hands"]["ash"]["name"] = words
    tables["kit"]["washer"]["name"] = words
    job = tables["jobs"]["elm"]
    job["title"] = job["customer"]["name"] = words
    job["grounds"]["rear"]["name"] = job["grounds"]["rear"]["way_in"]["through"] = words
    for stage in job["stages"].values():
        stage["name"] = words
    return Day.model_validate(tables)


def local(name: Any) -> str:
    return str(name).rpartition("}")[2].lower()


def acts(root: ET.Element) -> list[str]:
    """What in a document would run, load or lead somewhere."""
    tags = [local(element.tag) for element in root.iter()]
    found = [tag for tag in tags if tag in ("script", "iframe", "object", "embed", "a", "foreignobject", "img", "link")]
    for element in root.iter():
        for name, value in element.attrib.items():
            leads_out = local(name) in ("href", "src") and not value.startswith("#")
            if local(name).startswith("on") or leads_out or "javascript:" in value.lower():
                found.append(f"{local(element.tag)} {name}={value}")
    return found


@pytest.mark.parametrize("words", BREAKING_OUT)
@pytest.mark.parametrize("theme", ["light", "grey"])
def test_no_text_breaks_out_of_the_chart(words: str, theme: Any) -> None:
    root = ET.fromstring(chart_svg(chart(day_called(words), tiny_plan(), width=1200), theme))
    assert acts(root) == []


@pytest.mark.parametrize("words", BREAKING_OUT)
@pytest.mark.parametrize("what", ["sheet", "slip"])
def test_no_text_breaks_out_of_a_page(tmp_path: Path, words: str, what: Any) -> None:
    [path] = export(day_called(words), tiny_plan(), tmp_path / "x.html", what, verdict=words)
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(path.read_text(encoding="utf-8"))
    assert acts(page) == []


@pytest.mark.parametrize("words", BREAKING_OUT)
def test_no_text_breaks_out_of_a_calendar(tmp_path: Path, words: str) -> None:
    [path] = export(day_called(words), tiny_plan(), tmp_path / "x.ics", "calendar", stages=True, waits=True)
    lines = path.read_bytes().decode("utf-8").split("\r\n")
    # RFC 5545, section 3.1: a line that begins with a blank goes on with the one before it.
    names = {re.split("[:;]", line)[0] for line in lines if line and not line.startswith((" ", "\t"))}
    assert names & {"ATTACH", "URL"} == set()
    assert all(re.fullmatch(r"[A-Z][A-Z-]*", name) for name in names)
    assert [line for line in lines if line.startswith("ACTION:") and line != "ACTION:DISPLAY"] == []
    assert lines.count("BEGIN:VCALENDAR") == lines.count("END:VCALENDAR") == 1
    assert all("\n" not in line and "\r" not in line for line in lines)


@pytest.mark.parametrize("words", BREAKING_OUT)
@pytest.mark.parametrize("what", ["sheet", "slip"])
def test_a_printed_page_does_nothing(tmp_path: Path, words: str, what: Any) -> None:
    from pypdf import PdfReader
    from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject

    [path] = export(day_called(words), tiny_plan(), tmp_path / "x.pdf", what, verdict=words)
    reader = PdfReader(path)
    names: set[str] = set()
    todo: list[Any] = [reader.trailer]
    seen: set[int] = set()
    while todo:
        thing = todo.pop()
        if isinstance(thing, IndirectObject):
            if thing.idnum in seen:
                continue
            seen.add(thing.idnum)
            thing = thing.get_object()
        if isinstance(thing, DictionaryObject):
            names |= set(map(str, thing.keys()))
            todo += thing.raw_items() if hasattr(thing, "raw_items") else list(dict.values(thing))
        elif isinstance(thing, ArrayObject):
            todo += list(list.__iter__(thing))
    assert "/Pages" in names
    # ISO 32000-1, 12.6: what makes a reader act, and 7.11.4: files within the file.
    assert names & {"/A", "/AA", "/JS", "/JavaScript", "/Launch", "/URI", "/OpenAction", "/EmbeddedFiles"} == set()
