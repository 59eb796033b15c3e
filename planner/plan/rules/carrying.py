"""Rule 5, kit and material are carried in and out within load limits; rule 6, floor protection is down meanwhile."""

from collections.abc import Iterator

from planner.day.kit import KitThatStays
from planner.plan.plan import Carried, Crossing, Stay
from planner.plan.rules.day_and_plan import (
    FOREVER,
    Breaches,
    BrokenRule,
    DayAndPlan,
    ground_words,
    hand_words,
    kit_words,
    overlap,
    span_words,
)
from planner.plan.rules.sharing import sharers
from planner.trade.chemicals import chemicals
from planner.trade.lifting import KG_OF_AN_ARMFUL
from planner.trade.units import show_clock

_HAIR = 1e-6
"""Loads and shares are sums of decimal fractions; a hair above a whole is none."""


def no_leg_is_overloaded(r: DayAndPlan) -> Breaches:
    """Rule 5: one hand carries no more on one leg than the way in allows; with wheels, what those take by weight."""
    for crossing in r.plan.crossings:
        limit = r.way_in(crossing.job, crossing.ground).load_limit
        if crossing.wheels is not None:
            limit = max(limit, (r.day.kit[crossing.wheels].wheels or 0.0) / KG_OF_AN_ARMFUL)
        for word, carried in (("in", crossing.carried_in), ("out", crossing.carried_out)):
            load = sum(c.count * c.share * _load(r, c) for c in carried)
            if load > limit + _HAIR:
                text = f"{load:g} armfuls are carried {word}, and {limit:g} may be"
                yield _of_crossing(r, crossing, text)


def _load(r: DayAndPlan, carried: Carried) -> float:
    if not carried.is_material:
        return r.day.kit[carried.what].load
    material = r.day.materials[carried.what]
    return material.load if carried.rest is None else material.load_with(carried.rest)


def stays_match_what_is_carried(r: DayAndPlan) -> Breaches:
    """Rule 5: each stay by a way in with crossings begins at the end of an in-leg that brings its kit and ends at the
    start of an out-leg that takes it, by as many hands as it takes to lift it, but where its kit lies there packed down
    between two stays, or stays until another day; nothing else is carried."""
    for word, carried, stays in (
        ("in", _legs(r, inward=True), _stays_in(r)),
        ("out", _legs(r, inward=False), _stays_out(r)),
    ):
        for place in sorted({where for where, _, _ in carried} | set(stays)):
            job, visit, ground, minute, kit = place
            entries = [(hand, entry) for where, hand, entry in carried if where == place]
            wanted, lift = stays.count(place), r.day.kit[kit].lift
            words = f"{kit_words(r.day, kit)} {word} to {ground_words(r.day, job, ground)} at {show_clock(minute)}"
            words = words.replace("out to", "out of")
            moved = sum(entry.count * entry.share for _, entry in entries)
            if abs(moved - wanted) > _HAIR:
                text = f"{moved:g} of {words} are carried, and {wanted} stays say so (visit {visit})"
                yield BrokenRule(5, text, job, minute, minute)
            elif sum(entry.count for _, entry in entries) != wanted * lift or len({h for h, _ in entries}) < lift:
                text = f"{words}: it takes {lift} hands together to carry each"
                yield BrokenRule(5, text, job, minute, minute)


_Place = tuple[str, int, str, int, str]
"""Job, visit, ground, minute and kit."""


def _legs(r: DayAndPlan, *, inward: bool) -> list[tuple[_Place, str, Carried]]:
    """Kit carried, with the end of its in-leg or the start of its out-leg, and by whom."""
    found = []
    for c in r.plan.crossings:
        leg_in, leg_out = r.legs(c)
        minute = leg_in[1] if inward else leg_out[0]
        for x in c.carried_in if inward else c.carried_out:
            if not x.is_material:
                found.append(((c.job, c.visit, c.ground, minute, x.what), c.hand, x))
    return found


def _stays_in(r: DayAndPlan) -> list[_Place]:
    return [(s.job, s.visit_in, s.ground, s.carried_in, s.kit) for s in _carried_stays(r) if s.follows is None]


def _stays_out(r: DayAndPlan) -> list[_Place]:
    carried = (s for s in _carried_stays(r) if not r.is_followed(s) and not isinstance(r.day.kit[s.kit], KitThatStays))
    return [(s.job, s.visit_out, s.ground, s.carried_out, s.kit) for s in carried]


def _carried_stays(r: DayAndPlan) -> Iterator[Stay]:
    return (s for s in r.plan.stays if not r.way_in(s.job, s.ground).is_open)


