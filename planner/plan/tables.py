"""A plan as tables: pandas DataFrames, each with a fixed set of columns that its function documents.

Times are minutes after midnight of the day's date; spans are in minutes. Keys of the day stand in the columns ``job``,
``hand``, ``ground``, ``stage``, ``method``, ``kit`` and ``material``. What does not apply is None, or NaN
among numbers that are not whole; whole numbers stay whole beside a None.
An empty plan gives an empty table with the same columns.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from planner.day import Day
from planner.day.names import called
from planner.plan.coming_and_going import coming_and_going, is_meal
from planner.plan.exposed import (
    dusty_work,
    heaviest_lift,
    noise_exposed,
    noise_heard,
    resting,
    time_out,
    vibration_exposed,
    vibration_uses,
)
from planner.plan.legs import legs
from planner.plan.loading import Load, Used, loads, uses, water, water_from
from planner.plan.plan import Carried, Plan
from planner.plan.waits import planned_waits
from planner.trade.breaks import break_minutes
from planner.trade.exposure import noise_exposure, vibration_exposure
from planner.trade.limits import limits

if TYPE_CHECKING:
    import pandas as pd

TIMELINE = (
    "hand",
    "start",
    "end",
    "minutes",
    "what",
    "job",
    "visit",
    "ground",
    "stage",
    "method",
    "kit",
    "place",
)
CROSSINGS = (
    "job", "visit", "ground", "through", "restricted", "hand", "start", "end", "minutes",
    "carried_in", "load_in", "carried_out", "load_out", "load_limit",
)  # fmt: skip
WAITS = (
    "job",
    "after",
    "before",
    "kind",
    "start",
    "end",
    "minutes",
    "least",
    "most",
    "order",
    "patch_shortest",
    "patch_longest",
    "filled",
    "unfilled",
    "filled_by",
)
LOAD_LIST = ("group", "kind", "key", "name", "count", "expected", "container", "mass_kg", "jobs", "needed_at")
QUANTITIES = ("job", "stage", "material", "name", "count", "expected", "container", "kg", "litres")
EXPOSURE = (
    "hand", "vibration_minutes", "vibration_points", "vibration_a8", "vibration",
    "noise_minutes", "noise_points", "noise_daily", "noise_at_ear", "noise",
    "dust_minutes", "lift_kg", "lift_hands", "lift_what", "lift",
)  # fmt: skip
HOURS = (
    "hand",
    "start",
    "end",
    "minutes",
    "working",
    "walking",
    "driving",
    "resting",
    "break_due",
    "break_by_law",
    "cost",
)


def timeline(day: Day, plan: Plan) -> pd.DataFrame:
    """All that each hand does, hand by hand in order of time.

    Returns
    -------
    DataFrame
        Columns `TIMELINE`. ``what`` is "drive", "walk in", "walk out", "set up", "pack down", "lay", "lift", "stage",
        "arrive", "leave", "break" or "meal"; ``place`` is where a drive goes. What does not apply is None.
    """
    riders = [key for key, hand in day.hands.items() if not hand.own_transport]
    rows: list[dict[str, Any]] = []
    for drive in plan.drives:
        rows += [_duty(hand, drive.start, drive.end, "drive", place=drive.to_place) for hand in riders]
    for fetch in plan.fetches:
        there, back = day.jobs[fetch.job].place, fetch.place
        rows.append(_duty(fetch.hand, fetch.leaves, fetch.there, "drive", place=back, kit=fetch.kit))
        rows.append(_duty(fetch.hand, fetch.away, fetch.back, "drive", place=there, kit=fetch.kit))
    for rest in plan.rests:
        rows.append(_duty(rest.hand, rest.start, rest.end, "meal" if is_meal(day, rest) else "break"))
    for visit in plan.visits:
        at = {"job": visit.job, "visit": visit.number}
        for what, start, end in coming_and_going(day, plan, visit):
            rows += [_duty(hand, start, end, what, **at) for hand in riders]
    for c in plan.crossings:
        where = {"job": c.job, "visit": c.visit, "ground": c.ground}
        for way, (start, end) in zip(("walk in", "walk out"), legs(day, c), strict=True):
            rows.append(_duty(c.hand, start, end, way, **where))
    for chore in plan.chores:
        where = {"job": chore.job, "visit": chore.visit, "ground": chore.ground, "kit": chore.kit}
        rows += [_duty(hand, chore.start, chore.end, chore.what, **where) for hand in chore.hands]
    for w in plan.works:
        where = {"job": w.job, "visit": w.visit, "ground": day.jobs[w.job].ground_of(w.stage)}
        rows += [_duty(h, w.start, w.end, "stage", stage=w.stage, method=w.method, **where) for h in w.hands]
    order = list(day.hands)
    rows.sort(key=lambda row: (order.index(row["hand"]), row["start"], row["end"]))
    return _table(rows, TIMELINE)


def _duty(hand: str, start: int, end: int, what: str, **where: Any) -> dict[str, Any]:
    return {"hand": hand, "start": start, "end": end, "minutes": end - start, "what": what} | where


def crossings(day: Day, plan: Plan) -> pd.DataFrame:
    """Each crossing in order of time, with what it carries.

    Returns
    -------
    DataFrame
        Columns `CROSSINGS`. ``carried_in`` and ``carried_out`` are words ("2 x Sealer, 50% of Compactor"), loads are
        in armfuls.
    """
    rows = []
    for c in sorted(plan.crossings, key=lambda c: (c.start, c.hand)):
        way_in = day.jobs[c.job].grounds[c.ground].way_in
        rows.append(
            {
                "job": c.job,
                "visit": c.visit,
                "ground": c.ground,
                "through": way_in.through,
                "restricted": way_in.restricted,
                "hand": c.hand,
                "start": c.start,
                "end": c.end,
                "minutes": c.end - c.start,
                "carried_in": ", ".join(_carried_words(day, x) for x in c.carried_in),
                "load_in": sum(_load(day, x) for x in c.carried_in),
                "carried_out": ", ".join(_carried_words(day, x) for x in c.carried_out),
                "load_out": sum(_load(day, x) for x in c.carried_out),
                "load_limit": way_in.load_limit,
            }
        )
    return _table(rows, CROSSINGS)


def _carried_words(day: Day, carried: Carried) -> str:
    things: Mapping[str, Any] = day.materials if carried.is_material else day.kit
    name = called(things[carried.what], carried.what)
    part = "" if carried.share == 1 else f"{carried.share:.0%} of "
    full = "" if carried.rest is None else f" ({carried.rest:.0%} full)"
    return part + (f"{carried.count} x {name}" if carried.count > 1 else name) + full


def _load(day: Day, carried: Carried) -> float:
    if carried.is_material:
        material = day.materials[carried.what]
        return carried.count * (material.load if carried.rest is None else material.load_with(carried.rest))
    return day.kit[carried.what].load * carried.count * carried.share


def waits(day: Day, plan: Plan) -> pd.DataFrame:
    """Each wait between two stages, with what its time is used for.

    Returns
    -------
    DataFrame
        Columns `WAITS`. ``least`` and ``most`` are the bounds for when it begins (``most`` None without one);
        ``order`` is how the second stage goes over the surface (None where the day does not say), ``patch_shortest``
        and ``patch_longest`` are what a patch of it waits, at the worst without an order; a time in which something can
        be worked (kind "order" with a most) is a wait of patches too;
        ``filled`` are its minutes in which some hand does something, ``unfilled`` the others; ``filled_by`` names the
        stages, drives and breaks that run meanwhile, in order of time.
    """
    rows = []
    busy = [(row["start"], row["end"]) for row in _records(timeline(day, plan))]
    for run in planned_waits(day, plan):
        wait, start, end = run.wait, run.begins, run.ends
        if run.second is None or (wait.kind == "order" and (wait.order is None or run.bounds[1] is None)):
            continue
        covered = {m for one, two in busy for m in range(max(one, start), min(two, end))}
        least, most = run.bounds
        shortest, longest = run.patches
        rows.append(
            {
                "job": run.job,
                "after": wait.after,
                "before": wait.before,
                "kind": wait.kind,
                "start": start,
                "end": end,
                "minutes": end - start,
                "least": least,
                "most": most,
                "order": wait.order,
                "patch_shortest": shortest,
                "patch_longest": longest,
                "filled": len(covered),
                "unfilled": end - start - len(covered),
                "filled_by": ", ".join(_meanwhile(day, plan, start, end)),
            }
        )
    return _table(rows, WAITS)


def _meanwhile(day: Day, plan: Plan, start: int, end: int) -> list[str]:
    """The stages, drives and breaks that share time with a span, once each, in order of time."""
    found = [(w.start, w.end, called(day.jobs[w.job].stages[w.stage], w.stage)) for w in plan.works]
    found += [(d.start, d.end, f"drive to {called(day.places[d.to_place], d.to_place)}") for d in plan.drives]
    found += [(x.leaves, x.back, f"fetch {called(day.kit[x.kit], x.kit)}") for x in plan.fetches]
    found += [(r.start, r.end, "break") for r in plan.rests]
    return list(dict.fromkeys(words for one, two, words in sorted(found) if one < end and start < two))


def load_list(day: Day, plan: Plan) -> pd.DataFrame:
    """What must be in the van, in the order in which it comes out of it (load it from the bottom up).

    Groups come in the order of the van's, then others by name; inside a group what is needed first comes first.

    Returns
    -------
    DataFrame
        Columns `LOAD_LIST`. ``kind`` is "kit", "attachment", "material", "bag", "protection", "wear", "consumable" or
        "safety"; ``count`` is how many to take (of kit, the most that are out at once), ``expected`` how many
        containers are reckoned to be used, None where not known; ``mass_kg`` is of them all, None where not known;
        ``jobs`` are the keys of the jobs that need it; ``needed_at`` is when it is first needed.
    """
    return _table(map(_load_row, loads(day, plan)), LOAD_LIST)


def _load_row(load: Load) -> dict[str, Any]:
    return {
        "group": load.group,
        "kind": load.kind,
        "key": load.key,
        "name": load.name,
        "count": load.count,
        "expected": None if load.expected is None else round(load.expected, 3),
        "container": load.container,
        "mass_kg": None if load.mass is None else load.mass * load.count,
        "jobs": ", ".join(load.jobs),
        "needed_at": load.needed_at,
    }


def quantities(day: Day, plan: Plan) -> pd.DataFrame:
    """The material that each stage takes by its planned method, then the water that each draws.

    Returns
    -------
    DataFrame
        Columns `QUANTITIES`. ``count`` containers are taken, ``expected`` are reckoned to be used; ``kg`` and
        ``litres`` are what those taken hold, None where the day does not say. Water that is drawn has no material and
        no containers, ``name`` says from where it comes, and ``litres`` is what is reckoned to be drawn.
    """
    taken = [_quantity_row(day, used) for used in uses(day, plan)]
    drawn = [
        {"job": one.job, "stage": one.stage, "name": water_from(one), "litres": one.litres} for one in water(day, plan)
    ]
    return _table([*taken, *drawn], QUANTITIES)


def _quantity_row(day: Day, used: Used) -> dict[str, Any]:
    material = day.materials[used.material]
    return {
        "job": used.job,
        "stage": used.stage,
        "material": used.material,
        "name": called(material, used.material),
        "count": used.count,
        "expected": None if used.expected is None else round(used.expected, 3),
        "container": material.container,
        "kg": None if material.holds_kg is None else used.count * material.holds_kg,
        "litres": None if material.holds_litres is None else used.count * material.holds_litres,
    }


def exposure(day: Day, plan: Plan) -> pd.DataFrame:
    """Vibration, noise, dust and lifts that each hand takes over the day.

    A reminder: measured values on the job come first.

    Returns
    -------
    DataFrame
        Columns `EXPOSURE`: minutes with the trigger held, points, A(8) in m/s2 and L_EP,d in dB(A) (None without
        noise; at the ear under the defenders that are worn, None where none are), and how each stands against the
        limits in words; minutes of stages that make dust and so need respiratory protection; and what is borne in one
        go that comes nearest to the lifting guideline: kg of it all, by how many hands, and how it stands (None where
        the day gives no mass).
    """
    country = limits()
    rows = []
    for hand in day.hands:
        shaken, heard = vibration_uses(day, plan, hand), noise_heard(day, plan, hand)
        vibration = vibration_exposed(day, plan, hand) or vibration_exposure([], country.vibration)
        noise = noise_exposed(day, plan, hand) or noise_exposure([], country.noise)
        lifted = heaviest_lift(day, plan, hand, country.lifting)
        rows.append(
            {
                "hand": hand,
                "vibration_minutes": sum(minutes for _, minutes in shaken),
                "vibration_points": vibration.points,
                "vibration_a8": vibration.value,
                "vibration": str(vibration.standing),
                "noise_minutes": sum(one.minutes for one in heard),
                "noise_points": noise.points,
                "noise_daily": noise.value if heard else None,
                "noise_at_ear": noise.at_ear,
                "noise": str(noise.standing),
                "dust_minutes": sum(minutes for _, _, minutes in dusty_work(day, plan, hand)),
                "lift_kg": lifted and lifted.mass,
                "lift_hands": lifted and lifted.team,
                "lift_what": lifted and ", ".join(lifted.what),
                "lift": lifted and str(lifted.standing(country.lifting)),
            }
        )
    return _table(rows, EXPOSURE)


def hours(day: Day, plan: Plan) -> pd.DataFrame:
    """How long each hand is out, and what they do with it.

    Returns
    -------
    DataFrame
        Columns `HOURS`: first and last minute (None for a hand who stays at home), minutes between them, minutes of
        stages and chores, of walking ways in, of driving and of breaks; the break that the day gives a hand for so
        long out (0 for none) and the least that the law asks; and the cost.
    """
    rows = []
    duties = _records(timeline(day, plan))
    for key, hand in day.hands.items():
        own = [row for row in duties if row["hand"] == key]
        start, end = time_out(day, plan, key) or (None, None)
        out = 0 if start is None or end is None else end - start
        rest = day.rest_of(key)
        rows.append(
            {
                "hand": key,
                "start": start,
                "end": end,
                "minutes": out,
                "working": _spent(own, "stage", "set up", "pack down", "lay", "lift"),
                "walking": _spent(own, "walk in", "walk out"),
                "driving": _spent(own, "drive"),
                "resting": resting(plan, key),
                "break_due": rest.length if rest is not None and out > rest.once_over else 0,
                "break_by_law": break_minutes(out, limits().breaks),
                "cost": hand.cost_per_hour * out / 60,
            }
        )
    return _table(rows, HOURS)


def _spent(rows: list[dict[str, Any]], *kinds: str) -> int:
    return sum(row["minutes"] for row in rows if row["what"] in kinds)


def _records(table: pd.DataFrame) -> list[dict[str, Any]]:
    return [{str(key): value for key, value in row.items()} for row in table.to_dict("records")]


def _table(rows: Iterable[Mapping[str, Any]], columns: Sequence[str]) -> pd.DataFrame:
    import pandas as pd

    listed = [{c: row.get(c) for c in columns} for row in rows]
    table = pd.DataFrame(listed, columns=list(columns), dtype=object)
    for column in columns:
        kinds = {type(row[column]) for row in listed}
        if kinds != {int, type(None)}:  # those would become floating-point numbers for the sake of the None
            table[column] = table[column].infer_objects()
    return table
