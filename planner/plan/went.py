"""A day as it went: what is over took the time it took, and binds nobody any more; what was given up is out of it.

The whole plan of a day under way, past and rest, is a plan of this day.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from planner.day import Break, Day, Job, Meal, Method, Stage, Wait
from planner.day.changes import with_job
from planner.day.hands import OverdueBreak
from planner.day.kit import KitThatStays
from planner.day.names import Names
from planner.day.stage_kinds import RAIN
from planner.day.waiting import RunsOver
from planner.day.without import without_most, without_stages
from planner.plan.by_others import as_done
from planner.plan.covering import covers_for
from planner.plan.hindered import standing, with_hindrances
from planner.plan.past import NOT_YET, Past, past_of
from planner.plan.pieces import with_all_given_up, with_pieces
from planner.plan.plan import Plan, Rest
from planner.plan.progress import Noted, Progress
from planner.trade.weather import HourOfWeather, RainTold, holding

NEVER_OWED = 10**5
"""A break that is owed after so many minutes is owed no more."""

REST_SOON = 30
"""A break that is overdue may begin so many minutes after what is under way."""


def day_as_it_went(day: Day, plan: Plan, progress: Progress) -> tuple[Day, Past]:
    """The day as it went by ``progress.at``, and the past of its plan.

    Raises `ProgressError` when the record does not go with the day and the plan.
    """
    day = with_pieces(day, progress)
    progress = with_all_given_up(day, progress)
    plan = as_done(day, _of_this_day(day, plan), progress)
    progress = _with_broken_off(plan, progress)
    dropped = [x for x in progress.dropped if progress.of_stage(*x) is None]
    undone = [*dropped, *_came_off(day, progress)]
    skipped = [w for w in plan.works if progress.is_not_yet(w) or (w.job, w.stage) in undone]
    past = past_of(day, plan.without_works([(w.job, w.stage) for w in skipped]), progress, skipped)
    day = with_hindrances(day, progress, {(w.job, w.stage) for w in past.plan.works}, standing(past.plan))
    day = _without_idle_rewets(_without_dropped(with_rain(day, progress), dropped), past)
    day = _without_idle_jobs(day, past)
    day = _with_hands(_with_jobs(day, past, progress), plan, past, progress)
    return with_what_cannot_hold(_left_standing(with_what_stays(day, progress), progress), progress), past


def with_what_cannot_hold(day: Day, progress: Progress) -> Day:
    """The day in which waits and promises that cannot be kept may run over, by as much as was found to be the least.

    A promise that is given up is none any more.
    """
    for over in progress.over:
        if over.job in day.jobs:
            day = with_wait_longer(day, over.job, over.after, over.before, over.minutes)
            day = without_own_hours(day, over.job, over.before) if over.out_of_hours else day
    jobs = dict(day.jobs)
    for key, late in progress.promised.items():
        if key in jobs:
            job = jobs[key]
            arrive = None if job.arrive is None or late is None else (job.arrive[0], job.arrive[1] + late)
            done_by = None if job.done_by is None or late is None else job.done_by + late
            jobs[key] = job.model_copy(update={"arrive": arrive, "done_by": done_by})
    return day.model_copy(update={"jobs": jobs})


def with_what_stays(day: Day, progress: Progress) -> Day:
    """The day with less of the kit that stays at a job, and that said there to whoever comes."""
    if not progress.behind:
        return day
    away = Counter(x.kit for x in progress.behind)
    kit = {k: x.model_copy(update={"own": max(1, x.own - away[k])}) if away[k] else x for k, x in day.kit.items()}
    jobs = dict(day.jobs)
    for j, words in to_fetch(day, progress):
        jobs[j] = jobs[j].model_copy(update={"note": " ".join(filter(None, (jobs[j].note, words)))})
    return day.model_copy(update={"kit": kit, "jobs": jobs})


def _left_standing(day: Day, progress: Progress) -> Day:
    """The day in which nobody carries what stays at a job any more."""
    stays = {k for k in {x.kit for x in progress.behind} if progress.all_stays(k, day)}
    kit = {k: KitThatStays.model_construct(**dict(x)) if k in stays else x for k, x in day.kit.items()}
    return day.model_copy(update={"kit": kit}) if stays else day


def to_fetch(day: Day, progress: Progress) -> Iterator[tuple[str, str]]:
    """What stays at each job until another day, in words; jobs that the day no longer has say nothing."""
    names = Names(day)
    for behind in progress.behind:
        if behind.job in day.jobs:
            hands = day.kit[behind.kit].lift
            words = f"{names.kit(behind.kit)} stays here: fetch it on another day with {hands} hands."
            yield behind.job, words[:1].upper() + words[1:]


def _of_this_day(day: Day, plan: Plan) -> Plan:
    """A plan without the work on stages that are no longer in the day's file."""
    known = {(j, s) for j, s, _ in day.stages()}
    return replace(plan, works=tuple(w for w in plan.works if (w.job, w.stage) in known))


