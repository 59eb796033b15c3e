"""What we own is kept once: changed in the window, in the user's own file, taken by each new day; a day may differ."""

import tomllib

import pytest
from pytestqt.qtbot import QtBot

from planner.day.own_values import what_does_not_hold
from planner.day.safekeeping import save_text
from planner.desktop.forms.field import Field
from planner.desktop.forms.own_form import OwnForm, OwnRates
from planner.desktop.model.house import House, work_ticks
from planner.desktop.model.what_we_own import WhatWeOwn, what_we_own
from planner.desktop.pages.own_panel import OwnPanel
from planner.desktop.starting import new_day
from planner.trade.library import library
from planner.trade.trade_tables import user_file


def written() -> dict[str, object]:
    return tomllib.loads(user_file().read_text("utf-8"))


def field(form: OwnForm, label: str) -> Field:
    return next(one for one in form.findChildren(Field) if one.label == label)


def test_hands_yard_and_hours_are_kept_and_a_new_day_begins_with_them(qtbot: QtBot) -> None:
    panel = OwnPanel(new_day().open_day)
    qtbot.addWidget(panel)
    panel.show()
    for label, typed in (("Cost", "24"), ("Name of our yard", "Mill Lane"), ("Van leaves from", "7")):
        line = field(panel.form, label).line
        line.setFocus()
        line.selectAll()
        qtbot.keyClicks(line, f"{typed}\r")
    assert panel.told == ""
    assert written() == {
        "hands": {"hand-1": {"name": "Hand 1", "cost_per_hour": 24}},
        "yard": {"name": "Mill Lane"},
        "usual": {"start": "07:00"},
    }
    assert what_does_not_hold() == ()
    fresh = new_day().open_day.draft
    assert fresh.at(("hands",)) == {"hand-1": {"name": "Hand 1", "cost_per_hour": 24}}
    assert (fresh.at(("places", "yard", "name")), fresh.at(("start",)), fresh.at(("finish",))) == (
        "Mill Lane",
        "07:00",
        "17:30",
    )


def test_kit_that_we_do_not_own_is_not_planned_with_until_a_day_hires_it() -> None:
    what_we_own().set("none", ("kit", "grinder", "own"), 0)
    assert library().kit["grinder"]["own"] == 0
    open_day = new_day().open_day
    tick = next(tick for tick in work_ticks() if tick.recipe == "clean-and-repoint-patio")
    open_day.change("work", House(open_day.draft, "elm").with_work(tick, "6 m2"))
    assert list(open_day.draft.at(("jobs", "elm", "stages", "grind", "methods"))) == ["rake"]
    open_day.set("hired", ("kit", "grinder"), {"own": 1})
    assert "grinder" in open_day.draft.at(("jobs", "elm", "stages", "grind", "methods"))


def test_a_rate_of_ours_stands_in_place_of_the_shipped_one_at_once_and_can_be_taken_back(qtbot: QtBot) -> None:
    own = what_we_own()
    rates = OwnRates(own)
    qtbot.addWidget(rates)
    rates.pick(("grind", "rake"))
    one = next(one for one in rates.findChildren(Field) if one.label == "Rate" and one.isVisibleTo(rates))
    one.line.setText("28")
    one.on_left()
    assert library().methods["grind"]["rake"]["rate"] == {"amount": 28, "unit": "m"}
    own.undo_stack.undo()
    assert library().methods["grind"]["rake"]["rate"]["amount"] == 32  # as shipped


def test_what_would_not_hold_is_refused_and_the_file_stays(qtbot: QtBot) -> None:
    own = what_we_own()
    own.set("yard", ("yard", "name"), "Mill Lane")
    before = user_file().read_bytes()
    said: list[str] = []
    own.refused.connect(said.append)
    own.set("hours", ("hands", "hand-1", "hours"), ["17:00", "07:00"])
    assert len(said) == 1
    assert said[0].startswith("Hand 1, hours: is 17:00, 07:00")
    assert "07:30, 17:00" in said[0], "what would be right"
    assert not set("[]{}=") & set(said[0]), "nothing of how a file is written"
    assert user_file().read_bytes() == before


