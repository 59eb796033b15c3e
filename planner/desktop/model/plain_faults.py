"""What is wrong with a day, said as somebody would who fills in forms: no keys, no places in a file, no words of one.

Faults are found for whoever writes a day file. Here the same faults are told with the names that stand in the window,
and what would be right is said without the words that would be written for it.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from planner.day.faults import Fault, Where
from planner.day.names import written_name
from planner.desktop.model.draft import Draft
from planner.desktop.model.naming import called
from planner.trade.library import library

_QUOTED = re.compile(r"'([^']*)'")
_HYPHENED = re.compile(r"\b[a-z]+(?:-[a-z0-9]+)+\b")
_SYNTAX = re.compile(r"[={}\[\]]|\"[^\"]*\"|\b\w+(?:\.\w+){1,}\(|\b[a-z-]+\.[a-z-]+\.[a-z-]+")
_NO_DRIVE = re.compile(r"no driving time from '([^']*)' to '([^']*)'")
_FILE_AND_LINE = re.compile(r"^.*?\.toml(?::\d+)?: ")
_SIGNS = re.compile(r"[][{}'\"]")
_NEEDS = re.compile(r"this recipe needs (\w+)")

_FOR_PLACE = {
    "travel": "give the minutes of the drive",
    "grounds": "change it under the way in, or under water and current",
    "kit": "change it on the page Kit",
    "materials": "change it on the page Kit",
    "hands": "change it on the page Hands",
    "recipes": "change it under More, beside its tick on the page House",
    "stages": "change it under Stages, on the page Jobs",
    "waits": "change it under Waits, on the page Jobs",
    "places": "change it on the page Day",
}
"""Where it is put right, by the part of the day."""


@dataclass(frozen=True)
class PlainFault:
    """A fault in plain words: of what, and what; ``is_question`` where something has only not been said yet."""

    of: str
    words: str
    is_question: bool = False

    def __str__(self) -> str:
        return f"{self.of}: {self.words}" if self.of else self.words


def told(draft: Draft, fault: Fault) -> PlainFault:
    """One fault in plain words."""
    of = _of(draft, fault.place)
    if not fault.place and fault.line:
        of = f"line {fault.line} of the file"
    drive = _NO_DRIVE.match(fault.wrong)
    if drive:
        places = draft.at(("places",), {})
        ends = " to ".join(called(places, key) for key in drive.groups())
        return PlainFault("", f"How long is the drive from {ends}?", is_question=True)
    needs = _NEEDS.match(fault.wrong)
    if needs:
        return PlainFault(of, f"how much is it? Its {_spoken(needs[1])} is not given", is_question=True)
    if fault.wrong.startswith("no ground is named"):
        return PlainFault(of, "on which ground is it?", is_question=True)
    words = _plain(draft, fault.wrong) or "this cannot be so"
    right = _right(draft, fault)
    return PlainFault(of, f"{words}; {right}" if right else words)


def said_of_ours(draft: Draft, words: str) -> str:
    """A fault of what we own, without the file's name and line, and without the signs of its way of writing."""
    place, _, rest = _FILE_AND_LINE.sub("", words).partition(" ")
    parts = tuple(place.strip("[]").split("."))
    of = _of(draft, parts) or _spoken(parts[-1])
    return f"{of}: {_SIGNS.sub('', rest).replace('write for example', 'right would be, for example,')}"


def all_told(draft: Draft) -> list[PlainFault]:
    """All that keeps a day from being planned, what has only not been said yet first, each once."""
    found = list(_unsaid(draft))
    idle = {one.of for one in found}
    for fault in draft.faults:
        one = told(draft, fault)
        is_of_an_idle_job = len(fault.place) > 1 and fault.place[0] == "jobs" and _of(draft, fault.place[:2]) in idle
        if not is_of_an_idle_job and fault.place != ("jobs",):
            found.append(one)
    return sorted(dict.fromkeys(found), key=lambda one: not one.is_question)


