"""What is told late, by command and by window: the same told makes the same record, whoever takes it down.

The plan (`tests.sheet.plans.tiny_plan`): the van at Elm 08:10, treated 08:16 to 08:28, swept 08:32 to 08:52, rinsed
09:08 to 09:23. It is half past nine; nothing was told before.
"""

import argparse
import datetime as dt
from collections.abc import Callable
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from planner.cli.told import add_words, progress_of
from planner.day import Day
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.running_panel import RunningPanel
from planner.plan.progress import NOTHING_TOLD, NotYet, Progress, ProgressError, check_progress
from planner.plan.told_items import told_items
from tests.cli.commands import SAMPLES
from tests.sheet.plans import tiny_plan

NOW = 9 * 60 + 30

SAND = '\n[materials.sand]\nname = "Sand"\ncontainer = "bag"\nload = 1\n'

Tell = Callable[[RunningPanel], None]


def opened(*, is_today: bool = False) -> OpenDay:
    """The smallest day with its plan, in memory."""
    text = (SAMPLES / "tiny.toml").read_text(encoding="utf-8") + SAND
    assert "date = 2026-06-16" in text
    open_day = OpenDay(text.replace("date = 2026-06-16", f"date = {dt.date.today()}") if is_today else text)
    open_day.keep_plan(tiny_plan())
    return open_day


def pick(page: RunningPanel, stage: str) -> None:
    """Choose the row of a stage."""
    at = next(n for n, told in enumerate(page.rows.told()) if stage in told.what)
    page.rows.setCurrentIndex(page.rows.model().index(at, 0))


def at(page: RunningPanel, clock: str) -> None:
    """Write another time than now."""
    page.at.line.setText(clock)


def started(page: RunningPanel) -> None:
    pick(page, "Sweep")
    at(page, "08:40")
    page.start_button.click()


def done(page: RunningPanel) -> None:
    pick(page, "Treat")
    at(page, "08:33")
    page.done_button.click()


def begun_and_done(page: RunningPanel) -> None:
    pick(page, "Treat")
    at(page, "08:19")
    page.start_button.click()
    done(page)


def last_first(page: RunningPanel) -> None:
    pick(page, "Sweep")
    at(page, "08:58")
    page.done_button.click()
    done(page)


def not_today(page: RunningPanel) -> None:
    pick(page, "Sweep")
    page.drop_button.click()


def not_begun(page: RunningPanel) -> None:
    pick(page, "Sweep")
    page.more.not_yet_button.click()


def half_done(page: RunningPanel) -> None:
    pick(page, "Sweep")
    at(page, "08:50")
    page.more.amount.line.setText("30 of 40 m2")
    page.more.half_button.click()


def more_asked_for(page: RunningPanel) -> None:
    pick(page, "Sweep")
    page.more.amount.line.setText("20 min")
    page.more.more_button.click()


def van_there(page: RunningPanel) -> None:
    at(page, "08:25")
    page.events.arrived_button.click()


def gone_home(page: RunningPanel) -> None:
    at(page, "09:10")
    page.events.hands.actions()[0].trigger()


def came_late(page: RunningPanel) -> None:
    at(page, "08:45")
    page.more.late.actions()[0].trigger()


def rain(page: RunningPanel) -> None:
    at(page, "08:50")
    page.events.rain_button.click()


def rain_that_ended(page: RunningPanel) -> None:
    rain(page)
    at(page, "09:20")
    page.more.rain_ends_button.click()


def missing(words: str, clock: str = "") -> Tell:
    """Something that is missing, as it is chosen from the menu."""

    def tell(page: RunningPanel) -> None:
        at(page, clock)
        next(action for action in page.more.missing.actions() if action.text() == words).trigger()

    return tell


KINDS: dict[str, tuple[Tell, tuple[str, ...]]] = {
    "started": (started, ("--begun", "sweep@08:40")),
    "done, the dwell ran over": (done, ("--done", "treat@08:33")),
    "begun and done": (begun_and_done, ("--begun", "treat@08:19", "--done", "treat@08:33")),
    "the last told first": (last_first, ("--done", "sweep@08:58", "treat@08:33")),
    "not today": (not_today, ("--dropped", "sweep")),
    "not begun": (not_begun, ("--not-yet", "sweep")),
    "half done": (half_done, ("--half", "sweep=30 of 40 m2@08:50")),
    "more": (more_asked_for, ("--more", "sweep=20 min")),
    "van there": (van_there, ("--arrived", "elm@08:25")),
    "gone home": (gone_home, ("--gone", "ash@09:10")),
    "came late": (came_late, ("--late", "ash@08:45")),
    "rain": (rain, ("--rain", "08:50")),
    "rain that ended": (rain_that_ended, ("--rain", "08:50-09:20")),
    "kit broken": (missing("Broom: broken"), ("--without", "broom")),
    "kit there again": (missing("Broom: broken", "09:25"), ("--without", "broom@09:25")),
    "kit fetched": (missing("Broom: drive back for it", "09:05"), ("--fetch", "broom@ash@09:05")),
    "filler out": (missing("Sand (bag): used up"), ("--out-of", "sand")),
    "filler there again": (missing("Sand (bag): used up", "09:20"), ("--out-of", "sand@09:20")),
    "not in": (missing("Elm Cottage: nobody in"), ("--nobody-in", "elm")),
    "not in until": (missing("Elm Cottage: nobody in", "09:15"), ("--nobody-in", "elm@09:15")),
    "no tap": (missing("Elm Cottage: no tap"), ("--no-tap", "elm")),
}


