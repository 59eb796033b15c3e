"""The day file: read, changed and saved, with its comments and its order kept.

Reading for planning alone (`read_day`) uses the standard library's TOML reader; only a change to a file
(`DayFile`) needs tomlkit, which is slower and remembers every comment and blank.
"""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from planner.day.day import Day
from planner.day.editing import edited, parsed
from planner.day.faults import DayFaults, Fault, Where
from planner.day.holding import FileInUse, hold
from planner.day.layout import day_to_toml
from planner.day.reading import day_from_text, day_text, read_day
from planner.day.safekeeping import FileFault, read_text, save_text

if TYPE_CHECKING:
    import tomlkit

__all__ = ["DayFaults", "DayFile", "Fault", "day_from_text", "day_to_toml", "read_day", "write_day"]


def write_day(day: Day, path: str | Path) -> Path:
    """Write a day that was made in code as a new file, once what would be written reads back; gives it, links followed.

    Raises `DayFaults` when the day has faults, or the file cannot be saved.
    """
    text = day_to_toml(day)
    day_from_text(text, Path(path))
    return _save(Path(path), text)


class DayFile:
    """A day file that is open for changes.

    Every change is made to the text, read anew and checked as a whole, and taken back if it brings a fault:
    what is held here is always a sound day.

    Attributes
    ----------
    path : Path
    day : Day
        What the text says.
    text : str
        The file as it would be saved. Keep one to go back to it with `put_back`.
    """

    def __init__(self, path: str | Path, text: str) -> None:
        self.path = Path(path)
        self.day = day_from_text(text, self.path)
        self.text = text
        self._on_disk: str | None = None

    @classmethod
    def open(cls, path: str | Path) -> Self:
        """Open a file. Raises `DayFaults` with every fault of the file."""
        text = day_text(path)
        opened = cls(path, text)
        opened._on_disk = text
        return opened

    @property
    def document(self) -> "tomlkit.TOMLDocument":
        """The text as tomlkit sees it, with comments and order; changing it changes nothing here."""
        return parsed(self.text, self.path)

    def save(self, path: str | Path | None = None, *, overwrite: bool = False) -> Path:
        """Save here, or under another name, by which the file goes from then on; a forecast must lie beside it too.

        To ``overwrite`` is to save though somebody else changed the file since it was read. Raises `DayFaults` when it
        cannot be saved; what was there is still there.
        """
        target = self.path if path is None else Path(path)
        if path is not None:
            day_from_text(self.text, target)
        elif self._on_disk is not None and not overwrite and _reads_otherwise(target, self._on_disk):
            wrong = "not saved: the file was changed by someone else since it was opened"
            raise DayFaults(target, [Fault((), None, wrong, "save under another name, or open it again")])
        written = _save(target, self.text)
        self.path, self._on_disk = target, self.text
        return written

    def change(self, place: Where, value: Any) -> Day:
        """Set a value, and give the day as it is then.

        Parameters
        ----------
        place
            Names and list numbers from the top, such as ``("jobs", "larch", "waits", 0, "least")``; tables on
            the way that are missing are made, and a list grows by one at the number that follows its last.
        value
            What TOML can hold, quantities as text with their units; None takes the value away.

        Raises
        ------
        DayFaults
            When the day would have a fault; everything is then as it was.
        """
        return self.change_all([(place, value)])

    def remove(self, place: Where) -> Day:
        """Take a value or a table away, and give the day as it is then; see `change`."""
        return self.change_all([(place, None)])

    def change_all(self, changes: Iterable[tuple[Where, Any]]) -> Day:
        """Several changes as one: only what they come to together must be a sound day. See `change`."""
        return self.put_back(edited(self.text, changes, self.path))

    def put_back(self, text: str) -> Day:
        """Take another text for this file's, as undo and redo do.

        Raises `DayFaults` when the text has faults; everything is then as it was.
        """
        self.day, self.text = day_from_text(text, self.path), text
        return self.day


def _save(path: Path, text: str) -> Path:
    try:
        with hold(path):
            return save_text(path, text, is_good=_is_a_day)
    except FileInUse as fault:
        wrong = f"not saved: it is in use by {fault.holder or 'another window'}"
        raise DayFaults(path, [Fault((), None, wrong, "close it there, then do this again")]) from fault
    except FileFault as fault:
        wrong = f"{fault.doing}: {fault.problem}"
        raise DayFaults(path, [Fault((), None, wrong, fault.remedy)]) from fault


def _is_a_day(data: bytes) -> bool:
    """Whether what a save replaces deserves to be kept as the last good copy."""
    try:
        day_from_text(data.decode("utf-8"), Path("last-good"))
    except ValueError:  # what is not text, and DayFaults
        return False
    return True


def _reads_otherwise(path: Path, text: str) -> bool:
    try:
        return read_text(path) != text
    except FileFault:  # gone or barred: saving will tell
        return False
