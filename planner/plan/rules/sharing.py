"""Rule 5, what several stages on a ground draw from is all there before the first of them begins.

Who shares, and how many containers that makes, is worked out here anew, apart from the engine.
"""

import math

from planner.plan.rules.day_and_plan import Breaches, BrokenRule, DayAndPlan
from planner.trade.filler import SPARE
from planner.trade.units import show_clock


def sharers(r: DayAndPlan, job: str, ground: str, material: str) -> set[str]:
    """The stages of a ground that draw from the same containers; none where each has its own.

    They share where the material says so and one of them, done for certain, draws whichever its method is.
    """
    known = r.day.materials[material]
    if not known.shared or known.water or r.way_in(job, ground).is_open:
        return set()
    stages = {s: x for s, x in r.day.jobs[job].stages.items() if r.day.jobs[job].ground_of(s) == ground}
    ways = {s: [material in {*way.uses, *way.expected} for way in x.methods.values()] for s, x in stages.items()}
    drawing = {s for s in stages if any(ways[s])}
    is_sure = any(all(ways[s]) and not stages[s].only_if_needed for s in drawing)
    return drawing if is_sure and len(drawing) > 1 else set()


def wanted_by_all(r: DayAndPlan, job: str, stages: set[str], material: str) -> int:
    """The containers that stages take which share them: of the most that all may use, with one spare.

    No fewer than any takes alone, and no more than all take together where each has its own.
    """
    alone, used = [], 0.0
    for s in stages:
        methods = r.day.jobs[job].stages[s].methods.values()
        alone.append(max(way.uses.get(material, 0) for way in methods))
        used += max(way.expected.get(material, float(way.uses.get(material, 0))) for way in methods)
    return min(sum(alone), max(*alone, math.ceil(used * (1 + SPARE) - 1e-9)))


def what_is_shared_is_there(r: DayAndPlan) -> Breaches:
    """Rule 5: containers that several stages of a ground share are all there before the first of them begins."""
    for job, described in r.day.jobs.items():
        for ground in described.grounds:
            for material in r.day.materials:
                drawing = sharers(r, job, ground, material)
                works = [w for w in r.works_on(job, ground) if w.stage in drawing]
                wanted = wanted_by_all(r, job, drawing, material) if works else 0
                for work in works:
                    brought = sum(
                        x.count
                        for c in r.plan.crossings
                        for x in c.carried_in
                        if (c.job, c.ground, x.what, x.is_material) == (job, ground, material, True)
                        and r.legs(c)[0][1] <= work.start
                    )
                    if brought < wanted:
                        text = f"{r.words(work)} draws from '{material}' that stages share: {wanted} in all, and"
                        said = f"{text} {brought} are there at {show_clock(work.start)}"
                        yield BrokenRule(5, said, job, work.start, work.start + 1)  # begun, it had what there was
