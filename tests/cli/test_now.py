"""``now``: what is done is said, what is urgent comes first, and the rest of the day is planned again.

The plan kept beside the day (`tests.sheet.plans.tiny_plan`): van at Elm 08:10, treated 08:16 to 08:28, swept 08:32 to
08:52, rinsed 09:08 to 09:23, home 09:51; the rinse must begin 30 to 45 minutes after the treatment.
"""

from pathlib import Path

import pytest

from planner import cli
from planner.plan.kept import read_kept
from planner.plan.plan import Plan
from planner.plan.plan_file import plan_from_json
from planner.plan.progress import Noted
from tests.cli.commands import Run

QUICK = ("--seconds", "4", "--workers", "1")


def kept(file: Path) -> Plan:
    """The plan kept beside a day."""
    return plan_from_json(file.with_suffix(".plan.json").read_text(encoding="utf-8"))


def test_the_rest_is_planned_and_kept_with_what_was_noted(run: Run, planned: Path) -> None:
    """Treated till 08:40 (520), so rinsed from 09:10 (550) on; packed 524, swept 544, out 546, in 548, set up 554,
    rinsed 569, packed 574, out 576, home 586 or 09:46."""
    ran = run("now", planned, "--at", "08:40", "--done", "treat@08:40", *QUICK, "--keep")
    assert (ran.code, ran.err) == (cli.DONE, "")
    first, then, *_ = ran.out.splitlines()
    assert first.startswith("FIRST: ")
    assert "must begin by 09:25" in first
    assert "home at 09:46" in then
    treat = kept(planned).work("elm", "treat")
    assert treat is not None
    assert treat.end == 520
    noted = read_kept(planned)
    assert noted is not None
    assert noted.progress is not None
    assert noted.progress.of_stage("elm", "treat") == Noted("elm", "treat", None, 520)


def test_what_was_given_up_before_stays_given_up(run: Run, planned: Path) -> None:
    words = ("now", planned, *QUICK, "--keep")
    assert run(*words, "--at", "08:29", "--done", "treat@08:28", "--dropped", "sweep").code == cli.DONE
    assert kept(planned).work("elm", "sweep") is None
    assert run(*words, "--at", "08:31").code == cli.DONE
    assert kept(planned).work("elm", "sweep") is None
    treat = kept(planned).work("elm", "treat")
    assert treat is not None
    assert treat.end == 508


def test_a_day_planned_anew_forgets_what_was_noted_only_where_that_is_said(run: Run, planned: Path) -> None:
    assert run("now", planned, "--at", "08:29", "--dropped", "sweep", *QUICK, "--keep").code == cli.DONE
    before = planned.with_suffix(".plan.json").read_bytes()
    refused = run("plan", planned, "--seconds", "2", "--keep")
    assert (refused.code, refused.out) == (cli.FAULTY, "")
    assert "what was noted of it up to 08:29 would be forgotten" in refused.err
    assert "--force" in refused.err
    assert planned.with_suffix(".plan.json").read_bytes() == before
    assert run("plan", planned, "--seconds", "2", "--keep", "--force").code == cli.DONE
    assert run("now", planned, "--at", "07:50", *QUICK, "--keep").code == cli.DONE
    assert kept(planned).work("elm", "sweep") is not None


def test_a_dwell_that_cannot_be_kept_is_said_first(run: Run, planned: Path) -> None:
    """Treated by 08:28; at 09:20 (560) out 562, in 564, set up 570: 17 minutes after 09:13."""
    ran = run("now", planned, "--at", "09:20", "--done", "elm.treat@08:28", *QUICK)
    assert ran.code == cli.DONE
    assert ran.out.splitlines()[0].startswith("FIRST: Elm Cottage: 'Rinse the wall' cannot begin by 09:13: 17 min too")


def test_a_day_that_ends_late_says_so_by_its_exit_code(run: Run, planned: Path) -> None:
    ran = run("now", planned, "--at", "12:50", "--done", "treat@12:50", *QUICK)
    assert ran.code == cli.LATE
    assert "Does not fit by" in ran.out


