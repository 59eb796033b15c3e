"""Units at the edge, checked against pint's own definitions and against hand-converted figures."""

import datetime as dt
import subprocess
import sys

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.trade import units
from planner.trade.units import clock, lengths, measure, minutes, show_clock, show_minutes

PINT = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "unit", "number"),
    [
        ("32 m2", "m2", 32),
        ("32 m²", "m2", 32),
        ("32 m^2", "m2", 32),
        ("32 sq m", "m2", 32),
        ("32 square metres", "m2", 32),
        ("14m", "m", 14),
        ("25 mm", "m", 0.025),
        ("18 L", "L", 18),
        ("0.5 m3", "L", 500),
        ("2.5 kg/m2", "kg/m2", 2.5),
        ("2.5 kg per m²", "kg/m2", 2.5),
        ("1.6 kg/L", "kg/m3", 1600),
        ("30 m2/h", "m2/min", 0.5),
        ("14 %", "%", 14),
        ("10 ft", "m", 3.048),  # the international foot is 0.3048 m by definition (1959 agreement)
        ("1 imperial_gallon", "L", 4.54609),  # by definition, Weights and Measures Act 1985
        ("10 mile/hour", "km/h", 16.09344),
        ("100 yd2", "m2", 83.612736),
    ],
)
def test_reads_a_measure(text: str, unit: str, number: float) -> None:
    assert measure(text, unit) == pytest.approx(number, rel=1e-12)


@pytest.mark.parametrize("name", [name for name in units._PLAIN if name not in ("%", "step", "steps")])
def test_the_table_of_plain_units_agrees_with_pint(name: str) -> None:
    powers, size = units._PLAIN[name]
    metre, kilogram, second = powers
    singular = {"hrs": "hr", "mins": "min"}.get(name, name)
    spelled = f"{singular[:-1]}**{singular[-1]}" if name[-1] in "23" else singular
    theirs = PINT.Quantity(1.0, spelled).to(f"m**{metre} * kg**{kilogram} * s**{second}")
    assert size == pytest.approx(theirs.magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "unit", "says"),
    [
        ("32 sqm", "m2", "'32 sqm' is not an area; write for example '32 m2'"),
        ("14 m", "m2", "'14 m' is not an area; write for example '32 m2'"),
        ("32", "m2", "it has no unit"),
        (32, "m2", "it has no unit"),
        ("1,200 mm", "mm", "without a comma"),
        ("-2 m", "m", "below zero"),
        ("two metres", "m", "is not a length"),
        ("2 m2m", "m2", "is not an area"),
        ("1 gallon", "L", "differs between countries"),
        ("20 degC", "kelvin", "is not a measure in kelvin"),
        ("", "L", "is not a volume"),
    ],
)
def test_a_wrong_measure_is_refused_with_what_would_be_right(text: object, unit: str, says: str) -> None:
    with pytest.raises(ValueError, match="write for example") as error:
        measure(text, unit)
    assert says in str(error.value)


def test_reads_sizes() -> None:
    assert lengths("600 x 300 mm") == (600, 300)
    assert lengths("0.6 m × 30 cm") == pytest.approx((600, 300))
    assert lengths("0.45m x 0.45m x 35mm", "m") == pytest.approx((0.45, 0.45, 0.035))


@pytest.mark.parametrize("text", ["600 x 300", "600 x mm", "0 x 300 mm", "600 kg x 300 mm", 600])
def test_a_wrong_size_is_refused(text: object) -> None:
    with pytest.raises(ValueError, match="write for example '600 x 300 mm'"):
        lengths(text)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("1h10", 70),
        ("1 h 10 min", 70),
        ("1h10min", 70),
        ("1 hour 10 minutes", 70),
        ("6 min", 6),
        ("90 s", 1.5),
        ("0.5 h", 30),
        ("2 h", 120),
        ("1h", 60),
        ("2 days", 2880),
        ("1 week", 10080),
        ("0 min", 0),
    ],
)
def test_reads_a_duration(text: str, number: float) -> None:
    assert minutes(text) == pytest.approx(number)


