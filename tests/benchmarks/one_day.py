"""Plans one day in a process of its own, as the command does, and measures it from outside.

``python -m tests.benchmarks.one_day FILE SECONDS [CORES]`` plans and writes one line of JSON for each plan that is
given out and one at the end; `run` starts that and reads the lines as they come, so that what a person waits for is
counted from the start of the process: Python, our modules and the solver being loaded included.
"""

import json
import subprocess
import sys
import time
from dataclasses import asdict, dataclass, fields
from pathlib import Path


@dataclass(frozen=True)
class Measured:
    """What one run gave. Times in seconds, values in minutes, ``memory`` the peak resident size in MB.

    Fields are None where there is no plan. ``own`` is the bound that the search for the whole proved, ``jobs`` the one
    that the jobs alone prove; 0 where there is none.
    """

    first: float | None
    value: int | None
    bound: int | None
    gap: float | None
    overrun: int | None
    minutes: int | None
    crossings: int | None
    serial_minutes: int | None
    serial_crossings: int | None
    is_best: bool | None
    own: int | None
    jobs: int | None
    seconds: float
    memory: float

    @property
    def standing(self) -> str:
        """The gap, or that there is none, or that there is no plan."""
        if self.gap is None:
            return "no plan"
        return "proven" if self.is_best else f"{100 * self.gap:.1f} %"


def run(path: Path, seconds: float, cores: int = 2) -> Measured:
    """Plan a day file for so many seconds, on so many cores, in a fresh process.

    Raises
    ------
    RuntimeError
        When that process fails; its own words are in the text.
    """
    began, first, last = time.monotonic(), None, {}
    command = [sys.executable, "-m", __name__, str(path), str(seconds), str(cores)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        for line in process.stdout:
            last = json.loads(line)
            if first is None and "value" in last:
                first = time.monotonic() - began
        errors = process.stderr.read()
    if process.returncode:
        raise RuntimeError(f"{path}: {errors.strip()}")
    said = {field.name: last.get(field.name) for field in fields(Measured)}
    return Measured(**said | {"first": first, "seconds": time.monotonic() - began})


def main(path: str, seconds: str, cores: str = "2") -> None:
    """Plan, and say what was found when."""
    from planner.day.reading import read_day
    from planner.engine.outset import FreshDay
    from planner.engine.planning import Planning
    from planner.engine.ranking import Budget
    from planner.plan.plan import Plan

    def say(plan: Plan | None, **more: object) -> None:
        proof = None if plan is None else plan.proof
        found = {} if proof is None else asdict(proof) | {"gap": proof.gap, "is_best": proof.is_best}
        print(json.dumps(found | more), flush=True)

    planning = Planning(FreshDay(read_day(Path(path))), Budget(float(seconds), int(cores)), on_better=say)
    result = planning.run()
    say(result.plan, memory=peak_memory(), own=planning.own_bound, jobs=planning.least.value)


def peak_memory() -> float:
    """The most memory this process ever held, in MB."""
    import resource

    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / 1e6 if sys.platform == "darwin" else most / 1e3


if __name__ == "__main__":
    main(*sys.argv[1:])
