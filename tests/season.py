"""A simulated season: days under way, told of at random times, planned again, kept, killed and corrected.

``python -m tests.season --days 200 --seconds 2 --seed 1`` plays so many random days. On each, things slip, rain comes,
kit is missing, hands go home, work is given up, more is asked for, and what was said is taken back. After each telling
the rest is planned again. A rest that is called impossible is asked of again, in a model with more room and with no
promises, and what is offered is given up; one of which none was found is looked at again for ten times as long. Before
that, each day is also taken to go by its plan to two minutes of it, told and not told (`tests.engine.by_its_plan`). The
exit code is 1 when anything was raised, a plan broke a rule after now, a hand works who is not there, a record was lost
under a kill, a dwell ran over that could have been kept, a rest that was called impossible has a plan, what is left is
not read from its file as it is or has no plan, or of a day that went by its plan the rest breaks a rule of the day
itself, is worse than going on as planned, or better than the best there can be.
"""

import random
import sys
import tempfile
import traceback
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from planner import engine
from planner.day import Day
from planner.day.file import write_day
from planner.day.reading import read_day
from planner.engine import Result
from planner.engine.dominance import most_crossings
from planner.engine.ranking import Budget
from planner.engine.underway.replanning import Underway
from planner.engine.underway.rescue import without_promises
from planner.fit.giving_up import what_to_give_up
from planner.plan.another_day import left_for_another_day
from planner.plan.checker import broken_rules
from planner.plan.doubts import asked_of
from planner.plan.kept import Kept, holds_for, keep, read_kept
from planner.plan.pieces import with_pieces
from planner.plan.plan import Plan
from planner.plan.progress import NOTHING_TOLD, More, Noted, Progress, ProgressError
from planner.plan.told_items import told_items, with_causes
from planner.plan.waits import planned_waits
from planner.plan.went import day_as_it_went
from tests.engine.by_its_plan import answered_otherwise, instants, slips
from tests.engine.random_days import small, tiny
from tests.faults.kills import ended_at
from tests.long_run import Tally, told
from tests.long_run import asked_of as words_of
from tests.pasts import faults_of_past

TELLINGS = (2, 4)
"""So many times is told of a day, at the least and at the most."""

BY_PLAN = 2
"""At so many minutes each day is taken to have gone by its plan."""

GOES_ON = 0.3
"""In so many cases of one what is planned on the day is taken to go by that plan."""

MOST_INSTANTS = 14
"""A save is ended at one of its first instants at which it touches the disk."""


LONGER = 10
"""So many times as long is looked at what might have been found."""


@dataclass
class Season(Tally):
    """What happened; its faults say which day, which telling and what."""

    by_plan: int = 0
    told: int = 0
    asked: int = 0
    planned: int = 0
    impossible: int = 0
    given_up: int = 0
    none_found: int = 0
    found_later: int = 0
    impossible_later: int = 0
    refused_words: int = 0
    run_over: int = 0
    offered: int = 0
    kills: int = 0
    left: int = 0
    helpless: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        return (
            f"{self.days} days, {self.by_plan} rests of days that went by their plan; told of {self.told} times: "
            f"{self.asked} questions asked, {self.planned} planned again, "
            f"{self.impossible} called impossible; {self.none_found} with none found in time, by a longer look "
            f"{self.found_later} have a plan and {self.impossible_later} have none; {self.given_up} planned with less "
            f"than all; {self.refused_words} told to be otherwise; {self.run_over} dwells ran over, {self.offered} "
            f"less by what was offered; {self.kills} saves ended; {self.left} days of what was left; "
            f"{len(self.faults)} faults" + "".join(f"\n  nothing helps: {words}" for words in self.helpless)
        )


def season(days: int, seconds: float, seed: int, first: int = 0) -> Iterator[Season]:
    """Play so many random days; the counts after each."""
    counts = Season()
    for number in range(first, first + days):
        counts.days += 1
        with tempfile.TemporaryDirectory() as folder:
            Played(number, seed, seconds, Path(folder), counts).play()
        yield counts


