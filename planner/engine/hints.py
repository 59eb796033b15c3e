"""A known plan told to the solver as a hint: a warm start that binds nothing."""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from ortools.sat.python import cp_model

from planner.day import Day
from planner.engine.index import Index
from planner.engine.variables import Expr, Slot, Stay, Task, Variables
from planner.plan.plan import Carried, Chore, Crossing, Plan


class Hint:
    """What a plan says about each variable, as far as it says anything: ``said`` maps a variable's index to a value."""

    def __init__(self, day: Day, plan: Plan, variables: Variables) -> None:
        self.day, self.known, self.v = day, plan, variables
        self.index = Index.of(day)
        self.said: dict[int, int] = {}
        self.moved: Counter[tuple[int, str, bool]] = Counter()
        self.rows = self._slots_by_crossing()
        self._visits()
        for a, task in enumerate(self.v.activities):
            self._activity(a, task)
        for stay in self.v.stays:
            self._stay(stay)
        self._protection()
        self._slots()
        self._rests()

    def say(self, expr: Expr, value: int) -> None:
        """Note a value for a variable or literal; constants and expressions say nothing."""
        index = getattr(expr, "index", None)
        if isinstance(index, int):
            if index >= 0:
                self.said[index] = int(value)
            else:
                self.said[-index - 1] = 1 - int(value)

    def _visits(self) -> None:
        self.say(self.v.leave, self.known.leaves)
        self.say(self.v.home, self.known.home)
        for visit in self.v.visits:
            for planned in self.known.visits:
                if (planned.job, planned.number) == (self.index.jobs[visit.job], visit.number + 1):
                    self.say(visit.present, 1)
                    self.say(visit.arrive, planned.arrive)
                    self.say(visit.depart, planned.depart)

    def _task(self, task: Task, start: int, end: int, hands: tuple[str, ...]) -> None:
        self.say(task.present, 1)
        self.say(task.start, start)
        self.say(task.end, end)
        self.say(task.minutes, end - start)
        for h, does in task.hands.items():
            self.say(does, self.index.hands[h] in hands)
        for n in task.visits:
            visit = self.v.visits[n]
            planned = [x for x in self.known.visits if x.job == self.index.jobs[visit.job]]
            here = any(x.number == visit.number + 1 and x.arrive <= start <= x.depart for x in planned)
            self.say(task.visits[n], here)
        for n, inside in task.slots.items():
            crossing = self.rows.get(n)
            holds = crossing is not None and crossing.hand in hands and crossing.start <= start and end <= crossing.end
            self.say(inside, holds)

    def _activity(self, a: int, task: Task) -> None:
        job, stage = self.index.stages[a]
        work = self.known.work(job, stage)
        if work is None:
            return
        self._task(task, work.start, work.end, work.hands)
        for mode, chosen in zip(self.v.problem.activities[a].modes, self.v.modes[a], strict=True):
            self.say(chosen, mode.name == work.method)
        for stay in self.v.stays:
            if a in stay.used_by:
                self.say(stay.used_by[a], (self.index.kit[stay.kit], stay.number + 1) in work.stays)

    def _stay(self, stay: Stay) -> None:
        job, ground = self.index.grounds[stay.ground]
        kit = self.index.kit[stay.kit]
        for planned in self.known.stays:
            if planned.key != (job, ground, kit, stay.number + 1):
                continue
            self.say(stay.present, 1)
            for n, here in stay.visits.items():
                self.say(here, self.v.visits[n].number + 1 == planned.visit_in)
            for n, lies in stay.follows.items():
                self.say(lies, planned.follows == self.v.stays[n].number + 1)
            self.say(stay.came, planned.carried_in)
            self.say(stay.left, planned.carried_out)
            for what, task in (("set up", stay.set_up), ("pack down", stay.pack_down)):
                chore = self._chore(job, ground, kit, planned.number, what)
                if task is not None and chore is not None:
                    self._task(task, chore.start, chore.end, chore.hands)
            came, left = planned.follows is not None, False
            for n, crossing in self.rows.items():
                walk = self.v.slots[n].walk
                if n in stay.came_by:
                    comes = not came and crossing.start + walk == planned.carried_in
                    came |= self._moves(stay.came_by[n], (n, kit, True), crossing.carried_in, may=comes)
                    goes = not left and crossing.end - walk == planned.carried_out
                    left |= self._moves(stay.left_by[n], (n, kit, False), crossing.carried_out, may=goes)

    def _moves(self, leg: Expr, what: tuple[int, str, bool], carried: tuple[Carried, ...], *, may: bool) -> bool:
        """Say whether a leg moves a piece of kit of a stay; whether no other does, as one hand carries the whole of it.

        Of pieces that are alike, moved by several hands in one minute, each is moved by one of them.
        """
        loads = [c for c in carried if c.what == what[1] and not c.is_material] if may else []
        shared = any(c.share < 1 for c in loads)
        moves = shared or sum(c.count for c in loads) > self.moved[what]
        self.moved[what] += moves and not shared
        self.say(leg, moves)
        return moves and not shared

    def _chore(self, job: str, ground: str, kit: str, number: int, what: str) -> Chore | None:
        for c in self.known.chores:
            if (c.job, c.ground, c.kit, c.stay, c.what) == (job, ground, kit, number, what):
                return c
        return None

    def _slots_by_crossing(self) -> dict[int, Crossing]:
        """Which crossing of the plan each slot stands for, in time order along each row."""
        rows: dict[int, Crossing] = {}
        taken: set[int] = set()
        for crossing in sorted(self.known.crossings, key=lambda c: c.start):
            for n, slot in enumerate(self.v.slots):
                if n not in taken and self._matches(slot, crossing):
                    rows[n] = crossing
                    taken.add(n)
                    break
        return rows

    def _matches(self, slot: Slot, crossing: Crossing) -> bool:
        visit = self.v.visits[slot.visit]
        return (
            self.index.grounds[slot.ground] == (crossing.job, crossing.ground)
            and self.index.hands[slot.hand] == crossing.hand
            and visit.number + 1 == crossing.visit
        )

    def _slots(self) -> None:
        for n, crossing in self.rows.items():
            slot = self.v.slots[n]
            self.say(slot.present, 1)
            self.say(slot.start, crossing.start)
            self.say(slot.end, crossing.end)
            self.say(slot.length, crossing.end - crossing.start)
            for k, along in slot.wheels.items():
                self.say(along, crossing.wheels == self.index.kit[k])
        self._deliveries()
        self._takings()

    def _deliveries(self) -> None:
        """Containers go to the stages that use them in the order of the stages, oldest first."""
        left = {(n, c.what): c.count for n, crossing in self.rows.items() for c in crossing.carried_in if c.is_material}
        for work in self.known.works:
            a = self.index.number_of[work.job, work.stage]
            modes = self.v.problem.activities[a].modes
            uses = next((dict(mode.uses) for mode in modes if mode.name == work.method), {})
            for n in sorted(self.rows, key=lambda n: self.rows[n].start):
                for m, needed in uses.items():
                    count = self.v.deliveries.get((a, m, n))
                    taken = min(needed, left.get((n, self.index.materials[m]), 0))
                    if count is not None and taken:
                        self.say(count, taken)
                        left[n, self.index.materials[m]] -= taken
                        uses[m] = needed - taken

    def _takings(self) -> None:
        """What is carried out goes to the stages that leave it, those that are over first."""
        left = {
            (n, c.what, c.rest): c.count
            for n, crossing in self.rows.items()
            for c in crossing.carried_out
            if c.is_material
        }
        for i, leaving in enumerate(self.v.problem.leaving):
            kind, needed = (self.index.materials[leaving.material], leaving.rest), leaving.count
            for n in sorted(self.rows, key=lambda n: self.rows[n].end):
                taken = min(needed, left.get((n, *kind), 0)) if (i, n) in self.v.takings else 0
                if taken and self._are_over(leaving.after, self.rows[n].end - self.v.slots[n].walk):
                    self.say(self.v.takes_some[i, n], 1)
                    self.say(self.v.takings[i, n], taken)
                    left[n, *kind] -= taken
                    needed -= taken

    def _are_over(self, activities: tuple[int, ...], minute: int) -> bool:
        works = [self.known.work(*self.index.stages[a]) for a in activities]
        return all(work is None or work.end <= minute for work in works)

    def _rests(self) -> None:
        for rest in self.v.rests:
            for planned in self.known.rests:
                if (planned.hand, planned.end - planned.start) == (self.index.hands[rest.hand], rest.length):
                    self.say(rest.present, 1)
                    self.say(rest.start, planned.start)

    def _protection(self) -> None:
        for (g, n), (used, lay, lift) in self.v.protection.items():
            job, ground = self.index.grounds[g]
            for chore in self.known.chores:
                same = (chore.job, chore.ground, chore.visit) == (job, ground, self.v.visits[n].number + 1)
                task = {"lay": lay, "lift": lift}.get(chore.what)
                if same and task is not None:
                    self.say(used, 1)
                    self._task(task, chore.start, chore.end, chore.hands)


