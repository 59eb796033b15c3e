"""Reads the project's own source: what imports what, how long modules are, and words that no file may hold.

It only finds; `tests.test_architecture` says that there is nothing to find.
"""

import ast
import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

ROOT = Path(__file__).parent.parent
ORDER = ("trade", "day", "plan", "engine", "fit", "record", "sheet", "cli", "desktop")
"""A package imports only those to its left."""

EVERYWHERE = ("resources", "own_python", "__version__")
"""What lies beside the packages and may be imported by each."""

OWNERS = {"ortools": "engine", "PySide6": "desktop", "shiboken6": "desktop", "pypdfium2": "desktop"}
"""Libraries that one package alone may import."""

ONLY_WHEN_ASKED = {"cli": "desktop"}
"""A package that imports another only inside functions: the command loads no window unless one is asked for."""

MOST_LINES = 440
"""A module longer than this needs scrolling to find its subject."""

SKIPPED = {".git", ".venv", ".hypothesis", "__pycache__", "build", "dist"}
"""Folders that are no part of the project."""

UNREADABLE = {".png", ".ttf", ".pdf", ".ico", ".gz", ".sqlite"}

LATE = {
    "arabic_reshaper": "only where a name is written in such letters",
    "astral": "only days of which the twilight is asked",
    "bidi": "only where a name is written in such letters",
    "fcntl": "not there on every system",
    "icalendar": "half a second, for a calendar alone",
    "jinja2": "only for HTML",
    "markupsafe": "comes with jinja2",
    "msvcrt": "not there on every system",
    "numpy": "half a second, for playing a plan out",
    "pandas": "a second, for tables alone",
    "pint": "half a second; the usual units are known without it",
    "planner.cli": "each command loads itself alone",
    "planner.desktop.application": "Qt, which a command has no need of",
    "planner.desktop.chart.picture": "the page of a day is drawn before its picture is loaded",
    "planner.desktop.main": "the window, which a command has no need of",
    "planner.desktop.model.filing": "the window is drawn before anything of a day is loaded",
    "planner.desktop.pages.day_page": "the window is drawn before anything of a day is loaded",
    "planner.desktop.pages.making": "the page of a day is drawn before the pages beside it are loaded",
    "planner.desktop.pages.printing": "the window is drawn before anything of a day is loaded",
    "planner.desktop.starting": "the window is drawn before anything of a day is loaded",
    "planner.day.holding": "the window is drawn before anything of a day is loaded",
    "planner.day.safekeeping": "the window is drawn before anything of a day is loaded",
    "planner.engine.conflict": "the solver: a second, for which the first plan must not wait",
    "planner.engine.fitting": "the solver: a second, for which the first plan must not wait",
    "planner.engine.hints": "the solver: a second, for which the first plan must not wait",
    "planner.engine.near": "the solver: a second, for which the first plan must not wait",
    "planner.engine.order_alone": "the solver: a second, for which the first plan must not wait",
    "planner.engine.search": "the solver: a second, for which the first plan must not wait",
    "planner.engine.serial.sought": "the solver: a second, for which the first plan must not wait",
    "planner.engine.several_jobs": "the solver: a second, for which the first plan must not wait",
    "planner.engine.solution": "the solver: a second, for which the first plan must not wait",
    "planner.engine.underway": "the solver: a second, for which the first plan must not wait",
    "planner.sheet.papers.pdf": "reportlab: half a second, for paper alone",
    "planner.sheet.papers.pdf_chart": "reportlab: half a second, for paper alone",
    "planner.sheet.papers.slip_pdf": "reportlab: half a second, for paper alone",
    "pypdfium2": "only where pages are drawn",
    "reportlab": "half a second, for paper alone",
    "resvg_py": "only for pictures as PNG",
}
"""What may be imported inside a function, each with the reason; everything else is imported at the module's top."""

SAME_IDEA = {
    "Attendance",
    "Closed",
    "Ground",
    "Hand",
    "Job",
    "Kit",
    "Material",
    "Meal",
    "Rest",
    "Stay",
    "Visit",
}
"""Classes of the same name in several packages: one thing as the file, the plan, the checker or the solver has it."""

SAME_SUBJECT = {
    "carrying",
    "cautions",
    "changes",
    "export",
    "exposure",
    "fresh",
    "hands",
    "kit",
    "loading",
    "pace",
    "plan",
    "reach",
    "waits",
}
"""Modules of the same name in several packages: one subject as data, as a rule, on paper or as a command."""

