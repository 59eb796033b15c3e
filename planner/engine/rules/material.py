"""Rules on material: containers are there in time, water is at hand, and what is left goes out again."""

from planner.engine.bearing import fit_in_one_go
from planner.engine.variables import Expr, Shuttle, Variables


def obey(v: Variables) -> None:
    """State every rule of this page; the load of each leg is summed after it."""
    deliver_material(v)
    bring_before_the_first(v)
    have_water_at_hand(v)
    take_out_again(v)
    count_shuttles(v)


def deliver_material(v: Variables) -> None:
    """The containers that a stage uses are on its ground before it starts."""
    for a, activity in enumerate(v.problem.activities):
        if activity.ground is None or not v.problem.grounds[activity.ground].slots:
            continue
        for m in sorted({m for mode in activity.modes for m, _ in mode.uses}):
            amounts = [dict(mode.uses).get(m, 0) for mode in activity.modes]
            load, most = v.problem.materials[m].load, max(amounts)
            carried = []
            for n in v.slots_of(activity.ground):
                slot = v.slots[n]
                fits = most if load == 0 else min(most, v.problem.grounds[activity.ground].limit // load)
                count = v.model.new_int_var(0, fits, f"{activity.name} material {m} in {n}")
                some = v.literal(f"{activity.name} some {m} in {n}")
                v.model.add_implication(some, slot.present)
                v.model.add(slot.comes <= v.activities[a].start).only_enforce_if(some)
                slot.in_loads.append(load * count)
                slot.in_masses.append(v.problem.materials[m].mass * count)
                if v.caps.shuttles:
                    count = shuttle(v, n, (m, None), (load, v.problem.materials[m].mass), most, count)
                v.model.add(count <= (most if v.caps.shuttles else fits) * some)
                v.deliveries[a, m, n], v.brings_some[a, m, n] = count, some
                carried.append(count)
            v.model.add(sum(carried) == sum(n * x for n, x in zip(amounts, v.modes[a], strict=True)))


def bring_before_the_first(v: Variables) -> None:
    """Containers that stages share are there before the first of them begins, whichever that is."""
    for shared in v.problem.shared:
        bringer = shared.sure[0]
        for (a, m, n), some in v.brings_some.items():
            if (a, m) != (bringer, shared.material):
                continue
            for other in shared.activities:
                task = v.activities[other]
                given = [some] if task.present is v.true else [some, task.present]
                if other != bringer:
                    v.model.add(v.slots[n].comes <= task.start).only_enforce_if(given)


def shuttle(
    v: Variables, n: int, kind: tuple[int, float | None], one: tuple[int, int], most: int, stayed: Expr
) -> Expr:
    """How many containers of one load and mass a slot carries in all, with those of the leg of its stay."""
    slot, (material, rest), inward = v.slots[n], kind, kind[1] is None
    fits = fit_in_one_go(v.problem, slot.ground, slot.hand, one)
    if not fits:
        return stayed
    times = v.model.new_int_var(0, -(-most // fits), "times")
    more, count = v.model.new_int_var(0, most, "shuttled"), v.model.new_int_var(0, most, "carried in all")
    v.model.add(more <= fits * times)
    v.model.add(count == more + stayed)
    v.shuttles.append(Shuttle(n, inward, material, rest, fits, times, count))
    return count


def count_shuttles(v: Variables) -> None:
    """A slot is as many crossings as its hand goes with containers alone, and one."""
    for n, slot in enumerate(v.slots if v.caps.shuttles else ()):
        own = [s for s in v.shuttles if s.slot == n]
        v.model.add(slot.before == sum(s.times for s in own if s.inward))
        v.model.add(slot.after == sum(s.times for s in own if not s.inward))


def have_water_at_hand(v: Variables) -> None:
    """Where something is mixed or a corrosive opened, a full can of water or kit that brings it is there before."""
    for a, activity in enumerate(v.problem.activities):
        if not activity.wants_water:
            continue
        task, sources = v.activities[a], []
        for (other, m, n), some in v.brings_some.items():
            if v.problem.materials[m].water and v.problem.activities[other].ground == activity.ground:
                full = v.literal(f"water of {other} in {n} before {activity.name}")
                v.model.add_implication(full, some)
                v.model.add(v.deliveries[other, m, n] >= 1).only_enforce_if(full)  # `some` may hold for none at all
                v.model.add(v.slots[n].comes <= task.start).only_enforce_if(full)
                v.model.add(v.activities[other].end > task.start).only_enforce_if(full)
                sources.append(full)
        for other in v.problem.watered:
            if v.problem.activities[other].ground == activity.ground and other != a:
                full = v.literal(f"water of {other} lies there for {activity.name}")
                v.model.add(v.activities[other].end > task.start).only_enforce_if(full)
                sources.append(full)
        for stay in v.stays:
            if stay.ground == activity.ground and v.problem.kit[stay.kit].water:
                stands = v.literal(f"{stay.kit} brings water for {activity.name}")
                v.model.add_implication(stands, stay.present)
                v.model.add(stay.ready <= task.start).only_enforce_if(stands)
                v.model.add(stay.unready >= task.end).only_enforce_if(stands)
                sources.append(stands)
        v.model.add_bool_or(sources if task.present is v.true else [*sources, ~task.present])


def take_out_again(v: Variables) -> None:
    """Containers, rests and what the work left go out by legs that begin when the stages they wait for are over."""
    for i, leaving in enumerate(v.problem.leaving):
        is_so = _holds(v, leaving.when)
        if is_so is None:
            continue
        taken = []
        for n in v.slots_of(leaving.ground):
            slot = v.slots[n]
            some = v.literal(f"some of leaving {i} in {n}")
            stayed: Expr = some
            if leaving.count > 1:
                stayed = v.model.new_int_var(0, leaving.count, f"leaving {i} in {n}")
            count = stayed
            if v.caps.shuttles and leaving.count > 1:
                kind, one = (leaving.material, leaving.rest), (leaving.load, leaving.mass)
                count = shuttle(v, n, kind, one, leaving.count, stayed)
            if leaving.count > 1:
                v.model.add(count <= leaving.count * some)
            v.model.add_implication(some, slot.present)
            for a in leaving.after:
                task = v.activities[a]
                given = [some] if task.present is v.true else [some, task.present]
                v.model.add(slot.goes >= task.end).only_enforce_if(given)
            slot.out_loads.append(leaving.load * stayed)
            slot.out_masses.append(leaving.mass * stayed)
            v.takings[i, n], v.takes_some[i, n] = count, some
            taken.append(count)
        v.model.add(sum(taken) == leaving.count * is_so)


def _holds(v: Variables, when: tuple[tuple[int, tuple[int, ...]], ...]) -> Expr | None:
    """Whether each activity is done by one of its modes named (none: is not done); None where that cannot be."""
    parts = []
    for a, modes in when:
        if modes:
            parts.append(sum(v.modes[a][m] for m in modes))
        elif v.activities[a].present is v.true:
            return None
        else:
            parts.append(1 - v.activities[a].present)
    if not parts:
        return 1
    if len(parts) == 1:
        return parts[0]
    both = v.literal("so it is left")
    for part in parts:
        v.model.add(part == 1).only_enforce_if(both)
    v.model.add(sum(parts) - len(parts) + 1 <= both)
    return both
