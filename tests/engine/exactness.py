"""The engine against exact search on many tiny days: ``python -m tests.engine.exactness --first 0 --days 200``.

Each day is planned until it is proven best and searched by `tests.engine.bruteforce`; days of which the exact search
must look at too much are passed over, and counted. The exit code is 1 when the two disagreed on any. ``--seeds`` asks
about the days of the tests, of which the tests themselves ask about a sample only.
"""

import argparse
import sys
import time

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.engine import plan_day
from planner.engine.build import build
from planner.engine.order_alone import has_no_order
from planner.plan.checker import broken_rules
from planner.plan.measures import measure
from tests.engine.bruteforce import best_value
from tests.engine.random_days import tiny

PLAIN = (
    0, 1, 2, 3, 4, 5, 6, 8, 10, 13, 15, 16, 18, 20, 22, 23, 24, 25, 26, 27, 29, 30, 32, 34,
    50, 54, 64, 72, 77, 78, 80, 83, 90, 98, 106, 113, 118,
)  # fmt: skip
"""Days that the exact search gets through in a few seconds each."""

PATCHES = (
    200, 203, 204, 205, 206, 207, 208, 210, 212, 214, 215, 216, 217, 218, 221, 237, 238, 239, 240, 242, 244, 257,
)  # fmt: skip
"""And such with waits that hold patch by patch, some of them worked in sections."""

MASSES = (
    402, 408, 410, 411, 413, 414, 416, 418, 421, 422, 423, 426, 427, 430, 431, 432, 433, 442,
)  # fmt: skip
"""And such with masses, waste and leftover."""

FRESH = (
    604, 605, 606, 607, 608, 612, 617, 622, 623, 625, 634, 635, 641, 646, 647, 648, 651, 652, 656, 684, 2247, 120237,
)  # fmt: skip
"""And such with fresh and soiling work, covers and weather."""

COMING = (802, 804, 808, 810, 811, 812, 818, 828, 830)
"""And such with arriving and leaving, meals, kit that is rinsed out, and water in cans."""

DRY = tuple(range(1200, 1260))
"""And such, smaller still, with sheets that lie on paving, and work that must begin dry."""

SHARED = (
    1400, 1404, 1405, 1406, 1411, 1412, 1414, 1420, 1424, 1426, 1432, 1434, 1435, 1438, 1440, 1444, 1445, 1446, 1448,
)  # fmt: skip
"""And such with cans that stages share, kit set up in turn, dry cutting, and ladders carried over what is washed."""

LADDERS = tuple(range(2000, 2060))
"""And such on which somebody works from a ladder, in wind, above others, over steps that are wet."""

CHEMICALS = tuple(range(2100, 2160))
"""And such with two chemicals that must never meet, on one surface or the one above the other."""

LEDGES = tuple(range(2303, 2663, 12))
"""And such on which the one drains to the other by way of a third, or is worked from it."""

CHANNELS = tuple(range(3002, 3782, 13))
"""And such on which paving drains to a channel, or something dwells below or above what is done from a ladder."""

WAYS = tuple(range(110_011, 110_991, 14))
"""And such with ways in that go over, and work beside, what another treats, coats, jets or sweeps."""

SOILS = tuple(range(120_014, 121_214, 15))
"""And such on which dirt, dust, mist and jets come to what is clean, dwells or is fresh."""

OWN_KIT = tuple(range(130_015, 130_815, 16))
"""And such with kit of the day's own, of which it says little, that chemicals are put on with."""

PARTED = tuple(range(140_011, 141_031, 17))
"""And such on which one surface is worked in halves, and in thirds or quarters."""

APART = (
    1602, 1603, 1605, 1607, 1610, 1611, 1615, 1617, 1618, 1620, 1622, 1625, 1626, 1627, 1628, 1630, 1632, 1633, 1636,
    1637, 1638, 1640, 1642,
)  # fmt: skip
"""And such with breaks that fall due, and a hand who comes and goes by themselves."""

SECONDS = 60.0
"""For the proof of a day that takes less than one."""


def disagreement(day: Day, *, most_states: int = 3_000_000) -> str | None:
    """What the engine says of a tiny day that the exact search does not, in words; None where they agree.

    Raises
    ------
    RuntimeError
        When the exact search had to look at more states than that.
    """
    exact = best_value(day, most_states=most_states).value
    result = plan_day(day, seconds=SECONDS)
    if result.refused:
        return f"refused: {result.refused[0]}"
    if exact is not None and has_no_order(build(day)):
        return f"exact {exact}, and the order of its work alone is said to be impossible"
    if exact is None or result.plan is None or result.plan.proof is None:
        return None if exact is None and result.plan is None else f"exact {exact}, engine {result.plan}"
    found, proof = measure(day, result.plan), result.plan.proof
    if broken := broken_rules(day, result.plan):
        return f"broken: {broken[0].text}"
    if found.overrun or found.value != exact or not proof.is_best or proof.bound > exact:
        return f"exact {exact}, engine {found.value} with {proof.bound} proven"
    return None


def main() -> int:
    """Ask about so many days; 1 when any differed."""
    parser = argparse.ArgumentParser(prog="python -m tests.engine.exactness", description=__doc__)
    parser.add_argument("--first", type=int, default=0, help="the number of the first day (default %(default)s)")
    parser.add_argument("--days", type=int, default=100, help="how many (default %(default)s)")
    parser.add_argument("--states", type=int, default=150_000, help="of the exact search, at most")
    parser.add_argument("--seeds", action="store_true", help="the days of the tests instead")
    asked = parser.parse_args()
    some = range(asked.first, asked.first + asked.days)
    known = [*PLAIN, *PATCHES, *MASSES, *FRESH, *COMING, *DRY, *SHARED, *LADDERS, *CHEMICALS, *LEDGES]
    known += [*APART, *CHANNELS, *WAYS, *SOILS, *OWN_KIT, *PARTED]
    seeds = known if asked.seeds else some
    agreed, too_much, differ, unsound = [], [], [], []
    for seed in seeds:
        began, day = time.monotonic(), tiny(seed)
        if faults_in(day):
            unsound.append(seed)
            continue
        try:
            wrong = disagreement(day, most_states=asked.states)
        except RuntimeError:
            too_much.append(seed)
            continue
        (differ if wrong else agreed).append(seed)
        if wrong or time.monotonic() - began > 10:
            print(f"day {seed} ({time.monotonic() - began:.0f} s): {wrong or 'agrees'}", flush=True)
    print(f"{len(agreed)} agree, {len(too_much)} too much for the exact search, {len(unsound)} unsound: {unsound}")
    print(f"agree: {agreed}")
    print(f"FAILED: {differ}" if differ else "All agree.")
    return int(bool(differ))


if __name__ == "__main__":
    sys.exit(main())
