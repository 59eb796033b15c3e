"""What can be given up for today on a day under way, without leaving harm behind, and what each saves."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import chain

from planner.day import Day
from planner.day.following import next_stages
from planner.day.names import Names, listed
from planner.engine import Result, first_rest
from planner.fit.stops import Block, Named, blocks_of, holds_overnight, stops, what_must_come_off
from planner.plan.another_day import left_for_another_day, what_it_takes
from planner.plan.hindered import cannot_be_done, standing
from planner.plan.measures import latest_finish
from planner.plan.past import NOT_YET, Past
from planner.plan.pieces import MORE, REST, given_up_with, with_pieces
from planner.plan.plan import Plan
from planner.plan.progress import Progress, ProgressError
from planner.plan.waits import planned_waits
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

    ``sooner`` is None where nothing fits without giving something up; ``late`` is what is still missing. ``on_less`` is
    by how many minutes less what is on stays on too long, ``kept_better`` by how many minutes less promises are
    broken, ``kept_again`` how many fewer are given up. ``takes`` is what the work that is left takes on another day:
    kit and materials. ``behind`` is kit (job, kit) that stays, as those who are there cannot carry it. ``unfinished``
    are the names of stages that are begun, of which what should soon follow is given up.
    """

    stages: tuple[Named, ...]
    home: int
    sooner: int | None
    late: int
    on_less: int = 0
    kept_better: int = 0
    kept_again: int = 0
    takes: tuple[str, ...] = ()
    behind: tuple[Named, ...] = ()
    unfinished: tuple[str, ...] = ()

    def on(self, progress: Progress) -> Progress:
        """The record with it given up."""
        return _without(_leaving(progress, self.behind), self.stages)

    def what(self, day: Day, progress: Progress, *, mark: str = "") -> str:
        """What is given up, in words, the names of stages between such marks."""
        names = Names(with_pieces(day, progress))
        said = [f"{names.kit(kit)} stays at {names.job(job)}" for job, kit in self.behind]
        return listed([*said, *(f"{mark}{names.stage(*stage)}{mark}" for stage in self.stages)])

    @property
    def saves(self) -> str:
        """What it saves, in words, what harms first."""
        saved = f", what is on comes off {show_minutes(self.on_less)} sooner" if self.on_less > 0 else ""
        saved += ", there is a way to what was promised" if self.kept_again > 0 else ""
        saved += f", {show_minutes(self.kept_better)} less over what was promised" if self.kept_better > 0 else ""
        if self.sooner is not None and self.sooner:
            saved += f", {show_minutes(abs(self.sooner))} {'sooner' if self.sooner > 0 else 'later'}"
        return saved + (f", still {show_minutes(self.late)} late" if self.late > 0 else "")

    @property
    def tomorrow(self) -> str:
        """What it means for another day, in words."""
        if self.behind and not self.takes:
            return "it is fetched on another day, with enough hands"
        takes = f"another day takes {', '.join(self.takes)}" if self.takes else "another day takes nothing but hands"
        if self.unfinished:
            takes += f"; what {listed(list(self.unfinished))} left may have to come out again first"
        return takes


@dataclass(frozen=True)
class _Harm:
    """How much of a rest is amiss: minutes that what is on stays on too long, promises given up and broken, to home."""

    on: int
    given_up: int
    promised: int
    home: int

    @property
    def is_harm(self) -> bool:
        """Whether anything but the hour of coming home is amiss."""
        return bool(self.on or self.given_up or self.promised)

    def is_better(self, other: "_Harm", finish: int) -> bool:
        """Whether less is amiss; to be home sooner is of use where it is too late, or nothing else is amiss."""
        own, others = ((x.on, x.given_up, x.promised) for x in (self, other))
        if own != others:
            return own < others
        is_asked = other.home > finish or not other.is_harm
        return is_asked and self.home < other.home


def what_to_give_up(day: Day, plan: Plan, progress: Progress) -> list[Offer]:
    """What can be given up for today, the least work first; what must be done on one day is given up together.

    What takes off sooner what is on comes before the rest. Where there is no plan with all of it, the first that can be
    given up so that there is one; kit that nobody can carry out any more stays where it is. The day is as its file
    says, the plan the one it went by.
    Raises `ProgressError` when the record does not go with them.
    """
    now = _harm(first_rest(day, plan, progress))
    behind = _too_heavy(day, plan, progress) if now is None else ()
    found: list[Offer] = []
    progress = _leaving(progress, behind)
    sets = _candidates(day, plan, progress, has_harm=now is not None and now.is_harm)
    alone = [()] if behind else list[tuple[Named, ...]]()
    for stages in chain(alone, _that_stand_in_the_way(day, plan, progress) if now is None else (), sets):
        if any(set(stages) == set(offer.stages) for offer in found):
            continue
        offered = _without(progress, stages)
        rest = _rest(day, plan, offered)
        then = None if rest is None else _harm(rest)
        if rest is None or rest.plan is None or then is None:
            continue
        if now is not None and not then.is_better(now, latest_finish(day)):
            continue
        found.append(replace(_offer(day, stages, rest.plan, offered, now, then), behind=behind))
        if len(found) == MOST_OFFERS or (found[-1].late <= 0 and not then.is_harm):
            break
    return sorted(found, key=lambda offer: (-offer.on_less, -offer.kept_again, -offer.kept_better))


