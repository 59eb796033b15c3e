"""A record in a fresh folder, on an invented day."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from planner.record import Record

TODAY = date(2026, 3, 10)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "record.sqlite"


@pytest.fixture
def record(path: Path) -> Iterator[Record]:
    with Record.open(path, today=lambda: TODAY) as opened:
        yield opened
