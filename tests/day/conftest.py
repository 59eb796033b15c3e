"""Faults of day files, as a person sees them."""

from collections.abc import Callable
from pathlib import Path

import pytest

from planner.day.file import DayFaults, read_day
from tests.day.small_day import SMALL


@pytest.fixture
def faults(tmp_path: Path) -> Callable[..., list[str]]:
    """Faults of the small day with texts in it replaced, each as ``LINE: place: wrong; right``."""

    def found(*changes: tuple[str, str]) -> list[str]:
        text = SMALL
        for old, new in changes:
            assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the small day"
            text = text.replace(old, new)
        file = tmp_path / "day.toml"
        file.write_text(text, encoding="utf-8")
        with pytest.raises(DayFaults) as caught:
            read_day(file)
        assert str(caught.value).count("\n") == len(caught.value.faults) - 1
        return [line.removeprefix(f"{file}:").strip() for line in str(caught.value).splitlines()]

    return found
