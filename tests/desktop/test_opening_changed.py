"""A day that was changed outside the window is opened with the plan that is kept of it, and without what was proven."""

from dataclasses import replace
from pathlib import Path

from planner.day.reading import read_day
from planner.desktop.model.filing import open_file
from planner.engine import plan_day
from planner.plan.kept import Kept, keep


def test_one_more_hand_in_the_file_takes_the_proof_and_leaves_the_plan(tiny_file: Path) -> None:
    day = read_day(tiny_file)
    plan = plan_day(day, seconds=20).plan
    assert plan is not None
    assert plan.proof is not None
    assert plan.proof.is_best
    keep(tiny_file, day, Kept(plan))
    as_it_was = open_file(tiny_file, read_only=True).open_day
    assert as_it_was.plan == plan
    one_more = '\n[hands.nel]\nhours = ["09:30", "17:00"]\nown_transport = true\n'
    tiny_file.write_text(tiny_file.read_text(encoding="utf-8") + one_more, encoding="utf-8")
    changed = open_file(tiny_file, read_only=True).open_day
    assert changed.day is not None
    assert len(changed.day.hands) == 1 + len(day.hands)
    assert changed.plan == replace(plan, proof=None)
