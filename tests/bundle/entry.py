"""Where the built program begins: the command, the window, and each process that these two start.

A process that thinks for the window, or studies beside it, is asked for as ``EXECUTABLE [-P ...] -m MODULE``, as from
source. The built program has no Python to give that to, so it goes to the module itself; only ours can be asked for.
"""

import runpy
import sys


def asked_module(words: list[str]) -> tuple[str, list[str]] | None:
    """The module of ours that these words ask for, and the words meant for it; None for everything else."""
    rest = list(words)
    while rest and rest[0] in ("-P", "-I", "-E", "-s", "-u"):
        del rest[0]
    if len(rest) >= 2 and rest[0] == "-m" and (rest[1] == "planner" or rest[1].startswith("planner.")):
        return rest[1], rest[2:]
    return None


def main() -> int:
    """Run what is asked for; the value is the exit code."""
    asked = asked_module(sys.argv[1:])
    if asked is not None:
        sys.argv[1:] = asked[1]
        runpy.run_module(asked[0], run_name="__main__", alter_sys=True)
        return 0
    from planner.__main__ import main as command

    return command()


if __name__ == "__main__":
    sys.exit(main())