class Played:
    """One day played from its plan on."""

    def __init__(self, number: int, seed: int, seconds: float, folder: Path, counts: Season) -> None:
        self.rng = random.Random(seed * 100_000 + number)
        self.name, self.seconds, self.counts = f"day {number} of seed {seed}", seconds, counts
        self.day: Day = (tiny, small)[number % 2](seed * 100_000 + number)
        self.file = folder / "day.toml"
        self.progress: Progress = NOTHING_TOLD
        self.let_be: set[str] = set()
        """What was told so that it could not be, and is settled so."""

    def play(self) -> None:
        """Plan it, tell of it, and see what comes of each telling."""
        plan = engine.plan_day(self.day, seconds=self.seconds, workers=1).plan
        if plan is None:
            return
        write_day(self.day, self.file)
        keep(self.file, self.day, Kept(plan))
        try:
            self._go_by_the_plan(plan)
        except Exception:
            self._fault(f"by its plan: {traceback.format_exc()}")
        at = plan.leaves - 10
        for n in range(self.rng.randint(*TELLINGS)):
            at = min(at + self.rng.randint(5, max(10, (plan.home - at) // 2)), plan.home + 30)
            self.counts.told += 1
            try:
                plan = self._told(plan, at)
            except Exception:
                self._fault(f"telling {n}: {traceback.format_exc()}")
                return

    def _go_by_the_plan(self, plan: Plan) -> None:
        """Plan the rest of the day as it is where nothing slips, and answer what is asked meanwhile as is likely."""
        for words in answered_otherwise(self.day, plan):
            self._fault(f"by its plan: {words}")
        rng, minutes = random.Random(self.name), instants(plan)
        for at in rng.sample(minutes, min(BY_PLAN, len(minutes))):
            all_of_it = rng.random() < 0.5
            self.counts.by_plan += 1
            for words in slips(self.day, plan, at, all_of_it=all_of_it, seconds=self.seconds):
                told = "all of it told" if all_of_it else "its stages told"
                self._fault(f"by its plan at {at}, {told}: {words}")

    def _go_on_by_the_plan(self, plan: Plan, since: Progress, went: Day) -> None:
        """Plan the rest again of some days where nothing slips from now on."""
        rng, minutes = random.Random(f"{self.name} at {since.at}"), [at for at in instants(plan) if at > since.at]
        for at in rng.sample(minutes, min(1, len(minutes))) if rng.random() < GOES_ON else ():
            self.counts.by_plan += 1
            for words in slips(self.day, plan, at, all_of_it=True, seconds=self.seconds, since=since, went=went):
                self._fault(f"planned at {since.at}, by that plan at {at}: {words}")

    def _told(self, plan: Plan, at: int) -> Plan:
        """Tell something, answer what is asked, plan the rest, keep it; the plan from then on."""
        told = self._something(plan, at)
        try:
            progress = with_causes(self.day, self.progress, self._answered(plan, told))
            went, past = day_as_it_went(self.day, plan, progress)
            found = faults_of_past(went, past.plan, progress)
            self.counts.faults += [f"{self.name} at {at}: {text}" for text in found if text not in self.let_be]
            self.let_be.update(faults_of_past(went, past.plan, progress, lets_be=False))
            result = self._rest(plan, progress)
        except ProgressError as fault:
            self.counts.refused_words += 1
            if "made anew" in str(fault):
                self._fault(f"told at {at}: {fault}")
            return plan
        self.counts.faults += [f"{self.name}: refused: {text}" for text in result.refused]
        if result.plan is None:
            progress, result = self._looked_again(plan, progress, result)
        if result.plan is None or result.day is None:
            return plan
        self.counts.planned += 1
        self._look_at(plan, progress, result)
        self._go_on_by_the_plan(result.plan, result.progress or progress, result.day)
        self.progress = result.progress or progress
        self._keep(result.plan)
        return result.plan

    def _looked_again(self, plan: Plan, progress: Progress, result: Result) -> tuple[Progress, Result]:
        """The record and the rest where there was no plan: by a longer look, or with what is offered given up."""
        at = progress.at
        if not result.is_impossible:
            self.counts.none_found += 1
            result = self._rest(plan, progress, longer=True)
            self.counts.found_later += result.plan is not None
            self.counts.impossible_later += result.is_impossible
            if not result.is_impossible:
                return progress, result
        else:
            self.counts.impossible += 1
        if self._can_be(plan, progress):
            self._fault(f"at {at}: called impossible, but has a plan: {'; '.join(result.conflict)}")
        offers = what_to_give_up(self.day, plan, progress)
        if not offers:
            self.counts.helpless.append(f"{self.name} at {at}: {'; '.join(result.conflict)}")
            return progress, result
        less = offers[0].on(progress)
        result = self._rest(plan, less)
        self.counts.given_up += result.plan is not None
        if result.plan is None:
            self._fault(f"at {at}: what is offered to be given up does not help: {result.summary()}")
        return less, result

    def _rest(self, plan: Plan, progress: Progress, *, longer: bool = False) -> Result:
        seconds, workers = (LONGER * self.seconds, 2) if longer else (self.seconds, 1)
        return engine.plan_rest(self.day, plan, progress, seconds=seconds, workers=workers)

    def _can_be(self, plan: Plan, progress: Progress) -> bool:
        """Whether a rest has a plan in a model with room for more crossings and stays, when no promise binds."""
        outset = Underway(self.day, plan, progress.as_told(), Budget(LONGER * self.seconds, 2, 1, False))
        problem, models = without_promises(outset.problem), outset.models
        row = max((most_crossings(problem, g, None) for g in range(len(problem.grounds))), default=1)
        v = models.model(problem, row + 2, stays=len(problem.activities))
        return models.solve(v, LONGER * self.seconds)[0] is not None

    def _answered(self, plan: Plan, progress: Progress) -> Progress:
        """The record with an answer to all that is asked: mostly the likely one."""
        for _ in range(40):
            asked = asked_of(self.day, plan, progress)
            if not asked:
                return progress
            self.counts.asked += 1
            replies = asked[0].replies
            for note in (reply.does for reply in replies if isinstance(reply.does, Noted)):
                if note.start is not None and note.end is not None and note.end <= note.start:
                    self._fault(f"told at {progress.at}: {note.stage} is offered as done in no minutes")
            reply = replies[0] if self.rng.random() < 0.7 else self.rng.choice(replies)
            progress = reply.on(progress)
        self._fault("what was answered is asked again and again")
        return progress

    # --- what is told -------------------------------------------------------------------------------------------

    def _something(self, plan: Plan, at: int) -> Progress:
        rng, said = self.rng, Progress(at, said=at)
        slip = rng.choice((0, 0, -4, 5, 15, 40))
        for work in plan.works:
            if work.start + slip < at and work.end > self.progress.at and rng.random() < 0.6:
                start, end = max(work.start + slip, 0), work.end + slip
                said = said.with_note(Noted(work.job, work.stage, min(start, at), end if end <= at else None))
        said = replace(said, at=at)
        for change in rng.sample([self._half, self._drop, self._rain, self._missing, self._hands, self._more], 2):
            if rng.random() < 0.5:
                said = change(plan, said)
        known = self.progress.as_told()
        if known.noted and rng.random() < 0.15:
            wrong = rng.choice(known.noted)
            known = replace(known.taken_back(wrong.job, wrong.stage), at=known.at)
        told = known.with_later(said) if known.is_under_way else said
        told = self._by_another(plan, self._corrected(plan, told))
        rng = random.Random(f"{self.name}: not so at {told.at}")
        items = list(told_items(self.day, told))
        return rng.choice(items).without if items and rng.random() < 0.15 else told

    def _corrected(self, plan: Plan, told: Progress) -> Progress:
        """What a hand did before a stage of theirs that is under way is told anew at times, or taken back."""
        rng = random.Random(f"{self.name}: corrected at {told.at}")
        open_ = [w for w in plan.works if (n := told.of(w)) is not None and n.start is not None and n.end is None]
        first = [w for w in plan.works if any(w.start < x.start and set(w.hands) & set(x.hands) for x in open_)]
        if not first or rng.random() < 0.6:
            return told
        wrong = rng.choice(first)
        if rng.random() < 0.3:
            return replace(told.taken_back(wrong.job, wrong.stage), at=told.at)
        over = min(wrong.end + rng.choice((-20, -5, 5, 15)), told.at)
        return told.with_note(Noted(wrong.job, wrong.stage, None, over))

    def _by_another(self, plan: Plan, told: Progress) -> Progress:
        """What was noted since the plan was made was at times done by another hand of two than planned."""
        rng = random.Random(f"{self.name}: by another at {told.at}")
        new = [n for n in told.noted if n not in self.progress.noted and not n.hands]
        alone = [n for n in new if (w := plan.work(n.job, n.stage)) is not None and len(w.hands) == 1]
        if len(self.day.hands) != 2 or not alone or rng.random() < 0.7:
            return told
        note = rng.choice(alone)
        work = plan.work(note.job, note.stage)
        hands = tuple(h for h in self.day.hands if work is None or h not in work.hands)
        return told.with_note(replace(note, hands=hands))

    def _half(self, plan: Plan, said: Progress) -> Progress:
        running = [n for n in said.noted if n.end is None]
        if not running:
            return said
        note = self.rng.choice(running)
        return replace(said.with_note(replace(note, end=said.at, part=self.rng.choice((0.25, 0.5, 0.75)))), at=said.at)

    def _drop(self, plan: Plan, said: Progress) -> Progress:
        work = self.rng.choice(plan.works) if plan.works else None
        known = {(j, s) for j, s, _ in self.day.stages()}
        return said if work is None or (work.job, work.stage) not in known else said.without(work.job, work.stage)

    def _rain(self, plan: Plan, said: Progress) -> Progress:
        rain = said.at + self.rng.choice((0, 30, 90))
        return replace(said, rain=rain, rain_until=self.rng.choice((None, rain + 60)))

    def _missing(self, plan: Plan, said: Progress) -> Progress:
        until = self.rng.choice((None, said.at + 25, said.at + 60))
        kind = self.rng.choice(("lacking", "run_out", "nobody_in"))
        known = {"lacking": self.day.kit, "run_out": self.day.materials, "nobody_in": self.day.jobs}[kind]
        return replace(said, **{kind: {self.rng.choice(list(known)): until}}) if known else said

    def _hands(self, plan: Plan, said: Progress) -> Progress:
        hand = self.rng.choice(list(self.day.hands))
        if len(self.day.hands) > 1 and self.rng.random() < 0.4:
            sooner = random.Random(f"{self.name}: {hand} gone by {said.at}").choice((0, 0, 20))
            return replace(said, gone={hand: said.at - sooner})
        return replace(said, back={hand: said.at + self.rng.choice((15, 40))})

    def _more(self, plan: Plan, said: Progress) -> Progress:
        job, stage, _ = self.rng.choice(self.day.stages())
        return replace(said, more=(More(job, stage, self.rng.choice((8, 20))),))

    # --- what must hold -----------------------------------------------------------------------------------------

    def _look_at(self, before: Plan, progress: Progress, result: Result) -> None:
        plan, day, at = result.plan, result.day, progress.at
        assert plan is not None
        assert day is not None
        for broken in broken_rules(day, plan, since=at):
            self._fault(f"at {at}: rule {broken.rule}: {broken.text}")
        self.counts.faults += [f"{self.name} at {at}: refused: {text}" for text in result.refused]
        begun = {(w.job, w.stage) for w in plan.works if w.start < at}
        for work in plan.works:
            for hand in work.hands if (work.job, work.stage) not in begun else ():
                if work.end > max(progress.gone.get(hand, 10**6), at):
                    self._fault(f"at {at}: {hand} has gone and does {work.stage}")
                if work.start < progress.back.get(hand, 0):
                    self._fault(f"at {at}: {hand} is not there yet and does {work.stage}")
        over = () if result.progress is None else result.progress.over
        self.counts.run_over += len(over)
        for wait in over:
            self._could_be_kept(before, progress, wait.job, wait.before, _over(result, wait.job, wait.before))

    def _could_be_kept(self, before: Plan, progress: Progress, job: str, stage: str, late: int) -> None:
        """Whether a dwell that ran over could have been kept, or more of it, by giving up all else that can be.

        Then what to give up must have been offered; and a search of ten times as long finds nothing better without.
        What two stages in a row ask, and is no dwell, holds on one day: nothing between them can be given up.
        """
        waits = with_pieces(self.day, progress).jobs[job].waits
        if not any(wait.kind == "dwell" for wait in waits if wait.before == stage):
            return
        alone = progress
        begun = {(n.job, n.stage) for n in progress.noted}
        for work in before.works:
            here = (work.job, work.stage)
            if here not in begun and here != (job, stage) and work.start >= progress.at:
                alone = alone.without(*here)
        try:
            if asked_of(self.day, before, alone):  # not all of it may be given up
                return
            other = engine.plan_rest(self.day, before, alone, seconds=self.seconds, workers=1)
        except (ProgressError, ValueError):
            return
        if other.plan is None or other.progress is None:
            return
        least = _over(other, job, stage)
        if least >= late:
            return
        longer = self._rest(before, progress, longer=True)
        better = late if longer.plan is None else _over(longer, job, stage)
        if better < late:
            self._fault(f"at {progress.at}: {job}.{stage} is {late} minutes late, {better} by a longer search")
        if any(offer.on_less for offer in what_to_give_up(self.day, before, progress)):
            self.counts.offered += 1
        else:
            self._fault(f"at {progress.at}: {job}.{stage} is {late} minutes late, {least} were enough: not offered")

    def _keep(self, plan: Plan) -> None:
        """Keep it, the save ended at a random instant first; what is read then is as before or as after."""
        before = read_kept(self.file)
        assert before is not None
        new = Kept(plan, self.progress, before.seen)
        if ended_at(lambda: keep(self.file, self.day, new), self.rng.randint(1, MOST_INSTANTS)) is None:
            self.counts.kills += 1
        found = read_kept(self.file)
        if found is None or (found.plan, found.progress) not in ((before.plan, before.progress), (plan, self.progress)):
            self._fault("a save that was ended left neither the record before nor the one after")
        if found is not None:
            keep(self.file, self.day, replace(new, seen=found.seen))
        found = read_kept(self.file)
        if found is None or holds_for(found, self.day) is None:
            self._fault(f"at {self.progress.at}: what is kept does not hold for its own day")
        left = left_for_another_day(self.day, plan, self.progress)
        if left is not None and self.rng.random() < 0.3:
            self.counts.left += 1
            file = write_day(left, self.file.with_name("left.toml"))
            if read_day(file) != left:
                self._fault(f"at {self.progress.at}: what is left is another day when it is read from its file")
            if engine.plan_day(left, seconds=self.seconds, workers=1).plan is None:
                self._fault(f"at {self.progress.at}: what is left is a day without a plan")

    def _fault(self, words: str) -> None:
        self.counts.faults.append(f"{self.name}: {words}")


def _over(result: Result, job: str, stage: str) -> int:
    """By how many minutes the waits before a stage run over in a plan of the rest; by the plan where nobody knows."""
    over = [] if result.progress is None else [o for o in result.progress.over if (o.job, o.before) == (job, stage)]
    if any(o.minutes is None for o in over) and result.plan is not None and result.day is not None:
        waits = [run for run in planned_waits(result.day, result.plan) if run.second is not None]
        return max((run.late for run in waits if (run.job, run.wait.before) == (job, stage)), default=0)
    return max((o.minutes or 0 for o in over), default=0)


def main() -> int:
    """Play and print."""
    return told(season, words_of("season", __doc__, days=200, seconds=2.0), every=10)


if __name__ == "__main__":
    sys.exit(main())