def test_what_another_program_wrote_meanwhile_is_not_written_over() -> None:
    own = what_we_own()
    own.set("yard", ("yard", "name"), "Mill Lane")
    theirs = '# by hand\n[yard]\nname = "Quay"\n'
    user_file().write_text(theirs, "utf-8")
    said: list[str] = []
    own.refused.connect(said.append)
    own.set("yard", ("yard", "name"), "Bridge Road")
    assert said
    assert user_file().read_text("utf-8") == theirs
    assert own.draft.at(("yard", "name")) == "Quay"
    own.set("yard", ("yard", "name"), "Bridge Road")
    assert user_file().read_text("utf-8") == theirs.replace("Quay", "Bridge Road"), "remarks stay"


@pytest.mark.parametrize("is_there", [True, False], ids=["its file is there", "its folder is not there yet"])
def test_what_another_window_keeps_is_heard_and_planned_with_at_once(qtbot: QtBot, is_there: bool) -> None:
    """Two windows share one file; the other one saves as every safe saving does, by putting a new file in its place."""
    if is_there:
        what_we_own().set("yard", ("yard", "name"), "Mill Lane")
    own = what_we_own()
    heard: list[bool] = []
    own.kept.connect(lambda: heard.append(True))
    user_file().parent.mkdir(parents=True, exist_ok=True)
    for name in ("Quay", "Bridge Road"):
        save_text(user_file(), f'[yard]\nname = "{name}"\n\n[kit.grinder]\nown = 0\n')
        qtbot.waitUntil(lambda name=name: own.draft.at(("yard", "name")) == name, timeout=120_000)
    assert len(heard) == 2
    assert library().kit["grinder"]["own"] == 0
    own.set("yard", ("yard", "name"), "Quay")
    assert written()["yard"] == {"name": "Quay"}, "and it goes on from there"


def test_from_a_day_and_into_a_day(qtbot: QtBot) -> None:
    open_day = new_day().open_day
    panel = OwnPanel(open_day)
    qtbot.addWidget(panel)
    open_day.set("hand", ("hands", "robin"), {"name": "Robin", "lifts": "16 kg"})
    open_day.set("price", ("crossing_price",), "10 min")
    panel.take_button.click()
    fresh = new_day().open_day
    assert fresh.draft.at(("hands", "robin", "lifts")) == "16 kg"
    assert fresh.draft.at(("crossing_price",)) == "10 min"
    fresh.set("hand", ("hands", "robin"), None)
    assert "robin" in what_we_own().draft.at(("hands",)), "a day may differ"
    other = OwnPanel(fresh)
    qtbot.addWidget(other)
    other.give_button.click()
    assert "robin" in fresh.draft.at(("hands",))
    assert fresh.undo_stack.canUndo()


SLIPS = ["hands = 3\n", "[hands.a]\nname = 4\n", "[usual]\nstart = 'noon'\n", "[yard]\nflag = 1\n"]


@pytest.mark.parametrize("text", SLIPS)
def test_a_slip_in_the_file_is_told_and_the_usual_is_taken(text: str) -> None:
    user_file().parent.mkdir(parents=True, exist_ok=True)
    user_file().write_text(text, "utf-8")
    assert what_does_not_hold()
    assert new_day().open_day.draft.at(("hands", "hand-1", "name")) == "Hand 1"


def test_a_file_that_is_no_toml_can_be_read_by_nobody_and_is_left_alone(qtbot: QtBot) -> None:
    user_file().parent.mkdir(parents=True, exist_ok=True)
    user_file().write_text("[hands\n", "utf-8")
    own = WhatWeOwn(user_file())
    panel = OwnPanel(new_day().open_day, own)
    qtbot.addWidget(panel)
    assert "trade.toml" in panel.told
    assert not panel.take_button.isEnabled()
    own.set("yard", ("yard", "name"), "Mill Lane")
    assert user_file().read_text("utf-8") == "[hands\n"
