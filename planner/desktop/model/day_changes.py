"""The changes to a day's text that make of it another day, such as a remedy that was tried."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from planner.day import Day
from planner.day.faults import DayFaults, Where
from planner.day.layout import day_tables
from planner.desktop.model.draft import Change, Draft


@dataclass(frozen=True)
class _Dropped:
    """A stage ("wash") or a method ("wash.lance") that a recipe is not to give."""

    job: str
    what: str


def changed_to(draft: Draft, wanted: Day) -> Draft | None:
    """The draft that says the wanted day; None when that cannot be written into it as it stands."""
    if draft.day is None:
        return None
    found = list(_between(draft, (), day_tables(draft.day), day_tables(wanted)))
    changes = [change for change in found if isinstance(change, Change)]
    for job in dict.fromkeys(drop.job for drop in found if isinstance(drop, _Dropped)):
        place: Where = ("jobs", job, "drop")
        names = [drop.what for drop in found if isinstance(drop, _Dropped) and drop.job == job]
        changes.append(Change(place, [*(draft.written_at(place) or []), *names]))
    try:
        after = draft.changed(changes)
    except DayFaults:
        return None
    return after if after.day is not None and after.day == _with_kit_of(after.day, wanted) else None


def _with_kit_of(day: Day, wanted: Day) -> Day:
    """The wanted day without the kit and material that another leaves out: a recipe names only what is used."""
    kit = {key: piece for key, piece in wanted.kit.items() if key in day.kit}
    materials = {key: material for key, material in wanted.materials.items() if key in day.materials}
    return wanted.model_copy(update={"kit": kit, "materials": materials})


def _between(draft: Draft, place: Where, before: dict[str, Any], after: dict[str, Any]) -> Iterator[Change | _Dropped]:
    for key in [*before, *(key for key in after if key not in before)]:
        here = (*place, key)
        old, new = before.get(key), after.get(key)
        if old == new:
            continue
        job = str(here[1]) if len(here) > 2 and here[0] == "jobs" else ""
        by_recipe = bool(job) and bool(draft.uses_in(job))
        if isinstance(old, dict) and isinstance(new, dict):
            yield from _between(draft, here, old, new)
        elif by_recipe and new is None and here[2] == "stages" and len(here) in (4, 6):
            yield _Dropped(job, ".".join(str(part) for part in here[3::2]))
        elif by_recipe and here[2] in ("waits", "quoted"):
            continue  # the recipe gives them anew, without what was dropped
        else:
            yield Change(here, new)
