"""Files and days far larger than any that people write: a clear word at once, or a plan at once."""

import json
import random
import resource
import subprocess
import sys
from itertools import combinations
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from planner import cli
from planner.day.file import day_to_toml
from planner.desktop.window import Window
from planner.engine import first_plan
from planner.plan.checker import broken_rules
from planner.plan.plan import Rest
from planner.plan.plan_file import plan_from_json
from planner.plan.rules.day_and_plan import pairs_at_once
from tests.cli.commands import ROOT, Run
from tests.faults.large import large_day

MB = 2**20
STAGES = 150


def test_the_serial_order_of_150_stages_holds() -> None:
    day = large_day(STAGES)
    plan = first_plan(day)
    assert plan is not None
    assert {(work.job, work.stage) for work in plan.works} == {(job, stage) for job, stage, _ in day.stages()}
    assert len(plan.works) == STAGES
    assert broken_rules(day, plan) == []


def test_a_command_plans_150_stages_in_little_memory(tmp_path: Path) -> None:
    """In a process of its own, whose greatest memory the system tells (getrusage)."""
    day, kept = tmp_path / "large.toml", tmp_path / "large.plan.json"
    day.write_text(day_to_toml(large_day(STAGES)), encoding="utf-8")
    command = [sys.executable, "-m", "planner", "plan", str(day), "--seconds", "2", "--keep", "--shipped-pace"]
    ran = subprocess.run(command, check=False, cwd=ROOT, capture_output=True, timeout=300, text=True)
    assert ran.returncode == 0, ran.stderr[-500:]
    assert broken_rules(large_day(STAGES), plan_from_json(kept.read_text(encoding="utf-8"))) == []
    unit = 1 if sys.platform == "darwin" else 1024
    assert resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * unit < 2 * 2**30


def test_pairs_that_share_time_are_those_found_by_looking_at_every_two() -> None:
    rng = random.Random(1)
    for _ in range(300):
        spans = [Rest(str(n), start, start + rng.randint(0, 6)) for n in range(8) if (start := rng.randint(0, 20)) >= 0]
        inside = {
            frozenset((a.hand, b.hand))
            for a, b in combinations(spans, 2)
            if any(max(a.start, b.start) <= t < min(a.end, b.end) for t in range(30))
        }
        found = [frozenset((a.hand, b.hand)) for a, b in pairs_at_once(spans)]
        assert len(found) == len(set(found))
        assert set(found) == inside


@pytest.mark.parametrize(
    ("stages", "jobs", "told"),
    [
        (151, 6, "jobs: there are 151 stages, and at most 150 are planned in one day"),
        (3000, 10, "jobs: there are 3000 stages, and at most 150 are planned in one day"),
        (63, 21, "jobs: there are 21 jobs, and at most 20 are planned in one day"),
        (1200, 400, "jobs: there are 400 jobs, and at most 20 are planned in one day"),
    ],
)
def test_a_day_that_is_too_large_is_refused_with_the_limit(
    run: Run, tmp_path: Path, stages: int, jobs: int, told: str
) -> None:
    path = tmp_path / "large.toml"
    day = large_day(stages, jobs)
    few = {"travel": day.travel.model_copy(update={"trips": ()})}  # else its text is too large to be read at all
    path.write_text(day_to_toml(day.model_copy(update=few)), encoding="utf-8")
    ran = run("plan", path, "--seconds", "1")
    assert ran.code == cli.FAULTY
    assert told in ran.err


@pytest.fixture
def ten_megabytes(tmp_path: Path) -> Path:
    path = tmp_path / "large.toml"
    path.write_text("# a remark\n" * (10 * MB // 11 + 1), encoding="utf-8")
    return path


def test_a_command_tells_of_a_file_of_10_mb(run: Run, ten_megabytes: Path) -> None:
    ran = run("plan", ten_megabytes)
    assert (ran.code, ran.out) == (cli.FAULTY, "")
    assert ran.told == [f"{ten_megabytes}: it is 10.0 MB large; at most 1 MB are read: is it the right file?"]


def test_the_window_tells_of_a_file_of_10_mb_and_lives(
    qtbot: QtBot, window: Window, ten_megabytes: Path, tiny_file: Path, told: list[str]
) -> None:
    assert window.open(ten_megabytes) is None
    assert "10.0 MB" in told[0]
    assert "is it the right file?" in told[0]
    assert window.open(tiny_file) is not None


def test_the_largest_file_that_is_read_is_far_larger_than_a_day_of_150_stages() -> None:
    from planner.day.reading import DAY_LIMIT

    assert len(day_to_toml(large_day(STAGES)).encode()) * 10 < DAY_LIMIT


@pytest.mark.parametrize("version", [2, 99])
def test_the_window_shows_a_file_from_a_newer_version_and_changes_nothing_in_it(
    qtbot: QtBot, window: Window, tiny_file: Path, version: int
) -> None:
    newer = tiny_file.read_text(encoding="utf-8").replace("format = 1", f"format = {version}")
    assert newer != tiny_file.read_text(encoding="utf-8")
    tiny_file.write_text(newer, encoding="utf-8")
    page = window.open(tiny_file)
    assert page is not None
    qtbot.waitUntil(lambda: "install a newer slackwater" in page.strip.accessibleName(), timeout=5000)
    assert page.open_day.is_read_only
    page.open_day.set("Change finish", ("finish",), "16:00")
    assert page.open_day.is_clean
    assert window.close_page(page)
    assert tiny_file.read_text(encoding="utf-8") == newer


def test_a_plan_from_a_newer_version_is_told_and_left_alone(run: Run, tiny_file: Path) -> None:
    kept = tiny_file.with_suffix(".plan.json")
    kept.write_text(json.dumps({"format": 2, "more": 1}), encoding="utf-8")
    before = kept.read_bytes()
    ran = run("check", tiny_file, kept)
    assert ran.code == cli.FAULTY
    assert "its version is 2; this program reads version 1" in ran.err
    assert kept.read_bytes() == before
