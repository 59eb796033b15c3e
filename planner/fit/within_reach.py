"""Methods of recipes that fall out for want of a supply, a piece of kit or a hand: what would bring each back, and what
that would save.

Nothing of them is left in a day, so the file is asked: it is read again with one more socket, with a tap, with kit that
was left at home, with a second hand; the methods that it then has more were out of reach. So whatever decides on a
method (measures, conditions, loads) has its say.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from planner.day import Day
from planner.day.editing import Change, edited
from planner.day.faults import DayFaults
from planner.day.jobs import Stage
from planner.day.names import Names, plain, sentence, written_name
from planner.day.reading import day_from_text, tables_of
from planner.fit.remedy_days import KIT_MONEY, Remedy
from planner.fit.second_hand import HELPER
from planner.trade.library import library
from planner.trade.trade_tables import table_in, texts_in
from planner.trade.units import show_minutes

MOST_SOCKETS = 2
"""So many more sockets on one ground are thought of: a lance, and a grinder with its extractor."""

MOST_KIT = 8
"""So many pieces of kit that are not there are thought of."""

SOCKET_MONEY = 15.0
"""A small generator for a day with its fuel: common practice, no source; in the money of the day."""

GAINS_TOLD = 2
"""So many stages are told by name; of the others, how many."""

Lacking = Literal["socket", "tap", "kit", "hand"]

_BY_RECIPE = ("recipe", "recipes")


@dataclass(frozen=True)
class Gain:
    """A stage that goes quicker by a method out of reach; minutes by the clock, all sections together."""

    stage: str
    method: str
    now: int
    then: int

    @property
    def saved(self) -> int:
        """Minutes by the clock."""
        return self.now - self.then

    @property
    def words(self) -> str:
        """What takes how long by what, and how long it takes as the day is."""
        return f"“{self.stage}” {show_minutes(self.then)} ({self.method}), not {show_minutes(self.now)}"


@dataclass(frozen=True)
class _Thought:
    """What could bring methods back: ``changes`` to the file.

    ``job`` and ``ground`` say where a supply is lacking; they are empty for kit and hands.
    """

    lacking: Lacking
    name: str
    changes: tuple[Change, ...]
    job: str = ""
    ground: str = ""

    @property
    def where(self) -> tuple[Lacking, str, str]:
        """What is lacking where."""
        return self.lacking, self.job, self.ground


@dataclass(frozen=True)
class Reach(_Thought):
    """What would bring methods back, and the ``day`` it then is.

    Without ``gains`` the day cannot be done at all as it is, and can with this.
    """

    day: Day = field(kw_only=True)
    gains: tuple[Gain, ...] = field(kw_only=True)

    @property
    def is_hired(self) -> bool:
        """Whether it is kit that we do not own."""
        return self.changes[0].place[0] == "kit"

    @property
    def saved(self) -> int:
        """Minutes of stages, by the clock, that it saves; setting up and carrying are not in it."""
        return sum(gain.saved for gain in self.gains)

    @property
    def words(self) -> str:
        """What it would do, for a person."""
        told = [gain.words for gain in self.gains[:GAINS_TOLD]]
        rest = self.gains[GAINS_TOLD:]
        if rest:
            told.append(f"{len(rest)} more in {show_minutes(sum(gain.saved for gain in rest))} less")
        return f"With {self.name}: {'; '.join(told) or 'all of it can be done'}."

    def remedy(self) -> Remedy:
        """The same as a remedy to be weighed."""
        money = {"socket": SOCKET_MONEY, "kit": KIT_MONEY * self.is_hired}.get(self.lacking, 0.0)
        return Remedy(self.lacking, self.name, self.day, 2 if money or self.lacking == "tap" else 1, money)


def within_reach(text: str, path: Path, *, as_asked: Callable[[Day], Day] = lambda day: day) -> Iterator[Reach]:
    """All that would bring a quicker method back, one by one, each the work of reading the day once.

    ``as_asked`` says what is made of a day once it is read: at own pace, with other hands. Faults of the day as it is
    are no hindrance where a change puts them right; a text that is no day gives nothing.
    """
    try:
        tables = tables_of(text, path)
    except DayFaults:
        return
    if not any(word in job for job in _jobs(tables).values() for word in _BY_RECIPE):
        return
    before = _read(text, path, as_asked)
    told: Reach | None = None
    for thought in _thought_of(tables):
        day = _changed(text, path, thought.changes, as_asked)
        usual = before or (told.day if told is not None and told.where == thought.where else None)
        gains = () if usual is None or day is None else tuple(_gains(usual, day))
        if day is None or (usual is not None and not gains):
            continue
        found = Reach(thought.lacking, thought.name, thought.changes, thought.job, thought.ground, day=day, gains=gains)
        is_no_more = told is not None and told.where == found.where and found.saved <= told.saved and before is not None
        if not (found.lacking == "socket" and is_no_more):
            told = found
            yield found


def worth_trying(found: Iterable[Reach]) -> list[Remedy]:
    """Those that are remedies of their own; an outside tap and a second hand are among the remedies of every day."""
    return [one.remedy() for one in found if one.lacking in ("socket", "kit")]


def _read(text: str, path: Path, as_asked: Callable[[Day], Day]) -> Day | None:
    try:
        return as_asked(day_from_text(text, path))
    except DayFaults:
        return None


def _thought_of(tables: dict[str, Any]) -> Iterator[_Thought]:
    for j, job in _jobs(tables).items():
        if any(word in job for word in _BY_RECIPE):
            for g, ground in table_in(job, "grounds").items():
                if isinstance(ground, dict):
                    yield from _supplies(j, g, f"{written_name(job, j, 'title')}, {written_name(ground, g)}", ground)
    yield from _kit(tables)
    hands = table_in(tables, "hands")
    if hands and HELPER not in hands:
        yield _Thought("hand", "a second hand", (Change(("hands", HELPER), {"name": "Second hand"}),))


def _jobs(tables: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {key: job for key, job in table_in(tables, "jobs").items() if isinstance(job, dict)}


def _supplies(j: str, g: str, where: str, ground: dict[str, Any]) -> Iterator[_Thought]:
    supplies = table_in(ground, "supplies")

    def more(supply: Lacking, name: str, count: int) -> _Thought:
        there = supplies.get(supply, 0)
        value = (there if isinstance(there, int) else 0) + count
        place = ("jobs", j, "grounds", g, "supplies")
        change = Change((*place, supply), value) if "supplies" in ground else Change(place, {supply: value})
        return _Thought(supply, f"{name} ({where})", (change,), j, g)

    for count in range(1, MOST_SOCKETS + 1):
        sockets = "an extra socket" if count == 1 else f"{count} extra sockets"
        yield more("socket", f"{sockets} or a small generator", count)
    if not supplies.get("tap"):
        yield more("tap", "an outside tap", 1)


def _kit(tables: dict[str, Any]) -> Iterator[_Thought]:
    """Kit that is left at home, and kit that is not owned: brought, or hired for the day."""
    shipped, own = library().kit, table_in(tables, "kit")
    left = texts_in(tables, "leave_at_home")

    def name_of(key: str) -> str:
        return written_name(own.get(key), written_name(shipped.get(key), key))

    for key in left[:MOST_KIT]:
        rest = [other for other in left if other != key]
        yield _Thought("kit", f"{name_of(key)} along", (Change(("leave_at_home",), rest or None),))
    said = {key: table_in(own, key).get("own", table.get("own", 1)) for key, table in (shipped | own).items()}
    lacked = [key for key, count in said.items() if count == 0 and isinstance(table_in(own, key), dict)]
    for key in lacked[:MOST_KIT]:
        change = Change(("kit", key, "own"), 1) if key in own else Change(("kit", key), {"own": 1})
        yield _Thought("kit", f"{name_of(key)}, hired or lent", (change,))


def _called(stage: Stage) -> str:
    """What a stage is called as a whole, whichever section of it this is."""
    section = "" if stage.part is None else f", section {stage.part.number} of {stage.part.count}"
    return plain(stage.name).removesuffix(section)


@dataclass(frozen=True)
class _Quickest:
    """The quickest way that the hands of a day have for a stage, all sections together, and all ways they have."""

    minutes: int
    first: str
    method: str
    methods: frozenset[str]


def _gains(before: Day, after: Day) -> Iterator[Gain]:
    """The stages that are quicker by a method that only the day after has, by how much they save."""
    now, found = _quickest(before), []
    for (job, stage), best in _quickest(after).items():
        usual, names = now.get((job, stage)), Names(after)
        if usual is not None and best.minutes < usual.minutes and best.method not in usual.methods:
            method = names.method(job, best.first, best.method)
            told = _called(after.jobs[job].stages[best.first]) or sentence(stage)
            found.append(Gain(told, method[:1].lower() + method[1:], usual.minutes, best.minutes))
    yield from sorted(found, key=lambda gain: -gain.saved)


def _quickest(day: Day) -> dict[tuple[str, str], _Quickest]:
    parts: dict[tuple[str, str], list[str]] = {}
    for j, s, stage in day.stages():
        parts.setdefault((j, s if stage.part is None else stage.part.of), []).append(s)
    found = {}
    for (j, whole), sections in parts.items():
        job, first = day.jobs[j], sections[0]
        usable = [m for m, method in job.stages[first].methods.items() if method.hands <= len(day.hands)]
        minutes = {m: sum(job.likely_minutes(s, m) for s in sections) for m in usable}
        if minutes:
            method = min(minutes, key=lambda m: minutes[m])
            found[j, whole] = _Quickest(minutes[method], first, method, frozenset(usable))
    return found


def _changed(text: str, path: Path, changes: tuple[Change, ...], as_asked: Callable[[Day], Day]) -> Day | None:
    try:
        return _read(edited(text, changes, path), path, as_asked)
    except DayFaults:
        return None
