"""What the tests of the trade share."""

from collections.abc import Callable
from pathlib import Path

import pytest


@pytest.fixture
def own_values(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Path]:
    """Write the user's own ``trade.toml`` into a configuration folder made for one test."""
    path = tmp_path / "trade.toml"
    monkeypatch.setattr("planner.trade.trade_tables.user_file", lambda: path)

    def write(text: str) -> Path:
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.fixture(autouse=True)
def _no_own_values(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the values of whoever runs the tests out of them."""
    monkeypatch.setattr("planner.trade.trade_tables.user_file", lambda: tmp_path / "none" / "trade.toml")
