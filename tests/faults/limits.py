"""Runs a piece of code in a process that may take so much time of the processor and so much memory, and no more."""

import resource
import subprocess
import sys

from tests.cli.commands import ROOT

CPU_SECONDS = 20
"""Far more than anything below takes, far less than what grows with the square of its size would."""

MEMORY = 1500 * 2**20
"""Bytes of address space; the libraries alone take some hundred million."""


def within_limits(code: str, *words: str) -> subprocess.CompletedProcess[str]:
    """Run Python code with words in its ``sys.argv``; it is ended where it goes over a limit."""

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))

    command = [sys.executable, "-c", code, *words]
    return subprocess.run(command, preexec_fn=limited, cwd=ROOT, capture_output=True, text=True, check=False)