def _with_broken_off(plan: Plan, progress: Progress) -> Progress:
    """A record in which what was begun and then given up is noted: it ended when its hands went on, or by now."""
    noted = {(n.job, n.stage): n for n in progress.noted}
    for job, stage in progress.dropped:
        work, note = plan.work(job, stage), noted.get((job, stage))
        if work is None or (note is None and work.start >= progress.settled):
            continue
        noted[job, stage] = note or Noted(job, stage, work.start)
    return replace(progress, noted=tuple(noted.values()))


def _came_off(day: Day, progress: Progress) -> Iterator[tuple[str, str]]:
    """Stages given up of which it was only told since when what they take off is off: nobody did them."""
    for job, stage in progress.dropped:
        note = progress.of_stage(job, stage)
        ends_a_dwell = job in day.jobs and any(w.kind == "dwell" and w.before == stage for w in day.jobs[job].waits)
        if note is not None and ends_a_dwell and (note.start, note.part) == (None, None) and note.end is not None:
            yield job, stage


# --- stages, waits, jobs -------------------------------------------------------------------------------------------


def _with_jobs(day: Day, past: Past, progress: Progress) -> Day:
    visited = {v.job: v for v in past.plan.visits}
    jobs = {}
    for j, job in day.jobs.items():
        begun = {w.stage for w in past.plan.works if w.job == j}
        stages = {s: _stage(stage, s, past, j, begun, progress, job) for s, stage in job.stages.items()}
        changes: dict[str, object] = {
            "stages": stages,
            "waits": tuple(w for w in job.waits if w.before not in begun),
            "apart": tuple(pair for pair in job.apart if not set(pair) <= begun),
        }
        if j in visited:
            changes |= {"arrive": None, "visits": _visits(job, past, j, begun)}
            changes |= _coming_and_going(job, past, j, is_over=changes["visits"] == len(past.visits_to(j)))
            if job.done_by is not None and job.done_by < visited[j].depart < NOT_YET:
                changes["done_by"] = None
        jobs[j] = job.model_copy(update=changes)
    return day.model_copy(update={"jobs": jobs, "fixed_start": False})


def _without_idle_rewets(day: Day, past: Past) -> Day:
    """The day without what is done only if needed, and is no more: what it would have wetted again is off by now."""
    for j, job in day.jobs.items():
        begun = {w.stage for w in past.plan.works if w.job == j}
        needed = {wait.extended_by for wait in job.waits if wait.before not in begun} | begun
        idle = [s for s, stage in job.stages.items() if stage.only_if_needed and s not in needed]
        if idle:
            day = day.model_copy(update={"jobs": {**day.jobs, j: without_stages(job, idle)}})
    return day


def _visits(job: Job, past: Past, j: str, begun: set[str]) -> int:
    """How often the van may come: where something is left to do and it has gone for the last time, once more."""
    been = len(past.visits_to(j))
    is_open = any(s not in begun and not stage.only_if_needed for s, stage in job.stages.items())
    return max(job.visits, been + (past.is_left(j) and is_open and not past.is_homeward))


def _coming_and_going(job: Job, past: Past, j: str, *, is_over: bool) -> dict[str, int]:
    """What arriving took where something was done sooner, and leaving where the van has left for the last time."""
    plan, visits = past.plan, past.visits_to(j)
    done = [(x.start, x.end) for group in (plan.works, plan.chores, plan.crossings) for x in group if x.job == j]
    first, last = visits[0].arrive, visits[-1].depart
    arriving = min(job.arriving, max(0, min([last, *(start for start, _ in done)]) - first))
    if not is_over or last == NOT_YET:
        return {"arriving": arriving}
    free = last - max([first + arriving, *(end for _, end in done)])
    return {"arriving": arriving, "leaving": min(job.leaving, max(0, free))}


