"""The house is built as it says: imports point one way, modules are small and say what they are for.

Every scanner is first shown a small invented fault, so that finding nothing means something.
"""

import subprocess
import sys
import textwrap

import pytest

from tests import architecture
from tests.architecture import LATE, ORDER, ROOT, SAME_IDEA, SAME_SUBJECT, reason_for

MODULES = {module: path.read_text("utf-8") for module, path in architecture.modules()}
"""The source of every module of the project."""


def wrong(module: str, source: str) -> list[str]:
    return architecture.wrong_imports(textwrap.dedent(source), module)


# --- the scanners see what they should -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("planner.trade.rates", "from planner.day import Day"),
        ("planner.day.file", "import planner.engine"),
        ("planner.engine.build", "from planner import sheet"),
        ("planner.plan.tables", "def late():\n    from planner.engine.problem import Problem"),
        ("planner.fit.verdict", "import ortools.sat.python.cp_model"),
        ("planner.cli.plan", "from ortools.sat.python import cp_model"),
        ("planner.sheet.pdf", "def late():\n    from PySide6.QtGui import QFont"),
        ("planner.cli.open", "from planner.desktop import main"),
        ("planner.desktop.window", "from planner.cli import main"),
        ("planner.trade.rates", "from ..day import Day"),
        ("planner.day.__init__", "from ..plan import Plan"),
        ("planner.day.file", "if TYPE_CHECKING:\n    from planner.plan.plan import Plan"),
        ("planner.day.file", "from importlib import import_module\nimport_module('planner.plan')"),
        ("planner.sheet.export", "import importlib\nimportlib.import_module(f'planner.cli.{name}')"),
        ("planner.resources", "from planner.day import Day"),
        ("planner.day.file", "from tests.days import tiny_day"),
        ("planner.day.file", "from planner.cellar import barrel"),
    ],
)
def test_a_wrong_import_is_seen(module: str, source: str) -> None:
    assert len(wrong(module, source)) == 1


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("planner.engine.build", "from planner.day import Day\nfrom planner.trade.limits import limits"),
        ("planner.engine.build", "from ortools.sat.python import cp_model"),
        ("planner.engine.__init__", "from .result import Result"),
        ("planner.desktop.window", "from PySide6.QtWidgets import QMainWindow\nfrom planner.sheet import html"),
        ("planner.cli.open", "def run():\n    from planner.desktop import main"),
        ("planner.trade.tables", "from planner.resources import resource\nfrom planner import __version__"),
        ("planner.__main__", "from planner.cli import main"),
        ("planner.day.file", "words = 'import planner.engine'  # from planner.engine import x"),
    ],
)
def test_a_right_import_is_let_be(module: str, source: str) -> None:
    assert wrong(module, source) == []


@pytest.mark.parametrize(
    "text",
    [
        "see ." + "./notes/style.md",
        "run /" + "tools/bin/it",
        "as '/" + "home/ash/days'",
        "/" + "opt/python/bin",
        "C:" + "\\Users",
        "https:" + "//files.of.somebody.net/simple",
    ],
)
def test_what_points_outside_is_seen(text: str) -> None:
    assert len(architecture.outward_words(text)) == 1


@pytest.mark.parametrize(
    "text",
    ["#!/usr/bin/env bash", "rear/day.toml", "m2/h", "{home}/days", "/etc/passwd", "http://www.w3.org/2000/svg"],
)
def test_what_points_nowhere_is_let_be(text: str) -> None:
    assert architecture.outward_words(text) == []


@pytest.mark.parametrize(
    "sources",
    [
        {"planner.a": "from planner.b import x", "planner.b": "import planner.a"},
        {"planner.a": "def f():\n    from planner.b import x", "planner.b": "from planner.a import y"},
        {"planner.a": "import importlib\nimportlib.import_module('planner.b')", "planner.b": "import planner.a"},
        {"planner.a": "if TYPE_CHECKING:\n    from planner.b import x", "planner.b": "from planner.a import y"},
        {"planner.c.__init__": "from planner.c.d import x", "planner.c.d": "from planner.c import x"},
    ],
)
def test_a_circle_is_seen(sources: dict[str, str]) -> None:
    assert set(architecture.circle(sources)) == set(sources)


def test_where_there_is_no_circle_none_is_seen() -> None:
    assert architecture.circle({"planner.a": "from planner.b import x", "planner.b": "import os"}) == []


def test_a_room_that_uses_what_it_may_not_is_seen() -> None:
    sources = {
        "planner.sheet.chart.captions": "from planner.sheet.papers.pdf import x\nfrom planner.sheet.wording import y",
        "planner.sheet.papers.pdf": "from planner.sheet.chart import captions",
        "planner.sheet.wording": "from planner.sheet.papers.pdf import x",
    }
    (line,) = architecture.wrong_rooms(sources)
    assert line.endswith("sheet.chart may not use sheet.papers")


def test_a_missing_docstring_and_a_long_module_are_seen() -> None:
    assert architecture.lacks_docstring("x = 1\n")
    assert not architecture.lacks_docstring('"""What x is."""\nx = 1\n')
    assert not architecture.lacks_docstring("")
    assert architecture.is_too_long("x = 1\n" * (architecture.MOST_LINES + 1))
    assert not architecture.is_too_long("x = 1\n" * architecture.MOST_LINES)


