"""Commands ended at every instant at which they touch the disk: what they leave is of one moment."""

from pathlib import Path

import pytest

from tests.faults.half_done import HALF_DONE, badly_met
from tests.faults.kills import ended_at


@pytest.mark.parametrize("name", HALF_DONE)
def test_what_is_half_done_is_undone_or_done(tmp_path: Path, name: str) -> None:
    count, wrong = badly_met(name, tmp_path, every=9)
    assert count > 2, "the instants are seen"
    assert wrong == []


def test_two_files_that_belong_together_are_seen_to_be_torn(tmp_path: Path) -> None:
    """Else the silence above would mean nothing."""
    one, other = tmp_path / "one", tmp_path / "other"
    for path in (one, other):
        path.write_text("before")

    def action() -> None:
        for path in (one, other):
            fresh = path.with_suffix(".new")
            fresh.write_text("after")
            fresh.replace(path)

    assert ended_at(action, 2) is None
    assert (one.read_text(), other.read_text()) == ("after", "before")
    assert ended_at(action, 99) == 2
