"""What must be in the van, and how much of each material goes to which job."""

from collections import Counter
from dataclasses import dataclass

from planner.day import Day
from planner.plan.plan import Plan
from planner.sheet.wording import Names, counted, plain, sentence

OTHER_GROUP = "everything else"
WEAR_GROUP = "to wear"
CONSUMABLES_GROUP = "consumables"


@dataclass(frozen=True, slots=True)
class Quantity:
    """So many containers of a material for one job, and what they hold in all ("45 kg"), where that is known."""

    name: str
    count: int
    holds: str

    @property
    def words(self) -> str:
        """As it is said: "3 × Joint filler (tub), 45 kg"."""
        return _words(self.name, self.count, self.holds)


@dataclass(frozen=True, slots=True)
class Load:
    """One line of the load list."""

    name: str
    count: int
    detail: str = ""

    @property
    def words(self) -> str:
        """As it is said: "Joint grinder, cutting disc"."""
        return _words(self.name, self.count, self.detail)


@dataclass(frozen=True, slots=True)
class LoadGroup:
    """What lies together in the van."""

    name: str
    loads: tuple[Load, ...]


def _words(name: str, count: int, detail: str) -> str:
    return ", ".join(filter(None, (counted(name, count), detail)))


def quantities_by_job(day: Day, plan: Plan, job: str) -> tuple[Quantity, ...]:
    """The material that the planned methods of a job use."""
    names = Names(day)
    return tuple(
        Quantity(names.material(key), count, _holds(day, key, count)) for key, count in _used(day, plan, job).items()
    )


def load_groups(day: Day, plan: Plan) -> tuple[LoadGroup, ...]:
    """The load list, group by group in the day's order of loading; groups that it does not name come after."""
    names = Names(day)
    groups: dict[str, list[Load]] = {plain(name): [] for name in day.van.groups}
    for key, count in _kit(day, plan).items():
        kit = day.kit[key]
        detail = ", ".join(plain(part) for part in kit.attachments)
        groups.setdefault(plain(kit.group) or OTHER_GROUP, []).append(Load(names.kit(key), count, detail))
    for key, count in _used(day, plan, None).items():
        group = plain(day.materials[key].group) or OTHER_GROUP
        groups.setdefault(group, []).append(Load(names.material(key), count, _holds(day, key, count)))
    stages = [day.jobs[work.job].stages[work.stage] for work in plan.works]
    lays = any(chore.what == "lay" for chore in plan.chores)
    for group, words in (
        (CONSUMABLES_GROUP, [*(word for s in stages for word in s.consumables), *(["floor sheets"] if lays else [])]),
        (WEAR_GROUP, [word for stage in stages for word in stage.wear]),
    ):
        groups.setdefault(group, []).extend(Load(sentence(word), 1) for word in dict.fromkeys(map(plain, words)))
    return tuple(LoadGroup(sentence(name), tuple(loads)) for name, loads in groups.items() if loads)


def _used(day: Day, plan: Plan, job: str | None) -> Counter[str]:
    """Containers of each material that the planned methods use, of one job or of all."""
    used: Counter[str] = Counter()
    for work in plan.works:
        if job in (None, work.job):
            used.update(day.jobs[work.job].stages[work.stage].methods[work.method].uses)
    return +used


def _kit(day: Day, plan: Plan) -> dict[str, int]:
    """How many of each piece of kit are needed at once, in the order of the day's file."""
    needed = {
        key for work in plan.works
        for key in day.kit_closure(day.jobs[work.job].stages[work.stage].methods[work.method].kit)
    }  # fmt: skip
    stays = {key: [s for s in plan.stays if s.kit == key] for key in day.kit if key in needed}
    return {
        key: max([sum(s.carried_in <= at.carried_in < s.carried_out for s in own) for at in own], default=1)
        for key, own in stays.items()
    }


def _holds(day: Day, key: str, count: int) -> str:
    material = day.materials[key]
    if material.holds_kg:
        return f"{count * material.holds_kg:g} kg"
    if material.holds_litres:
        return f"{count * material.holds_litres:g} L"
    return ""
