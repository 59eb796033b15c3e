"""What a plan says of a model: one leg for each piece of kit, also where several that are alike move in one minute."""

from planner.engine.build import build
from planner.engine.hints import Hint
from planner.engine.variables import Caps, Variables
from tests.engine.test_under_way_rules import by_brush, made, planned


def test_each_of_two_brooms_goes_by_one_hand() -> None:
    """Ash and Bo walk in together, sweep a path each with a broom of their own, and walk out together."""
    stages = {"path": by_brush() | {"by_hand": "ash"}, "yard": by_brush() | {"surface": "yard", "by_hand": "bo"}}
    places = {"path": {"ground": "rear"}, "yard": {"ground": "rear"}}
    kit = {"broom": {"own": 2, "load": 0.5}}
    day = made(stages, hands={"ash": {}, "bo": {}}, kit=kit, job={"surfaces": places})
    plan = planned(day)
    assert [(s.carried_in, s.carried_out) for s in plan.stays] == [(492, 502)] * 2
    assert {c.hand for c in plan.crossings} == {"ash", "bo"}
    v = Variables(build(day), Caps(4, 4))
    said = Hint(day, plan, v).said
    for stay in (s for s in v.stays if said.get(s.present.index)):
        assert sum(said.get(leg.index, 0) for leg in stay.came_by.values()) == 1
        assert sum(said.get(leg.index, 0) for leg in stay.left_by.values()) == 1
