"""For the tests of whether a day fits: changed days are planned here, where processes are not the question."""

from collections.abc import Sequence
from typing import Any

import pytest

from planner.fit.errands import Errand, answered, said, told
from planner.fit.side_by_side import Done, SideBySide


@pytest.fixture
def in_this_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Errands go out and come back as lines, as to a process of ours, but are done where the solver is loaded."""

    def run(_: SideBySide, tasks: Sequence[Errand], *, seconds: float, on_done: Any = None) -> list[Done]:
        found: list[Done] = []
        for task in tasks:
            found.append(Done(task.name, *told(answered(said(task)))))
            if on_done is not None:
                on_done(len(found), len(tasks), found[-1])
        return found

    monkeypatch.setattr(SideBySide, "run", run)
