"""What a careful person does one after another: kit in, the stage, kit out unless the very next stage needs it."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from planner.day import Day
from planner.engine.bearing import strain, wheels_for
from planner.engine.index import Index
from planner.engine.problem import DrawnTogether, Leaving, Mode, Problem
from planner.engine.serial.careful_order import modes_in_time
from planner.plan.plan import Carried


@dataclass
class Duty:
    """One thing that hands do, in the order it is done."""

    what: Literal["drive", "stage", "set up", "pack down", "lay", "lift", "walk in", "walk out", "arrive", "leave"]
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
    """Where things are while the order is written down; for ``brought_for`` material was brought early.

    ``done`` are the stages so far, each with the number of its mode; ``opened`` are the containers that stages share.
    """

    standing: dict[int, set[int]] = field(default_factory=dict)
    inside: tuple[int, tuple[int, ...]] | None = None
    brought_for: set[int] = field(default_factory=set)
    done: dict[int, int] = field(default_factory=dict)
    opened: set[DrawnTogether] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class _Item:
    """One thing to carry: what it weighs in the arms of the first hand, and what is written of it."""

    load: int
    mass: int
    carried: Carried


class Writing:
    """Writes the duties of a day in the order in which they are done."""

    def __init__(self, day: Day, problem: Problem, *, early: bool) -> None:
        self.problem, self.index = problem, Index.of(day)
        self.early = early
        self.riders, self.all = riders(problem), everybody(problem)
        self.modes = modes_in_time(problem)
        self.duties: list[Duty] = []
        self.site = _Site()

    def write(self, order: Sequence[tuple[int, list[int]]]) -> list[Duty]:
        """All of them, with no times yet, for the jobs and their stages in this order."""
        where: int | None = None
        for job, stages in order:
            self._drive(where, job)
            if self.problem.jobs[job].arriving:
                self._add(Duty("arrive", self.riders, self.problem.jobs[job].arriving, job=job))
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
            if self.problem.jobs[job].leaving:
                self._add(Duty("leave", self.riders, self.problem.jobs[job].leaving, job=job))
            where = job
        self._drive(where, None)
        return self.duties

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
        """Who does a stage: the hand it is given to, then all others in their order."""
        given = self.problem.activities[a].hand
        crew = [] if given is None else [given]
        crew += [h for h in self.all if h != given]
        return tuple(crew[: mode.hands])

    def _stage(self, a: int, later: list[int]) -> None:
        """Fetch what a stage needs, do it, and take away what the next one does not need."""
        mode, ground = self.modes[a], self._ground(a)
        crew = self._crew(a, mode)
        follow = later[0] if later else None
        keep: set[int] = set()
        if follow is not None and self._ground(follow) == ground:
            keep = set(self.modes[follow].kit)
            if self.problem.activities[a].is_section:  # its kit is set up once for all sections
                others = [x for x in later if self._ground(x) == ground and self.problem.activities[x].is_section]
                keep |= {k for other in others for k in self.modes[other].kit}
        standing = self.site.standing.setdefault(ground, set())
        wanted = [k for k in mode.kit if k not in standing]
        material = [] if a in self.site.brought_for else self._brought_for(a)
        if self.early:
            for x in self._hurried(a, later):
                then = self.modes[x]
                keep |= set(then.kit)
                wanted += [k for k in then.kit if k not in standing and k not in wanted]
                material += [] if x in self.site.brought_for else self._brought_for(x)
                self.site.brought_for.add(x)
        if self.problem.activities[a].wants_water:
            kit, cans = self._water_for(ground, standing | set(wanted), [a, *later])
            wanted, material = [*wanted, *kit], [*material, *cans]
        keep |= {k for k in standing | set(wanted) if self.problem.kit[k].water and self._is_used(k, ground, later)}
        self._fetch(ground, wanted, material, crew)
        self._add(Duty("stage", crew, mode.minutes, activity=a, mode=mode, ground=ground))
        self.site.done[a] = self.problem.activities[a].modes.index(mode)
        if not (self.early and self._hurried(a, later)):  # there is time for that when the hurry is over
            keep -= {k for k in keep if self._must_be_rinsed(k, a, later)}
            is_last = all(self._ground(x) != ground for x in later)
            keep |= set() if is_last else self._covering(ground, later)
            self._take_away(ground, sorted(standing - keep), self._leavings(ground) if is_last else [], crew)
        if follow is None or self._ground(follow) != ground:
            self._walk_out()

    def _is_used(self, k: int, ground: int, later: list[int]) -> bool:
        return any(self._ground(x) == ground and k in self.modes[x].kit for x in later)

    def _water_for(self, ground: int, there: set[int], stages: list[int]) -> tuple[list[int], list[int]]:
        """The kit, or the cans, that bring water to a ground first, where none is there yet."""
        if any(self.problem.kit[k].water for k in there):
            return [], []
        for x in stages:
            if self._ground(x) != ground:
                continue
            cans = [m for m in self._containers(self.modes[x]) if self.problem.materials[m].water]
            if cans and (x in self.site.brought_for or x == stages[0]):
                return [], []
            if cans:
                self.site.brought_for.add(x)
                return [], self._brought_for(x)
            if kit := [k for k in self.modes[x].kit if self.problem.kit[k].water]:
                return kit, []
        return [], []

    def _must_be_rinsed(self, k: int, a: int, later: list[int]) -> bool:
        """Whether kit that a stage used is next filled with another chemical on that ground."""
        if not self.problem.kit[k].of_one_chemical or k not in self.modes[a].kit:
            return False
        users = (x for x in later if self._ground(x) == self._ground(a) and k in self.modes[x].kit)
        chemical = self.problem.activities[a].chemical
        return self.problem.activities[next(users, a)].chemical != chemical

    def _hurried(self, a: int, later: list[int]) -> list[int]:
        """The stages on the same ground that come straight after, up to the last that a most lets wait no longer.

        A most from any of them on counts: of sections, those of others come in between.
        """
        last, n = 0, 0
        while n <= last:
            first = later[n - 1] if n else a
            last = max([last, *(m for m, x in enumerate(later, start=1) if self._is_tight(first, x))])
            n += 1
        found = later[:last]
        elsewhere = (m for m, x in enumerate(found) if self._ground(x) != self._ground(a))
        return found[: next(elsewhere, last)]

    def _covering(self, ground: int, later: list[int]) -> set[int]:
        """The kit on a ground that covers for a stage still to come; it was put there before."""
        done = {duty.activity for duty in self.duties}
        return {
            k
            for kept in self.problem.kept
            if kept.ground == ground and not set(later).isdisjoint(kept.until)
            for k in self.modes[kept.activity].kit
            if kept.activity in done or kept.activity not in later
        }

    def _is_tight(self, a: int, follow: int) -> bool:
        return any(x.most is not None and (x.first, x.second) == (a, follow) for x in self.problem.lags)

    def _brought_for(self, a: int) -> list[int]:
        """The containers to bring for a stage, with all of what it shares unless that is there."""
        sharing = [x for x in self.problem.shared if a in x.activities]
        found = [m for m in self._containers(self.modes[a]) if all(m != x.material for x in sharing)]
        for x in sharing:
            if x not in self.site.opened:
                self.site.opened.add(x)
                found += [m for m in self._containers(self.modes[x.sure[0]]) if m == x.material]
        return found

    def _containers(self, mode: Mode) -> list[int]:
        return [m for m, count in mode.uses for _ in range(count)]

    def _fetch(self, ground: int, kit: list[int], material: list[int], crew: tuple[int, ...]) -> None:
        """Carry kit and material in, as many times as the load limit makes it, and set the kit up."""
        g = self.problem.grounds[ground]
        if g.slots:
            pairs = max([self.problem.kit[k].lift for k in kit], default=1)
            team = self._team(crew, pairs)
            items = [self._piece(k, team) for k in kit]
            for m in material:
                container = Carried(self.index.materials[m], is_material=True)
                items.append(_Item(self.problem.materials[m].load, self.problem.materials[m].mass, container))
            legs = self._armfuls(items, ground, team) or [[]]
            if self.site.inside is not None and (kit or material or self.site.inside[1] != team):
                self._walk_out()
            for n, leg in enumerate(legs):
                if self.site.inside is None:
                    self._walk_in(ground, team, leg)
                if n + 1 < len(legs):
                    self._walk_out()
        for k in sorted(kit, key=self._depth):
            minutes = self.problem.chore_minutes(ground, k)[0]
            hands = self._team(crew, self.problem.chore_hands(ground, k))[: self.problem.chore_hands(ground, k)]
            self._add(Duty("set up", hands, minutes, kit=k, ground=ground))
            self.site.standing[ground].add(k)

    def _depth(self, k: int) -> int:
        """How many must be set up before a piece of kit, one after the other: a hose, then the washer."""
        return max((1 + self._depth(other) for other in self.problem.kit[k].needs), default=0)

    def _team(self, crew: tuple[int, ...], size: int) -> tuple[int, ...]:
        """The crew, and as many more as it takes to carry together; who lifts most carries what one hand can."""
        more = [h for h in self.all if h not in crew]
        return tuple(
            sorted(crew + tuple(more[: max(0, size - len(crew))]), key=lambda h: -(self.problem.hands[h].lifts or 0))
        )

    def _piece(self, k: int, team: tuple[int, ...]) -> _Item:
        """A piece of kit, as the first of the team bears it."""
        kit = self.problem.kit[k]
        mass = strain(self.problem, team[: kit.lift], team[0], kit.mass)
        return _Item(-(-kit.load // kit.lift), mass, Carried(self.index.kit[k], share=1.0 / kit.lift))

    def _leavings(self, ground: int) -> list[Leaving]:
        """What goes out of a ground on which all is done."""
        return [
            x
            for x in self.problem.leaving
            if x.ground == ground and all(self.site.done.get(a, -1) in (modes or (-1,)) for a, modes in x.when)
        ]

    def _take_away(self, ground: int, kit: list[int], leavings: list[Leaving], crew: tuple[int, ...]) -> None:
        """Pack kit down and carry it out, with what else goes out again."""
        if not kit and not leavings:
            return
        g = self.problem.grounds[ground]
        for k in kit:
            minutes = self.problem.chore_minutes(ground, k)[1]
            size = self.problem.chore_hands(ground, k)
            self._add(Duty("pack down", self._team(crew, size)[:size], minutes, kit=k, ground=ground))
            self.site.standing[ground].discard(k)
        if g.slots:
            pairs = max([self.problem.kit[k].lift for k in kit], default=1)
            team = self._team(crew, pairs)
            items = [self._piece(k, team) for k in kit]
            for x in leavings:
                container = Carried(self.index.materials[x.material], is_material=True, rest=x.rest)
                items += [_Item(x.load, x.mass, container)] * x.count
            if self.site.inside is not None and self.site.inside[1] != team:
                self._walk_out()
            for leg in self._armfuls(items, ground, team):
                if self.site.inside is None:
                    self._walk_in(ground, team, [])
                self._walk_out(leg)

    def _walk_in(self, ground: int, team: tuple[int, ...], leg: list[_Item]) -> None:
        self.site.inside = (ground, team)
        walk = self.problem.grounds[ground].walk
        self._add(Duty("walk in", team, walk, ground=ground, load=_together(leg)))

    def _walk_out(self, leg: list[_Item] | None = None) -> None:
        if self.site.inside is not None:
            ground, team = self.site.inside
            walk = self.problem.grounds[ground].walk
            self._add(Duty("walk out", team, walk, ground=ground, load=_together(leg or [])))
            self.site.inside = None

    def _armfuls(self, items: Sequence[_Item], ground: int, team: tuple[int, ...]) -> list[list[_Item]]:
        """Items in their order, as many a leg as the way and the first of the team allow, or a sack truck."""
        limit, lifts = self.problem.grounds[ground].limit, self.problem.hands[team[0]].lifts
        truck = wheels_for(self.problem, ground)
        if truck is not None:
            limit = max(limit, self.problem.kit[truck].wheels_load)
            lifts = None if lifts is None else max(lifts, self.problem.kit[truck].wheels)
        legs: list[list[_Item]] = []
        for item in items:
            leg = [*legs[-1], item] if legs else []
            is_light = lifts is None or sum(x.mass for x in leg) <= lifts
            if leg and is_light and sum(x.load for x in leg) <= limit:
                legs[-1].append(item)
            else:
                legs.append([item])
        return legs


def _together(leg: Sequence[_Item]) -> tuple[Carried, ...]:
    """What a leg carries, like things counted together."""
    counts: dict[Carried, int] = {}
    for item in leg:
        counts[item.carried] = counts.get(item.carried, 0) + 1
    return tuple(replace(one, count=count) for one, count in counts.items())


def riders(problem: Problem) -> tuple[int, ...]:
    """The hands who ride in the van."""
    return tuple(h for h, hand in enumerate(problem.hands) if hand.rides)


def everybody(problem: Problem) -> tuple[int, ...]:
    """All hands, those who ride in the van first."""
    return tuple(sorted(range(len(problem.hands)), key=lambda h: not problem.hands[h].rides))
