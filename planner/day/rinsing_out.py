"""Kit that two chemicals come out of, and of which a day does not say how it is rinsed out: it is all the same."""

from planner.day.day import Day
from planner.day.jobs import Method
from planner.day.stage_kinds import LADDER
from planner.trade.chemicals import chemicals
from planner.trade.visits import usual_rinsing


def with_rinsing_out(day: Day) -> Day:
    """The day with ``rinse_out`` said of all kit that two chemicals may come out of; the day itself where it is.

    What is not said is the usual time: whoever owns one sprayer and two chemicals rinses it out, and acid after
    hypochlorite in one sprayer gives chlorine. ``rinse_out = 0`` says of a piece that it need not be.
    """
    put_on: dict[str, set[str]] = {}
    for _, _, stage in day.stages():
        if stage.chemical is not None:
            for method in stage.methods.values():
                for key in _may_hold(day, method):
                    put_on.setdefault(key, set()).add(chemicals().class_of(stage.chemical))
    mixed = [key for key, classes in put_on.items() if len(classes) > 1 and day.kit[key].rinse_out is None]
    kit = {key: day.kit[key].model_copy(update={"rinse_out": usual_rinsing()}) for key in mixed}
    return day.model_copy(update={"kit": day.kit | kit}) if kit else day


def _may_hold(day: Day, method: Method) -> set[str]:
    """The kit of a method, and what that needs, that a chemical may be in.

    Where some of it says that it is rinsed out, that is what holds the chemical. No ladder does, nor what brings clean
    water, carries loads, or takes its water or current from the ground, as that is what feeds the rest.
    """
    taken = day.kit_closure(method.kit)
    if said := {key for key in taken if day.kit[key].rinsing}:
        return said
    pieces = ((key, day.kit[key]) for key in taken)
    return {key for key, kit in pieces if not (LADDER in kit.tags or kit.water or kit.wheels or kit.supply)}
