"""Starting Python again without looking for modules where a day lies.

Python puts the current folder, which may be anybody's, first on the path of ``python -m`` and ``python -c``: a
``queue.py`` beside a day would run. The option ``-P`` and the variable below (Python 3.11) keep it off.
"""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

_VARIABLE = "PYTHONSAFEPATH"


def own_module(name: str) -> tuple[str, ...]:
    """The command that runs a module of ours in a process of its own."""
    return (sys.executable, "-P", "-m", name)


@contextmanager
def own_path_for_children() -> Iterator[None]:
    """Within this block a Python that is started, by whatever library, leaves the current folder off its path."""
    before = os.environ.get(_VARIABLE)
    os.environ[_VARIABLE] = "1"
    try:
        yield
    finally:
        if before is None:
            del os.environ[_VARIABLE]
        else:
            os.environ[_VARIABLE] = before


def leave_the_current_folder(ours: str) -> None:
    """Take the current folder off the path of this process, unless this program itself lies in it (a checkout).

    Parameters
    ----------
    ours
        The folder that holds the package ``planner``.
    """
    here = os.path.realpath(os.curdir)
    if os.path.realpath(ours) != here:
        sys.path[:] = [path for path in sys.path if path and os.path.realpath(path) != here]
