"""Rules on the order of work: lags, closed spans, nuisances, chemicals, resources, surfaces."""

from planner.engine.problem import Closed, Lag, Spoiling, Unmixable
from planner.engine.rules.fresh import not_begun
from planner.engine.variables import Expr, Slot, Task, Variables


def obey(v: Variables) -> None:
    """State every rule of this page."""
    before = always_before(v)
    for lag in v.problem.lags:
        keep_lag(v, lag)
    for a in range(len(v.activities)):
        keep_out_of_shut_spans(v, a)
    for r in range(len(v.problem.resources)):
        keep_within_resource(v, r)
    keep_apart(v)
    for closed in v.problem.closed:
        keep_closed(v, closed, before)
    for spoiling in v.problem.spoiling:
        keep_unspoiled(v, spoiling, before)
    for pair in v.problem.unmixable:
        keep_from_mixing(v, pair)


def keep_lag(v: Variables, lag: Lag) -> None:
    """Between two stages of a wait pass at least its least and at most its most minutes."""
    first, second = v.activities[lag.first], v.activities[lag.second]
    both = [x.present for x in (first, second) if x.present is not v.true]
    if not lag.steps:
        _keep_bounds(v, lag, lag.least, lag.most, both)
        return
    bounds = [(0, lag.least, lag.most), *lag.steps]
    if lag.patchwise:
        for n, (since, least, most) in enumerate(bounds):
            _keep_bounds(v, lag, least, most, [*_held_meanwhile(v, lag, n, since, bounds), *both])
        return
    # of the steps exactly one holds, that in which the lag begins: else a looser one could be picked
    chosen, origin = [], _origin(lag, first)
    for n, (since, least, most) in enumerate(bounds):
        step = v.literal(f"lag {lag.first}-{lag.second} from {since}")
        chosen.append(step)
        v.model.add(origin >= since).only_enforce_if(step)
        if n + 1 < len(bounds):
            v.model.add(origin < bounds[n + 1][0]).only_enforce_if(step)
        _keep_bounds(v, lag, least, most, [step, *both])
    v.model.add_exactly_one(chosen)


def _held_meanwhile(
    v: Variables, lag: Lag, n: int, since: int, bounds: list[tuple[int, int | None, int | None]]
) -> list[Expr]:
    """True together where a step holds at some minute of the first stage; free to be false where it does not."""
    first, held = v.activities[lag.first], []
    if n:
        over = v.literal(f"{first.name} ends before {since}")
        v.model.add(first.end < since).only_enforce_if(over)
        held.append(~over)
    if n + 1 < len(bounds):
        past = v.literal(f"{first.name} begins after {since}")
        v.model.add(first.start >= bounds[n + 1][0]).only_enforce_if(past)
        held.append(~past)
    return held


def _origin(lag: Lag, task: Task) -> Expr:
    """The minute from which a lag counts."""
    return task.start if lag.from_start else task.end


def _target(lag: Lag, task: Task) -> Expr:
    """The minute to which it counts."""
    return task.end if lag.to_end else task.start


def _keep_bounds(v: Variables, lag: Lag, least: int | None, most: int | None, when: list[Expr]) -> None:
    """The least and the most of a wait; the count of the most a re-wet starts anew."""
    first, second = v.activities[lag.first], v.activities[lag.second]
    origin, target = _origin(lag, first), _target(lag, second)
    if least is not None:
        v.model.add(target >= origin + least).only_enforce_if(when)
    if most is None:
        return
    if lag.extended_by is None:
        v.model.add(target <= origin + most).only_enforce_if(when)
        return
    again = v.activities[lag.extended_by]
    v.model.add(target <= origin + most).only_enforce_if([*when, ~again.present])
    v.model.add(_target(lag, again) <= origin + most).only_enforce_if([*when, again.present])
    v.model.add(again.start >= first.end).only_enforce_if([*when, again.present])
    v.model.add(again.end <= second.start).only_enforce_if([*when, again.present])
    v.model.add(target <= _origin(lag, again) + most).only_enforce_if([*when, again.present])


def keep_out_of_shut_spans(v: Variables, a: int) -> None:
    """A stage runs neither before its earliest, after its latest, nor in a span that is shut to it."""
    activity, task = v.problem.activities[a], v.activities[a]
    if activity.earliest > v.opens:
        v.model.add(task.start >= activity.earliest)
    if activity.latest is not None:
        v.model.add(task.end <= activity.latest)
    if activity.start is not None:
        v.model.add(task.start == activity.start)
    spans = [v.model.new_fixed_size_interval_var(start, end - start, f"shut {a}") for start, end in activity.shut]
    if spans:
        v.model.add_no_overlap([task.interval, *spans])


def keep_within_resource(v: Variables, r: int) -> None:
    """What runs at once draws no more from a resource than it has."""
    capacity = v.problem.resources[r].capacity
    intervals, demands = [], []
    for a, activity in enumerate(v.problem.activities):
        amounts = [dict(mode.demands).get(r, 0) for mode in activity.modes]
        if not any(amounts):
            continue
        intervals.append(v.activities[a].interval)
        same = len(set(amounts)) == 1
        demands.append(amounts[0] if same else sum(n * m for n, m in zip(amounts, v.modes[a], strict=True)))
    alone = len(v.problem.hands) == 1
    if len(intervals) < 2 or alone:
        return
    if all(isinstance(d, int) and 2 * d > capacity for d in demands):
        v.model.add_no_overlap(intervals)
    else:
        v.model.add_cumulative(intervals, demands, capacity)