def _too_heavy(day: Day, plan: Plan, progress: Progress) -> tuple[Named, ...]:
    """Kit on the grounds (job, kit) that takes more hands to carry than are sure to be there to the end, if any is."""
    here = sum(hand not in progress.gone and not day.hands[hand].own_transport for hand in day.hands)
    _, past = day_as_it_went(day, plan, progress)
    standing = [s for s in past.plan.stays if s.carried_out == NOT_YET and day.kit[s.kit].lift > here > 0]
    return tuple(dict.fromkeys((s.job, s.kit) for s in standing))


def _leaving(progress: Progress, behind: Iterable[Named]) -> Progress:
    for job, kit in behind:
        progress = progress.with_behind(job, kit)
    return progress


def _without(progress: Progress, stages: Iterable[Named]) -> Progress:
    for stage in stages:
        progress = progress.without(*stage)
    return progress


def _rest(day: Day, plan: Plan, progress: Progress) -> Result | None:
    try:
        return first_rest(day, plan, progress)
    except ProgressError:
        return None


def _harm(rest: Result) -> _Harm | None:
    if rest.plan is None or rest.progress is None or rest.day is None:
        return None
    late_by_plan = {(run.job, run.wait.after, run.wait.before): run.late for run in planned_waits(rest.day, rest.plan)}
    over = sum(
        late_by_plan.get((wait.job, wait.after, wait.before), 0) if wait.minutes is None else wait.minutes
        for wait in rest.progress.over
    )
    late = [minutes for minutes in rest.progress.promised.values() if minutes is not None]
    return _Harm(over, len(rest.progress.promised) - len(late), sum(late), rest.plan.home)


def _offer(day: Day, stages: tuple[Named, ...], rest: Plan, offered: Progress, now: _Harm | None, then: _Harm) -> Offer:
    left = left_for_another_day(day, rest, offered)
    return Offer(
        stages,
        rest.home,
        None if now is None else now.home - rest.home,
        rest.home - latest_finish(day),
        0 if now is None else now.on - then.on,
        0 if now is None or now.given_up != then.given_up else now.promised - then.promised,
        0 if now is None else now.given_up - then.given_up,
        () if left is None else what_it_takes(left),
        unfinished=tuple(_unfinished(with_pieces(day, offered), stages, rest)),
    )


def _unfinished(day: Day, stages: tuple[Named, ...], rest: Plan) -> Iterator[str]:
    """The names of what is done today of which what should soon follow, and is given up, does not."""
    names = Names(day)
    for key, job in day.jobs.items():
        for wait in job.waits:
            is_soon = wait.before is not None and not holds_overnight(wait, A_NIGHT)
            if is_soon and (key, wait.before) in stages and rest.work(key, wait.after):
                yield f"'{names.stage(key, wait.after)}'"


def _candidates(day: Day, plan: Plan, progress: Progress, *, has_harm: bool) -> Iterator[tuple[Named, ...]]:
    """Sets of stages still to come that nothing else needs, the least work first.

    Against harm, first the rest of what was left half done (so what is on comes off in time, and the rest is treated
    and washed by itself on another day), then what stands before the end of a running dwell, and at last all that can
    be given up.
    """
    whole = with_pieces(day, progress)
    _, past = day_as_it_went(day, plan, progress)
    there, to_come = standing(past.plan), [(j, s) for j, s, _ in whole.stages() if not past.is_begun(j, s)]
    must = [(j, s) for j, s in to_come if cannot_be_done(whole, progress, j, s, there)]
    blocks = blocks_of(whole, A_NIGHT)
    tried: set[tuple[Named, ...]] = set()
    against_harm = chain(_second_pieces(whole, progress, past), _before_what_runs(whole, blocks, past))
    sets = chain(against_harm if has_harm else (), stops(blocks))
    for left in sets:
        stages = tuple(dict.fromkeys(x for x in (*must, *left) if x not in progress.dropped))
        if not stages or stages in tried or any(past.is_begun(*x) for x in stages):
            continue
        tried.add(stages)
        yield stages
        if len(tried) == MOST_TRIED:
            break
    everything = tuple(x for x in _all_that_can_be(blocks, past) if x not in progress.dropped)
    if has_harm and everything and everything not in tried:
        yield everything


