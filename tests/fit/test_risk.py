"""The plays, held to closed forms where there are any."""

from pathlib import Path

import pytest

from planner.day import Day
from planner.day.file import read_day
from planner.engine import first_plan, plan_day
from planner.fit.risk import Risk, play_out
from planner.plan.checker import broken_rules
from planner.plan.plan import Drive, Plan, Visit, Work
from tests.days import tiny_day
from tests.fit.small_days import ALONE, open_day

SAMPLES = Path(__file__).parent.parent.parent / "sample_days"


def serial(day: Day) -> Plan:
    plan = first_plan(day)
    assert plan is not None
    return plan


def beta_variance(low: float, likely: float, high: float) -> float:
    """Of the beta distribution behind PERT: (mean - low)(high - mean) / 7.

    A beta distribution with parameters p and q on [0, 1] has the variance p q / ((p + q)^2 (p + q + 1)); PERT's have
    p + q = 6 (Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 2, ch. 25).
    """
    mean = (low + 4 * likely + high) / 6
    return (mean - low) * (high - mean) / 7


def test_a_serial_chain_has_the_sum_of_means_and_of_variances() -> None:
    spreads = {"a": (0.5, 1.0, 2.0), "b": (0.9, 1.0, 1.1), "c": (0.8, 1.0, 3.0)}
    minutes = {"a": 60, "b": 30, "c": 40}
    day = open_day({k: {"minutes": minutes[k], "spread": spreads[k]} for k in minutes})
    plan = serial(day)
    parts = [tuple(part * minutes[k] for part in spreads[k]) for k in minutes]
    mean = 480 + 20 + sum((low + 4 * likely + high) / 6 for low, likely, high in parts)
    deviation = sum(beta_variance(*part) for part in parts) ** 0.5

    risk = play_out(day, plan, plays=40_000, shared=ALONE)
    assert risk.home_mean == pytest.approx(mean, abs=4 * deviation / 40_000**0.5)
    assert risk.home_deviation == pytest.approx(deviation, rel=0.03)


def two_at_once(spread: tuple[float, float, float]) -> tuple[Day, Plan]:
    """Two hands do a stage each at the same time, and one of them a third when both are done."""
    hands = {"ash": {}, "elm": {}}
    day = open_day(
        {"a": {"minutes": 60, "spread": spread}, "b": {"minutes": 60, "spread": spread}, "c": 10}, hands=hands
    )
    job = day.jobs["elm"]
    last = job.stages["c"].model_copy(update={"after": ("a", "b")})
    steady = last.model_copy(
        update={"methods": {"by-hand": last.methods["by-hand"].model_copy(update={"spread": (1, 1, 1)})}}
    )
    day = day.model_copy(update={"jobs": {"elm": job.model_copy(update={"stages": {**job.stages, "c": steady}})}})
    works = (
        Work("elm", "a", "by-hand", ("ash",), 1, 490, 550),
        Work("elm", "b", "by-hand", ("elm",), 1, 490, 550),
        Work("elm", "c", "by-hand", ("ash",), 1, 550, 560),
    )
    drives = (Drive("yard", "elm", 480, 490), Drive("elm", "yard", 560, 570))
    plan = Plan(drives, (Visit("elm", 1, 490, 560),), works)
    assert not broken_rules(day, plan)
    return day, plan


def test_one_maximum_of_two() -> None:
    # With likely = low the durations are low + (high - low) X, X of Beta(1, 5): F(x) = 1 - (1 - x)^5. So the maximum M
    # of two has E M = integral of 1 - F^2 = 2/6 - 1/11 = 8/33 and E M^2 = 2 (2 B(2, 6) - B(2, 11)) = 2 (2/42 - 1/132).
    day, plan = two_at_once((1.0, 1.0, 2.0))
    mean, square = 8 / 33, 2 * (2 / 42 - 1 / 132)
    deviation = 60 * (square - mean**2) ** 0.5
    risk = play_out(day, plan, plays=40_000, shared=ALONE)
    assert risk.home_mean == pytest.approx(490 + 60 + 60 * mean + 20, abs=4 * deviation / 40_000**0.5)
    assert risk.home_deviation == pytest.approx(deviation, rel=0.04)


def test_the_chance_of_being_late_is_that_of_the_distribution() -> None:
    # One stage of 60 min, low = likely, high twice that: home at 560 + 60 X, and P(X > 1/4) = (3/4)^5 = 0.2373.
    day = open_day({"a": {"minutes": 60, "spread": (1.0, 1.0, 2.0)}}, finish=480 + 80 + 15)
    risk = play_out(day, serial(day), plays=40_000)
    assert risk.late == pytest.approx(0.75**5, abs=0.01)
    # The 80 % time: 1 - (1 - x)^5 = 0.8.
    assert risk.home_80 == pytest.approx(560 + 60 * (1 - 0.2**0.2), abs=0.6)


def test_a_wait_is_kept_however_the_stages_go() -> None:
    # Sure minutes: home is the sum; the wait of two hours hides a stage between, whose slowness does not reach home.
    sure = {"minutes": 30, "spread": (1.0, 1.0, 1.0)}
    wide = {"minutes": 60, "spread": (0.5, 1.0, 1.9)}
    waits = [{"after": "a", "before": "c", "kind": "dry", "least": 120}]
    day = open_day({"a": sure, "b": wide, "c": sure | {"after": ["b"]}}, waits=waits)
    plan = plan_day(day, seconds=2).plan
    assert plan is not None
    risk = play_out(day, plan, plays=2_000)
    assert plan.home == 480 + 10 + 30 + 120 + 30 + 10
    assert risk.home_mean == pytest.approx(plan.home)
    assert risk.home_deviation == pytest.approx(0.0, abs=1e-6)
    assert risk.sources == ()


