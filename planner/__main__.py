"""``python -m planner`` is the ``slackwater`` command."""

import sys

from planner.cli import main

sys.exit(main())
