"""What is natural: how a practised person would put the day among all plans that are equally good.

Each preference is a function that says, in minutes of trouble, how far a plan is from it. All of them are common
practice, no source.
"""

from collections.abc import Hashable

from planner.engine.variables import Expr, Task, Variables

UPSIDE_DOWN = 60
"""Minutes of trouble where what lies below is worked before what is above it."""

ONCE_MORE_THERE_AND_BACK = 15
"""Minutes of trouble for a crossing that nobody counts, over and above the walk."""

NOON, ONE = 12 * 60, 13 * 60
"""The hour in which a break usually begins."""


def unnatural(v: Variables) -> Expr:
    """All preferences together, in minutes of trouble."""
    return (
        from_the_top_down(v)
        + kit_stands_no_longer_than_it_is_used(v)
        + like_work_together(v)
        + one_thing_whole(v)
        + break_at_its_usual_hour(v)
        + nobody_crosses_for_nothing(v)
    )


def from_the_top_down(v: Variables) -> Expr:
    """What is above is worked before what lies below it, and what lies behind before what one goes over to it."""
    trouble = []
    for upper, lower in v.problem.above:
        first, second = v.activities[upper], v.activities[lower]
        other_way = v.literal(f"{second.name} before {first.name}, which is above")
        given = [x.present for x in (first, second) if x.present is not v.true]
        v.model.add(first.start <= second.start).only_enforce_if([~other_way, *given])
        trouble.append(UPSIDE_DOWN * other_way)
    return sum(trouble)


def kit_stands_no_longer_than_it_is_used(v: Variables) -> Expr:
    """Kit is carried in, and set up, shortly before it is used; it is packed down and goes out soon after."""
    standing = []
    for stay in v.stays:
        for since, until in ((stay.came, stay.left), (stay.ready, stay.unready)):
            minutes = v.model.new_int_var(0, v.end_of_time, "stands")
            v.model.add(minutes >= until - since).only_enforce_if(stay.present)
            standing.append(minutes)
    return sum(standing)


def like_work_together(v: Variables) -> Expr:
    """Stages of one kind are done one after the other."""
    return _drawn_out(v, [(_ground_of(v, a), x.kind) for a, x in enumerate(v.problem.activities)], "kind")


def one_thing_whole(v: Variables) -> Expr:
    """Work on one surface, and on one ground, is not cut up by other work."""
    surfaces = _drawn_out(v, [activity.surface for activity in v.problem.activities], "surface")
    return surfaces + _drawn_out(v, [activity.ground for activity in v.problem.activities], "ground")


def break_at_its_usual_hour(v: Variables) -> Expr:
    """A break begins between noon and one."""
    trouble = []
    for rest in v.rests:
        off = v.model.new_int_var(0, v.end_of_time, "off the usual hour")
        v.model.add(off >= NOON - rest.start).only_enforce_if(rest.present)
        v.model.add(off >= rest.start - ONE).only_enforce_if(rest.present)
        trouble.append(off)
    return sum(trouble)


def nobody_crosses_for_nothing(v: Variables) -> Expr:
    """As few crossings as the work wants, and none longer than what is done in it."""
    return sum(ONCE_MORE_THERE_AND_BACK * slot.present for slot in v.slots) + sum(
        _length(v, n) for n in range(len(v.slots))
    )


def in_the_order_of_the_file(v: Variables) -> Expr:
    """Everything as early as it can be, and what the file has first before what it has later."""
    count = len(v.activities)
    early = sum((3 * count - a) * task.start for a, task in enumerate(v.activities))
    chores = [t for s in v.stays for t in (s.set_up, s.pack_down) if t is not None]
    return early + sum(chore.start for chore in chores) + sum(rest.start for rest in v.rests)


def _length(v: Variables, n: int) -> Expr:
    slot = v.slots[n]
    minutes = v.model.new_int_var(0, v.end_of_time, "away")
    v.model.add(minutes >= slot.end - slot.start).only_enforce_if(slot.present)
    return minutes


def _drawn_out(v: Variables, what: list[Hashable], name: str) -> Expr:
    """From the first to the last of what is alike, for each sort that there is more than one of."""
    groups: dict[Hashable, list[Task]] = {}
    for alike, task in zip(what, v.activities, strict=True):
        if task.present is v.true:
            groups.setdefault(alike, []).append(task)
    spans = []
    for tasks in groups.values():
        if len(tasks) < 2:
            continue
        first, last = v.time(f"first of a {name}"), v.time(f"last of a {name}")
        for task in tasks:
            v.model.add(first <= task.start)
            v.model.add(last >= task.end)
        spans.append(last - first)
    return sum(spans)


def _ground_of(v: Variables, a: int) -> int | None:
    return v.problem.activities[a].ground
