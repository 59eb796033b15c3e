"""For all tests: windows are drawn off screen."""

import os

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture
def untidied(monkeypatch: pytest.MonkeyPatch) -> None:
    """What lies below the value is left as it comes: for tests that ask what a plan is worth, and whether it holds."""
    monkeypatch.setattr("planner.engine.search.Search._tidy", lambda self: None)
