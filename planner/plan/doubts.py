"""What must be known before the rest of a day can be planned: it is asked, with the likely answer, never filled in.

A stage that must have happened for what was told to be so, or by the plan and the clock; one that was begun and whose
hands have gone on, or one told to be over after they went home; one that cannot be done any more, or where the van
should have gone; covers that are up while more is to be done of what they were for; a chemical that would stay on.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import reduce
from itertools import combinations
from typing import Literal

from planner.day import Day, Job
from planner.day.following import later_stages
from planner.day.names import Names
from planner.plan.happening import HURRIED
from planner.plan.hindered import NEVER, cannot_be_done, hindrances, needs_it_just_before, standing
from planner.plan.past import NOT_YET, Past
from planner.plan.pieces import MORE, REST, pieces_covered, with_all_given_up, with_pieces
from planner.plan.plan import Plan, Visit, Work
from planner.plan.progress import More, Noted, Progress
from planner.plan.went import day_as_it_went
from planner.trade.units import show_clock


@dataclass(frozen=True, slots=True)
class Arrived:
    """When the van got, or will get, to a job."""

    job: str
    minute: int


@dataclass(frozen=True, slots=True)
class Gone:
    """When a hand went home."""

    hand: str
    minute: int


@dataclass(frozen=True, slots=True)
class GivenUp:
    """Stages of a job that are given up for today together."""

    stages: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reply:
    """One answer to a question: what it says, and what is then noted of which stage.

    ``does`` is a note, more that is to be done of it, where the van has gone on to, when a hand went home, what is
    given up together, or that the stage was not begun yet, is given up, is not given up after all, or that its covers
    have not been taken up.
    """

    words: str
    job: str
    stage: str
    does: Noted | More | Arrived | Gone | GivenUp | Literal["not yet", "given up", "kept", "not up"]

    def on(self, progress: Progress) -> Progress:
        """The record with this answer in it."""
        if isinstance(self.does, Noted):
            return progress.with_note(self.does)
        if isinstance(self.does, More):
            return progress.with_more(self.does)
        if isinstance(self.does, Arrived):
            return replace(progress, arrived=progress.arrived | {self.does.job: self.does.minute})
        if isinstance(self.does, Gone):
            return replace(progress, gone=progress.gone | {self.does.hand: self.does.minute})
        if isinstance(self.does, GivenUp):
            return reduce(lambda record, stage: record.without(self.job, stage), self.does.stages, progress)
        if self.does == "not yet":
            return progress.with_not_yet(self.job, self.stage)
        if self.does == "given up":
            return progress.without(self.job, self.stage)
        if self.does == "not up":
            return progress.with_not_up(self.job, self.stage)
        return progress.kept_on(self.job, self.stage)


@dataclass(frozen=True, slots=True)
class Doubt:
    """A question, and its answers: the likely one first."""

    words: str
    replies: tuple[Reply, ...]

    @property
    def likely(self) -> Reply:
        """The answer that is offered."""
        return self.replies[0]


def asked_of(day: Day, plan: Plan, progress: Progress) -> tuple[Doubt, ...]:
    """What must be known before the rest can be planned, of a day as its file says and the plan that it went by.

    Raises `ProgressError` when the record does not go with the day and the plan.
    """
    went, past = day_as_it_went(day, plan, progress)
    whole = with_pieces(day, progress)
    progress = with_all_given_up(whole, progress)
    asked = [*_who_had_gone(whole, past, progress), *_what_happened(whole, plan, past, progress)]
    asked += _what_was_at_once(whole, past, progress)
    asked += _what_cannot_be(whole, past, progress)
    asked += _where_the_van_is(whole, past, progress)
    asked += [*_what_was_left(whole, past, progress), *_what_lost_its_kit(whole, past, progress)]
    asked += _what_still_lies(whole, past)
    asked += _what_is_up(whole, past, progress)
    return (*asked, *_what_stays_on(whole, went, past, progress))


def with_likely(day: Day, plan: Plan, progress: Progress) -> Progress:
    """The record with the likely answer to all that is asked, and to what is asked then."""
    for _ in range(4 * len(day.stages()) + 4):
        asked = asked_of(day, plan, progress)
        if not asked:
            return progress
        progress = asked[0].likely.on(progress)
    return progress


def _what_happened(day: Day, plan: Plan, past: Past, progress: Progress) -> Iterator[Doubt]:
    names = Names(day)
    assumed = [work for stage in past.assumed if (work := past.plan.work(*stage)) is not None]
    for work in (*assumed, *_due(day, plan, past, progress)):
        job, stage, note = work.job, work.stage, progress.of(work)
        name = names.stage(job, stage)
        not_yet, given_up = Reply("Not yet", job, stage, "not yet"), Reply("Not today", job, stage, "given up")
        when = f"{show_clock(work.start)} to {show_clock(work.end)}"
        done = Reply(f"Done, {when}", job, stage, Noted(job, stage, work.start, work.end))
        took, usual = work.end - work.start, day.jobs[job].likely_minutes(stage, work.method)
        if note is not None:
            words = f"'{name}' was begun at {show_clock(work.start)}, and there was other work since: is it done?"
            yield Doubt(words, (done if took else not_yet, given_up))
            continue
        # Where what was told leaves no minute for it, it is not offered as done: its time would be invented.
        is_unlikely = took < HURRIED * usual or _is_behind(plan, progress, work)
        first, then = (not_yet, done) if is_unlikely else (done, not_yet)
        replies = (first, then, given_up) if took else (not_yet, given_up)
        told = _told_after(plan, progress, work)
        why = "should be done by now" if told is None else f"comes before '{names.stage(*told)}', of which you told"
        yield Doubt(f"'{name}' {why}: is it done?", replies)


def _due(day: Day, plan: Plan, past: Past, progress: Progress) -> Iterator[Work]:
    """What should be over by now had all hands gone on by the plan, but for what cannot have been done before something
    of which it was told now that it is not begun yet."""
    waits = {(said.job, said.stage) for said in progress.not_yet if said.by == progress.at}
    later = {(j, s) for j, stage in waits if j in day.jobs for s in later_stages(day.jobs[j]).get(stage, ())}
    yield from (w for w in past.due if not past.is_begun(w.job, w.stage) and (w.job, w.stage) not in later)


def _is_behind(plan: Plan, progress: Progress, work: Work) -> bool:
    """Whether a hand of a stage was told now not to have begun something that the plan has before it."""
    waits = {(said.job, said.stage) for said in progress.not_yet if said.by == progress.at}
    planned = plan.work(work.job, work.stage) or work
    before = [w for w in plan.works if (w.job, w.stage) in waits and w.start <= planned.start]
    return any(not set(w.hands).isdisjoint(work.hands) for w in before)


def _told_after(plan: Plan, progress: Progress, work: Work) -> tuple[str, str] | None:
    """The stage that was told of, without which nobody would ask yet: the next one after a work by its plan."""
    planned = plan.work(work.job, work.stage)
    if planned is None or planned.end <= progress.at:
        return None
    told = [w for w in plan.works if w.start >= planned.start and w != planned and progress.of_stage(w.job, w.stage)]
    first = min(told, key=lambda w: (w.job != work.job, w.start), default=None)
    return None if first is None else (first.job, first.stage)


def _what_was_at_once(day: Day, past: Past, progress: Progress) -> Iterator[Doubt]:
    """Two stages of one hand that were told so that the one was begun before the other was over, or took no time."""
    names = Names(day)
    works = sorted(past.plan.works, key=lambda w: (w.start, w.end))
    told = [(w, progress.of(w) or _by_the_record(w)) for w in works]
    for (one, first), (other, second) in combinations(told, 2):
        if other.start >= one.end or set(one.hands).isdisjoint(other.hands) or first.end is None:
            continue
        if progress.of(one) is progress.of(other) is None:
            continue
        words = [f"'{names.stage(w.job, w.stage)}'" for w in (one, other)]
        replies = []
        seen_to = [c.start for c in past.plan.chores if one.start < c.start and not set(one.hands).isdisjoint(c.hands)]
        over = min([other.start, *seen_to])
        if over > one.start:
            sooner = replace(first, end=over)
            replies.append(Reply(f"{words[0]} done at {show_clock(over)}", one.job, one.stage, sooner))
        if other.end > one.end:
            later = replace(second, start=one.end)
            replies.append(Reply(f"{words[1]} begun at {show_clock(one.end)}", other.job, other.stage, later))
        replies.append(Reply(f"{words[1]} not yet", other.job, other.stage, "not yet"))
        who = names.hand(next(h for h in one.hands if h in other.hands))
        if progress.of(other) is None:  # what was told holds rather than what nobody said
            replies = [*replies[1:], *replies[:1]]
        until = f"was {'told to be ' if progress.of(one) else ''}over at {show_clock(one.end)}"
        since = f"{words[1]} by {show_clock(other.end)}" if other.end < NOT_YET else words[1]
        yield Doubt(f"{words[0]} {until}, and {since}: {who} cannot have done both at once", tuple(replies))


def _by_the_record(work: Work) -> Noted:
    """What nobody said of a stage, as the plan's own record has it."""
    return Noted(work.job, work.stage, work.start, work.end if work.end < NOT_YET else None)


