"""What a field takes and refuses, and that it says why in plain words."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.desktop.forms import kinds
from planner.desktop.forms.kinds import Kind
from planner.desktop.forms.recipe_form import measure_kind


@pytest.mark.parametrize(
    ("kind", "typed", "value"),
    [
        (kinds.MINUTES, "25", "25 min"),
        (kinds.MINUTES, "1h10", "1 h 10 min"),
        (kinds.MINUTES, "90 s", "2 min"),
        (kinds.CLOCK, "7:30", "07:30"),
        (kinds.CLOCK, "7", "07:00"),
        (kinds.CLOCK, "0730", "07:30"),
        (kinds.AREA, "32", "32 m2"),
        (kinds.AREA, "32 sq m", "32 m2"),
        (kinds.RUN, "1400 cm", "14 m"),
        (kinds.ARMFULS, "0.5", 0.5),
        (kinds.SPANS, "12-13; 18:00 to 20", [["12:00", "13:00"], ["18:00", "20:00"]]),
        (kinds.counted("1", 1, 4), "3", 3),
        (measure_kind("slab"), "600 x 300", "600 x 300 mm"),
        (measure_kind("joint_width"), "15", "15 mm"),
    ],
)
def test_what_is_typed_becomes_what_the_file_holds(kind: kinds.Kind, typed: str, value: object) -> None:
    assert kind.read(typed) == value


@pytest.mark.parametrize(
    ("kind", "typed", "said"),
    [
        (kinds.MINUTES, "soon", "6 min"),
        (kinds.CLOCK, "25:00", "07:30"),
        (kinds.CLOCK, "half past", "07:30"),
        (kinds.AREA, "-3", "32 m2"),
        (kinds.AREA, "12 kg", "32 m2"),
        (kinds.LOAD_LIMIT, "0", "above 0"),
        (kinds.SPANS, "13 to 12", "ends before it begins"),
        (kinds.SPANS, "12", "from and to"),
        (kinds.counted("1", 1, 4), "9", "1 to 4"),
        (measure_kind("slab"), "600", "600 x 300"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_be_right(kind: kinds.Kind, typed: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        kind.read(typed)


@pytest.mark.parametrize("minutes", [0, 1, 59, 60, 61, 125, 1439])
def test_a_time_shown_is_read_back(minutes: int) -> None:
    held = kinds.MINUTES.read(str(minutes))
    assert kinds.MINUTES.read(kinds.MINUTES.show(held)) == held


EVERY_KIND = [name for name, kind in vars(kinds).items() if isinstance(kind, Kind)]


@pytest.mark.parametrize("name", EVERY_KIND)
@settings(deadline=None)
@given(text=st.one_of(st.text(max_size=40), st.text("0123456789.,:+-*/ mkLgh²%٣", max_size=20), st.just("9" * 6000)))
def test_whatever_is_typed_into_a_field_is_read_or_refused(name: str, text: str) -> None:
    kind: Kind = getattr(kinds, name)
    try:
        value = kind.read(text.strip())
    except ValueError:
        return
    assert isinstance(kind.show(value), str)