def chores_have_their_hands(r: DayAndPlan) -> Breaches:
    """Rule 5: a chore takes one hand; where it also carries (an open way in), as many as lift the kit."""
    for chore in r.plan.chores:
        wanted = 1
        if chore.kit is not None and r.way_in(chore.job, chore.ground).is_open and r.day.kit[chore.kit].load:
            wanted = r.day.kit[chore.kit].lift
        if len(chore.hands) != wanted or len(set(chore.hands)) != wanted:
            words = f"'{chore.what} {chore.kit or 'sheets'}' at {show_clock(chore.start)}"
            yield BrokenRule(5, f"{words} takes {wanted} different hands", chore.job, chore.start, chore.end)


def stays_lie_in_their_visits(r: DayAndPlan) -> Breaches:
    """Rule 5: kit comes and goes while the van is there; only what may stay, no ladder, is left when it leaves."""
    for stay in r.plan.stays:
        first, last = r.visit(stay.job, stay.visit_in), r.visit(stay.job, stay.visit_out)
        words = f"{kit_words(r.day, stay.kit)} on {ground_words(r.day, stay.job, stay.ground)}"
        for word, minute, visit in (("in", stay.carried_in, first), ("out", stay.carried_out, last)):
            if not visit.arrive <= minute <= visit.depart:
                text = f"{words} is carried {word} at {show_clock(minute)}, outside visit {visit.number}"
                yield BrokenRule(5, text, stay.job, minute, minute)
        if not r.day.kit[stay.kit].may_be_left:
            if stay.visit_in != stay.visit_out:
                yield BrokenRule(
                    5,
                    f"{words} is left from one visit to another",
                    stay.job,
                    stay.carried_in,
                    stay.carried_out,
                )
            for drive in r.drives:
                if overlap(drive.start, drive.end, stay.carried_in, stay.carried_out):
                    text = f"{words} is left behind when the van drives off at {show_clock(drive.start)}"
                    yield BrokenRule(5, text, stay.job, drive.start, drive.end)


def materials_are_there(r: DayAndPlan) -> Breaches:
    """Rule 5: what a stage uses up was carried to its ground before, first come first used."""
    for work in sorted(r.plan.works, key=lambda w: w.start):
        ground = r.ground(work)
        if r.way_in(work.job, ground).is_open:
            continue
        for material in r.stage(work).methods[work.method].uses:
            if work.stage in sharers(r, work.job, ground, material):
                continue
            brought = sum(
                x.count
                for c in r.plan.crossings
                for x in c.carried_in
                if (c.job, c.ground, x.what, x.is_material) == (work.job, ground, material, True)
                and r.legs(c)[0][1] <= work.start
            )
            used = sum(
                r.stage(w).methods[w.method].uses.get(material, 0)
                for w in r.plan.works
                if (w.job, r.ground(w)) == (work.job, ground) and w.start <= work.start
            )
            if used > brought:
                text = f"{r.words(work)} needs {used} of '{material}' brought by then, and {brought} are"
                yield BrokenRule(5, text, work.job, work.start, work.end)


def water_is_at_hand(r: DayAndPlan) -> Breaches:
    """Rule 5: where something is mixed or a corrosive is opened away from tap and van, clean water is there before.

    It is asked only where the day has water for that ground: in cans, or from kit that brings it.
    """
    for work in r.plan.works:
        stage, ground = r.stage(work), r.ground(work)
        wants = bool(stage.mixing) or (stage.chemical is not None and _is_corrosive(stage.chemical))
        place = r.day.jobs[work.job].grounds[ground]
        if not wants or place.way_in.is_open or place.supplies.get("tap", 0):
            continue
        if not _has_water(r, work.job, ground):
            continue
        cans = sum(
            x.count
            for c in r.plan.crossings
            for x in c.carried_in
            if (c.job, c.ground) == (work.job, ground)
            and x.is_material
            and r.day.materials[x.what].water
            and r.legs(c)[0][1] <= work.start
        )
        emptied = sum(
            n
            for w in r.works_on(work.job, ground)
            for key, n in r.stage(w).methods[w.method].uses.items()
            if r.day.materials[key].water and w.end <= work.start
        )
        standing = [
            s
            for s in r.plan.stays
            if (s.job, s.ground) == (work.job, ground) and r.day.kit[s.kit].water and s.carried_out >= work.end
            and max([s.carried_in, *(c.end for c in r.chores_of(s, "set up"))]) <= work.start
            and min([s.carried_out, *(c.start for c in r.chores_of(s, "pack down"))]) >= work.end
        ]  # fmt: skip
        if cans <= emptied and not standing:
            yield BrokenRule(5, f"{r.words(work)} is begun before any water is there", work.job, work.start, work.end)


