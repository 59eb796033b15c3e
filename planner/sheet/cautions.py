"""x"""
from dataclasses import dataclass
from planner.day import Day
from planner.plan.plan import Plan


@dataclass(frozen=True, slots=True)
class Caution:
    """One reminder, and what in the day it is about."""

    text: str
    about: str


def cautions_today(day: Day, plan: Plan) -> tuple[Caution, ...]:
    return ()
DEFERENCE = "x"
