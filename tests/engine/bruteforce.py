"""The best value of a tiny day by exact search, written apart from the engine and sharing nothing with it.

What is searched: every legal way in which the hands can spend each minute. A state says where the van and each hand
are, what is under way and for how many more minutes, where each unit of kit is and whether it stands ready, which
stages are done and how long ago (as far as a wait still asks). From a state an idle hand may begin anything that the
rules allow at that minute (cost 0, or the price of a restricted crossing), or a minute passes (cost 1; while nobody is
idle, as many as until the next duty ends).

Why it is exact: all lengths in a day are whole minutes, and all rules compare times by <=, so with orders fixed the
times form difference constraints with whole numbers, and some best plan has whole minutes throughout. Every such plan
is a path here, since at each of its minutes the duties that begin are among the moves, in some order; and every path to
the end is a plan, since a move is only made when the rules allow it, and a state that breaks one later (a wait past its
most, a closed surface under someone's feet) is dropped. Two paths to one state have the same futures, since all that a
rule still asks of the past is in the state. The search is A* with a bound that never exceeds what is left to pay: the
hands' minutes still to be worked, walked and driven, over the hands; and one more crossing for a restricted ground with
work left and nobody on it. States are opened again when reached at less cost; so the first time the end is taken from
the queue, its cost is least.

Only moves that cannot help are left out: carrying or setting up kit for which no stage on that ground is left, bringing
more material than is left to use, going to a ground where nothing is left, and letting a minute pass when nothing would
change.

What goes out again is in the state too: containers taken and used up on each ground so far, and what is ready to go.

Arriving lengthens the drive there and leaving the drive away, since nothing else is done meanwhile. A meal, or a break,
is had at a job by whoever is idle, once; kit that is rinsed out remembers the class of chemical that was in it. A hand
with their own transport stands at the van from the first of their hours to the last, and is away before and after.

Left out altogether, and refused: more than one visit, own transport on a day of several jobs or with rests, a break
and a meal on one day, re-wets, waits by the hour, dew, daylight, kit that may stay or
brings water, sack trucks, and anything that takes no time but is done by hand.
"""

import heapq
from collections import Counter
from collections.abc import Iterator
from itertools import combinations, pairwise, permutations, product
from math import ceil
from typing import Any, NamedTuple

from planner.day import Day, Stage, Wait
from planner.trade.chemicals import chemicals
from tests.engine.bruteforce_chemicals import ChemicalReading, Holds
from tests.engine.bruteforce_fresh import FreshReading, all_below, apart

VAN, AT_START, HOME = -1, -1, -2
WAITING, RUNNING, SETTLED = -1, -2, -3
IN_VAN, MOVING, NEW, IN_CHORE, READY, IN_USE, PACKED = range(7)
NONE, LAYING, DOWN, LIFTING, LIFTED = range(5)

SOILED = 10
"""Ready, but some chemical was in it: the phase of kit that is rinsed out, plus the number of its class."""

LONGEST = 300
"""No tiny day is longer; a break that is owed after more minutes than that is never owed."""

OPEN_BAG = -2
"""The index of a box that is a bag to which something may be added yet."""

LAID = 50
"""Still laid out, though all that it covers for is over: the phase of sheets that lie on some surface."""


class Duty(NamedTuple):
    """Something under way: minutes left, what, on what, and by which hands."""

    left: int
    what: str
    on: tuple[Any, ...]
    hands: tuple[int, ...]


class State(NamedTuple):
    """All of the past that a rule can still ask about."""

    at: int  # the job where the van is, or AT_START, or HOME
    jobs_left: tuple[int, ...]
    hands: tuple[int, ...]  # each one's ground, or VAN
    duties: tuple[Duty, ...]
    stages: tuple[int, ...]  # WAITING, RUNNING, minutes since its end, or SETTLED when nothing asks for them
    kit: tuple[tuple[tuple[int, int], ...], ...]  # for each kit its units as (ground, phase), sorted
    material: tuple[int, ...]  # containers on each (ground, material)
    sheets: tuple[int, ...]
    spent: tuple[tuple[int, int], ...]  # on each (ground, material): containers taken, hundredths of one used up
    ready: tuple["Box", ...]  # what can go out: sorted, each container by itself
    clock: int  # 0 unless the day has times of its own
    left: int  # when the van set off, where a meal or a break hangs on it
    fed: tuple[bool, ...]  # who has had a meal or a break, where the day has one
    held: Holds = ()  # what was put on and must be rinsed off before another is opened


class Box(NamedTuple):
    """A container on the move: coming in for the (ground, material) of that index, or (-1, -2) going out, so full."""

    ground: int
    index: int
    name: str
    hundredths: int


class Searched(NamedTuple):
    """The least value (None when there is no plan) and how many states were looked at."""

    value: int | None
    states: int


def best_value(day: Day, *, most_states: int = 3_000_000) -> Searched:
    """The least ``minutes home + price x restricted crossings`` of any plan of a tiny day, overrun left aside."""
    return _Search(day).run(most_states)


