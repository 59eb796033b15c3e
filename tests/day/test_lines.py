"""The line on which a place of a TOML text stands; expected lines are counted by hand in the texts."""

import tomllib

import pytest

from planner.day.lines import end_of_part, line_of, lines_of
from tests.day.small_day import SAMPLES

TEXT = '''\
# a remark with [brackets] and a = sign
format = 1
note = """
[not.a.header]
x = 1
"""

[jobs.larch]
place = "larch"   # [neither]
"odd name".inner = 1.5
[jobs.larch.surfaces]
patio = { ground = "rear", sizes = { area = "24 m2" } }
[[jobs.larch.waits]]
after = "a"
[[jobs.larch.waits]]
after = [
    "x",
    { deep = [1,
      2] },
]
tail = 'raw # text'
'''


@pytest.mark.parametrize(
    ("place", "line"),
    [
        (("format",), 2),
        (("note",), 3),
        (("jobs", "larch"), 8),
        (("jobs", "larch", "place"), 9),
        (("jobs", "larch", "odd name", "inner"), 10),
        (("jobs", "larch", "surfaces", "patio"), 12),
        (("jobs", "larch", "surfaces", "patio", "sizes", "area"), 12),
        (("jobs", "larch", "waits", 0), 13),
        (("jobs", "larch", "waits", 0, "after"), 14),
        (("jobs", "larch", "waits", 1, "after", 0), 17),
        (("jobs", "larch", "waits", 1, "after", 1, "deep", 1), 19),
        (("jobs", "larch", "waits", 1, "tail"), 21),
        (("jobs", "larch", "stages", "wash", "surface"), 8),  # not written: the nearest thing around it
        (("nowhere",), None),
    ],
)
def test_line_of_a_place(place, line):
    assert line_of(place, lines_of(TEXT)) == line


def places_in(value, place=()):
    """Every place in what the standard library's TOML reader gives."""
    if place:
        yield place
    if isinstance(value, dict | list):
        for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from places_in(inner, (*place, key))


@pytest.mark.parametrize(
    "path", [None, *sorted(SAMPLES.glob("*.toml"))], ids=lambda path: path.stem if path else "text"
)
def test_the_places_are_those_of_the_standard_reader(path):
    text = TEXT if path is None else path.read_text(encoding="utf-8")
    lines = lines_of(text)
    assert set(lines) == set(places_in(tomllib.loads(text)))
    written = text.split("\n")
    for place, line in lines.items():
        name = next(part for part in reversed(place) if isinstance(part, str))
        assert isinstance(place[-1], int) or name in written[line - 1]


def test_a_part_ends_before_the_remarks_of_the_next_header():
    text = "[kit.hose]\nload = 1\n\n# --- jobs ---\n\n[jobs.a]\nplace = 'x'\n"
    assert end_of_part(text, ("kit",)) == 2
    assert end_of_part(text, ("hands",)) == 0
    assert end_of_part(text, ("jobs",)) == 7


def test_any_text_is_walked_to_its_end():
    for text in ("", "[", "]]", "a =", "{", "a = [", "a = {b", '"""', "[[a", "= = =", "a.b.", "\x00"):
        assert isinstance(lines_of(text), dict)