@pytest.mark.parametrize("text", ["10", 10, 1.5, None, "", "1:10", "1h70", "6 m", "1h10 5", "-6 min", "6 min x"])
def test_a_wrong_duration_is_refused(text: object) -> None:
    with pytest.raises(ValueError, match="is not a duration; write for example '6 min'"):
        minutes(text)


@given(st.integers(min_value=0, max_value=10**5))
def test_a_shown_duration_reads_back(number: int) -> None:
    assert minutes(show_minutes(number)) == number


@given(st.floats(min_value=0, max_value=1e9), st.sampled_from(["m2", "kg/m3", "L", "m"]))
def test_a_written_measure_reads_back(number: float, unit: str) -> None:
    assert measure(f"{number:.6f} {unit}", unit) == pytest.approx(number, abs=1e-6)


def test_shows_durations() -> None:
    assert [show_minutes(m) for m in (0, 45, 60, 70, 89.5, -5, -0.2)] == [
        "0 min", "45 min", "1 h", "1 h 10 min", "1 h 30 min", "-5 min", "0 min"
    ]  # fmt: skip


def test_reads_and_shows_the_time_of_day() -> None:
    assert [clock(text) for text in ("07:30", "7:30", "00:00", "24:00", "00:20 +1")] == [
        450,
        450,
        0,
        1440,
        1460,
    ]
    assert clock(dt.time(7, 30)) == 450
    assert [show_clock(m) for m in (450, 0, 1440, 1460, -10)] == [
        "07:30",
        "00:00",
        "24:00",
        "00:20 +1",
        "23:50 -1",
    ]


@pytest.mark.parametrize("text", ["7.30", "24:10", "07:60", "noon", 730, dt.time(7, 30, 30)])
def test_a_wrong_time_of_day_is_refused(text: object) -> None:
    with pytest.raises(ValueError, match="is not a time of day; write for example '07:30'"):
        clock(text)


@given(st.integers(min_value=-1440, max_value=5000))
def test_a_shown_time_of_day_reads_back(minute: int) -> None:
    assert clock(show_clock(minute)) == minute


def test_common_units_do_not_load_pint() -> None:
    program = (
        "import sys; from planner.trade.units import *;"
        "measure('32 m2', 'm2'); measure('12 L/min', 'L/min'); minutes('1h10'); lengths('600 x 300 mm');"
        "sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


ENDLESS = ("9" * 100_000, "20 m" + "**9" * 5, "20 " + "m" * 1_000_000, "1 " * 500_000, "20 m2/0", "40 km/", "5 /h")
"""What keeps a computer busy, or breaks it, where a text is taken for a sum."""

READERS = {
    "area": lambda text: measure(text, "m2"),
    "speed": lambda text: measure(text, "km/h"),
    "share": lambda text: measure(text, "%"),
    "sizes": lengths,
    "duration": minutes,
    "clock": clock,
}


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("text", ENDLESS, ids=range(len(ENDLESS)))
def test_what_is_no_measure_is_refused_at_once_and_in_few_words(reader: str, text: str) -> None:
    with pytest.raises(ValueError, match="write for example") as caught:
        READERS[reader](text)
    assert len(str(caught.value)) < 250


_SIGNS = st.text("0123456789.,-+*/^() \t\nmkgLhxX%²³µ_esinqd:é٣", max_size=30)
_WORDS = st.sampled_from(["m2", "km/h", "sq m", "per", "ft", "mile", "gallon", "kg", "min", "**9", "1e400", "²", "inf"])


@pytest.mark.parametrize("reader", READERS)
@settings(deadline=None)
@given(text=st.one_of(_SIGNS, st.text(max_size=20), st.lists(st.one_of(_SIGNS, _WORDS), max_size=5).map(" ".join)))
def test_whatever_is_typed_is_read_or_refused(reader: str, text: str) -> None:
    try:
        found = READERS[reader](text)
    except ValueError:
        return
    for number in found if isinstance(found, tuple) else (found,):
        assert abs(number) < 1e40


@pytest.mark.parametrize("text", ["08:00 +99", "08:00 -99"])
def test_a_time_of_another_day_has_two_figures_at_most(text: str) -> None:
    assert clock(text) == 480 + int(text[6:]) * 1440
    with pytest.raises(ValueError, match="is not a time of day"):
        clock(text + "9")
