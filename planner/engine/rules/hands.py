"""Rules on hands: one thing at a time, inside crossings and visits, with rests; and the energy cuts."""

from planner.engine.variables import Expr, Rest, Slot, Task, Variables


def obey(v: Variables) -> None:
    """State every rule of this page."""
    if not v.problem.hands:
        return
    protection = {id(t) for _, lay, lift in v.protection.values() for t in (lay, lift)}
    tasks = v.all_tasks()
    inside = [
        t for t in tasks if t.ground is not None and v.problem.grounds[t.ground].slots and id(t) not in protection
    ]
    outside = [
        t for t in tasks if t.ground is not None and (not v.problem.grounds[t.ground].slots or id(t) in protection)
    ]
    for task in inside:
        work_inside_a_slot(v, task)
    for task in outside:
        work_inside_a_visit(v, task)
    for slot in v.slots:
        cross_inside_a_visit(v, slot)
    for h in range(len(v.problem.hands)):
        be_on_one_way(v, h)
        keep_hours(v, h)
        rest_when_owed(v, h)
        do_one_thing(v, h, inside, outside)
        have_time_for_all(v, h, inside, outside)
    have_time_together(v, inside, outside)
    fill_slots(v, inside)
    honour_given_hands(v)
    share_shaking(v)


def work_inside_a_slot(v: Variables, task: Task) -> None:
    """On a ground with a real way in, a hand walks in first and walks out after."""
    v.put_in_slots(task)
    for h, does in task.hands.items():
        own = {n: x for n, x in task.slots.items() if v.slots[n].hand == h}
        v.model.add(sum(own.values()) == does)
        for n, here in own.items():
            slot = v.slots[n]
            v.model.add_implication(here, slot.present)
            v.model.add(task.start >= slot.comes).only_enforce_if(here)
            v.model.add(task.end <= slot.goes).only_enforce_if(here)
            if len(task.visits) > 1:
                v.model.add_implication(here, task.visits[slot.visit])


def work_inside_a_visit(v: Variables, task: Task) -> None:
    """Work by an open way in happens while van and hand are at the job; where it has a toll, a leg from its ends."""
    toll = 0 if task.ground is None else v.problem.grounds[task.ground].toll
    for n, here in task.visits.items():
        for h, does in task.hands.items():
            at = v.attendances[h, n]
            when = [x for x in dict.fromkeys((does, here)) if x is not v.true]  # a set's order is by chance
            v.model.add(task.start >= at.arrive + toll).only_enforce_if(when)
            v.model.add(task.end <= at.leave - toll).only_enforce_if(when)
            if at.present is not v.true:
                v.model.add_bool_or([at.present, *(~x for x in when)])


def cross_inside_a_visit(v: Variables, slot: Slot) -> None:
    """A crossing begins and ends while the hand is at the visit."""
    at = v.attendances[slot.hand, slot.visit]
    v.model.add(slot.start >= at.arrive).only_enforce_if(slot.present)
    v.model.add(slot.end <= at.leave).only_enforce_if(slot.present)
    if at.present is not v.true:
        v.model.add_implication(slot.present, at.present)


def be_on_one_way(v: Variables, h: int) -> None:
    """Slots of one row are used in their order (this only breaks symmetry)."""
    for one, other in zip(v.slots, v.slots[1:], strict=False):
        row = (one.ground, one.hand, one.visit) == (other.ground, other.hand, other.visit)
        if row and one.hand == h:
            # else each plan would be found again for every way of giving its crossings to the slots
            v.model.add_implication(other.present, one.present)
            v.model.add(one.end <= other.start).only_enforce_if(other.present)


def keep_hours(v: Variables, h: int) -> None:
    """One with their own transport comes and goes inside a visit and their hours, with time to travel between jobs."""
    hand = v.problem.hands[h]
    if hand.rides:
        return
    own = [v.attendances[h, n] for n in range(len(v.visits))]
    for at in own:
        visit = v.visits[at.visit]
        v.model.add_implication(at.present, visit.present)
        opens, closes = v.at_work(at.visit)
        v.model.add(at.arrive >= opens).only_enforce_if(at.present)
        v.model.add(at.leave <= closes).only_enforce_if(at.present)
        v.model.add(at.arrive >= hand.earliest).only_enforce_if(at.present)
        v.model.add(at.leave <= hand.latest).only_enforce_if(at.present)
        v.model.add(at.arrive <= at.leave).only_enforce_if(at.present)
    route = v.problem.route
    for n, one in enumerate(own):
        for other in own[n + 1 :]:
            a, b = v.visits[one.visit].job, v.visits[other.visit].job
            sooner = v.literal(f"hand {h}: {one.visit} before {other.visit}")
            given = [one.present, other.present]
            there, back = (0, 0) if route is None else (route.between[a][b], route.between[b][a])
            v.model.add(one.leave + there <= other.arrive).only_enforce_if([sooner, *given])
            v.model.add(other.leave + back <= one.arrive).only_enforce_if([~sooner, *given])


