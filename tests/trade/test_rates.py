"""Durations and their spreads, against numerical integration and hand-worked minutes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.rates import Spread, duration, whole_minutes

parts = st.lists(st.floats(0, 1000), min_size=3, max_size=3).map(sorted).map(lambda three: Spread(*three))


def test_pert_mean() -> None:
    # Worked by hand from (a + 4 m + b) / 6, Malcolm et al. 1959: 4, 5, 12 minutes.
    assert Spread(4, 5, 12).mean == pytest.approx(6)


@given(parts)
def test_a_mean_lies_between_the_ends(spread: Spread) -> None:
    slack = 1e-9 * (1 + spread.high)
    assert spread.low - slack <= spread.mean <= spread.high + slack


def test_an_area_over_a_rate() -> None:
    # 32 m2 at 40 m2 an hour is 48 min; 5 min fixed; heavy growth 1.5: (5 + 48) * 1.5 = 79.5 min.
    worked = duration(fixed=5, measure=32, per_hour=40, factors=[1.5], spread=(0.8, 1, 1.4))
    assert (worked.low, worked.likely, worked.high) == pytest.approx((63.6, 79.5, 111.3))
    assert worked.whole() == (64, 80, 111)


def test_without_a_measure_the_fixed_part_is_all() -> None:
    # 20 min, with parts of 0.9, 1.1 and 1.5 of it: 18, 22 and 30 min.
    worked = duration(fixed=20, spread=(0.9, 1.1, 1.5))
    assert (worked.low, worked.likely, worked.high) == pytest.approx((18, 22, 30))
    assert duration(fixed=20) == Spread(20, 20, 20)
    assert duration(measure=30, per_hour=60) == Spread(30, 30, 30)
    assert duration() == Spread(0, 0, 0)


@given(st.floats(0, 500), st.floats(0, 500), st.floats(1, 200), st.floats(0.1, 5))
def test_more_to_do_never_takes_less(less: float, more: float, per_hour: float, factor: float) -> None:
    less, more = sorted((less, more))
    short = duration(fixed=3, measure=less, per_hour=per_hour, factors=[factor])
    long = duration(fixed=3, measure=more, per_hour=per_hour, factors=[factor])
    assert short.likely <= long.likely


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        ({"measure": 32}, "needs a rate"),
        ({"measure": 32, "per_hour": 0}, "is not above 0"),
        ({"fixed": -1}, "below 0"),
        ({"measure": 1, "per_hour": math.inf}, "is not above 0"),
        ({"fixed": -1, "measure": 1, "per_hour": 1}, "below 0"),
        ({"measure": -1, "per_hour": 1}, "below 0"),
        ({"fixed": 1, "factors": [0]}, "factor must be above 0"),
        ({"fixed": 1, "factors": [math.inf]}, "factor must be above 0"),
        ({"fixed": 10, "spread": (1.2, 1, 1.3)}, "not a spread of minutes"),
    ],
)
def test_what_makes_no_sense_is_refused(said: dict[str, object], wrong: str) -> None:
    with pytest.raises(ValueError, match=wrong):
        duration(**said)  # type: ignore[arg-type]


def test_whole_minutes_are_half_up_and_no_work_vanishes() -> None:
    assert [whole_minutes(m) for m in (0, 0.01, 0.5, 1.49, 1.5, 2.5)] == [0, 1, 1, 1, 2, 3]
    for wrong in (-1, math.inf, math.nan):
        with pytest.raises(ValueError, match="cannot be planned"):
            whole_minutes(wrong)


@given(parts, st.floats(0.1, 10))
def test_a_spread_scales_as_a_whole(one: Spread, factor: float) -> None:
    assert one.times(factor).mean == pytest.approx(one.mean * factor)