def keep_apart(v: Variables) -> None:
    """Two stages that the day keeps apart, or one of which is within reach of the other, are not done at once."""
    for one, other in v.problem.apart:
        v.model.add_no_overlap([v.activities[one].interval, v.activities[other].interval])


def keep_closed(v: Variables, closed: Closed, before: list[set[int]]) -> None:
    """While a surface waits nobody works on it or what is reached over it, and nobody walks over it."""
    opens, ends = _span(v, closed)
    given = [
        v.activities[x].present
        for x in (closed.first, closed.until)
        if x is not None and v.activities[x].present is not v.true
    ]
    for a in closed.activities:
        over = closed.minutes is None and closed.until is not None and closed.until in before[a]
        if a in before[closed.first] or over:
            continue
        task = v.activities[a]
        when = [*given, *([] if task.present is v.true else [task.present])]
        _either_side(v, task.start, task.end, opens, ends, when)
    for g in closed.ways:
        for n in v.slots_of(g):
            slot = v.slots[n]
            when = [*given, slot.present]
            by_now = closed.has_begun and _is_begun(v, slot)  # how who is inside by now came in cannot be changed
            if not by_now:
                _either_side(v, slot.start, slot.comes, opens, ends, when)
            if not (by_now and (slot.ground, slot.hand) in v.problem.walking_out):
                _either_side(v, slot.goes, slot.end, opens, ends, when)
    for stay in v.stays:
        is_walked_to = stay.ground in closed.ways and not v.problem.grounds[stay.ground].slots
        if is_walked_to or (stay.ground, stay.kit) in closed.kit:
            for chore in not_begun(stay, besides=closed.has_begun):
                _either_side(v, chore.start, chore.end, opens, ends, [*given, stay.present])


def _is_begun(v: Variables, slot: Slot) -> bool:
    """Whether a slot is that of a crossing which has begun on a day under way."""
    has_begun = (slot.ground, slot.hand) in v.problem.inside and slot.visit in v.problem.begun_visits
    return has_begun and slot.number == 0


def keep_unspoiled(v: Variables, spoiling: Spoiling, before: list[set[int]]) -> None:
    """A stage that makes dust or spray shares no time with one, or a wait after it, that these would spoil."""
    if spoiling.maker in before[spoiling.spoiled]:
        return
    maker, spoiled = v.activities[spoiling.maker], v.activities[spoiling.spoiled]
    given = [t.present for t in (maker, spoiled) if t.present is not v.true]
    sooner = v.literal(f"{maker.name} before {spoiled.name}")
    v.model.add(maker.end <= spoiled.start).only_enforce_if([sooner, *given])
    v.model.add(maker.start >= spoiled.end + spoiling.minutes).only_enforce_if([~sooner, *given])
    for until in spoiling.until:
        if until is None:
            v.model.add_bool_or([sooner, *(~g for g in given)])
        elif until != spoiling.maker:
            until_task = v.activities[until]
            when = [~sooner, *given, *([] if until_task.present is v.true else [until_task.present])]
            v.model.add(maker.start >= until_task.start).only_enforce_if(when)


def keep_from_mixing(v: Variables, pair: Unmixable) -> None:
    """Chemicals that must never meet have a rinse of the surface between them; the last rinse of the first is over."""
    one, other = v.activities[pair.one], v.activities[pair.other]
    given = [t.present for t in (one, other) if t.present is not v.true]
    sooner = v.literal(f"{one.name} before {other.name}")
    for first, second, order, off in ((one, other, sooner, pair.off_one), (other, one, ~sooner, pair.off_other)):
        rinsed = []
        for r in pair.rinses:
            between, rinse = v.literal(f"rinse {r} between {first.name} and {second.name}"), v.activities[r]
            v.model.add(rinse.start >= first.end).only_enforce_if(between)
            v.model.add(rinse.end <= second.start).only_enforce_if(between)
            if rinse.present is not v.true:
                v.model.add_implication(between, rinse.present)
            rinsed.append(between)
        v.model.add_bool_or([*rinsed, ~order, *(~g for g in given)])
        for rinse in (v.activities[r] for r in off):
            there = [] if rinse.present is v.true else [rinse.present]
            v.model.add(rinse.end <= second.start).only_enforce_if([order, *given, *there])


def _span(v: Variables, closed: Closed) -> tuple[Expr, Expr | None]:
    """From when, and until when (None: for good)."""
    first = v.activities[closed.first]
    opens = first.start if closed.from_start else first.end
    if closed.minutes is not None:
        return opens, first.end + closed.minutes
    return opens, None if closed.until is None else v.activities[closed.until].start


def _either_side(v: Variables, start: Expr, end: Expr, opens: Expr, closes: Expr | None, when: list[Expr]) -> None:
    """(start, end) ends by ``opens`` or begins at ``closes`` or later."""
    if closes is None:
        v.model.add(end <= opens).only_enforce_if(when)
        return
    sooner = v.literal("sooner")
    v.model.add(end <= opens).only_enforce_if([sooner, *when])
    v.model.add(start >= closes).only_enforce_if([~sooner, *when])


def always_before(v: Variables) -> list[set[int]]:
    """For each activity, those that the lags put wholly before it (never counting optional ones)."""
    count = len(v.activities)
    before: list[set[int]] = [set() for _ in range(count)]
    for lag in v.problem.lags:
        certain = not v.problem.activities[lag.first].optional and not v.problem.activities[lag.second].optional
        if certain and lag.is_in_turn:
            before[lag.second].add(lag.first)
    changed = True
    while changed:
        changed = False
        for a in range(count):
            more = set().union(*(before[x] for x in before[a])) - before[a]
            if more:
                before[a] |= more
                changed = True
    return before