def _working_span(v: Variables, h: int) -> tuple[Expr, Expr]:
    if v.problem.hands[h].rides:
        return v.leave, v.home
    first, last = v.time(f"hand {h} first"), v.time(f"hand {h} last")
    for n in range(len(v.visits)):
        at = v.attendances[h, n]
        v.model.add(first <= at.arrive).only_enforce_if(at.present)
        v.model.add(last >= at.leave).only_enforce_if(at.present)
    begins = [v.literal(f"hand {h} begins at {n}") for n in range(len(v.visits))]
    for n, here in enumerate(begins):
        v.model.add_implication(here, v.attendances[h, n].present)
        v.model.add(first == v.attendances[h, n].arrive).only_enforce_if(here)
        v.model.add_bool_or([*begins, ~v.attendances[h, n].present])
    return first, last


def rest_when_owed(v: Variables, h: int) -> None:
    """A hand that is there longer than the law or the day allows has a break, begun in time.

    On a long day it has a meal at its hour, which is the break too where it falls in its time.
    """
    owed, meal = v.problem.hands[h].rest, v.problem.hands[h].meal
    if owed is None and meal is None:
        return
    first, last = _working_span(v, h)
    eaten = None
    if meal is not None:
        eaten = _rest(v, h, meal.length)
        v.model.add(last - first <= meal.once_over).only_enforce_if(~eaten.present)
        v.model.add(eaten.start >= meal.earliest).only_enforce_if(eaten.present)
        v.model.add(eaten.start <= meal.latest).only_enforce_if(eaten.present)
    if owed is None:
        return
    rest = _rest(v, h, owed.length)
    breaks = [(rest, rest.present)]
    if eaten is not None and eaten.length >= owed.length:
        is_break = v.literal(f"meal {h} is the break")
        v.model.add_implication(is_break, eaten.present)
        breaks.append((eaten, is_break))
    v.model.add(last - first <= owed.once_over).only_enforce_if([~x for _, x in breaks])
    for taken, counts in breaks:
        v.model.add(taken.start <= first + owed.within).only_enforce_if(counts)
        v.model.add(taken.start >= first + owed.soonest).only_enforce_if(counts)
        if owed.earliest is not None:
            v.model.add(taken.start >= owed.earliest).only_enforce_if(counts)
        if owed.latest is not None:
            v.model.add(taken.start <= owed.latest).only_enforce_if(counts)


def _rest(v: Variables, h: int, length: int) -> Rest:
    """A rest that a hand may have, inside a visit."""
    present, start = v.literal(f"rest {h}"), v.time(f"rest {h} start")
    interval = v.model.new_optional_fixed_size_interval_var(start, length, present, f"rest {h}")
    rest = Rest(h, present, start, length, interval)
    for n in range(len(v.visits)):
        at = v.attendances[h, n]
        here = v.literal(f"rest {h} in visit {n}")
        rest.visits[n] = here
        v.model.add(start >= at.arrive).only_enforce_if(here)
        v.model.add(start + length <= at.leave).only_enforce_if(here)
        if at.present is not v.true:
            v.model.add_implication(here, at.present)
    v.model.add(sum(rest.visits.values()) == present)
    v.rests.append(rest)
    return rest


def do_one_thing(v: Variables, h: int, inside: list[Task], outside: list[Task]) -> None:
    """A hand does one thing at a time, and is in one place at a time."""
    slots = [v.slots[n] for n in v.slots_of(hand=h)]
    rests = [r for r in v.rests if r.hand == h]
    away = [s.interval for s in slots] + [t.by_hand[h] for t in outside]
    if slots:
        v.model.add_no_overlap(away)
    busy = [t.by_hand[h] for t in [*inside, *outside]] + [r.interval for r in rests]
    if rests:  # a break may be taken inside a crossing, though not on its legs: only those are busy
        for slot in slots:  # nor across one, and be it of no minutes
            for start, end, times in ((slot.start, slot.comes, slot.before), (slot.goes, slot.end, slot.after)):
                length = slot.walk + 2 * slot.walk * times
                busy.append(v.model.new_optional_interval_var(start, length, end, slot.present, "leg"))
    v.model.add_no_overlap(busy)


