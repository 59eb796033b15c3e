"""What the forecast keeps from being done, as facts of a day: which stage, by which limit, in which hours."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from planner.day import Day, Job, Step, Wait
from planner.day.changes import with_job, with_stage
from planner.day.following import next_stages
from planner.day.gates import tolerances
from planner.day.names import called, stage_name
from planner.day.stage_kinds import RAIN
from planner.day.words import LATEST
from planner.engine.kit_facts import Fact, StillImpossible, names_of
from planner.trade.units import show_clock, show_minutes
from planner.trade.weather import HourOfWeather
from planner.trade.weather_gates import Shut, Tolerances, shut_spans

LIMITS: Mapping[str, tuple[str, str]] = {
    "rain": ("rain (chance 50 % or more)", "a dry day, or dry hours,"),
    "coldest": ("air below {:g} C", "a warmer day, or warmer hours,"),
    "hottest": ("a surface above {:g} C", "shade, a cooler day, or cooler hours,"),
    "windiest": ("wind above {:g} km/h", "a calmer day, or calmer hours,"),
    "above_dew": ("air less than {:g} C above its dew point", "a drier day, or drier hours,"),
}
"""By the field of `Tolerances`: what is too much, and what would help. Rain has several fields, read as one."""

NO_LIMIT: Mapping[str, object] = {
    "rain": None, "coldest": None, "hottest": None, "windiest": 1_000.0, "above_dew": None,
}  # fmt: skip
"""What a stage says that takes any weather; of wind nothing would mean what is usual on a ladder."""


@dataclass(frozen=True)
class Limit:
    """That some stages of a job (the sections of one) cannot take some weather that is forecast."""

    job: str
    stages: tuple[str, ...]
    field: str

    def without(self, day: Day) -> Day:
        """The day on which they can."""
        for s in self.stages:
            stage = day.jobs[self.job].stages[s]
            changes: dict[str, object] = {self.field: NO_LIMIT[self.field]}
            if self.field == "rain":
                fresh_to = tuple(sorted(stage.spoiled_while_fresh_by - {RAIN}))
                changes = {"stopped_by_rain": False, "fresh_to": fresh_to, "dry_after": 0, "dry_for": 0}
            day = with_stage(day, self.job, s, changes)
        return day

    def words(self, written: Day, day: Day) -> str:
        """What stages, as they are written, cannot take; when a day has that forecast; and what would help."""
        job, stage = written.jobs[self.job], written.jobs[self.job].stages[self.stages[0]]
        what, helps = LIMITS[self.field]
        if self.field == "rain":
            what += self._before_and_after(job)
        else:
            what = what.format(getattr(tolerances(written, stage), self.field))
        if self.field == "windiest" and written.is_from_ladder(stage):
            what, helps = f"{what} on a ladder", f"{helps} or work from the ground,"
        hours = " and ".join(f"{show_clock(s.start)} to {show_clock(s.end)}" for s in self.hours(day))
        return f"cannot take {what}, forecast for {hours}; {helps} would help"

    def _before_and_after(self, job: Job) -> str:
        """How long besides its own time it has to stay dry."""
        s, stage = self.stages[0], job.stages[self.stages[0]]
        spans = ((stage.dry_for, "before it"), (stage.dry_after, "after it"))
        besides = [f"for {show_minutes(minutes)} {when}" for minutes, when in spans if minutes]
        if RAIN in stage.spoiled_while_fresh_by:
            for key in sorted(next_stages(job)[s]):
                cover = job.stages[key]
                if cover.surface == stage.surface and RAIN in cover.spoiled_while_fresh_by:
                    besides.append(f"until '{stage_name(job, key)}' covers it")
        return f", nor {' nor '.join(besides)}" if besides else ""

    def hours(self, day: Day) -> tuple[Shut, ...]:
        """When it is forecast what they cannot take."""
        stage = day.jobs[self.job].stages[self.stages[0]]
        takes = tolerances(day, stage)
        if self.field == "rain":
            takes = Tolerances(stopped_by_rain=takes.stopped_by_rain or takes.dry_for > 0)
        else:
            takes = Tolerances(**{self.field: getattr(takes, self.field)})
        return shut_spans(day.weather, takes, shaded=day.jobs[self.job].surfaces[stage.surface].shaded)


def weather_fact(day: Day) -> Iterator[Fact]:
    """What the forecast shuts; where that is needed, by which limits of which stages, and in which hours."""
    if _limits(day):
        yield Fact("what the forecast shuts", _in_any_weather, narrowed=partial(_narrowed, day))


def drying_fact(j: str, job: Job, n: int, wait: Wait) -> Iterator[Fact]:
    """What the forecast makes of a wait that hangs on it: a longer least, or a shorter most."""
    if wait.weather is None or wait.before is None:
        return
    first, second = (f"'{stage_name(job, s)}'" for s in (wait.after, wait.before))
    longer = [step for step in wait.by_hour if step.least > wait.least]
    shorter = [step for step in wait.by_hour if step.most is not None and step.most < (wait.most or LATEST)]
    if longer:
        dries = [step.least for step in longer if step.since + step.least < LATEST]
        never = [step.since for step in longer if step.since + step.least >= LATEST]
        takes = f"takes up to {show_minutes(max(dries))} to dry" if dries else ""
        stays = f"does not dry any more from {show_clock(min(never))} on" if never else ""
        both = " and ".join(words for words in (takes, stays) if words)
        said = f"what {first} wets {both} before {second}; a warmer, drier or windier day"
    elif shorter:
        said = f"{first} is dry within {_soonest_and_latest(wait)}, and {second} must come before; shade, a cooler day"
    else:
        return
    words = f"{called(job, j)}: by the forecast {said} would help"
    yield Fact(words, lambda day: _as_the_file_says(day, j, n))


def _soonest_and_latest(wait: Wait) -> str:
    """Within how long what a wait follows is dry: at the worst time of day and at the best."""
    most = {step.since: wait.most or LATEST if step.most is None else step.most for step in wait.by_hour}
    worst, best = min(most, key=lambda since: most[since]), max(most, key=lambda since: most[since])
    if most[worst] == most[best]:
        return show_minutes(most[worst])
    latest = f"{show_minutes(most[best])} from {show_clock(best)} on" if most[best] < LATEST else "as long as one likes"
    return f"{show_minutes(most[worst])} from {show_clock(worst)} on ({latest})"


def _as_the_file_says(day: Day, j: str, n: int) -> Day:
    """The day on which the forecast makes a wait no harder than the file has it."""
    waits = list(day.jobs[j].waits)
    least, most = waits[n].least, waits[n].most
    easier = tuple(
        Step(
            since=step.since,
            least=min(step.least, least),
            most=None if most is None or step.most is None else max(step.most, most),
        )
        for step in waits[n].by_hour
    )
    waits[n] = waits[n].model_copy(update={"by_hour": easier})
    return with_job(day, j, {"waits": tuple(waits)})


def _in_any_weather(day: Day) -> Day:
    return day.model_copy(update={"weather": ()})


def _limits(day: Day) -> list[Limit]:
    """Each limit by which the forecast shuts a stage at any time; the sections of a stage are one."""
    same: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for j, s, stage in day.stages() if day.weather else ():
        for field in LIMITS:
            if Limit(j, (s,), field).hours(day):
                same[j, stage.part.of if stage.part else s, field].append(s)
    return [Limit(j, tuple(stages), field) for (j, _, field), stages in same.items()]


def _narrowed(written: Day, day: Day, still: StillImpossible) -> tuple[Day, tuple[str, ...]]:
    """The day without the limits, and the hours of the forecast, that are not needed; those that are, in words."""
    needed = []
    for limit in _limits(day):
        without = limit.without(day)
        if still(without):
            day = without
        else:
            needed.append(limit)
    for limit in needed:
        day = _in_fewest_hours(day, limit, needed, still)
    alike: dict[tuple[str, str], list[tuple[str, str]]] = defaultdict(list)
    for limit in needed:
        alike[limit.job, limit.words(written, day)] += [(limit.job, s) for s in limit.stages]
    told = ((called(written.jobs[j], j), names_of(written, stages), words) for (j, words), stages in alike.items())
    return day, tuple(f"{job}: {names} {words}" for job, names, words in told)


def _in_fewest_hours(day: Day, limit: Limit, needed: list[Limit], still: StillImpossible) -> Day:
    """The day with fair weather in each hour whose forecast is not needed to break a limit, those at the ends first."""

    def is_spared(n: int) -> bool:
        nonlocal day
        fair = (*day.weather[:n], _fair(limit, day, day.weather[n]), *day.weather[n + 1 :])
        without = day.model_copy(update={"weather": fair})
        if not (_is_no_harder(without, day, needed) and still(without)):
            return False
        day = without
        return True

    left = [n for n, hour in enumerate(day.weather) if any(s.start <= hour.minute < s.end for s in limit.hours(day))]
    while left and is_spared(left[-1]):
        left.pop()
    while left and is_spared(left[0]):
        left.pop(0)
    for n in left[1:-1]:
        is_spared(n)
    return day


def _fair(limit: Limit, day: Day, hour: HourOfWeather) -> HourOfWeather:
    """An hour of the forecast with as much that a limit is kept."""
    bound = getattr(tolerances(day, day.jobs[limit.job].stages[limit.stages[0]]), limit.field, None) or 0.0
    changes: dict[str, dict[str, Any]] = {
        "rain": {"rain_chance": 0.0},
        "coldest": {"air": max(hour.air, bound)},
        "hottest": {"air": min(hour.air, bound), "sun": False},
        "windiest": {"wind": 0.0},
        "above_dew": {"humidity": 0.0},
    }
    return replace(hour, **changes[limit.field])


def _is_no_harder(changed: Day, day: Day, needed: list[Limit]) -> bool:
    """Whether no limit shuts an hour that was open: air that is warm enough for one stage is too hot for another."""
    return all(
        any(was.start <= shut.start and shut.end <= was.end for was in limit.hours(day))
        for limit in needed
        for shut in limit.hours(changed)
    )