def give(variables: Variables, said: dict[int, int]) -> None:
    """Add a hint to a model: every literal that nothing is said of is hinted false."""
    model = variables.model
    for index in range(len(model.proto.variables)):
        if index in said:
            model.add_hint(model.get_int_var_from_proto_index(index), said[index])
        elif list(model.proto.variables[index].domain) == [0, 1]:
            model.add_hint(model.get_int_var_from_proto_index(index), 0)


def start_from(model: cp_model.CpModel, values: Sequence[int]) -> None:
    """Hint the values of a solution, in the order of the variables, instead of what was hinted before."""
    hint = model.proto.solution_hint
    hint.vars.clear()
    hint.values.clear()
    hint.vars.extend(range(len(values)))
    hint.values.extend(values)


def hold_other_jobs(variables: Variables, said: dict[int, int], job: int) -> None:
    """Bind what a hint chooses for other jobs than one: hands, methods, crossings, stays; times stay free."""
    v = variables
    elsewhere = {g for g, ground in enumerate(v.problem.grounds) if ground.job != job}
    choices: list[Expr] = []
    for task in v.all_tasks():
        if task.ground in elsewhere:
            choices += [task.present, *task.hands.values(), *task.slots.values(), *task.visits.values()]
    for a, task in enumerate(v.activities):
        if task.ground in elsewhere:
            choices += v.modes[a]
    for stay in v.stays:
        if stay.ground in elsewhere:
            choices += [stay.present, *stay.visits.values(), *stay.used_by.values()]
            choices += [*stay.came_by.values(), *stay.left_by.values()]
    choices += [slot.present for slot in v.slots if slot.ground in elsewhere]
    for index in sorted({choice.index for choice in choices}):
        if list(v.model.proto.variables[index].domain) == [0, 1]:
            v.model.add(v.model.get_int_var_from_proto_index(index) == said.get(index, 0))


def by_methods(v: Variables, methods: list[int | None]) -> cp_model.CpModel:
    """A copy of the model, with activities done by one of their methods: the number of it among its own, if any."""
    model = v.model.clone()
    for modes, method in zip(v.modes, methods, strict=True):
        if method is not None:
            model.add(modes[method] == 1)
    return model


def in_order(v: Variables, said: dict[int, int]) -> cp_model.CpModel:
    """A copy of the model, with the stages begun in the order that a hint says."""
    model = v.model.clone()
    known = [task.start for task in v.activities if task.start.index in said]
    known.sort(key=lambda start: said[start.index])
    for earlier, later in pairwise(known):
        model.add(earlier <= later)
    return model