def _unsaid(draft: Draft) -> Iterator[PlainFault]:
    jobs = draft.at(("jobs",), {})
    for key, job in jobs.items() if isinstance(jobs, dict) else ():
        if isinstance(job, dict) and not draft.uses_in(key) and not job.get("stages"):
            asked = "what is to be done there? Tick it on the page House"
            yield PlainFault(_of(draft, ("jobs", key)), asked, is_question=True)


def _of(draft: Draft, place: Where) -> str:
    """What a fault is of: the names along its place that a person knows."""
    names: list[str] = []
    tables: Any = draft.spelled_out
    for depth, part in enumerate(place[:6]):
        around, tables = place[:depth], _inside(tables, part)
        if not around:
            continue
        if around[-1] == "jobs":
            names.append(written_name(tables, str(part), "title"))
        elif around[-1] in ("grounds", "surfaces", "stages", "methods", "kit", "materials", "hands", "places"):
            names.append(_called(draft, str(around[-1]), str(part), tables))
        elif around[-1] == "recipes" and isinstance(part, int):
            names.append(_use(draft.written_at(place[: depth + 1])))
        elif around[-1] == "waits" and isinstance(tables, dict):
            names.append(f"the wait after {_called(draft, 'stages', str(tables.get('after', '')), {})}")
    if len(place) > 2 and isinstance(place[-1], str) and place[-2] not in ("jobs", "kit", "hands", "places"):
        names.append(_spoken(place[-1])) if place[-1] not in names else None
    return ", ".join(name for name in names if name)


def _use(use: Any) -> str:
    """What a piece of work is called."""
    if not isinstance(use, dict):
        return "work"
    recipe = library().recipes.get(str(use.get("recipe")), {})
    return written_name(use, written_name(recipe.get("tick"), written_name(recipe, "work", "title"), "words"))


def _inside(tables: Any, part: str | int) -> Any:
    try:
        return tables[part]
    except (KeyError, IndexError, TypeError):
        return None


def _called(draft: Draft, sort: str, key: str, table: Any) -> str:
    return written_name(table, _names(draft).get(key) or key.replace("-", " "))


def _names(draft: Draft) -> dict[str, str]:
    """What every key of the day, and of the library, is called."""
    known = library()
    names: dict[str, str] = {}
    for tables in (known.kit, known.materials):
        names |= {key: written_name(table, key) for key, table in tables.items()}
    spelled = draft.spelled_out
    parts = [spelled.get(word) for word in ("kit", "materials", "hands", "places")]
    jobs = spelled.get("jobs")
    for key, job in jobs.items() if isinstance(jobs, dict) else ():
        if isinstance(job, dict):
            names[key] = written_name(job, key, "title")
            parts += [job.get(word) for word in ("grounds", "surfaces", "stages")]
    for table in parts:
        for key, entry in table.items() if isinstance(table, dict) else ():
            if name := written_name(entry, ""):
                names[key] = name
    return names


def _plain(draft: Draft, text: str) -> str:
    """A text with names for keys, without what stands in brackets for the file, and without its signs."""
    names = _names(draft)
    text = re.sub(r" ?\([^()]*[=_][^()]*\)", "", text)
    text = _QUOTED.sub(lambda found: f"“{names.get(found[1], found[1].replace('-', ' '))}”", text)
    text = _HYPHENED.sub(lambda found: names.get(found[0], found[0]), text)
    text = re.sub(r"(\d+) x (socket|tap)\b", lambda found: _counted(int(found[1]), found[2]), text)
    return re.sub(r"\b([a-z]+)_([a-z]+)(?:_([a-z]+))?\b", lambda found: " ".join(filter(None, found.groups())), text)


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def _right(draft: Draft, fault: Fault) -> str:
    """What would be right, as far as it can be said without writing it."""
    kept = [part for part in re.split(r"; |, or |, ", fault.right) if part and not _SYNTAX.search(part)]
    words = _plain(draft, ", or ".join(dict.fromkeys(kept)))
    if words and not _SYNTAX.search(words) and not words.startswith(("write ", "add for example", "add that of")):
        return words
    return next((_FOR_PLACE[str(part)] for part in reversed(fault.place) if str(part) in _FOR_PLACE), "")


def _spoken(word: str) -> str:
    return word.replace("_", " ").replace("-", " ")
