"""Our processes speak JSON: plain data comes back the same, and nothing but data comes of it."""

import datetime as dt
import json
from pathlib import Path
from typing import Any

import pytest

from planner.fit.wire import NotPlainError, from_json, to_json


@pytest.mark.parametrize(
    "value",
    [
        (1, 2.5, None, True, "é\u202e\ud800"),
        [(), [], {}],
        {("a", 1): [dt.date(2026, 6, 16), dt.time(7, 30), dt.datetime(2026, 6, 16, 7, 30)]},
        frozenset({1, 2}),
        b"\x00\xff",
        Path("a/b"),
        {"is": "table", "of": "x"},
    ],
)
def test_plain_data_comes_back_the_same(value: Any) -> None:
    found = from_json(to_json(value))
    assert found == value
    assert type(found) is type(value) or isinstance(value, Path)


@pytest.mark.parametrize("kind", ["os:system", "planner.cli:main", "planner.resources:Path", "builtins:eval"])
def test_nothing_but_data_of_ours_is_made(kind: str) -> None:
    with pytest.raises(NotPlainError):
        from_json(json.dumps({"is": kind, "of": {}}))


def test_what_is_no_data_does_not_go_through() -> None:
    with pytest.raises(NotPlainError):
        to_json(print)
    with pytest.raises(NotPlainError):
        to_json({"a": object()})