def water_is_for_somebody(r: DayAndPlan) -> Breaches:
    """Rule 5: a can of water is carried in only for a stage that uses it up; what it lent meanwhile is no reason."""
    for job, place in r.day.jobs.items():
        for ground, about in place.grounds.items():
            for key in (k for k, material in r.day.materials.items() if material.water and not about.way_in.is_open):
                walks = [(r.legs(c)[0][1], x.count) for c in r.plan.crossings if (c.job, c.ground) == (job, ground)
                         for x in c.carried_in if x.is_material and x.what == key]  # fmt: skip
                brought = sum(count for _, count in walks)
                used = sum(r.stage(w).methods[w.method].uses.get(key, 0) for w in r.works_on(job, ground))
                last = max((minute for minute, _ in walks), default=0)
                if brought > used and (r.plan.since is None or last > r.plan.since):
                    where = ground_words(r.day, job, ground)
                    text = f"{brought} of '{key}' are carried to {where}, and {used} are used up there"
                    yield BrokenRule(5, text, job, last, last)


def _is_corrosive(chemical: str) -> bool:
    table = chemicals()
    return table.class_of(chemical) in table.corrosive


def _has_water(r: DayAndPlan, job: str, ground: str) -> bool:
    """Whether any method of a stage on a ground brings water there; under way, of one that had not begun when told."""
    begun = {w.stage for w in r.works_on(job, ground) if r.plan.since is not None and w.start <= r.plan.since}
    methods = [
        method
        for key, stage in r.day.jobs[job].stages.items()
        if r.day.jobs[job].ground_of(key) == ground and key not in begun
        for method in stage.methods.values()
    ]
    kit = {piece for method in methods for piece in r.day.kit_closure(method.kit)}
    cans = {key for method in methods for key, n in method.uses.items() if n}
    return any(r.day.kit[key].water for key in kit) or any(r.day.materials[key].water for key in cans)


def containers_are_carried_whole(r: DayAndPlan) -> Breaches:
    """Rule 5: containers are carried by one hand; they come in full, and of those that go out it is said how full."""
    for crossing in r.plan.crossings:
        for x in (*crossing.carried_in, *crossing.carried_out):
            if x.is_material and x.share != 1:
                yield _of_crossing(r, crossing, f"a part of '{x.what}' is carried, and containers are carried whole")
        for x in crossing.carried_in:
            if x.rest is not None:
                yield _of_crossing(r, crossing, f"'{x.what}' is carried in, and is said to be what is left")
        for x in crossing.carried_out:
            if x.is_material and (x.rest is None or not 0 <= x.rest <= 1):
                yield _of_crossing(r, crossing, f"of '{x.what}' that is carried out it is not said how full it is")


def protection_is_down(r: DayAndPlan) -> Breaches:
    """Rule 6: floor protection that is ours is laid before the first crossing of a visit and lifted after the last.

    On a day under way what was laid by then is lifted, though what it was laid for is given up.
    """
    since = r.plan.since
    for visit in r.visits:
        for ground in r.day.jobs[visit.job].grounds:
            way_in = r.way_in(visit.job, ground)
            here = (visit.job, visit.number, ground)
            crossings = [c for c in r.plan.crossings if (c.job, c.visit, c.ground) == here]
            first = min((c.start for c in crossings), default=FOREVER)
            last = max((c.end for c in crossings), default=-FOREVER)
            laid = [c for c in r.plan.chores if (c.job, c.visit, c.ground) == here]
            for what, minutes in (("lay", way_in.lay), ("lift", way_in.lift)):
                chores = [c for c in laid if c.what == what]
                was_laid = since is not None and any(c.what == "lay" and c.end <= since for c in laid)
                is_wanted = (bool(crossings) or was_laid) and way_in.protection == "ours" and minutes > 0
                where = f"'{what} sheets' for {ground_words(r.day, visit.job, ground)}"
                if len(chores) != is_wanted:
                    text = f"{where}: {len(chores)} times in visit {visit.number}, and {int(is_wanted)} are needed"
                    yield BrokenRule(6, text, visit.job, visit.arrive, visit.depart)
                for chore in chores:
                    if chore.end - chore.start != minutes:
                        yield BrokenRule(6, f"{where} must take {minutes} min", visit.job, chore.start, chore.end)
                    if chore.end > first if what == "lay" else chore.start < last:
                        text = f"{where} at {show_clock(chore.start)} while the way is in use"
                        yield BrokenRule(6, text, visit.job, min(first, chore.start), max(last, chore.end))


def _of_crossing(r: DayAndPlan, crossing: Crossing, wrong: str) -> BrokenRule:
    where = ground_words(r.day, crossing.job, crossing.ground)
    span = span_words(crossing.start, crossing.end)
    text = f"the crossing of {hand_words(r.day, crossing.hand)} to {where} ({span}): {wrong}"
    return BrokenRule(5, text, crossing.job, crossing.start, crossing.end)
