"""The load list and the quantities in the words of the sheet; what they hold is worked out with the plan."""

from dataclasses import dataclass

from planner.day import Day
from planner.plan.loading import LoadKind, loads, uses
from planner.plan.plan import Plan
from planner.sheet.wording import counted, plain, sentence

GROUPS: dict[LoadKind, str] = {
    "kit": "everything else",
    "attachment": "everything else",
    "material": "material",
    "protection": "small things",
    "consumable": "small things",
    "wear": "to wear",
}
"""Where what has no group in the day is listed."""


@dataclass(frozen=True, slots=True)
class LoadGroup:
    """What lies together in the van, each line in words, what is needed first at the top."""

    name: str
    lines: tuple[str, ...]


def load_groups(day: Day, plan: Plan) -> tuple[LoadGroup, ...]:
    """The load list: the van's groups in their order, then what belongs to none of them."""
    groups: dict[str, list[tuple[int, str]]] = {plain(name): [] for name in day.van.groups}
    for load in loads(day, plan):
        words, holds = sentence(plain(load.name)), ""
        if load.kind == "attachment":
            words = f"{words} (for {plain(day.kit[load.key].name) or load.key})"
        if load.kind == "material":
            words, holds = _name(day, load.key), _holds(day, load.key, load.count)
        group = plain(load.group) or GROUPS[load.kind]
        groups.setdefault(group, []).append((load.needed_at, counted(words, load.count) + holds))
    by_need = {name: sorted(lines, key=lambda line: line[0]) for name, lines in groups.items() if lines}
    return tuple(LoadGroup(sentence(name), tuple(words for _, words in lines)) for name, lines in by_need.items())


def quantities_by_job(day: Day, plan: Plan, job: str) -> tuple[str, ...]:
    """The material that the planned methods of a job use, in words: "3 × Joint filler (tub), 45 kg"."""
    counts: dict[str, int] = {}
    for used in uses(day, plan):
        if used.job == job:
            counts[used.material] = counts.get(used.material, 0) + used.count
    return tuple(counted(_name(day, key), count) + _holds(day, key, count) for key, count in counts.items())


def _name(day: Day, key: str) -> str:
    material = day.materials[key]
    return f"{plain(material.name) or key} ({plain(material.container)})"


def _holds(day: Day, key: str, count: int) -> str:
    """What so many containers hold in all, where the day says it: ", 45 kg"."""
    material = day.materials[key]
    if material.holds_kg:
        return f", {count * material.holds_kg:g} kg"
    if material.holds_litres:
        return f", {count * material.holds_litres:g} L"
    return ""
