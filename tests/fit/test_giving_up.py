"""What is offered to be given up where the rest of a day has no plan: always something, and nothing that does harm."""

from typing import Any

import pytest

from planner.day import Day
from planner.engine import plan_rest
from planner.fit.giving_up import Offer, what_to_give_up
from planner.plan.plan import Plan
from planner.plan.progress import Noted, Progress
from tests.engine.test_under_way_rules import made, planned

LAYERS = ("fill-1", "fill-2")


def in_layers(**second: Any) -> tuple[Day, Plan]:
    """Joints filled in two layers, the second, which takes no rain, soon after the first; then the path is swept."""
    filling = {"surface": "path", "kind": "fill", "stopped_by_rain": True, "methods": {"iron": {"minutes": 20}}}
    stages = {key: {**filling, "name": f"Layer {n}"} for n, key in enumerate(LAYERS, 1)}
    stages["fill-2"] |= second
    wait = {"after": "fill-1", "before": "fill-2", "kind": "order", "least": 0, "most": 60}
    day = made(stages, job={"waits": [wait]})
    return day, planned(day)


def offers_in_rain(day: Day, plan: Plan) -> tuple[Progress, list[Offer]]:
    """It rains for good since the first layer is in."""
    first = plan.work("elm", "fill-1")
    assert first is not None
    told = Progress(first.end, (Noted("elm", "fill-1", first.start, first.end),), rain=first.end, said=first.end)
    assert plan_rest(day, plan, told, seconds=20, workers=1).is_impossible
    return told, what_to_give_up(day, plan, told)


def test_the_layer_that_should_follow_and_cannot_is_offered_and_what_that_leaves_is_said() -> None:
    day, plan = in_layers()
    told, offers = offers_in_rain(day, plan)
    assert [offer.stages for offer in offers] == [(("elm", "fill-2"),)]
    assert "what 'Layer 1' left may have to come out again first" in offers[0].tomorrow
    assert plan_rest(day, plan, offers[0].on(told), seconds=20, workers=1).plan is not None


@pytest.mark.parametrize("kind", ["dwell", "order"])
def test_what_takes_off_what_is_on_is_never_offered(kind: str) -> None:
    """A second stage that ends a dwell must be done, rain or not: then nothing is offered."""
    day, plan = in_layers()
    wait = day.jobs["elm"].waits[0].model_copy(update={"kind": kind})
    day = day.model_copy(update={"jobs": {"elm": day.jobs["elm"].model_copy(update={"waits": (wait,)})}})
    _, offers = offers_in_rain(day, plan)
    assert bool(offers) is (kind == "order")
