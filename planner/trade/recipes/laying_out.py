"""Recipes in a day file, turned into the plain stages that they stand for.

A job says ``recipe = "clean-and-repoint-patio"`` and below it ``[jobs.NAME.measures]``; a job with several has a
``[[jobs.NAME.recipes]]`` for each, with the same words in it. Whatever the job says itself is laid over what the
recipes give, so any surface, stage or method can be changed in part; ``drop = ["sweep", "wash.lance"]`` takes stages
and methods out. ``leave_at_home = ["surface-cleaner"]`` at the top of the file, or ``own = 0``, takes a piece of kit
away, and with it the methods that need it.
"""

from __future__ import annotations

from copy import deepcopy

from planner.trade.equipment import Equipment
from planner.trade.library import EQUIPMENT_WORDS, library
from planner.trade.library_parts import Library
from planner.trade.recipes.own_words import JOB_WORDS, Origins, expand_job, leave_methods
from planner.trade.recipes.uses import Faults, RecipeFault, RecipeFaults
from planner.trade.trade_tables import Table, nearest_or_all, table_in, texts_in

__all__ = ["RecipeFault", "RecipeFaults", "StandsAt", "expand", "expanded", "with_named_kit"]


StandsAt = dict[str, Origins]
"""For each job laid out, where its waits and its recipes' stages stand in the file."""


def expand(tables: Table) -> Table:
    """The tables of a day file with every recipe worked out, as `expanded` has it."""
    return expanded(tables)[0]


def expanded(tables: Table) -> tuple[Table, StandsAt]:
    """The tables of a day file with every recipe worked out, and where what they have stands in the file.

    Parameters
    ----------
    tables
        As the file gives them, before they are validated; they are left as they are.

    Returns
    -------
    tuple of dict and dict
        A copy in which no word of a recipe is left, every quantity with its unit as text. Kit and material
        that the day uses and does not describe come from the library; what it describes in part is filled up
        from there. In a day without recipes only kit of which nothing is said but its name is the library's.

    Raises
    ------
    RecipeFaults
        With every fault that was found in the use of recipes. All else is left to the validation.
    """
    made: Table = deepcopy(tables)
    jobs = {key: job for key, job in table_in(made, "jobs").items() if isinstance(job, dict)}
    if "leave_at_home" not in made and not any(word in job for job in jobs.values() for word in JOB_WORDS):
        return with_named_kit(made), {}
    shipped = _library()
    faults = Faults()
    left = made.pop("leave_at_home", [])
    equipment = Equipment.of_day(made, shipped, texts_in({"left": left}, "left"))
    if not isinstance(left, list):
        faults.add(("leave_at_home",), "this is no list of kit", 'write for example ["surface-cleaner"]')
    else:
        for i, key in enumerate(left):
            if key not in list(equipment.kit):
                right = nearest_or_all(str(key), equipment.kit)
                faults.add(("leave_at_home", i), f"unknown kit '{key}'", right)
    standing: StandsAt = {}
    for key, job in jobs.items():
        standing[key] = expand_job(key, job, equipment, shipped, faults)
        leave_methods(key, job, equipment, faults)
    if faults:
        raise RecipeFaults(faults)
    methods = [
        method
        for job in jobs.values()
        for stage in table_in(job, "stages").values()
        for method in table_in(stage, "methods").values()
    ]
    kit = [key for method in methods for key in texts_in(method, "kit")]
    materials = [key for method in methods for word in ("uses", "leaves") for key in table_in(method, word)]
    equipment.describe(made, shipped, kit, materials)
    return made, standing


def _library() -> Library:
    try:
        return library()
    except ValueError as fault:
        raise RecipeFaults([RecipeFault((), str(fault), "put it right in that file")]) from None


def with_named_kit(tables: Table) -> Table:
    """The tables of a day without recipes, with the library's kit where the day gives a name of it and no more.

    What a piece needs comes with it. Kit that the day describes, in however few words, is the day's own.

    Raises `RecipeFaults` when the user's own values break the library.
    """
    own = tables.get("kit", {})
    if not isinstance(own, dict):
        return tables  # the validation says what is wrong with it
    jobs = [job for job in table_in(tables, "jobs").values() if isinstance(job, dict)]
    stages = [stage for job in jobs for stage in table_in(job, "stages").values() if isinstance(stage, dict)]
    methods = [x for stage in stages for x in table_in(stage, "methods").values() if isinstance(x, dict)]
    described = {key for key, table in own.items() if table != {}}
    needed = [key for x in own.values() if isinstance(x, dict) for key in texts_in(x, "needs")]
    waiting = [*(key for method in methods for key in texts_in(method, "kit")), *own, *needed]
    if set(waiting) <= described:
        return tables
    shipped, named = _library().kit, dict(own)
    while waiting:
        key = waiting.pop(0)
        if key in shipped and key not in described:
            named[key] = {word: deepcopy(value) for word, value in shipped[key].items() if word not in EQUIPMENT_WORDS}
            described.add(key)
            waiting += texts_in(shipped[key], "needs")
    return {**tables, "kit": named} if named else tables
