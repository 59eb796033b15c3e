"""Leaves out one rule of the engine after the other, and looks for a day whose plan then breaks it, says the checker.

    python -m tests.engine.leave_out [RULE...]

prints for each rule the first day that shows what it is for, and what the checker says of the plan. A rule for which
no day is found is either said by others already (`IMPLIED`) or one that neither the random days nor those written for
single rules (`tests.engine.rule_days`) know.
"""

import inspect
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from types import ModuleType

from planner.day import Day
from planner.day.reading import read_day
from planner.engine import rules as pages
from planner.engine.outset import FreshDay
from planner.engine.planning import Planning
from planner.engine.ranking import Budget
from planner.engine.result import Result
from tests.days import tiny_day
from tests.engine import edge_days, random_days, rule_days
from tests.plan import worked

SECONDS = 2.0
"""The solver's own measure of work for each day."""

IMPLIED = {
    "hands.be_on_one_way": "breaks symmetry",
    "hands.fill_slots": "a cut for the bound",
    "hands.have_time_for_all": "a cut for the bound",
    "hands.have_time_together": "a cut for the bound",
    "material.count_shuttles": "only in models with shuttles, which prove nothing",
    "carrying.order_equal_stays": "breaks symmetry",
    "route.come_back_in_order": "breaks symmetry: visits are numbered by their times when they are read",
    "route.come_back_for_work": "keeps visits away that do nothing, which are not read either",
}
"""What says nothing new, so that no plan shows it to be missing."""

ALLOWS = {"carrying.roll": "allows more: without it the best plan is missed"}
"""Rules that forbid nothing."""

WITNESSES: dict[str, tuple[str, int]] = {
    "route.drive_round": ("usual", 0),
    "order.keep_lag": ("usual", 0),
    "order.keep_closed": ("tiny", 2),
    "order.keep_from_mixing": ("mixing", 0),
    "carrying.use_stay": ("usual", 0),
    "carrying.keep_to_visits": ("worked", 2),
    "carrying.come_and_go_in_visits": ("worked", 2),
    "carrying.carry_in_and_out": ("usual", 0),
    "carrying.stand_from_chore_to_chore": ("worked", 1),
    "carrying.share_stays": ("usual", 0),
    "material.deliver_material": ("worked", 1),
    "material.take_out_again": ("worked", 1),
    "hands.work_inside_a_slot": ("worked", 1),
    "hands.work_inside_a_visit": ("worked", 1),
    "hands.cross_inside_a_visit": ("usual", 0),
    "hands.do_one_thing": ("usual", 0),
    "hands.rest_when_owed": ("worked", 2),
    "carrying.keep_load_limit": ("usual", 0),
    "carrying.lay_protection": ("worked", 1),
}
"""The first day that was found to show what a rule is for; for all others one is written (`rule_days`)."""

MAKERS: dict[str, Callable[[int], Day]] = {
    "tiny": random_days.tiny,
    "small": random_days.small,
    "worked": lambda n: (worked.tiny, worked.pair, worked.round_trip)[n]()[0],
    "usual": lambda _: tiny_day(),
    "mixing": lambda _: _mixing(),
    "edge": edge_days.edge,
    "own": lambda n: [*rule_days.DAYS.values()][n](),
    "sample": lambda n: read_day(SAMPLES[n]),
}
SAMPLES = sorted((Path(__file__).parents[2] / "sample_days").glob("*.toml"))


def _mixing() -> Day:
    """Acid on the wall drains over the patio, which is to be bleached: rinsing the wall alone is not enough."""
    tables = worked.pair_tables()
    tables["jobs"]["elm"]["stages"]["bleach"]["surface"] = "patio"
    return Day.model_validate(tables)


def rules() -> dict[str, tuple[ModuleType, str]]:
    """Every rule that the engine states, by its module and name."""
    return {
        f"{module.__name__.rpartition('.')[2]}.{name}": (module, name)
        for module in (import_module(f"{pages.__name__}.{page.name}") for page in iter_modules(pages.__path__))
        for name, rule in vars(module).items()
        if inspect.isfunction(rule) and rule.__module__ == module.__name__
        if not name.startswith("_") and name != "obey" and inspect.signature(rule).return_annotation is None
    }


@contextmanager
def left_out(module: ModuleType, name: str) -> Iterator[None]:
    """The engine without one of its rules."""
    rule = getattr(module, name)
    setattr(module, name, lambda *_: None)
    try:
        yield
    finally:
        setattr(module, name, rule)


def planned(day: Day) -> Result:
    """What the engine finds for a day."""
    return Planning(FreshDay(day), Budget(SECONDS, 1, 0, deterministic=True)).run()


def refused(day: Day) -> tuple[str, ...]:
    """What the checker says of the plans that the engine finds for a day; a solution that is no plan at all counts."""
    try:
        return planned(day).refused
    except (IndexError, KeyError, ValueError, AssertionError) as broken:
        return (f"no plan can be read: {type(broken).__name__} {broken}",)


def day_for(rule: str) -> Day:
    """The day that shows what a rule is for, as far as one is known."""
    if rule in rule_days.DAYS:
        return rule_days.DAYS[rule]()
    kind, number = WITNESSES[rule]
    return MAKERS[kind](number)


def days(rule: str) -> Iterator[tuple[str, int]]:
    """Days to try: the one that is known to show the rule, then the quick ones."""
    if rule in rule_days.DAYS:
        yield "own", list(rule_days.DAYS).index(rule)
    if rule in WITNESSES:
        yield WITNESSES[rule]
    yield from [("usual", 0), ("mixing", 0), *(("worked", n) for n in range(3))]
    yield from [*(("own", n) for n in range(len(rule_days.DAYS))), *(("tiny", n) for n in range(12))]
    yield from [*(("edge", n) for n in range(12)), *(("tiny", n) for n in range(50, 60))]
    yield from [*(("small", n) for n in range(10)), *(("sample", n) for n in range(len(SAMPLES)))]


def witness(rule: str) -> tuple[str, int, str] | None:
    """The first day that shows a rule to be missing, and what the checker says."""
    with left_out(*rules()[rule]):
        for kind, number in days(rule):
            said = refused(MAKERS[kind](number))
            if said:
                return kind, number, said[0]
    return None


def main() -> None:
    """Print the table."""
    for rule in sys.argv[1:] or rules():
        if why := (IMPLIED | ALLOWS).get(rule):
            print(f"{rule:34} {'':10} ({why})", flush=True)
            continue
        found = witness(rule)
        kind, number, said = found or ("NO DAY", "", "")
        print(f"{rule:34} {kind} {number}: {said}", flush=True)


if __name__ == "__main__":
    main()
