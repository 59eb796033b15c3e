"""The load list and the quantities in the words of the sheet; what they hold is worked out with the plan."""

from dataclasses import dataclass

from planner.day import Day
from planner.plan.loading import LoadKind, loads, uses
from planner.plan.plan import Plan
from planner.sheet.wording import Names, counted, plain, sentence

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
    """The load list: the van's groups in their order, then the rest; a kit's attachments follow it."""
    groups: dict[str, list[str]] = {plain(name): [] for name in day.van.groups}
    for load in sorted(loads(day, plan), key=lambda load: (load.needed_at, load.key, load.kind == "attachment")):
        words = counted(sentence(plain(load.name)), load.count)
        if load.kind == "material":
            words = _material_words(day, load.key, load.count)
        groups.setdefault(plain(load.group) or GROUPS[load.kind], []).append(words)
    return tuple(LoadGroup(sentence(name), tuple(lines)) for name, lines in groups.items() if lines)


def quantities_by_job(day: Day, plan: Plan, job: str) -> tuple[str, ...]:
    """The material that the planned methods of a job use, in words: "3 × Joint filler (tub), 45 kg"."""
    counts: dict[str, int] = {}
    for used in uses(day, plan):
        if used.job == job:
            counts[used.material] = counts.get(used.material, 0) + used.count
    return tuple(_material_words(day, key, count) for key, count in counts.items())


def _material_words(day: Day, key: str, count: int) -> str:
    """So many containers of a material, and what they hold in all where the day says it."""
    return counted(Names(day).material(key), count) + _holds(day, key, count)


def _holds(day: Day, key: str, count: int) -> str:
    """What so many containers hold in all, where the day says it: ", 45 kg"."""
    material = day.materials[key]
    if material.holds_kg:
        return f", {count * material.holds_kg:g} kg"
    if material.holds_litres:
        return f", {count * material.holds_litres:g} L"
    return ""
