"""Noise as it is told on the sheet: what reaches the ear, and what is worn, come before any limit is named."""

from planner.sheet.papers.cautions import exposure_words
from tests.plan.test_called_for import day_of, patio, planned


def test_noise_is_told_at_the_ear_before_a_limit_is_named() -> None:
    """Grinder of 98 dB(A): the action values are judged without defenders, the limit at the ear (Regulations, reg. 4).

    Under defenders of SNR 30, less 4 dB for real use (from memory), 98 dB(A) are 72 while the grinder runs.
    """
    day = day_of(patio(area="30 m2"), leave_at_home=["rake"], hands=1)
    told = exposure_words(day, planned(day), "hand-0")
    noise = next(part for part in told.split("; ") if part.startswith("noise"))
    assert noise.index("at the ear") < noise.index("without")
    assert "SNR 30" in noise or "to 30" in noise
    assert "take off" in noise
    if "limit" in noise:
        assert noise.index("at the ear") < noise.index("limit")


def test_without_defenders_it_is_told_as_it_comes() -> None:
    kit = {"grinder": {"wear": []}, "washer": {"wear": []}}
    day = day_of(patio(area="30 m2"), leave_at_home=["rake", "surface-cleaner", "tank-washer"], hands=1, kit=kit)
    noise = exposure_words(day, planned(day), "hand-0")
    assert "unprotected" in noise
    assert "wear hearing protection" in noise
    assert "at the ear" not in noise
