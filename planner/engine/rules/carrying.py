"""Rules on kit: stays, what each crossing carries, sack trucks, floor protection."""

from itertools import combinations

from ortools.sat.python import cp_model

from planner.engine.bearing import may_set_up, strain
from planner.engine.rules import material
from planner.engine.variables import Expr, Slot, Stay, Variables


def obey(v: Variables) -> None:
    """State every rule of this page."""
    lay_protection(v)
    for stay in v.stays:
        use_stay(v, stay)
        set_up_in_turn(v, stay)
        keep_to_visits(v, stay)
        if v.problem.grounds[stay.ground].slots:
            carry_in_and_out(v, stay)
        else:
            stand_from_chore_to_chore(v, stay)
            set_up_what_one_can_lift(v, stay)
    lie_until_set_up_again(v)
    share_stays(v)
    keep_to_what_is_owned(v)
    material.obey(v)
    roll(v)
    roll_one_at_a_time(v)
    for slot in v.slots:
        keep_load_limit(v, slot)
    order_equal_stays(v)


def use_stay(v: Variables, stay: Stay) -> None:
    """A stay that a stage uses is set up before it and packed down after it; one that nothing uses is not made.

    Kit that is rinsed out when it is packed down serves one chemical. What stays at a job until another day is used
    where it stands, be it set up there anew, and nowhere else.
    """
    if v.problem.kit[stay.kit].stays_put and stay.standing is None:
        v.model.add(stay.present <= sum(stay.follows.values()))
    for a, used in stay.used_by.items():
        v.model.add_implication(used, stay.present)
        v.model.add(stay.ready <= v.activities[a].start).only_enforce_if(used)
        v.model.add(stay.unready >= v.activities[a].end).only_enforce_if(used)
    if v.problem.kit[stay.kit].of_one_chemical:
        for a, b in combinations(stay.used_by, 2):
            if v.problem.activities[a].chemical != v.problem.activities[b].chemical:
                v.model.add_bool_or([~stay.used_by[a], ~stay.used_by[b]])
    if stay.standing is None:
        v.model.add_bool_or([*stay.used_by.values(), ~stay.present])
    v.model.add(stay.ready <= stay.unready).only_enforce_if(stay.present)
    if stay.set_up is not None:
        v.model.add(stay.came <= stay.set_up.start).only_enforce_if(stay.present)
    if stay.pack_down is not None:
        v.model.add(stay.pack_down.end <= stay.left).only_enforce_if(stay.present)


def set_up_in_turn(v: Variables, stay: Stay) -> None:
    """Kit is set up while all that it needs stands set up there: the hose, then the washer, then its head."""
    task = stay.set_up
    if task is None or (stay.standing is not None and stay.standing.is_begun):
        return
    for k in v.problem.kit[stay.kit].needs:
        others = [other for other in v.stays if (other.kit, other.ground) == (k, stay.ground)]
        stands = [stay.present] if len(others) == 1 else [v.literal(f"{k} for {stay.kit}") for _ in others]
        for other, there in zip(others, stands, strict=True):
            v.model.add_implication(there, other.present)
            v.model.add(other.ready <= task.start).only_enforce_if(there)
            v.model.add(other.unready >= task.end).only_enforce_if(there)
        v.model.add_bool_or([*stands, ~stay.present])


def keep_to_visits(v: Variables, stay: Stay) -> None:
    """Kit comes and goes with the van, but for what may stay while it is away."""
    if v.problem.kit[stay.kit].may_stay:
        come_and_go_in_visits(v, stay)
        return
    if len(stay.visits) > 1:
        v.model.add(sum(stay.visits.values()) == stay.present)
    for n, here in stay.visits.items():
        v.model.add(stay.came >= v.visits[n].arrive).only_enforce_if(here)
        v.model.add(stay.left <= v.visits[n].depart).only_enforce_if(here)
        if here is not stay.present:
            v.model.add_implication(here, v.visits[n].present)
            for by in (stay.came_by, stay.left_by):
                for s, carried in by.items():
                    if v.slots[s].visit == n:
                        v.model.add_implication(carried, here)


