"""``now``: what is done is said, what is urgent comes first, and the rest of the day is planned again.

The plan kept beside the day (`tests.sheet.plans.tiny_plan`): van at Elm 08:10, treated 08:16 to 08:28, swept 08:32 to
08:52, rinsed 09:08 to 09:23, home 09:51; the rinse must begin 30 to 45 minutes after the treatment.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from planner import cli
from planner.cli import now
from planner.day.file import write_day
from planner.desktop.model.filing import open_file
from planner.plan.kept import Kept, keep, read_kept
from planner.plan.plan import Plan
from planner.plan.plan_file import plan_from_json
from planner.plan.progress import NOTHING_TOLD, Noted
from planner.trade.units import show_clock
from tests.cli.commands import Run
from tests.engine.test_under_way_rules import uncovered

QUICK = ("--seconds", "60", "--workers", "1")

SAY_HOW_MUCH = "--half: 'sweep@08:50' does not say how much; write for example 'sweep=18 of 24 m2@08:50'"
NO_PART = "--half: 'lots' is no part of it; write for example '18 of 24 m2', '18 m2' or '40 %'"
SAY_HOW_LONG = "--more: 'sweep' does not say how long; write for example 'sweep=20 min'"
TO_COME = "'elm.treat' cannot have begun or ended at 09:30: it is 09:00 now; if it just has, say 09:00"
SAY_IT_IS_HALF = "--rest-takes: 'elm.sweep' is not half done; say how much of it is with --half"


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
    words = ("--at", "08:29", "--done", "treat@08:28", "--dropped", "sweep")
    assert run("now", planned, *words, *QUICK, "--keep").code == cli.DONE
    before = planned.with_suffix(".plan.json").read_bytes()
    refused = run("plan", planned, "--seconds", "60", "--keep")
    assert (refused.code, refused.out) == (cli.FAULTY, "")
    assert "what was noted of it up to 08:29 would be forgotten" in refused.err
    assert "--force" in refused.err
    assert planned.with_suffix(".plan.json").read_bytes() == before
    assert run("plan", planned, "--seconds", "60", "--keep", "--force").code == cli.DONE
    assert run("now", planned, "--at", "07:50", *QUICK, "--keep").code == cli.DONE
    assert kept(planned).work("elm", "sweep") is not None


def test_a_dwell_that_cannot_be_kept_is_said_first(run: Run, planned: Path) -> None:
    """Treated by 08:30; at 09:20 (560) out 562, in 564, set up 570: 15 minutes after 09:15."""
    ran = run("now", planned, "--at", "09:20", "--done", "elm.treat@08:30", "--not-yet", "sweep", *QUICK)
    assert ran.code == cli.DONE
    assert ran.out.splitlines()[0].startswith("FIRST: Elm Cottage: 'Rinse the wall' cannot begin by 09:15: 15 min too")
    told = " ".join(ran.out.split())
    assert "RUNS: Treat the wall: dwell since 08:30: Rinse the wall" in told
    assert "not after 09:15, 5 min OVER" in told
    assert "not after 09:15; planned 09:30, 15 min too late" in told


def test_a_day_that_ends_late_says_so_by_its_exit_code(run: Run, planned: Path) -> None:
    ran = run("now", planned, "--at", "12:50", "--done", "treat@12:50", *QUICK)
    assert ran.code == cli.LATE
    assert "Does not fit by" in ran.out


def test_who_has_gone_home_does_no_more(run: Run, planned: Path) -> None:
    words = ("now", planned, "--at", "08:12", "--arrived", "elm@08:10", "--gone", "ash@08:11", *QUICK)
    ran = run(*words)
    assert ran.code == cli.ASKED
    assert "'Sweep the path' cannot be done: Ash has gone home." in ran.out
    assert "--dropped elm.sweep" in ran.out
    ran = run(*words, "--likely")  # the sprayer is in, and nobody is left to bring it out
    assert ran.code == cli.NO_PLAN
    assert "Ash has gone home" in ran.out


def test_what_was_not_told_is_asked_with_the_words_to_answer_it(run: Run, planned: Path) -> None:
    """Swept by 08:52, so treated before, by the plan until 08:28: each answer is one that the command takes."""
    words = ("now", planned, "--at", "08:55", "--done", "sweep@08:52", *QUICK)
    before = planned.with_suffix(".plan.json").read_bytes()
    ran = run(*words)
    assert ran.code == cli.ASKED
    asked, likely, not_yet, *_ = ran.out.splitlines()
    assert asked.startswith("ASKED: 'Treat the wall'")
    assert "--done elm.treat@08:28 --begun elm.treat@08:16" in likely
    assert planned.with_suffix(".plan.json").read_bytes() == before, "nothing is filled in"
    answered = run(*words, *likely.split(": ")[-1].split())
    taken = run(*words, "--likely", "--look")
    assert (answered.code, taken.code) == (cli.DONE, cli.DONE)
    planned.with_suffix(".plan.json").write_bytes(before)
    other = run(*words, *not_yet.split(": ")[-1].split())
    assert other.code == cli.DONE
    treat = kept(planned).work("elm", "treat")
    assert treat is not None
    assert treat.start >= 535, "it is still to come"


NO_LAWN = (
    "the day has no stage 'lawn'; it may be 'treat' (Treat the wall), 'rinse' (Rinse the wall),"
    " 'sweep' (Sweep the path)"
)


def test_a_stage_may_be_called_as_the_plan_calls_it(run: Run, planned: Path) -> None:
    """Who plans by recipes has never seen another name of it."""
    for name in ("treat", "Treat the wall", "treat the wall"):
        ran = run("now", planned, "--at", "08:40", "--done", f"{name}@08:28", "--likely", "--look", *QUICK)
        assert ran.code == cli.DONE, ran.err
        assert "08:28" in ran.out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--at", "noon"), "--at: 'noon' is not a time of day; write for example '07:30'"),
        (("--at", "09:00", "--done", "treat"), "--done: 'treat' says no time; write for example 'treat@11:25'"),
        (("--at", "09:00", "--done", "@08:28"), "--done: '@08:28' says no time; write for example '@08:28@11:25'"),
        (("--at", "09:00", "--done", "lawn@08:28"), NO_LAWN),
        (("--at", "09:00", "--done", "treet@08:28"), "the day has no stage 'treet'; did you mean 'treat'?"),
        (("--at", "09:00", "--done", "treat@8.28"), "--done: '8.28' is not a time of day; write for example '07:30'"),
        (("--at", "09:00", "--done", "treat@08:28", "treat@08:30"), "--done: 'treat' is there twice; give one time"),
        (("--at", "09:00", "--dropped", "swep"), "the day has no stage 'swep'; did you mean 'sweep'?"),
        (("--at", "09:00", "--arrived", "elms@08:10"), "--arrived: the day has no job 'elms'; did you mean 'elm'?"),
        (("--at", "09:00", "--gone", "ask@08:10"), "--gone: the day has no hand 'ask'; did you mean 'ash'?"),
        (("--at", "09:00", "--rain", "10:00-09:00"), "--rain: it cannot end at 09:00, before it begins"),
        (("--at", "09:00", "--half", "sweep@08:50"), SAY_HOW_MUCH),
        (("--at", "09:00", "--half", "sweep=lots@08:50"), NO_PART),
        (("--at", "09:00", "--half", "sweep=24 of 18 m2@08:50"), NO_PART.replace("lots", "24 of 18 m2")),
        (("--at", "09:00", "--rest-takes", "sweep=9 min"), SAY_IT_IS_HALF),
        (("--at", "09:00", "--more", "sweep"), SAY_HOW_LONG),
        (("--at", "09:00", "--without", "brom"), "--without: the day has no kit 'brom'; did you mean 'broom'?"),
        (("--at", "09:00", "--fetch", "broom@bo"), "--fetch: the day has no hand 'bo'; it may be 'ash'"),
        (("--at", "09:00", "--rain", "soon"), "--rain: 'soon' is not a time of day; write for example '07:30'"),
    ],
)
def test_wrong_words_are_told(run: Run, planned: Path, words: tuple[str, ...], told: str) -> None:
    ran = run("now", planned, *words, *QUICK)
    assert (ran.code, ran.told) == (cli.FAULTY, [told])


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--done", "treat@09:30"), TO_COME),
        (("--begun", "treat@08:30", "--done", "treat@08:20"), "'elm.treat' cannot end before it begins"),
    ],
)
def test_times_that_cannot_be_are_told_with_the_file(
    run: Run, planned: Path, words: tuple[str, ...], told: str
) -> None:
    ran = run("now", planned, "--at", "09:00", *words, *QUICK)
    assert (ran.code, ran.told) == (cli.FAULTY, [f"{planned}: {told}"])


def test_the_clock_does_not_run_back(run: Run, planned: Path) -> None:
    assert run("now", planned, "--at", "08:31", *QUICK, "--likely", "--keep").code == cli.DONE
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
    assert run("plan", planned, "--seconds", "60", "--keep").code == cli.FAULTY
    assert record.read_text() == "{"
    assert run("plan", planned, "--seconds", "60", "--keep", "--force").code == cli.DONE
    assert record.with_name(f"{record.name}.aside-1").read_text() == "{"


# --- told in any order ---------------------------------------------------------------------------------------------


def test_the_rest_of_what_is_half_done_takes_its_part(run: Run, planned: Path) -> None:
    """30 of 40 m2 are swept by 08:50: of 20 minutes a quarter is left, as a stage of its own."""
    done = ("--done", "treat@08:28", "--begun", "sweep@08:32")
    assert run("now", planned, "--at", "08:50", *done, "--half", "sweep=30 of 40 m2@08:50", *QUICK).code == cli.DONE
    sweep, rest = (kept(planned).work("elm", stage) for stage in ("sweep", "sweep-rest"))
    assert sweep is not None
    assert rest is not None
    assert (sweep.start, sweep.end) == (512, 530)
    assert rest.start >= 530
    assert rest.end - rest.start == 5
    told = ("now", planned, "--at", "09:01", "--done", "sweep-rest@09:00", *QUICK)
    asked = run(*told)
    assert asked.code == cli.ASKED
    assert "09:00 to 09:00" not in asked.out, "what had no minute is not offered as done"
    assert run(*told, "--likely").code == cli.DONE
    assert kept(planned).work("elm", "rinse") is not None
    rest = kept(planned).work("elm", "sweep-rest")
    assert rest is not None
    assert rest.end == 540


def test_what_is_asked_for_beyond_the_plan_comes_after_it(run: Run, planned: Path) -> None:
    done = ("--done", "treat@08:28", "sweep@08:52")
    assert run("now", planned, "--at", "08:53", *done, "--more", "sweep=8 min", *QUICK).code == cli.DONE
    more = kept(planned).work("elm", "sweep-more")
    assert more is not None
    assert more.start >= 533
    assert more.end - more.start == 8


def test_kit_that_is_not_there_is_used_when_it_is(run: Run, planned: Path) -> None:
    words = ("now", planned, "--at", "08:29", "--done", "treat@08:28", *QUICK)
    asked = run(*words, "--without", "broom")
    assert asked.code == cli.ASKED
    assert "'Sweep the path' cannot be done: there is no Broom" in asked.out
    assert "--dropped elm.sweep" in asked.out
    assert run(*words, "--without", "broom@09:30").code == cli.DONE
    sweep = kept(planned).work("elm", "sweep")
    assert sweep is not None
    assert sweep.start >= 570


def test_fetching_what_was_forgotten_takes_the_drive(run: Run, planned: Path) -> None:
    """Ten minutes there, five to find it, ten back: Ash and the broom are there from 08:55."""
    words = ("now", planned, "--at", "08:30", "--done", "treat@08:28", *QUICK)
    assert run(*words, "--fetch", "broom").code == cli.DONE
    later = [w for w in kept(planned).works if w.start >= 510]
    assert later
    assert all(work.start >= 535 for work in later)


def test_what_is_on_cannot_stay(run: Run, planned: Path) -> None:
    """The wall is treated; without its rinse it would stay so. Before it is, both can be given up."""
    treated = run("now", planned, "--at", "08:30", "--done", "treat@08:28", "--dropped", "rinse", *QUICK)
    assert treated.code == cli.ASKED
    assert "'Rinse the wall' takes it off" in treated.out
    before = run("now", planned, "--at", "08:12", "--arrived", "elm@08:10", "--dropped", "rinse", *QUICK)
    assert before.code == cli.ASKED
    assert "--dropped elm.treat" in before.out


def test_what_is_left_is_a_day_that_plans(run: Run, planned: Path) -> None:
    """The sweep is given up after 10 of 40 m2: three quarters of 20 minutes are left, with the broom."""
    out = planned.with_name("left.toml")
    half = ("--half", "sweep=10 m2@08:40", "--dropped", "sweep-rest")
    words = ("--at", "08:41", "--done", "treat@08:28", "--begun", "sweep@08:32")
    first = run("now", planned, *words, "--half", "sweep=10 m2@08:40", *QUICK)
    assert first.code == cli.DONE, half
    ran = run("now", planned, "--at", "08:42", "--dropped", "sweep-rest", "--left", out, *QUICK)
    assert ran.code == cli.DONE
    assert str(out) in "".join(ran.out.split()), "however long the path, and wherever a line ends"
    assert "It takes: Broom." in ran.out
    assert run("plan", out, "--seconds", "60").code == cli.DONE
    plan = kept(out)
    assert [(w.stage, w.end - w.start) for w in plan.works] == [("sweep-rest", 15)]
    assert [stay.kit for stay in plan.stays] == ["broom"]


def test_a_promise_that_cannot_hold_says_whom_to_ring(run: Run, planned: Path) -> None:
    """Promised gone by 10:00, treated only by 09:20. Ash has 56 minutes to do: pack 4, sweep 20, out and in 4, set up
    6, rinse 15, pack 5, out 2; so gone at 10:16 at the soonest."""
    text = planned.read_text().replace('place = "elm"\n', 'place = "elm"\ndone_by = "10:00"\n', 1)
    planned.write_text(text)
    ran = run("now", planned, "--at", "09:20", "--done", "treat@09:20", *QUICK)
    assert ran.code == cli.DONE
    assert "FIRST: Ring Elm Cottage: promised to be gone by 10:00, now 10:16" in " ".join(ran.out.split())
    assert run("check", planned, planned.with_suffix(".plan.json")).code == cli.DONE, "as told, not as promised"


def test_rain_on_fresh_work_says_what_to_cover(run: Run, planned: Path) -> None:
    text = planned.read_text()
    sweep = 'sweep = { name = "Sweep the path", kind = "sweep"'
    assert sweep in text
    planned.write_text(text.replace(sweep, 'sweep = { name = "Fill the joints", kind = "fill", fresh_for = "10 min"'))
    ran = run("now", planned, "--at", "08:53", "--done", "treat@08:28", "sweep@08:52", "--rain", "08:58", *QUICK)
    words = "FIRST: Elm Cottage: cover the Path before 08:58, 'Fill the joints' must stay dry"
    assert words in " ".join(ran.out.split())


def test_rain_that_stops_the_rest_says_what_to_give_up(run: Run, planned: Path) -> None:
    """The sweep cannot be done in the rain, and it rains for good: it is offered, with the words for it."""
    text = planned.read_text()
    planned.write_text(text.replace('kind = "sweep",', 'kind = "sweep", stopped_by_rain = true,'))
    words = ("now", planned, "--at", "08:30", "--done", "treat@08:28", "--rain", "08:35", *QUICK)
    ran = run(*words)
    assert ran.code == cli.ASKED
    assert "rain from 08:35" in ran.out
    assert "--dropped elm.sweep" in ran.out
    assert "ASKED: What of it is given up for today?" in ran.out
    assert run(*words, "--dropped", "elm.sweep").code == cli.DONE
    assert run(*words, "--likely").code == cli.DONE
    assert kept(planned).work("elm", "sweep") is None


def test_a_note_is_corrected_by_another_and_taken_back(run: Run, planned: Path) -> None:
    assert run("now", planned, "--at", "08:40", "--done", "treat@08:38", *QUICK).code == cli.DONE
    assert run("now", planned, "--at", "08:41", "--done", "treat@08:30", *QUICK).code == cli.DONE
    treat = kept(planned).work("elm", "treat")
    assert treat is not None
    assert treat.end == 510
    assert run("now", planned, "--at", "08:42", "--back", "treat", *QUICK).code == cli.DONE
    treat = kept(planned).work("elm", "treat")
    assert treat is not None
    assert treat.start >= 522


def test_the_van_that_fetches_is_on_the_sheet_with_who_drives(run: Run, planned: Path) -> None:
    words = ("now", planned, "--at", "08:30", "--done", "treat@08:28", *QUICK)
    assert run(*words, "--fetch", "broom@ash").code == cli.DONE
    assert [(x.hand, x.leaves, x.there, x.away, x.back) for x in kept(planned).fetches] == [("ash", 510, 520, 525, 535)]
    sheet = planned.with_name("x.html")
    assert run("sheet", planned, "-o", sheet, *QUICK).code == cli.DONE
    told = sheet.read_text()
    assert "find Broom" in told
    assert "Drive back to" in told
    assert run("check", planned, planned.with_suffix(".plan.json")).code == cli.DONE


def test_what_was_under_way_when_they_drove_off_is_asked(run: Run, planned: Path) -> None:
    begun = ("--at", "08:40", "--done", "treat@08:28", "--begun", "sweep@08:32", "--fetch", "washer@ash")
    ran = run("now", planned, *begun, *QUICK)
    assert ran.code == cli.ASKED
    assert "'Sweep the path' was under way when Ash drives for" in " ".join(ran.out.split())


@pytest.mark.parametrize(
    ("told", "word"),
    [
        (("--rain", "12:00"), "rain"),
        (("--gone", "ash@12:00"), "gone=ash"),
        (("--late", "ash@08:45"), "late=ash"),
        (("--without", "broom@09:30"), "without=broom"),
        (("--fetch", "broom"), "fetch=broom"),
        (("--nobody-in", "elm@09:30"), "nobody-in=elm"),
        (("--no-socket", "elm"), "no-socket=elm"),
        (("--more", "sweep=10 min"), "more=sweep"),
        (("--stays", "elm.sprayer"), "stays=elm.sprayer"),
    ],
)
def test_whatever_else_was_told_can_be_taken_back(run: Run, planned: Path, told: tuple[str, ...], word: str) -> None:
    words = ("now", planned, *QUICK, "--likely")
    assert run(*words, "--at", "08:30", "--done", "treat@08:28", *told).code == cli.DONE
    before = read_kept(planned)
    assert before is not None
    assert before.progress is not None
    assert replace(before.progress, at=0, noted=(), settled=0, said=0) != NOTHING_TOLD
    assert run(*words, "--at", "08:31", "--not-so", word).code == cli.DONE
    after = read_kept(planned)
    assert after is not None
    assert after.progress is not None
    nothing = replace(after.progress, at=0, noted=(), settled=0, said=0)
    assert nothing == NOTHING_TOLD


def test_what_was_told_is_noted_also_where_there_is_no_plan_of_it(run: Run, planned: Path) -> None:
    """Nobody is left to bring the sprayer out; that Ash is gone was told all the same, and can be taken back."""
    file = planned.with_suffix(".plan.json")
    before, plan = file.read_bytes(), kept(planned)
    words = ("now", planned, "--at", "08:12", "--arrived", "elm@08:10", "--gone", "ash@08:11", "--likely", *QUICK)
    assert run(*words, "--look").code == cli.NO_PLAN
    assert file.read_bytes() == before
    ran = run(*words, "--keep")
    assert ran.code == cli.NO_PLAN
    assert f"What was told is noted in {file}".replace(" ", "") in "".join(ran.out.split())
    found = read_kept(planned)
    assert found is not None
    assert found.progress is not None
    assert (found.plan, found.progress.gone) == (plan, {"ash": 491})
    sheet = run("sheet", planned, "-o", planned.with_name("x.html"), *QUICK)
    assert (sheet.code, "there is no plan of what was told of the day" in sheet.err) == (cli.BROKEN, True)
    assert run("check", planned, file).code == cli.BROKEN
    opened = open_file(planned, read_only=True).open_day
    assert opened.state.progress == found.progress
    assert opened.shown is not None
    assert (opened.shown.plan, opened.is_shown_current) == (plan, False)
    back = [".".join(stage) for stage in found.progress.dropped]
    assert back
    assert run("now", planned, "--at", "08:13", "--not-so", "gone=ash", "--back", *back, *QUICK).code == cli.DONE
    assert {work.stage for work in kept(planned).works} == {work.stage for work in plan.works}
    assert run("sheet", planned, "-o", planned.with_name("x.html"), *QUICK).code == cli.DONE


def test_what_was_not_told_cannot_be_taken_back(run: Run, planned: Path) -> None:
    ran = run("now", planned, "--at", "08:30", "--not-so", "rain", *QUICK)
    told = "--not-so: 'rain' was not told; nothing but stages was told of so far"
    assert (ran.code, ran.told) == (cli.FAULTY, [told])


def test_what_cannot_hold_is_told_in_the_order_of_harm(run: Run, planned: Path) -> None:
    """What is on should be off by 09:13, fresh joints lie open before the rain, the van was to be gone by 09:30."""
    text = planned.read_text().replace('place = "elm"\n', 'place = "elm"\ndone_by = "09:30"\n', 1)
    sweep = 'sweep = { name = "Sweep the path", kind = "sweep"'
    assert sweep in text
    planned.write_text(text.replace(sweep, 'sweep = { name = "Fill the joints", kind = "fill", fresh_for = "20 min"'))
    noted = ("--done", "treat@08:28", "sweep@09:19", "--begun", "sweep@08:59", "--rain", "09:30-09:35")
    ran = run("now", planned, "--at", "09:20", *noted, *QUICK)
    assert ran.code == cli.DONE
    told = " ".join(ran.out.split()).split("FIRST: ")[1:]
    starts = ("Elm Cottage: 'Rinse the wall' cannot begin", "Elm Cottage: cover the Path", "Ring Elm Cottage")
    assert [line.startswith(start) for line, start in zip(told, starts, strict=True)] == [True] * 3
    assert "What can be given up" not in ran.out, "all that is left is what takes it off"


def test_sheets_that_are_up_are_asked_about_when_more_is_wanted(run: Run, tmp_path: Path) -> None:
    """Laid, coated, taken up, swept; eight minutes more of the coat: each answer is taken in the words shown."""
    day, plan, told = uncovered()
    file = tmp_path / "day.toml"
    write_day(day, file)
    keep(file, day, Kept(plan, told))
    words = ("now", file, "--at", show_clock(told.at + 1), "--more", "coat=8min", *QUICK)
    asked = run(*words, "--look")
    assert asked.code == cli.ASKED
    offered = [line.rpartition(": ") for line in asked.out.splitlines() if line.startswith("  ")]
    answers = [words.split() for _, colon, words in offered if colon]
    assert [x[0] for x in answers] == ["--more", "--not-up", "--dropped"]
    assert [run(*words, *x, "--look").code for x in answers] == [cli.DONE] * 3
    assert run(*words, *answers[0]).code == cli.DONE
    assert kept(file).work("elm", "cover-more") is not None


def test_who_reads_no_further_has_what_was_told_kept(run: Run, planned: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`... | head -1`: nothing can be printed any more once the first line is read."""

    class EnoughError(Exception):
        """The reader is gone."""

    def has_enough(*_: object, **__: object) -> None:
        raise EnoughError

    monkeypatch.setattr(now, "_say_urgent", has_enough)
    with pytest.raises(EnoughError):
        run("now", planned, "--at", "08:28", "--done", "treat@08:28", *QUICK)
    left = read_kept(planned)
    assert left is not None
    assert left.progress is not None
    assert left.progress.at == 508


@pytest.mark.parametrize("word", ["--nobody-in=elm", "--without=washer"])
def test_the_likely_answers_come_to_an_end(run: Run, planned: Path, word: str) -> None:
    """What is on comes off though what takes it off cannot be done any more: it was asked and answered in circles."""
    ran = run("now", planned, "--at", "08:30", "--done", "treat@08:28", word, "--likely", *QUICK)
    assert ran.code == cli.DONE, ran


def test_what_was_given_up_for_want_of_a_tap_comes_back_with_it(run: Run, planned: Path) -> None:
    words = ("now", planned, *QUICK)
    assert run(*words, "--at", "08:12", "--no-tap", "elm", "--likely").code == cli.DONE
    assert {w.stage for w in kept(planned).works} == {"sweep"}
    assert run(*words, "--at", "08:13", "--not-so", "no-tap=elm", "--likely").code == cli.DONE
    assert {w.stage for w in kept(planned).works} == {"sweep", "treat", "rinse"}
