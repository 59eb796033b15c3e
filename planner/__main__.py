"""``python -m planner`` is the ``slackwater`` command."""

import sys
from pathlib import Path

from planner.own_python import leave_the_current_folder

if __name__ == "__main__":
    leave_the_current_folder(str(Path(__file__).parent.parent))
    from planner.cli import main

    sys.exit(main())