def test_a_day_that_cannot_be_done_names_what_cannot_hold_together(run: Run, planned: Path) -> None:
    ran = run("now", planned, "--at", "08:20", "--gone", "ash@08:20", *QUICK)
    assert ran.code == cli.NO_PLAN
    assert "Ash has gone home" in ran.out


def test_what_was_not_noted_is_told(run: Run, planned: Path) -> None:
    ran = run("now", planned, "--at", "08:55", "--done", "sweep@08:52", *QUICK)
    assert ran.code == cli.DONE
    assert "Taken as done: elm.treat" in ran.out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--at", "noon"), "--at: 'noon' is not a time of day; write for example '07:30'"),
        (("--at", "09:00", "--done", "treat"), "--done: 'treat' says no time; write for example 'treat@11:25'"),
        (("--at", "09:00", "--done", "@08:28"), "--done: '@08:28' says no time; write for example '@08:28@11:25'"),
        (("--at", "09:00", "--done", "treet@08:28"), "the day has no stage 'treet'; did you mean 'treat'?"),
        (("--at", "09:00", "--done", "treat@8.28"), "--done: '8.28' is not a time of day; write for example '07:30'"),
        (("--at", "09:00", "--done", "treat@08:28", "treat@08:30"), "--done: 'treat' is there twice; give one time"),
        (("--at", "09:00", "--dropped", "swep"), "the day has no stage 'swep'; did you mean 'sweep'?"),
        (("--at", "09:00", "--arrived", "elms@08:10"), "--arrived: the day has no job 'elms'; did you mean 'elm'?"),
        (("--at", "09:00", "--gone", "ask@08:10"), "--gone: the day has no hand 'ask'; did you mean 'ash'?"),
        (("--at", "09:00", "--rain", "soon"), "--rain: 'soon' is not a time of day; write for example '07:30'"),
    ],
)
def test_wrong_words_are_told(run: Run, planned: Path, words: tuple[str, ...], told: str) -> None:
    ran = run("now", planned, *words, *QUICK)
    assert (ran.code, ran.told) == (cli.FAULTY, [told])


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--done", "treat@09:30"), "'elm.treat' cannot have begun or ended after 09:00, which is now"),
        (("--begun", "treat@08:30", "--done", "treat@08:20"), "'elm.treat' cannot end before it begins"),
    ],
)
def test_times_that_cannot_be_are_told_with_the_file(
    run: Run, planned: Path, words: tuple[str, ...], told: str
) -> None:
    ran = run("now", planned, "--at", "09:00", *words, *QUICK)
    assert (ran.code, ran.told) == (cli.FAULTY, [f"{planned}: {told}"])


def test_the_clock_does_not_run_back(run: Run, planned: Path) -> None:
    assert run("now", planned, "--at", "08:31", *QUICK, "--keep").code == cli.DONE
    ran = run("now", planned, "--at", "08:20", *QUICK)
    assert ran.code == cli.FAULTY
    assert ran.told == [f"{planned}: the plan was made anew at 08:31; it cannot be 08:20 now"]


def test_no_time_is_wrong_use_and_no_plan_says_how_to_make_one(run: Run, tiny: Path) -> None:
    assert run("now", tiny).code == cli.MISUSED
    ran = run("now", tiny, "--at", "09:00")
    plan = tiny.with_suffix(".plan.json")
    assert ran.code == cli.FAULTY
    assert ran.told == [f"{plan}: there is no plan of the day yet; make one with: slackwater plan {tiny} --keep"]


def test_a_record_that_cannot_be_read_is_told_and_not_forgotten(run: Run, planned: Path) -> None:
    record = planned.with_suffix(".now.json")
    record.write_text("{", encoding="utf-8")
    ran = run("now", planned, "--at", "09:00", *QUICK)
    assert ran.code == cli.FAULTY
    assert ran.told[0].startswith(f"{record}: cannot be used: not JSON: ")
    assert ran.told[0].endswith("; put it right, or plan the day again, which forgets the record")
    assert run("plan", planned, "--seconds", "2", "--keep").code == cli.FAULTY
    assert record.read_text() == "{"
    assert run("plan", planned, "--seconds", "2", "--keep", "--force").code == cli.DONE
    assert record.with_name(f"{record.name}.aside-1").read_text() == "{"
