"""A known plan bettered piece by piece: most of it is held as it is, some of it is planned anew, again and again."""

import random
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import pairwise

from ortools.sat.python import cp_model

from planner.engine.hints import start_from
from planner.engine.solving import Solution, Solving
from planner.engine.variables import Expr, Stay, Task, Variables

FEWEST_FREE = 4
"""Stages that are planned anew at once, at the least."""

GROWS, SHRINKS = 1.25, 0.8
"""How the number of stages planned anew changes: after a try that ended in time, and after one that did not."""

STRETCHES = 0.6
"""The part of the tries that plan a stretch of the day anew; the others take stages of one ground or kit."""

SECONDS_A_TRY = 1.5
"""A try that takes longer was of too much at once."""


class Neighbourhoods:
    """Betters the best solution that a solving has of one model, whose ``value`` is what is made least.

    Of one model several may run at once, each in a thread and with its own seed: each try starts from the best of all.
    ``sizes`` are how many stages a try plans anew, of those that are near each other and of those of a stretch: where
    nothing keeps its time fewer are enough for one try.
    """

    def __init__(self, solving: Solving, variables: Variables, value: Expr, seed: int = 0) -> None:
        self.solving, self.v, self.value = solving, variables, value
        self.random = random.Random(seed)
        self.open = [a for a, activity in enumerate(variables.problem.activities) if activity.start is None]
        self.sizes = dict.fromkeys((False, True), float(max(FEWEST_FREE, min(10, len(self.open) // 2))))

    def better(self, until: float, tries: int | None = None) -> None:
        """Try until that time of the solving's clock, or until all was free at once and nothing is better.

        With ``tries`` it ends when so many in a row found nothing better.
        """
        whole, in_vain, last = not self.open, 0, self.solving.outcome.best
        while self.solving.clock() < until and not self.solving.must_stop() and not whole:
            known = self.solving.outcome.best
            if known is None or known.variables is not self.v:
                return
            in_vain, last = in_vain + 1 if known is last else 0, known
            if in_vain == tries:
                return
            whole = self._try(known, min(SECONDS_A_TRY, until - self.solving.clock()))

    def _try(self, known: Solution, seconds: float) -> bool:
        """Plan some of it anew; whether that was all, and the best is proven."""
        stretch = self.random.random() < STRETCHES
        size = min(len(self.open), round(self.sizes[stretch]))
        stretch = stretch and size < len(self.open)  # of all of them nothing keeps its time
        free = self._stretch(known, size) if stretch else self._near_each_other(size)
        model = self.v.model.clone()
        hold(self.v, model, known, free)
        if stretch:
            hold_times(self.v, model, known, free)
        else:
            hold_order(self.v, model, known, free)
        model.add(self.value <= known.of(self.value) - 1)
        status = self.solving.solve_for_plans(self.v, model, seconds)
        in_time = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
        self.sizes[stretch] = max(FEWEST_FREE, self.sizes[stretch] * (GROWS if in_time else SHRINKS))
        return in_time and len(free) == len(self.open)

    def _stretch(self, known: Solution, size: int) -> set[int]:
        """Stages that follow each other in the plan."""
        order = sorted(self.open, key=lambda a: known.of(self.v.activities[a].start))
        first = self.random.randrange(len(order) - size + 1)
        return set(order[first : first + size])

    def _near_each_other(self, size: int) -> set[int]:
        """Stages of one ground and what shares kit with them, drawn at random."""
        activities = self.v.problem.activities
        start = self.random.choice(self.open)

        def nearness(a: int) -> float:
            same_ground = activities[a].ground == activities[start].ground
            kit = {k for mode in activities[a].modes for k in mode.kit}
            shares = kit & {k for mode in activities[start].modes for k in mode.kit}
            return self.random.random() + same_ground + bool(shares)

        others = sorted((a for a in self.open if a != start), key=nearness, reverse=True)
        return {start, *others[: size - 1]}


def better_on_all_cores(
    solving: Solving, variables: Variables, value: Expr, until: float, tries: int | None = None
) -> None:
    """Better the best solution of one model piece by piece, each core by its own seed; an error in any is raised."""
    cores = solving.budget.cores
    with ThreadPoolExecutor(cores) as pool:
        each = [Neighbourhoods(solving, variables, value, seed) for seed in range(cores)]
        for bettered in [pool.submit(one.better, until, tries) for one in each]:
            bettered.result()


def hold(variables: Variables, model: cp_model.CpModel, known: Solution, free: set[int]) -> None:
    """Bind in a copy of a model what a solution chooses for all stages but the free ones; times stay free."""
    start_from(model, known.values)
    for choice in _choices(variables, free):
        index = getattr(choice, "index", None)
        if isinstance(index, int) and index >= 0:
            domain = model.proto.variables[index].domain
            if list(domain) == [0, 1]:
                domain.clear()
                domain.extend([known.values[index]] * 2)


def hold_times(v: Variables, model: cp_model.CpModel, known: Solution, free: set[int]) -> None:
    """What ends before the free stages keeps its times; what begins after them keeps step, and may all come sooner."""
    spans = [(known.of(v.activities[a].start), _end(v.activities[a], known)) for a in free]
    begins, ends = min(start for start, _ in spans), max(end for _, end in spans)
    sooner = model.new_int_var(0, ends - begins, "sooner")
    for moment in _moments(v, known, free):
        if (was := known.of(moment)) <= begins:
            model.add(moment == was)
        elif was >= ends:
            model.add(moment == was - sooner)


def hold_order(v: Variables, model: cp_model.CpModel, known: Solution, free: set[int]) -> None:
    """What each hand does that is not free follows in the order that it has; what is free may come between."""
    held = sorted(_held_tasks(v, known, free), key=lambda task: (known.of(task.start), _end(task, known)))
    for hand in range(len(v.problem.hands)):
        for before, after in pairwise(task for task in held if known.of(task.hands.get(hand, 0))):
            if _end(before, known) <= known.of(after.start):
                model.add(before.end <= after.start)


def _held_tasks(v: Variables, known: Solution, free: set[int]) -> Iterator[Task]:
    """Stages that are done and are not free, and the chores of kit that only they use."""
    yield from (task for a, task in enumerate(v.activities) if a not in free and known.of(task.present))
    for stay in v.stays:
        if known.of(stay.present) and free.isdisjoint(stay.used_by):
            chores = (chore for chore in (stay.set_up, stay.pack_down) if chore is not None)
            yield from (chore for chore in chores if known.of(chore.present))


def _end(task: Task, known: Solution) -> int:
    return known.of(task.start) + known.of(task.minutes)


def _moments(v: Variables, known: Solution, free: set[int]) -> Iterator[Expr]:
    """Starts of held stages and chores, when their kit comes and goes, when crossings begin and end, and the van's."""
    yield v.home
    for stay in v.stays:
        if known.of(stay.present) and free.isdisjoint(stay.used_by):
            yield from (stay.came, stay.left)
    yield from (task.start for task in _held_tasks(v, known, free))
    for slot in v.slots:
        if known.of(slot.present):
            yield from (slot.start, slot.end)
    for visit in v.visits:
        if known.of(visit.present):
            yield from (visit.arrive, visit.depart)


def hold_yes_and_no(model: cp_model.CpModel, known: Solution) -> None:
    """Bind in a copy of a model all that a solution decides by yes or no; only times stay free."""
    start_from(model, known.values)
    for variable, value in zip(model.proto.variables, known.values, strict=False):
        if list(variable.domain) == [0, 1]:
            variable.domain.clear()
            variable.domain.extend([value, value])


def _choices(v: Variables, free: set[int]) -> Iterator[Expr]:
    """Hands, methods, crossings and stays of the stages that are not free, and of the kit that only they use.

    Kit that nothing still to come uses is free: with which trip it goes is no choice of any stage, and it may go sooner
    with another.
    """
    over = {a for a, activity in enumerate(v.problem.activities) if activity.start is not None}
    for a, task in enumerate(v.activities):
        if a not in free:
            yield from _choices_of(task)
            yield from v.modes[a]
    for stay in v.stays:
        if free.isdisjoint(stay.used_by) and not over.issuperset(stay.used_by):
            yield from _choices_of_stay(stay)


def _choices_of(task: Task) -> Iterator[Expr]:
    yield task.present
    for chosen in (task.hands, task.slots, task.visits):
        yield from chosen.values()


def _choices_of_stay(stay: Stay) -> Iterator[Expr]:
    yield stay.present
    for chosen in (stay.visits, stay.used_by, stay.came_by, stay.left_by, stay.follows, stay.followed):
        yield from chosen.values()
    for chore in (stay.set_up, stay.pack_down):
        if chore is not None:
            yield from _choices_of(chore)
