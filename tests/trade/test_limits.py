"""The shipped limits against the law and guidance they name; another country's beside them."""

from collections.abc import Callable
from pathlib import Path

import pytest

from planner.trade.limits import limits

Write = Callable[[str], Path]

ELSEWHERE = """
[limits.elsewhere]
name = "Elsewhere"
[limits.elsewhere.vibration]
action = 2.0
limit = 4.0
source = "invented"
[limits.elsewhere.noise]
lower_action = 78
upper_action = 83
limit = 85
source = "invented"
[limits.elsewhere.lifting]
man = 20
woman = 15
pair_share = 0.6
trio_share = 0.5
source = "invented"
[limits.elsewhere.breaks]
over = 270
least = 15
source = "invented"
[limits.elsewhere.air]
silica_mg_m3 = 0.05
chlorine_ppm = 0.5
source = "invented"
"""


def test_great_britain() -> None:
    found = limits()
    # Control of Vibration at Work Regulations 2005.
    assert (found.vibration.action, found.vibration.limit) == (2.5, 5.0)
    # Control of Noise at Work Regulations 2005.
    assert (found.noise.lower_action, found.noise.upper_action, found.noise.limit) == (80, 85, 87)
    # HSE INDG143 and L23.
    assert (found.lifting.man, found.lifting.woman) == (25, 16)
    # Working Time Regulations 1998, reg. 12.
    assert (found.breaks.over, found.breaks.least) == (360, 20)
    # HSE EH40/2005.
    assert (found.air.silica_mg_m3, found.air.chlorine_ppm) == (0.1, 0.5)


def test_another_country_stands_beside(own_values: Write) -> None:
    own_values(ELSEWHERE)
    assert limits("elsewhere").vibration.action == 2.0
    assert limits().vibration.action == 2.5


def test_what_is_missing_is_named(own_values: Write) -> None:
    own_values(ELSEWHERE.replace("trio_share = 0.5\n", ""))
    with pytest.raises(ValueError, match=r"limits\.elsewhere.lifting needs trio_share = a number above 0"):
        limits("elsewhere")
    with pytest.raises(ValueError, match="no limits for 'nowhere'; there are great-britain, elsewhere"):
        limits("nowhere")
