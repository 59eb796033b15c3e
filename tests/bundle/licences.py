"""Whose work is in the built program, and under which licence: made anew by every build, from what is installed.

A distribution is found by the files of its that went into the bundle, so that nothing is listed for being wanted only,
and nothing is bundled unlisted.
"""

from collections.abc import Iterable, Iterator
from importlib.metadata import Distribution, distributions
from pathlib import Path

NOT_PYTHON = """
## Qt
The Qt libraries are used under the GNU Lesser General Public License, version 3. They lie as separate files beside the
program and may be replaced by others of the same interface. Texts and sources: see qt.io.

## Python
The Python interpreter and its library are under the Python Software Foundation License, version 2.

## Libraries of the system
Beside those the folder carries shared libraries of the machine that it was built on (such as libstdc++, libsqlite3,
libX11, libcups and what they need), each under its own free licence, as that system's packages say.

## DejaVu fonts
Bitstream Vera and Arev licences; the text lies with the fonts, in `planner/_resources/fonts`.
"""


def bundled_distributions(files: Iterable[Path]) -> list[Distribution]:
    """The installed distributions that any of these files comes from, by name."""
    wanted = {path.resolve() for path in files}
    found = {}
    for one in distributions():
        own = {Path(str(one.locate_file(f))).resolve() for f in one.files or ()}
        if own & wanted:
            found[one.metadata["Name"]] = one
    return [found[name] for name in sorted(found, key=str.casefold)]


def licence_of(one: Distribution) -> str:
    """What a distribution says of its licence, in a line: the SPDX expression, the field, or its classifiers."""
    said = one.metadata.get("License-Expression")
    if said:
        return str(said)
    classified = [c.rsplit(" :: ", 1)[-1] for c in one.metadata.get_all("Classifier") or () if c.startswith("License")]
    field = str(one.metadata.get("License") or "").strip().partition("\n")[0]
    return ", ".join(classified) or field or "see its licence text below"


def _texts(one: Distribution) -> Iterator[str]:
    for file in one.files or ():
        name = file.name.upper()
        inside = file.parts[0].endswith(".dist-info")
        if inside and name.startswith(("LICEN", "COPYING", "NOTICE", "AUTHORS")):
            path = Path(str(one.locate_file(file)))
            if path.is_file():
                yield path.read_text("utf-8", errors="replace").strip()


def licences_text(bundled: Iterable[Distribution]) -> str:
    """The whole list as Markdown: a line for each, then every licence text that came with it."""
    listed = [(one, one.metadata["Name"], one.version, licence_of(one)) for one in bundled]
    lines = ["# What is in this program, and its licences", ""]
    lines += [f"* {name} {version}: {licence}" for _, name, version, licence in listed]
    lines.append(NOT_PYTHON)
    for one, name, version, _ in listed:
        for text in _texts(one):
            lines += [f"## {name} {version}", "", "```", text.replace("```", "'''"), "```", ""]
    return "\n".join(lines)