def test_what_is_still_to_come_is_asked_and_not_taken(qtbot: QtBot) -> None:
    """Told at half past nine of twenty to ten; on another day than today nobody knows what time it is there."""
    asked = "'Sweep the path' cannot have begun or ended at 09:40: it is 09:30 now; if it just has, say 09:30"
    for is_today in (True, False):
        open_day = opened(is_today=is_today)
        page = RunningPanel(open_day, now=lambda: NOW)
        qtbot.addWidget(page)
        for button in (page.start_button, page.done_button):
            page.refresh()
            pick(page, "Sweep")
            at(page, "09:40")
            button.click()
            assert (open_day.state.progress == NOTHING_TOLD, page.at.message == asked) == (is_today, is_today)
        page.more.amount.line.setText("30 of 40 m2")
        at(page, "09:41")
        page.more.half_button.click()
        assert (open_day.state.progress == NOTHING_TOLD) == is_today
        page.done_button.click()
        assert open_day.state.progress.of_stage("elm", "sweep") is not None
    with pytest.raises(ProgressError, match=r"'elm.sweep' cannot have begun or ended at 09:40: it is 09:30 now"):
        check_progress(the_day(), tiny_plan(), by_command("--begun", "sweep@09:40"))


def the_day() -> Day:
    """The day that is told of."""
    day = opened().day
    assert day is not None
    return day


def by_command(*words: str, known: Progress | None = None) -> Progress:
    """The record that a command makes of its words, after what was known and the plan was made of."""
    parser = argparse.ArgumentParser()
    add_words(parser)
    plan = replace(tiny_plan(), since=None if known is None else known.at)
    return progress_of(the_day(), plan, known, parser.parse_args(["--at", "09:30", *words]))


def by_window(qtbot: QtBot, *tells: Tell) -> Progress:
    """The record that the window makes of what is pressed."""
    open_day = opened()
    page = RunningPanel(open_day, now=lambda: NOW)
    qtbot.addWidget(page)
    page.refresh()
    for tell in tells:
        tell(page)
        page.refresh()
    return open_day.state.progress


def what_was_told(progress: Progress) -> Progress:
    """The record but for the minute at which it was told, in one order."""
    noted = tuple(sorted(progress.noted, key=lambda n: (n.job, n.stage)))
    return replace(progress.as_told(), at=0, said=0, settled=0, noted=noted)


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_told_late_is_one_record_by_command_and_by_window(qtbot: QtBot, kind: str) -> None:
    tell, words = KINDS[kind]
    told = what_was_told(by_window(qtbot, tell))
    assert told == what_was_told(by_command(*words))
    assert told != NOTHING_TOLD


def test_the_order_of_telling_changes_nothing(qtbot: QtBot) -> None:
    """Half a dozen things of one morning, told one way and the other, by window and by command."""
    told = ["rain", "half done", "kit broken", "no tap", "van there", "done, the dwell ran over"]
    one = what_was_told(by_window(qtbot, *(KINDS[kind][0] for kind in told)))
    other = what_was_told(by_window(qtbot, *(KINDS[kind][0] for kind in reversed(told))))
    words = [word for kind in told for word in KINDS[kind][1]]
    assert one == other == what_was_told(by_command(*words))


@pytest.mark.parametrize("kind", KINDS)
def test_whatever_was_told_by_command_is_taken_back_by_one(kind: str) -> None:
    """A stage whose time is over, and of which nothing is told any more, has then not been begun."""
    told = by_command(*KINDS[kind][1])
    items = [f"--not-so={item.word}" for item in told_items(the_day(), told)]
    stages = {f"{n.job}.{n.stage}" for n in (*told.noted, *told.not_yet)} | {".".join(x) for x in told.dropped}
    back = [f"--back={stage}" for stage in sorted(stages)]
    assert items or back
    left = what_was_told(by_command(*items, *back, known=told))
    assert {f"{x.job}.{x.stage}" for x in left.not_yet} == stages
    assert replace(left, not_yet=()) == NOTHING_TOLD


def planned_of_a_slip(qtbot: QtBot, button: str, *, is_today: bool) -> tuple[OpenDay, RunningPanel]:
    """The sweep is marked by mistake now, and the rest is planned of that."""
    open_day = opened(is_today=is_today)
    page = RunningPanel(open_day, now=lambda: NOW)
    qtbot.addWidget(page)
    page.refresh()
    pick(page, "Sweep")
    getattr(page, button).click()
    open_day.keep_plan(replace(tiny_plan(), since=NOW))
    page.refresh()
    pick(page, "Sweep")
    return open_day, page


@pytest.mark.parametrize(("button", "option"), [("start_button", "--begun"), ("done_button", "--done")])
def test_a_stage_taken_back_is_one_record_by_command_and_by_window(qtbot: QtBot, button: str, option: str) -> None:
    """The plan that was made of the slip has the sweep as begun at 08:32: it is not begun, nor forgotten."""
    open_day, page = planned_of_a_slip(qtbot, button, is_today=True)
    page.back_button.click()
    told = by_command("--back", "sweep", known=by_command(option, "sweep@09:30"))
    assert what_was_told(open_day.state.progress) == what_was_told(told)
    assert told.not_yet == (NotYet("elm", "sweep", NOW),)


def test_a_slip_on_another_day_than_today_does_not_make_it_late(qtbot: QtBot) -> None:
    """Nobody knows how late it is there: with nothing else told, the day has not begun."""
    open_day, page = planned_of_a_slip(qtbot, "done_button", is_today=False)
    page.back_button.click()
    assert open_day.state.progress == NOTHING_TOLD


def test_filler_van_and_tap_are_taken_back_by_their_words() -> None:
    told = by_command("--out-of", "sand", "--arrived", "elm@08:25", "--no-tap", "elm")
    words = {item.word for item in told_items(the_day(), told)}
    assert words == {"out-of=sand", "arrived=elm", "no-tap=elm"}
