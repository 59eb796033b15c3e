"""A safety copy of every unsaved day, so that a crash loses nothing but the last second."""

import hashlib
import json
import os
import secrets
from contextlib import suppress
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path

from platformdirs import user_state_path
from pydantic import TypeAdapter
from PySide6.QtCore import QObject, QTimer, Signal, Slot

from planner.day.holding import IN_USE, Hold, hold
from planner.day.processes import is_running
from planner.day.safekeeping import LAST_GOOD, FileFault, read_text, save_text
from planner.desktop.model.open_day import OpenDay
from planner.plan.progress import NOTHING_TOLD, Progress
from planner.plan.progress_file import progress_from_json, progress_to_json

QUIET_MILLISECONDS = 700
"""A copy is written when the day has been left alone this long."""


@dataclass(frozen=True)
class LeftBehind:
    """What a window that did not end well left: a day's text, and where it belongs.

    ``base`` is by which the text is known that the file held when the window last read or wrote it.
    """

    slip: Path
    text: str
    path: Path | None
    when: str
    progress: Progress
    base: str = ""

    def is_newer_on_disk(self, text: str) -> bool:
        """Whether the file, which holds this text now, has been changed since the window read it."""
        return text != self.text and mark_of(text) != self.base

    def forget(self) -> None:
        """It is not needed any more."""
        with suppress(OSError):
            self.slip.unlink(missing_ok=True)


@dataclass(frozen=True)
class _Copy:
    """A copy as its file holds it; ``progress`` is the record as text."""

    text: str
    when: str
    path: str | None = None
    progress: str | None = None
    base: str = ""


_COPY = TypeAdapter(_Copy)


def mark_of(text: str | None) -> str:
    """By which a text is known again."""
    return "" if text is None else hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def safety_folder() -> Path:
    """Where the copies lie."""
    if given := os.environ.get("SLACKWATER_SAFETY_COPIES"):
        return Path(given)
    return user_state_path("slackwater", appauthor=False) / "unsaved"


class SafetyCopy(QObject):
    """Keeps the copy of one open day up to date; removes it once all is saved.

    While it is there it is held, as a file that is worked on: the system lets go of that when we end, however we end,
    and so tells a copy that was left behind, whoever has our number by then. Signal: `failed` says why none can be
    written, once for each reason.
    """

    failed = Signal(str)

    def __init__(self, open_day: OpenDay, folder: Path | None = None) -> None:
        super().__init__(open_day)
        self._open_day = open_day
        self._slip = (folder or safety_folder()) / f"{os.getpid()}-{secrets.token_hex(4)}.json"
        self._held: Hold | None = None
        self._told = ""
        self._timer = QTimer(self, singleShot=True, interval=QUIET_MILLISECONDS)
        self._timer.timeout.connect(self.write)
        open_day.settled.connect(self.on_settled)
        open_day.clean_changed.connect(self.on_settled)
        if open_day.is_recovered:
            self.write()

    @property
    def is_written(self) -> bool:
        """Whether there is a copy on the disk."""
        return self._slip.is_file()

    @Slot()
    def on_settled(self) -> None:
        """The day changed, or was saved."""
        if self._open_day.is_clean:
            self.drop()
        elif not self._timer.isActive():
            self._timer.start()

    @Slot()
    def write(self) -> None:
        """Write the copy now. A full disk must not stop the work, so a fault is told and let pass."""
        if self._open_day.is_clean:
            return
        path, state = self._open_day.path, self._open_day.state
        content = _Copy(
            text=state.draft.text,
            when=datetime.now().isoformat(sep=" ", timespec="minutes"),
            path=str(path) if path else None,
            progress=progress_to_json(state.progress, "") if state.progress.is_under_way else None,
            base=mark_of(self._open_day.saved_text),
        )
        try:
            self._slip.parent.mkdir(parents=True, exist_ok=True)
            if self._held is None:
                self._held = hold(self._slip)
            save_text(self._slip, json.dumps(asdict(content)))
        except FileFault as fault:
            self._tell(fault.problem)
        except OSError as fault:
            self._tell(fault.strerror or str(fault))
        else:
            self._told = ""

    def drop(self) -> None:
        """Remove the copy: all is saved, or the person said that it may go."""
        self._timer.stop()
        with suppress(OSError):  # closing goes on; at worst what is saved already is offered once more
            for name in (self._slip, self._slip.with_name(self._slip.name + LAST_GOOD)):
                name.unlink(missing_ok=True)
        self._let_go()

    def leave(self) -> None:
        """Leave the copy where it is: it is offered at the next start."""
        self._timer.stop()
        self._let_go()

    def _let_go(self) -> None:
        held, self._held = self._held, None
        if held is not None:
            with suppress(OSError, FileFault):
                held.let_go()

    def _tell(self, why: str) -> None:
        if why != self._told:
            self._told = why
            self.failed.emit(f"No safety copy can be written: {why}. Save your work.")


def left_behind(folder: Path | None = None) -> list[LeftBehind]:
    """What windows that live no more left, the latest last."""
    found = []
    for slip in _slips(folder or safety_folder()):
        if not _is_left(slip):
            continue
        try:
            kept = _COPY.validate_json(read_text(slip))
            progress = (kept.progress and progress_from_json(kept.progress, "")) or NOTHING_TOLD
            path = Path(kept.path) if kept.path else None
            found.append(LeftBehind(slip, kept.text, path, kept.when, progress, kept.base))
        except (FileFault, ValueError):
            with suppress(OSError):
                slip.rename(slip.with_suffix(".unreadable"))
    return found


def _slips(folder: Path) -> list[Path]:
    """The copies in a folder, the latest last."""
    dated = []
    with suppress(OSError):
        for slip in folder.glob("*.json"):
            with suppress(OSError):  # it may be gone by now
                dated.append((slip.stat().st_mtime, slip))
    return [slip for _, slip in sorted(dated)]


def _is_left(slip: Path) -> bool:
    """Whether nobody lives who keeps this copy. Copies of earlier versions are not held: there the number must do."""
    pid = slip.name.split("-")[0]
    if not pid.isdecimal():
        return False
    if not slip.with_name(slip.name + IN_USE).exists():
        return not is_running(int(pid))
    try:
        hold(slip).let_go()
    except FileFault:
        return False
    return True