def _where_the_van_is(day: Day, past: Past, progress: Progress) -> Iterator[Doubt]:
    """Stages still to come at a job that the van has left by the clock alone, or where it has turned home."""
    names, by_clock = Names(day), dict(past.left)
    for job in day.jobs:
        left = [s for j, s, stage in day.stages() if j == job and not stage.only_if_needed and not past.is_begun(j, s)]
        left = [s for s in left if (job, s) not in progress.dropped] if past.is_left(job) else []
        for stage in left[:1]:
            name = names.stage(job, stage)
            given_up = Reply("Not today", job, stage, "given up")
            if job in by_clock:
                still = Reply("Still there", job, stage, "not yet")
                on = next((v for v in past.plan.visits if v.arrive > by_clock[job]), None)
                gone = () if on is None else (_gone_on(names, on, job, stage),)
                words = (
                    f"'{name}' is still to come, and the van should have left at {show_clock(by_clock[job])}: has it?"
                )
                yield Doubt(words, (still, *gone, given_up))
            elif past.is_homeward:
                yield Doubt(f"'{name}' cannot be done: the van has turned home", (given_up,))


def _gone_on(names: Names, on: Visit, job: str, stage: str) -> Reply:
    words = f"It has: at {names.job(on.job)} {show_clock(on.arrive)}"
    return Reply(words, job, stage, Arrived(on.job, on.arrive))