def _stage(stage: Stage, s: str, past: Past, j: str, begun: set[str], progress: Progress, job: Job) -> Stage:
    """A stage that is begun takes the time it takes, when it does."""
    work = past.plan.work(j, s)
    if work is None:
        return stage
    method = stage.methods[work.method]
    took = work.end - work.start
    if work.end == NOT_YET:
        took = max(job.likely_minutes(s, work.method), progress.at - work.start)
    settled = Method(kit=method.kit, hands=len(work.hands) or method.hands, minutes=took, uses=method.uses)
    kept = {name: getattr(method, name) for name in ("trigger", "expected", "leaves")}
    settled = settled.model_copy(update={**kept, "spread": (1.0, 1.0, 1.0)})
    free = ("not_before", "not_after", "starts_at", "coldest", "hottest", "windiest", "above_dew", "by_hand")
    changes: dict[str, object] = dict.fromkeys(free)
    changes |= dict.fromkeys(("noisy", "outdoors", "stopped_by_rain", "only_if_needed"), False)
    changes |= {"methods": {work.method: settled}, "after": tuple(x for x in stage.after if x not in begun)}
    changes["part"] = None if stage.part is None else stage.part.model_copy(update={"own": True})
    if stage.covers:  # also by way of stages that are over, whose order is none any more
        changes["stays_for"] = covers_for(job, s)
    changes["fresh_to"] = tuple(sorted(stage.spoiled_while_fresh_by - {RAIN}))
    if stage.fresh_for is None:
        changes["fresh_for"] = _was_fresh_for(s, past, j, begun, job)
    return stage.model_copy(update=changes)


def _was_fresh_for(s: str, past: Past, j: str, begun: set[str], job: Job) -> int | None:
    """How long what a stage left was fresh, where all waits after it are over, as what they were for has begun."""
    first = past.plan.work(j, s)
    ends = [w.before for w in job.waits if w.after == s and w.kind != "order"]
    works = [None if end is None or end not in begun else past.plan.work(j, end) for end in ends]
    starts = [work.start for work in works if work is not None]
    if first is None or first.end == NOT_YET or not ends or len(starts) < len(ends):
        return None
    return max(0, max(starts) - first.end)


def _without_dropped(day: Day, dropped: Iterable[tuple[str, str]]) -> Day:
    """The day without stages that were given up."""
    for j, s in dropped:
        day = day.model_copy(update={"jobs": {**day.jobs, j: without_stages(day.jobs[j], [s])}})
    return day


def _without_idle_jobs(day: Day, past: Past) -> Day:
    """The day without jobs that the van has not been to and at which nothing is left to do; one of them stays, the
    nearest, where there is no other."""
    visited = {v.job for v in past.plan.visits}
    left = {j: job for j, job in day.jobs.items() if job.stages or j in visited}
    if not left:
        nearest = min(day.jobs, key=lambda j: day.drive_minutes(day.van.starts_at, day.jobs[j].place))
        left = {nearest: day.jobs[nearest]}
    return day.model_copy(update={"jobs": left})


def with_wait_longer(day: Day, job: str, after: str, before: str, over: int | None) -> Day:
    """The day with ``over`` more minutes at the most between two stages of a job: they can no longer be kept.

    None is as long as it takes.
    """

    def longer(wait: Wait) -> Wait:
        if (wait.after, wait.before) != (after, before):
            return wait
        endless = without_most(wait).model_copy(update={"extended_by": None})
        held_to = endless if over is None else _put_off(wait, over)
        return RunsOver.model_construct(**dict(held_to) | {"meant": wait.as_meant})

    waits = tuple(longer(w) for w in day.jobs[job].waits)
    return with_job(day, job, {"waits": waits})


def without_own_hours(day: Day, job: str, stage: str) -> Day:
    """The day in which a stage may be done after its own hours: no sooner than they say, as late as must be."""
    work = day.jobs[job].stages.get(stage)
    if work is None:
        return day
    free = {"not_after": None, "starts_at": None, "not_before": work.starts_at or work.not_before}
    return with_job(day, job, {"stages": {**day.jobs[job].stages, stage: work.model_copy(update=free)}})


def _put_off(wait: Wait, over: int) -> Wait:
    steps = tuple(s.model_copy(update={"most": None if s.most is None else s.most + over}) for s in wait.by_hour)
    return wait.model_copy(update={"most": None if wait.most is None else wait.most + over, "by_hour": steps})


# --- the weather and the hands -------------------------------------------------------------------------------------


def with_rain(day: Day, progress: Progress) -> Day:
    """The day with rain from the minute that was said, to the one that was said, or for good; then as was forecast.

    Of hours that no forecast covers nothing but the rain is known.
    """
    if progress.rain is None:
        return day
    since, until = progress.rain, progress.rain_until or 48 * 60
    bounds = {minute for start, end, _ in holding(day.weather) for minute in (start, end) if since < minute < until}
    told = [_told(day, minute, rains=True) for minute in sorted(bounds | set(range(since, until, 60)))]
    if until < 48 * 60:  # the hour in which it ends is dry from then on
        told.append(_told(day, until, rains=False))
    weather = (*(h for h in day.weather if h.minute < since), *told, *(h for h in day.weather if h.minute > until))
    return day.model_copy(update={"weather": weather})


