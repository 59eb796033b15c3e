"""Reads the project's own source: what imports what, how long modules are, and words that no file may hold.

It only finds; `tests.test_architecture` says that there is nothing to find.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent
ORDER = ("trade", "day", "plan", "engine", "fit", "record", "sheet", "cli", "desktop")
"""A package imports only those to its left."""

EVERYWHERE = ("resources", "own_python", "__version__")
"""What lies beside the packages and may be imported by each."""

OWNERS = {"ortools": "engine", "PySide6": "desktop", "shiboken6": "desktop"}
"""Libraries that one package alone may import."""

ONLY_WHEN_ASKED = {"cli": "desktop"}
"""A package that imports another only inside functions: the command loads no window unless one is asked for."""

MOST_LINES = 440
"""A module longer than this needs scrolling to find its subject."""

SKIPPED = {".git", ".venv", ".hypothesis", "__pycache__", "build", "dist"}
"""Folders that are no part of the project."""

UNREADABLE = {".png", ".ttf", ".pdf", ".ico", ".gz", ".sqlite"}

_HOSTS = ("pypi|org", "pythonhosted|org", "npmjs|org", "npmjs|com", "crates|io", "anaconda|org", "proxy.golang|org")
_OWN_FOLDERS = ("work", "opt", "root", "home", "Users", "mnt", "srv")
_FORBIDDEN = re.compile(
    "|".join(
        [
            re.escape("../" + "shared"),
            *(re.escape(host.replace("|", ".")) for host in _HOSTS),
            *(r"(?<![\w.})*-])/" + folder + r"/\w+" for folder in _OWN_FOLDERS),
            r"\b[A-Z]:\\Users\\\w+",
        ]
    )
)


@dataclass(frozen=True)
class Import:
    """A module that a line of source imports; ``late`` when it does so inside a function."""

    module: str
    line: int
    late: bool


def imports_in(source: str, module: str) -> list[Import]:
    """Every import in a module's source, wherever it stands: relative ones and ``import_module`` too.

    Parameters
    ----------
    source : str
        Python source.
    module : str
        Its dotted name, from which relative imports are counted; a package's ends in ``.__init__``.
    """
    return list(_imports(ast.parse(source), module.split("."), late=False))


def _imports(node: ast.AST, module: list[str], *, late: bool) -> Iterator[Import]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Import):
            yield from (Import(alias.name, child.lineno, late) for alias in child.names)
        elif isinstance(child, ast.ImportFrom):
            base = [*module[: -child.level], child.module or ""] if child.level else [child.module or ""]
            origin = ".".join(part for part in base if part)
            yield from (Import(f"{origin}.{alias.name}", child.lineno, late) for alias in child.names)
        elif isinstance(child, ast.Call):
            yield from _by_name(child, late=late)
        inside = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        yield from _imports(child, module, late=late or inside)


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


def forbidden_words(text: str) -> list[str]:
    """What points outside the project: a folder beside it, a path of one machine, the host of a package registry."""
    return [match.group() for match in _FORBIDDEN.finditer(text)]


def lacks_docstring(source: str) -> bool:
    """Whether a module that holds any code does not say what it is for."""
    tree = ast.parse(source)
    return bool(tree.body) and ast.get_docstring(tree) is None


def is_too_long(source: str) -> bool:
    """Whether a module has more lines than one should."""
    return source.count("\n") > MOST_LINES