def come_and_go_in_visits(v: Variables, stay: Stay) -> None:
    """Kit that may stay comes in one visit and goes in that or another; a leg or chore that carries says which."""
    if v.problem.grounds[stay.ground].slots:
        return
    ends = [(stay.pack_down, stay.left, stay.visits_out)]
    if stay.standing is None:
        ends.append((stay.set_up, stay.came, stay.visits))
    for chore, minute, at in ends:
        if chore is not None:
            at.clear()
            at.update(chore.visits)
            continue
        if len(at) > 1:
            v.model.add(sum(at.values()) == stay.present)
        for n, here in at.items():
            v.model.add_implication(here, v.visits[n].present)
            v.model.add(minute >= v.visits[n].arrive).only_enforce_if(here)
            v.model.add(minute <= v.visits[n].depart).only_enforce_if(here)


def carry_in_and_out(v: Variables, stay: Stay) -> None:
    """Kit comes in the in-leg of a crossing and goes in the out-leg of one; heavy kit by several hands at once."""
    kit = v.problem.kit[stay.kit]
    share = -(-kit.load // kit.lift)
    for legs, inward in ((stay.came_by, True), (stay.left_by, False)):
        if (inward and stay.standing is not None) or (not inward and kit.stays_put):
            v.model.add(sum(legs.values()) == 0)
            continue
        lain = sum((stay.follows if inward else stay.followed).values())
        v.model.add(sum(legs.values()) == kit.lift * (stay.present - lain))
        for h in range(len(v.problem.hands)):
            own = [x for n, x in legs.items() if v.slots[n].hand == h]
            if kit.lift > 1:
                v.model.add_at_most_one(own)
        for n, carried in legs.items():
            slot = v.slots[n]
            v.model.add_implication(carried, slot.present)
            if inward:
                v.model.add(stay.came == slot.comes).only_enforce_if(carried)
            else:
                v.model.add(stay.left == slot.goes).only_enforce_if(carried)
            if share:
                (slot.in_loads if inward else slot.out_loads).append(share * carried)
            if kit.mass:
                (slot.in_masses if inward else slot.out_masses).append(_borne(v, stay, legs, n))


def lie_until_set_up_again(v: Variables) -> None:
    """Kit that is packed down may lie where it is until it is set up there again: nobody carries it in between."""
    for stay in v.stays:
        for ends in (stay.follows, stay.followed):
            if ends:
                v.model.add(sum(ends.values()) <= stay.present)
        for n, lies in stay.followed.items():
            other = v.stays[n]
            if v.problem.grounds[stay.ground].slots:
                v.model.add(other.came == stay.left).only_enforce_if(lies)
                _lie_in_one_visit(v, stay, other, lies)
            else:  # crossings are left out
                v.model.add(other.came >= stay.left).only_enforce_if(lies)


def _lie_in_one_visit(v: Variables, stay: Stay, other: Stay, lies: Expr) -> None:
    """One stay ends and the next begins in the same visit; which, no leg says."""
    visits = v.visits_to(v.problem.grounds[stay.ground].job)
    if len(visits) == 1:
        return
    if not v.problem.kit[stay.kit].may_stay:
        for n in visits:
            v.model.add(stay.visits[n] == other.visits[n]).only_enforce_if(lies)
        return
    here = {n: v.literal(f"lies in visit {n}") for n in visits}
    v.model.add(sum(here.values()) == lies)
    for n, at in here.items():
        v.model.add_implication(at, v.visits[n].present)
        v.model.add(stay.left >= v.visits[n].arrive).only_enforce_if(at)
        v.model.add(stay.left <= v.visits[n].depart).only_enforce_if(at)
        v.model.add(stay.visits_out[n] == at).only_enforce_if(lies)
        v.model.add(other.visits[n] == at).only_enforce_if(lies)


def stand_from_chore_to_chore(v: Variables, stay: Stay) -> None:
    """On an open way in the chores carry: kit stands from the start of its set-up to the end of its pack-down."""
    if stay.set_up is not None:
        v.model.add(stay.came == stay.set_up.start)
    if stay.pack_down is not None:
        v.model.add(stay.left == stay.pack_down.end)


def share_stays(v: Variables) -> None:
    """Each stage has a stay of every kit of its method, and a stay serves one stage at a time."""
    users: dict[tuple[int, int], list[Expr]] = {}
    for stay in v.stays:
        for a, used in stay.used_by.items():
            users.setdefault((a, stay.kit), []).append(used)
    for (a, k), stays in users.items():
        modes = v.problem.activities[a].modes
        needed = [m for m, mode in zip(v.modes[a], modes, strict=True) if k in mode.kit]
        v.model.add(sum(stays) == sum(needed))
    if len(v.problem.hands) > 1:
        for stay in v.stays:
            if len(stay.used_by) > 1:
                v.model.add_no_overlap(
                    v.model.new_optional_interval_var(
                        v.activities[a].start, v.activities[a].minutes, v.activities[a].end, used, f"use {a}"
                    )
                    for a, used in stay.used_by.items()
                )


def keep_to_what_is_owned(v: Variables) -> None:
    """No more of a kit is out at once, carrying included, than is owned."""
    for k, kit in enumerate(v.problem.kit):
        stays = [s for s in v.stays if s.kit == k]
        jobs = [v.problem.grounds[s.ground].job for s in stays]
        crowded = any(jobs.count(j) > kit.own for j in jobs)
        if not crowded and not (kit.may_stay and len(stays) > kit.own):
            continue
        intervals = [_occupied(v, s) for s in stays]
        if kit.own == 1:
            v.model.add_no_overlap(intervals)
        else:
            v.model.add_cumulative(intervals, [1] * len(intervals), kit.own)


def _occupied(v: Variables, stay: Stay) -> cp_model.IntervalVar:
    """From the start of the leg that brings a stay's kit to the end of the leg that takes it away; where its kit lies
    there before or after, no leg does."""
    ground = v.problem.grounds[stay.ground]
    walk = ground.walk if ground.slots else ground.toll
    start = _by_leg(v, stay.came - walk, walk, stay.follows)
    end = _by_leg(v, stay.left + walk, -walk, stay.followed)
    length = v.model.new_int_var(0, v.end_of_time, "occupied minutes")
    return v.model.new_optional_interval_var(start, length, end, stay.present, "occupied")


def _by_leg(v: Variables, minute: Expr, leg: int, lies: dict[int, Expr]) -> Expr:
    """The far end of the leg that carries a stay's kit, or this one where it lies there."""
    if not lies or not leg:
        return minute
    end = v.model.new_int_var(v.opens - abs(leg), v.end_of_time + abs(leg), "carried")
    v.model.add(end == minute + leg * sum(lies.values()))
    return end


def _borne(v: Variables, stay: Stay, legs: dict[int, Expr], n: int) -> Expr:
    """What the hand of a slot bears of a kit's mass, if any; of what a team lifts, a part of that team's guideline.

    Where more hands than it takes could be the team, and they do not lift alike, which of them it is decides.
    """
    kit, hand = v.problem.kit[stay.kit], v.slots[n].hand
    hands = tuple(range(len(v.problem.hands)))
    teams = [team for team in combinations(hands, kit.lift) if hand in team]
    strains = {team: strain(v.problem, team, hand, kit.mass) for team in teams}
    if len(set(strains.values())) == 1:
        return next(iter(strains.values())) * legs[n]
    heaviest = max(strains.values())
    borne = v.model.new_int_var(min(strains.values()), heaviest, "borne")
    for team, part in strains.items():
        others = [sum(x for k, x in legs.items() if v.slots[k].hand == h) for h in team]
        v.model.add(borne >= part - heaviest * (kit.lift - sum(others)))
    share = v.model.new_int_var(0, heaviest, "borne if carried")
    v.model.add(share >= borne).only_enforce_if(legs[n])
    return share


def roll(v: Variables) -> None:
    """A sack truck or a barrow may go along for a whole crossing, on ways that take wheels."""
    for k, kit in enumerate(v.problem.kit):
        for slot in v.slots if kit.wheels and kit.own else ():
            if v.problem.grounds[slot.ground].wheeled:
                slot.wheels[k] = v.literal(f"{kit.name} along")
                v.model.add_implication(slot.wheels[k], slot.present)


def roll_one_at_a_time(v: Variables) -> None:
    """No more sack trucks or barrows roll at once than are owned, and nobody takes two."""
    for k, kit in enumerate(v.problem.kit):
        rolling = [
            v.model.new_optional_interval_var(slot.start, slot.length, slot.end, slot.wheels[k], f"{kit.name} rolls")
            for slot in v.slots
            if k in slot.wheels
        ]
        if kit.own == 1 and rolling:
            v.model.add_no_overlap(rolling)
        elif rolling:
            v.model.add_cumulative(rolling, [1] * len(rolling), kit.own)
    for slot in v.slots:
        if len(slot.wheels) > 1:
            v.model.add_at_most_one(slot.wheels.values())


def keep_load_limit(v: Variables, slot: Slot) -> None:
    """One hand carries no more on one leg than the way allows, nor than they lift; with wheels, what those take."""
    limit, lifts = v.problem.grounds[slot.ground].limit, v.problem.hands[slot.hand].lifts
    kit = v.problem.kit
    more = sum(max(0, kit[k].wheels_load - limit) * along for k, along in slot.wheels.items())
    for loads in (slot.in_loads, slot.out_loads):
        if loads:
            v.model.add(sum(loads) <= limit * slot.present + more)
    if lifts is None:
        return
    heavier = sum(max(0, kit[k].wheels - lifts) * along for k, along in slot.wheels.items())
    for masses in (slot.in_masses, slot.out_masses):
        if masses:
            v.model.add(sum(masses) <= lifts * slot.present + heavier)


def set_up_what_one_can_lift(v: Variables, stay: Stay) -> None:
    """On an open way whoever sets kit up or packs it down lifts it."""
    hands = tuple(range(len(v.problem.hands)))
    size = v.problem.chore_hands(stay.ground, stay.kit)
    for task in (stay.set_up, stay.pack_down):
        if task is None:
            continue
        for team in combinations(hands, size):
            if not may_set_up(v.problem, stay.ground, stay.kit, team):
                v.model.add_bool_or([~task.hands[h] for h in team])


def lay_protection(v: Variables) -> None:
    """Floor protection that is ours is down before the first crossing of a visit, lifted after the last."""
    for g, ground in enumerate(v.problem.grounds):
        if not ground.slots or not (ground.lay or ground.lift):
            continue
        for n in v.visits_to(ground.job):
            slots = [v.slots[s] for s in v.slots_of(g, visit=n)]
            if not slots and (g, n) not in v.problem.laid:
                continue
            used = v.literal(f"{ground.name} used in visit {n}")
            is_laid = (g, n) in v.problem.laid
            must_lay = ground.lay and not is_laid
            lay = v.task(f"lay {ground.name} {n}", g, ground.lay, ground.lay, used, used) if must_lay else None
            lift = v.task(f"lift {ground.name} {n}", g, ground.lift, ground.lift, used, used) if ground.lift else None
            v.protection[g, n] = (used, lay, lift)
            for task in (lay, lift):
                if task is not None and len(task.visits) > 1:
                    v.model.add_implication(used, task.visits[n])
            for slot in slots:
                v.model.add_implication(slot.present, used)
                if lay is not None:
                    v.model.add(lay.end <= slot.start).only_enforce_if(slot.present)
                if lift is not None:
                    v.model.add(lift.start >= slot.end).only_enforce_if(slot.present)
            if not is_laid:
                v.model.add_bool_or([*(s.present for s in slots), ~used])


def order_equal_stays(v: Variables) -> None:
    """Equal stays are used in their order (this only breaks symmetry)."""
    for one, other in zip(v.stays, v.stays[1:], strict=False):
        if (one.kit, one.ground) == (other.kit, other.ground):
            v.model.add_implication(other.present, one.present)
            if v.problem.kit[one.kit].own == 1:  # of several pieces two may stand at once, and in any order
                v.model.add(one.left <= other.came).only_enforce_if(other.present)
