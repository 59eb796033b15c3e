"""What is proven of a plan, in the same words wherever they are said."""

from planner.plan.plan import Proof
from planner.trade.units import show_minutes


def proof_words(proof: Proof) -> str:
    """One sentence: proven best, how far from it at the most, or what is open of the overrun.

    While a plan that is home in time is not ruled out, a day does not fit only as far as found.
    """
    if proof.is_best:
        return "Proven best."
    if proof.overrun > proof.overrun_bound:
        if proof.overrun_bound <= 0:
            return "It does not fit, as far as found: that no plan would is not proven."
        least, found = show_minutes(proof.overrun_bound), show_minutes(proof.overrun)
        return f"Every plan is at least {least} late (proven); this one is {found} late."
    return f"At most {proof.gap:.1%} from the best there could be."