class _Search:
    def __init__(self, day: Day) -> None:
        _refuse_what_is_left_out(day)
        self.day = day
        self.jobs = list(day.jobs)
        self.grounds = [(j, g) for j, job in day.jobs.items() for g in job.grounds]
        self.ways = [day.jobs[j].grounds[g].way_in for j, g in self.grounds]
        self.stages: list[tuple[str, str, Stage]] = day.stages()
        self.index = {(j, s): i for i, (j, s, _) in enumerate(self.stages)}
        self.ground_of = [self.grounds.index((j, day.jobs[j].ground_of(s))) for j, s, _ in self.stages]
        self.job_of = [self.jobs.index(j) for j, _, _ in self.stages]
        self.kit = list(day.kit)
        self.modes = [self._modes(j, s, stage) for j, s, stage in self.stages]
        found = ((g, mode) for i, g in enumerate(self.ground_of) for mode in self.modes[i])
        self.materials = sorted({(g, m) for g, mode in found for m in {*mode.uses, *mode.expected}})
        self.shared = self._shared_counts()
        self.waits = [(self.jobs.index(j), w) for j, job in day.jobs.items() for w in job.waits]
        self.ends = [
            (self.index[self.jobs[j], w.after], None if w.before is None else self.index[self.jobs[j], w.before])
            for j, w in self.waits
        ]
        self.barred = [self._barred(j, w) for j, w in self.waits]
        self.open = {g for g, way in enumerate(self.ways) if way.is_open}
        self.barred_ways = [self._barred_ways(j, w) for j, w in self.waits]
        self.fresh = FreshReading(day, self.stages)
        self.sprayed_ways = [self._sprayed_ways(*stage) for stage in self.stages]
        self.wet_ways = [self._wet_ways(*stage) for stage in self.stages]
        self.barred_ladders = [self._barred_ladders(j, w) for j, w in self.waits]
        self.chemicals = ChemicalReading(day, self.stages)
        self.over_fresh = {
            (self.grounds.index(way), y) for y in range(len(self.stages)) for way in self.fresh.ways_over(y)
        }
        timed = any(job.arrive or job.done_by is not None or job.quiet for job in day.jobs.values())
        self.classes = sorted({self._class(i) for i in range(len(self.stages))})
        self.break_ = day.rest if day.rest is not None and day.rest.once_over <= LONGEST else None
        self.rests = bool(day.meal or self.break_)
        self.own_hours = {h: day.hours_of(key) for h, key in enumerate(day.hands) if day.hands[key].own_transport}
        self.riders = tuple(h for h in range(len(day.hands)) if h not in self.own_hours)
        self.has_clock = bool(day.weather or self.rests or self.own_hours) or timed or any(
            x is not None for _, _, s in self.stages for x in (s.not_before, s.not_after, s.starts_at)
        )
        self.lifts = [hand.lifts for hand in day.hands.values()]
        self.alike = not any(s.by_hand for _, _, s in self.stages) and len(set(self.lifts)) == 1 and not self.own_hours

    # --- the day, read once ---------------------------------------------------------------------------------

    def _modes(self, j: str, s: str, stage: Stage) -> list["_Mode"]:
        job = self.day.jobs[j]
        supplies = job.grounds[job.ground_of(s)].supplies
        modes = []
        for key, method in stage.methods.items():
            kit = tuple(sorted(self.kit.index(k) for k in self.day.kit_closure(method.kit)))
            draws = Counter(name for k in kit for name in self.day.kit[self.kit[k]].supply)
            if all(supplies.get(name, 0) >= n for name, n in draws.items()):
                is_open = job.grounds[job.ground_of(s)].way_in.is_open
                uses = {} if is_open else {m: n for m, n in method.uses.items() if n}
                expected = {} if is_open else {m: round(100 * n) for m, n in method.expected.items()}
                leaves = {} if is_open else {m: round(100 * n) for m, n in method.leaves.items()}
                modes.append(_Mode(job.likely_minutes(s, key), method.hands, kit, draws, uses, expected, leaves))
        return modes

    def _shared_counts(self) -> dict[int, int]:
        """The containers of each (ground, material), by its number, that its stages share, all there before the first.

        Those of no stage are taken from what it alone brings: its uses are dropped, what it uses up is kept.
        """
        found = {}
        for n, (g, name) in enumerate(self.materials):
            stages = [i for i, ground in enumerate(self.ground_of) if ground == g and self._draws(i, name)]
            if not self.day.materials[name].shared or self.day.materials[name].water or len(stages) < 2:
                continue
            methods = [self.stages[i][2].methods.values() for i in stages]
            if not any(all(name in m.uses or name in m.expected for m in some) for some in methods):
                continue
            alone = [max(m.uses.get(name, 0) for m in some) for some in methods]
            used = sum(max(m.expected.get(name, m.uses.get(name, 0)) for m in some) for some in methods)
            found[n] = min(sum(alone), max(*alone, ceil(used * 1.15 - 1e-9)))
            for i in stages:
                for mode in self.modes[i]:
                    if name in mode.uses:
                        mode.expected.setdefault(name, 100 * mode.uses.pop(name))
                        mode.uses.pop(name, None)
        return found

    def _draws(self, i: int, name: str) -> bool:
        return any(name in m.uses or name in m.expected for m in self.stages[i][2].methods.values())

    def _reached(self, j: int, surfaces: set[str]) -> set[str]:
        job, found = self.day.jobs[self.jobs[j]], set(surfaces)
        while more := {over for s in found for over in job.surfaces[s].over} - found:
            found |= more
        return found

    def _barred(self, j: int, wait: Wait) -> set[int]:
        """Stages that may not run while a wait does."""
        job = self.day.jobs[self.jobs[j]]
        closed = job.stages[wait.after].surface
        barred = set()
        for key, stage in job.stages.items():
            own = job.surfaces[stage.surface]
            stood_on = [stage.surface] if own.stood_on else []
            trodden = self._reached(j, {*own.worked_from, *own.over, *stage.lies_on, *stood_on})
            ground = self.grounds.index((self.jobs[j], own.ground))
            walks = self.ways[ground].is_open and closed in self._reached(j, set(self.ways[ground].over))
            is_barred = wait.keep_clear or (wait.closes_surface and (walks or closed in trodden))
            is_own = key in (wait.after, wait.before) or self._other_section(
                self.index[self.jobs[j], key], self.index[self.jobs[j], wait.after]
            )
            below = stage.surface != closed and self._drips_on(j, wait, {stage.surface, *trodden})
            if (is_barred or below) and not is_own:
                barred.add(self.index[self.jobs[j], key])
        return barred

    def _drips_on(self, j: int, wait: Wait, where: set[str]) -> bool:
        """Whether what dwells burns, and runs down onto one of these surfaces."""
        job = self.day.jobs[self.jobs[j]]
        on = job.stages[wait.after]
        burns = on.chemical is not None and chemicals().class_of(on.chemical) in ("acid", "alkali")
        if wait.kind != "dwell" or not burns or job.surfaces[on.surface].stood_on:
            return False
        return bool((all_below(job)[on.surface] - set(on.spares)) & where)

    def _barred_ladders(self, j: int, wait: Wait) -> set[tuple[int, int]]:
        """Ladders, by ground and kit, that stand for all they are for on what waits, and none of it is of the wait."""
        closed = self.day.jobs[self.jobs[j]].stages[wait.after].surface
        own = [self.index[self.jobs[j], s] for s in (wait.after, wait.before) if s]
        own += [y for y in range(len(self.stages)) if self._other_section(y, own[0])]
        found = set(self.fresh.ladders_on(self.jobs[j], closed, own)) if wait.closes_surface else set()
        return {(self.grounds.index(g), self.kit.index(k)) for g, k in found}

    def _sprayed_ways(self, j: str, s: str, stage: Stage) -> set[int]:
        """The ways that crossings go, over what a stage treats, coats or jets."""
        if not (stage.chemical or self.index[j, s] in self.fresh.laid or "spray" in stage.nuisances):
            return set()
        return self._ways_over(j, stage.surface)

    def _wet_ways(self, j: str, s: str, stage: Stage) -> set[int]:
        """The ways to other grounds over what a stage wets: nobody goes there meanwhile, nor for an hour after it."""
        if not stage.nuisances & {"spray", "water"}:
            return set()
        return self._ways_over(j, stage.surface) - {self.ground_of[self.index[j, s]]}

    def _ways_over(self, j: str, surface: str) -> set[int]:
        ways = [(g, way) for g, way in enumerate(self.ways) if self.grounds[g][0] == j and not way.is_open]
        return {g for g, way in ways if surface in self._reached(self.jobs.index(j), set(way.over))}

    def _barred_ways(self, j: int, wait: Wait) -> set[int]:
        closed = self.day.jobs[self.jobs[j]].stages[wait.after].surface
        return {
            g
            for g, way in enumerate(self.ways)
            if self.grounds[g][0] == self.jobs[j] and wait.closes_surface and closed in self._reached(j, set(way.over))
        }

    def _spoils(self, maker: int, other: int) -> bool:
        return (maker, other) in self.fresh.spoils

    def _apart(self, one: int, two: int) -> bool:
        j, a, _ = self.stages[one]
        k, b, _ = self.stages[two]
        return j == k and any({a, b} == set(pair) for pair in self.day.jobs[j].apart)

    # --- the search -----------------------------------------------------------------------------------------

    def run(self, most_states: int) -> Searched:
        start = State(
            AT_START,
            tuple(range(len(self.jobs))),
            (VAN,) * len(self.day.hands),
            (),
            (WAITING,) * len(self.stages),
            tuple(((VAN, IN_VAN),) * self.day.kit[k].own for k in self.kit),
            (0,) * len(self.materials),
            (NONE,) * len(self.grounds),
            ((0, 0),) * len(self.materials),
            (),
            self.day.start if self.has_clock else 0,
            0,
            (False,) * len(self.day.hands) if self.rests else (),
        )
        costs = {start: 0}
        queue: list[tuple[int, int, int, State]] = [(self._bound(start), 0, 0, start)]
        pushed = 0
        while queue:
            _, less_done, _, state = heapq.heappop(queue)
            cost = -less_done
            if cost > costs[state]:
                continue
            if state.at == HOME and not state.duties and self._is_fed(state):
                return Searched(cost, len(costs))
            if len(costs) > most_states:
                raise RuntimeError(f"more than {most_states} states: the day is not tiny")
            for more, following in self._moves(state):
                if not self._keeps_hours(following):
                    continue
                reached = cost + more
                if following not in costs or reached < costs[following]:
                    costs[following] = reached
                    pushed += 1
                    heapq.heappush(queue, (reached + self._bound(following), -reached, pushed, following))
        return Searched(None, len(costs))

    def _bound(self, state: State) -> int:
        """No less is left to pay than this."""
        work, price, driving = 0, 0, 0
        for duty in state.duties:
            if duty.what == "drive":
                driving += duty.left
            else:
                work += duty.left * len(duty.hands)
        peopled = {g for g in state.hands if g != VAN} | {d.on[0] for d in state.duties if d.what == "in"}
        work += sum(self.ways[g].minutes for h, g in enumerate(state.hands) if g != VAN and not self._leaves(state, h))
        awaited = set()
        for i, done in enumerate(state.stages):
            if done == WAITING:
                work += min((m.minutes * m.hands for m in self.modes[i]), default=0)
                if self.ground_of[i] not in peopled and not self.ways[self.ground_of[i]].is_open:
                    awaited.add(self.ground_of[i])
        for g in awaited:
            work += 2 * self.ways[g].minutes
            price += self.day.crossing_price * self.ways[g].restricted
        here = self.day.van.ends_at if state.at == HOME else self._place(state.at)
        if state.at != HOME:
            driving += min(
                (
                    sum(self.day.drive_minutes(a, b) for a, b in pairwise(stops))
                    for order in permutations(state.jobs_left)
                    for stops in [[here, *(self._place(j) for j in order), self.day.van.ends_at]]
                ),
                default=0,
            )
        return driving + ceil(work / len(state.hands)) + price

    def _leaves(self, state: State, hand: int) -> bool:
        return any(hand in d.hands and d.what == "out" for d in state.duties)

    def _place(self, at: int) -> str:
        return self.day.van.starts_at if at == AT_START else self.day.jobs[self.jobs[at]].place

    def _moves(self, state: State) -> Iterator[tuple[int, State]]:
        yield from self._meals(state)
        busy = {h for duty in state.duties for h in duty.hands}
        if any(duty.what == "drive" for duty in state.duties):  # nobody is at a job, those by own transport neither
            busy |= set(self.own_hours)
        idle = [h for h in range(len(state.hands)) if h not in busy]
        minutes = 1 if idle else min(duty.left for duty in state.duties)  # nobody can begin anything before
        passed = self._minutes_pass(state, minutes)
        if passed is not None and passed != state:
            yield minutes, passed
        if not idle or state.at == HOME:
            return
        at_van = [h for h in idle if state.hands[h] == VAN]
        if len(at_van) == len(state.hands):
            yield from self._drives(state)
        if state.at == AT_START:
            return
        idle, at_van = ([h for h in hands if self._has_come(state, h)] for hands in (idle, at_van))
        for i, done in enumerate(state.stages):
            if done == WAITING and self.job_of[i] == state.at:
                yield from self._works(state, i, idle)
        for g, (j, _) in enumerate(self.grounds):
            if self.jobs.index(j) != state.at:
                continue
            here = at_van if self.ways[g].is_open else [h for h in idle if state.hands[h] == g]
            yield from self._chores(state, g, here)
            if not self.ways[g].is_open:
                yield from self._sheets(state, g, at_van)
                yield from self._walks_in(state, g, at_van)
                yield from self._walks_out(state, g, here)

    def _has_come(self, state: State, hand: int) -> bool:
        return hand not in self.own_hours or self.own_hours[hand][0] <= state.clock

    def _keeps_hours(self, state: State) -> bool:
        """Whether all who come by themselves are done, and out at the van, by the end of their hours."""
        for h, (_, ends) in self.own_hours.items():
            if any(h in duty.hands and state.clock + duty.left > ends for duty in state.duties):
                return False
            if state.hands[h] != VAN and state.clock >= ends and not any(h in duty.hands for duty in state.duties):
                return False
        return True

    def _meals(self, state: State) -> Iterator[tuple[int, State]]:
        """Whoever is idle at a job and has had none may begin a meal, or a break, when it may be."""
        length, earliest, latest = self._when_to_rest(state)
        busy = {h for duty in state.duties for h in duty.hands}
        if not self.rests or state.at in (AT_START, HOME) or not earliest <= state.clock <= latest:
            return
        for h, has in enumerate(state.fed):
            if not has and h not in busy:
                fed = (*state.fed[:h], True, *state.fed[h + 1 :])
                yield 0, self._begin(state, Duty(length, "meal", (), (h,)), fed=fed)

    def _when_to_rest(self, state: State) -> tuple[int, int, int]:
        """How long a meal or a break is, and between which minutes it begins."""
        if self.break_ is not None:
            return self.break_.length, state.left + self.break_.soonest, state.left + self.break_.once_over
        meal = self.day.meal
        return (0, 0, 0) if meal is None else (meal.length, meal.earliest, meal.latest)

    def _is_fed(self, state: State) -> bool:
        """Whether everybody who was out for long has had a meal, or a break."""
        owed = self.break_ or self.day.meal
        return owed is None or all(state.fed) or state.clock - state.left <= owed.once_over

    def _class(self, i: int) -> str:
        name = self.stages[i][2].chemical
        return "" if name is None else chemicals().class_of(name)

    def _minutes_pass(self, state: State, minutes: int) -> State | None:
        """The state so many minutes later, of which no duty ends before the last; None when that breaks a rule."""
        if not state.duties and not any(age >= 0 for age in state.stages) and not self.has_clock:
            return None
        if self.fresh.rains_on_a_layer(state.stages, state.clock, minutes):
            return None
        stages = [age + minutes if age >= 0 else age for age in state.stages]
        kit = [list(units) for units in state.kit]
        hands, material, sheets = list(state.hands), list(state.material), list(state.sheets)
        spent, ready = list(state.spent), list(state.ready)
        duties: list[Duty] = []
        ended: dict[int, _Mode] = {}
        for duty in state.duties:
            if duty.left > minutes:
                duties.append(duty._replace(left=duty.left - minutes))
                continue
            on = duty.on
            if duty.what == "work":
                stages[on[0]] = 0
                ended[on[0]] = self.modes[on[0]][on[1]]
                self._is_left(on[0], self.modes[on[0]][on[1]], spent, ready)
            elif duty.what == "in":
                g, carried, containers = on
                for h in duty.hands:
                    hands[h] = g
                for k in carried:
                    _turn(kit[k], (g, MOVING), (g, NEW if self._kit(k).set_up else READY))
                for n, count in containers:
                    material[n] += count
            elif duty.what == "out":
                for h in duty.hands:
                    hands[h] = VAN
                for k in on[1]:
                    _turn(kit[k], (on[0], MOVING), (VAN, IN_VAN))
            elif duty.what in ("set up", "pack down"):
                g, k = on
                gone = (VAN, IN_VAN) if self.ways[g].is_open else (g, PACKED)
                _turn(kit[k], (g, IN_CHORE), (g, READY) if duty.what == "set up" else gone)
            elif duty.what in ("lay", "lift"):
                sheets[on[0]] = DOWN if duty.what == "lay" else LIFTED
        for w, (first, _) in enumerate(self.ends):
            if first in ended:
                if any(d.what == "work" and d.on[0] in self.barred[w] for d in duties):
                    return None
                if any(d.what in ("in", "out") and d.on[0] in self.barred_ways[w] for d in duties):
                    return None
                chores = [d.on for d in duties if d.what in ("set up", "pack down")]
                if any(on in self.barred_ladders[w] or on[0] in self.barred_ways[w] & self.open for on in chores):
                    return None
        self._is_put_down(stages, ended, kit)
        self._is_done_with(stages, ended, spent, ready)
        settled = self._settled(stages)
        if settled is None:
            return None
        clock = state.clock + minutes if self.has_clock else 0
        if self.has_clock and clock > self.day.finish + 600:
            return None
        out_again = (tuple(spent), tuple(sorted(ready)))
        ends = (*out_again, clock, state.left)
        return self._state(
            state.at, state.jobs_left, hands, duties, settled, kit, material, sheets, ends, list(state.fed)
        )._replace(held=self.chemicals.rinsed(state.held, set(ended)))

    def _is_put_down(self, stages: list[int], ended: dict[int, "_Mode"], kit: list[list[tuple[int, int]]]) -> None:
        """What a stage used is free once it is over; what covers, once all is over that it covers for."""
        freed = dict(ended)
        for cover, until in self.fresh.held.items():
            if until & set(ended) and stages[cover] not in (WAITING, RUNNING):
                freed[cover] = self.modes[cover][0]
        for i, mode in freed.items():
            if not self.fresh.still_covers(stages, i):
                for k in mode.kit:
                    _turn(kit[k], (self.ground_of[i], IN_USE), (self.ground_of[i], self._phase_after(k, i)))

    def _phase_after(self, k: int, i: int) -> int:
        """The phase of kit when a stage is over: it remembers a chemical if it is rinsed out, or that it lies there."""
        if i in self.fresh.under:
            return LAID
        return SOILED + self.classes.index(self._class(i)) if self._kit(k).rinsing else READY

    def _unit_for(self, state: State, k: int, i: int) -> int | None:
        """The phase of a unit that may serve a stage: one in which its chemical was already, or a clean one."""
        there = {phase for ground, phase in state.kit[k] if ground == self.ground_of[i]}
        return next((phase for phase in (self._phase_after(k, i), READY) if phase in there), None)

    # --- out again ------------------------------------------------------------------------------------------

    def _is_left(self, i: int, mode: "_Mode", spent: list[tuple[int, int]], ready: list[Box]) -> None:
        """A stage is over: what it took counts as taken and used up, and what it leaves is ready to go."""
        g = self.ground_of[i]
        for n, (ground, name) in enumerate(self.materials):
            if ground == g:
                taken = mode.uses.get(name, 0)
                spent[n] = (spent[n][0] + taken, spent[n][1] + mode.expected.get(name, 100 * taken))
        for name, left in mode.leaves.items():
            ready += [Box(g, -1, name, 100)] * (left // 100)
            ready += [Box(g, OPEN_BAG, name, left % 100)] if left % 100 else []

    def _is_done_with(
        self, stages: list[int], ended: dict[int, "_Mode"], spent: list[tuple[int, int]], ready: list[Box]
    ) -> None:
        """Where no stage that could use a material is left on a ground, its containers are ready to go.

        And so are bags that are not full, put together, where no stage is left that adds to them.
        """
        for g, name in {(box.ground, box.name) for box in ready if box.index == OPEN_BAG}:
            adding = [i for i, at in enumerate(self.ground_of) if at == g and self._adds(i, name)]
            if all(stages[i] not in (WAITING, RUNNING) for i in adding):
                bags = [box for box in ready if (box.ground, box.index, box.name) == (g, OPEN_BAG, name)]
                for box in bags:
                    ready.remove(box)
                ready += self._filled(g, name, sum(box.hundredths for box in bags))
        for n, (g, name) in enumerate(self.materials):
            users = [
                i
                for i, ground in enumerate(self.ground_of)
                if ground == g and any(name in m.uses or name in m.expected for m in self.modes[i])
            ]
            if not set(users) & set(ended) or any(stages[i] in (WAITING, RUNNING) for i in users):
                continue
            taken, used = spent[n][0] + self.shared.get(n, 0), spent[n][1]
            left = 0 if self.day.materials[name].water else max(0, 100 * taken - used)
            rests = self._filled(g, name, left)
            ready += [Box(g, -1, name, 0)] * (taken - len(rests))
            job = self.day.jobs[self.grounds[g][0]]
            ready += [] if name in job.customer.keeps else rests

    def _adds(self, i: int, name: str) -> bool:
        """Whether a stage may leave a bag that is not full."""
        return any(mode.leaves.get(name, 0) % 100 for mode in self.modes[i])

    def _filled(self, g: int, name: str, hundredths: int) -> list[Box]:
        full, part = divmod(hundredths, 100)
        return [Box(g, -1, name, 100)] * full + ([Box(g, -1, name, part)] if part else [])

    def _settled(self, stages: list[int]) -> list[int] | None:
        """Ages that nothing asks for any more are dropped, others capped; None when a wait is past its most."""
        found = list(stages)
        for i, age in enumerate(stages):
            if age < 0:
                continue
            cap = -1
            for (_, wait), (first, second) in zip(self.waits, self.ends, strict=True):
                if first == i and second is not None and stages[second] == WAITING:
                    if wait.most is not None and age > self._latest(wait, first, second):
                        return None
                    cap = max(cap, wait.least, 0 if wait.most is None else wait.most + 1)
            remembered = max(self.fresh.remembers(stages, i), 60 if self.wet_ways[i] else 0)
            found[i] = SETTLED if cap < 0 and age >= remembered else min(age, max(cap, remembered))
        return found

    def _state(
        self,
        at: int,
        left: tuple[int, ...],
        hands: list[int],
        duties: list[Duty],
        stages: list[int],
        kit: list[list[tuple[int, int]]],
        material: list[int],
        sheets: list[int],
        ends: tuple[tuple[tuple[int, int], ...], tuple[Box, ...], int, int],
        fed: list[bool],
    ) -> State:
        if self.alike:  # hands that can stand for each other: name them by what they do
            doing: list[Any] = [
                next(((d.what, d.on, d.left) for d in duties if h in d.hands), ("",)) for h in range(len(hands))
            ]
            has = fed or [False] * len(hands)
            order = sorted(range(len(hands)), key=lambda h: (hands[h], doing[h], has[h], h))
            new = {h: n for n, h in enumerate(order)}
            hands, fed = [hands[h] for h in order], [has[h] for h in order] if fed else []
            duties = [d._replace(hands=tuple(sorted(new[h] for h in d.hands))) for d in duties]
        return State(
            at,
            left,
            tuple(hands),
            tuple(sorted(duties)),
            tuple(stages),
            tuple(tuple(sorted(units)) for units in kit),
            tuple(material),
            tuple(sheets),
            *ends,
            tuple(fed),
        )

    # --- moves ----------------------------------------------------------------------------------------------

    def _begin(self, state: State, duty: Duty, **changes: Any) -> State:
        """The state in which a duty has begun."""
        changed = state._replace(**changes)
        settled = self._settled(list(changed.stages))
        assert settled is not None  # no minute has passed
        duties = [*changed.duties, duty] if duty.left else list(changed.duties)
        kit = [list(units) for units in changed.kit]
        material, sheets = list(changed.material), list(changed.sheets)
        hands = list(changed.hands)
        ends = (changed.spent, changed.ready, changed.clock, changed.left)
        at, left = changed.at, changed.jobs_left
        begun = self._state(at, left, hands, duties, settled, kit, material, sheets, ends, list(changed.fed))
        return begun._replace(held=changed.held)

    def _drives(self, state: State) -> Iterator[tuple[int, State]]:
        leaving, set_off = 0, state.left
        if state.at == AT_START:
            set_off = state.clock if self.rests else 0
        else:
            leaving = self.day.jobs[self.jobs[state.at]].leaving
        if state.at != AT_START:
            if any(d in (WAITING, RUNNING) for i, d in enumerate(state.stages) if self.job_of[i] == state.at):
                return
            if any(unit != (VAN, IN_VAN) for units in state.kit for unit in units) or DOWN in state.sheets:
                return
            if state.ready or self._has_water_for_nobody(state):
                return
            done_by = self.day.jobs[self.jobs[state.at]].done_by
            if done_by is not None and state.clock + leaving > done_by:
                return
        everyone = self.riders
        here = self._place(state.at)
        for j in state.jobs_left or (HOME,):
            there = self.day.van.ends_at if j == HOME else self._place(j)
            minutes = leaving + self.day.drive_minutes(here, there)
            window = None if j == HOME else self.day.jobs[self.jobs[j]].arrive
            if window and not window[0] <= state.clock + minutes <= window[1]:
                continue
            left = tuple(x for x in state.jobs_left if x != j)
            arriving = 0 if j == HOME else self.day.jobs[self.jobs[j]].arriving
            drive = Duty(minutes + arriving, "drive", (j,), everyone)
            yield 0, self._begin(state, drive, at=j, jobs_left=left, left=set_off)

    def _works(self, state: State, i: int, idle: list[int]) -> Iterator[tuple[int, State]]:
        if not self._may_start(state, i) or self._is_under_sheets(state, i):
            return
        g, stage = self.ground_of[i], self.stages[i][2]
        where = VAN if self.ways[g].is_open else g
        here = [h for h in idle if state.hands[h] == where]
        for m, mode in enumerate(self.modes[i]):
            drawn = Counter(mode.draws)
            for d in state.duties:
                if d.what == "work" and self.ground_of[d.on[0]] == g:
                    drawn += self.modes[d.on[0]][d.on[1]].draws
            supplies = self.day.jobs[self.stages[i][0]].grounds[self.grounds[g][1]].supplies
            if any(n > supplies.get(name, 0) for name, n in drawn.items()):
                continue
            phases = {k: self._unit_for(state, k, i) for k in mode.kit}
            if None in phases.values() or self._is_shut(state, i, mode.minutes) or not self._has_water(state, i):
                continue
            material = list(state.material)
            for name, count in mode.uses.items():
                material[self.materials.index((g, name))] -= count
            mine = [n for n in self.shared if self.materials[n][0] == g and self._draws(i, self.materials[n][1])]
            if any(material[n] < self.shared[n] for n in mine):
                continue
            if any(n < 0 for n in material) or not self._patches_hold(state, i, mode.minutes):
                continue
            kit = [list(units) for units in state.kit]
            for k in mode.kit:
                _turn(kit[k], (g, phases[k] or 0), (g, IN_USE))
            stages = (*state.stages[:i], RUNNING, *state.stages[i + 1 :])
            held = self.chemicals.begun(state.stages, state.held, i)
            for hands in combinations(here, mode.hands):
                if stage.by_hand and list(self.day.hands).index(stage.by_hand) not in hands:
                    continue
                duty = Duty(mode.minutes, "work", (i, m), hands)
                yield 0, self._begin(state, duty, stages=stages, kit=kit, material=tuple(material), held=held)

    def _is_under_sheets(self, state: State, i: int) -> bool:
        """Whether sheets lie on the surface of a stage, from when they are laid until they are packed down."""
        for cover, under in self.fresh.under.items():
            if i in under and state.stages[cover] != WAITING:
                kit, g = self.modes[cover][0].kit, self.ground_of[cover]
                is_out = any((g, phase) in state.kit[k] for k in kit for phase in (IN_USE, IN_CHORE, LAID))
                if is_out or state.stages[cover] == RUNNING or self.fresh.still_covers(state.stages, cover):
                    return True
        return False

    def _latest(self, wait: Wait, first: int, second: int) -> int:
        """So many minutes after the end of the first stage of a wait with a most the second may still begin."""
        assert wait.most is not None
        quickest = min((mode.minutes for mode in self.modes[second]), default=0)
        if wait.order == "same":
            return min(wait.most - self._took(first), wait.most - quickest)
        return wait.most if wait.order is None else wait.most - self._took(first) - quickest

    def _took(self, i: int) -> int:
        return self.modes[i][0].minutes

    def _patches_hold(self, state: State, i: int, minutes: int) -> bool:
        """Whether every patch of its surface has waited long enough, and not too long, when a stage is over it."""
        for (_, wait), (first, second) in zip(self.waits, self.ends, strict=True):
            if second != i or wait.order is None:
                continue
            gap, took = state.stages[first], self._took(first)
            if wait.order == "same":
                shortest, longest = sorted((took + gap, gap + minutes))
            else:
                shortest, longest = gap, took + gap + minutes
            if shortest < wait.least or (wait.most is not None and longest > wait.most):
                return False
        return True

    def _other_section(self, one: int, other: int) -> bool:
        """Whether two stages are sections of one surface, and not the same one."""
        (j, _, a), (k, _, b) = self.stages[one], self.stages[other]
        return j == k and a.surface == b.surface and apart(a.part, b.part)

    def _may_start(self, state: State, i: int) -> bool:
        """Whether order, waits, closed surfaces, nuisances and pairs let a stage start now."""
        j, _, stage = self.stages[i]
        if any(state.stages[self.index[j, a]] in (WAITING, RUNNING) for a in stage.after):
            return False
        for w, ((_, wait), (first, second)) in enumerate(zip(self.waits, self.ends, strict=True)):
            age = state.stages[first]
            if second == i and (age in (WAITING, RUNNING) or (wait.order is None and age < wait.least)):
                return False
            is_on = age not in (WAITING, RUNNING) and (second is None or state.stages[second] == WAITING)
            if is_on and i in self.barred[w]:
                return False
            waits_there = wait.kind != "order" and not self._other_section(i, first)
            if is_on and second != i and waits_there and self._spoils(i, first):
                return False
        running = [d.on[0] for d in state.duties if d.what == "work"]
        walked = {d.on[0] for d in state.duties if d.what in ("in", "out")}
        sprayed = self.sprayed_ways[i] | self.wet_ways[i]
        if any(y == i and g in walked for g, y in self.over_fresh) or sprayed & walked:
            return False
        if any(self._moves_a_ladder(d) and self.grounds[d.on[0]] in self.fresh.slips[i] for d in state.duties):
            return False
        if any(self._is_up(state, g, k) for g, k in self.fresh.cleared_of[i]):
            return False
        on_fresh = self.fresh.ladders_on_fresh[i]
        seen_to = [d.on for d in state.duties if d.what in ("set up", "pack down")]
        if any((self.grounds[g], self.kit[k]) in on_fresh for g, k in seen_to):
            return False
        if not self.chemicals.may_start(state.stages, state.held, i):
            return False
        chores = [d.on for d in state.duties if d.what in ("set up", "pack down")]
        if any((g, i) in self.over_fresh and g in self.open for g, _ in chores):
            return False
        if not self.fresh.may_start(state.stages, running, i) or any(self._is_beneath(g, k, i) for g, k in chores):
            return False
        return not any(self._spoils(i, x) or self._spoils(x, i) or self._apart(i, x) for x in running)

    def _is_up(self, state: State, ground: tuple[str, str], kit: str) -> bool:
        """Whether one of a kit stands on a ground, or is being set up or packed down there."""
        g = self.grounds.index(ground)
        up = (IN_CHORE, READY, IN_USE)
        return any(at == g and (phase in up or phase >= SOILED) for at, phase in state.kit[self.kit.index(kit)])

    def _moves_a_ladder(self, duty: Duty) -> bool:
        """Whether a duty carries a ladder along a way: a leg, or a chore on an open way."""
        if duty.what in ("in", "out"):
            return any("ladder" in self._kit(k).tags for k in duty.on[1])
        is_chore = duty.what in ("set up", "pack down") and self.ways[duty.on[0]].is_open
        return is_chore and "ladder" in self._kit(duty.on[1]).tags

    def _has_water(self, state: State, i: int) -> bool:
        """Whether there is water in a can where a stage must have it, if the ground has water by cans at all."""
        j, _, stage = self.stages[i]
        g = self.ground_of[i]
        corrosive = stage.chemical is not None and self._class(i) in chemicals().corrosive
        has_tap = self.day.jobs[j].grounds[self.grounds[g][1]].supplies.get("tap", 0)
        if not (stage.mixing or corrosive) or self.ways[g].is_open or has_tap:
            return True
        cans = {name for ground, name in self.materials if ground == g and self.day.materials[name].water}
        works = [d.on for d in state.duties if d.what == "work"]
        running = [self.modes[i][m] for i, m in works if self.ground_of[i] == g]
        there = sum(state.material[self.materials.index((g, name))] for name in cans)
        return not cans or there + sum(mode.uses.get(name, 0) for mode in running for name in cans) > 0

    def _has_water_for_nobody(self, state: State) -> bool:
        """Whether a can of water was carried in that no stage has used up."""
        return any(
            count and self.day.materials[name].water and not self.ways[g].is_open
            for count, (g, name) in zip(state.material, self.materials, strict=True)
        )

    def _is_shut(self, state: State, i: int, minutes: int) -> bool:
        j, _, stage = self.stages[i]
        start, end = state.clock, state.clock + minutes
        if stage.starts_at is not None and start != stage.starts_at:
            return True
        if stage.not_before is not None and start < stage.not_before:
            return True
        if stage.not_after is not None and end > stage.not_after:
            return True
        if self.fresh.weather_shuts(i, start, end):
            return True
        return stage.noisy and any(start < b and a < end for a, b in self.day.jobs[j].quiet)

    def _kit(self, k: int) -> Any:
        return self.day.kit[self.kit[k]]

    def _is_wanted(self, state: State, k: int, g: int) -> bool:
        """Whether a stage that is left on a ground could use a kit."""
        left = [i for i, done in enumerate(state.stages) if done == WAITING and self.ground_of[i] == g]
        return any(k in mode.kit for i in left for mode in self.modes[i])

    def _chores(self, state: State, g: int, here: list[int]) -> Iterator[tuple[int, State]]:
        way = self.ways[g]
        for k in range(len(self.kit)):
            kit = self._kit(k)
            walking = 2 * way.minutes * ceil(kit.load / (way.load_limit * kit.lift) - 1e-9) if way.is_open else 0
            hands_needed = kit.lift if way.is_open and kit.load else 1
            before = (VAN, IN_VAN) if way.is_open else (g, NEW)
            gone = (VAN, IN_VAN) if way.is_open else (g, PACKED)
            away = kit.pack_down + kit.rinsing + walking
            ready = sorted({phase for ground, phase in state.kit[k] if ground == g and phase >= SOILED} | {READY})
            for what, minutes, unit, after in (
                ("set up", kit.set_up + walking, before, (g, READY)),
                *((("set up", kit.set_up, (g, PACKED), (g, READY)),) if not way.is_open else ()),
                *(("pack down", away, (g, phase), gone) for phase in ready),
            ):
                if unit not in state.kit[k] or (what == "set up" and not self._is_wanted(state, k, g)):
                    continue
                if minutes and what == "set up" and any(not self._standing(state, n, g) for n in self._needs(k)):
                    continue
                if what == "pack down" and self._is_set_up_from(state, k, g):
                    continue
                if minutes and way.is_open and (self._is_barred_ladder(state, k, g) or self._way_is_closed(state, g)):
                    continue
                if minutes and any(d.what == "work" and self._is_beneath(g, k, d.on[0]) for d in state.duties):
                    continue
                if minutes and self._is_closed_to(state, g, k):
                    continue
                at = (self.grounds[g], self.kit[k])
                if any(d.what == "work" and at in self.fresh.cleared_of[d.on[0]] for d in state.duties):
                    continue
                if what == "set up" and self.fresh.is_slippery_to_stand_on(state.stages, *at):
                    continue
                units = [list(x) for x in state.kit]
                if minutes == 0:  # nobody's work
                    if way.is_open or (what == "set up" and unit == (g, PACKED)):
                        _turn(units[k], unit, after)
                        yield 0, self._begin(state, Duty(0, "", (), ()), kit=units)
                    continue
                _turn(units[k], unit, (g, IN_CHORE))
                goes = max(1, ceil(kit.load / (way.load_limit * kit.lift) - 1e-9))
                for hands in combinations(here, hands_needed):
                    if way.is_open and (kit.mass or 0.0) / goes > self._together(hands) + 1e-6:
                        continue
                    yield 0, self._begin(state, Duty(minutes, what, (g, k), hands), kit=units)

    def _is_closed_to(self, state: State, g: int, k: int) -> bool:
        """Whether nobody may put a ladder up or take it down, as where it stands waits or is fresh."""
        waits = any(
            (g, k) in self.barred_ladders[w]
            and state.stages[first] not in (WAITING, RUNNING)
            and (second is None or state.stages[second] == WAITING)
            for w, (first, second) in enumerate(self.ends)
        )
        at = (self.grounds[g], self.kit[k])
        fresh = (y for y, some in self.fresh.ladders_on_fresh.items() if at in some)
        return waits or any(self.fresh.is_fresh(state.stages, y) for y in fresh)

    def _is_beneath(self, g: int, k: int, above: int) -> bool:
        """Whether nobody sees to a kit on a ground while a stage runs, as they would be under it."""
        return (self.grounds[g], self.kit[k]) in self.fresh.seen_to.get(above, ())

    def _is_barred_ladder(self, state: State, k: int, g: int) -> bool:
        return "ladder" in self._kit(k).tags and self.fresh.is_slippery(state.stages, self.grounds[g])

    def _needs(self, k: int) -> list[int]:
        return [self.kit.index(other) for other in self._kit(k).needs]

    def _standing(self, state: State, k: int, g: int) -> int:
        """How many of a kit stand set up on a ground."""
        return sum(ground == g and (phase in (READY, IN_USE) or phase >= SOILED) for ground, phase in state.kit[k])

    def _is_set_up_from(self, state: State, k: int, g: int) -> bool:
        """Whether something is being set up there that needs a kit of which no more than one stands."""
        rising = [d.on[1] for d in state.duties if d.what == "set up" and d.on[0] == g]
        return any(k in self._needs(other) for other in rising) and self._standing(state, k, g) < 2

    def _sheets(self, state: State, g: int, at_van: list[int]) -> Iterator[tuple[int, State]]:
        way = self.ways[g]
        if way.protection != "ours" or not at_van:
            return
        in_use = g in state.hands or any(d.what in ("in", "out") and d.on[0] == g for d in state.duties)
        has_work = any(d == WAITING and self.ground_of[i] == g for i, d in enumerate(state.stages))
        for what, minutes, now, then, may in (
            ("lay", way.lay, NONE, LAYING, has_work),
            ("lift", way.lift, DOWN, LIFTING, not in_use),
        ):
            if state.sheets[g] == now and may:
                sheets = (*state.sheets[:g], then, *state.sheets[g + 1 :])
                for h in at_van:
                    yield 0, self._begin(state, Duty(minutes, what, (g,), (h,)), sheets=sheets)

    def _way_is_closed(self, state: State, g: int) -> bool:
        return any(
            g in self.barred_ways[w]
            and state.stages[first] not in (WAITING, RUNNING)
            and (second is None or state.stages[second] == WAITING)
            for w, (first, second) in enumerate(self.ends)
        ) or any(way == g and self.fresh.is_fresh(state.stages, y) for way, y in self.over_fresh) or any(
            g in (self.sprayed_ways[y] if age == RUNNING else ())
            or (g in self.wet_ways[y] and (age == RUNNING or 0 <= age < 60))
            for y, age in enumerate(state.stages)
        )

    def _walks_in(self, state: State, g: int, at_van: list[int]) -> Iterator[tuple[int, State]]:
        way = self.ways[g]
        if (way.protection == "ours" and state.sheets[g] != DOWN) or self._way_is_closed(state, g) or not at_van:
            return
        has_work = any(d in (WAITING, RUNNING) and self.ground_of[i] == g for i, d in enumerate(state.stages))
        is_left = any(unit[0] == g for units in state.kit for unit in units) or any(b.ground == g for b in state.ready)
        if not has_work and not is_left:
            return
        there = [
            k
            for k, units in enumerate(state.kit)
            for unit in units
            if unit == (VAN, IN_VAN) and self._is_wanted(state, k, g) and not self._is_barred_ladder(state, k, g)
        ]
        boxes = [Box(g, n, self.materials[n][1], 100) for n in self._containers_wanted(state, g)]
        for together, loads in self._loads(g, there, boxes, len(at_van)):
            carried = tuple(sorted([*together, *(k for kits, _ in loads for k in kits)]))
            units = [list(x) for x in state.kit]
            for k in carried:
                _turn(units[k], (VAN, IN_VAN), (g, MOVING))
            brought = Counter(box.index for _, containers in loads for box in containers)
            for hands in self._bearers(at_van, together, loads):
                duty = Duty(way.minutes, "in", (g, carried, tuple(sorted(brought.items()))), hands)
                yield self.day.crossing_price * way.restricted * len(loads), self._begin(state, duty, kit=units)

    def _walks_out(self, state: State, g: int, here: list[int]) -> Iterator[tuple[int, State]]:
        if self._way_is_closed(state, g) or not here:
            return
        ready = [k for k in range(len(self.kit)) if not self._kit(k).pack_down + self._kit(k).rinsing]
        there = [
            k
            for k, units in enumerate(state.kit)
            for u in units
            if u == (g, PACKED) or (k in ready and u == (g, READY) and not self._is_set_up_from(state, k, g))
            if not self._is_barred_ladder(state, k, g)
        ]
        for together, loads in self._loads(g, there, self._out_of(state, g), len(here)):
            carried = tuple(sorted([*together, *(k for kits, _ in loads for k in kits)]))
            units = [list(x) for x in state.kit]
            for k in carried:
                _turn(units[k], (g, PACKED) if (g, PACKED) in units[k] else (g, READY), (g, MOVING))
            left = Counter(state.ready) - Counter(box for _, containers in loads for box in containers)
            ready = tuple(sorted(left.elements()))
            for hands in self._bearers(here, together, loads):
                duty = Duty(self.ways[g].minutes, "out", (g, carried), hands)
                yield 0, self._begin(state, duty, kit=units, ready=ready)

    def _out_of(self, state: State, g: int) -> list[Box]:
        """What can go out of a ground now: bags that something is still added to cannot."""
        return [box for box in state.ready if box.ground == g and box.index != OPEN_BAG]

    def _bearers(
        self, here: list[int], together: tuple[int, ...], loads: list["_Load"]
    ) -> Iterator[tuple[int, ...]]:
        """Hands who could bear these loads, each their own, without lifting more than they do."""
        for hands in (combinations if self.alike else permutations)(here, len(loads)):
            shared = sum((self._kit(k).mass or 0.0) / self._together(hands) for k in together)
            borne = [shared + self._mass(*load) / self.lifts[h] for h, load in zip(hands, loads, strict=True)]
            if all(part <= 1 + 1e-6 for part in borne):
                yield hands

    def _together(self, hands: tuple[int, ...]) -> float:
        """What some hands lift together: a pair two thirds of the sum, three a half (HSE INDG143)."""
        return {1: 1.0, 2: 2 / 3, 3: 1 / 2}[len(hands)] * sum(self.lifts[h] for h in hands)

    def _mass(self, kits: tuple[int, ...], boxes: tuple[Box, ...]) -> float:
        mass = sum(self._kit(k).mass or 0.0 for k in kits)
        for box in boxes:
            material = self.day.materials[box.name]
            full, empty = material.mass or 0.0, material.empty
            if empty is None:
                empty = 0.06 * full if material.holds_kg is None else max(0.0, full - material.holds_kg)
            mass += full if box.index >= 0 else empty + (full - empty) * box.hundredths / 100
        return float(mass)

    def _containers_wanted(self, state: State, g: int) -> list[int]:
        """Containers (by index of their ground and material) that are still to be brought, each as often as it is."""
        wanted = []
        for n, (ground, name) in enumerate(self.materials):
            if ground == g:
                left = [i for i, d in enumerate(state.stages) if d == WAITING and self.ground_of[i] == g]
                use = sum(max((m.uses.get(name, 0) for m in self.modes[i]), default=0) for i in left)
                use += self.shared.get(n, 0) if any(self._draws(i, name) for i in left) else 0
                coming = sum(dict(d.on[2]).get(n, 0) for d in state.duties if d.what == "in")
                wanted += [n] * max(0, use - state.material[n] - coming)
        return wanted

    def _loads(
        self, g: int, kits: list[int], containers: list[Box], hands: int
    ) -> Iterator[tuple[tuple[int, ...], list["_Load"]]]:
        """What one hand can carry on a leg, or as many together as lift something: (shared, [own of each])."""
        limit = self.ways[g].load_limit + 1e-9
        light = [k for k in kits if self._kit(k).lift == 1]
        bags = [
            (own, boxes)
            for own in _subsets(light)
            for boxes in _subsets(containers)
            if self._weight(own, boxes) <= limit
        ]
        for bag in bags:
            yield (), [bag]
        for together in _subsets([k for k in kits if self._kit(k).lift > 1]):
            lifts = {self._kit(k).lift for k in together}
            if len(lifts) != 1 or max(lifts) > hands:
                continue
            bearers = lifts.pop()
            share = sum(self._kit(k).load / bearers for k in together)
            for own in product(bags, repeat=bearers):
                if any(share + self._weight(*bag) > limit for bag in own) or list(own) != sorted(own):
                    continue
                if _within([k for b in own for k in b[0]], light) and _within(
                    [n for b in own for n in b[1]], containers
                ):
                    yield together, list(own)

    def _weight(self, kits: tuple[int, ...], containers: tuple[Box, ...]) -> float:
        load = sum(self._kit(k).load for k in kits)
        for box in containers:  # an empty one is a quarter of a full one
            full = self.day.materials[box.name].load
            load += full if box.index >= 0 else full * (0.25 + 0.75 * box.hundredths / 100)
        return float(load)


_Load = tuple[tuple[int, ...], tuple[Box, ...]]
"""What one hand carries alone: kit, and containers."""


class _Mode(NamedTuple):
    """A way to do a stage: minutes, hands, all its kit, the supplies that draws on, containers taken.

    Then, in hundredths of a container, what is used up of them and what is left by the work.
    """

    minutes: int
    hands: int
    kit: tuple[int, ...]
    draws: Counter[str]
    uses: dict[str, int]
    expected: dict[str, int]
    leaves: dict[str, int]


def _turn(units: list[tuple[int, int]], before: tuple[int, int], after: tuple[int, int]) -> None:
    """One unit goes from one place and phase to another."""
    units.remove(before)
    units.append(after)


def _subsets(things: list[Any]) -> list[tuple[Any, ...]]:
    """Every choice from a list that may hold equal things, once each."""
    return sorted({tuple(sorted(x)) for n in range(len(things) + 1) for x in combinations(things, n)})


def _within(taken: list[Any], there: list[Any]) -> bool:
    return not Counter(taken) - Counter(there)


def _refuse_what_is_left_out(day: Day) -> None:
    own = [hand.own_transport for hand in day.hands.values()]
    assert not any(hand.rest or (hand.hours and not hand.own_transport) for hand in day.hands.values())
    has_break = day.rest is not None and day.rest.once_over <= LONGEST
    assert not has_break or (day.rest.earliest is None and day.rest.latest is None and day.rest.length)
    assert not any(own) or (len(day.jobs) == 1 and not day.meal and not has_break and not all(own))
    assert not (has_break and day.meal)
    assert not any(kit.may_stay or kit.wheels or kit.water for kit in day.kit.values())
    assert not any(stage.above_dew for _, _, stage in day.stages())
    assert not any(place.at for place in day.places.values())
    for job in day.jobs.values():
        assert job.visits == 1
        for ground in job.grounds.values():
            assert ground.way_in.is_open or ground.way_in.minutes
            assert ground.way_in.protection != "ours" or (ground.way_in.lay and ground.way_in.lift)
        for key, stage in job.stages.items():
            assert not stage.only_if_needed
            assert not (stage.covers or stage.stays_for or stage.lies_on) or len(stage.methods) == 1
            if stage.lies_on:  # its sheets are for nothing else, and are packed down by hand
                sheets = day.kit_closure(next(iter(stage.methods.values())).kit)
                assert all(day.kit[k].own == 1 and day.kit[k].pack_down and not day.kit[k].rinsing for k in sheets)
                others = (m for _, s, other in day.stages() if s != key for m in other.methods.values())
                assert not any(set(sheets) & set(day.kit_closure(m.kit)) for m in others)
            assert all(job.likely_minutes(key, m) for m in stage.methods)
        assert not any(w.by_hour or w.extended_by or w.weather for w in job.waits)
        for wait in job.waits:  # what a patch has waited is told from the time since the end of its stage
            if wait.order is not None:
                minutes = {job.likely_minutes(wait.after, m) for m in job.stages[wait.after].methods}
                assert len(minutes) == 1
