"""``python -m planner`` is the ``slackwater`` command."""

import sys
from pathlib import Path

from planner.own_python import leave_the_current_folder

if __name__ == "__main__":
    leave_the_current_folder(str(Path(__file__).parent.parent))
    try:
        from planner.cli import main

        code = main()
    except KeyboardInterrupt:  # while all is being loaded
        code = 130
    sys.exit(code)
