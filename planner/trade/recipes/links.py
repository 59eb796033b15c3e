"""Taking a stage out of a job, so that what came before it still comes before what came after."""

from __future__ import annotations

from planner.trade.trade_tables import Table


def without_stage(stages: dict[str, Table], waits: list[Table], key: str) -> None:
    """Take a stage out and link its neighbours through.

    What follows the stage then follows what it followed. A wait that led to it leads to what follows it, with
    its bounds: a treatment still dwells, whoever rinses. A wait that it began is gone with it, and only the
    order is kept; but a last wait with nothing after it (a cure) passes to the stages before it, where they
    are the last now: what others follow is worked on again, so that it cannot be kept clear.

    Parameters
    ----------
    stages, waits
        Tables of a job, changed in place.
    key
        The stage; one that is not there is left alone.
    """
    gone = stages.pop(key, None)
    if gone is None:
        return
    into = [wait for wait in waits if wait.get("before") == key]
    out_of = [wait for wait in waits if wait.get("after") == key]
    ordered = (wait["after"] for wait in into if wait.get("kind", "order") == "order")
    follows = list(dict.fromkeys([*gone.get("after", []), *ordered]))
    next_ones = [other for other, stage in stages.items() if key in stage.get("after", [])]
    next_ones += [w["before"] for w in out_of if w.get("before") in stages and w["before"] not in next_ones]
    for other in next_ones:
        after = [name for name in stages[other].get("after", []) if name != key]
        stages[other]["after"] = after + [name for name in follows if name not in after and name != other]
    followed = {name for stage in stages.values() for name in stage.get("after", [])}
    followed |= {wait["after"] for wait in waits if wait.get("before") in stages}
    last_ones = [name for name in [*follows, *(w["after"] for w in into)] if name not in followed]
    kept = [wait for wait in waits if wait not in into and wait not in out_of]
    for wait in into:
        if wait.get("kind", "order") != "order":
            kept += [{**wait, "before": other} for other in next_ones]
    for wait in out_of:
        if "before" not in wait:
            kept += [{**wait, "after": name} for name in dict.fromkeys(last_ones)]
    for wait in kept:
        if wait.get("extended_by") == key:
            del wait["extended_by"]
    for stage in stages.values():
        if stage.get("after") == []:
            del stage["after"]
        if key in stage.get("stays_for", []):
            stage["stays_for"] = [name for name in stage["stays_for"] if name != key]
    waits[:] = kept
