"""What is kept between one use of the window and the next: its size, its light, the recent days."""

from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings

from planner.desktop.look import Scheme

_RECENT_KEPT = 12


class Preferences:
    """A few typed words over QSettings."""

    def __init__(self, settings: QSettings | None = None) -> None:
        self._settings = settings or QSettings("slackwater", "slackwater")

    @property
    def scheme(self) -> Scheme:
        """Light, dark or as the system has it."""
        said = str(self._settings.value("scheme", Scheme.SYSTEM))
        return Scheme(said) if said in set(Scheme) else Scheme.SYSTEM

    @scheme.setter
    def scheme(self, scheme: Scheme) -> None:
        self._settings.setValue("scheme", str(scheme))

    @property
    def seconds(self) -> int:
        """For how long a day is planned at most."""
        try:
            return min(600, max(1, int(str(self._settings.value("seconds", 20)))))
        except ValueError:
            return 20

    @seconds.setter
    def seconds(self, seconds: int) -> None:
        self._settings.setValue("seconds", seconds)

    @property
    def geometry(self) -> QByteArray:
        """Where and how large the window was."""
        value = self._settings.value("geometry", QByteArray())
        return value if isinstance(value, QByteArray) else QByteArray()

    @geometry.setter
    def geometry(self, geometry: QByteArray) -> None:
        self._settings.setValue("geometry", geometry)

    @property
    def recent(self) -> list[Path]:
        """The days opened last, the latest first, those that are still there."""
        said = self._settings.value("recent", [])
        names = [said] if isinstance(said, str) else list(said) if isinstance(said, list) else []
        return [path for name in names if (path := Path(str(name))).is_file()]

    @property
    def folder(self) -> Path | None:
        """Where a day was opened or saved last, while that is there."""
        said = Path(str(self._settings.value("folder", "")))
        return said if said.is_absolute() and said.is_dir() else None

    def used(self, path: Path) -> None:
        """A day was opened or saved."""
        self._settings.setValue("folder", str(path.absolute().parent))
        others = [str(other) for other in self.recent if other != path]
        self._settings.setValue("recent", [str(path), *others][:_RECENT_KEPT])
