"""Days for these tests: open ground, no kit, so that what must come out can be worked out by hand."""

from typing import Any

from planner.day import Day
from planner.fit.chance import Shared
from planner.fit.risk import Risk
from tests.days import at_elm

ALONE = Shared(day=0.0, hand=0.0, job=0.0)
"""Every stage for itself."""


def open_day(stages: dict[str, Any], *, waits: list[dict[str, Any]] | None = None, **changes: Any) -> Day:
    """One hand and one job ten minutes away; each stage is on a surface of its own that nobody stands on.

    A stage is given by its minutes, or by its own words.
    """
    said = {key: value if isinstance(value, dict) else {"minutes": value} for key, value in stages.items()}
    job = {
        "grounds": {"front": {}},
        "surfaces": {key: {"ground": "front", "stood_on": False} for key in said},
        "stages": {key: _stage(key, value) for key, value in said.items()},
        "waits": waits or [],
    }
    hands = {"ash": {"hours": [480, 1200], "cost_per_hour": 24}}
    return Day.model_validate(at_elm(job, start=480, finish=780, rest="none", hands=hands) | changes)


def _stage(key: str, said: dict[str, Any]) -> dict[str, Any]:
    method = {word: said[word] for word in ("minutes", "spread", "hands") if word in said}
    rest = {word: value for word, value in said.items() if word not in method}
    return {"surface": key, "methods": {"by-hand": method}} | rest


def eighty_of_hundred(risk: Risk) -> tuple[int, int]:
    """The minutes of the day between which the van is home in 80 % of all plays, as many before as after."""
    homes = [minute for minute, count in risk.homes for _ in range(count)]
    tenth = len(homes) // 10
    return homes[tenth], homes[-tenth - 1]
