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
    count_overrun(v)


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
        if visit.present is not v.true:
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
    """The first arrival falls in its window, and the van is gone by the promised time."""
    visit, job = v.visits[n], v.problem.jobs[v.visits[n].job]
    if job.arrive is not None and visit.number == 0:
        v.model.add(visit.arrive >= job.arrive[0])
        v.model.add(visit.arrive <= job.arrive[1])
    if job.done_by is not None:
        v.model.add(visit.depart <= job.done_by).only_enforce_if(visit.present)


def come_back_in_order(v: Variables) -> None:
    """A later visit to a job comes after an earlier one."""
    for one, other in zip(v.visits, v.visits[1:], strict=False):
        if one.job == other.job:
            v.model.add_implication(other.present, one.present)
            v.model.add(other.arrive >= one.depart).only_enforce_if(other.present)


def come_back_for_work(v: Variables) -> None:
    """A later visit does some stage of its job; one that has begun already may have done its own."""
    if v.problem.is_underway:
        return
    for n, visit in enumerate(v.visits):
        if visit.number:
            v.model.add_bool_or([*(t.visits[n] for t in v.activities if n in t.visits), ~visit.present])


def count_overrun(v: Variables) -> None:
    """Overrun is how far home lies past the latest finish."""
    finish = v.problem.finish
    if finish is None:
        v.model.add(v.overrun == 0)
    else:
        v.model.add(v.overrun >= v.home - finish)
