"""Every remedy that a day offers, as a changed day with what it asks of us in trouble and money."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace

from planner.day import Day, Job, Kit, Method
from planner.day.changes import with_ground, with_job, with_kit, with_stage
from planner.day.checks.all_checks import faults_in
from planner.day.names import called, stage_name
from planner.day.words import FILE
from planner.fit import changes
from planner.fit.second_hand import with_helper
from planner.fit.stops import kept_together
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from planner.trade.library import EQUIPMENT_WORDS, METHOD_WORDS, library
from planner.trade.library_parts import Library
from planner.trade.units import show_clock, show_minutes

MOST_OF_A_SORT = 3
"""Other methods, kit left at home, stages moved: no more of each are tried, those that weigh most first."""

A_NIGHT = 14 * 60
"""Minutes from one day's work to the next, where no two days are given."""

TROLLEY_MONEY = 8.0
KIT_MONEY = 30.0
"""A day's hire of a trolley, and of one more piece of kit: common practice, no source; in the money of the day."""


@dataclass(frozen=True)
class Remedy:
    """A change that would make a day fit or go easier.

    ``trouble`` is from 1 (a word to the customer) to 5 (work put off); ``money`` is beyond what the day costs anyway.
    ``start`` is a plan to begin the search at where the plan of the day as it was no longer holds.
    """

    sort: str
    words: str
    day: Day
    trouble: int
    money: float = 0.0
    start: Plan | None = None


def remedies_of(day: Day, plan: Plan) -> list[Remedy]:
    """All remedies that a day offers, in the order of the least trouble."""
    found = [
        *_protection(day, plan),
        *_side_gates(day),
        *_taps(day),
        *_earlier(day),
        *_visits(day),
        *_other_methods(day, plan),
        *_left_at_home(day),
        *_trolleys(day),
        *_more_kit(day),
        *_moved_stages(day, plan),
        *_moved_jobs(day),
        _second_hand(day, plan),
    ]
    known = faults_in(day)  # a day without a method may no longer hold what is cut into sections by it: no remedy
    sound = [remedy for remedy in found if all(fault in known for fault in faults_in(remedy.day))]
    return sorted(sound, key=lambda remedy: remedy.trouble)


def _ways(day: Day) -> Iterator[tuple[str, str, str]]:
    """Ways in that need crossings, as (job, ground, words)."""
    for j, job in day.jobs.items():
        for g, ground in job.grounds.items():
            if not ground.way_in.is_open and any(job.ground_of(s) == g for s in job.stages):
                yield j, g, f"{called(job, j)}, {called(ground, g)}"


def _protection(day: Day, plan: Plan) -> Iterator[Remedy]:
    for j, g, words in _ways(day):
        if day.jobs[j].grounds[g].way_in.protection == "ours":
            changed = changes.with_way_in(day, j, g, {"protection": "customer"})
            chores = [c for c in plan.chores if c.what not in ("lay", "lift") or (c.job, c.ground) != (j, g)]
            told = f"floor protection laid by the customer beforehand ({words})"
            yield Remedy("protection", told, changed, 1, start=replace(plan, chores=tuple(chores)))


def _side_gates(day: Day) -> Iterator[Remedy]:
    for j, g, words in _ways(day):
        changed = changes.with_way_in(day, j, g, dict(changes.FREE_WAY))
        yield Remedy("side gate", f"a side gate opened ({words})", changed, 2)


def _earlier(day: Day) -> Iterator[Remedy]:
    for minutes, trouble in ((30, 1), (60, 2)):
        start = day.start - minutes
        if start >= 0:
            hands = {
                key: hand.model_copy(update={"hours": (min(hand.hours[0], start), hand.hours[1])})
                if hand.hours and not hand.own_transport
                else hand
                for key, hand in day.hands.items()
            }
            changed = day.model_copy(update={"start": start, "hands": hands})
            yield Remedy("earlier", f"start {show_minutes(minutes)} earlier, at {show_clock(start)}", changed, trouble)


def _visits(day: Day) -> Iterator[Remedy]:
    """A job left and come back to, where a wait is longer than the drive to another job and back."""
    for j, job in day.jobs.items():
        away = [
            day.drive_minutes(job.place, other.place) + day.drive_minutes(other.place, job.place)
            for key, other in day.jobs.items()
            if key != j
        ]
        if away and job.visits == 1 and any(wait.before and wait.least > min(away) for wait in job.waits):
            words = f"{called(job, j)} left while it waits, and come back to"
            yield Remedy("second visit", words, with_job(day, j, {"visits": 2}), 2)