# --- and see nothing in the project --------------------------------------------------------------------------


def test_every_package_has_its_place() -> None:
    packages = {path.parent.name for path in (ROOT / "planner").glob("*/__init__.py")}
    assert packages == set(ORDER)


def test_imports_point_one_way() -> None:
    assert [line for module, source in MODULES.items() for line in architecture.wrong_imports(source, module)] == []


def test_a_module_says_what_it_is_for_and_is_small() -> None:
    assert [module for module, source in MODULES.items() if architecture.lacks_docstring(source)] == []
    assert [module for module, source in MODULES.items() if architecture.is_too_long(source)] == []


def test_every_room_uses_only_what_it_may() -> None:
    rooms = {".".join(module.split(".")[1:-1]) for module in MODULES}
    assert {room for room in rooms if "." in room} == set(architecture.ROOMS)
    assert architecture.wrong_rooms(MODULES) == []


def test_a_name_in_two_places_is_seen() -> None:
    assert architecture.doubles([("a", "Duty"), ("b", "Duty"), ("b", "Rest")]) == {"Duty": ["a", "b"]}


def test_a_class_name_stands_for_one_idea() -> None:
    assert set(architecture.doubles(architecture.classes())) == SAME_IDEA


def test_a_module_name_stands_for_one_subject() -> None:
    places = (module.rpartition(".")[::2] for module in MODULES)
    assert set(architecture.doubles((place[0], place[1]) for place in places)) - {"__init__"} == SAME_SUBJECT


def test_a_function_without_sections_is_seen() -> None:
    caller = {"planner.plan.b": "from planner.day.a import f"}
    assert architecture.unexplained({"planner.day.a": "def f(a, b, c, d): ...", **caller}) == ["planner.day.a.f"]
    assert architecture.unexplained({"planner.day.a": "def f(a): raise ValueError(a)", **caller}) == ["planner.day.a.f"]
    assert architecture.unexplained({"planner.day.a": "def f(a): ...", **caller}) == []
    assert architecture.unexplained({"planner.day.a": "def f(a, b, c, d): ..."}) == []
    said = 'def f(a, b, c, d):\n    """What f is.\n\n    Returns\n    -------\n    int\n    """'
    assert architecture.unexplained({"planner.day.a": said, **caller}) == []


def test_what_other_packages_call_is_explained() -> None:
    assert architecture.unexplained(MODULES) == []


def test_no_imports_go_round_in_a_circle() -> None:
    assert architecture.circle(MODULES) == []


def test_what_is_imported_inside_functions_is_listed_with_its_reason() -> None:
    late = list(architecture.late_imports())
    assert [f"{module}:{one.line} imports {one.module}" for module, one in late if not reason_for(one.module)] == []
    assert {reason_for(one.module) for _, one in late} == set(LATE), "a reason for nothing"


def test_what_is_loaded_at_the_top_is_not_imported_again_inside() -> None:
    found = []
    for module, source in MODULES.items():
        imports = architecture.imports_in(source, module)
        top = {one.module for one in imports if not one.late and not one.typing}
        found += [f"{module}:{one.line}" for one in imports if one.late and one.module in top]
    assert found == []


def test_no_file_points_outside_the_project() -> None:
    """Tests may name paths that climb, as hostile files do."""
    found = {
        str(path.relative_to(ROOT)): words
        for path in architecture.written_files()
        if (
            words := architecture.outward_words(
                path.read_text("utf-8", errors="replace"), may_climb=path.is_relative_to(ROOT / "tests")
            )
        )
    }
    assert found == {}


@pytest.mark.parametrize(
    ("statement", "absent"),
    [
        ("import planner.cli.plan, planner.cli.sheet, planner.cli.check", ("PySide6", "ortools")),
        ("import planner.engine", ("PySide6", "ortools", "pandas")),
        ("import planner.day.reading", ("PySide6", "ortools")),
    ],
)
def test_nothing_heavy_is_loaded_before_it_is_needed(statement: str, absent: tuple[str, ...]) -> None:
    """What the source says, a fresh process bears out."""
    asked = f"import sys; {statement}; print([m for m in {absent!r} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", asked], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


FIRST_PLAN = """
import sys
from pathlib import Path
import planner.cli.plan
from planner.day.reading import read_day
from planner.engine import plan_day
def seen(plan):
    print(sorted({name.partition(".")[0] for name in sys.modules} & set(sys.argv[2:])))
    sys.exit()
plan_day(read_day(Path(sys.argv[1])), seconds=60, on_better=seen)
"""
NOT_YET = ("PySide6", "PIL", "arabic_reshaper", "bidi", "icalendar", "jinja2", "numpy", "ortools", "pandas", "pint")
NOT_YET += ("pypdfium2", "reportlab", "resvg_py", "tomlkit")


@pytest.mark.parametrize("sample", ["by_the_forecast", "three_jobs_two_hands"])
def test_the_first_plan_waits_for_nothing_heavy(sample: str) -> None:
    """Tables, numbers in bulk, pictures, paper and the solver are loaded after a person has seen a plan."""
    command = [sys.executable, "-c", FIRST_PLAN, f"sample_days/{sample}.toml", *NOT_YET]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
