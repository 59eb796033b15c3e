"""What is kept beside a day: plan and record in one file, nothing of another written over, old files read on."""

import json
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest

from planner.day import Day
from planner.day.safekeeping import SaveFault
from planner.plan import kept as keeping
from planner.plan.kept import (
    Kept,
    KeptFault,
    KeptMeanwhile,
    changed_since,
    held,
    holds_for,
    keep,
    marks_of,
    plan_path,
    read_kept,
    seen,
)
from planner.plan.plan import Plan, Proof
from planner.plan.plan_file import plan_from_json, plan_schema, plan_to_json
from planner.plan.progress import Noted, Progress
from planner.plan.progress_file import progress_to_json
from tests.plan.worked import tiny

PROGRESS = Progress(520, (Noted("elm", "treat", 496, 508),), dropped=(("elm", "sweep"),), gone={"ash": 600}, rain=590)


OTHER_PARTS = (
    "the format", "the title", "the date", "the time zone", "when the day starts", "when the day ends",
    "the fixed start", "the crossing price", "the lights", "the van", "the break", "the meal", "the hands",
    "the places", "the travel", "the kit", "the materials",
)  # fmt: skip


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "elm.toml"


@pytest.fixture
def worked() -> tuple[Day, Plan]:
    return tiny()


def test_plan_and_record_come_back_from_one_file(file: Path, worked: tuple[Day, Plan]) -> None:
    day, plan = worked
    assert read_kept(file) is None
    mark = keep(file, day, Kept(plan, PROGRESS))
    assert read_kept(file) == Kept(plan, PROGRESS, mark)
    assert [path.name for path in file.parent.iterdir()] == ["elm.plan.json"]


def test_the_file_is_still_a_plan_for_whoever_reads_one(file: Path, worked: tuple[Day, Plan]) -> None:
    day, plan = worked
    keep(file, day, Kept(plan, PROGRESS))
    text = plan_path(file).read_text(encoding="utf-8")
    assert plan_from_json(text) == plan
    jsonschema.validate(json.loads(text), plan_schema())


def test_what_another_program_kept_meanwhile_stays(file: Path, worked: tuple[Day, Plan]) -> None:
    day, plan = worked
    ours = keep(file, day, Kept(plan))
    theirs = keep(file, day, Kept(plan, PROGRESS, ours))
    with pytest.raises(KeptMeanwhile, match="another program has kept"):
        keep(file, day, Kept(plan, replace(PROGRESS, at=700), ours))
    with pytest.raises(KeptMeanwhile):
        keep(file, day, Kept(plan))
    with pytest.raises(KeptMeanwhile):
        keeping.keep_record(file, Kept(plan, PROGRESS, ours), None)
    assert read_kept(file) == Kept(plan, PROGRESS, theirs)


def test_another_record_goes_in_beside_the_same_plan(file: Path, worked: tuple[Day, Plan]) -> None:
    day, plan = worked
    mark = keep(file, day, Kept(plan, PROGRESS))
    found = read_kept(file)
    assert found is not None
    assert changed_since(found, day) == ()
    behind = keeping.keep_record(file, found, None)
    again = read_kept(file)
    assert again == behind == Kept(plan, None)
    assert again is not None
    assert again.seen == behind.seen != mark
    assert changed_since(again, day) == ("what was told of the day",)
    assert holds_for(again, day) is None


def test_a_record_of_earlier_versions_is_read_on_and_goes_into_the_one_file(
    file: Path, worked: tuple[Day, Plan]
) -> None:
    day, plan = worked
    text = plan_to_json(plan, day)
    plan_path(file).write_text(text, encoding="utf-8")
    old = keeping.old_record_path(file)
    old.write_text(progress_to_json(PROGRESS, text), encoding="utf-8")
    found = read_kept(file)
    assert found == Kept(plan, PROGRESS)
    keep(file, day, replace(found, progress=replace(PROGRESS, at=700)))
    assert not old.exists()
    again = read_kept(file)
    assert again == Kept(plan, replace(PROGRESS, at=700))


