"""Gathers from a day and its plan what the picture shows: what is done where, from when to when."""

from planner.day import Day, Stage
from planner.day.names import Names, sentence
from planner.plan.coming_and_going import coming_and_going
from planner.plan.measures import busy_spans
from planner.plan.plan import Carried, Crossing, Plan, Rest
from planner.plan.waits import PlannedWait, planned_waits
from planner.sheet.chart.captions import (
    chore_words,
    coming_words,
    crossing_words,
    fetch_words,
    rest_name,
    rest_words,
    stay_words,
    wait_words,
    work_words,
)
from planner.sheet.chart.scene import Scene
from planner.sheet.chart.shapes import About, Pattern
from planner.sheet.chart.things import Bar, Pool, Stripe, Tread, Zone
from planner.sheet.crossings import crossing_numbers
from planner.sheet.wording import chore_told, counted, how_full
from planner.trade.units import show_minutes


def read(day: Day, plan: Plan, compare: Plan | None = None) -> Scene:
    """Read a plan for the picture; ``compare`` is another plan of the same day, whose times are shown beside."""
    reading = Scene(day, plan, Names(day))
    reading.jobs = list(dict.fromkeys(v.job for v in sorted(plan.visits, key=lambda v: v.arrive)))
    reading.lanes = _lanes(reading)
    reading.steps = [_step(reading, crossing, number) for crossing, number in crossing_numbers(plan).items()]
    seen_to = [*_chore_bars(reading), *_coming_bars(reading), *_rest_bars(reading), *_fetch_bars(reading)]
    reading.bars = sorted([*_work_bars(reading, compare), *seen_to], key=lambda bar: (bar.start, bar.end))
    reading.pools = _pools(reading)
    reading.bands = [
        Stripe(
            _zone(day, stay.job, stay.ground),
            stay.carried_in,
            stay.carried_out,
            reading.names.kit(stay.kit),
            ("stay", stay.job, stay.ground, stay.kit, stay.number),
            stay_words(day, stay),
        )
        for stay in sorted(plan.stays, key=lambda s: (s.carried_in, s.carried_out))
    ]
    return reading


def _lanes(reading: Scene) -> list[list[str]]:
    """Jobs that follow each other share a lane; those between whose visits the van goes elsewhere have their own."""
    lanes: list[list[str]] = []
    for job in reading.jobs:
        start, end = reading.extent(job)
        returned = any(v.job != job and start < v.arrive < end for v in reading.plan.visits)
        for lane in lanes:
            if not returned and all(reading.extent(other)[1] <= start for other in lane):
                lane.append(job)
                break
        else:
            lanes.append([job])
    return lanes


def _zone(day: Day, job: str, ground: str) -> Zone:
    return job, None if day.jobs[job].grounds[ground].way_in.is_open else ground


def stage_pattern(stage: Stage) -> Pattern:
    """How a stage is filled: by what it does to the ground around it."""
    if stage.chemical:
        return "cross"
    if "dust" in (stage.makes or ()):
        return "dots"
    if "spray" in (stage.makes or ()) or stage.rinses:
        return "hatch"
    return "solid"


def short_name(names: Names, job: str, stage: str) -> str:
    """A stage's name without its surface, numbered where the job has more of the kind on that surface."""
    stages = names.day.jobs[job].stages
    own = stages[stage]
    whole = names.stage(job, stage).rpartition(", section ")[0]
    if own.part and whole:
        return whole + f" {own.part.number}/{own.part.count}"
    if own.name:
        return names.stage(job, stage)
    alike = [key for key, other in stages.items() if (other.kind, other.surface) == (own.kind, own.surface)]
    return sentence(own.kind) + (f" {alike.index(stage) + 1}" if len(alike) > 1 else "")


def _work_bars(reading: Scene, compare: Plan | None) -> list[Bar]:
    day, names, bars = reading.day, reading.names, []
    for work in reading.plan.works:
        job = day.jobs[work.job]
        short = short_name(names, work.job, work.stage)
        surface = names.surface(work.job, job.stages[work.stage].surface)
        long = short if job.stages[work.stage].name else f"{short} · {surface}"
        before = compare.work(work.job, work.stage) if compare else None
        part = job.stages[work.stage].part
        whole = short.rpartition(" ")[0]
        bars += [
            Bar(
                "stage",
                hand,
                _zone(day, work.job, job.ground_of(work.stage)),
                work.start,
                work.end,
                (f"{long} · {work.end - work.start} min", long, short),
                stage_pattern(job.stages[work.stage]),
                ("work", work.job, work.stage),
                work_words(day, work, before),
                part.number if part else None,
                (f"{whole} · in {part.count} sections", whole) if part else (),
                (before.start, before.end) if before and before.start != work.start else None,
            )
            for hand in work.hands
        ]
    return bars


