"""The window: where tomorrow is settled. The only package that imports PySide6; its widgets hold no planning logic.

A path for the reader: ``model.open_day`` (one open day), ``window`` (days on tabs), ``pages.day_page`` (one of them),
``thinking.day_planning`` and ``planning_process`` (how it is planned without the window ever standing still), ``chart``
(the picture), then ``forms`` and the other ``pages``.
"""

import signal
from collections.abc import Sequence

__all__ = ["main"]


def main(paths: Sequence[str]) -> int:
    """Open a window with these day files in it until it is closed; gives 1 when there is no screen, else 0."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)  # until the window hears it: Qt half loaded takes a stop badly
    from planner.desktop.application import run

    return run(list(paths))
