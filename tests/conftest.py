"""For all tests: windows are drawn off screen."""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
