"""Short names made from what a person typed, so that nobody need know that a day file has keys."""

import re
import unicodedata
from collections.abc import Container

from planner.day.names import written_name


def key_for(name: str, taken: Container[str], fallback: str = "new") -> str:
    """A key such as "larch-rise" that is not taken yet."""
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:40].strip("-") or fallback
    key, number = stem, 2
    while key in taken:
        key, number = f"{stem}-{number}", number + 1
    return key


def called(tables: dict[str, dict[str, object]], key: str, field: str = "name") -> str:
    """What a part of the day is called: its name, or else its key."""
    return written_name(tables.get(key), key, field)
