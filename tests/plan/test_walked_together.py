"""Who walks in together with another walks out, whatever was done there: nobody is inside twice."""

import itertools
from dataclasses import replace

from planner.plan.past import NOT_YET
from planner.plan.plan import Carried
from planner.plan.progress import Noted, Progress
from planner.plan.went import day_as_it_went
from tests.plan import worked


def test_who_came_in_with_what_was_not_used_went_out_again() -> None:
    """The pair's day, but Ash has a can along when both carry the compactor in at 537, and Bo goes out alone. Bo sealed
    (573 to 588), by another walk; nobody compacted. Bo came in for that alone, and cannot be inside from both walks."""
    tables = worked.pair_tables()
    tables["jobs"]["elm"]["stages"]["seal"]["after"] = []
    day, plan = worked.pair(tables)
    can = Carried("sealer", 1, is_material=True)
    first, ash, bo, last = plan.crossings
    ash = replace(ash, carried_in=(*ash.carried_in, can), carried_out=())
    bo, last = replace(bo, end=550, carried_out=()), replace(last, carried_in=(can,))
    plan = replace(plan, crossings=(first, ash, bo, last))
    done = [w for w in plan.works if w.stage != "compact"]
    told = Progress(590, tuple(Noted(w.job, w.stage, w.start, w.end) for w in done)).with_not_yet("elm", "compact")
    _, past = day_as_it_went(day, plan, told)
    for hand in day.hands:
        walks = sorted((c for c in past.plan.crossings if c.hand == hand), key=lambda c: c.start)
        assert all(c.end < NOT_YET and c.end <= after.start for c, after in itertools.pairwise(walks)), walks
