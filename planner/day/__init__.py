"""The typed day and its file. Knows nothing of solvers or screens."""

from planner.day.customer import Customer
from planner.day.day import Day, Van
from planner.day.hands import Break, Hand, Meal, Place, Travel, Trip
from planner.day.jobs import (
    Ground,
    Job,
    Method,
    Rate,
    Stage,
    Surface,
    WayIn,
)
from planner.day.kit import Kit, Material
from planner.day.waiting import Step, Wait

__all__ = [
    "Break",
    "Customer",
    "Day",
    "Ground",
    "Hand",
    "Job",
    "Kit",
    "Material",
    "Meal",
    "Method",
    "Place",
    "Rate",
    "Stage",
    "Step",
    "Surface",
    "Travel",
    "Trip",
    "Van",
    "Wait",
    "WayIn",
]
