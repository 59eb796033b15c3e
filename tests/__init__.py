"""Tests, long runs and benchmarks. In them a model that is none is raised, not taken for one without a plan."""

import os

os.environ.setdefault("SLACKWATER_STRICT", "1")
