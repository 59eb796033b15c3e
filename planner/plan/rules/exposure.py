"""Rule 13, exposure: no plan shakes a hand past the limit value of a day."""

from planner.plan.exposed import vibration_uses
from planner.plan.rules.day_and_plan import Breaches, BrokenRule, DayAndPlan, hand_words
from planner.trade.exposure import vibration_exposure
from planner.trade.limits import limits


def no_hand_is_shaken_past_the_limit(r: DayAndPlan) -> Breaches:
    """Rule 13: the daily vibration A(8) of every hand stays within the limit value."""
    for hand in r.day.hands:
        uses = vibration_uses(r.day, r.plan, hand)
        if not uses:
            continue
        bounds = limits().vibration
        exposure = vibration_exposure(uses, bounds)
        if exposure.is_over:
            text = (
                f"{hand_words(r.day, hand)} takes {exposure.value:.1f} m/s2 A(8); the limit value is {bounds.limit:g}"
            )
            yield BrokenRule(13, text)