def _hours_at_jobs(v: Variables, h: int) -> Expr:
    """The minutes that a hand spends at visits."""
    if v.problem.hands[h].rides:
        return v.home - v.leave - v.driving - v.problem.coming_and_going
    spent = []
    for n in range(len(v.visits)):
        at = v.attendances[h, n]
        minutes = v.model.new_int_var(0, v.end_of_time, f"hand {h} at {n}")
        v.model.add(minutes <= at.leave - at.arrive).only_enforce_if(at.present)
        v.model.add(minutes == 0).only_enforce_if(~at.present)
        spent.append(minutes)
    return sum(spent)


def have_time_for_all(v: Variables, h: int, inside: list[Task], outside: list[Task]) -> None:
    """Energy cut: what a hand does, walks and rests fits into its time at jobs (implied, but it gives the bound)."""
    hours = _hours_at_jobs(v, h)
    slots = [v.slots[n] for n in v.slots_of(hand=h)]
    # who is alone does whatever is done, by whichever method; of several, who does it and how long it takes are both
    # open, and their product is not linear: so the least by any method
    alone = len(v.problem.hands) == 1
    work = sum(
        (t.minutes if t.present is v.true else t.least_minutes * t.present) if alone else t.least_minutes * t.hands[h]
        for t in [*inside, *outside]
    )
    walks = sum(2 * s.walk * s.times for s in slots) + (_tolls(v) if alone else 0)
    v.model.add(work + walks + sum(r.length * r.present for r in v.rests if r.hand == h) <= hours)


def have_time_together(v: Variables, inside: list[Task], outside: list[Task]) -> None:
    """Energy cut over all hands: all work, walks and rests fit into all their time."""
    if len(v.problem.hands) < 2:
        return
    # stronger than the cuts of single hands together: here each method counts with its own minutes and hands
    hours = sum(_hours_at_jobs(v, h) for h in range(len(v.problem.hands)))
    work: list[Expr] = []
    activities = {id(t): a for a, t in enumerate(v.activities)}
    for task in [*inside, *outside]:
        a = activities.get(id(task))
        if a is None:
            work.append(task.least_minutes * task.wanted)
        else:
            modes = v.problem.activities[a].modes
            work += [m.minutes * m.hands * x for m, x in zip(modes, v.modes[a], strict=True)]
    walks = [_tolls(v), *(2 * s.walk * s.times for s in v.slots)]
    v.model.add(sum(work) + sum(walks) + sum(r.length * r.present for r in v.rests) <= hours)


def _tolls(v: Variables) -> int:
    """Minutes of walking that are certain where crossings are left out."""
    return sum(2 * ground.toll * ground.tolls for ground in v.problem.grounds)


def fill_slots(v: Variables, inside: list[Task]) -> None:
    """Energy cut: a crossing is at least its walk and the work assigned to it."""
    for n, slot in enumerate(v.slots):
        # without it the relaxation works in crossings of no length, and the bound is hopeless
        work = sum(t.least_minutes * t.slots[n] for t in inside if n in t.slots)
        v.model.add(slot.length >= 2 * slot.walk * (1 + slot.before + slot.after) + work)


def honour_given_hands(v: Variables) -> None:
    """A stage that the day gives to a hand is done by that hand."""
    for a, activity in enumerate(v.problem.activities):
        if activity.hand is not None and len(v.problem.hands) > 1:
            does = v.activities[a].hands[activity.hand]
            v.model.add(does == v.activities[a].present)


def share_shaking(v: Variables) -> None:
    """No hand takes more vibration in the day than the limit value."""
    most = v.problem.most_shake
    if most is None:
        return
    for h in range(len(v.problem.hands)):
        taken: list[Expr] = [v.problem.hands[h].shaken]
        for a, activity in enumerate(v.problem.activities):
            shakes = [mode.shake for mode in activity.modes]
            if not any(shakes):
                continue
            does = v.activities[a].hands[h]
            if len(shakes) == 1 or len(v.problem.hands) == 1:
                taken.append(
                    sum(
                        n * (m if does is v.activities[a].present else does)
                        for n, m in zip(shakes, v.modes[a], strict=True)
                    )
                )
                continue
            share = v.model.new_int_var(0, max(shakes), f"hand {h} shaken by {activity.name}")
            for shake, mode in zip(shakes, v.modes[a], strict=True):
                v.model.add(share >= shake).only_enforce_if([mode, does])
            taken.append(share)
        v.shaken[h] = sum(taken)
        if len(taken) > 1:
            v.model.add(v.shaken[h] <= most)