def test_a_record_of_another_plan_is_none(file: Path, worked: tuple[Day, Plan]) -> None:
    day, plan = worked
    plan_path(file).write_text(plan_to_json(plan, day), encoding="utf-8")
    keeping.old_record_path(file).write_text(progress_to_json(PROGRESS, "another"), encoding="utf-8")
    assert read_kept(file) == Kept(plan, None)


@pytest.mark.parametrize(
    ("change", "told", "newer"),
    [
        ({"format": 99}, "its version is 99", True),
        ({"record": {"format": 99}}, "record: format is 99", True),
        ({"record": {"format": 1}}, "record: at is None", False),
        ({"record": 7}, "record: not a record of a day", False),
        ({"record": None}, "record: not a record of a day", False),
        ({"of": 7}, "of: it is no table of texts", False),
        ({"of": {"the kit": 7}}, "of: it is no table of texts", False),
        ({"works": 7}, "works: 7 is not a list", False),
    ],
)
def test_what_makes_no_sense_is_told_with_its_place(
    file: Path, worked: tuple[Day, Plan], change: dict[str, object], told: str, newer: bool
) -> None:
    day, plan = worked
    text = json.dumps(json.loads(plan_to_json(plan, day)) | change)
    plan_path(file).write_text(text, encoding="utf-8")
    with pytest.raises(KeptFault, match=told) as caught:
        read_kept(file)
    assert caught.value.is_newer is newer
    assert plan_path(file).read_text(encoding="utf-8") == text


def test_what_is_set_aside_stays_under_another_name(file: Path) -> None:
    for number in (1, 2):
        plan_path(file).write_text(f"no plan {number}")
        assert keeping.set_aside(file) == (plan_path(file).with_name(f"elm.plan.json.aside-{number}"),)
    assert sorted(path.read_text() for path in file.parent.iterdir()) == ["no plan 1", "no plan 2"]
    assert seen(file) == ""


def test_a_folder_in_its_place_is_left_alone(file: Path, worked: tuple[Day, Plan]) -> None:
    day, plan = worked
    plan_path(file).mkdir()
    with pytest.raises((KeptMeanwhile, SaveFault)):
        keep(file, day, Kept(plan, None, seen(file)))
    assert plan_path(file).is_dir()


def test_a_day_kept_by_an_earlier_version_is_not_taken_for_changed(worked: tuple[Day, Plan]) -> None:
    """The marks of the same day by the version before kit said of itself whether it is rinsed out, and before `sure`.

    Whoever gives a day a new word leaves the marks of days that do not say it as they were.
    """
    day, _ = worked
    marks = marks_of(day)
    assert marks["the kit"] == "2165e6d448e6fc02"
    assert marks["the job 'elm'"] == "0cbf055df1a1c5b8"
    assert marks["the hands"] == "967904573b45be92"
    assert marks["the van"] == "e6048c3630855b90"
    assert set(marks) == {"the job 'elm'", "the forecast", "the order of the jobs", *OTHER_PARTS}


PROVEN = Proof(value=121, bound=121, overrun=0, overrun_bound=0, minutes=121, crossings=0)


def test_a_proof_is_of_the_day_as_it_was(file: Path, worked: tuple[Day, Plan]) -> None:
    """The plan of one hand keeps the rules of a day with two; that none is home sooner was proven for the one."""
    day, plan = worked
    keep(file, day, Kept(replace(plan, proof=PROVEN), Progress(480)))
    kept = read_kept(file)
    assert kept is not None
    same = held(kept, [day])
    assert same is not None
    assert same.changed == ()
    assert same.plan.proof == PROVEN
    more = day.model_copy(update={"hands": {**day.hands, "elder": day.hands["ash"]}})
    found = held(kept, [more])
    assert found is not None
    assert found.changed == ("the hands",)
    assert found.plan == replace(plan, proof=None)
    either = held(kept, [more, day])
    assert either == same, "at the pace at which nothing changed"