def _chore_bars(reading: Scene) -> list[Bar]:
    day, bars = reading.day, []
    for chore in reading.plan.chores:
        at_van, told = chore.what in ("lay", "lift"), chore_told(day, chore)
        what = f"{told} sheets" if at_van else f"{told} {reading.names.kit(chore.kit or '')}"
        zone = (chore.job, None) if at_van else _zone(day, chore.job, chore.ground)
        pattern: Pattern = "rise" if chore.what in ("set up", "lay") else "fall"
        about: About = (
            "chore",
            chore.job,
            chore.ground,
            chore.what,
            chore.kit or "",
            chore.stay or 0,
            chore.start,
        )
        words = chore_words(day, chore)
        bars += [
            Bar(chore.what, hand, zone, chore.start, chore.end, (what, told), pattern, about, words)
            for hand in chore.hands
        ]
    return bars


def _coming_bars(reading: Scene) -> list[Bar]:
    """Arriving and leaving, of each hand who rides in the van."""
    day, plan = reading.day, reading.plan
    riders = [key for key, hand in day.hands.items() if not hand.own_transport]
    return [
        Bar(
            what, hand, (visit.job, None), start, end, (what,), "bare", (what, visit.job, visit.number, hand),
            coming_words(day, what, visit.job, start, end),
        )
        for visit in plan.visits
        for what, start, end in coming_and_going(day, plan, visit)
        for hand in riders
    ]  # fmt: skip


def _fetch_bars(reading: Scene) -> list[Bar]:
    return [
        Bar(
            "fetch", fetch.hand, (fetch.job, None), fetch.leaves, fetch.back,
            (f"fetch {reading.names.kit(fetch.kit)}", "fetch"), "rise", ("drive", fetch.leaves),
            fetch_words(reading.day, fetch),
        )
        for fetch in reading.plan.fetches
    ]  # fmt: skip


def _rest_bars(reading: Scene) -> list[Bar]:
    return [
        Bar(
            "break",
            rest.hand,
            _where(reading, rest),
            rest.start,
            rest.end,
            (f"{rest_name(reading.day, rest)} · {rest.end - rest.start} min", rest_name(reading.day, rest)),
            "bare",
            ("rest", rest.hand, rest.start),
            rest_words(reading.day, rest),
        )
        for rest in reading.plan.rests
    ]


def _where(reading: Scene, rest: Rest) -> Zone:
    """The zone in which a hand rests; no job when it is on the road."""
    for step in reading.steps:
        if step.hand == rest.hand and step.start + step.walk <= rest.start < step.end - step.walk:
            return step.zone
    for visit in reading.plan.visits:
        if visit.arrive <= rest.start < visit.depart:
            return (visit.job, None)
    return ("", None)


def _step(reading: Scene, crossing: Crossing, number: int) -> Tread:
    way = reading.day.jobs[crossing.job].grounds[crossing.ground].way_in
    names = reading.names

    def loads(carried: tuple[Carried, ...]) -> tuple[str, ...]:
        return tuple(
            counted(names.material(x.what).split(" (")[0] if x.is_material else names.kit(x.what), x.count)
            + ("" if x.rest is None else f", {how_full(x.rest)}")
            for x in carried
        )

    return Tread(
        (crossing.job, crossing.ground),
        crossing.hand,
        crossing.start,
        crossing.end,
        way.minutes,
        way.restricted,
        loads(crossing.carried_in),
        loads(crossing.carried_out),
        number,
        ("crossing", crossing.job, crossing.ground, crossing.hand, crossing.start),
        crossing_words(reading.day, crossing),
    )


def _pools(reading: Scene) -> list[Pool]:
    pools = [
        _pool(reading, run)
        for run in planned_waits(reading.day, reading.plan)
        if run.job in reading.jobs and (run.wait.kind != "order" or run.wait.most is not None)
    ]
    return sorted(pools, key=lambda pool: (pool.begins, pool.ends))


def _pool(reading: Scene, run: PlannedWait) -> Pool:
    job, wait, second = run.job, run.wait, run.second
    least, most = run.bounds
    surface = reading.names.surface(job, reading.day.jobs[job].stages[wait.after].surface)
    bounds = f"{least}" if most is None else f"{least}–{most}"
    how_long = f"{bounds} min" if least < 180 else show_minutes(least)
    titles: tuple[str, ...] = (f"{surface}: {wait.kind} {how_long}", f"{wait.kind} {how_long}", wait.kind)
    if second and wait.kind == "order":
        titles = (f"{short_name(reading.names, job, second.stage)} within {most} min", f"within {most} min")
    return Pool(
        _zone(reading.day, job, reading.day.jobs[job].ground_of(wait.after)),
        wait.kind,
        run.begins,
        run.ends,
        run.not_before,
        run.not_after,
        () if second is None else _bare(reading.plan, reading.day, run.begins, run.ends),
        second is None,
        titles,
        ("wait", job, wait.after, wait.before or ""),
        wait_words(reading.day, run),
    )


def _bare(plan: Plan, day: Day, start: int, end: int) -> tuple[tuple[int, int], ...]:
    """The spans between two minutes in which no hand works, walks, drives or rests."""
    seen_to = [(begins, ends) for visit in plan.visits for _, begins, ends in coming_and_going(day, plan, visit)]
    bare, reached = [], start
    for begins, ends in sorted([*busy_spans(day, plan), *seen_to]):
        if begins > reached and reached < end:
            bare.append((reached, min(begins, end)))
        reached = max(reached, ends)
    if reached < end:
        bare.append((reached, end))
    return tuple(bare)
