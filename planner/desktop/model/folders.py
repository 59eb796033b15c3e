"""Where a dialog begins that asks for the place of a file."""

import tempfile
from collections.abc import Callable
from pathlib import Path


def folder_to_save_in(say: Callable[[str], object], last: Path | None = None) -> Path:
    """The folder used last, else the user's own; where nothing can be written there, which is said, the current one.

    A dialog that begins in a folder such as ``/proc``, the home of many a service, never comes up.
    """
    home = Path.home()
    for folder in filter(None, (last, home, Path.cwd())):
        if _can_be_written(folder):
            break
    else:
        folder = Path(tempfile.gettempdir())
    if folder not in (last, home):
        say(f"Nothing can be saved in your own folder, {home}; choose another one.")
    return folder


def _can_be_written(folder: Path) -> bool:
    """Whether a file can be made there; what the system says of it is not always so."""
    try:
        with tempfile.TemporaryFile(dir=folder):
            return True
    except OSError:
        return False
