"""A slip in the user's own ``trade.toml``: the window tells it with its line, and works on by the shipped values."""

from pathlib import Path

import platformdirs
import pytest

from planner.desktop.starting import fill
from planner.desktop.window import Window
from planner.trade.library import library

SLIPS = {
    "no TOML": ("[kit.washer]\nload = 1,0\n", "trade.toml:2: this is not TOML"),
    "no table of ours": ("\n[kits.washer]\nload = 2\n", "trade.toml:2: [kits] is no table of the trade"),
    "not a number": ('[kit.washer]\nload = "heavy"\n', "trade.toml:2"),
}


@pytest.fixture(params=SLIPS)
def slip(request: pytest.FixtureRequest) -> tuple[Path, str]:
    """The file with a slip, and what must be told of it."""
    text, words = SLIPS[request.param]
    path = Path(platformdirs.user_config_dir("slackwater")) / "trade.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path, words


def test_a_slip_of_ones_own_is_told_and_keeps_nobody_from_working(
    window: Window, tiny_file: Path, told: list[str], slip: tuple[Path, str]
) -> None:
    path, words = slip
    before = path.read_bytes()
    fill(window, [tiny_file])
    assert len(told) == 1
    assert words in told[0]
    assert "the shipped values are used meanwhile" in told[0]
    [page] = window.pages()
    assert page.open_day.day is not None
    assert page.open_day.draft.faults == ()
    assert library().kit["washer"]["load"] > 0
    for place in range(window.tabs.count()):
        window.tabs.setCurrentIndex(place)
    assert path.read_bytes() == before, "what is written there is mended by whoever wrote it"
