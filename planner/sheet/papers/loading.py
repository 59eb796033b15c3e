"""The load list and the quantities in the words of the sheet; what they hold is worked out with the plan."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.day import Day
from planner.day.names import Names, listed, plain, sentence
from planner.plan.containers_taken import containers_taken
from planner.plan.loading import Load, loads, reckoned, uses, water, water_from
from planner.plan.out_again import OutAgain, out_again
from planner.plan.plan import Plan, Work
from planner.sheet.wording import counted, how_full


@dataclass(frozen=True, slots=True)
class LoadGroup:
    """What lies together in the van, each line in words, what is needed first at the top."""

    name: str
    lines: tuple[str, ...]


def load_groups(day: Day, plan: Plan) -> tuple[LoadGroup, ...]:
    """The load list in words, group by group as it comes out of the van."""
    groups: dict[str, list[str]] = {}
    for load in loads(day, plan):
        groups.setdefault(sentence(plain(load.group)), []).append(_load_words(day, load))
    return tuple(LoadGroup(name, tuple(lines)) for name, lines in groups.items())


def _load_words(day: Day, load: Load) -> str:
    if load.litres is not None:
        short = day.van.tank is not None and load.litres > day.van.tank
        refill = f"; it holds {day.van.tank:g} L: fill it up on the way" if short else ""
        return f"{load.name}, at least {load.litres:.0f} L{refill}"
    if load.kind == "bag":
        back = "" if load.comes_back is None else f"; {load.comes_back:.0f} kg of it come back"
        return f"{counted(Names(day).material(load.key), load.count)}, empty{back}"
    if load.kind == "material":
        return _material_words(day, load.key, load.count, load.expected)
    return counted(sentence(plain(load.name)), load.count)


def quantities_by_job(day: Day, plan: Plan, job: str) -> tuple[str, ...]:
    """What the planned methods of a job take, in words: "3 × Joint filler (tub), 45 kg; about 2.25 used".

    Then the water that is drawn, and the supplies of the site that the kit needs.
    """
    own = [used for used in uses(day, plan) if used.job == job]
    lines = []
    for key in dict.fromkeys(used.material for used in own):
        of_it = [used for used in own if used.material == key]
        lines.append(_material_words(day, key, containers_taken(day, plan, key, job), reckoned(of_it)))
    drawn = [one for one in water(day, plan) if one.job == job]
    for source in dict.fromkeys(water_from(one) for one in drawn):
        lines.append(f"{source}, about {sum(one.litres for one in drawn if water_from(one) == source):.0f} L")
    kit = dict.fromkeys(key for work in plan.works if work.job == job for key in _kit_of(day, work))
    supplies = dict.fromkeys(supply for key in kit for supply in day.kit[key].supply)
    return (*lines, *([f"From the site: {listed(list(supplies))}"] if supplies else []), *_out_again(day, plan, job))


def _out_again(day: Day, plan: Plan, job: str) -> Iterator[str]:
    """What leaves with us and what the customer keeps: "Out again: 2 × Joint filler (tub), empty"."""
    own = [one for one in out_again(day, plan) if one.job == job]
    for word, is_kept in (("Out again", False), ("The customer keeps", True)):
        some = [one for one in own if one.is_kept is is_kept]
        if some:
            yield from (f"{word}: {_one_out(day, one)}" for one in some)
            mass = sum(one.mass(day) for one in some)
            if mass >= 0.5:
                yield f"{word} in all: {mass:.0f} kg"


def _one_out(day: Day, one: OutAgain) -> str:
    return f"{counted(Names(day).material(one.material), one.count)}, {how_full(one.rest)}"


def _kit_of(day: Day, work: Work) -> tuple[str, ...]:
    return day.kit_closure(day.jobs[work.job].stages[work.stage].methods[work.method].kit)


def _material_words(day: Day, key: str, count: int, expected: float | None) -> str:
    """So many containers of a material, what they hold in all and how many are reckoned to be used, where known."""
    about = "" if expected is None else f"; about {expected:.2f} used"
    return counted(Names(day).material(key), count) + _holds(day, key, count) + about


def _holds(day: Day, key: str, count: int) -> str:
    """What so many containers hold in all, where the day says it: ", 45 kg"."""
    material = day.materials[key]
    if material.holds_kg:
        return f", {count * material.holds_kg:g} kg"
    if material.holds_litres:
        return f", {count * material.holds_litres:g} L"
    return ""