def _who_had_gone(day: Day, past: Past, progress: Progress) -> Iterator[Doubt]:
    """Hands who were told to have gone home before something of theirs was over."""
    names = Names(day)
    for hand, minute in progress.gone.items():
        works = [w for w in past.plan.works if hand in w.hands and minute < w.end < NOT_YET]
        works = [w for w in works if (w.job, w.stage) not in past.assumed]  # that is asked already
        if minute > progress.at or not works:
            continue
        who, first, last = names.hand(hand), works[0], max(works, key=lambda w: w.end)
        job, stage, name = first.job, first.stage, names.stage(first.job, first.stage)
        left = max(last.end, min(progress.at, last.end + _way_out(day.jobs[last.job], last.stage)))
        over = minute - _way_out(day.jobs[job], stage)
        sooner = Noted(job, stage, first.start, over)
        what = Reply(f"Done, {show_clock(over)}", job, stage, sooner) if first.start < over else None
        then = Reply(f"{who} went home at {show_clock(left)}", job, stage, Gone(hand, left))
        words = f"{who} was told to have gone home at {show_clock(minute)}, and '{name}' of theirs to be over at"
        replies = [then, what or Reply(f"'{name}' not yet", job, stage, "not yet")]
        others = [h for h in day.hands if h not in first.hands and progress.gone.get(h, NOT_YET) >= first.end]
        for other in others[:1]:
            by = tuple(other if h == hand else h for h in first.hands)
            theirs = Noted(job, stage, first.start, first.end, hands=by)
            replies.insert(0, Reply(f"{names.hand(other)} did it", job, stage, theirs))
        yield Doubt(f"{words} {show_clock(first.end)}: which is so?", tuple(replies))


