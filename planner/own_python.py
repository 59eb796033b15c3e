"""Starting Python again without looking for modules where a day lies.

Python puts the current folder, which may be anybody's, first on the path of ``python -m`` and ``python -c``: a
``queue.py`` beside a day would run. The option ``-P`` (Python 3.11) keeps it off.
"""

import os
import sys
from typing import BinaryIO


def own_module(name: str) -> tuple[str, ...]:
    """The command that runs a module of ours in a process of its own."""
    return (sys.executable, "-P", "-m", name)


def own_output() -> BinaryIO:
    """Our own end of the pipe to whoever started us; what a library prints goes to standard error from now on."""
    ours = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    return ours


def leave_the_current_folder(ours: str) -> None:
    """Take the current folder off this process's path, unless it is ``ours``, which holds our package (a checkout)."""
    here = os.path.realpath(os.curdir)
    if os.path.realpath(ours) != here:
        sys.path[:] = [path for path in sys.path if path and os.path.realpath(path) != here]
