"""What can be given up for today on a day under way, without leaving harm behind, and what each saves."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.day import Day
from planner.engine import first_rest
from planner.fit.stops import Named, blocks_of, stops
from planner.plan.hindered import cannot_be_done
from planner.plan.measures import latest_finish
from planner.plan.pieces import with_pieces
from planner.plan.plan import Plan
from planner.plan.progress import Progress, ProgressError
from planner.plan.went import day_as_it_went
from planner.trade.units import show_minutes

MOST_OFFERS = 4
"""So many are offered, those with the least work first."""

MOST_TRIED = 12
"""So many are tried."""

A_NIGHT = 14 * 60
"""Minutes from one day's work to the next."""


@dataclass(frozen=True)
class Offer:
    """Stages that can be given up together; when the van is then home, and how much sooner that is.

    ``sooner`` is None where nothing fits without giving something up; ``late`` is what is still missing.
    """

    stages: tuple[Named, ...]
    home: int
    sooner: int | None
    late: int

    @property
    def saves(self) -> str:
        """What it saves, in words."""
        saved = "" if self.sooner is None else f", {show_minutes(self.sooner)} sooner"
        return saved + (f", still {show_minutes(self.late)} late" if self.late > 0 else "")


def what_to_give_up(day: Day, plan: Plan, progress: Progress) -> list[Offer]:
    """What can be given up for today, the least work first; what must be done on one day is given up together.

    Parameters
    ----------
    day, plan
        The day as its file says, and the plan that it went by.
    progress
        What was told of it.

    Raises
    ------
    ProgressError
        When the record does not go with the day and the plan.
    """
    now = first_rest(day, plan, progress)
    found: list[Offer] = []
    for stages in _candidates(day, plan, progress):
        offered = progress
        for stage in stages:
            offered = offered.without(*stage)
        try:
            rest = first_rest(day, plan, offered)
        except ProgressError:
            continue
        if rest is None or (now is not None and rest.home >= now.home):
            continue
        late = rest.home - latest_finish(day)
        found.append(Offer(stages, rest.home, None if now is None else now.home - rest.home, late))
        if len(found) == MOST_OFFERS or late <= 0:
            break
    return found


def _candidates(day: Day, plan: Plan, progress: Progress) -> Iterator[tuple[Named, ...]]:
    """Sets of stages still to come that nothing else needs, the least work first."""
    whole = with_pieces(day, progress)
    _, past = day_as_it_went(day, plan, progress)
    must = [(j, s) for j, s, _ in whole.stages() if cannot_be_done(whole, progress, j, s) and not past.is_begun(j, s)]
    tried: set[tuple[Named, ...]] = set()
    for left in stops(blocks_of(whole, A_NIGHT)):
        stages = tuple(dict.fromkeys(x for x in (*must, *left) if x not in progress.dropped))
        if not stages or stages in tried or any(past.is_begun(*x) for x in stages):
            continue
        tried.add(stages)
        yield stages
        if len(tried) == MOST_TRIED:
            return