def _what_was_left(day: Day, past: Past, progress: Progress) -> Iterator[Doubt]:
    """Stages under way by a hand who drives off for something, or has gone home."""
    names = Names(day)
    left = [
        (f"{names.hand(x.hand)} drives for {names.kit(x.kit)}", x.hand, x.leaves)
        for x in progress.fetches
        if x.leaves >= progress.settled
    ]
    left += [
        (f"{names.hand(hand)} went home", hand, minute)
        for hand, minute in progress.gone.items()
        if minute <= progress.at
    ]
    for who, hand, minute in left:
        for work in past.plan.works:
            if work.end == NOT_YET and hand in work.hands:
                walk = _way_out(day.jobs[work.job], work.stage)
                words = f"'{names.stage(work.job, work.stage)}' was under way when {who}: is it done?"
                done = _done_by(work, minute - walk) or Reply("Not yet", work.job, work.stage, "not yet")
                replies = (done, Reply("Not today", work.job, work.stage, "given up"))
                yield Doubt(words, replies)


def _what_lost_its_kit(day: Day, past: Past, progress: Progress) -> Iterator[Doubt]:
    """Stages under way by kit that is broken, or by water or current that is not there after all.

    It is likely done where half of its time is over. A treatment is not begun anew: some of it is on.
    """
    names, told = Names(day), replace(progress, gone={}, nobody_in={}, run_out={}, behind=())
    for work in past.plan.works:
        job, stage = work.job, work.stage
        lost = hindrances(day, told, job, stage).get(work.method) if work.end == NOT_YET else None
        if lost is None:
            continue
        replies = [Reply("Not today", job, stage, "given up")]
        is_on = any(wait.kind == "dwell" and wait.after == stage for wait in day.jobs[job].waits)
        if lost.until < NEVER and not is_on:
            replies.insert(0, Reply(f"Begun anew, from {show_clock(lost.until)}", job, stage, "not yet"))
        usual = day.jobs[job].likely_minutes(stage, work.method)
        is_likely = progress.at - work.start >= HURRIED * usual
        if (done := _done_by(work, progress.at)) is not None:
            replies.insert(0 if is_likely else len(replies), done)
        words = f"'{names.stage(job, stage)}' was under way, and {lost.why}: is it done?"
        yield Doubt(words, tuple(replies))


def _done_by(work: Work, minute: int) -> Reply | None:
    """That a stage under way was over by a minute; None where that would be in no minutes."""
    done = Noted(work.job, work.stage, work.start, minute)
    words = f"Done, {show_clock(minute)}"
    return Reply(words, work.job, work.stage, done) if minute > work.start else None


def _way_out(job: Job, stage: str) -> int:
    """So many minutes whoever goes home walks from where a stage is done to the van."""
    way = job.grounds[job.ground_of(stage)].way_in
    return 0 if way.is_open else way.minutes


def _what_still_lies(day: Day, past: Past) -> Iterator[Doubt]:
    names = Names(day)
    for job, stage in past.lying:
        lies = Reply("It still lies", job, stage, "not up")
        gone = Reply("It is up: lay it again", job, stage, "not yet")
        words = f"What '{names.stage(job, stage)}' laid should be up by now, and what it is for is still to come"
        yield Doubt(f"{words}: does it still lie?", (lies, gone))


def _what_is_up(day: Day, past: Past, progress: Progress) -> Iterator[Doubt]:
    """The rest of a stage, or more of it, that is still to come, with what covered for it taken up by the clock."""
    names, asked = Names(day), set()
    for cover in past.plan.works:
        job, key = day.jobs[cover.job], cover.stage.removesuffix(REST)
        left = [x for x in pieces_covered(job, cover.stage) if not past.is_begun(cover.job, x)]
        left = [x for x in left if (cover.job, x) not in progress.dropped]
        if not left or (cover.job, key) in asked or not (_taken_up(day, past, cover) or _is_gone(day, past, cover)):
            continue
        asked.add((cover.job, key))
        replies = []
        if not key.endswith(MORE):  # once more is all that a record can say
            laid = [x for x in (key, key + REST) if x in job.stages]
            minutes = sum(min(job.likely_minutes(x, m) for m in job.stages[x].methods) for x in laid)
            replies.append(Reply("It is up: lay it again", cover.job, key, More(cover.job, key, max(1, minutes))))
        if any(not progress.is_not_up(cover.job, cover.stage, minute) for minute in _taken_up(day, past, cover)):
            replies.append(Reply("It still lies", cover.job, cover.stage, "not up"))
        replies += [Reply(f"'{names.stage(cover.job, x)}' not today", cover.job, x, "given up") for x in left]
        words = f"'{names.stage(cover.job, left[0])}' needs what '{names.stage(cover.job, key)}' laid"
        yield Doubt(f"{words}, which should be up by now: is it?", tuple(replies))