ROOMS = {
    "day.checks": {"day"},
    "desktop.chart": {"desktop", "desktop.model"},
    "desktop.forms": {"desktop", "desktop.model", "desktop.thinking"},
    "desktop.model": {"desktop"},
    "desktop.pages": {"desktop", "desktop.chart", "desktop.forms", "desktop.model", "desktop.thinking"},
    "desktop.thinking": {"desktop.model"},
    "engine.projects": {"engine"},
    "engine.rules": {"engine"},
    "engine.serial": {"engine", "engine.rules"},
    "engine.several_jobs": {"engine", "engine.rules", "engine.serial"},
    "engine.underway": {"engine", "engine.rules", "engine.serial"},
    "plan.rules": {"plan"},
    "sheet.chart": {"sheet"},
    "sheet.papers": {"sheet", "sheet.chart"},
    "trade.recipes": {"trade"},
}
"""Which rooms of its own package each room may use; a package itself ("day") is what lies beside its rooms."""

KNOWN_HOSTS = {"json-schema.org", "www.w3.org", "www.freedesktop.org", "example.org"}
"""Hosts that files may name: those by which standards are called, and one that is nobody's."""

SYSTEM_FOLDERS = {"bin", "dev", "etc", "proc", "there", "usr"}
"""Where absolute paths that files name may begin; any other would be one machine's own."""

_ABSOLUTE = re.compile(r"(?<![\w.})*/:~-])/([A-Za-z]\w+)(?:/[\w.]+)+|\b[A-Z]:\\\\?Users\b")
_HOST = re.compile(r"https?://([\w-]+(?:\.[\w-]+)+)")
_CLIMBING = re.compile(r"\.\./[\w.-]+")


@dataclass(frozen=True)
class Import:
    """A module that a line of source imports; ``late`` inside a function, ``typing`` only where types are checked."""

    module: str
    line: int
    late: bool
    typing: bool = False


@lru_cache(2000)
def parsed(source: str) -> ast.Module:
    """Python source as a tree, which nobody changes: many questions are asked of each."""
    return ast.parse(source)


@lru_cache(2000)
def imports_in(source: str, module: str) -> tuple[Import, ...]:
    """Every import in a module's source, wherever it stands: relative ones and ``import_module`` too.

    Parameters
    ----------
    source : str
        Python source.
    module : str
        Its dotted name, from which relative imports are counted; a package's ends in ``.__init__``.
    """
    return tuple(_imports(parsed(source), module.split("."), late=False, typing=False))


def _imports(node: ast.AST, module: list[str], *, late: bool, typing: bool) -> Iterator[Import]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Import):
            yield from (Import(alias.name, child.lineno, late, typing) for alias in child.names)
        elif isinstance(child, ast.ImportFrom):
            base = [*module[: -child.level], child.module or ""] if child.level else [child.module or ""]
            origin = ".".join(part for part in base if part)
            yield from (Import(f"{origin}.{alias.name}", child.lineno, late, typing) for alias in child.names)
        elif isinstance(child, ast.Call):
            yield from _by_name(child, late=late)
        inside = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        checked = isinstance(child, ast.If) and getattr(child.test, "id", "") == "TYPE_CHECKING"
        yield from _imports(child, module, late=late or inside, typing=typing or checked)


def _by_name(call: ast.Call, *, late: bool) -> Iterator[Import]:
    """``import_module("...")`` and ``__import__("...")``, as far as the text tells."""
    name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
    if name not in ("import_module", "__import__") or not call.args:
        return
    text = call.args[0]
    if isinstance(text, ast.JoinedStr) and text.values:
        text = text.values[0]
    if isinstance(text, ast.Constant) and isinstance(text.value, str):
        yield Import(text.value.rstrip("."), call.lineno, late)


def wrong_imports(source: str, module: str) -> list[str]:
    """What a module of the project imports and may not, in words."""
    package = module.split(".")[1] if "." in module else ""
    found = []
    for one in imports_in(source, module):
        parts = one.module.split(".")
        why = _why_not(package, parts, late=one.late)
        if why:
            found.append(f"{module}:{one.line} imports {one.module}: {why}")
    return found


def _why_not(package: str, imported: list[str], *, late: bool) -> str:
    owner = OWNERS.get(imported[0])
    if owner is not None and package != owner:
        return f"only planner.{owner} may"
    if imported[0] == "tests":
        return "the project does not import its tests"
    if imported[0] != "planner" or len(imported) < 2 or imported[1] in (package, *EVERYWHERE):
        return ""
    if package not in ORDER:
        return "" if package == "__main__" else "only packages import packages"
    if imported[1] not in ORDER:
        return "there is no such package"
    if ORDER.index(imported[1]) > ORDER.index(package):
        if ONLY_WHEN_ASKED.get(package) != imported[1]:
            return f"it lies to the right of planner.{package}"
        return "" if late else "only inside a function"
    if (package, imported[1]) == ("desktop", "cli"):
        return "window and command stand beside each other"
    return ""


def modules() -> Iterator[tuple[str, Path]]:
    """The dotted name and the file of every module of the project, ``.__init__`` written out."""
    for path in sorted((ROOT / "planner").rglob("*.py")):
        yield ".".join(path.relative_to(ROOT).with_suffix("").parts), path


