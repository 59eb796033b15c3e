"""What else can be told of a day under way: half done, not begun, more asked for, something or somebody missing."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QMenu, QPushButton, QVBoxLayout, QWidget

from planner.day.names import Names, called
from planner.desktop.flow import Flow
from planner.desktop.forms.field import Field
from planner.desktop.forms.kinds import Kind
from planner.desktop.look import FINGER
from planner.desktop.model.open_day import OpenDay
from planner.plan.fetching import with_fetch
from planner.plan.pieces import part_done
from planner.plan.progress import More, Noted, Progress, ProgressError
from planner.plan.told_items import told_items
from planner.trade.units import minutes

HOW_MUCH = Kind("", "18 of 24 m2, 40 %, or 20 min", str)
"""What is done of a stage, or how long what is asked for takes."""

HOW_LONG = Kind("", "25 min", str)

SUPPLIES = ("tap", "socket")


class MoreToTell(QWidget):
    """A button or a menu for each; ``meant`` gives the stage that is picked or due, ``minute`` the minute meant.

    ``until`` gives the minute that stands in the field for another time, None where nothing does: until then something
    is missing. `noted` says that something was told, `left_wanted` that what is left is wanted as a day of its own.
    """

    noted = Signal()
    left_wanted = Signal()

    def __init__(
        self,
        open_day: OpenDay,
        meant: Callable[[], tuple[str, str] | None],
        minute: Callable[[], int | None],
        until: Callable[[], int | None],
        now: Callable[[], int],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.open_day, self._meant, self._minute, self._until, self._now = open_day, meant, minute, until, now
        self.amount = Field("How much is done, or how long more takes", HOW_MUCH, self)
        self.amount.line.setMinimumHeight(FINGER)
        self.rest = Field("How long its rest takes, if not in proportion", HOW_LONG, self)
        self.rest.line.setMinimumHeight(FINGER)
        self.half_button, self.not_yet_button = QPushButton("&Half done", self), QPushButton("N&ot begun yet", self)
        self.more_button, self.missing_button = QPushButton("More as&ked for", self), QPushButton("&Missing", self)
        self.late_button, self.rain_ends_button = QPushButton("&Comes later", self), QPushButton("Rain en&ds", self)
        self.left_button = QPushButton("What is &left, as a day", self)
        self.by_button, self.by = QPushButton("Done b&y", self), QMenu(self)
        self.by_button.setMenu(self.by)
        self.not_so_button = QPushButton("Not &so", self)
        self.missing, self.late, self.not_so = QMenu(self), QMenu(self), QMenu(self)
        self.not_so_button.setMenu(self.not_so)
        self.missing_button.setMenu(self.missing)
        self.late_button.setMenu(self.late)
        row, column = Flow(shares=True, most=3), QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.amount)
        column.addWidget(self.rest)
        column.addLayout(row)
        buttons = [self.half_button, self.not_yet_button, self.more_button, self.missing_button]
        buttons += [self.late_button, self.rain_ends_button, self.by_button, self.not_so_button, self.left_button]
        for button in buttons:
            button.setMinimumHeight(FINGER)
            row.addWidget(button)
        self.half_button.clicked.connect(self.on_half)
        self.not_yet_button.clicked.connect(self.on_not_yet)
        self.more_button.clicked.connect(self.on_more)
        self.rain_ends_button.clicked.connect(self.on_rain_ends)
        self.left_button.clicked.connect(self.left_wanted)

    def refresh(self) -> None:
        """What can be told now."""
        shown, progress = self.open_day.shown, self.open_day.state.progress
        can = shown is not None and not self.open_day.is_read_only
        self.show_meant()
        for button in (self.missing_button, self.late_button):
            button.setEnabled(can)
        self.rain_ends_button.setEnabled(can and progress.rain is not None)
        self.left_button.setEnabled(shown is not None and progress.is_under_way)
        for menu in (self.missing, self.late, self.by, self.not_so):
            menu.clear()
        self.not_so_button.setEnabled(False)
        if shown is None:
            return
        for item in told_items(self.open_day.day or shown.day, progress):
            self.not_so.addAction(item.says).triggered.connect(partial(self.on_not_so, item.without))
            self.not_so_button.setEnabled(can)
        day, names = shown.day, Names(shown.day)
        for key, hand in day.hands.items():
            self.late.addAction(called(hand, key)).triggered.connect(partial(self.on_late, key))
            self.by.addAction(called(hand, key)).triggered.connect(partial(self.on_by, (key,)))
        if len(day.hands) == 2:
            self.by.addAction("both").triggered.connect(partial(self.on_by, tuple(day.hands)))
        for key in dict.fromkeys(k for w in shown.plan.works for k, _ in w.stays):
            self._add(f"{names.kit(key)}: broken", partial(self.on_lacking, key))
            for who in (h for h in day.hands if h not in progress.gone):
                said = f" ({names.hand(who)})" if len(day.hands) > 1 else ""
                self._add(f"{names.kit(key)}: drive back for it{said}", partial(self.on_fetch, key, who))
        for key in day.materials:
            self._add(f"{names.material(key)}: used up", partial(self.on_run_out, key))
        for key in day.jobs:
            self._add(f"{names.job(key)}: nobody in", partial(self.on_nobody_in, key))
            for supply in (x for x in SUPPLIES if any(x in kit.supply for kit in day.kit.values())):
                self._add(f"{names.job(key)}: no {supply}", partial(self.on_no_supply, key, supply))

    def show_meant(self) -> None:
        """What can be told of the stage that is meant: of one that is given up, nothing until that is taken back."""
        stage, is_open = self._meant(), self.open_day.shown is not None and not self.open_day.is_read_only
        can = is_open and stage is not None and stage not in self.open_day.state.progress.dropped
        for button in (self.half_button, self.not_yet_button, self.more_button):
            button.setEnabled(can)
        self.by_button.setEnabled(can and self._begun() is not None)

    def _begun(self) -> Noted | None:
        """What is known of the stage that is meant, where it was begun and others could have done it."""
        stage, shown = self._meant(), self.open_day.shown
        if stage is None or shown is None or len(shown.day.hands) < 2:
            return None
        return self.open_day.state.progress.begun(shown.plan, *stage)

    def _add(self, words: str, chosen: Callable[[bool], None]) -> None:
        self.missing.addAction(words).triggered.connect(chosen)

    @Slot()
    def on_half(self) -> None:
        """A part of the stage is done, and it was left."""
        stage, minute, day = self._meant(), self._minute(), self.open_day.shown
        if stage is None or minute is None or day is None:
            return
        part = part_done(day.day.jobs[stage[0]], stage[1], self.amount.line.text())
        if part is None:
            self.amount.say("say how much: 18 of 24 m2, 18 m2 or 40 %")
            return
        try:
            rest = round(minutes(text)) if (text := self.rest.line.text().strip()) else None
        except ValueError:
            self.rest.say("say how long the rest takes: 25 min")
            return
        known = self.open_day.state.progress.of_stage(*stage)
        begun = None if known is None or (known.start or 0) > minute else known.start
        try:
            self.open_day.mark(Noted(*stage, begun, minute, part, rest), self._now())
        except ProgressError as fault:
            self.amount.say(str(fault))
        else:
            self._done()

    @Slot()
    def on_not_yet(self) -> None:
        """The stage has not been begun."""
        stage = self._meant()
        if stage is not None:
            self._tell("Not begun yet", lambda p: p.taken_back(*stage).with_not_yet(*stage))

    @Slot()
    def on_more(self) -> None:
        """The customer asks for more of the stage."""
        stage = self._meant()
        try:
            more = round(minutes(self.amount.line.text()))
        except ValueError:
            self.amount.say("say how long it takes: 20 min")
            return
        if stage is not None:
            self._tell("More is asked for", lambda p: p.with_more(More(*stage, more)))

    @Slot()
    def on_rain_ends(self) -> None:
        """The rain ends."""
        minute, rain = self._minute(), self.open_day.state.progress.rain
        if minute is not None and rain is not None and minute > rain:
            self._tell("The rain ends", lambda p: replace(p, rain_until=minute))

    def on_by(self, hands: tuple[str, ...], _: bool = False) -> None:
        """Others than those of the plan did the stage, or do it."""
        note = self._begun()
        if note is not None:
            self._tell("Done by another", lambda p: p.with_note(replace(note, hands=hands)))

    def on_late(self, hand: str, _: bool = False) -> None:
        """A hand is there only from a minute on."""
        minute = self._minute()
        if minute is not None:
            self._tell("Comes later", lambda p: replace(p, back=p.back | {hand: minute}))

    def on_lacking(self, kit: str, _: bool = False) -> None:
        """Kit is broken, or was forgotten."""
        self._tell("Kit is missing", lambda p: replace(p, lacking=p.lacking | {kit: self._until()}))

    def on_fetch(self, kit: str, hand: str, _: bool = False) -> None:
        """A hand drives back for kit, now or since the minute that stands in the field."""
        shown, minute = self.open_day.shown, self._minute()
        if shown is None or minute is None:
            return
        day, plan = shown.day, shown.plan
        try:
            self._tell("Kit is fetched", lambda p: with_fetch(day, plan, p, kit, hand, minute))
        except ProgressError as fault:
            self.amount.say(str(fault))

    def on_not_so(self, without: Progress, _: bool = False) -> None:
        """Something that was told is taken back."""
        self.open_day.note("Take back what was told", without)
        self._done()

    def on_run_out(self, material: str, _: bool = False) -> None:
        """Material is used up."""
        self._tell("Material is used up", lambda p: replace(p, run_out=p.run_out | {material: self._until()}))

    def on_nobody_in(self, job: str, _: bool = False) -> None:
        """Nobody is in to open the house."""
        self._tell("Nobody is in", lambda p: replace(p, nobody_in=p.nobody_in | {job: self._until()}))

    def on_no_supply(self, job: str, supply: str, _: bool = False) -> None:
        """A supply is not there after all."""
        self._tell(f"No {supply}", lambda p: replace(p, no_supply=(*p.no_supply, (job, supply))))

    def _tell(self, words: str, change: Callable[[Progress], Progress]) -> None:
        """Tell it now, or at the minute up to which the day is told already."""
        progress = self.open_day.state.progress
        self.open_day.note(words, progress.told_at(max(self._now(), progress.at), change))
        self._done()

    def _done(self) -> None:
        for field in (self.amount, self.rest):
            field.line.clear()
            field.say("")
        self.noted.emit()