def _that_stand_in_the_way(day: Day, plan: Plan, progress: Progress) -> Iterator[tuple[Named, ...]]:
    """Of a rest that has no plan: what was asked for beyond the plan, the rest of what was left half done, what was
    passed over; then as little as is found.

    At first nothing is kept that can be given up; then half of the blocks, or half of that, wherever there is a plan.
    Where that does not help, what was asked for, left half done and passed over is given up with it; at last all
    but what takes off what is on: layers that should soon follow one that is in, and what is covered or begun for them.
    """
    whole = with_pieces(day, progress)
    _, past = day_as_it_went(day, plan, progress)
    second = (*_second_pieces(whole, progress, past), *((stage,) for stage in _passed_over(whole, past)))
    yield from (stages for stages in second if stages[0] not in progress.dropped)
    blocks = blocks_of(whole, A_NIGHT)
    free = _free(blocks, past)
    before = {n: {m for m in free if n in blocks[m].followers} for n in free}
    tried = 0

    def given_up(kept: set[int]) -> tuple[Named, ...]:
        stages = (*also, *(stage for n in sorted(free - kept) for stage in blocks[n].stages))
        return tuple(dict.fromkeys(stage for stage in stages if stage not in progress.dropped))

    def has_plan(kept: set[int]) -> bool:
        nonlocal tried
        tried += 1
        rest = _rest(day, plan, _without(progress, given_up(kept)))
        return rest is not None and rest.plan is not None

    def kept_with(kept: set[int], more: list[int], *, is_tried: bool = False) -> set[int]:
        more = [n for n in more if before[n] <= kept | set(more)]
        if not more or tried >= MOST_TRIED:
            return kept
        if not is_tried and has_plan(kept | set(more)):
            return kept | set(more)
        half = len(more) // 2
        return kept if not half else kept_with(kept_with(kept, more[:half]), more[half:])

    alone: tuple[Named, ...] = ()
    beyond = tuple(stage for stages in second for stage in stages)
    for also in (alone, beyond, (*beyond, *_that_only_should_follow(whole, past))):
        if (also or free) and has_plan(set()):
            yield given_up(kept_with(set(), sorted(free), is_tried=True))
            break


def _that_only_should_follow(day: Day, past: Past) -> Iterator[Named]:
    """What is still to come, but for what takes off a chemical that is on, and what comes before that."""
    for key, job in day.jobs.items():
        to_come = {stage for stage in job.stages if not past.is_begun(key, stage)}
        needed = {off for on, off in what_must_come_off(job) if on not in to_come and off in to_come}
        then = next_stages(job)
        while before := {first for first in to_come - needed if then[first] & needed}:
            needed |= before
        yield from ((key, stage) for stage in job.stages if stage in to_come - needed)


def _second_pieces(whole: Day, progress: Progress, past: Past) -> Iterator[tuple[Named, ...]]:
    """What was asked for beyond the plan, and the rest of what was left half done, where it is not begun.

    What only takes off a rest goes with it.
    """
    pieces = [(m.job, m.stage + MORE) for m in progress.more]
    pieces += [(n.job, n.stage + REST) for n in progress.noted if n.part is not None]
    for job, stage in pieces:
        if job in whole.jobs and not past.is_begun(job, stage):
            yield tuple((job, key) for key in given_up_with(whole.jobs[job], stage))


def _passed_over(day: Day, past: Past) -> Iterator[Named]:
    """Stages that are still to come though what follows them has begun: covers that were not laid."""
    for job, stage, _ in day.stages():
        follow = [s for s, other in day.jobs[job].stages.items() if stage in other.after]
        if not past.is_begun(job, stage) and any(past.is_begun(job, s) for s in follow):
            yield job, stage


def _before_what_runs(day: Day, blocks: list[Block], past: Past) -> Iterator[tuple[Named, ...]]:
    """For each dwell that runs: what must come before its end and is not begun, with what else follows that."""
    free = {n for n, block in enumerate(blocks) if not any(past.is_begun(*x) for x in block.stages)}
    of = {stage: n for n, block in enumerate(blocks) for stage in block.stages}
    for key, job in day.jobs.items():
        for wait in job.waits:
            runs = wait.kind == "dwell" and past.is_done(key, wait.after)
            if not runs or wait.before is None or past.is_begun(key, wait.before):
                continue
            end = of[key, wait.before]
            before = {n for n in free if end in _reached(blocks, n, without=None)}
            also = {m for n in before for m in _reached(blocks, n, without=end)} & free
            if before:
                yield tuple(stage for n in sorted(before | also) for stage in blocks[n].stages)


def _reached(blocks: list[Block], start: int, without: int | None) -> set[int]:
    """The blocks that follow one, directly or not, by ways that do not lead over another."""
    found, waiting = set[int](), [start]
    while waiting:
        new = blocks[waiting.pop()].followers - found - {without}
        found |= new
        waiting += new
    return found


def _all_that_can_be(blocks: list[Block], past: Past) -> Iterator[Named]:
    """All stages that can be given up at once."""
    return (stage for n in sorted(_free(blocks, past)) for stage in blocks[n].stages)


def _free(blocks: list[Block], past: Past) -> set[int]:
    """The blocks that can be given up at once: nothing of them is begun, nor is one that follows them kept."""
    free = {n for n, block in enumerate(blocks) if not any(past.is_begun(*x) for x in block.stages)}
    while kept := {n for n in free if not blocks[n].followers <= free}:
        free -= kept
    return free