def _other_methods(day: Day, plan: Plan) -> Iterator[Remedy]:
    """Of the longest works, each method that the plan did not take."""
    longest = sorted(plan.works, key=lambda w: w.start - w.end)
    options = [
        (w, method)
        for w in longest
        for method in day.jobs[w.job].stages[w.stage].methods
        if method != w.method and _is_at_hand(day, w.job, w.stage, method)
    ]
    for work, method in options[:MOST_OF_A_SORT]:
        job = day.jobs[work.job]
        name = called(job.stages[work.stage].methods[method], method)
        changed = changes.with_methods(day, work.job, work.stage, [method])
        yield Remedy("method", f"'{stage_name(job, work.stage)}' by {name}", changed, 1)


def _is_at_hand(day: Day, job: str, stage: str, method: str) -> bool:
    """Whether there are hands, kit and supplies for a method."""
    way = day.jobs[job].stages[stage].methods[method]
    kit = [day.kit[key] for key in day.kit_closure(way.kit)]
    takes = [supply for piece in kit for supply in piece.supply]
    there = day.jobs[job].grounds[day.jobs[job].ground_of(stage)].supplies
    enough = all(there.get(supply, 0) >= takes.count(supply) for supply in takes)
    return way.hands <= len(day.hands) and all(piece.own for piece in kit) and enough


def _left_at_home(day: Day) -> Iterator[Remedy]:
    """Kit that every stage can do without, the heaviest first."""
    options = []
    for key in sorted(day.kit, key=lambda k: -day.kit[k].load):
        changed, is_used = day, False
        for j, s, stage in day.stages():
            without = [m for m, method in stage.methods.items() if key not in day.kit_closure(method.kit)]
            if len(without) < len(stage.methods):
                is_used = True
                if not without:
                    break
                changed = changes.with_methods(changed, j, s, without)
        else:
            if is_used:
                name = called(day.kit[key], key)
                options.append(Remedy("left at home", f"'{name}' left at home", changed, 1))
    yield from options[:MOST_OF_A_SORT]


def _trolleys(day: Day) -> Iterator[Remedy]:
    for j, g, words in _ways(day):
        limit = day.jobs[j].grounds[g].way_in.load_limit
        changed = changes.with_way_in(day, j, g, {"load_limit": 2 * limit})
        yield Remedy("trolley", f"twice the load on a trolley ({words})", changed, 2, TROLLEY_MONEY)


def _more_kit(day: Day) -> Iterator[Remedy]:
    """One more of a piece of kit with what it needs, where several grounds or hands use it; the most used first."""
    grounds: defaultdict[str, set[tuple[str, str]]] = defaultdict(set)
    minutes: Counter[str] = Counter()
    for j, s, stage in day.stages():
        job = day.jobs[j]
        for key in {key for method in stage.methods.values() for key in method.kit}:
            grounds[key].add((j, job.ground_of(s)))
            minutes[key] += min(job.likely_minutes(s, m) for m, way in stage.methods.items() if key in way.kit)
    wanted = [key for key, _ in minutes.most_common() if len(grounds[key]) > 1 or len(day.hands) > 1]
    for key in [key for key in wanted if day.kit[key].own][:MOST_OF_A_SORT]:
        changed, needed = day, day.kit_closure((key,))
        for piece in needed:
            changed = with_kit(changed, piece, {"own": day.kit[piece].own + 1})
        along = ", with what it needs" if len(needed) > 1 else ""
        words = f"one more '{called(day.kit[key], key)}'{along}"
        yield Remedy("kit", words, changed, 2, KIT_MONEY * len(needed))


def _moved_stages(day: Day, plan: Plan) -> Iterator[Remedy]:
    """Stages that nothing else depends on and that end no dwell, the longest first; the customer is visited again."""
    options = []
    for j, s, stage in day.stages():
        if stage.only_if_needed or not is_free_to_move(day.jobs[j], s) or len(list(day.stages())) < 2:
            continue
        minutes = min(day.jobs[j].likely_minutes(s, m) for m in stage.methods)
        words = f"'{stage_name(day.jobs[j], s)}' moved to another day"
        changed = changes.without_stages(day, j, [s])
        if changed.jobs:
            works = tuple(w for w in plan.works if (w.job, w.stage) != (j, s))
            start = replace(plan, works=works)
            options.append((minutes, Remedy("stage moved", words, changed, 4, _another_drive(day, j), start)))
    yield from (remedy for _, remedy in sorted(options, key=lambda x: -x[0])[:MOST_OF_A_SORT])


