"""What is said to be proven is what the bounds say, and the same in every place that says it."""

from dataclasses import replace

import pytest

from planner.cli.on_terminal import closing_lines
from planner.engine import Result
from planner.fit.verdict import verdict
from planner.plan.plan import Plan, Proof
from planner.plan.proof_words import proof_words
from tests.plan.worked import tiny


def proof(*, bound: int, overrun: int = 0, overrun_bound: int = 0) -> Proof:
    """Of the worked plan: 94 minutes home and two crossings at 6."""
    return Proof(106, bound, overrun, overrun_bound, 94, 2)


@pytest.mark.parametrize(
    ("of", "words"),
    [
        (proof(bound=106), "Proven best."),
        (proof(bound=53), "At most 50.0% from the best there could be."),
        (proof(bound=106, overrun=20, overrun_bound=20), "Proven best."),
        (proof(bound=106, overrun=20, overrun_bound=5), "Every plan is at least 5 min late (proven)"),
        (proof(bound=106, overrun=20), "does not fit, as far as found"),
    ],
)
def test_each_standing_of_a_proof_has_its_words(of: Proof, words: str) -> None:
    assert words in proof_words(of)


def test_a_day_that_may_yet_fit_is_not_called_impossible_by_any_command() -> None:
    day, plan = tiny()
    (out, back), (visit,) = plan.drives, plan.visits
    dawdled = {"drives": (out, replace(back, start=574, end=584)), "visits": (replace(visit, depart=574),)}
    late: Plan = replace(plan, **dawdled, proof=proof(bound=106, overrun=10))
    day = day.model_copy(update={"finish": 574})  # 94 minutes from 08:00: what the work alone takes
    said = [verdict(day, late).sentence, " ".join(closing_lines(day, late)), Result(late).summary()]
    assert all("as far as found" in words for words in said)
    assert not any("Proven best" in words or "best there" in words for words in said)
