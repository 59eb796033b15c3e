"""What the solver decides, as CP-SAT variables.

A *task* is anything hands do at a job: a stage (an activity) or a chore (set-up, pack-down, laying, lifting). A *slot*
is a crossing that may be used, by one hand in one visit to one ground. A *stay* may be used by the activities
that need its kit. Every literal that is not decided is the constant ``true``.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from ortools.sat.python import cp_model

from planner.engine.bounds import legs_needed
from planner.engine.dominance import may_lie, most_crossings, most_stays, users
from planner.engine.problem import KitThere, Problem

Expr = Any
"""A CP-SAT integer variable, linear expression or constant."""

Arc = tuple[int, int, Expr]
"""From a visit (counted from 1; 0 is the van's start and end) to another, and whether it is driven."""


@dataclass
class Task:
    """Hands' work: its times, whether it happens, on which hands, in which slots or visits."""

    name: str
    ground: int | None
    start: Expr
    end: Expr
    minutes: Expr
    least_minutes: int
    present: Expr
    interval: cp_model.IntervalVar
    wanted: Expr = 0
    hands: dict[int, Expr] = field(default_factory=dict)
    slots: dict[int, Expr] = field(default_factory=dict)
    visits: dict[int, Expr] = field(default_factory=dict)
    by_hand: dict[int, cp_model.IntervalVar] = field(default_factory=dict)


@dataclass
class Visit:
    """The van standing at a job."""

    job: int
    number: int
    present: Expr
    arrive: Expr
    depart: Expr


@dataclass
class Attendance:
    """When a hand is at a visit: the visit's own times for one who rides, their own for others."""

    hand: int
    visit: int
    present: Expr
    arrive: Expr
    leave: Expr


@dataclass
class Slot:
    """A crossing that may be used.

    The hand ``comes`` to stay and ``goes`` when they set out. In a model with shuttles they may go in and out
    ``before`` times with containers of one kind before they stay, and ``after`` times once they are out.
    """

    ground: int
    hand: int
    visit: int
    number: int
    walk: int
    present: Expr
    start: Expr
    end: Expr
    length: Expr
    interval: cp_model.IntervalVar
    comes: Expr
    goes: Expr
    before: Expr = 0
    after: Expr = 0
    in_loads: list[Expr] = field(default_factory=list)
    out_loads: list[Expr] = field(default_factory=list)
    in_masses: list[Expr] = field(default_factory=list)
    out_masses: list[Expr] = field(default_factory=list)
    wheels: dict[int, Expr] = field(default_factory=dict)

    @property
    def times(self) -> Expr:
        """How many crossings it is."""
        return self.present + self.before + self.after


@dataclass(frozen=True)
class Shuttle:
    """How often the hand of a slot crosses with containers of one kind alone: before they come to stay, or after.

    ``fits`` are carried at a time, of ``count`` that the slot carries of them in all; ``rest`` as in `Carried`.
    """

    slot: int
    inward: bool
    material: int
    rest: float | None
    fits: int
    times: Expr
    count: Expr


@dataclass
class Stay:
    """A piece of kit that may stand on a ground, ``ready`` to ``unready`` set up between ``came`` and ``left``.

    It comes in one of ``visits``; it goes in the same, or, where it may stay, in one of ``visits_out``. By the index of
    another stay: whether it ``follows`` that, or is ``followed`` by it, and its kit lies there packed down in between.
    """

    kit: int
    ground: int
    number: int
    present: Expr
    came: Expr
    left: Expr
    set_up: Task | None = None
    pack_down: Task | None = None
    visits: dict[int, Expr] = field(default_factory=dict)
    visits_out: dict[int, Expr] = field(default_factory=dict)
    came_by: dict[int, Expr] = field(default_factory=dict)
    left_by: dict[int, Expr] = field(default_factory=dict)
    used_by: dict[int, Expr] = field(default_factory=dict)
    standing: KitThere | None = None
    follows: dict[int, Expr] = field(default_factory=dict)
    followed: dict[int, Expr] = field(default_factory=dict)

    @property
    def ready(self) -> Expr:
        """From when the kit can be used."""
        return self.came if self.set_up is None else self.set_up.end

    @property
    def unready(self) -> Expr:
        """Until when the kit can be used."""
        return self.left if self.pack_down is None else self.pack_down.start


@dataclass
class Rest:
    """A break of one hand."""

    hand: int
    present: Expr
    start: Expr
    length: int
    interval: cp_model.IntervalVar
    visits: dict[int, Expr] = field(default_factory=dict)


@dataclass(frozen=True)
class Caps:
    """How large the search is let grow.

    ``restricted`` is the most restricted crossings in all (None: unlimited), ``latest_home`` the latest minute home.
    ``per_row`` is how many slots each (visit, ground, hand) has (None: as many as are ever of use), and ``least_stays``
    are allowed of a kit on a ground that so many stages use. With ``shuttles`` a slot may be several crossings, all but
    one of them with containers of one kind alone.
    """

    restricted: int | None = None
    per_row: int | None = None
    latest_home: int | None = None
    least_stays: int = 1
    shuttles: bool = False


class Variables:
    """All variables of a problem's model, made but not yet constrained by its rules."""

    def __init__(self, problem: Problem, caps: Caps) -> None:
        self.problem = problem
        self.caps = caps
        self.model = cp_model.CpModel()
        self.true = self.model.new_constant(1)
        self.opens = problem.opens if problem.jobs else 0
        latest = min(problem.horizon, caps.latest_home or problem.horizon)
        self.end_of_time = max(self.opens, latest)  # a time that ends before it opens would be no model
        self.home = self.time("home")
        self.leave = self.time("leave")
        self.driving: Expr = 0
        self.arcs: list[Arc] = []
        self.modes: list[list[Expr]] = []
        self.visits = [self._visit(j, n) for j, job in enumerate(problem.jobs) for n in range(job.visits)]
        self.attendances = {
            (h, v): self._attendance(h, v) for h in range(len(problem.hands)) for v in range(len(self.visits))
        }
        self.slots = self._slots()
        self.activities = [self._activity(a) for a in range(len(problem.activities))]
        self.stays = self._stays()
        self.protection: dict[tuple[int, int], tuple[Expr, Task | None, Task | None]] = {}
        self.rests: list[Rest] = []
        self.shaken: dict[int, Expr] = {}
        self.deliveries: dict[tuple[int, int, int], Expr] = {}
        self.brings_some: dict[tuple[int, int, int], Expr] = {}
        self.takings: dict[tuple[int, int], Expr] = {}
        self.takes_some: dict[tuple[int, int], Expr] = {}
        self.shuttles: list[Shuttle] = []

    # --- small makers -------------------------------------------------------------------------------------------

    def time(self, name: str) -> Expr:
        """A minute between opening and the end of time."""
        return self.model.new_int_var(self.opens, self.end_of_time, name)

    def literal(self, name: str) -> Expr:
        """A yes or no."""
        return self.model.new_bool_var(name)

    def task(self, name: str, ground: int | None, minutes: Expr, least: int, present: Expr, wanted: Expr) -> Task:
        """A task of ``minutes`` on ``wanted`` hands, to be placed in slots or visits by the hands' rules."""
        start = self.time(f"start {name}")
        end = start + minutes if isinstance(minutes, int) else self.time(f"end {name}")
        if present is self.true:
            interval = self.model.new_interval_var(start, minutes, end, name)
        else:
            interval = self.model.new_optional_interval_var(start, minutes, end, present, name)
        task = Task(name, ground, start, end, minutes, least, present, interval, wanted)
        self._place(task)
        return task

    # --- the van, the hands, the crossings ------------------------------------------------------------------------

    def _visit(self, job: int, number: int) -> Visit:
        name = f"{self.problem.jobs[job].name} visit {number + 1}"
        present = self.true if number == 0 else self.literal(name)
        return Visit(job, number, present, self.time(f"arrive {name}"), self.time(f"depart {name}"))

    def at_work(self, visit: int) -> tuple[Expr, Expr]:
        """From when to when anything is done at a visit: what arriving and leaving take is before and after."""
        at, job = self.visits[visit], self.problem.jobs[self.visits[visit].job]
        later = [v for v in self.visits if v.job == at.job and v.number == at.number + 1]
        is_last = at.present - later[0].present if later else at.present
        opens = at.arrive + job.arriving if at.number == 0 and job.arriving else at.arrive
        return opens, at.depart - job.leaving * is_last if job.leaving else at.depart

    def _attendance(self, hand: int, visit: int) -> Attendance:
        at = self.visits[visit]
        if self.problem.hands[hand].rides:
            return Attendance(hand, visit, at.present, *self.at_work(visit))
        name = f"{self.problem.hands[hand].name} at visit {visit}"
        return Attendance(hand, visit, self.literal(name), self.time(f"come {name}"), self.time(f"go {name}"))

    def _slots(self) -> list[Slot]:
        slots = []
        entered = {g for g, _ in self.problem.inside} | {x.ground for x in self.problem.leaving}
        entered |= {x.ground for x in self.problem.standing}
        for g, ground in enumerate(self.problem.grounds):
            if not ground.slots or (g not in entered and all(a.ground != g for a in self.problem.activities)):
                continue
            count = self.caps.per_row or most_crossings(self.problem, g, self.caps.latest_home)
            if ground.restricted and self.caps.restricted is not None:
                count = min(count, max(1, self.caps.restricted - self._legs_elsewhere(g)))
            for v, visit in enumerate(self.visits):
                if visit.job != ground.job:
                    continue
                for h in range(len(self.problem.hands)):
                    slots += [self._slot(g, h, v, n, ground.walk) for n in range(count)]
        return slots

    def _legs_elsewhere(self, ground: int) -> int:
        """Restricted crossings that other grounds need whatever is decided."""
        others = (g for g, other in enumerate(self.problem.grounds) if other.restricted and other.slots and g != ground)
        return sum(legs_needed(self.problem, g) for g in others)

    def _slot(self, ground: int, hand: int, visit: int, number: int, walk: int) -> Slot:
        name = f"slot {ground}.{hand}.{visit}.{number}"
        present, start, end = self.literal(name), self.time(f"{name} start"), self.time(f"{name} end")
        length = self.model.new_int_var(2 * walk, self.end_of_time, f"{name} length")
        interval = self.model.new_optional_interval_var(start, length, end, present, name)
        slot = Slot(ground, hand, visit, number, walk, present, start, end, length, interval, start + walk, end - walk)
        if self.caps.shuttles:
            most = most_crossings(self.problem, ground)
            slot.before = self.model.new_int_var(0, most, f"{name} before")
            slot.after = self.model.new_int_var(0, most, f"{name} after")
            slot.comes, slot.goes = self.time(f"{name} comes"), self.time(f"{name} goes")
            self.model.add(slot.comes == start + walk + 2 * walk * slot.before)
            self.model.add(slot.goes == end - walk - 2 * walk * slot.after)
            self.model.add(slot.before + slot.after <= 2 * most * present)
        return slot

    def slots_of(self, ground: int | None = None, hand: int | None = None, visit: int | None = None) -> list[int]:
        """Indices of the slots to a ground, of a hand, in a visit."""
        return [
            n
            for n, s in enumerate(self.slots)
            if (ground is None or s.ground == ground)
            and (hand is None or s.hand == hand)
            and (visit is None or s.visit == visit)
        ]

    def visits_to(self, job: int) -> list[int]:
        """Indices of the visits to a job."""
        return [n for n, v in enumerate(self.visits) if v.job == job]

    # --- work ----------------------------------------------------------------------------------------------------

    def _activity(self, a: int) -> Task:
        activity = self.problem.activities[a]
        present = self.literal(f"need {activity.name}") if activity.optional else self.true
        if len(activity.modes) == 1:
            chosen: list[Expr] = [present]
            minutes: Expr = activity.modes[0].minutes
            wanted: Expr = activity.modes[0].hands * present if activity.optional else activity.modes[0].hands
        else:
            chosen = [self.literal(f"{activity.name} by {mode.name}") for mode in activity.modes]
            self.model.add(sum(chosen) == present)
            minutes = self.model.new_int_var_from_domain(
                cp_model.Domain.from_values([m.minutes for m in activity.modes]), f"minutes {activity.name}"
            )
            for literal, mode in zip(chosen, activity.modes, strict=True):
                self.model.add(minutes == mode.minutes).only_enforce_if(literal)
            wanted = sum(mode.hands * literal for literal, mode in zip(chosen, activity.modes, strict=True))
        self.modes.append(chosen)
        least = min(m.minutes for m in activity.modes)
        return self.task(activity.name, activity.ground, minutes, least, present, wanted)

    def _place(self, task: Task) -> None:
        """Which hands do a task, and in which of their slots or in which visit."""
        if task.ground is None or not self.problem.hands:
            return
        ground = self.problem.grounds[task.ground]
        single = len(self.problem.hands) == 1
        for h in range(len(self.problem.hands)):
            does = task.present if single else self.literal(f"{task.name} by hand {h}")
            task.hands[h] = does
            if single:
                task.by_hand[h] = task.interval
            else:
                task.by_hand[h] = self.model.new_optional_interval_var(
                    task.start, task.minutes, task.end, does, f"{task.name} by hand {h}"
                )
        if not single:
            self.model.add(sum(task.hands.values()) == task.wanted)
        visits = self.visits_to(ground.job)
        for v in visits:
            task.visits[v] = task.present if len(visits) == 1 else self.literal(f"{task.name} in visit {v}")
        if len(visits) > 1:
            self.model.add(sum(task.visits.values()) == task.present)

    def put_in_slots(self, task: Task) -> None:
        """Let a task on a ground with crossings choose a slot of each hand that does it."""
        for h in task.hands:
            for n in self.slots_of(task.ground, h):
                task.slots[n] = self.literal(f"{task.name} in {n}")

    # --- kit -----------------------------------------------------------------------------------------------------

    def _stays(self) -> list[Stay]:
        stays: list[Stay] = []
        for k in range(len(self.problem.kit)):
            for g in range(len(self.problem.grounds)):
                here = [self._stay(k, g, number, self.users(k, g)) for number in range(self._most_stays(k, g))]
                self._let_lie(here, len(stays))
                stays += here
        return stays

    def _let_lie(self, stays: list[Stay], first: int) -> None:
        """Let each stay of a kit on a ground follow one before it, where that is of use: the kit lies in between."""
        for m, other in enumerate(stays):
            before = stays[:m] if self.problem.kit[other.kit].own > 1 else stays[max(0, m - 1) : m]
            if other.standing is None and may_lie(self.problem, other.kit, other.ground):
                for n, one in enumerate(before, m - len(before)):
                    lies = self.literal(f"stay {n} lies until {m}")
                    one.followed[first + m] = other.follows[first + n] = lies

    def users(self, kit: int, ground: int) -> list[int]:
        """The activities on a ground that may use a kit."""
        return users(self.problem, kit, ground)

    def _most_stays(self, kit: int, ground: int) -> int:
        """As many stays as are ever of use, or as many as the record of a day under way has."""
        there = len(self.problem.standing_on(ground, kit))
        useful = most_stays(self.problem, kit, ground) - there
        return max(useful, min(len(self.users(kit, ground)), self.caps.least_stays)) + there

    def _stay(self, k: int, g: int, number: int, users: list[int]) -> Stay:
        kit, ground = self.problem.kit[k], self.problem.grounds[g]
        name = f"{kit.name} on {ground.name} {number + 1}"
        present = self.literal(name)
        stay = Stay(k, g, number, present, self.time(f"{name} comes"), self.time(f"{name} goes"))
        stay.standing = dict(enumerate(self.problem.standing_on(g, k))).get(number)
        set_up, pack_down = self.problem.chore_minutes(g, k)
        if stay.standing is not None:
            set_up = 0 if stay.standing.is_set_up else set_up
            pack_down = 0 if stay.standing.is_packed_down else pack_down
        wanted = self.problem.chore_hands(g, k) * present
        if set_up:
            stay.set_up = self.task(f"set up {name}", g, set_up, set_up, present, wanted)
        if pack_down:
            stay.pack_down = self.task(f"pack down {name}", g, pack_down, pack_down, present, wanted)
        visits = self.visits_to(ground.job)
        for v in visits:
            stay.visits[v] = present if len(visits) == 1 else self.literal(f"{name} in visit {v}")
            one = len(visits) == 1 or not kit.may_stay
            stay.visits_out[v] = stay.visits[v] if one else self.literal(f"{name} out in visit {v}")
        for a in users:
            stay.used_by[a] = self.literal(f"{name} for {self.problem.activities[a].name}")
        if ground.slots:
            for n in self.slots_of(g):
                stay.came_by[n] = self.literal(f"{name} in by {n}")
                stay.left_by[n] = self.literal(f"{name} out by {n}")
        return stay

    def all_tasks(self) -> list[Task]:
        """Every task: activities, set-ups, pack-downs, laying and lifting."""
        chores: list[Task | None] = [t for s in self.stays for t in (s.set_up, s.pack_down)]
        chores += [t for _, lay, lift in self.protection.values() for t in (lay, lift)]
        return [*self.activities, *(t for t in chores if t is not None)]

    def crossings(self, *, restricted: bool, hand: int | None = None) -> Expr:
        """How many crossings are made, restricted ones or all, by one hand or all of them."""
        slots: Sequence[Slot] = [s for s in self.slots if hand is None or s.hand == hand]
        return sum(s.times for s in slots if not restricted or self.problem.grounds[s.ground].restricted)

    def value(self) -> Expr:
        """What is made least: minutes until the van is home, and the price of each restricted crossing."""
        return self.home - self.problem.origin + self.problem.price * self.crossings(restricted=True)

    def minimize_value(self, most: int) -> cp_model.IntVar:
        """Make the value least, as a variable of its own that is at most so much."""
        value = self.model.new_int_var(0, most, "value")
        self.model.add(value == self.value())
        self.model.minimize(value)
        return value
