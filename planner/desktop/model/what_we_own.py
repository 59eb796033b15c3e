"""What we own, for every day to come: the user's own file, open to be changed in the forms that a day has."""

from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any

from PySide6.QtCore import QFileSystemWatcher, QTimer, Signal, Slot

from planner.day.editing import Change
from planner.day.faults import DayFaults, Fault
from planner.day.own_values import what_would_not_hold
from planner.day.reading import tables_of
from planner.day.safekeeping import FileFault, SaveFault, read_text, save_text
from planner.desktop.model.draft import Draft
from planner.desktop.model.open_day import OpenDay, Settled
from planner.desktop.model.plain_faults import said_of_ours
from planner.trade.ours import USUAL, ours_in
from planner.trade.trade_tables import MOST_BYTES, OURS, Table, laid_over, user_file

OF_THE_TRADE = ("kit", "materials", "methods")
"""Tables of the trade that are changed here, value by value."""

HEARD_MILLISECONDS = 150
"""A file that is being written is let alone for so long before it is read."""

TAKEN_WHOLE = ("hands",)
"""Of these the user's file says all or nothing."""


class OwnDraft(Draft):
    """A text of the user's file; what it says with what is usual under it."""

    @cached_property
    def spelled_out(self) -> Table:
        """Hands, yard, van and hours, and the tables of the trade with our own values over them."""
        own = self.tables
        try:
            made: Table = dict(ours_in(own))
        except ValueError:
            made = dict(USUAL)
        for name in OF_THE_TRADE:
            made[name] = laid_over(name, own[name] if isinstance(own.get(name), dict) else {})
        return made

    @property
    def day(self) -> None:
        """It is no day."""
        return None

    @property
    def faults(self) -> tuple[Fault, ...]:
        """A change that would make one is refused, so there are none to show at a field."""
        return ()


class WhatWeOwn(OpenDay):
    """The user's own file. Every change is checked, and kept at once; `kept` says that it was."""

    kept = Signal()

    def __init__(self, path: Path) -> None:
        self._on_disk, self.fault = "", ""
        try:
            self._on_disk = _text_at(path)
            tables_of(self._on_disk, path)
        except (FileFault, DayFaults) as fault:
            self.fault = str(fault)
        super().__init__("" if self.fault else self._on_disk, path, read_only=bool(self.fault))
        self._watcher = QFileSystemWatcher(self)
        self._heard = QTimer(self, singleShot=True, interval=HEARD_MILLISECONDS)
        self._heard.timeout.connect(self.on_written_elsewhere)
        for told in (self._watcher.fileChanged, self._watcher.directoryChanged):
            told.connect(self._heard.start)
        self._watch()

    def _watch(self) -> None:
        """Hear of the file, which is another each time that it is saved whole, and of where it is or will be."""
        if self.path is None:
            return
        folder = next(one for one in self.path.parents if one.is_dir())
        wanted = {str(folder), *([str(self.path)] if self.path.exists() else [])}
        known = {*self._watcher.files(), *self._watcher.directories()}
        for gone in known - wanted:
            self._watcher.removePath(gone)
        for new in wanted - known:
            self._watcher.addPath(new)

    @Slot()
    def on_written_elsewhere(self) -> None:
        """The file may be another: what another window kept is shown and planned with here too."""
        self._watch()
        if not self.fault:
            self.is_still_ours()

    def drafted(self, text: str, path: Path) -> Draft:
        """The draft of a text."""
        return OwnDraft(text, path)

    def change(self, words: str, changes: Any) -> None:
        """Make changes as one step; of what is taken whole, what was usual stays beside what is changed."""
        made = list(changes)
        for section in TAKEN_WHOLE:
            if any(change.place[0] == section for change in made) and self.draft.written_at((section,)) is None:
                usual = self.draft.at((section,), {})
                made = [*(Change((section, key), table) for key, table in usual.items()), *made]
        super().change(words, made)

    def settle(self, words: str, after: Settled) -> None:
        """Go to another state, if it holds and the file is still the one that was read."""
        known = set(what_would_not_hold(self.draft.text))
        wrong = [fault for fault in what_would_not_hold(after.draft.text) if fault not in known]
        if wrong:
            self.refused.emit("\n".join(said_of_ours(after.draft, words) for words in wrong))
        elif self.is_still_ours():
            super().settle(words, after)

    def show(self, state: Settled) -> None:
        """Be in a state, and keep it."""
        super().show(state)
        if state.draft.text == self._on_disk or self.path is None:
            return
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            save_text(self.path, state.draft.text)
        except OSError as fault:
            self.refused.emit(f"{self.path.parent}: this folder cannot be made: {fault.strerror}")
        except SaveFault as fault:
            self.refused.emit(str(fault))
        else:
            self._on_disk = state.draft.text
            self.kept.emit()

    def is_still_ours(self) -> bool:
        """Whether the file holds what was last read or written here; if not, what it holds now is taken up."""
        try:
            found = _text_at(self.path) if self.path is not None else ""
        except FileFault as fault:
            self.refused.emit(str(fault))
            return False
        if found == self._on_disk:
            return True
        self._on_disk = found
        self.undo_stack.clear()
        super().show(Settled(self.drafted(found, self.draft.path)))
        self.kept.emit()
        self.refused.emit("Another window has changed what we own; this is how it stands now.")
        return False

    def take_over(self, day: Draft) -> None:
        """Keep for every day to come what a day says of hands, yard, van and hours, and of kit and material."""
        changes = [Change((section,), table) for section, table in said_by(day).items()]
        for name in ("kit", "materials"):
            for key, table in (day.written_at((name,)) or {}).items():
                changes += [Change((name, key, word), value) for word, value in table.items()]
        self.change("Take over from this day", changes)


def said_by(day: Draft) -> dict[str, Table]:
    """What a day says of hands, yard, van and hours, in the tables of the user's file."""
    start = day.at(("van", "starts_at"), "")
    found: dict[str, Table] = {
        "hands": dict(day.at(("hands",), {})),
        "yard": {"name": day.at(("places", start, "name"))},
        "van": {"tank": day.at(("van", "tank"))},
        "travel": {"speed": day.at(("travel", "speed"))},
        "usual": {word: day.at((word,)) for word in USUAL["usual"]},
    }
    told = {name: {key: value for key, value in table.items() if value is not None} for name, table in found.items()}
    return {name: table for name, table in told.items() if table}


def into_day(own: Draft, day: Draft) -> list[Change]:
    """What puts our hands, yard, tank and hours into a day."""
    found = {section: own.at((section,), {}) for section in OURS}
    start = day.at(("van", "starts_at"), "yard")
    changes = [Change(("hands",), found["hands"]), Change(("places", start, "name"), found["yard"]["name"])]
    changes += [Change((word,), value) for word, value in found["usual"].items()]
    changes += [Change(("van", word), value) for word, value in found["van"].items()]
    return [*changes, *(Change(("travel", word), value) for word, value in found["travel"].items())]


def what_we_own() -> WhatWeOwn:
    """The user's own file, open once in this program, whoever asks."""
    return _open_at(user_file())


@lru_cache(maxsize=1)
def _open_at(path: Path) -> WhatWeOwn:
    return WhatWeOwn(path)


def _text_at(path: Path) -> str:
    return read_text(path, MOST_BYTES) if path.exists() else ""
