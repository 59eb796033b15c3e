"""A careful person's serial order: one thing after another, at once, without a solver.

Jobs follow each other, each in one visit; stages follow the file wherever the rules let them; kit comes in for a stage
and goes out again unless the very next stage needs it; waits are waited out. It is the plan that the best one is
compared with, and the first that anyone sees.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from planner.day import Day
from planner.engine.build import Index
from planner.engine.order import serial_order
from planner.engine.problem import Mode, Problem
from planner.plan.checker import broken_rules
from planner.plan.plan import Carried, Chore, Crossing, Drive, Plan, Rest, Stay, Visit, Work

MOST_SHIFTS = 200
"""How often the times are worked out again with a stage begun later, before the serial order is given up."""


LAST_MINUTE = 48 * 60
"""One thing after another may run into the night and the next day: it is what others are compared with."""


@dataclass
class Duty:
    """One thing that hands do, in the order it is done."""

    what: Literal["drive", "stage", "set up", "pack down", "lay", "lift", "walk in", "walk out"]
    hands: tuple[int, ...]
    minutes: int
    activity: int | None = None
    mode: Mode | None = None
    kit: int | None = None
    ground: int | None = None
    job: int | None = None
    load: tuple[Carried, ...] = ()
    start: int = 0

    @property
    def end(self) -> int:
        """When it is done."""
        return self.start + self.minutes


@dataclass
class _Site:
    """Where things are while the order is written down."""

    standing: dict[int, set[int]] = field(default_factory=dict)
    inside: tuple[int, tuple[int, ...]] | None = None


class Serial:
    """Writes the duties of a day one after another, then works out their times."""

    def __init__(self, day: Day, problem: Problem, *, early: bool) -> None:
        self.day, self.problem, self.index = day, problem, Index.of(day)
        self.early = early
        self.riders = tuple(h for h, hand in enumerate(problem.hands) if hand.rides)
        self.duties: list[Duty] = []
        self.rest: tuple[int, int] | None = None
        self.site = _Site()

    def plan(self) -> Plan | None:
        """The serial plan, or None where this simple way of working breaks a rule that binds in time."""
        if not self.riders or not self._write():
            return None
        for with_rest in (False, True):
            if not self._time(with_rest=with_rest):
                return None
            span = self.duties[-1].end - self.duties[0].start
            owed = [self.problem.hands[h].rest for h in self.riders]
            if all(rest is None or span <= rest.once_over for rest in owed):
                break
        return self._read()

    # --- what is done, in order -----------------------------------------------------------------------------------

    def _write(self) -> bool:
        order = serial_order(self.problem)
        if order is None:
            return False
        where: int | None = None
        for job, stages in order:
            self._drive(where, job)
            grounds = sorted(
                {g for g in map(self._ground, stages) if self.problem.grounds[g].lay or self.problem.grounds[g].lift}
            )
            for g in grounds:
                self._add(Duty("lay", self.riders[:1], self.problem.grounds[g].lay, ground=g, job=job))
            for n, a in enumerate(stages):
                self._stage(a, stages[n + 1 :])
            self._walk_out()
            for g in grounds:
                self._add(Duty("lift", self.riders[:1], self.problem.grounds[g].lift, ground=g, job=job))
            where = job
        self._drive(where, None)
        return True

    def _ground(self, a: int) -> int:
        ground = self.problem.activities[a].ground
        assert ground is not None
        return ground

    def _add(self, duty: Duty) -> None:
        self.duties.append(duty)

    def _drive(self, here: int | None, there: int | None) -> None:
        route = self.problem.route
        assert route is not None
        if there is None:
            minutes = route.back[here or 0]
        elif here is None:
            minutes = route.out[there]
        else:
            minutes = route.between[here][there]
        self._add(Duty("drive", self.riders, minutes, job=there))

    def _crew(self, a: int, mode: Mode) -> tuple[int, ...]:
        """Who does a stage: the hand it is given to, then riders in their order."""
        given = self.problem.activities[a].hand
        crew = [] if given is None else [given]
        crew += [h for h in self.riders if h != given]
        return tuple(crew[: mode.hands])

    def _stage(self, a: int, later: list[int]) -> None:
        """Fetch what a stage needs, do it, and take away what the next one does not need."""
        mode, ground = self.problem.activities[a].modes[0], self._ground(a)
        crew = self._crew(a, mode)
        follow = later[0] if later else None
        keep: set[int] = set()
        if follow is not None and self._ground(follow) == ground:
            keep = set(self.problem.activities[follow].modes[0].kit)
        standing = self.site.standing.setdefault(ground, set())
        wanted = [k for k in mode.kit if k not in standing]
        if self.early and follow is not None and self._ground(follow) == ground and self._is_tight(a, follow):
            wanted += [k for k in sorted(keep) if k not in standing and k not in wanted]
        self._fetch(ground, wanted, self._containers(mode), crew)
        self._add(Duty("stage", crew, mode.minutes, activity=a, mode=mode, ground=ground))
        self._take_away(ground, sorted(standing - keep), crew)
        if follow is None or self._ground(follow) != ground:
            self._walk_out()

    def _is_tight(self, a: int, follow: int) -> bool:
        return any(x.most is not None and (x.first, x.second) == (a, follow) for x in self.problem.lags)

    def _containers(self, mode: Mode) -> list[int]:
        return [m for m, count in mode.uses for _ in range(count)]

    def _fetch(self, ground: int, kit: list[int], material: list[int], crew: tuple[int, ...]) -> None:
        """Carry kit and material in, as many times as the load limit makes it, and set the kit up."""
        g = self.problem.grounds[ground]
        if g.slots:
            items = [(self.problem.kit[k].load // self.problem.kit[k].lift, k, True) for k in kit]
            items += [(self.problem.materials[m].load, m, False) for m in material]
            legs = _armfuls(items, g.limit) or [[]]
            pairs = max([self.problem.kit[k].lift for k in kit], default=1)
            team = self._team(crew, pairs)
            if self.site.inside is not None and (kit or material or self.site.inside[1] != team):
                self._walk_out()
            for n, leg in enumerate(legs):
                if self.site.inside is None:
                    self._walk_in(ground, team, leg)
                if n + 1 < len(legs):
                    self._walk_out()
        for k in kit:
            minutes = self.problem.chore_minutes(ground, k)[0]
            hands = self._team(crew, self.problem.chore_hands(ground, k))[: self.problem.chore_hands(ground, k)]
            self._add(Duty("set up", hands, minutes, kit=k, ground=ground))
            self.site.standing[ground].add(k)

    def _team(self, crew: tuple[int, ...], size: int) -> tuple[int, ...]:
        more = [h for h in self.riders if h not in crew]
        return crew + tuple(more[: max(0, size - len(crew))])

    def _take_away(self, ground: int, kit: list[int], crew: tuple[int, ...]) -> None:
        """Pack kit down and carry it out."""
        if not kit:
            return
        g = self.problem.grounds[ground]
        for k in kit:
            minutes = self.problem.chore_minutes(ground, k)[1]
            size = self.problem.chore_hands(ground, k)
            self._add(Duty("pack down", self._team(crew, size)[:size], minutes, kit=k, ground=ground))
            self.site.standing[ground].discard(k)
        if g.slots:
            items = [(self.problem.kit[k].load // self.problem.kit[k].lift, k, True) for k in kit]
            pairs = max(self.problem.kit[k].lift for k in kit)
            team = self._team(crew, pairs)
            if self.site.inside is not None and self.site.inside[1] != team:
                self._walk_out()
            for leg in _armfuls(items, g.limit):
                if self.site.inside is None:
                    self._walk_in(ground, team, [])
                self._walk_out(leg)

    def _walk_in(self, ground: int, team: tuple[int, ...], leg: list[tuple[int, int, bool]]) -> None:
        self.site.inside = (ground, team)
        walk = self.problem.grounds[ground].walk
        self._add(Duty("walk in", team, walk, ground=ground, load=self._loads(leg)))

    def _walk_out(self, leg: list[tuple[int, int, bool]] | None = None) -> None:
        if self.site.inside is not None:
            ground, team = self.site.inside
            walk = self.problem.grounds[ground].walk
            self._add(Duty("walk out", team, walk, ground=ground, load=self._loads(leg or [])))
            self.site.inside = None

    def _loads(self, leg: list[tuple[int, int, bool]]) -> tuple[Carried, ...]:
        kit = [n for _, n, is_kit in leg if is_kit]
        found = [Carried(self.index.kit[k], share=1.0 / self.problem.kit[k].lift) for k in kit]
        counts: dict[int, int] = {}
        for _, n, is_kit in leg:
            if not is_kit:
                counts[n] = counts.get(n, 0) + 1
        return (*found, *(Carried(self.index.materials[m], c, is_material=True) for m, c in counts.items()))

    # --- when -----------------------------------------------------------------------------------------------------

    def _time(self, *, with_rest: bool) -> bool:
        """Earliest times for the duties in their order; a most that is broken begins its first stage later."""
        not_before: dict[int, int] = {}
        for _ in range(MOST_SHIFTS):
            self._pass_forward(not_before, with_rest=with_rest)
            ends = {d.activity: d.end for d in self.duties if d.activity is not None}
            starts = {d.activity: d.start for d in self.duties if d.activity is not None}
            late = False
            for lag in self.problem.lags:
                if lag.first in starts and lag.second in starts:
                    origin = starts[lag.first] if lag.from_start else ends[lag.first]
                    most = _bounds(lag.least, lag.most, lag.steps, origin)[1]
                    if most is not None and starts[lag.second] > origin + most:
                        shift = starts[lag.second] - most - origin
                        not_before[lag.first] = starts[lag.first] + shift
                        late = True
            if not late:
                return all(d.end <= LAST_MINUTE for d in self.duties)
        return False

    def _pass_forward(self, not_before: dict[int, int], *, with_rest: bool) -> None:
        opens = self.problem.opens
        first = self.duties[0]
        job = self.problem.jobs[first.job or 0]
        if job.arrive is not None and not self.problem.fixed_start:
            opens = max(opens, job.arrive[0] - first.minutes)
        now = opens
        self.rest = None
        done: dict[int, Duty] = {}
        for n, duty in enumerate(self.duties):
            start = self._earliest(duty, now, not_before, done)
            if with_rest and self.rest is None and duty.what != "drive":
                after = self.duties[n + 1]
                busy = duty.minutes + (after.minutes if after.what == "drive" else 0)
                start = self._rest_before(start + busy, now, start, opens)
                start = self._earliest(duty, start, not_before, done)
            duty.start = start
            now = duty.end
            if duty.activity is not None:
                done[duty.activity] = duty

    def _earliest(self, duty: Duty, now: int, not_before: dict[int, int], done: dict[int, Duty]) -> int:
        if duty.what == "drive" and duty.job is not None:
            arrive = self.problem.jobs[duty.job].arrive
            return now if arrive is None else max(now, arrive[0] - duty.minutes)
        if duty.activity is None:
            return now
        activity = self.problem.activities[duty.activity]
        start = max(now, not_before.get(duty.activity, 0), activity.earliest, activity.start or 0)
        for lag in self.problem.lags:
            if lag.second == duty.activity and lag.first in done:
                origin = done[lag.first].start if lag.from_start else done[lag.first].end
                start = max(start, origin + (_bounds(lag.least, lag.most, lag.steps, origin)[0] or 0))
        for shut_from, shut_to in sorted(activity.shut):
            if start < shut_to and start + duty.minutes > shut_from:
                start = shut_to
        return start

    def _rest_before(self, busy_until: int, now: int, start: int, opens: int) -> int:
        """Rest in an idle stretch if there is one in time, else before the duty that would make it too late."""
        rests = [self.problem.hands[h].rest for h in self.riders]
        length = max(r.length for r in rests if r is not None)
        soonest = max(opens + r.soonest for r in rests if r is not None)
        latest = min(opens + r.once_over for r in rests if r is not None)
        begin = max(now, soonest)
        if begin + length <= start or busy_until > latest:
            self.rest = (begin, length)
            return max(start, begin + length)
        return start

    # --- as a plan ------------------------------------------------------------------------------------------------

    def _read(self) -> Plan:
        drives = [d for d in self.duties if d.what == "drive"]
        jobs = [d.job for d in drives if d.job is not None]
        places = [
            self.day.van.starts_at,
            *(self.day.jobs[self.index.jobs[j]].place for j in jobs),
            self.day.van.ends_at,
        ]
        visits = [
            Visit(self.index.jobs[job], 1, into.end, out.start)
            for job, into, out in zip(jobs, drives, drives[1:], strict=False)
        ]
        crossings = tuple(self._crossings())
        stays, chores, named = self._stays()
        rests = () if self.rest is None else tuple(self._rests(*self.rest))
        return Plan(
            drives=tuple(Drive(a, b, d.start, d.end) for a, b, d in zip(places, places[1:], drives, strict=False)),
            visits=tuple(visits),
            works=tuple(self._works(named)),
            crossings=crossings,
            stays=tuple(stays),
            chores=(*chores, *self._protection()),
            rests=rests,
        )

    def _names(self, hands: tuple[int, ...]) -> tuple[str, ...]:
        return tuple(self.index.hands[h] for h in hands)

    def _rests(self, begin: int, length: int) -> Iterator[Rest]:
        for h in self.riders:
            if self.problem.hands[h].rest is not None:
                yield Rest(self.index.hands[h], begin, begin + length)

    def _crossings(self) -> Iterator[Crossing]:
        into: Duty | None = None
        for duty in self.duties:
            if duty.what == "walk in":
                into = duty
            elif duty.what == "walk out" and into is not None:
                job, ground = self.index.grounds[into.ground or 0]
                for n, h in enumerate(into.hands):
                    carried_in, carried_out = (
                        tuple(c for c in load if n == 0 or (c.share < 1 and n < round(1 / c.share)))
                        for load in (into.load, duty.load)
                    )
                    yield Crossing(job, 1, ground, self.index.hands[h], into.start, duty.end, carried_in, carried_out)

    def _stays(self) -> tuple[list[Stay], list[Chore], dict[tuple[int, int, int], int]]:
        """Stays and their chores, and which stay (ground, kit, minute) -> number each stage finds."""
        stays, chores = [], []
        counts: dict[tuple[int, int], int] = {}
        standing: dict[tuple[int, int], tuple[int, int]] = {}
        named: dict[tuple[int, int, int], int] = {}
        for n, duty in enumerate(self.duties):
            if duty.kit is None or duty.ground is None:
                continue
            at = (duty.ground, duty.kit)
            job, ground = self.index.grounds[duty.ground]
            slots = self.problem.grounds[duty.ground].slots
            if duty.what == "set up":
                counts[at] = counts.get(at, 0) + 1
                standing[at] = (self._came(n, duty) if slots else duty.start, counts[at])
            else:
                came, number = standing.pop(at)
                left = self._left(n, duty) if slots else duty.end
                stays.append(Stay(job, ground, self.index.kit[duty.kit], number, 1, 1, came, left))
                for other in self.duties:
                    if other.activity is not None and other.ground == duty.ground and came <= other.start <= left:
                        named[duty.ground, duty.kit, other.activity] = number
            if duty.minutes:
                chores.append(self._chore(duty, counts[at]))
        return stays, chores, named

    def _came(self, n: int, duty: Duty) -> int:
        """When the in-leg that carried a kit ended."""
        name = self.index.kit[duty.kit or 0]
        for before in reversed(self.duties[:n]):
            if before.what == "walk in" and before.ground == duty.ground and any(c.what == name for c in before.load):
                return before.end
        return duty.start

    def _left(self, n: int, duty: Duty) -> int:
        """When the out-leg that carried a kit began."""
        name = self.index.kit[duty.kit or 0]
        for later in self.duties[n:]:
            if later.what == "walk out" and later.ground == duty.ground and any(c.what == name for c in later.load):
                return later.start
        return duty.end

    def _works(self, named: dict[tuple[int, int, int], int]) -> Iterator[Work]:
        for d in self.duties:
            if d.activity is not None and d.mode is not None and d.ground is not None:
                job, stage = self.index.stages[d.activity]
                stays = tuple((self.index.kit[k], named[d.ground, k, d.activity]) for k in d.mode.kit)
                yield Work(job, stage, d.mode.name, self._names(d.hands), 1, d.start, d.end, stays)

    def _protection(self) -> Iterator[Chore]:
        for duty in self.duties:
            if duty.what in ("lay", "lift") and duty.minutes:
                yield self._chore(duty, None)

    def _chore(self, duty: Duty, stay: int | None) -> Chore:
        assert duty.what in ("set up", "pack down", "lay", "lift")
        job, ground = self.index.grounds[duty.ground or 0]
        kit = None if duty.kit is None else self.index.kit[duty.kit]
        return Chore(duty.what, job, 1, ground, self._names(duty.hands), duty.start, duty.end, kit, stay)


def _armfuls(items: list[tuple[int, int, bool]], limit: int) -> list[list[tuple[int, int, bool]]]:
    """Items in their order, as many a leg as the limit allows."""
    legs: list[list[tuple[int, int, bool]]] = []
    for item in items:
        if legs and sum(load for load, _, _ in legs[-1]) + item[0] <= limit:
            legs[-1].append(item)
        else:
            legs.append([item])
    return legs


def _bounds(
    least: int | None, most: int | None, steps: tuple[tuple[int, int, int | None], ...], origin: int
) -> tuple[int | None, int | None]:
    for since, step_least, step_most in steps:
        if origin >= since:
            least, most = step_least, step_most
    return least, most


def checked_serial_plan(day: Day, problem: Problem) -> Plan | None:
    """The serial plan where it passes the checker: that simple way of working does not always do."""
    plan = serial_plan(day, problem)
    return plan if plan is not None and not broken_rules(day, plan) else None


def serial_plan(day: Day, problem: Problem) -> Plan | None:
    """The serial plan: kit fetched when it is needed, or early where a wait would otherwise run over."""
    for early in (False, True):
        plan = Serial(day, problem, early=early).plan()
        if plan is not None:
            return plan
    return None
