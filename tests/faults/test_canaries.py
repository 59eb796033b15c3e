"""No command runs what lies in the folder it is called from."""

from pathlib import Path

import pytest

from planner.cli import COMMANDS as ALL
from tests.faults.canaries import COMMANDS, hang_canaries, songs_of


def test_every_command_is_tried() -> None:
    assert {words[0] for words in COMMANDS.values()} == set(ALL)


@pytest.mark.parametrize("command", COMMANDS)
def test_no_canary_sings(tmp_path: Path, command: str) -> None:
    assert songs_of(COMMANDS[command], tmp_path) == []


def test_a_canary_on_the_path_would_sing(tmp_path: Path) -> None:
    """Else the silence above would mean nothing."""
    folder = tmp_path / "days"
    folder.mkdir()
    song = hang_canaries(folder)
    with pytest.raises(SystemExit, match="a canary ran: queue"):
        exec(compile((folder / "queue.py").read_text(), "queue.py", "exec"), {})
    assert song.read_text() == "queue\n"
