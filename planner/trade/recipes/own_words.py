"""Putting what recipes give and what a job says itself together: the job's own words always win."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import deepcopy
from types import MappingProxyType
from typing import Any, NamedTuple

from planner.trade.equipment import Equipment
from planner.trade.library_parts import Library
from planner.trade.recipes.containers import share_containers
from planner.trade.recipes.links import without_stage
from planner.trade.recipes.run_off import rinse_off_first
from planner.trade.recipes.uses import Faults, Use, Where, uses_of
from planner.trade.recipes.written import WrittenParts, parts_of
from planner.trade.trade_tables import Table, nearest_or_all, table_in, texts_in

JOB_WORDS = ("recipe", "recipes", "measures", "drop")
"""Words of a job that only recipes understand."""

_CUSTOMER_LISTS = ("before", "handover", "after", "not_promised")


_STANDS = "where it stands"
"""In waits while a job's own are laid over those of its recipes."""


class Origins(NamedTuple):
    """Where what a job has once its recipes are laid out stands in the file.

    Of each wait the number that it has among the job's own, or the place of the measure by which a recipe laid it; of
    each stage that a recipe laid, the place of that measure.
    """

    waits: Sequence[int | Where] = ()
    stages: Mapping[str, Where] = MappingProxyType({})


def expand_job(key: str, job: Table, equipment: Equipment, shipped: Library, faults: Faults) -> Origins:
    """Put the plain stages of a job's recipes in their place, and tell where in the file they come from.

    Faults are added to ``faults``.
    """
    known = len(faults)
    uses = uses_of(key, job, shipped, faults)
    if len(faults) > known:
        return Origins()
    parts = [
        (use, parts_of(use, table_in(table_in(job, "grounds"), use.ground), equipment, shipped, faults)) for use in uses
    ]
    drop = job.get("drop", [])
    for word in JOB_WORDS:
        job.pop(word, None)
    own_stages, own_waits = job.get("stages", {}), job.get("waits", [])
    if not isinstance(own_stages, dict) or not isinstance(own_waits, list):
        return Origins()  # the validation says what is wrong with them
    stages: dict[str, Table] = {}
    waits: list[Table] = []
    laid: dict[str, Where] = {}
    for use, part in parts:
        _check_keys(use, part, stages, faults)
        stages.update(part.stages)
        laid |= dict.fromkeys(part.stages, measure := (*use.place, use.recipe["needs"][0]))
        waits += [wait | {_STANDS: measure} for wait in part.waits]
        _add_to_customer(job, part)
        _add_hazards(job, part)
        _add_to_quoted(job, use, part)
        surfaces = job.setdefault("surfaces", {})
        if isinstance(surfaces, dict):
            surfaces[use.surface] = {**part.surface, **table_in(surfaces, use.surface)}
    surfaces = table_in(job, "surfaces")
    _stand_over_their_paving([use for use, _ in parts], surfaces)
    for _, part in parts:
        _lay_sheets(part, stages, surfaces)
    _run_over_what_lies_in_it([use for use, _ in parts], surfaces)
    _stay_where_they_are([part for _, part in parts], stages, surfaces)
    for name, stage in own_stages.items():
        stages[name] = _stage_over(stages.get(name, {}), stage)
    waits = _waits_over(waits, [w | {_STANDS: n} if isinstance(w, dict) else w for n, w in enumerate(own_waits)])
    if _can_be_linked(stages, waits):
        _put_in_order(parts, stages, waits)
        for use, part in parts:
            _link(use, part, stages, faults)
        for name in rinse_off_first([s for _, part in parts for s in part.rinsing_first], stages, waits, surfaces):
            _quote_no_more(job, name)
        _drop(("jobs", key, "drop"), drop, job, stages, waits, faults)
        share_containers(stages, waits, table_in(job, "surfaces"))
    job["stages"] = stages
    if waits:
        job["waits"] = waits
    return Origins([w.pop(_STANDS, ("jobs", key)) if isinstance(w, dict) else own_waits.index(w) for w in waits], laid)


def leave_methods(key: str, job: Table, equipment: Equipment, faults: Faults) -> None:
    """Take away methods whose kit is not at hand, also from stages that the job writes itself."""
    for name, stage in table_in(job, "stages").items():
        methods = table_in(stage, "methods")
        away = {method: equipment.away(texts_in(table, "kit")) for method, table in methods.items()}
        usable = {method: table for method, table in methods.items() if not away[method]}
        if methods and not usable:
            kit = ", ".join(sorted({piece for pieces in away.values() for piece in pieces}))
            place = ("jobs", key, "stages", name)
            faults.add(place, f"every method needs kit that is left at home: {kit}", "bring it or add a method")
        elif methods:
            stage["methods"] = usable


