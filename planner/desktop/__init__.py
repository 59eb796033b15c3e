"""The window: where tomorrow is settled. The only package that imports PySide6; its widgets hold no planning logic.

A path for the reader: ``open_day`` (the model of one open day), ``day_page`` (its page), ``window`` (pages on tabs),
``day_planning`` and ``planning_process`` (how it is planned without the window ever standing still), then ``forms``
and ``panels``.
"""

from collections.abc import Sequence

__all__ = ["main"]


def main(paths: Sequence[str]) -> int:
    """Open a window with these day files in it, and stay until it is closed.

    Returns
    -------
    int
        0 when it was closed, 1 when there is no screen to draw on.
    """
    from planner.desktop.application import run

    return run(list(paths))
