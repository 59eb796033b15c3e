"""Random days, the same for the same seed: ``tiny`` for exact search, ``small`` for whatever must hold of every plan.

All of them are invented. Minutes are short in tiny days, so that every minute can be searched.
"""

import random
from typing import Any

from planner.day import Day
from planner.day.checks.parting import section_faults
from planner.day.rinsing_out import with_rinsing_out
from planner.day.sections import in_sections
from tests.engine.channel_days import channel_day
from tests.engine.chemical_days import chemical_day
from tests.engine.dry_days import dry_day
from tests.engine.ladder_days import ladder_day, put_up_ladders
from tests.engine.own_kit_days import own_kit_day
from tests.engine.parted_days import parted_day
from tests.engine.soil_days import soil_day, soil_more
from tests.engine.way_days import lie_low, way_day

Tables = dict[str, Any]


def tiny(seed: int) -> Day:
    """A day of 1 or 2 jobs, 1 or 2 hands, 1 or 2 grounds and 2 to 5 stages that `tests.engine.bruteforce` can search.

    Seeds go round through what is to be covered: hands by seed % 2, grounds by seed // 2 % 2; every fifth has two jobs,
    every third a wait with a most, and load limits bind on most. From 50 on there may be sheets to lay, material to
    carry, ways in over what dries, times of the clock and waits that keep a job clear.
    """
    kinds = KINDS_OF_DAY if seed < CHANNELS else (*KINDS_OF_DAY, CHANNELS)
    kinds = kinds if seed < WAYS else (*kinds, WAYS)
    kinds = kinds if seed < SOILS else (*kinds, SOILS)
    kinds = kinds if seed < OWN else (*kinds, OWN)
    kinds = kinds if seed < PARTED else (*kinds, PARTED)
    return _tiny(seed, seed if seed < BY_TURNS else kinds[seed % len(kinds)])


