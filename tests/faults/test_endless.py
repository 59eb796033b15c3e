"""Texts made to take for ever are read, or refused, within bounds of time and memory that the system keeps."""

from pathlib import Path

import pytest

from tests.cli.commands import SAMPLES
from tests.faults.endless import ENDLESS, READING
from tests.faults.limits import within_limits


@pytest.mark.parametrize("name", ENDLESS)
def test_a_text_without_end_is_read_or_refused(tmp_path: Path, name: str) -> None:
    path = tmp_path / "day.toml"
    path.write_text(ENDLESS[name]((SAMPLES / "tiny.toml").read_text(encoding="utf-8")), encoding="utf-8")
    done = within_limits(READING, str(path))
    assert done.returncode == 0, f"ended by the system, or a traceback: {done.stderr[-300:]}"
    assert done.stdout


def test_what_takes_for_ever_is_ended() -> None:
    """Else the silence above would mean nothing."""
    assert within_limits("x = b'x' * 3 * 2**30").returncode != 0