def written_files() -> Iterator[Path]:
    """Every file of the project that is written by hand."""
    for path in sorted(ROOT.rglob("*")):
        inside = path.relative_to(ROOT).parts
        skipped = any(part in SKIPPED or part.endswith(("_cache", ".egg-info")) for part in inside)
        if path.is_file() and not skipped and path.suffix not in UNREADABLE:
            yield path


def outward_words(text: str, *, may_climb: bool = False) -> list[str]:
    """What points outside the project: a path of one machine, a host that is no standard's, a folder beside ours."""
    found = [m.group() for m in _ABSOLUTE.finditer(text) if m.group(1) not in SYSTEM_FOLDERS]
    found += [m.group() for m in _HOST.finditer(text) if m.group(1) not in KNOWN_HOSTS]
    return found if may_climb else [*found, *_CLIMBING.findall(text)]


def late_imports() -> Iterator[tuple[str, Import]]:
    """Every import inside a function, with the module in which it stands."""
    for module, path in modules():
        yield from ((module, one) for one in imports_in(path.read_text("utf-8"), module) if one.late)


def reason_for(late: str) -> str | None:
    """Under which name of `LATE` a module may be imported inside a function; None where it may not."""
    return next((name for name in LATE if late == name or late.startswith(name + ".")), None)


def circle(sources: dict[str, str]) -> list[str]:
    """The modules of a circle of imports, wherever the imports stand; empty when there is none."""
    arrows = {
        module: {_module_of(one.module, sources) for one in imports_in(source, module)} - {None, module}
        for module, source in sources.items()
    }
    try:
        TopologicalSorter(arrows).prepare()
    except CycleError as found:
        return list(found.args[1])
    return []


def wrong_rooms(sources: dict[str, str]) -> list[str]:
    """What rooms use of their own package and may not, in words."""
    found = []
    for module, source in sources.items():
        own = _room_of(module)
        for one in imports_in(source, module):
            loaded = _module_of(one.module, sources)
            used = _room_of(loaded) if loaded else own
            same = own.partition(".")[0] == used.partition(".")[0]
            if own in ROOMS and same and used != own and used not in ROOMS[own]:
                found.append(f"{module}:{one.line} imports {one.module}: {own} may not use {used}")
    return found


def _room_of(module: str) -> str:
    """The folder that a module lies in, without the package's name: "desktop.model", or "day" beside its rooms."""
    return ".".join(module.split(".")[1:-1])


def _module_of(imported: str, sources: Collection[str]) -> str | None:
    """The module that an import loads: itself, or the one that holds the imported name."""
    while imported:
        for name in (imported, f"{imported}.__init__"):
            if name in sources:
                return name
        imported = imported.rpartition(".")[0]
    return None


def unexplained(sources: dict[str, str]) -> list[str]:
    """Functions that other packages call, of four arguments or more or with a fault of their own, without sections.

    A section is one of numpydoc's: Parameters, Returns or Raises.
    """
    callers: dict[str, set[str]] = {}
    for module, source in sources.items():
        for one in imports_in(source, module):
            callers.setdefault(one.module, set()).add(module.split(".")[1])
    found = []
    for module, source in sources.items():
        for node in parsed(source).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                name = f"{module.removesuffix('.__init__')}.{node.name}"
                is_called = bool(callers.get(name, set()) - {module.split(".")[1]})
                if is_called and _wants_sections(node) and not _SECTION.search(ast.get_docstring(node) or ""):
                    found.append(name)
    return found


_SECTION = re.compile(r"^(Parameters|Returns|Raises)\n-+$", re.M)


def _wants_sections(node: ast.FunctionDef) -> bool:
    many = len([*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]) >= 4
    return many or any(isinstance(inner, ast.Raise) and inner.exc is not None for inner in ast.walk(node))


def doubles(names: Iterable[tuple[str, str]]) -> dict[str, list[str]]:
    """Names that stand in more than one place, with the places, from pairs of place and name."""
    found: dict[str, list[str]] = {}
    for place, name in names:
        found.setdefault(name, []).append(place)
    return {name: places for name, places in found.items() if len(places) > 1}


def classes() -> Iterator[tuple[str, str]]:
    """Every class at the top of a module, as (module, name)."""
    for module, path in modules():
        yield from ((module, n.name) for n in parsed(path.read_text("utf-8")).body if isinstance(n, ast.ClassDef))


def lacks_docstring(source: str) -> bool:
    """Whether a module that holds any code does not say what it is for."""
    tree = parsed(source)
    return bool(tree.body) and ast.get_docstring(tree) is None


def is_too_long(source: str) -> bool:
    """Whether a module has more lines than one should."""
    return source.count("\n") > MOST_LINES