def _taken_up(day: Day, past: Past, cover: Work) -> list[int]:
    """When what a stage laid was packed down."""
    place = (cover.job, day.jobs[cover.job].ground_of(cover.stage))
    packed = [c for c in past.plan.chores if c.what == "pack down" and (c.job, c.ground) == place]
    return [c.start for c in packed if (c.kit, c.stay) in cover.stays]


def _is_gone(day: Day, past: Past, cover: Work) -> bool:
    """Whether what a stage laid was carried off."""
    place = (cover.job, day.jobs[cover.job].ground_of(cover.stage))
    gone = [s for s in past.plan.stays if s.carried_out < NOT_YET and (s.job, s.ground) == place]
    return any((s.kit, s.number) in cover.stays for s in gone)


def _what_cannot_be(day: Day, past: Past, progress: Progress) -> Iterator[Doubt]:
    """Stages that cannot be done today; what has to begin within so long after one, as it wets for it, goes with it."""
    names, with_another = Names(day), set[tuple[str, str]]()
    for job, stage, said in day.stages():
        if (job, stage) in progress.dropped or past.is_begun(job, stage) or said.only_if_needed:
            continue
        why = cannot_be_done(day, progress, job, stage, standing(past.plan))
        if not why or (job, stage) in with_another:
            continue
        name, alone = names.stage(job, stage), Reply("Not today", job, stage, "given up")
        after = [s for s in needs_it_just_before(day.jobs[job], stage) if not past.is_begun(job, s)]
        after = [s for s in after if (job, s) not in progress.dropped]
        if not after:
            yield Doubt(f"'{name}' cannot be done: {why}", (alone,))
            continue
        with_another |= {(job, s) for s in after}
        next_one = f"'{names.stage(job, after[0])}'"
        words = f"Not today, nor {next_one}{' and what follows it' if len(after) > 1 else ''}"
        both = Reply(words, job, stage, GivenUp((stage, *after)))
        rest = replace(alone, words=f"Not today, but {next_one} is done without")
        yield Doubt(f"'{name}' cannot be done: {why}; {next_one} comes just after it", (both, rest))


def _took_off(past: Past, job: str, first: str, end: str) -> bool:
    """Whether what one stage put on came off by another, over before it was put on or not."""
    put_on, off = past.plan.work(job, first), past.plan.work(job, end)
    return off is not None and (put_on is None or put_on.start < off.end)


def _what_stays_on(day: Day, went: Day, past: Past, progress: Progress) -> Iterator[Doubt]:
    """What is on and would not come off, as the stage that takes it off is given up."""
    names = Names(day)
    for job, stage in progress.dropped:
        if job not in day.jobs or stage not in day.jobs[job].stages:
            continue
        kept_on = Reply("It is done after all", job, stage, "kept")
        off = Reply(f"It is off since {show_clock(progress.at)}", job, stage, Noted(job, stage, None, progress.at))
        for wait in day.jobs[job].waits:
            first = wait.after
            if wait.before != stage or wait.kind != "dwell" or first not in day.jobs[job].stages:
                continue
            ended_by = [w.before for w in day.jobs[job].waits if w.after == first and w.kind == "dwell"]
            if any(b and _took_off(past, job, first, b) for b in ended_by):
                continue
            name, then = names.stage(job, first), names.stage(job, stage)
            if past.is_begun(job, first):
                words = f"What '{name}' left is on, and '{then}' takes it off"
                why = cannot_be_done(day, progress, job, stage, standing(past.plan))
                if why:
                    yield Doubt(f"{words}, but {why}: it must come off another way: is it off?", (off,))
                else:
                    yield Doubt(f"{words}: it cannot stay", (kept_on, off))
            elif job in went.jobs and first in went.jobs[job].stages:
                both = Reply(f"'{name}' not today either", job, first, "given up")
                yield Doubt(f"What '{name}' puts on would stay on without '{then}'", (both, kept_on))
