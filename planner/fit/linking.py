"""From a plan to its network: the duties, and every reason for which one of them waits for another."""

from collections.abc import Iterator
from functools import cached_property
from itertools import combinations, pairwise, product
from typing import Literal

from planner.day import Day, Job, Wait
from planner.day.gates import shut_reasons
from planner.day.names import called, stage_name
from planner.day.stage_kinds import DRAINS_IN, LADDER, RUNS_DOWN, WET_UNDERFOOT, wets_for_what_follows
from planner.fit.network import RANKS, Doing, Link, Network
from planner.plan.legs import legs
from planner.plan.plan import Carried, Crossing, Plan, Stay, Work
from planner.plan.rules.below import lies_below
from planner.plan.rules.day_and_plan import ground_words, hand_words, kit_words, stage_words
from planner.plan.rules.surfaces import footprint, reached_over
from planner.trade.cautions import KEPT_DRY
from planner.trade.units import show_clock, show_minutes
from planner.trade.weather_gates import Shut

Way = Literal["in", "out"]


def network_of(day: Day, plan: Plan) -> Network:
    """The network of a plan that the checker passes."""
    return _Linking(day, plan).network()


class _Linking:
    """One plan being read into a network."""

    def __init__(self, day: Day, plan: Plan) -> None:
        self.day, self.plan = day, plan
        self.below = {key: lies_below(job) for key, job in day.jobs.items()}
        self.riders = tuple(key for key, hand in day.hands.items() if not hand.own_transport)
        self.legs: dict[tuple[int, Way], Doing] = {}
        duties = [*self._drives(), *self._legs(), *self._chores(), *self._works(), *self._rests()]
        self.duties = sorted(duties, key=lambda d: (d.start, d.end, RANKS.index(d.what)))
        self.number = {id(duty): i for i, duty in enumerate(self.duties)}

    def network(self) -> Network:
        """All duties, linked."""
        for link in (
            self._hands_in_turn,
            self._stages_in_order,
            self._kit,
            self._materials,
            self._kit_shared,
            self._protection,
            self._apart,
            self._dry,
            self._kept_dry,
            self._ladders,
            self._wet_ways,
            self._sheets,
            self._closed,
            self._visits,
        ):
            link()
        if self.plan.since is not None:
            self._hold_what_was(self.plan.since)
        drives = [i for i, duty in enumerate(self.duties) if duty.what == "drive"]
        home = max(drives, default=max(range(len(self.duties)), key=lambda i: self.duties[i].end))
        return Network(tuple(self.duties), home, self.plan.leaves)

    def _hold_what_was(self, now: int) -> None:
        """On a day under way what was begun is as it was, and takes what it took where it is over; nothing else begins
        before now."""
        for duty in self.duties:
            if duty.start < now:
                duty.not_before, duty.shut = (duty.start, "as it went"), ()
                duty.spread = duty.spread if duty.end > now else None
            elif duty.not_before is None or duty.not_before[0] < now:
                duty.not_before = (now, f"it is {show_clock(now)}")

    # --- the duties -----------------------------------------------------------------------------------------------

    def _drives(self) -> Iterator[Doing]:
        visits = sorted(self.plan.visits, key=lambda v: (v.arrive, v.depart))
        drives = sorted(self.plan.drives, key=lambda d: (d.start, d.end))
        for drive, visit in zip(drives, [*visits, None], strict=False):
            name = called(self.day.places[drive.to_place], drive.to_place)
            gates = []
            if visit is not None and visit.number == 1 and (window := self.day.jobs[visit.job].arrive):
                gates.append((window[0] - (drive.end - drive.start), f"arrival is not before {show_clock(window[0])}"))
            if drive is drives[0]:
                starts = self.plan.leaves == self.day.start
                gates.append((self.plan.leaves, "the day starts then" if starts else "the van leaves then, as planned"))
            gate = max(gates, key=lambda gate: gate[0], default=None)
            yield Doing("drive", f"drive to {name}", drive.start, drive.end, self.riders, not_before=gate)

    def _legs(self) -> Iterator[Doing]:
        together: dict[tuple[object, ...], Doing] = {}
        for n, c in enumerate(self.plan.crossings):
            where, (leg_in, leg_out) = ground_words(self.day, c.job, c.ground), legs(self.day, c)
            ways: tuple[tuple[Way, tuple[int, int], tuple[Carried, ...]], ...] = (
                ("in", leg_in, c.carried_in),
                ("out", leg_out, c.carried_out),
            )
            for way, (start, end), load in ways:
                shared = tuple(x.what for x in load if x.share < 1)
                key = (way, c.job, c.ground, start, shared) if shared else (way, n)
                duty = together.get(key)
                if duty is None:
                    duty = Doing(way, f"walk {way}: {where}", start, end, (c.hand,), c.job, c.visit)
                    together[key] = duty
                    yield duty
                else:
                    duty.hands = (*duty.hands, c.hand)
                self.legs[n, way] = duty

    def _chores(self) -> Iterator[Doing]:
        for c in self.plan.chores:
            where = ground_words(self.day, c.job, c.ground)
            words = f"{c.what} {kit_words(self.day, c.kit) if c.kit else f'floor protection to {where}'}"
            yield Doing(c.what, words, c.start, c.end, c.hands, c.job, c.visit)

    def _works(self) -> Iterator[Doing]:
        for w in self.plan.works:
            stage = self.day.jobs[w.job].stages[w.stage]
            shut = tuple(shut_reasons(self.day, w.job, w.stage))
            if stage.starts_at is not None:
                shut = (Shut(0, stage.starts_at, "it starts at its time"), *shut)
            spread = self.day.jobs[w.job].minutes(w.stage, w.method)
            name = stage_words(self.day, w.job, w.stage)
            yield Doing("work", name, w.start, w.end, w.hands, w.job, w.visit, w.stage, spread, None, shut)

    def _rests(self) -> Iterator[Doing]:
        for rest in self.plan.rests:
            rule = self.day.rest_of(rest.hand)
            gate = None
            if rule is not None:
                begins = [self.plan.leaves, *(a.arrive for a in self.plan.attendances if a.hand == rest.hand)]
                own = begins[1:] if self.day.hands[rest.hand].own_transport else begins[:1]
                soonest = max(min(own, default=0) + rule.soonest, rule.earliest or 0)
                gate = (min(rest.start, soonest), "a break is not sooner")
            words = f"break of {hand_words(self.day, rest.hand)}"
            yield Doing("break", words, rest.start, rest.end, (rest.hand,), not_before=gate)

    # --- what waits for what --------------------------------------------------------------------------------------

    def _link(self, first: Doing, second: Doing, why: str, *, lag: int = 0, from_start: bool = False) -> None:
        i, j = self.number[id(first)], self.number[id(second)]
        if i < j and (first.start if from_start else first.end) + lag <= second.start:
            second.links.append(Link(i, why, lag, None, from_start))

    def _hands_in_turn(self) -> None:
        for hand in self.day.hands:
            own = [d for d in self.duties if hand in d.hands]
            for one, two in pairwise(own):
                lag = 0
                if hand not in self.riders and one.job and two.job and one.job != two.job:
                    lag = self.day.drive_minutes(self.day.jobs[one.job].place, self.day.jobs[two.job].place)
                self._link(one, two, "straight after", lag=lag)
        for there in self.plan.attendances:
            mine = [d for d in self.duties if there.hand in d.hands and (d.job, d.visit) == (there.job, there.visit)]
            if mine:
                mine[0].not_before = (there.arrive, f"{hand_words(self.day, there.hand)} meets us then")

    def _stages_in_order(self) -> None:
        works = self.works
        for j, job in self.day.jobs.items():
            for s, stage in job.stages.items():
                for before in stage.after:
                    if (j, s) in works and (j, before) in works:
                        self._link(works[j, before], works[j, s], f"it follows '{stage_name(job, before)}'")
            for wait in job.waits:
                first, second = works.get((j, wait.after)), works.get((j, wait.before or ""))
                if first is not None and second is not None:
                    words = f"{wait.kind} after '{stage_name(job, wait.after)}'"
                    if least := wait.bounds(first.end)[0]:
                        words += f" of at least {show_minutes(least)}"
                    i, k = self.number[id(first)], self.number[id(second)]
                    if i < k:
                        second.links.append(Link(i, words, 0, wait))

    @cached_property
    def works(self) -> dict[tuple[str, str], Doing]:
        """The works by job and stage."""
        return {(d.job, d.stage): d for d in self.duties if d.what == "work" and d.job and d.stage}

    def _kit(self) -> None:
        works = self.works
        for stay in self.plan.stays:
            words = kit_words(self.day, stay.kit)
            of_stay = [
                works[w.job, w.stage]
                for w in self.plan.works
                if w.job == stay.job
                and self.day.jobs[w.job].ground_of(w.stage) == stay.ground
                and (stay.kit, stay.number) in w.stays
            ]
            uses = sorted(of_stay, key=lambda d: (d.start, d.end))
            ups, downs = (self._chores_of(stay, what) for what in ("set up", "pack down"))
            first, last = self._carried(stay, "in"), self._carried(stay, "out")
            for brought in first:
                for duty in [*ups, *uses]:
                    self._link(brought, duty, f"{words} is carried in first")
            for packed in self._lain(stay):
                for duty in [*ups, *uses]:
                    self._link(packed, duty, f"{words} is packed down until then")
            for up in ups:
                for use in uses:
                    self._link(up, use, f"{words} is set up first")
                self._set_up_in_turn(stay, up)
            for one, two in pairwise(uses):
                self._link(one, two, f"{words} is in use until then")
            for duty in [*ups, *uses]:
                for down in downs:
                    self._link(duty, down, f"{words} is in use until then")
            for duty in [*ups, *uses, *downs]:
                for gone in last:
                    self._link(duty, gone, f"{words} is ready to go then")

    def _set_up_in_turn(self, stay: Stay, up: Doing) -> None:
        """What a piece of kit needs is set up before it."""
        for other in self.plan.stays:
            if (other.job, other.ground) == (stay.job, stay.ground) and other.kit in self.day.kit[stay.kit].needs:
                for first in [*self._carried(other, "in"), *self._chores_of(other, "set up")]:
                    self._link(first, up, f"{kit_words(self.day, other.kit)} stands there then")

    def _lain(self, stay: Stay) -> list[Doing]:
        """The packing down after which a stay's kit lay there."""
        place = (stay.job, stay.ground, stay.kit, stay.follows)
        before = [s for s in self.plan.stays if s.key == place]
        return [chore for s in before for chore in self._chores_of(s, "pack down")]

    def _chores_of(self, stay: Stay, what: str) -> list[Doing]:
        spans = {
            (c.start, c.end, c.hands)
            for c in self.plan.chores
            if (c.what, c.job, c.ground, c.kit, c.stay) == (what, stay.job, stay.ground, stay.kit, stay.number)
        }
        return [d for d in self.duties if d.what == what and d.job == stay.job and (d.start, d.end, d.hands) in spans]

    def _carried(self, stay: Stay, way: Way) -> list[Doing]:
        """The legs that carry a stay's kit in, or out."""
        found = []
        for n, c in enumerate(self.plan.crossings):
            leg = self.legs[n, way]
            minute, load = (leg.end, c.carried_in) if way == "in" else (leg.start, c.carried_out)
            wanted = stay.carried_in if way == "in" else stay.carried_out
            if (c.job, c.ground, minute) == (stay.job, stay.ground, wanted) and any(x.what == stay.kit for x in load):
                found.append(leg)
        return found

    def _materials(self) -> None:
        for n, c in enumerate(self.plan.crossings):
            brought = {x.what for x in c.carried_in if x.is_material}
            for w in self.plan.works if brought else ():
                way = self.day.jobs[w.job].stages[w.stage].methods[w.method]
                shared = {key for key in way.expected if self.day.materials[key].shared}
                uses = shared.union(way.uses)
                if (w.job, self.day.jobs[w.job].ground_of(w.stage)) == (c.job, c.ground) and brought & uses:
                    self._link(self.legs[n, "in"], self.works[w.job, w.stage], "what it uses is carried in first")

    def _kit_shared(self) -> None:
        """A piece that goes from one stay to another, and a tap or socket that one stage leaves to the next."""
        for key, kit in self.day.kit.items():
            stays = [s for s in self.plan.stays if s.kit == key]
            if len(stays) > kit.own:
                for one, two in combinations(sorted(stays, key=lambda s: s.carried_in), 2):
                    for last in [*self._carried(one, "out"), *self._chores_of(one, "pack down")]:
                        for first in [*self._carried(two, "in"), *self._chores_of(two, "set up")]:
                            self._link(last, first, f"{kit_words(self.day, key)} is elsewhere until then")
        works = self.works
        for one_work, two_work in combinations(self.plan.works, 2):
            if one_work.job != two_work.job:
                continue
            job = self.day.jobs[one_work.job]
            ground = job.ground_of(one_work.stage)
            if ground != job.ground_of(two_work.stage):
                continue
            takes = [self._supplies(work) for work in (one_work, two_work)]
            for supply in sorted(set(takes[0]) & set(takes[1])):
                if takes[0].count(supply) + takes[1].count(supply) > job.grounds[ground].supplies.get(supply, 0):
                    pair = works[one_work.job, one_work.stage], works[two_work.job, two_work.stage]
                    self._in_turn(*pair, f"the {supply} is taken until then")

    def _supplies(self, work: Work) -> list[str]:
        """What a work takes from its ground: taps and sockets, each as often as it takes it."""
        kit = self.day.kit_closure(self.day.jobs[work.job].stages[work.stage].methods[work.method].kit)
        return [supply for key in kit for supply in self.day.kit[key].supply]

    def _protection(self) -> None:
        for c in self.plan.chores:
            if c.what not in ("lay", "lift"):
                continue
            sought = (c.what, c.job, c.start, c.end, c.hands)
            chore = next(d for d in self.duties if (d.what, d.job, d.start, d.end, d.hands) == sought)
            for n, crossing in enumerate(self.plan.crossings):
                if (crossing.job, crossing.visit, crossing.ground) == (c.job, c.visit, c.ground):
                    if c.what == "lay":
                        self._link(chore, self.legs[n, "in"], "the floor is protected first")
                    else:
                        self._link(self.legs[n, "out"], chore, "the floor is walked on until then")

    def _apart(self) -> None:
        works = self.works
        for one, two in combinations(self.plan.works, 2):
            if one.job == two.job and self._must_not_share(one.job, one.stage, two.stage):
                self._in_turn(works[one.job, one.stage], works[two.job, two.stage], "the two must not share time")

    def _in_turn(self, one: Doing, two: Doing, why: str) -> None:
        """Whichever comes first in the plan stays first; two that share time there may go on doing so."""
        self._link(one, two, why)
        self._link(two, one, why)

    def _must_not_share(self, key: str, one: str, two: str) -> bool:
        job = self.day.jobs[key]
        first, second = job.stages[one], job.stages[two]
        reached = [{s.surface, *self.below[key][s.surface]} for s in (first, second)]
        same_ground = job.ground_of(one) == job.ground_of(two)
        spoils = any(
            maker.nuisances & (set(other.spoiled_by) | other.spoiled_while_fresh_by | other.spoiled_meanwhile_by)
            or (maker.grinds and (other.wets or other.cleans))
            for maker, other in ((first, second), (second, first))
        )
        apart = (one, two) in job.apart or (two, one) in job.apart
        return apart or bool(reached[0] & reached[1]) or (spoils and same_ground)

    def _dry(self) -> None:
        """What must find its surface dry, or its joints drained, so long after what sprays or runs there."""
        for (j, d), dry in self.works.items():
            job, stage = self.day.jobs[j], self.day.jobs[j].stages[d]
            others = ((w, wet) for (k, w), wet in self.works.items() if k == j and w != d)
            for w, wet in ((w, wet) for w, wet in others if job.stages[w].wets):
                if stage.dry_for and stage.surface not in job.stages[w].spares:
                    self._link(wet, dry, f"it must be dry for {show_minutes(stage.dry_for)}", lag=stage.dry_for)
                if wets_for_what_follows(stage.kind) and stage.surface in self.below[j][job.stages[w].surface]:
                    self._link(wet, dry, "what ran into the joints has drained then", lag=DRAINS_IN)

    def _kept_dry(self) -> None:
        """What must be kept dry is packed down before something is wetted on its ground, or set up after it."""
        stays = [s for s in self.plan.stays if KEPT_DRY in self.day.kit[s.kit].tags]
        for (j, w), wet in self.works.items() if stays else ():
            job = self.day.jobs[j]
            for stay in stays if job.stages[w].wets else ():
                if (stay.job, stay.ground) == (j, job.ground_of(w)):
                    for up in self._chores_of(stay, "set up"):
                        self._link(wet, up, f"{kit_words(self.day, stay.kit)} would get wet until then")
                    for down in self._chores_of(stay, "pack down"):
                        self._link(down, wet, f"{kit_words(self.day, stay.kit)} is out of the wet then")

    def _ladders(self) -> None:
        """A ladder is carried over steps before they are wetted, or so long after, and stands on nothing that is."""
        ladders = [s for s in self.plan.stays if LADDER in self.day.kit[s.kit].tags]
        for (j, w), wet in self.works.items() if ladders else ():
            stage = self.day.jobs[j].stages[w]
            for stay in ladders if stage.wants_it_clear and self.day.jobs[j].surfaces[stage.surface].stood_on else ():
                lag = WET_UNDERFOOT if stage.wets or stage.is_laid_on else 0
                for up in self._chores_of(stay, "set up") if stay.job == j else ():
                    self._link(wet, up, "no ladder stands on it meanwhile, nor while it is wet", lag=lag)
                for down in self._chores_of(stay, "pack down") if stay.job == j else ():
                    self._link(down, wet, "the ladder is out of the way then")
            for stay in ladders if stage.wets or stage.is_laid_on else ():
                over = set(self.day.jobs[stay.job].grounds[stay.ground].way_in.over)
                if stay.job != j or not over:
                    continue
                moved = [*self._carried(stay, "in"), *self._carried(stay, "out")]
                for leg in moved or [*self._chores_of(stay, "set up"), *self._chores_of(stay, "pack down")]:
                    self._link(wet, leg, "no ladder is carried over what is wet", lag=WET_UNDERFOOT)
                    self._link(leg, wet, "the ladder is carried over it first")

    def _wet_ways(self) -> None:
        """What lies behind steps is walked to before they are wetted, or so long after."""
        for ((j, w), wet), ((n, _), leg) in product(self.works.items(), self.legs.items()):
            job, crossing = self.day.jobs[j], self.plan.crossings[n]
            if job.stages[w].wets and crossing.job == j and crossing.ground != job.ground_of(w):
                over = set(job.grounds[crossing.ground].way_in.over)
                if job.stages[w].surface in over | reached_over(job, over):
                    self._link(wet, leg, "nobody walks over what is wet", lag=WET_UNDERFOOT)
                    self._link(leg, wet, "one has walked over it then")

    def _sheets(self) -> None:
        """What lies under sheets, before they are laid or once they are up."""
        for cover in self.plan.works:
            job = self.day.jobs[cover.job]
            lies_on = job.stages[cover.stage].lies_on
            stays = [s for s in self.plan.stays if (s.kit, s.number) in cover.stays and s.job == cover.job]
            for work in self.plan.works if lies_on else ():
                if work.job == cover.job and job.stages[work.stage].surface in lies_on:
                    under = self.works[work.job, work.stage]
                    self._link(under, self.works[cover.job, cover.stage], "sheets are laid on it then")
                    for stay in stays:
                        for down in self._chores_of(stay, "pack down"):
                            self._link(down, under, "sheets lie on it until then")

    def _closed(self) -> None:
        """What keeps off a surface, or out of a job, while something waits there."""
        works = self.works
        for j, job in self.day.jobs.items():
            for wait in job.waits:
                first, second = works.get((j, wait.after)), works.get((j, wait.before or ""))
                if first is None or (wait.before and second is None):
                    continue
                for duty in self.duties:
                    own = duty.stage in (wait.after, wait.before, wait.extended_by)
                    if duty.job == j and not (duty.what == "work" and own) and self._keeps_off(job, wait, duty):
                        after = stage_name(job, wait.after)
                        words = f"it keeps clear of the {wait.kind} after '{after}'"
                        self._link(duty, first, words)
                        if second is not None:
                            self._link(second, duty, words, from_start=True)

    def _keeps_off(self, job: Job, wait: Wait, duty: Doing) -> bool:
        """Whether a wait keeps a duty of its job off the surface, off the ground or out of the job."""
        first = job.stages[wait.after]
        if duty.what == "work" and duty.stage is not None:
            stands = wait.closes_surface and first.surface in footprint(job, duty.stage)
            same = job.ground_of(wait.after) == job.ground_of(duty.stage)
            by = set(first.spoiled_by) | (RUNS_DOWN if first.is_laid_on else frozenset())
            spoils = same and wait.kind != "order" and bool(job.stages[duty.stage].nuisances & by)
            return wait.keep_clear or stands or spoils
        crossing = self._crossing_of(duty)
        if crossing is None or not wait.closes_surface:
            return False
        over = set(job.grounds[crossing.ground].way_in.over)
        return first.surface in over | reached_over(job, over)

    def _crossing_of(self, duty: Doing) -> Crossing | None:
        return next((self.plan.crossings[n] for (n, _), leg in self.legs.items() if leg is duty), None)

    def _visits(self) -> None:
        """Nothing at a visit before the van is there and arriving is over; the van leaves once leaving is over too."""
        drives = [d for d in self.duties if d.what == "drive"]
        visits = sorted(self.plan.visits, key=lambda v: (v.arrive, v.depart))
        last = {visit.job: visit for visit in visits}
        for visit, (to, away) in zip(visits, pairwise(drives), strict=False):
            job = self.day.jobs[visit.job]
            arriving = job.arriving if visit.number == 1 else 0
            leaving = job.leaving if visit is last[visit.job] else 0
            for duty in self.duties:
                rests_there = duty.what == "break" and visit.arrive <= duty.start < visit.depart
                if rests_there and not set(duty.hands) <= set(self.riders):
                    continue
                if rests_there or (duty.job, duty.visit) == (visit.job, visit.number):
                    self._link(to, duty, "arriving is over then" if arriving else "the van is there then", lag=arriving)
                    self._link(duty, away, "all must be done before the van leaves", lag=leaving)