def _told(day: Day, minute: int, *, rains: bool) -> HourOfWeather:
    """The weather from a minute on of which it was told whether it rains: else as was forecast for it."""
    forecast = next((hour for start, end, hour in holding(day.weather) if start <= minute < end), None)
    if forecast is None:
        return RainTold.since(minute, rains=rains)
    return replace(forecast, minute=minute, rain_chance=float(rains), sun=forecast.sun and not rains)


def _with_hands(day: Day, plan: Plan, past: Past, progress: Progress) -> Day:
    hands, came = {}, {a.hand for a in past.plan.attendances}
    for h, hand in day.hands.items():
        hours = hand.hours
        if h in progress.gone and not hand.own_transport:
            hours = (day.hours_of(h)[0], 48 * 60)
        if h in progress.back and hand.own_transport and h not in came:
            hours = (max(day.hours_of(h)[0], progress.back[h]), day.hours_of(h)[1])
        since, until = hours or day.hours_of(h)
        begun = min(_out_since(day, h, past), default=since)
        hours = (begun, until) if begun < since else hours
        hands[h] = hand.model_copy(update={"hours": hours, "rest": _rest(day, h, plan, past, progress)})
    return day.model_copy(update={"hands": hands, "meal": _meal(day, plan, past, progress)})


def _out_since(day: Day, h: str, past: Past) -> list[int]:
    """When a hand set out, or came to each place by their own transport."""
    if day.hands[h].own_transport:
        return [a.arrive for a in past.plan.attendances if a.hand == h]
    return [past.plan.leaves] if past.plan.drives else []


def meals_had(day: Day, past: Plan) -> Iterator[Rest]:
    """The breaks of a past, one under way with them, that were meals: long enough and no sooner than it is time."""
    meal = day.meal
    if meal is not None:
        yield from (r for r in past.rests if r.end - r.start >= meal.length and r.start >= meal.earliest)


def _meal(day: Day, plan: Plan, past: Past, progress: Progress) -> Meal | None:
    """The meal: of those who had it as late as it was, an overdue one soon; none once nobody is there."""
    meal = day.meal
    if meal is None or len(progress.gone) == len(day.hands):
        return None
    had = list(meals_had(day, past.plan))
    without = [h for h in day.hands if h not in progress.gone and all(r.hand != h for r in had)]
    by = [_by_when(day, h, meal.length, meal.latest, plan, past, progress) for h in without]
    return meal.model_copy(update={"latest": max([meal.latest, *by, *(r.start for r in had)])})


def _rest(day: Day, h: str, plan: Plan, past: Past, progress: Progress) -> Break | None:
    """The break that a hand must still get: none once had or gone home; an overdue one soon."""
    rest = day.rest_of(h)
    if rest is None:
        return None
    there = _out_since(day, h, past)
    begun = min(there, default=0)
    soonest = max(begun + rest.soonest, rest.earliest or 0)
    had = any(r.hand == h and r.end - r.start >= rest.length and r.start >= soonest for r in past.plan.rests)
    if had or h in progress.gone:
        return rest.model_copy(update={"once_over": NEVER_OWED, "soonest": 0, "earliest": None, "latest": None})
    if not there:
        return rest
    latest = begun + rest.once_over if rest.latest is None else min(begun + rest.once_over, rest.latest)
    by = _by_when(day, h, rest.length, latest, plan, past, progress)
    if by <= latest:
        return rest
    last = None if rest.latest is None else max(rest.latest, by)
    within = max(rest.once_over, by - begun)
    return OverdueBreak.model_construct(**dict(rest) | {"latest": last, "by": within})


def _by_when(day: Day, h: str, length: int, latest: int, plan: Plan, past: Past, progress: Progress) -> int:
    """When a break must have begun: in time where its hand is free when the plan has it, else soon after that."""
    busy = _busy_until(day, h, past, progress)
    planned = [r.start for r in plan.rests if r.hand == h and r.end - r.start >= length]
    return latest if any(busy <= start <= latest for start in planned) else max(latest, busy + REST_SOON)


def _busy_until(day: Day, h: str, past: Past, progress: Progress) -> int:
    """When what a hand does now should be over, or a hand who is not there is."""
    ends = [max(progress.at, progress.back.get(h, 0))]
    if not day.hands[h].own_transport:
        ends += [d.end for d in past.plan.drives]
    for work in past.plan.works:
        if h in work.hands and work.end == NOT_YET:
            ends.append(work.start + max(day.jobs[work.job].likely_minutes(work.stage, work.method), 0))
    ends += [c.end for c in past.plan.chores if h in c.hands]
    return max(ends)
