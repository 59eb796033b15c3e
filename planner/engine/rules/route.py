"""Rules on the van: visits form one round from its start to its end, with driving between."""

from planner.engine.variables import Arc, Expr, Variables


def obey(v: Variables) -> None:
    """State every rule of this page."""
    if not v.visits:
        for task in v.activities:
            v.model.add(v.home >= task.end)
        return
    drive_round(v)
    for n in range(len(v.visits)):
        keep_promises(v, n)
    come_back_in_order(v)
    come_back_for_work(v)


def drive_round(v: Variables) -> None:
    """The van drives from its start through every visit to its end; driving takes its time, waiting is at visits."""
    route = v.problem.route
    out = (0,) * len(v.problem.jobs) if route is None else route.out
    back = (0,) * len(v.problem.jobs) if route is None else route.back
    between = None if route is None else route.between
    arcs: list[Arc] = []
    driving: list[Expr] = []
    if len(v.visits) == 1:
        arcs += [(0, 1, v.true), (1, 0, v.true)]
    for n, visit in enumerate(v.visits):
        if len(v.visits) > 1:
            arcs += [(0, n + 1, v.literal(f"first {n}")), (n + 1, 0, v.literal(f"last {n}"))]
        if visit.present is not v.true:  # an arc from a visit to itself leaves it out of the round
            arcs.append((n + 1, n + 1, ~visit.present))
        for k, other in enumerate(v.visits):
            if k != n and other.job != visit.job:
                arcs.append((n + 1, k + 1, v.literal(f"{n} to {k}")))
    if len(v.visits) > 1:
        v.model.add_circuit(arcs)
    for tail, head, taken in arcs:
        if tail == head:
            continue
        if tail == 0:
            minutes = out[v.visits[head - 1].job]
            v.model.add(v.visits[head - 1].arrive == v.leave + minutes).only_enforce_if(taken)
        elif head == 0:
            minutes = back[v.visits[tail - 1].job]
            v.model.add(v.home == v.visits[tail - 1].depart + minutes).only_enforce_if(taken)
        else:
            minutes = between[v.visits[tail - 1].job][v.visits[head - 1].job] if between else 0
            v.model.add(v.visits[head - 1].arrive == v.visits[tail - 1].depart + minutes).only_enforce_if(taken)
        driving.append(minutes * taken)
    v.driving, v.arcs = sum(driving), arcs
    for visit in v.visits:
        v.model.add(visit.arrive <= visit.depart)
    if v.problem.fixed_start:
        v.model.add(v.leave == v.problem.opens)


def keep_promises(v: Variables, n: int) -> None:
    """The first arrival to work falls in its window, and the van is gone by the promised time."""
    visit, job = v.visits[n], v.problem.jobs[v.visits[n].job]
    if job.arrive is not None and not v.problem.is_underway:
        first = first_with_work(v, n)
        v.model.add(visit.arrive >= job.arrive[0]).only_enforce_if(first)
        v.model.add(visit.arrive <= job.arrive[1]).only_enforce_if(first)
    elif job.arrive is not None and visit.number == 0:
        v.model.add(visit.arrive >= job.arrive[0])
        v.model.add(visit.arrive <= job.arrive[1])
    if job.done_by is not None:
        v.model.add(visit.depart <= job.done_by).only_enforce_if(visit.present)


def first_with_work(v: Variables, n: int) -> list[Expr]:
    """Literals that hold together when a visit has work and none before it to the same job has."""
    job = v.visits[n].job
    visits = [k for k in v.visits_to(job) if v.visits[k].number <= v.visits[n].number]
    if v.problem.jobs[job].visits == 1:
        return []
    has_work = []
    for k in visits:
        stages = [t.visits[k] for t in v.activities if k in t.visits]
        literal = v.literal(f"work in visit {k}")
        v.model.add_max_equality(literal, stages or [0])
        has_work.append(literal)
    return [*(~x for x in has_work[:-1]), has_work[-1]]


def come_back_in_order(v: Variables) -> None:
    """A later visit to a job comes after an earlier one."""
    for one, other in zip(v.visits, v.visits[1:], strict=False):
        if one.job == other.job:
            v.model.add_implication(other.present, one.present)
            v.model.add(other.arrive >= one.depart).only_enforce_if(other.present)


def come_back_for_work(v: Variables) -> None:
    """A later visit does some stage or chore of its job, or fetches kit; one begun on a day under way may have done so.

    Kit that may stay and needs neither chore nor crossing is of no use to a visit of its own: it might as well have
    gone, or come, with the work.
    """
    for n, visit in enumerate(v.visits):
        if visit.number and n not in v.problem.begun_visits:
            doings = [t.visits[n] for t in v.all_tasks() if n in t.visits]
            legs = [by for stay in v.stays for by in (stay.came_by, stay.left_by)]
            doings += [carried for by in legs for s, carried in by.items() if v.slots[s].visit == n]
            v.model.add_bool_or([*doings, ~visit.present])
