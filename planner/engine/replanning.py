"""Planning the rest of a day under way: the past is fixed, running waits keep their clocks, the rest is free."""

import threading
from collections.abc import Callable, Iterable
from dataclasses import replace

from planner.day import Day, Job, Method, Wait
from planner.engine.build import Index
from planner.engine.planning import Planning
from planner.engine.problem import Lag, Problem
from planner.engine.result import Result
from planner.engine.standing import Budget
from planner.engine.variables import Caps, Variables
from planner.plan.plan import Plan
from planner.plan.progress import NOT_YET, Past, Progress, past_of
from planner.trade.units import show_clock, show_minutes
from planner.trade.weather import HourOfWeather

RESCUE_SECONDS = 4.0
"""How long is spent on finding how late the first rinse can be, when a running dwell cannot be kept."""


class Replanning(Planning):
    """A day under way being planned again. Its plan is the whole day: what happened, and what is still to come."""

    def __init__(
        self,
        day: Day,
        plan: Plan,
        progress: Progress,
        budget: Budget,
        *,
        on_better: Callable[[Plan], None] | None = None,
        stop: threading.Event | None = None,
    ) -> None:
        self.progress = progress
        day = without_stages(with_rain(day, progress), progress.dropped)
        plan = without_works(plan, progress.dropped)
        self.past: Past = past_of(day, plan, progress)
        super().__init__(as_it_went(day, self.past), budget, previous=plan, on_better=on_better, stop=stop)
        self.since = progress.at
        self.serial = self.serial_measures = None
        self.problem = self._underway(self.problem)
        self.urgent = self._rescue()

    def run(self) -> Result:
        """Plan the rest of the day; what is urgent is said first."""
        return replace(super().run(), urgent=self.urgent, assumed=self.past.assumed)

    def _known(self) -> Plan | None:
        return None

    def adjust(self, variables: Variables) -> None:
        """Bind a model to what has happened."""
        from planner.engine.held import Held

        Held(self.day, self.past.plan, variables, self.progress)

    def least_caps(self) -> tuple[int, int]:
        """Restricted crossings already made, and the most stays of one kit on one ground already begun."""
        made = sum(self.day.jobs[c.job].grounds[c.ground].way_in.restricted for c in self.past.plan.crossings)
        return made, max((s.number for s in self.past.plan.stays), default=0) + 1

    def _underway(self, problem: Problem) -> Problem:
        """The problem without what the past has settled: rules between things that are over bind nobody."""
        stages = Index.of(self.day).stages
        over = {a for a, (job, stage) in enumerate(stages) if self.past.is_done(job, stage)}
        begun = {a for a, (job, stage) in enumerate(stages) if self.past.plan.work(job, stage) is not None}
        jobs = {v.job for v in self.past.plan.visits}
        return replace(
            problem,
            activities=tuple(
                replace(x, earliest=0, shut=() if a in begun else x.shut, start=None if a in begun else x.start)
                for a, x in enumerate(problem.activities)
            ),
            lags=tuple(x for x in problem.lags if not {x.first, x.second} <= begun),
            apart=tuple(pair for pair in problem.apart if not set(pair) <= begun),
            closed=tuple(
                replace(x, activities=tuple(a for a in x.activities if a not in over)) for x in problem.closed
            ),
            spoiling=tuple(x for x in problem.spoiling if not {x.maker, x.spoiled} <= begun),
            unmixable=tuple(x for x in problem.unmixable if not {x.one, x.other} <= begun),
            jobs=tuple(replace(j, arrive=None if j.name in jobs else j.arrive) for j in problem.jobs),
            opens=min(problem.opens, self.past.plan.leaves)
            if self.past.plan.drives
            else max(problem.opens, self.progress.at),
            fixed_start=False,
            hands=tuple(
                replace(
                    h, rest=None if h.rest is None else replace(h.rest, once_over=self._rest_limit(h.rest.once_over))
                )
                for h in problem.hands
            ),
        )

    def _rest_limit(self, once_over: int) -> int:
        """A break that is overdue is still owed: it may begin within the next half hour."""
        if not self.past.plan.drives or self.past.plan.rests:
            return once_over
        return max(once_over, self.progress.at - self.past.plan.leaves + 30)

    def _running(self) -> Iterable[tuple[Lag, int]]:
        """Waits with a most that run now, each with the minute at which its most is reached."""
        stages = Index.of(self.day).stages
        for lag in self.problem.lags:
            first = self.past.plan.work(*stages[lag.first])
            second = self.past.plan.work(*stages[lag.second])
            if first is None or first.end >= NOT_YET or second is not None:
                continue
            most = lag.most
            for since, _, step_most in lag.steps:
                most = step_most if first.end >= since else most
            if most is not None:
                yield lag, first.end + most

    def _rescue(self) -> tuple[str, ...]:
        """Words on every running wait with a most; one that cannot be kept runs over by the least there can be."""
        running = list(self._running())
        if not running:
            return ()
        late = self._least_lateness(running)
        words, lags = [], {id(lag): lag for lag in self.problem.lags}
        for (lag, deadline), over in zip(running, late, strict=True):
            name = self._stage_words(lag.second)
            if over:
                words.append(
                    f"{name} cannot be reached by {show_clock(deadline)}: {show_minutes(over)} too late at the soonest."
                    f" Wet it again or rinse it by hand now, before anything else."
                )
                most = (lag.most or 0) + over
                steps = tuple((s, least, None if m is None else m + over) for s, least, m in lag.steps)
                lags[id(lag)] = replace(lag, most=most if lag.most is not None else None, steps=steps)
                self._let_run_over(lag, over)
            else:
                words.append(f"{name} must begin by {show_clock(deadline)}.")
        self.problem = replace(self.problem, lags=tuple(lags.values()))
        return tuple(words)

    def _stage_words(self, a: int) -> str:
        job, stage = Index.of(self.day).stages[a]
        return f"{self.day.jobs[job].title or job}: '{self.day.jobs[job].stages[stage].name or stage}'"

    def _let_run_over(self, lag: Lag, over: int) -> None:
        """The day, too, allows the wait that can no longer be kept: the checker is to look at all the rest."""
        stages = Index.of(self.day).stages
        (job, after), (_, before) = stages[lag.first], stages[lag.second]

        def freed(wait: Wait) -> Wait:
            if (wait.after, wait.before) != (after, before) or wait.most is None:
                return wait
            steps = tuple(
                s.model_copy(update={"most": None if s.most is None else s.most + over}) for s in wait.by_hour
            )
            return wait.model_copy(update={"most": wait.most + over, "by_hour": steps})

        waits = tuple(freed(w) for w in self.day.jobs[job].waits)
        jobs = {**self.day.jobs, job: self.day.jobs[job].model_copy(update={"waits": waits})}
        self.day = self.day.model_copy(update={"jobs": jobs})

    def _least_lateness(self, running: list[tuple[Lag, int]]) -> list[int]:
        """How many minutes each running wait must run over its most at the least (all together)."""
        from ortools.sat.python import cp_model

        from planner.engine.bounds import most_slots
        from planner.engine.rules import obey_all

        free = {id(lag) for lag, _ in running}
        lags = tuple(
            replace(x, most=None, steps=tuple((s, least, None) for s, least, _ in x.steps)) if id(x) in free else x
            for x in self.problem.lags
        )
        made, stays = self.least_caps()
        v = Variables(
            replace(self.problem, lags=lags), Caps(None, min(most_slots(self.problem), made + 3), least_stays=stays)
        )
        obey_all(v)
        self.adjust(v)
        over = []
        for lag, deadline in running:
            late = v.model.new_int_var(0, v.end_of_time, "late")
            v.model.add(late >= v.activities[lag.second].start - deadline)
            over.append(late)
        v.model.minimize(sum(over))
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = self.budget.workers
        solver.parameters.random_seed = self.budget.seed
        solver.parameters.max_time_in_seconds = RESCUE_SECONDS
        if solver.solve(v.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return [0] * len(running)
        return [int(solver.value(x)) for x in over]


# --- the day as it went --------------------------------------------------------------------------------------------


def as_it_went(day: Day, past: Past) -> Day:
    """The day with each stage that is over taking the minutes and hands it took."""
    jobs = {}
    for j, job in day.jobs.items():
        stages = dict(job.stages)
        for s, stage in job.stages.items():
            work = past.plan.work(j, s)
            if work is None:
                continue
            method = stage.methods[work.method]
            if work.end < NOT_YET:
                took = Method(kit=method.kit, hands=method.hands, minutes=work.end - work.start, uses=method.uses)
                method = took.model_copy(update={"trigger": method.trigger, "spread": (1.0, 1.0, 1.0)})
            stages[s] = stage.model_copy(update={"methods": {work.method: method}})
        jobs[j] = job.model_copy(update={"stages": stages})
    return day.model_copy(update={"jobs": jobs})


def with_rain(day: Day, progress: Progress) -> Day:
    """The day with rain from the minute that was said."""
    if progress.rain is None:
        return day
    since = progress.rain
    known = [hour for hour in day.weather if hour.minute < since]
    last = known[-1] if known else HourOfWeather(since, 12.0, 0.8, 10.0)
    rainy = [replace(last, minute=minute, rain_chance=1.0, sun=False) for minute in range(since, 24 * 60, 60)]
    return day.model_copy(update={"weather": (*known, *rainy)})


def without_stages(day: Day, dropped: Iterable[tuple[str, str]]) -> Day:
    """The day without stages that were given up; what followed them follows what they followed."""
    for j, s in dropped:
        job = day.jobs[j]
        jobs = dict(day.jobs)
        if set(job.stages) == {s}:
            del jobs[j]
        else:
            jobs[j] = _without_stage(job, s)
        day = day.model_copy(update={"jobs": jobs})
    return day


def _without_stage(job: Job, s: str) -> Job:
    gone = job.stages[s]
    stages = {}
    for key, stage in job.stages.items():
        if key != s:
            after = [x for x in stage.after if x != s]
            if s in stage.after:
                after += [x for x in gone.after if x not in after]
            stages[key] = stage.model_copy(update={"after": tuple(after)})
    waits = tuple(w for w in job.waits if s not in (w.after, w.before, w.extended_by))
    quoted = {item: tuple(x for x in done_by if x != s) for item, done_by in job.quoted.items()}
    apart = tuple(pair for pair in job.apart if s not in pair)
    return job.model_copy(update={"stages": stages, "waits": waits, "quoted": quoted, "apart": apart})


def without_works(plan: Plan, dropped: Iterable[tuple[str, str]]) -> Plan:
    """The plan without the work on stages that were given up."""
    gone = set(dropped)
    return replace(plan, works=tuple(w for w in plan.works if (w.job, w.stage) not in gone))