def is_free_to_move(job: Job, stage: str) -> bool:
    """Whether a stage may be left for another day: none follows it, and a night may lie between it and the rest."""
    followed = any(stage in other.after for other in job.stages.values())
    waits = any(stage in (w.after, w.extended_by) and w.before for w in job.waits)
    return not (followed or waits or any(stage in pair for pair in kept_together(job, A_NIGHT)))


def _moved_jobs(day: Day) -> Iterator[Remedy]:
    """Whole jobs, the one of least priority first."""
    if len(day.jobs) > 1:
        for j in sorted(day.jobs, key=lambda key: -day.jobs[key].priority):
            words = f"{called(day.jobs[j], j)} moved to another day (priority {day.jobs[j].priority})"
            yield Remedy("job moved", words, changes.without_job(day, j), 5, _another_drive(day, j))


def _another_drive(day: Day, job: str) -> float:
    """What it costs all hands to drive there and back once more."""
    place = day.jobs[job].place
    minutes = day.drive_minutes(day.van.starts_at, place) + day.drive_minutes(place, day.van.ends_at)
    return minutes / 60 * sum(hand.cost_per_hour for hand in day.hands.values())


def _second_hand(day: Day, plan: Plan) -> Remedy:
    changed = with_helper(day, day.start, max(plan.home, latest_finish(day)))
    wages = (plan.home - day.start) / 60 * next(iter(day.hands.values())).cost_per_hour
    return Remedy("second hand", "a second hand who meets us at the job, all day", changed, 3, wages)


# --- a tap found outside ------------------------------------------------------------------------------------------


def _taps(day: Day) -> Iterator[Remedy]:
    """A tap for each ground that has none, with the ways of washing and wetting that the library knows for one."""
    dry = [(j, g) for j, job in day.jobs.items() for g, ground in job.grounds.items() if not ground.supplies.get("tap")]
    known = library() if dry else None
    for j, g in dry:
        job, ground = day.jobs[j], day.jobs[j].grounds[g]
        changed = None if known is None else _with_tap(day, j, g, known)
        if changed is not None:
            yield Remedy("tap", f"an outside tap found ({called(job, j)}, {called(ground, g)})", changed, 2)


def _with_tap(day: Day, j: str, g: str, known: Library) -> Day | None:
    """The day with a tap and with all that can then be used; None when a tap would be of no use there."""
    changed, is_of_use = day, False
    for s, stage in day.jobs[j].stages.items():
        if day.jobs[j].ground_of(s) != g:
            continue
        for name, table in known.methods.get(stage.kind, {}).items():
            kit = _with_needs(tuple(table.get("kit", ())), day, known)
            supplies = day.jobs[j].grounds[g].supplies
            takes = [supply for piece in kit.values() for supply in piece.supply]
            lacks = any(supplies.get(supply, 0) < takes.count(supply) for supply in takes if supply != "tap")
            if "tap" not in takes or lacks or "water" in table or table.get("no_tap"):
                continue
            method = {word: value for word, value in table.items() if word not in METHOD_WORDS}
            methods = {**changed.jobs[j].stages[s].methods, name: Method.model_validate(method, context=FILE)}
            changed = with_stage(changed, j, s, {"methods": methods})
            changed = changed.model_copy(update={"kit": {**kit, **changed.kit}})
            is_of_use = True
    if not is_of_use and not any("tap" in piece.supply for piece in day.kit.values()):
        return None
    ground = changed.jobs[j].grounds[g]
    return with_ground(changed, j, g, {"supplies": {**ground.supplies, "tap": 1}})


def _with_needs(keys: tuple[str, ...], day: Day, known: Library) -> dict[str, Kit]:
    """Kit and what it needs: the day's own where it has it, else the library's."""
    found: dict[str, Kit] = {}
    waiting = list(keys)
    while waiting:
        key = waiting.pop(0)
        if key not in found:
            shipped = {word: value for word, value in known.kit.get(key, {}).items() if word not in EQUIPMENT_WORDS}
            found[key] = day.kit[key] if key in day.kit else Kit.model_validate(shipped, context=FILE)
            waiting.extend(found[key].needs)
    return found
