"""The ``slackwater`` command, as it is installed and as ``python -m planner``."""

import signal
import sys
from pathlib import Path

from planner.own_python import leave_the_current_folder


def main() -> int:
    """Load the command and run it; the value is its exit code.

    Until it is loaded there is nothing to tidy up, and Ctrl+C ends us at once, without a word.
    """
    is_heard = signal.getsignal(signal.SIGINT) is signal.default_int_handler  # else whoever started us wants it ignored
    if is_heard:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    leave_the_current_folder(str(Path(__file__).parent.parent))
    from planner.cli import main as command

    if is_heard:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    return command()


if __name__ == "__main__":
    sys.exit(main())
