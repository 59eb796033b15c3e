"""How long it takes to play a plan of forty stages out ten thousand times.

Run by hand, on one core: ``OMP_NUM_THREADS=1 python -m tests.benchmarks.risk``.
"""

import time

from planner.engine import first_plan
from planner.fit.linking import network_of
from planner.fit.risk import play_out
from tests.benchmarks.made_days import made_day

STAGES, JOBS, HANDS, TIMES = 40, 4, 2, 5


def main() -> None:
    """Print the seconds of each run, and those of the quickest on the processor."""
    day = made_day(STAGES, JOBS, HANDS)
    plan = first_plan(day)
    assert plan is not None
    duties = network_of(day, plan).duties
    print(f"{len(plan.works)} stages, {len(duties)} duties, {sum(len(d.links) for d in duties)} links")
    spent = []
    for seed in range(TIMES):
        clock, processor = time.perf_counter(), time.process_time()
        risk = play_out(day, plan, seed=seed)
        spent.append(time.process_time() - processor)
        print(f"{risk.plays} plays: {time.perf_counter() - clock:.3f} s, on the processor {spent[-1]:.3f} s")
    print(f"quickest on the processor {min(spent):.3f} s; home in 80 % of days by minute {risk.home_80:.0f}")


if __name__ == "__main__":
    main()