def _check_keys(use: Use, parts: WrittenParts, stages: dict[str, Table], faults: Faults) -> None:
    twice = [name for name in parts.stages if name in stages]
    if twice:
        right = 'give one of the recipes a prefix, for example prefix = "front"'
        faults.add(use.place, f"stage '{twice[0]}' is there already from another recipe", right)


def _add_to_customer(job: Table, parts: WrittenParts) -> None:
    """What the job tells its customer itself comes first."""
    customer = job.setdefault("customer", {})
    for word in _CUSTOMER_LISTS:
        said = customer.get(word, []) if isinstance(customer, dict) else None
        more = parts.customer.get(word, [])
        if isinstance(said, list) and more:
            customer[word] = [*said, *(text for text in more if text not in said)]


def _add_hazards(job: Table, parts: WrittenParts) -> None:
    hazards = job.get("hazards", [])
    if isinstance(hazards, list) and parts.hazards:
        job["hazards"] = [*hazards, *(tag for tag in parts.hazards if tag not in hazards)]


def _stand_over_their_paving(uses: list[Use], surfaces: Table) -> None:
    """Let what stands (a wall, render, windows, a fence) drain to all paving of its ground, unless it is said to what.

    And to what lies low there: a channel. What is high up needs no such words: it stands over the whole of its ground.
    """
    for use in uses:
        own = table_in(surfaces, use.surface)
        stands = own.get("stood_on", True) is False and not own.get("high")
        is_said = "drains_to" in own or texts_in(own, "worked_from")
        if stands and not is_said and (below := [*_paving_beside(use.surface, surfaces), *_low_beside(use, surfaces)]):
            own["drains_to"] = below


def _paving_beside(surface: str, surfaces: Table) -> list[str]:
    """All that is stood on on the same ground."""
    ground = table_in(surfaces, surface).get("ground")
    return [
        name
        for name in surfaces
        if name != surface
        and table_in(surfaces, name).get("ground") == ground
        and table_in(surfaces, name).get("stood_on", True) is True
    ]


def _low_beside(use: Use, surfaces: Table) -> list[str]:
    """What lies low on the same ground, and nobody stands on."""
    return [name for name in surfaces if name != use.surface and _lies_low(name, surfaces) and
            table_in(surfaces, name).get("ground") == use.ground]  # fmt: skip


def _lies_low(surface: str, surfaces: Table) -> bool:
    """Whether a surface is a channel or its like: said not to be high, and not stood on."""
    own = table_in(surfaces, surface)
    return own.get("high") is False and own.get("stood_on", True) is False


def _run_over_what_lies_in_it(uses: list[Use], surfaces: Table) -> None:
    """Let a wall drain to the windows of its ground, and whatever else a recipe says to lie in what another is for.

    Who works at what lies in paving stands on that too.
    """
    for use in uses:
        for other in uses:
            wall = table_in(surfaces, other.surface)
            if use.surface != other.surface and _lies_in(use, other) and isinstance(wall.get("drains_to", []), list):
                wall["drains_to"] = list(dict.fromkeys([*texts_in(wall, "drains_to"), use.surface]))
                own = table_in(surfaces, use.surface)
                if own.get("stood_on", True) is True and "over" not in own:
                    own["over"] = [other.surface]


def _lies_in(use: Use, other: Use) -> bool:
    """Whether what one recipe is for lies in what another is for, on one ground."""
    return use.ground == other.ground and other.key in use.recipe["surface"].get("lies_in", ())


def _rises_from(use: Use, other: Use) -> bool:
    """Whether one recipe is for steps, and another for paving of their ground."""
    own, paving = use.recipe["surface"], other.recipe["surface"]
    is_paving = paving.get("stood_on", True) is True and not paving.get("over_paving") and not paving.get("lies_in")
    return use.ground == other.ground and own.get("over_paving") is True and is_paving


