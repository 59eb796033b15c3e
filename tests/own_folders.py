"""The folders in which each system keeps what belongs to a user, laid elsewhere while a test or an attack runs."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


def own_folders(root: Path) -> dict[str, str]:
    """The environment by which the record, own values and window's copies lie under a folder (XDG Base Directory)."""
    return {
        "XDG_DATA_HOME": str(root / "data"),
        "LOCALAPPDATA": str(root / "data"),
        "XDG_CONFIG_HOME": str(root / "settings"),
        "XDG_STATE_HOME": str(root / "state"),
        "SLACKWATER_SAFETY_COPIES": str(root / "copies"),
    }


@contextmanager
def laid_under(root: Path) -> Iterator[None]:
    """Within this block the user's folders of this process, and of those that it starts, lie under a folder."""
    before = {name: os.environ.get(name) for name in own_folders(root)}
    os.environ.update(own_folders(root))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value
