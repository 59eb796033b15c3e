"""Whatever a file holds, a person gets faults with a place, never a traceback."""

import random
import re
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.day import Day
from planner.day.file import DayFaults, DayFile, day_from_text, read_day
from planner.day.lines import lines_of
from tests.day.small_day import IN_WEATHER, REMARKED, SAMPLES, SMALL

PLACE = Path("broken.toml")
QUICK = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
TEXTS = [
    SMALL,
    IN_WEATHER,
    REMARKED.read_text(encoding="utf-8"),
    *(p.read_text(encoding="utf-8") for p in sorted(SAMPLES.glob("*.toml"))),
]

VALUES = st.one_of(
    st.sampled_from(
        [
            "nan",
            "inf",
            "-inf",
            "true",
            "false",
            "[]",
            "{}",
            "''",
            '"none"',
            "1e308",
            "-1e308",
            "9" * 400,
            "9" * 5000,
            "-0.0",
            "2026-06-16",
            "07:30:00",
            "1979-05-27T07:32:00Z",
            "23:59:60",
            '"99999999999999999999 min"',
            '"1e9 m2"',
            '"0 m2"',
            '"24:00 +99999999999"',
            '"1h1h1h1h"',
            '"3 m m"',
            '"5 degC"',
            '"2 m**m"',
            '"7 kg/s"',
            '"\\u0000"',
            '"é木"',
            "0x7fffffffffffffff",
            '["00:00", "00:00"]',
            '[["a", "b"], ["a", "b"]]',
            "[[[[[[]]]]]]",
            "{ a = { b = { c = 1 } } }",
            '[{ from = "x" }]',
        ]
    ),
    st.integers().map(str),
    st.floats(allow_nan=False).map(repr),
    st.text(max_size=12).map(lambda text: '"' + re.sub(r'[\x00-\x1f"\\\x7f]', "", text) + '"'),
    st.integers(1, 2000).map(lambda depth: "[" * depth + "]" * depth),
    st.integers(1, 300).map(lambda depth: "{ a = " * depth + "1" + " }" * depth),
)


def faults_of(read: Callable[[], Day]) -> DayFaults | None:
    """What is said of a file; None when it is a sound day. Anything else that is raised fails the test."""
    try:
        day = read()
    except DayFaults as found:
        return found
    assert isinstance(day, Day)
    return None


def is_a_day_or_faults(text: str) -> None:
    found = faults_of(lambda: day_from_text(text, PLACE))
    if found is None:
        return
    lines = text.count("\n") + 1
    assert found.faults
    for fault in found.faults:
        assert fault.wrong.strip()
        assert fault.line is None or 1 <= fault.line <= lines
    assert all(line.startswith("broken.toml:") for line in str(found).split("\n"))


@QUICK
@given(st.sampled_from(TEXTS), st.integers(0, 2**32), st.integers(1, 6))
def test_lines_taken_out_doubled_and_moved(text, seed, count):
    lines, chance = text.split("\n"), random.Random(seed)
    for _ in range(count):
        at = chance.randrange(len(lines))
        line = lines[at]
        match chance.randrange(3):
            case 0:
                del lines[at]
            case 1:
                lines.insert(at, line)
            case 2:
                lines[at] = lines[(other := chance.randrange(len(lines)))]
                lines[other] = line
    is_a_day_or_faults("\n".join(lines))


@QUICK
@given(st.sampled_from(TEXTS), st.data(), st.integers(0, 2**32))
def test_values_of_every_wrong_kind(text, data, seed):
    places = list(re.finditer(r'= ("[^"\n]*"|[\d.]+|\[[^\]\n]*\]|\{[^}\n]*\}|true|false)', text))
    chance = random.Random(seed)
    for found in sorted(chance.sample(places, min(3, len(places))), key=lambda f: -f.start()):
        text = text[: found.start(1)] + data.draw(VALUES) + text[found.end(1) :]
    is_a_day_or_faults(text)


@QUICK
@given(st.sampled_from(TEXTS), st.integers(0, 2**32), st.integers(1, 30))
def test_names_swapped_among_each_other(text, seed, count):
    chance = random.Random(seed)
    names = re.findall(r"[a-z][a-z_-]+", text)
    for _ in range(count):
        found = chance.choice(list(re.finditer(r"[a-z][a-z_-]+", text)))
        text = text[: found.start()] + chance.choice(names) + text[found.end() :]
    is_a_day_or_faults(text)


@QUICK
@given(
    st.sampled_from(TEXTS),
    st.lists(st.tuples(st.floats(0, 1), st.binary(min_size=0, max_size=6)), min_size=1, max_size=5),
)
def test_bytes_put_in_anywhere(text, cuts):
    data = text.encode()
    for part, noise in cuts:
        at = int(part * len(data))
        data = data[:at] + noise + data[at + len(noise) // 2 :]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "day.toml"
        path.write_bytes(data)
        found = faults_of(lambda: read_day(path))
        assert found is None or str(path) in str(found)


@QUICK
@given(st.text(max_size=300))
def test_any_text_at_all(text):
    is_a_day_or_faults(text)
    assert isinstance(lines_of(text), dict)


@settings(QUICK, max_examples=25)  # each change reads the file with tomlkit, which takes its time
@given(st.data(), st.integers(0, 2**32))
def test_any_change_to_any_place(data, seed):
    """An open file is a sound day after every change, or is what it was before."""
    file, chance = DayFile(PLACE, SMALL), random.Random(seed)
    places = list(lines_of(file.text))
    for _ in range(3):
        place = chance.choice(places)
        place = data.draw(st.sampled_from([place, (*place, "new"), (*place, 0), place[:-1]]))
        value = data.draw(
            st.one_of(
                st.none(),
                st.booleans(),
                st.integers(),
                st.floats(),
                st.text(max_size=8),
                st.just({}),
                st.just([]),
                st.sampled_from(["30 min", "4 m2", "09:00", {"surface": "path"}, ["sweep"], {"minutes": "3 min"}]),
            )
        )
        before = file.text
        found = faults_of(lambda place=place, value=value: file.change(place, value))
        assert found is None or file.text == before
        assert day_from_text(file.text, PLACE) == file.day


@pytest.mark.soak
@settings(max_examples=3000, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.sampled_from(TEXTS), st.data(), st.integers(0, 2**32))
def test_long_run_of_wrong_values(text, data, seed):
    test_values_of_every_wrong_kind.hypothesis.inner_test(text, data, seed)
