"""The rules of a plan, each one function that states it to the solver.

They may use the problem and its variables, and nothing of the checker; whoever makes a model calls `obey_all`.
"""

from planner.engine.rules import carrying, fresh, hands, order, room, route
from planner.engine.variables import Variables


def obey_all(v: Variables) -> None:
    """State every rule. The order matters: hands need the protection tasks, energy cuts need the driving."""
    route.obey(v)
    order.obey(v)
    carrying.obey(v)
    fresh.obey(v)
    hands.obey(v)
    room.obey(v)
