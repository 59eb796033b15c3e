"""How many containers of a material go into the van: what comes back with a rest in it serves on the next ground."""

import math
from dataclasses import dataclass

from planner.day import Day, Method
from planner.day.drawn_together import shared_counts, taken_together
from planner.plan.plan import Plan, Work
from planner.trade.filler import SPARE

_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class _Ground:
    """What one ground takes: from when to when it is away from the van, how many containers, how much is used.

    ``back`` is None where nothing of it comes back to the van.
    """

    out: int
    back: int | None
    count: int
    used: float


def containers_taken(day: Day, plan: Plan, material: str, job: str | None = None) -> int:
    """The containers of a material that are loaded for a plan, or for one job of it.

    Each ground asks for whole containers and a spare; but one that was opened and is back in the van goes on to the
    next ground where what is in it is enough there, with the spare. So 0.97 of a can on three grounds, one after the
    other, is one can and a spare, and not three. Water is poured away.

    Parameters
    ----------
    day, plan
        A plan of that day.
    material
        Its key.
    job
        The job of which to count; all of them where it is not given.
    """
    count, in_van = 0, list[tuple[int, float]]()
    for ground in sorted(_grounds(day, plan, material, job), key=lambda g: (g.out, g.count)):
        at_hand = sorted((rest, back) for back, rest in in_van if back <= ground.out)
        content, again = 0.0, list[tuple[float, int]]()
        for rest, back in reversed(at_hand):
            is_enough = ground.count - len(again) - 1 + content + rest >= ground.used * (1 + SPARE) - _HAIR
            if len(again) < ground.count and is_enough:
                again.append((rest, back))
                content += rest
        for rest, back in again:
            in_van.remove((back, rest))
        count += ground.count - len(again)
        if ground.back is not None and not day.materials[material].water:
            in_van += [(ground.back, rest) for rest in _rests(ground, content, len(again))]
    return count


def _rests(ground: _Ground, content: float, again: int) -> list[float]:
    """What is in each container that comes back and is not empty: full ones, and one with the rest."""
    left = ground.count - again + content - ground.used
    full = math.floor(left + _HAIR)
    return [1.0] * full + ([left - full] if left - full > _HAIR else [])


def _grounds(day: Day, plan: Plan, material: str, only: str | None) -> list[_Ground]:
    found = []
    shared = shared_counts(day)
    for j, job in day.jobs.items() if only is None else ((only, day.jobs[only]),):
        is_kept = material in job.customer.keeps
        for g, ground in job.grounds.items():
            works = [w for w in plan.works if w.job == j and job.ground_of(w.stage) == g and _takes(day, w, material)]
            each = [_method(day, w).uses.get(material, 0) for w in works]
            if not sum(each):
                continue
            used = sum(_used(day, w, material) for w in works)
            out, back, count = min(w.start for w in works), max(w.end for w in works), sum(each)
            if ground.way_in.is_open:
                count = taken_together(each, used)
            else:
                count = shared.get((j, g, material), count)
                mine = [c for c in plan.crossings if (c.job, c.ground) == (j, g)]
                out = min((c.start for c in mine if any(x.what == material for x in c.carried_in)), default=out)
                back = max((c.end for c in mine if any(x.what == material for x in c.carried_out)), default=back)
            found.append(_Ground(out, None if is_kept else back, count, used))
    return found


def _method(day: Day, work: Work) -> Method:
    return day.jobs[work.job].stages[work.stage].methods[work.method]


def _takes(day: Day, work: Work, material: str) -> bool:
    method = _method(day, work)
    return material in method.uses or material in method.expected


def _used(day: Day, work: Work, material: str) -> float:
    """What a work is reckoned to use up, in containers; all it takes, where the day does not say."""
    method = _method(day, work)
    return method.expected.get(material, float(method.uses.get(material, 0)))
