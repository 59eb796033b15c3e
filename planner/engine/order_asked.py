"""What the order of the work alone says of a problem, asked once for all who want to know it of a day."""

import threading
from functools import cached_property

from planner.engine.problem import Problem


class OrderAsked:
    """Whether even the order of the work alone cannot be (`order_alone`): seen when it is first asked, then known."""

    def __init__(self, problem: Problem, stop: threading.Event | None = None) -> None:
        self._problem, self._stop = problem, stop

    @cached_property
    def is_none(self) -> bool:
        """Whether no plan is home by the end of time, as far as that is seen at once."""
        from planner.engine.order_alone import has_no_order  # only now: most first plans need no solver

        return has_no_order(self._problem, self._stop)
