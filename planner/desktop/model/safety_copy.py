"""A safety copy of every unsaved day, so that a crash loses nothing but the last second."""

import json
import os
import secrets
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from platformdirs import user_state_path
from PySide6.QtCore import QObject, QTimer, Slot

from planner.day.processes import is_running
from planner.day.safekeeping import FileFault, read_text, save_text
from planner.desktop.model.marks import NOTHING_DONE, Progress, progress_from_text, progress_to_text
from planner.desktop.model.open_day import OpenDay

QUIET_MILLISECONDS = 700
"""A copy is written when the day has been left alone this long."""


@dataclass(frozen=True)
class LeftBehind:
    """What a window that did not end well left: a day's text, and where it belongs."""

    slip: Path
    text: str
    path: Path | None
    when: str
    progress: Progress

    def forget(self) -> None:
        """It is not needed any more."""
        self.slip.unlink(missing_ok=True)


def safety_folder() -> Path:
    """Where the copies lie."""
    if given := os.environ.get("SLACKWATER_SAFETY_COPIES"):
        return Path(given)
    return user_state_path("slackwater", appauthor=False) / "unsaved"


class SafetyCopy(QObject):
    """Keeps the copy of one open day up to date; removes it once all is saved."""

    def __init__(self, open_day: OpenDay, folder: Path | None = None) -> None:
        super().__init__(open_day)
        self._open_day = open_day
        self._slip = (folder or safety_folder()) / f"{os.getpid()}-{secrets.token_hex(4)}.json"
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
        """Write the copy now. A full disk must not stop the work, so a fault is let pass."""
        if self._open_day.is_clean:
            return
        path, state = self._open_day.path, self._open_day.state
        content = {
            "path": str(path) if path else None,
            "when": datetime.now().isoformat(sep=" ", timespec="minutes"),
            "progress": progress_to_text(state.progress),
            "text": state.draft.text,
        }
        try:
            self._slip.parent.mkdir(parents=True, exist_ok=True)
            save_text(self._slip, json.dumps(content))
        except (FileFault, OSError):
            return

    def drop(self) -> None:
        """Remove the copy: all is saved, or the person said that it may go."""
        self._timer.stop()
        for name in (self._slip, self._slip.with_name(self._slip.name + ".last-good")):
            name.unlink(missing_ok=True)


def left_behind(folder: Path | None = None) -> list[LeftBehind]:
    """What windows that live no more left, the latest last."""
    found = []
    for slip in sorted((folder or safety_folder()).glob("*.json"), key=lambda path: path.stat().st_mtime):
        pid = slip.name.split("-")[0]
        if not pid.isdecimal() or is_running(int(pid)):
            continue
        try:
            content = json.loads(read_text(slip))
            path = Path(content["path"]) if content["path"] else None
            progress = progress_from_text(content["progress"]) if content["progress"] else NOTHING_DONE
            found.append(LeftBehind(slip, content["text"], path, content["when"], progress))
        except (FileFault, ValueError, KeyError, TypeError):
            slip.rename(slip.with_suffix(".unreadable"))
    return found