def _put_in_order(parts: list[tuple[Use, WrittenParts]], stages: dict[str, Table], waits: list[Table]) -> None:
    """What lies in something else is put in order with that, unless the job puts the two the other way round.

    Of what is high up (a gutter under the roof's edge, its joints) nothing is done before dirt is down, water has run
    and what is laid there lies of what it lies in. What lies in paving (an oil stain) is done before that is washed,
    which takes up what is left of it; what lies low (a channel), once it is washed, as its dirt comes there, and before
    what is left to act on it. Steps rise from paving, and are done before that is washed.
    """
    later = _later(stages, waits)
    for use, part in parts:
        for other, about in parts:
            rises = _rises_from(use, other)
            if not _lies_in(use, other) and not rises:
                continue
            is_first = _is_said_to_precede(use, part, other, about, later)
            is_last = _is_said_to_precede(other, about, use, part, later)
            stands = part.surface.get("stood_on", True) is True
            rinsing = [key for key, stage in about.stages.items() if stage.get("rinses") is True]
            washes = [key for key in rinsing if key not in about.rinsing_first]
            if rises:
                washes = [key for key in washes if about.stages[key]["kind"] == "wash"]
            if part.surface.get("high") and about.surface.get("high") and not is_first:
                done = [key for key, stage in about.stages.items() if _is_in_the_way(stage)]
                use.lists["after"] = [*use.lists.get("after", []), *done]
            if stands and not is_last:
                use.lists["before"] = [*use.lists.get("before", []), *washes]
            if part.surface.get("high") is False and not stands:
                left = [key for key, stage in about.stages.items() if stage.get("chemical") and not washes]
                use.lists["after"] = [*use.lists.get("after", []), *([] if is_first else washes)]
                use.lists["before"] = [*use.lists.get("before", []), *([] if is_last else left)]


def _is_in_the_way(stage: Table) -> bool:
    """Whether dirt falls or water runs from a stage, or it leaves what must not be disturbed."""
    return bool({"dirt", "spray", "water"} & set(texts_in(stage, "makes")) or texts_in(stage, "fresh_to"))


def _later(stages: dict[str, Table], waits: list[Table]) -> dict[str, set[str]]:
    """For each stage all that stages and waits put after it, straight or through others."""
    arrows = [(first, key) for key, stage in stages.items() for first in texts_in(stage, "after")]
    arrows += [(wait["after"], wait["before"]) for wait in waits if "after" in wait and "before" in wait]
    found: dict[str, set[str]] = {}
    for key in stages:
        reached: set[str] = set()
        while more := {second for first, second in arrows if first == key or first in reached} - reached:
            reached |= more
        found[key] = reached
    return found


def _is_said_to_precede(
    use: Use, part: WrittenParts, other: Use, others: WrittenParts, later: dict[str, set[str]]
) -> bool:
    """Whether the job says of one use that it is before another, or of a stage of one that it is before the other's.

    Recipes themselves put no stage of one use after one of another.
    """
    says_after = not part.stages.keys().isdisjoint(other.lists.get("after", []))
    says_before = not others.stages.keys().isdisjoint(use.lists.get("before", []))
    return says_after or says_before or any(not later[key].isdisjoint(others.stages) for key in part.stages)


def _lay_sheets(parts: WrittenParts, stages: dict[str, Table], surfaces: Table) -> None:
    """Say on what a recipe's sheets lie, and what that spares: what its surface is worked from or drains to, else its
    ground's paving."""
    for key in (*parts.lying, *parts.sparing):
        surface = str(stages[key]["surface"])
        own = table_in(surfaces, surface)
        said = [*texts_in(own, "worked_from"), *texts_in(own, "drains_to")]
        if under := list(dict.fromkeys(said or _paving_beside(surface, surfaces))):
            stages[key]["lies_on" if key in parts.lying else "spares"] = under


def _stay_where_they_are(parts: list[WrittenParts], stages: dict[str, Table], surfaces: Table) -> None:
    """Say what stages spare that keep to where they are: all of their ground but it, and the paving it lies in."""
    for key in (key for part in parts for key in part.staying):
        own = str(stages[key]["surface"])
        paving = _paving_beside(own, surfaces)
        around = {own, *(other for other in paving if own in texts_in(table_in(surfaces, other), "drains_to"))}
        ground = table_in(surfaces, own).get("ground")
        if beside := [x for x in surfaces if table_in(surfaces, x).get("ground") == ground and x not in around]:
            stages[key]["spares"] = beside


def _add_to_quoted(job: Table, use: Use, parts: WrittenParts) -> None:
    """One quoted item for a use, with the stages that the job has not put under an item of its own."""
    quoted = job.setdefault("quoted", {})
    if not isinstance(quoted, dict):
        return
    taken = {name for item in quoted for name in texts_in(quoted, item)}
    mine = [name for name, stage in parts.stages.items() if name not in taken and not stage.get("only_if_needed")]
    title = use.quoted or (f"{use.recipe['title']}: {use.name}" if use.name else use.recipe["title"])
    if mine:
        quoted[title] = [*texts_in(quoted, title), *mine]