def _tiny(seed: int, band: int) -> Day:
    """The tiny day of a seed, with what those of the numbers from ``band`` on have."""
    if band == PARTED:
        return parted_day(seed)
    if band == OWN:
        return own_kit_day(seed)
    if band == SOILS:
        return soil_day(seed)
    if band == WAYS:
        return way_day(seed)
    if band == CHANNELS:
        return channel_day(seed)
    if CHEMICALS <= band < BY_TURNS:
        return chemical_day(seed)
    if LADDERS <= band < CHEMICALS:
        return ladder_day(seed)
    if DRY <= band < SHARED:
        return dry_day(seed)
    rng = random.Random(seed)
    hands = 1 + seed % 2
    two_jobs = seed % 5 == 4
    kit = _tiny_kit(rng, hands)
    jobs = {}
    for n in range(1 + two_jobs):
        stages = 2 if two_jobs else rng.choice((3, 4) if hands == 1 else (2, 3))
        grounds = 1 + (seed // 2 % 2 if not two_jobs else 0)
        jobs[f"job{n}"] = _tiny_job(rng, f"place{n}", grounds, stages, kit, hands, tight=seed % 3 == 0)
    if seed % 7 == 0:
        jobs["job0"]["arrive"] = [490 + rng.randint(0, 4), 500]
    if band >= 50:
        for job in jobs.values():
            _enrich(random.Random(10_000 + seed), job)
    tables = _around(rng, jobs, kit, [f"hand{h}" for h in range(hands)], minutes=(2, 5))
    if FRESH > band >= WEIGHED or (SHARED > band >= BOTH and seed // 6 % 2):
        _weigh(random.Random(20_000 + seed), tables)
    if PATCHWISE <= band < WEIGHED or WEIGHED + 100 <= band < FRESH or SHARED > band >= BOTH:
        _by_patches(random.Random(30_000 + seed), tables["jobs"]["job0"])
    if SHARED > band >= FRESH:
        _freshen(random.Random(30_000 + seed), tables)
    if APART > band >= SHARED or band >= MIXED:
        _share(random.Random(50_000 + seed), tables)
    if SHARED > band >= COMING:
        _come_and_go(random.Random(40_000 + seed), tables)
    if MIXED > band >= APART or (band >= MIXED and seed % 3 == 0):
        _rest_or_come_alone(random.Random(60_000 + seed), tables)
    for job in jobs.values():
        for wait in job["waits"]:
            if "before" not in wait or len({job["stages"][wait[end]]["surface"] for end in ("after", "before")}) > 1:
                wait.pop("order", None)  # no patch waits between two surfaces
    return in_sections(Day.model_validate(tables))


PATCHWISE = 200
"""From this seed on the waits of tiny days hold patch by patch, and some surfaces are worked in sections."""


def _by_patches(rng: random.Random, job: Tables) -> None:
    """Let the first two or three stages go over one surface, each in some order, so tight that it may take sections."""
    stages = job["stages"]
    for wait in job["waits"]:
        if "before" not in wait:
            continue
        one, other = (stages[wait[end]] for end in ("after", "before"))
        other["surface"] = one["surface"]
        for stage in (one, other):
            stage["methods"] = {"one": stage["methods"]["one"] | {"minutes": rng.randint(2, 6)}}
        minutes = [stage["methods"]["one"]["minutes"] for stage in (one, other)]
        wait["kind"] = rng.choice(("dwell", "set", "order"))
        wait["order"] = rng.choice(("same", "same", "reversed", "any"))
        wait["least"] = rng.randint(0, 4)
        room = max(1, abs(minutes[0] - minutes[1])) if wait["order"] == "same" else sum(minutes)
        wait["most"] = max(max(minutes), wait["least"]) + rng.randint(-1, 2) if wait["order"] == "same" else 0
        wait["most"] = max(wait["most"], wait["least"] + -(-room // rng.choice((1, 2))) + rng.randint(0, 1))
        if rng.random() < 0.5:
            one["methods"]["one"]["uses"] = {"filler": rng.randint(1, 2)}


WEIGHED = 400
"""From this seed on tiny days have masses, waste, and material of which something is left."""


FRESH = 600
"""From this seed on tiny days have kinds of work that leave something fresh or soil it, sheets, and weather."""

COMING = 800
"""From this seed on tiny days have arriving and leaving, meals, kit that is rinsed out, and water in cans."""

BOTH = 1000
"""From this seed on some tiny days have all of it."""

DRY = 1200
"""From this seed on tiny days are smaller still, and have sheets that lie on paving, and work that must begin dry."""

SHARED = 1400
"""From this seed on tiny days have cans from which several stages draw, and kit that stands before other is set up."""

APART = 1600
"""From this seed on tiny days have breaks that fall due, and hands who come and go by themselves."""

MIXED = 1800
"""From this seed on tiny days have shared cans and kit in turn again, and each third of them breaks or such hands."""

LADDERS = 2000
"""From this seed on somebody works from a ladder."""

CHEMICALS = 2100
"""From this seed on two chemicals that must never meet are used on a surface, or one above the other."""

BY_TURNS = 2200
"""From this seed on tiny days are of all these kinds by turns, and so are those of the long runs."""

CHANNELS = 3000
"""From this seed on the turns have one kind more: channels in paving, and what is done below, or on, what dwells."""

WAYS = 110_000
"""From this seed on the turns have one kind more: ways that go over what another treats, coats, jets or sweeps. The
number is so high that the long runs with the seed 1 have the days that they had."""

SOILS = 120_000
"""From this seed on the turns have one kind more: what soils what is clean, wet or fresh."""

OWN = 130_000
"""From this seed on the turns have one kind more: kit of the day's own that chemicals are put on with; and small days
do not always say how theirs is rinsed out."""

PARTED = 140_000
"""From this seed on the turns have one kind more: one surface in sections of different counts."""

KINDS_OF_DAY = (50, PATCHWISE, WEIGHED, FRESH, COMING, BOTH, DRY, SHARED, APART, MIXED, LADDERS, CHEMICALS)
"""The number from which days of each kind begin."""


def _rest_or_come_alone(rng: random.Random, tables: Tables) -> None:
    """Let the second hand come in the midst of the day and go before it is over; else a break is owed soon."""
    if len(tables["hands"]) > 1 and len(tables["jobs"]) == 1 and rng.random() < 0.7:
        comes = 480 + rng.choice((0, rng.randint(3, 25)))
        tables["hands"]["hand1"] = {"own_transport": True, "hours": [comes, comes + rng.randint(6, 40)]}
        return
    soonest = rng.randint(0, 12)
    tables["rest"] = {"length": rng.randint(2, 6), "once_over": soonest + rng.randint(2, 25), "soonest": soonest}


def _share(rng: random.Random, tables: Tables) -> None:
    """Let stages of a ground draw from the same cans, in no order of their own, and kit need other that is set up."""
    tables["materials"]["filler"] |= {"shared": True, "load": rng.choice((0.5, 0.5, 1))}
    for job in tables["jobs"].values():
        for stage in job["stages"].values():
            if rng.random() < 0.75:
                part = rng.choice((0.1, 0.3, 0.9, 1.2))
                taken = {"uses": {"filler": 1 if part * 1.15 <= 1 else 2}, "expected": {"filler": part}}
                some = list(stage["methods"].values())
                for method in some if rng.random() < 0.8 else some[:1]:
                    method |= taken if rng.random() < 0.8 else {"expected": {"filler": part}}
    kit = tables["kit"]
    for above, below in (("a", "c"), ("b", "c"), ("b", "a")):
        if rng.random() < 0.5:
            kit[above]["needs"] = [below]
    for piece in kit.values():
        piece["set_up"] = rng.randint(0, 2)
    if rng.random() < 0.4:
        _cut_and_carry(rng, tables)


def _cut_and_carry(rng: random.Random, tables: Tables) -> None:
    """Let a job cut joints dry, wash what is near, and carry a ladder along a way that goes over some of it."""
    tables["kit"][rng.choice(("a", "c"))]["tags"] = ["ladder"]
    for job in tables["jobs"].values():
        for ground in job["grounds"].values():
            if rng.random() < 0.5:
                ground["way_in"]["over"] = ["floor0"]
        for stage in job["stages"].values():
            stage["kind"] = rng.choice(("grind", "sweep", "wash", "wet", "work", "work"))
            if rng.random() < 0.2:
                stage["spares"] = rng.sample(list(job["surfaces"]), 1)


_TINY_KINDS = ("wash", "rinse", "clear gutters", "grind", "sweep", "fill", "compact", "wet", "work")


def _freshen(rng: random.Random, tables: Tables) -> None:
    """Give the stages of a day kinds, its walls what they drain to, and itself some weather."""
    for job in tables["jobs"].values():
        surfaces, stages = job["surfaces"], job["stages"]
        if rng.random() < 0.6:
            surfaces["gutter0"] = {"ground": "ground0", "stood_on": False} | rng.choice(({}, {}, {"high": True}))
        if "floor1" in surfaces and rng.random() < 0.5:
            surfaces["wall0"]["drains_to"] = ["floor1"]
        for stage in stages.values():
            stage["kind"] = rng.choice(_TINY_KINDS)
            if stage["kind"] == "clear gutters" and "gutter0" in surfaces:
                stage["surface"] = "gutter0"
            if stage["kind"] in ("fill", "compact") and stage is not stages["s0"] and rng.random() < 0.4:
                stage["fresh_for"] = rng.randint(2, 9)
            if rng.random() < 0.15:
                stage["spares"] = rng.sample(list(surfaces), 1)
        _cover(rng, list(stages.items()))
    if rng.random() < 0.4:
        for stage in (s for job in tables["jobs"].values() for s in job["stages"].values()):
            stage |= rng.choice(({}, {"windiest": 20.0}, {"stopped_by_rain": True, "dry_after": 5}, {"coldest": 8.0}))
        tables["weather"] = [
            {"minute": minute, "air": rng.choice((7.0, 12.0, 12.0)), "humidity": 0.6, "wind": rng.choice((5, 5, 30)),
             "rain_chance": rng.choice((0.0, 0.0, 0.7))}
            for minute in range(480, 540, 12)
        ]  # fmt: skip


def _come_and_go(rng: random.Random, tables: Tables) -> None:
    """Give a day some of: arriving and leaving, a meal, chemicals in kit that is rinsed out, water in cans."""
    for job in tables["jobs"].values():
        job |= {"arriving": rng.choice((0, 1, 3)), "leaving": rng.choice((0, 2))}
    if rng.random() < 0.4:
        soonest = 480 + rng.randint(4, 20)
        tables["meal"] = {"length": rng.randint(3, 6), "once_over": rng.randint(20, 45), "earliest": soonest,
                          "latest": soonest + rng.randint(5, 15)}  # fmt: skip
    stages = [stage for job in tables["jobs"].values() for stage in job["stages"].values()]
    if rng.random() < 0.6:
        tables["kit"]["a"]["rinse_out"] = rng.randint(1, 2)
        for stage in stages:
            stage["chemical"] = rng.choice((None, "hypochlorite", "detergent"))
            stage["methods"]["one"]["kit"] = rng.choice((stage["methods"]["one"]["kit"], ["a"]))
    if rng.random() < 0.5:
        tables["materials"]["cans"] = {"load": 0.5, "container": "can", "water": True}
        tables["kit"]["b"]["supply"] = []
        for job in tables["jobs"].values():
            job["grounds"]["ground0"]["supplies"] = {}
        rng.choice(stages)["mixing"] = "mix it"
        rng.choice(stages)["methods"]["one"]["uses"] = {"cans": rng.randint(1, 2)}


def _cover(rng: random.Random, stages: list[tuple[str, Tables]]) -> None:
    """Let the kit of a stage stay put for one that comes after it in the file."""
    (key, cover), (_, other) = stages[0], stages[-1]
    if len(cover["methods"]) == 1 and cover["methods"]["one"]["kit"] and rng.random() < 0.4:
        cover["kind"] = "cover"
        if rng.random() < 0.5:
            cover["stays_for"] = [stages[-1][0]]
        else:
            other["surface"] = cover["surface"]
            other["after"] = [key]


def _weigh(rng: random.Random, tables: Tables) -> None:
    """Give a day masses that bind some legs, hands who do not all lift alike, waste and leftover."""
    for hand in tables["hands"].values():
        hand["lifts"] = rng.choice((25, 25, 16, 20))
    weakest = min(hand["lifts"] for hand in tables["hands"].values())
    for piece in tables["kit"].values():
        piece["mass"] = rng.choice((3, 6, 9, 12)) if piece.get("lift", 1) == 1 else weakest * rng.choice((1.0, 1.25))
    tables["materials"]["filler"] |= {"mass": rng.choice((8, 12)), "empty": 0.5}
    tables["materials"]["rubble"] = {"mass": rng.choice((10, 14)), "empty": 0.2, "load": rng.choice((0.5, 1))}
    for job in tables["jobs"].values():
        for stage in job["stages"].values():
            for method in stage["methods"].values():
                if "uses" in method:
                    method["expected"] = {"filler": round(rng.uniform(0.2, method["uses"]["filler"]), 2)}
        stages = list(job["stages"].values())
        some = rng.choice(stages)["methods"]["one"]
        some["leaves"] = {"rubble": rng.choice((0.3, 1.0, 1.4))}
        if rng.random() < 0.5:
            taking = rng.choice(stages)["methods"]["one"]
            taking |= {"uses": {"filler": 1}, "expected": {"filler": rng.choice((0.25, 0.5, 1.0))}}
        if rng.random() < 0.3:
            job["customer"] = {"keeps": ["filler"]}


def _tiny_kit(rng: random.Random, hands: int) -> Tables:
    kit: Tables = {
        "a": {"load": rng.choice((0.5, 1)), "set_up": rng.randint(0, 2), "pack_down": rng.randint(0, 2)},
        "b": {"load": rng.choice((1, 1.5)), "set_up": rng.randint(0, 3), "supply": ["tap"]},
        "c": {"load": rng.choice((0.5, 1)), "pack_down": rng.randint(0, 1), "own": rng.choice((1, 1, 2))},
    }
    if rng.random() < 0.3:
        kit["b"]["needs"] = ["c"]
    if hands == 2 and rng.random() < 0.4:
        kit["a"] |= {"lift": 2, "load": 2}
    return kit


def _tiny_job(
    rng: random.Random, place: str, grounds: int, stages: int, kit: Tables, hands: int, *, tight: bool
) -> Tables:
    ways = [{"minutes": rng.randint(1, 2), "restricted": True, "load_limit": rng.choice((1.5, 1.5, 2, 3))}]
    if grounds == 2:
        ways.append(rng.choice(({"minutes": 1}, {"minutes": 2}, {"minutes": 0}, {"minutes": 1, "restricted": True})))
    surfaces: Tables = {}
    for n in range(grounds):
        surfaces[f"floor{n}"] = {"ground": f"ground{n}"}
        surfaces[f"wall{n}"] = {"ground": f"ground{n}", "stood_on": False, "worked_from": [f"floor{n}"]}
    made: Tables = {}
    for n in range(stages):
        methods: Tables = {"one": _tiny_method(rng, kit, hands)}
        if rng.random() < 0.25:
            methods["two"] = _tiny_method(rng, kit, hands)
        made[f"s{n}"] = {"surface": rng.choice(list(surfaces)), "methods": methods}
    if rng.random() < 0.3:
        made["s0"]["makes"] = ["dust"]
        made[f"s{stages - 1}"]["spoiled_by"] = ["dust"]
    wait: Tables = {
        "after": "s0",
        "before": "s1",
        "kind": rng.choice(("dwell", "dry", "order")),
        "least": rng.randint(2, 9),
    }
    if tight:
        wait["most"] = wait["least"] + rng.randint(0, 3)
    waits = [wait]
    if stages > 2 and rng.random() < 0.4:
        waits.append(
            {"after": "s1", "before": "s2", "kind": "order", "least": rng.randint(0, 3), "most": rng.randint(3, 6)}
        )
    elif rng.random() < 0.3:
        waits.append({"after": f"s{stages - 1}", "kind": "cure", "least": 600})
    return {
        "place": place,
        "grounds": {f"ground{n}": {"way_in": way, "supplies": {"tap": 1}} for n, way in enumerate(ways)},
        "surfaces": surfaces,
        "stages": made,
        "waits": waits,
        "apart": [["s0", f"s{stages - 1}"]] if stages > 2 and rng.random() < 0.2 else [],
    }


def _enrich(rng: random.Random, job: Tables) -> None:
    """Put some of the rarer words of a day into a tiny job."""
    way, stages = job["grounds"]["ground0"]["way_in"], list(job["stages"].values())
    if rng.random() < 0.3:
        way |= {"protection": "ours", "lay": rng.randint(1, 3), "lift": rng.randint(1, 2)}
    if rng.random() < 0.3:
        rng.choice(stages)["methods"]["one"]["uses"] = {"filler": rng.randint(1, 2)}
    if rng.random() < 0.3:
        way["over"] = ["floor0"]
    if rng.random() < 0.2:
        rng.choice(stages)["not_before"] = 480 + rng.randint(5, 30)
    if rng.random() < 0.2:
        stage = rng.choice(stages)
        stage["not_after"] = 480 + rng.randint(15, 45)
        if stage["not_after"] <= stage.get("not_before", 0):
            stage["not_after"] = stage["not_before"] + 15
    if rng.random() < 0.2:
        job["waits"][0]["keep_clear"] = True


def _tiny_method(rng: random.Random, kit: Tables, hands: int) -> Tables:
    both = hands == 2 and rng.random() < 0.2
    chosen = rng.choice([[], *([k] for k in kit), *([k] for k in kit)])
    return {"minutes": rng.randint(1, 6), "kit": chosen, "hands": 2 if both else 1}


def small(seed: int) -> Day:
    """A day of 1 to 3 jobs and 1 to 3 hands with most of what a day can say, in minutes as they are in the trade."""
    rng = random.Random(1000 + seed)
    hands = rng.randint(1, 3)
    kit = _small_kit(rng, hands)
    count = rng.choice((1, 1, 2, 3))
    jobs = {f"job{n}": _small_job(rng, f"place{n}", kit, hands, visits=2 if count > 1 and rng.random() < 0.4 else 1)
            for n in range(count)}  # fmt: skip
    tables = _around(rng, jobs, kit, [f"hand{h}" for h in range(hands)], minutes=(5, 25))
    tables["materials"]["filler"]["load"] = rng.choice((0.5, 1))
    if rng.random() < 0.4:
        tables["rest"] = {"length": rng.choice((10, 20)), "once_over": rng.choice((90, 150)), "soonest": 30}
    if hands > 1 and rng.random() < 0.3:
        tables["hands"]["hand1"] |= {"own_transport": True}
    _load(random.Random(30_000 + seed), tables)
    _small_orders(random.Random(40_000 + seed), tables["jobs"])
    tables["materials"]["filler"]["shared"] = random.Random(70_000 + seed).random() < 0.5
    if seed >= LIVE:
        _enliven(random.Random(50_000 + seed), tables)
    if seed >= UP and seed % 2:
        put_up_ladders(random.Random(80_000 + seed), tables)
    if seed >= LOW:
        lie_low(random.Random(90_000 + seed), tables)
    if seed >= SOILED:
        soil_more(random.Random(100_000 + seed), tables)
    if seed >= SURE:
        _be_sure(random.Random(60_000 + seed), tables)
    if seed >= OWN and random.Random(110_000 + seed).random() < 0.5:
        _own_sprayer(random.Random(110_000 + seed), tables)
    day = with_rinsing_out(Day.model_validate(tables))
    if any(section_faults(day)):  # what no section can hold is a fault, not a day
        for job in tables["jobs"].values():
            for wait in job["waits"]:
                wait.pop("order", None)
        day = with_rinsing_out(Day.model_validate(tables))
    return in_sections(day)


def _own_sprayer(rng: random.Random, tables: Tables) -> None:
    """Say nothing of rinsing out, and let each treatment be of some chemical."""
    tables["kit"]["sprayer"].pop("rinse_out", None)
    for job in tables["jobs"].values():
        for key, stage in job["stages"].items():
            if key == "treat":
                stage["chemical"] = rng.choice(("hypochlorite", "quaternary", "detergent"))


def _small_orders(rng: random.Random, jobs: Tables) -> None:
    """Let half of the treatments dwell patch by patch, some of them worked in sections."""
    for job in jobs.values():
        for wait in job["waits"]:
            if wait["kind"] == "dwell" and rng.random() < 0.5:
                wait["order"] = rng.choice(("same", "same", "reversed", "any"))
                wait["most"] = wait["least"] + rng.choice((15, 30, wait["most"] - wait["least"]))


LIVE = 100
"""From this seed on small days have kinds of work, gutters and drains, sheets, and a forecast."""

UP = 500
"""From this seed on every other small day has a ladder, from which gutters are cleared and walls are washed."""

LOW = 110_000
"""From this seed on small days have channels in their patios, kit that must be kept dry, and steps on the way in."""

SOILED = 120_000
"""From this seed on small days have what soils what is clean, wet or fresh, and waste of several stages."""

SURE = 300
"""From this seed on some small days say how sure they are to be, and their stages take longer on slow days."""


def _be_sure(rng: random.Random, tables: Tables) -> None:
    """Let stages be slow on some days, the most of waits be near, and a promise; some days keep all of it."""
    for job in tables["jobs"].values():
        for stage in job["stages"].values():
            for method in stage["methods"].values():
                method["spread"] = rng.choice(((1.0, 1.0, 1.0), (0.9, 1.0, 1.3), (0.7, 1.0, 2.0)))
        for wait in job["waits"]:
            if "most" in wait and "order" not in wait and rng.random() < 0.5:
                wait["most"] = wait["least"] + rng.randint(0, 15)
        if rng.random() < 0.3:
            job["done_by"] = tables["start"] + rng.randint(240, 600)
    if rng.random() < 0.4:
        tables["sure"] = rng.choice((0.8, 0.9, 0.95))


_KINDS = {"gutters": "clear gutters", "scrub": "wash"}


def _enliven(rng: random.Random, tables: Tables) -> None:
    """Let the stages be read by their kinds, put a gutter over it all, and give the day its weather."""
    if tables["kit"]:
        tables["kit"]["sheets"] = {"load": 0.5, "set_up": 2, "pack_down": 2, "own": rng.choice((1, 2))}
    for job in tables["jobs"].values():
        stages, surfaces = job["stages"], job["surfaces"]
        if "drive" in surfaces and rng.random() < 0.4:
            surfaces["wall"]["drains_to"] = ["patio", "drive"]
        if "gutters" in stages and rng.random() < 0.7:
            surfaces["gutter"] = {"ground": "rear", "stood_on": False, "high": rng.random() < 0.8}
            stages["gutters"]["surface"] = "gutter"
        for name, stage in stages.items():
            if rng.random() < 0.7:
                stage["kind"] = _KINDS.get(name, name.split("-")[0])
            if name == "fill" and stage.get("kind") == "fill" and rng.random() < 0.3:
                stage["fresh_for"] = rng.choice((30, 60, 120))
            if rng.random() < 0.1:
                stage["spares"] = rng.sample(sorted(surfaces), 1)
        if {"treat", "rinse"} <= set(stages) and rng.random() < 0.4:
            way = {"minutes": 5, "kit": ["sheets"]}
            stages["cover"] = {"kind": "cover", "surface": stages["treat"]["surface"], "methods": {"one": way}}
            stages["treat"]["after"] = [*stages["treat"].get("after", []), "cover"]
            if rng.random() < 0.5:
                stages["cover"]["stays_for"] = ["treat", "rinse"]
            if stages["cover"]["surface"] != "patio" and rng.random() < 0.5:
                stages["cover"]["lies_on"] = ["patio"]
        if "fill" in stages and rng.random() < 0.3:
            stages["fill"]["dry_for"] = rng.choice((20, 60))
    if rng.random() < 0.5:
        _rain_and_shine(rng, tables)


def _rain_and_shine(rng: random.Random, tables: Tables) -> None:
    """A forecast with a shower, a gust, a cold morning or a hot noon, and stages that cannot take some of it."""
    tables["weather"] = [
        {"minute": minute, "air": rng.choice((9.0, 14.0, 20.0)), "humidity": rng.choice((0.5, 0.7, 0.95)),
         "wind": rng.choice((5.0, 12.0, 35.0)), "rain_chance": rng.choice((0.0, 0.2, 0.2, 0.7)),
         "sun": rng.random() < 0.4}
        for minute in range(420, 1200, 60)
    ]  # fmt: skip
    limits: list[Tables] = [{}, {"coldest": 10.0}, {"hottest": 28.0}, {"windiest": 30.0}, {"above_dew": 2.0},
                            {"stopped_by_rain": True, "dry_after": 30}]  # fmt: skip
    for job in tables["jobs"].values():
        for surface in job["surfaces"].values():
            surface["shaded"] = rng.random() < 0.3
        for stage in job["stages"].values():
            stage |= rng.choice(limits)


def _load(rng: random.Random, tables: Tables) -> None:
    """Masses, a sack truck, waste and leftover, water in cans, kit that is rinsed out, arriving, leaving and a meal."""
    hands, kit = tables["hands"], tables["kit"]
    for hand in hands.values():
        hand["lifts"] = rng.choice((25, 25, 16, 30))
    for name, mass in (("washer", 15), ("hose", 8), ("sprayer", 5), ("brooms", 4), ("tower", 20)):
        if name in kit and rng.random() < 0.8:
            kit[name]["mass"] = mass
    kit["sprayer"]["rinse_out"] = rng.choice((0, 2))
    if rng.random() < 0.3:
        kit["truck"] = {"wheels": 60, "load": 1}
    tables["materials"]["filler"] |= {"mass": 10, "empty": 0.4}
    tables["materials"]["rubble"] = {"mass": 14, "empty": 0.2, "load": 1}
    tables["materials"]["water"] = {"mass": 10.8, "empty": 0.8, "load": 0.75, "water": True}
    if rng.random() < 0.3:
        tables["meal"] = {"length": 25, "once_over": 240, "earliest": 660, "latest": 810}
    for job in tables["jobs"].values():
        if rng.random() < 0.4:
            job |= {"arriving": rng.choice((0, 5, 10)), "leaving": rng.choice((0, 5, 10))}
        if rng.random() < 0.3:
            job["customer"] = {"keeps": ["filler"]}
        for ground in job["grounds"].values():
            ground["way_in"]["wheeled"] = rng.random() < 0.3
            if rng.random() < 0.2 and "rinse" in job["stages"] and "wash" not in job["stages"]:
                _without_tap(job)
        for name, stage in job["stages"].items():
            method = stage["methods"]["one"]
            if "filler" in method.get("uses", {}) and rng.random() < 0.7:
                method["expected"] = {"filler": round(rng.uniform(0.1, method["uses"]["filler"]), 2)}
            if name in ("sweep", "gutters", "scrub") and rng.random() < 0.6:
                method["leaves"] = {"rubble": rng.choice((0.4, 1, 1.6))}


def _without_tap(job: Tables) -> None:
    """Water comes in cans: whoever treats needs it first, whoever rinses uses it up."""
    for ground in job["grounds"].values():
        ground["supplies"]["tap"] = 0
    for stage in job["stages"].values():
        one = stage["methods"]["one"]
        one["kit"] = [piece for piece in one.get("kit", []) if piece != "hose"]
        stage["methods"].pop("two", None)
    job["stages"]["rinse"]["methods"]["one"]["uses"] = {"water": 2}


def _small_kit(rng: random.Random, hands: int) -> Tables:
    kit: Tables = {
        "washer": {"load": 1.5, "set_up": 5, "pack_down": 4, "needs": ["hose"], "supply": ["socket"]},
        "hose": {"load": 0.5, "set_up": 2, "supply": ["tap"], "own": rng.choice((1, 2))},
        "sprayer": {"load": 0.75, "set_up": rng.choice((0, 3)), "pack_down": 3},
        "brooms": {"load": 0.5},
        "tower": {"load": 3, "set_up": 6, "pack_down": 6, "lift": 2, "may_stay": rng.random() < 0.5},
    }
    if hands == 1:
        del kit["tower"]
    return kit


def _small_job(rng: random.Random, place: str, kit: Tables, hands: int, *, visits: int) -> Tables:
    rear = {"minutes": rng.randint(1, 4), "restricted": True, "load_limit": rng.choice((1.5, 2.0, 2.5)),
            "protection": rng.choice(("none", "customer", "ours")), "lay": rng.choice((0, 8)), "lift": 5}  # fmt: skip
    grounds: Tables = {"rear": {"way_in": rear, "supplies": {"tap": 1, "socket": 2}}}
    if rng.random() < 0.6:
        grounds["front"] = {"way_in": {"minutes": rng.choice((0, 1, 3))}, "supplies": {"tap": 1, "socket": 1}}
    surfaces: Tables = {
        "patio": {"ground": "rear", "area": rng.randint(10, 40)},
        "wall": {"ground": "rear", "area": 20, "stood_on": False, "worked_from": ["patio"], "drains_to": ["patio"]},
        "shed": {"ground": "rear", "over": ["patio"], "area": 6},
    }
    if "front" in grounds:
        surfaces["drive"] = {"ground": "front", "area": rng.randint(10, 40)}
    names = rng.sample(["sweep", "treat", "rinse", "wash", "fill", "gutters", "scrub"], rng.randint(3, 6))
    stages = {name: _small_stage(rng, name, surfaces, kit, hands) for name in names}
    waits = []
    if {"treat", "rinse"} <= set(names):
        stages["rinse"]["surface"] = stages["treat"]["surface"]
        least = rng.randint(10, 40)
        waits.append(
            {"after": "treat", "before": "rinse", "kind": "dwell", "least": least, "most": least + rng.randint(30, 90)}
        )
        if rng.random() < 0.4:
            stages["wet-again"] = stages["treat"] | {"only_if_needed": True, "methods": {"one": {"minutes": 4}}}
            waits[-1]["extended_by"] = "wet-again"
    if {"wash", "fill"} <= set(names):
        bounds = [{"since": "12:00", "least": 20}] if rng.random() < 0.3 else []
        waits.append(
            {"after": "wash", "before": "fill", "kind": "dry", "least": rng.choice((30, 60)), "by_hour": bounds}
        )
    if "fill" in names and rng.random() < 0.5:
        waits.append({"after": "fill", "kind": "cure", "least": 720})
        for name in names:
            if name != "fill":
                stages["fill"].setdefault("after", []).append(name)
        waits = [w for w in waits if w["after"] != "fill" or "before" not in w]
    job: Tables = {
        "place": place, "visits": visits, "grounds": grounds, "surfaces": surfaces, "stages": stages, "waits": waits,
    }  # fmt: skip
    if rng.random() < 0.3:
        job["quiet"] = [["00:00", rng.choice(("08:15", "08:30"))]]
    return job


def _small_stage(rng: random.Random, name: str, surfaces: Tables, kit: Tables, hands: int) -> Tables:
    uses = {"sweep": "brooms", "treat": "sprayer", "rinse": "hose", "wash": "washer", "scrub": "brooms"}.get(name)
    if name == "gutters" and "tower" in kit:
        uses = "tower"
    method: Tables = {"minutes": rng.randint(5, 30), "kit": [uses] if uses else []}
    if name == "wash":
        method |= {"rate": {"amount": 60, "unit": "m2"}}
    if name == "gutters" and hands > 1 and rng.random() < 0.5:
        method["hands"] = 2
    if name == "fill":
        method["uses"] = {"filler": rng.randint(1, 3)}
    stage: Tables = {"surface": rng.choice(list(surfaces)), "methods": {"one": method}, "noisy": name == "wash"}
    if name == "sweep":
        stage["makes"] = ["dust"]
    if name == "treat":
        stage |= {"spoiled_by": ["dust"], "chemical": "hypochlorite"}
    if name == "rinse":
        stage["rinses"] = True
    if name == "scrub":
        stage["methods"]["two"] = {"minutes": rng.randint(5, 20), "kit": ["hose"]}
    return stage


def _around(rng: random.Random, jobs: Tables, kit: Tables, hands: list[str], *, minutes: tuple[int, int]) -> Tables:
    """A day around some jobs: every place is as far from every other as chance will have it."""
    places = ["yard", *dict.fromkeys(job["place"] for job in jobs.values())]
    trips = [
        {"from": a, "to": b, "minutes": rng.randint(*minutes)} for n, a in enumerate(places) for b in places[n + 1 :]
    ]
    return {
        "date": "2026-06-16",
        "start": 480,
        "finish": 1080,
        "crossing_price": rng.choice((0, 3, 6, 10)),
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "hands": {hand: {} for hand in hands},
        "places": {place: {} for place in places},
        "travel": {"trips": trips},
        "kit": kit,
        "materials": {"filler": {"load": 0.5, "container": "tub"}},
        "jobs": jobs,
    }
