"""A plan with every duty moved to the soonest that its network allows, to be held to the checker."""

from dataclasses import replace
from itertools import pairwise

from planner.day import Day
from planner.fit.linking import network_of
from planner.plan.plan import Plan, Stay


def retimed(day: Day, plan: Plan) -> Plan:
    """The same plan as soon as can be; the attendances of hands with their own transport stay as they are."""
    network = network_of(day, plan)
    soonest = network.soonest()
    at = {
        (d.what, d.job, d.stage, d.start, d.end, hand): (soonest.starts[n], soonest.ends[n])
        for n, d in enumerate(network.duties)
        for hand in d.hands
    }

    def chore(c: object) -> tuple[int, int]:
        return at[c.what, c.job, None, c.start, c.end, c.hands[0]]  # type: ignore[attr-defined]

    drives = sorted(plan.drives, key=lambda d: (d.start, d.end))
    spans = [(soonest.starts[n], soonest.ends[n]) for n in network.numbers("drive")]
    moved_drives = [replace(d, start=start, end=end) for d, (start, end) in zip(drives, spans, strict=True)]
    visits = sorted(plan.visits, key=lambda v: (v.arrive, v.depart))
    moved_visits = [
        replace(v, arrive=to.end, depart=away.start)
        for v, (to, away) in zip(visits, pairwise(moved_drives), strict=True)
    ]
    crossings, legs_in, legs_out = [], {}, {}
    for c in plan.crossings:
        walk = day.jobs[c.job].grounds[c.ground].way_in.minutes
        start, reached = at["in", c.job, None, c.start, c.start + walk, c.hand]
        left, end = at["out", c.job, None, c.end - walk, c.end, c.hand]
        crossings.append(replace(c, start=start, end=end))
        for x in c.carried_in:
            legs_in[c.job, c.ground, x.what, c.start + walk] = reached
        for x in c.carried_out:
            legs_out[c.job, c.ground, x.what, c.end - walk] = left

    def stay(s: Stay) -> Stay:
        ends = {}
        for what, minute, legs in (("set up", s.carried_in, legs_in), ("pack down", s.carried_out, legs_out)):
            key = (s.job, s.ground, s.kit, minute)
            if key in legs:
                ends[what] = legs[key]
            else:
                own = [
                    chore(c)
                    for c in plan.chores
                    if (c.what, c.job, c.ground, c.kit, c.stay) == (what, s.job, s.ground, s.kit, s.number)
                ]
                ends[what] = own[0][what == "pack down"] if own else minute
        return replace(s, carried_in=ends["set up"], carried_out=ends["pack down"])

    works = []
    for w in plan.works:
        start, end = at["work", w.job, w.stage, w.start, w.end, w.hands[0]]
        works.append(replace(w, start=start, end=end))
    rests = []
    for r in plan.rests:
        start, end = at["break", None, None, r.start, r.end, r.hand]
        rests.append(replace(r, start=start, end=end))
    return replace(
        plan,
        drives=tuple(moved_drives),
        visits=tuple(moved_visits),
        works=tuple(works),
        crossings=tuple(crossings),
        stays=tuple(stay(s) for s in plan.stays),
        chores=tuple(replace(c, start=chore(c)[0], end=chore(c)[1]) for c in plan.chores),
        rests=tuple(rests),
        proof=None,
    )
