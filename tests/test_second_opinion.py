"""The second opinion agrees on a few days, and sees a limit of the model that is too low."""

from typing import Any

import pytest

from planner import engine
from planner.day import Day
from tests import second_opinion
from tests.engine.edge_days import edge
from tests.engine.test_proofs import to_and_fro
from tests.second_opinion import CHANGES, answer, changed

pytestmark = pytest.mark.usefixtures("untidied")


def test_a_few_random_days_have_the_same_value_in_other_words() -> None:
    *_, counts = second_opinion.opinions(days=2, seconds=2, seed=1)
    assert counts.days == 2
    assert counts.proven_twice + counts.impossible_twice
    assert counts.faults == []


@pytest.mark.parametrize("name", CHANGES)
def test_each_change_changes_some_day_and_leaves_it_sound(name: str) -> None:
    days = [edge(seed) for seed in range(40)]
    others = [changed(day, 3, [name]) for day in days]
    assert any(other.model_dump_json() != day.model_dump_json() for day, other in zip(days, others, strict=True))


def test_a_limit_that_is_too_low_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """With one stay of a kit on each ground, kit that goes to and fro cannot; the wider model has room for it."""
    monkeypatch.setattr("planner.engine.variables.most_stays", lambda problem, kit, ground: 1)
    monkeypatch.setattr("tests.second_opinion.dominance.most_stays", lambda problem, kit, ground: 1)
    _, _, guilty = second_opinion.second_opinion(_to_and_fro(), 0, 3.0)
    assert guilty == ["wider limits"]


def test_answers_differ_only_where_both_are_known() -> None:
    assert second_opinion.differ((0, 10), (0, 11))
    assert second_opinion.differ("no plan", (0, 11))
    assert not second_opinion.differ("not proven", (0, 11))
    assert not second_opinion.differ((0, 10), (0, 10))


def _to_and_fro() -> Day:
    return to_and_fro(None)[0]


def test_the_answer_is_the_value_of_the_plan_made_by_hand() -> None:
    """Worked out in `tests.engine.test_proofs`: 107 minutes, with no restricted way."""
    assert answer(_to_and_fro(), 5.0) == (0, 107)


def test_a_plan_that_is_not_proven_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    def without_plan(*args: Any, **words: Any) -> engine.Result:
        return engine.Result(None)

    monkeypatch.setattr(engine, "plan_day", without_plan)
    assert answer(_to_and_fro(), 1.0) == "none found"
