"""A second opinion on proofs: a day told in another way, to a model with more room, has the same best value.

``python -m tests.second_opinion --days 1000 --seconds 10 --seed 1`` plans so many random days, and each of them again
after changes that cannot matter: every limit of the model is wider, tables stand in another order, keys have other
names, a helper is added who is never there, and what needs no kit is moved to a ground of its own where the way in
takes no time. Two values that are both proven must be the same, and so must "there is no plan". A difference is traced
to the change that makes it. The exit code is 1 when there was any. Seconds are the solver's own count of its work, so
that equal runs are equal. ``--first`` begins at a later day, so that the days can be gone through in parts.
"""

import random
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from typing import Any
from unittest.mock import patch

from planner import engine
from planner.day import Day
from planner.engine import dominance
from planner.engine.problem import Problem
from planner.plan.measures import measure
from tests.engine.edge_days import edge
from tests.engine.random_days import small, tiny
from tests.long_run import Tally, asked_of, told

Tables = dict[str, Any]
Answer = tuple[int, int] | str
"""Overrun and value where they are proven; else "no plan" or "not proven"."""

NEVER = [2600, 2700]
"""Hours of a helper who is never there: no day goes on so long."""

WIDER = 2
"""By so many more stays and crossings every limit of the model is wider."""


NO_NAMES = ("kind", "chemical", "makes", "spoiled_by", "fresh_to", "order", "tags")
"""Words of a stage or a wait whose values are no keys of the day, though a stage may have such a key."""


# --- changes that cannot matter ------------------------------------------------------------------------------------


def reordered(tables: Tables, seed: int) -> Tables:
    """The tables of a day, each in an order by chance."""
    rng = random.Random(seed)

    def shuffled(value: Any) -> Any:
        if isinstance(value, dict):
            keys = list(value)
            rng.shuffle(keys)
            return {key: shuffled(value[key]) for key in keys}
        return [shuffled(x) for x in value] if isinstance(value, list) else value

    return {key: shuffled(value) for key, value in tables.items()}


def renamed(tables: Tables, seed: int) -> Tables:
    """A day whose jobs, hands, kit, grounds, surfaces and stages have other keys."""
    names: dict[str, str] = {}
    for kind in ("jobs", "hands", "kit"):
        names |= {key: f"z{seed % 7}-{key}" for key in tables.get(kind, {})}  # some days need no kit
    for job in tables["jobs"].values():
        for kind in ("grounds", "surfaces", "stages"):
            names |= {key: f"y{seed % 5}-{key}" for key in job[kind]}

    def other(value: Any) -> Any:
        if isinstance(value, dict):
            return {names.get(key, key): x if key in NO_NAMES else other(x) for key, x in value.items()}
        if isinstance(value, list | tuple):
            return [other(x) for x in value]
        return names.get(value, value) if isinstance(value, str) else value

    return {key: other(value) for key, value in tables.items()}


def with_idle_helper(tables: Tables, seed: int) -> Tables:
    """A helper with their own transport is added whose hours lie after everything."""
    idle = {"own_transport": True, "hours": NEVER}
    return tables | {"hands": {**tables["hands"], "idle-helper": idle}}


def with_split_way(tables: Tables, seed: int) -> Tables:
    """Where a way in takes no time, a surface whose stages need no kit and spoil nothing gets a ground of its own."""
    jobs = {}
    for key, job in tables["jobs"].items():
        job = job | {"grounds": dict(job["grounds"]), "surfaces": dict(job["surfaces"])}
        for name, surface in list(job["surfaces"].items()):
            ground = job["grounds"][surface["ground"]]
            stages = [stage for stage in job["stages"].values() if stage["surface"] == name]
            bare = all(not m.get("kit") for stage in stages for m in stage["methods"].values())
            says = ("makes", "spoiled_by", "kind", "chemical")
            clean = not any(stage.get(word) for stage in stages for word in says)
            if stages and bare and clean and _takes_no_time(ground.get("way_in", {})):
                job["grounds"][f"split-{name}"] = ground
                job["surfaces"][name] = surface | {"ground": f"split-{name}"}
        jobs[key] = job
    return tables | {"jobs": jobs}


def _takes_no_time(way: Tables) -> bool:
    return not way.get("minutes") and not way.get("restricted") and not way.get("over")