def _stage_over(stage: Table, own: Any) -> Any:
    """A recipe's stage with the job's own words over it, its methods one by one."""
    if not stage or not isinstance(own, dict):
        return own
    methods = own.get("methods", {})
    if not isinstance(methods, dict):
        return {**stage, **own}
    laid = {name: _method_over(table_in(stage["methods"], name), method) for name, method in methods.items()}
    return {**stage, **own, "methods": {**stage["methods"], **laid}}


def _method_over(method: Table, own: Any) -> Any:
    """A method with the job's own words over it; a time of its own stands for the whole of the recipe's."""
    if not isinstance(own, dict):
        return own
    timed = "minutes" in own or "rate" in own
    kept = {word: v for word, v in method.items() if not (timed and word in ("minutes", "rate", "factor"))}
    return {**kept, **own}


def _waits_over(waits: list[Table], own: list[Any]) -> list[Any]:
    """The recipes' waits, then the job's own; one between the same two stages is laid over the recipe's."""
    merged: list[Any] = deepcopy(waits)
    for wait in own:
        same = [
            i
            for i, other in enumerate(waits)
            if isinstance(wait, dict) and all(wait.get(end) == other.get(end) for end in ("after", "before"))
        ]
        if same:
            merged[same[0]] |= wait
        else:
            merged.append(wait)
    return merged


def _can_be_linked(stages: dict[str, Any], waits: list[Any]) -> bool:
    """Whether stages and waits have the form that links ask for; if not, validation says what is wrong."""
    return all(
        isinstance(stage, dict) and texts_in(stage, "after") == (stage.get("after") or []) for stage in stages.values()
    ) and all(
        isinstance(wait, dict) and all(isinstance(wait.get(end, ""), str) for end in ("after", "before"))
        for wait in waits
    )


def _link(use: Use, parts: WrittenParts, stages: dict[str, Table], faults: Faults) -> None:
    """Put a use before and after the stages that it names."""
    mine = list(parts.stages)
    others = [name for name in stages if name not in mine]
    for word in ("before", "after"):
        for name in use.lists.get(word, []):
            if name not in others:
                faults.add((*use.place, word), f"unknown stage '{name}'", nearest_or_all(name, others))
                return
    waited_for = {wait["before"] for wait in parts.waits if "before" in wait}
    followed = {wait["after"] for wait in parts.waits if "before" in wait}
    followed |= {name for stage in parts.stages.values() for name in stage.get("after", [])}
    if_needed = {name for name, stage in parts.stages.items() if stage.get("only_if_needed")}
    for name in use.lists.get("before", []):
        _come_after(stages[name], [key for key in mine if key not in followed | if_needed])
    for key in mine:
        if not parts.stages[key].get("after") and key not in waited_for:
            _come_after(stages[key], use.lists.get("after", []))


def _come_after(stage: Table, names: list[str]) -> None:
    if names:
        after = stage.get("after", [])
        stage["after"] = [*after, *(name for name in names if name not in after)]


def _drop(place: Where, drop: Any, job: Table, stages: dict[str, Table], waits: list[Table], faults: Faults) -> None:
    """Take out the stages and the methods ("wash.lance") that the job drops."""
    if not isinstance(drop, list) or not all(isinstance(name, str) for name in drop):
        faults.add(place, "this is no list of stages", 'write for example ["sweep", "wash.lance"]')
        return
    for i, name in enumerate(drop):
        stage, dot, method = name.partition(".")
        if stage not in stages:
            faults.add((*place, i), f"unknown stage '{stage}'", nearest_or_all(stage, stages))
        elif dot:
            _drop_method((*place, i), stage, method, table_in(stages[stage], "methods"), faults)
        else:
            without_stage(stages, waits, stage)
            _quote_no_more(job, stage)


def _quote_no_more(job: Table, stage: str) -> None:
    """Take a stage out of the items that were quoted."""
    quoted = table_in(job, "quoted")
    for item in list(quoted):
        if stage in texts_in(quoted, item):
            quoted[item] = [other for other in quoted[item] if other != stage]
            if not quoted[item]:
                del quoted[item]


def _drop_method(place: Where, stage: str, method: str, methods: Table, faults: Faults) -> None:
    if method not in methods:
        faults.add(place, f"unknown method '{method}'", nearest_or_all(method, methods))
    elif len(methods) == 1:
        faults.add(place, f"no other method of '{stage}' is left", f"drop '{stage}' as a whole")
    else:
        del methods[method]
