"""What the exact search reads of fresh and finished work, dust and water, sheets, people below and the weather.

Written apart from the engine and the checker, for `tests.engine.bruteforce`, which asks it at each minute. What a rule
asks of the past is in the state of the stages: not begun, running, over for so many minutes or for longer than matters.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import permutations

from planner.day import Day, Job, Stage
from planner.day.jobs import Part
from planner.trade.weather import HourOfWeather

WAITING, RUNNING, SETTLED = -1, -2, -3

SUN = 10.0
"""C by which a surface in the sun is warmer than the air."""


def apart(one: Part | None, other: Part | None) -> bool:
    """Whether two sections of one surface, cut as often or not, have no small piece of it in common; pieces of what
    was begun are told by their numbers."""
    if one is None or other is None or one.number == other.number:
        return False
    pieces = [set(range((a.number - 1) * b.count, a.number * b.count)) for a, b in ((one, other), (other, one))]
    return one.own or other.own or not pieces[0] & pieces[1]


PUT_ON = [["treat"], ["seal"], ["oil"], ["paint"], ["varnish"], ["coat"], ["stain"]]


class FreshReading:
    """The rules of one day, its stages named by their numbers and its grounds by (job, ground)."""

    def __init__(self, day: Day, stages: Sequence[tuple[str, str, Stage]]) -> None:
        self.day, self.stages = day, stages
        self.number = {(j, s): i for i, (j, s, _) in enumerate(stages)}
        self.below = {j: all_below(job) for j, job in day.jobs.items()}
        self.later = {j: _later(job) for j, job in day.jobs.items()}
        pairs = [(x, y) for x, y in permutations(range(len(stages)), 2) if stages[x][0] == stages[y][0]]
        self.harms = {(x, y) for x, y in pairs if self._harm(x, stages[y][2].spoiled_while_fresh_by, y)}
        self.beside = {(x, y) for x, y in pairs if self._is_beside(x, y)}
        self.spoils = {(x, y) for x, y in pairs if self._harm(x, frozenset(stages[y][2].spoiled_by), y)}
        self.laid = {i for i, (_, _, s) in enumerate(stages) if s.kind.split()[:1] in PUT_ON}
        self.spoils |= {(x, y) for x, y in pairs if self._comes_down_on(x, y)}
        self.on_what_is_laid = {frozenset((x, y)) for x, y in pairs if self._harm(x, self._meanwhile(y), y)}
        self.treads = {(x, y) for x, y in pairs if self._treads(x, y)}
        self.apart = {frozenset(pair) for pair in pairs if self._within_reach(*pair)} | self.on_what_is_laid
        self.seen_to = {x: set(self._seen_to_below(x)) for x in range(len(stages)) if len(day.hands) > 1}
        self.dust_first = {(f, w) for w in range(len(stages)) for f in self._dust_before(w)}
        self.soils = [(m, group) for m in range(len(stages)) for group in self._soiled(m)]
        self.held = {c: until for c in range(len(stages)) if (until := self._held(c))}
        self.wetted = {(x, y) for x, y in pairs if self._wets_what_is_dry(x, y)}
        self.under = {c: under for c in range(len(stages)) if (under := self._lies_on(c))}
        self.spells = [(x, y) for x, y in pairs if self._is_layer(x, y)]
        self.drains = {(x, y) for x, y in pairs if self._runs_into(x, y)}
        self.slips = [self._slips(y) for y in range(len(stages))]
        self.ladders_on_fresh = {y: set(self._ladders_on_fresh(y)) for y in range(len(stages))}
        self.cleared_of = {x: set(self._cleared_of(x)) for x in range(len(stages))}
        self.slippery_feet = {y: self._leaves_slippery(y) for y in range(len(stages))}
        self.hours = list(day.weather)

    # --- who reaches whom -----------------------------------------------------------------------------------

    def _job(self, i: int) -> Job:
        return self.day.jobs[self.stages[i][0]]

    def _harm(self, x: int, by: frozenset[str], y: int) -> bool:
        j, _, maker = self.stages[x]
        here = self.stages[y][2].surface
        if here in maker.spares:
            return False
        for made in maker.nuisances & by:
            falls = made in ("spray", "water", "dirt") and here in self.below[j][maker.surface]
            surfaces = self._job(x).surfaces
            travels = made != "water" and surfaces[here].ground == surfaces[maker.surface].ground
            if here == maker.surface or falls or travels:
                return True
        return False

    def _meanwhile(self, y: int) -> frozenset[str]:
        """What must not come to a stage while it goes on."""
        stage = self.stages[y][2]
        if y in self.laid:
            return frozenset({"dust", "spray"})
        is_dry = stage.kind.startswith("sweep") or "dust" in stage.nuisances
        return frozenset({"spray", "water"}) if is_dry else frozenset()

    def _comes_down_on(self, x: int, y: int) -> bool:
        """Whether something runs or falls from above onto what a stage puts on."""
        j, _, maker = self.stages[x]
        put = self.stages[y][2]
        is_below = put.surface in self.below[j][maker.surface] and put.surface not in maker.spares
        return (y in self.laid or bool(put.chemical)) and is_below and not maker.nuisances.isdisjoint(
            {"spray", "water", "dirt"}
        )

    def _is_beside(self, x: int, y: int) -> bool:
        """Whether two stages are at work on different sections of one surface: the other is not worked."""
        one, other = self.stages[x][2], self.stages[y][2]
        return one.surface == other.surface and apart(one.part, other.part)

    def _trodden(self, x: int) -> set[str]:
        """What is stood on or gone over for a stage."""
        surfaces = self._job(x).surfaces
        own = self.stages[x][2].surface
        found = {own} if surfaces[own].stood_on else set()
        more = {*surfaces[own].worked_from, *surfaces[own].over, *self.stages[x][2].lies_on}
        while more:
            found |= more
            more = {over for key in found for over in surfaces[key].over} - found
        return found

    def _treads(self, x: int, fresh: int) -> bool:
        surface = self.stages[fresh][2].surface
        by_feet = "feet" in self.stages[fresh][2].spoiled_while_fresh_by
        j, s, _ = self.stages[x]
        ground = j, self._job(x).ground_of(s)
        walks = self.day.jobs[j].grounds[ground[1]].way_in.is_open and ground in self.ways_over(fresh)
        return by_feet and self.stages[x][2].surface != surface and (walks or surface in self._trodden(x))

    def ways_over(self, fresh: int) -> set[tuple[str, str]]:
        """The grounds whose way in goes over what a stage leaves fresh, if feet spoil it."""
        j, _, stage = self.stages[fresh]
        if "feet" not in stage.spoiled_while_fresh_by:
            return set()
        found = set()
        for g, ground in self._job(fresh).grounds.items():
            over = set(ground.way_in.over)
            while more := {x for key in over for x in self._job(fresh).surfaces[key].over} - over:
                over |= more
            if stage.surface in over:
                found.add((j, g))
        return found

    def _runs_into(self, maker: int, wetting: int) -> bool:
        """Whether what a stage makes runs onto what another wets for what is laid there."""
        j, w, stage = self.stages[wetting]
        _, m, above = self.stages[maker]
        is_below = stage.surface in self.below[j][above.surface] and stage.surface not in above.spares
        return stage.kind.startswith("wet") and above.wets and is_below and m not in self.later[j][w]

    def _slips(self, wet: int) -> set[tuple[str, str]]:
        """The grounds whose way in goes over what a stage wets, where the day has ladders."""
        j, _, stage = self.stages[wet]
        puts_on = bool(stage.chemical) or wet in self.laid
        if not any("ladder" in kit.tags for kit in self.day.kit.values()) or not (stage.wets or puts_on):
            return set()
        wetted = ({stage.surface} | (self.below[j][stage.surface] if stage.wets else set())) - set(stage.spares)
        found = set()
        for g, ground in self._job(wet).grounds.items():
            over = set(ground.way_in.over)
            while more := {x for key in over for x in self._job(wet).surfaces[key].over} - over:
                over |= more
            if over & wetted:
                found.add((j, g))
        return found

    def is_slippery(self, stages: Sequence[int], ground: tuple[str, str]) -> bool:
        """Whether no ladder may be carried to or from a ground now."""
        return any(stages[y] == RUNNING or 0 <= stages[y] < 60 for y, ways in enumerate(self.slips) if ground in ways)

    def _climbs(self, stage: Stage) -> bool:
        """Whether a ladder is in it: the stage says so, or one of its methods takes one."""
        kit = {k for method in stage.methods.values() for k in self.day.kit_closure(method.kit)}
        return "ladder" in stage.tags or any("ladder" in self.day.kit[k].tags for k in kit)

    def _within_reach(self, above: int, other: int) -> bool:
        j, _, stage = self.stages[above]
        puts_on = bool(stage.chemical) or above in self.laid
        own = self._job(above).surfaces[stage.surface]
        flies = stage.kind.split()[:1] in (["grind"], ["cut"]) or ("dust" in stage.nuisances and not own.stood_on)
        if not (self._climbs(stage) or puts_on or flies or stage.nuisances & {"spray", "dirt"}):
            return False
        reach = {stage.surface, *own.worked_from} | self.below[j][stage.surface]
        if own.high:
            others = self._job(above).surfaces.items()
            reach |= {key for key, other in others if other.high and other.ground == own.ground}
        return bool(reach & (self._trodden(other) | {self.stages[other][2].surface}))

    def _seen_to_below(self, above: int) -> Iterator[tuple[tuple[str, str], str]]:
        """Kit, by its ground and key, that has no place out of reach of a stage: whatever it is for is within reach.

        What is worked on that same paving leaves the place at its edge, unless there is a ladder on it.
        """
        j, _, stage = self.stages[above]
        job = self._job(above)
        edge = job.surfaces[stage.surface].stood_on and not self._climbs(stage)
        for g in job.grounds:
            for k in self.day.kit:
                users = [y for y in range(len(self.stages)) if self._takes(y, (j, g), k)]
                beside = any(edge and self.stages[y][2].surface == stage.surface for y in users)
                if users and not beside and all(self._within_reach(above, y) for y in users):
                    yield (j, g), k

    def _cleared_of(self, x: int) -> Iterator[tuple[tuple[str, str], str]]:
        """The ladders, by ground and key, that for all they are for on that ground stand where a stage is done."""
        yield from self._out_of_the_wet(x)
        j, _, stage = self.stages[x]
        wet = stage.chemical or x in self.laid or stage.nuisances & {"spray", "water"} or stage.spoiled_while_fresh_by
        if not (wet and self._job(x).surfaces[stage.surface].stood_on):
            return
        for k, kit in self.day.kit.items():
            if "ladder" in kit.tags and kit.set_up and kit.pack_down:
                for g in self._job(x).grounds:
                    users = [y for y in range(len(self.stages)) if self._takes(y, (j, g), k)]
                    mine = any(self._takes(x, (j, g), k) for g in self._job(x).grounds)
                    if users and not mine and all(stage.surface in self._feet_of_ladder(y) for y in users):
                        yield (j, g), k

    def is_slippery_to_stand_on(self, stages: Sequence[int], ground: tuple[str, str], kit: str) -> bool:
        """Whether a ladder would be put up on what was wetted, or coated, less than an hour ago."""
        return any(0 <= stages[y] < 60 and (ground, kit) in some for y, some in self.slippery_feet.items())

    def _leaves_slippery(self, y: int) -> set[tuple[tuple[str, str], str]]:
        stage = self.stages[y][2]
        if not (stage.chemical or y in self.laid or stage.nuisances & {"spray", "water"}):
            return set()
        return {(g, k) for g, k in self.cleared_of[y] if "ladder" in self.day.kit[k].tags}

    def _out_of_the_wet(self, x: int) -> Iterator[tuple[tuple[str, str], str]]:
        """Kit that must be kept dry and has no place on its ground but where a stage wets what is there."""
        j, _, stage = self.stages[x]
        wet = {stage.surface} | self.below[j][stage.surface]
        for k, kit in self.day.kit.items() if stage.wets else ():
            for g in self._job(x).grounds if "kept-dry" in kit.tags and kit.set_up and kit.pack_down else ():
                users = [y for y in range(len(self.stages)) if self._takes(y, (j, g), k)]
                near = [self._feet_of_ladder(y) | {self.stages[y][2].surface} for y in users]
                if users and x not in users and all(places & wet for places in near):
                    yield (j, g), k

    def ladders_on(self, j: str, surface: str, own: Iterable[int]) -> Iterator[tuple[tuple[str, str], str]]:
        """The ladders of a job, by ground and key, that stand on a surface for all they are for, none of it these."""
        for k, kit in self.day.kit.items():
            if "ladder" in kit.tags and kit.set_up and kit.pack_down:
                for g in self.day.jobs[j].grounds:
                    users = {y for y in range(len(self.stages)) if self._takes(y, (j, g), k)}
                    stands = all(surface in self._feet_of_ladder(y) for y in users)
                    if users and stands and not users & set(own):
                        yield (j, g), k

    def _ladders_on_fresh(self, y: int) -> Iterator[tuple[tuple[str, str], str]]:
        """Those that stand on what a stage leaves fresh, and feet would spoil."""
        j, _, stage = self.stages[y]
        if "feet" in stage.spoiled_while_fresh_by:
            there = [x for x, (k, _, other) in enumerate(self.stages) if k == j and other.surface == stage.surface]
            yield from self.ladders_on(j, stage.surface, there)

    def _feet_of_ladder(self, y: int) -> set[str]:
        j, _, stage = self.stages[y]
        own = self._job(y).surfaces[stage.surface]
        return self._trodden(y) if own.stood_on or own.worked_from else self.below[j][stage.surface]

    def _takes(self, y: int, ground: tuple[str, str], kit: str) -> bool:
        j, s, stage = self.stages[y]
        is_there = (j, self.day.jobs[j].ground_of(s)) == ground
        return is_there and any(kit in self.day.kit_closure(way.kit) for way in stage.methods.values())

    def _dust_before(self, wet: int) -> set[int]:
        """What must be over before a stage may wet a surface whose joints are cut: the cutting and the sweeping."""
        j, w, stage = self.stages[wet]
        found: set[int] = set()
        for g, (k, key, grind) in enumerate(self.stages):
            surface = grind.surface
            if k != j or g == wet or not (grind.grinds and (stage.wets or stage.chemical or wet in self.laid)):
                continue
            falls = {surface} | {s for s in self.below[j][surface] if s not in grind.spares}
            ground = self._job(wet).surfaces[stage.surface].ground
            near = {s for s, o in self._job(wet).surfaces.items() if o.ground == ground and "spray" in stage.nuisances}
            under = self.below[j][stage.surface] if stage.wets else set()
            if not falls & ({stage.surface} | under | near) - set(stage.spares):
                continue
            if key not in self.later[j][w]:
                found.add(g)
                same = [s for s in self.later[j][key] if self._job(g).stages[s].surface == surface]
                found |= {self.number[j, s] for s in same if self._job(g).stages[s].sweeps and s != w}
        return found

    def _soiled(self, maker: int) -> Iterable[set[int]]:
        """For each surface that a stage soils, the stages that clean it, and those that clear it out."""
        j, m, stage = self.stages[maker]
        reached = set[str]()
        dirty = stage.kind.split()[:1] != ["wet"] if stage.soils is None else stage.soils
        if stage.grinds or (dirty and stage.nuisances & {"spray", "water", "dirt"}):
            reached |= self.below[j][stage.surface]
        if stage.grinds:
            surfaces = self._job(maker).surfaces
            reached |= {s for s, o in surfaces.items() if o.ground == surfaces[stage.surface].ground}
        for surface in reached - {stage.surface}:
            there = {s: other for s, other in self._job(maker).stages.items() if other.surface == surface and s != m}
            does = {s: other.kind.split()[0] for s, other in there.items()}
            solid, washing = stage.grinds or "dirt" in stage.nuisances, stage.kind.split()[:1] == ["wash"]
            ways = [{s for s, word in does.items() if word == "wash"}] if solid or washing else []
            ways += [{s for s, word in does.items() if word == "sweep"}] if solid else []
            ways.append({s for s, word in does.items() if word in ("wash", "rinse") or there[s].rinses})
            clean = next((some for some in ways if some), set[str]())
            clear = {s for s, other in there.items() if other.kind.startswith("clear")}
            for group in (clean, clear - {m}):
                if any(m in self.later[j][s] for s in group) or surface in stage.spares:
                    continue
                if group and stage.surface not in self.below[j][surface]:
                    parts = {s: part.number for s in group if (part := self._job(maker).stages[s].part)}
                    for n in set(parts.values()) or {1}:  # each section of it
                        yield {self.number[j, s] for s in group if parts.get(s, n) == n}

    def _held(self, cover: int) -> set[int]:
        j, c, stage = self.stages[cover]
        names = stage.stays_for
        if names is None:
            job = self._job(cover)
            names = tuple(s for s in self.later[j][c] if stage.covers and job.stages[s].surface == stage.surface)
        return {self.number[j, s] for s in names}

    def _lies_on(self, cover: int) -> set[int]:
        """The stages on what the sheets of a stage lie on, but those that they are for."""
        j, _, stage = self.stages[cover]
        others = {y for y, (k, _, other) in enumerate(self.stages) if k == j and other.surface in stage.lies_on}
        return others - self.held.get(cover, set()) - {cover}

    def _wets_what_is_dry(self, wet: int, dry: int) -> bool:
        _, d, stage = self.stages[dry]
        by_its_wait = any(w.before == d and w.kind == "dry" for w in self._job(dry).waits)
        if not stage.dry_for or (by_its_wait and self.stages[wet][2].surface == stage.surface):
            return False
        return self._harm(wet, frozenset({"spray", "water"}), dry)

    def _is_layer(self, x: int, y: int) -> bool:
        _, a, first = self.stages[x]
        _, b, second = self.stages[y]
        straight = a in second.after or any((w.after, w.before) == (a, b) for w in self._job(x).waits)
        both = "rain" in first.spoiled_while_fresh_by and "rain" in second.spoiled_while_fresh_by
        return straight and both and first.surface == second.surface

    # --- what the search asks -------------------------------------------------------------------------------

    def is_fresh(self, stages: Sequence[int], y: int, x: int | None = None) -> bool:
        """Whether what stage y leaves is fresh now, for a stage x that would begin (or for whoever walks)."""
        j, s, stage = self.stages[y]
        state = stages[y]
        if state in (WAITING, RUNNING):
            return state == RUNNING
        if stage.fresh_for is not None:
            return 0 <= state < stage.fresh_for
        waits = [w for w in self._job(y).waits if w.after == s and w.kind != "order"]
        ends = [None if w.before is None else self.number[j, w.before] for w in waits]
        return not ends or any(end is None or (end != x and stages[end] == WAITING) for end in ends)

    def remembers(self, stages: Sequence[int], y: int) -> int:
        """For how many minutes after its end the age of a stage still matters."""
        minutes = max(self.stages[y][2].fresh_for or 0, 60 if self.slips[y] or self.slippery_feet[y] else 0)
        dries = [self.stages[d][2].dry_for for w, d in self.wetted if w == y and stages[d] == WAITING]
        joints = [15 for m, w in self.drains if m == y and stages[w] == WAITING]
        return max([minutes, *dries, *joints])

    def may_start(self, stages: Sequence[int], running: Sequence[int], i: int) -> bool:
        """Whether fresh and finished work, dust, covers and the people who work now let a stage begin."""
        done = [state not in (WAITING, RUNNING) for state in stages]
        for y in range(len(stages)):
            is_shut = stages[y] == RUNNING if (i, y) in self.beside else self.is_fresh(stages, y, i)
            if ((i, y) in self.harms and is_shut) or ((i, y) in self.treads and self.is_fresh(stages, y, i)):
                return False
        if any((x, i) in self.harms or (x, i) in self.treads or frozenset((x, i)) in self.apart for x in running):
            return False
        for wet, dry in self.wetted:
            if dry == i and (stages[wet] == RUNNING or 0 <= stages[wet] < self.stages[i][2].dry_for):
                return False
        for maker, wetting in self.drains:
            if wetting == i and (stages[maker] in (WAITING, RUNNING) or 0 <= stages[maker] < 15):
                return False
            if maker == i and stages[wetting] != WAITING:
                return False
        if any((i, x) in self.wetted for x in running) or self.under.get(i, set()) & set(running):
            return False
        for maker, cleaners in self.soils:
            left = [c for c in cleaners if stages[c] == WAITING and c != i]
            if (maker == i or (i in cleaners and not done[maker])) and not left:
                return False
        if any(w == i and not done[f] for f, w in self.dust_first):
            return False
        return all(done[c] for c, until in self.held.items() if i in until)

    def still_covers(self, stages: Sequence[int], cover: int) -> bool:
        """Whether the kit of a stage that is over must still stay where it was put."""
        return any(stages[u] in (WAITING, RUNNING) for u in self.held.get(cover, ()))

    def rains_on_a_layer(self, stages: Sequence[int], clock: int, minutes: int) -> bool:
        """Whether it rains, in the next minutes, on a layer that is begun and whose cover is not over by then."""
        is_wet = any(a < clock + minutes and clock < b for a, b, hour in self._held_hours() if hour.rain_chance >= 0.5)
        open_layers = (x for x, y in self.spells if stages[x] != WAITING and stages[y] in (WAITING, RUNNING))
        return is_wet and any(True for _ in open_layers)

    def weather_shuts(self, i: int, start: int, end: int) -> bool:
        """Whether a stage cannot take the weather of some minute in which it would run."""
        stage, surface = self.stages[i][2], self._job(i).surfaces[self.stages[i][2].surface]
        stops = stage.stopped_by_rain or "rain" in stage.spoiled_while_fresh_by
        for a, b, hour in self._held_hours():
            warm = hour.air + (SUN if hour.sun and not surface.shaded else 0)
            bad = (stops or stage.dry_for > 0) and hour.rain_chance >= 0.5
            lead, lag = (stage.dry_after, stage.dry_for) if bad else (0, 0)
            bad = bad or (stage.coldest is not None and hour.air < stage.coldest)
            bad = bad or (stage.hottest is not None and warm > stage.hottest)
            windiest = 30 if stage.windiest is None and self._climbs(stage) else stage.windiest
            bad = bad or (windiest is not None and hour.wind > windiest)
            if bad and a - lead < end and start < b + lag:
                return True
        return False

    def _held_hours(self) -> Iterable[tuple[int, int, HourOfWeather]]:
        ends = [hour.minute for hour in self.hours[1:]]
        ends += [hour.minute + 60 for hour in self.hours[-1:]]
        return [(hour.minute, end, hour) for hour, end in zip(self.hours, ends, strict=True)]


def all_below(job: Job) -> dict[str, set[str]]:
    """For each surface all that lies below it."""
    dirty = {s.surface for s in job.stages.values() if "dirt" in s.nuisances}
    up = [
        {k for k, s in job.surfaces.items() if s.high and k in dirty},
        {k for k, s in job.surfaces.items() if s.high},
        {k for k, s in job.surfaces.items() if s.high or (s.high is None and not s.stood_on and k in dirty)},
        set(job.surfaces),
    ]
    found = {}
    for key in job.surfaces:
        reached: set[str] = set()
        more = {key}
        while more:
            reached |= more
            straight: set[str] = set()
            for k in reached:
                s = job.surfaces[k]
                straight |= {*s.drains_to, *(() if s.stood_on else s.worked_from)}
                lower = set(job.surfaces) - next(level for level in up if k in level)
                straight |= {x for x in lower if job.surfaces[x].ground == s.ground}
            more = straight - reached
        found[key] = reached - {key}
    return found


def _later(job: Job) -> dict[str, set[str]]:
    """For each stage all that the day's own words put after it."""
    arrows = [(a, s) for s, stage in job.stages.items() for a in stage.after]
    arrows += [(w.after, w.before) for w in job.waits if w.before is not None]
    found = {}
    for key in job.stages:
        reached: set[str] = set()
        while more := {b for a, b in arrows if a == key or a in reached} - reached:
            reached |= more
        found[key] = reached
    return found