def test_a_dwell_outruns_its_most_as_often_as_what_fills_it_does() -> None:
    # a, then b in the dwell, then c: the dwell is b's time, 40 (1 + X), X of Beta(1, 5); at most 50 is X <= 1/4.
    waits = [{"after": "a", "before": "c", "kind": "dwell", "least": 20, "most": 50}]
    fill = {"minutes": 40, "spread": (1.0, 1.0, 2.0), "after": ["a"]}
    day = open_day({"a": 30, "b": fill, "c": {"minutes": 30, "after": ["b"]}}, waits=waits)
    plan = plan_day(day, seconds=2).plan
    assert plan is not None
    risk = play_out(day, plan, plays=40_000, shared=ALONE)
    assert [d.chance for d in risk.dwells] == [pytest.approx(0.75**5, abs=0.01)]


def test_a_promise_is_broken_as_often_as_the_van_leaves_too_late() -> None:
    day = open_day({"a": {"minutes": 60, "spread": (1.0, 1.0, 2.0)}})
    job = day.jobs["elm"].model_copy(update={"done_by": 490 + 60 + 15})
    day = day.model_copy(update={"jobs": {"elm": job}})
    risk = play_out(day, serial(day), plays=40_000)
    assert [p.chance for p in risk.promises] == [pytest.approx(0.75**5, abs=0.01)]


def test_a_gate_that_shuts_holds_a_stage_back() -> None:
    # Quiet from 500 to 600: a stage of an hour from 490 cannot run before 600, in no play.
    day = open_day({"a": {"minutes": 60, "spread": (0.9, 1.0, 1.1), "noisy": True}})
    job = day.jobs["elm"].model_copy(update={"quiet": ((500, 600),)})
    day = day.model_copy(update={"jobs": {"elm": job}})
    risk = play_out(day, serial(day), plays=1_000)
    assert risk.home_mean == pytest.approx(600 + 60 + 10, abs=1)


def test_a_stage_past_its_latest_time_counts_as_late() -> None:
    # It must be over by 490 + 60 + 15 = 565; the chance that it is not is (3/4)^5.
    day = open_day({"a": {"minutes": 60, "spread": (1.0, 1.0, 2.0), "not_after": 565}})
    risk = play_out(day, serial(day), plays=40_000)
    assert risk.shut_out == risk.late == pytest.approx(0.75**5, abs=0.01)


def test_lateness_comes_from_the_stage_that_is_wide() -> None:
    wide, sure = {"minutes": 60, "spread": (0.5, 1.0, 2.5)}, {"minutes": 60, "spread": (0.99, 1.0, 1.01)}
    day = open_day({"a": sure, "b": wide})
    assert play_out(day, serial(day)).sources[0].stage == "b"


def test_equal_seeds_give_equal_results() -> None:
    day = tiny_day()
    plan = serial(day)

    def twice(seed: int) -> Risk:
        return play_out(day, plan, plays=500, seed=seed)

    assert twice(7) == twice(7)
    assert twice(7).home_mean != twice(8).home_mean


@pytest.mark.parametrize("name", ["rear_patio", "three_jobs_two_hands", "wash_and_return", "by_recipe"])
def test_sure_days_go_as_planned(name: str) -> None:
    """With no spread at all, every play is the plan itself, or sooner where the plan leaves room."""
    day = read_day(SAMPLES / f"{name}.toml")
    plan = serial(day)
    jobs = {}
    for key, job in day.jobs.items():
        stages = {
            s: stage.model_copy(
                update={
                    "methods": {
                        m: method.model_copy(update={"spread": (1.0, 1.0, 1.0)}) for m, method in stage.methods.items()
                    }
                }
            )
            for s, stage in job.stages.items()
        }
        jobs[key] = job.model_copy(update={"stages": stages})
    risk = play_out(day.model_copy(update={"jobs": jobs}), plan, plays=10)
    # Likely minutes are not whole, those of a plan are: half a minute for each stage at the most.
    assert risk.home_deviation == pytest.approx(0.0, abs=1e-6)
    assert abs(risk.home_mean - plan.home) <= len(plan.works) / 2


def test_the_plays_of_each_minute_follow_the_distribution_of_the_only_stage() -> None:
    """Of equal sides PERT is the beta distribution (3, 3), whose distribution function is x^3 (10 - 15 x + 6 x^2)."""
    day = open_day({"a": {"minutes": 60, "spread": (0.5, 1.0, 1.5)}})
    plan = serial(day)
    plays = 20_000
    risk = play_out(day, plan, plays=plays)
    assert sum(count for _, count in risk.homes) == plays
    assert [minute for minute, _ in risk.homes] == sorted({minute for minute, _ in risk.homes})
    for minute in (plan.home - 15, plan.home, plan.home + 10):
        x = (minute - (plan.home - 30)) / 60
        share = sum(count for at, count in risk.homes if at <= minute) / plays
        assert share == pytest.approx(x**3 * (10 - 15 * x + 6 * x**2), abs=4 * 0.5 / plays**0.5)
