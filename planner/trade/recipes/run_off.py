"""A rinse before a treatment, where what is put on above runs onto the same surface and must never meet it."""

from __future__ import annotations

from planner.trade.chemicals import Chemicals, chemicals
from planner.trade.recipes.links import without_stage
from planner.trade.trade_tables import Table, table_in, texts_in


def rinse_off_first(asked: list[str], stages: dict[str, Table], waits: list[Table], surfaces: Table) -> list[str]:
    """Leave of the stages asked about, which rinse before a treatment, those that it needs; those taken out.

    It is needed where a chemical that must never meet one put on the surface itself is put on what drains there: then
    all rinses of that other surface come first, so that what was put on above is gone before the treatment is opened.
    """
    taken = []
    for key in asked:
        above = _clashing_above(str(stages[key]["surface"]), stages, surfaces)
        if not above:
            without_stage(stages, waits, key)
            taken.append(key)
            continue
        rinses = [s for s, stage in stages.items() if stage.get("rinses") is True and stage.get("surface") in above]
        after = texts_in(stages[key], "after")
        stages[key]["after"] = [*after, *(s for s in rinses if s not in after)]
    return taken


def _clashing_above(surface: str, stages: dict[str, Table], surfaces: Table) -> set[str]:
    """The surfaces that drain to one, in the end, and hold what must never meet what is put on that."""
    used = [(str(s["chemical"]), str(s["surface"])) for s in stages.values() if s.get("chemical") and s.get("surface")]
    own = [chemical for chemical, at in used if at == surface]
    if not own or len(used) == len(own):
        return set()
    known = chemicals()
    return {
        at
        for chemical, at in used
        if at != surface and surface in _reached(at, surfaces) and any(_clash(known, chemical, x) for x in own)
    }


def _clash(known: Chemicals, one: str, other: str) -> bool:
    """Whether two must never meet; what is not known, which is told elsewhere, is no reason to rinse."""
    try:
        return not known.may_meet(one, other)
    except ValueError:
        return False


def _reached(start: str, surfaces: Table) -> set[str]:
    """All that a surface drains to, straight or through others, or is worked from where nobody stands on it."""
    found: set[str] = set()
    waiting = [start]
    while waiting:
        own = table_in(surfaces, waiting.pop())
        stands = own.get("stood_on", True) is False
        for key in (*texts_in(own, "drains_to"), *(texts_in(own, "worked_from") if stands else ())):
            if key not in found:
                found.add(key)
                waiting.append(key)
    return found - {start}