@contextmanager
def wider_limits() -> Iterator[None]:
    """Every limit of the model a little wider than its argument says it need be."""
    stays, crossings, restricted = (
        dominance.most_stays, dominance.most_crossings, dominance.most_restricted_crossings,
    )  # fmt: skip

    def more_stays(problem: Problem, kit: int, ground: int) -> int:
        return stays(problem, kit, ground) + (WIDER if dominance.users(problem, kit, ground) else 0)

    def more_crossings(problem: Problem, ground: int, latest_home: int | None = None) -> int:
        return crossings(problem, ground, latest_home) + WIDER

    def more_restricted(problem: Problem) -> int:
        return restricted(problem) + WIDER

    with ExitStack() as stack:
        stack.enter_context(patch("planner.engine.variables.most_stays", more_stays))
        stack.enter_context(patch("planner.engine.variables.most_crossings", more_crossings))
        stack.enter_context(patch("planner.engine.by_number.most_restricted_crossings", more_restricted))
        yield


CHANGES: dict[str, Callable[[Tables, int], Tables]] = {
    "a way of no minutes split": with_split_way,
    "a helper who does nothing": with_idle_helper,
    "keys renamed": renamed,
    "tables reordered": reordered,
}


# --- asking twice --------------------------------------------------------------------------------------------------


def answer(day: Day, seconds: float) -> Answer:
    """What the engine proves of a day."""
    result = engine.plan_day(day, seconds=seconds, deterministic=True)
    if result.plan is None:
        return "no plan" if result.is_impossible else "none found"
    proof = result.plan.proof
    if proof is None or not proof.is_best:
        return "not proven"
    found = measure(day, result.plan)
    return found.overrun, found.value


def differ(one: Answer, other: Answer) -> bool:
    """Whether two answers cannot both be true."""
    open_answers = {"not proven", "none found"}
    return one != other and one not in open_answers and other not in open_answers


def changed(day: Day, seed: int, names: Iterator[str] | list[str]) -> Day:
    """A day after some of the changes."""
    tables = day.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    for name in names:
        tables = CHANGES[name](tables, seed)
    return Day.model_validate(tables)


def second_opinion(day: Day, seed: int, seconds: float) -> tuple[Answer, Answer, list[str]]:
    """What is proven of a day, what of it in other words and with more room, and which changes alone make it differ."""
    first = answer(day, seconds)
    with wider_limits():
        second = answer(changed(day, seed, list(CHANGES)), seconds)
    if not differ(first, second):
        return first, second, []
    guilty = [name for name in CHANGES if differ(first, answer(changed(day, seed, [name]), seconds))]
    with wider_limits():
        guilty += ["wider limits"] if differ(first, answer(day, seconds)) else []
    return first, second, guilty or ["only all changes together"]


# --- many days -----------------------------------------------------------------------------------------------------


@dataclass
class Opinions(Tally):
    """How many days were asked about, what was proven of how many; its faults are differences."""

    proven_twice: int = 0
    impossible_twice: int = 0
    open: int = 0
    none_found: int = 0
    no_first: int = 0

    def __str__(self) -> str:
        return (
            f"{self.days} days: {self.proven_twice} proven twice, {self.impossible_twice} without a plan twice, "
            f"{self.open} not proven both times, {self.none_found} with none found, "
            f"{self.no_first} with a plan but no serial order; {len(self.faults)} differences"
        )


def random_day(number: int, seed: int) -> Day:
    """A day at the edges of the model, but for every fourth, which is tiny or small."""
    make = (edge, edge, edge, tiny if number % 8 == 3 else small)[number % 4]
    return make(seed * 100_000 + number)


def opinions(days: int, seconds: float, seed: int, begin: int = 0) -> Iterator[Opinions]:
    """Ask twice about so many random days; the counts after each."""
    counts = Opinions()
    for number in range(begin, begin + days):
        day = random_day(number, seed)
        first, second, guilty = second_opinion(day, number, seconds)
        counts.days += 1
        counts.no_first += first not in ("no plan", "none found") and engine.first_plan(day) is None
        counts.none_found += "none found" in (first, second)
        counts.impossible_twice += first == second == "no plan"
        counts.proven_twice += isinstance(first, tuple) and first == second
        counts.open += "not proven" in (first, second)
        if guilty:
            words = f"day {number} of seed {seed}: {first}, but {second} after: {', '.join(guilty)}"
            counts.faults.append(words)
        yield counts


def main() -> int:
    """Run, print the counts and every difference; 1 when there was any."""
    return told(opinions, asked_of("second_opinion", __doc__, days=1000, seconds=10.0))


if __name__ == "__main__":
    sys.exit(main())
