"""The short way to a house: one page from whose it is to the work that is done there, planned while it is filled in."""

from typing import Any

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QCompleter, QPushButton, QVBoxLayout, QWidget

from planner.day.faults import Where
from planner.day.safekeeping import FileFault
from planner.desktop.flow import Flow
from planner.desktop.forms.customers_dialog import CustomersDialog
from planner.desktop.forms.day_form import drive_faults, trip_between, trip_changes
from planner.desktop.forms.field import Choice, Field
from planner.desktop.forms.fold import Fold
from planner.desktop.forms.form import Bound, Form, span_bounds
from planner.desktop.forms.kinds import CLOCK, MINUTES, PRICE, RUN, SPANS, TEXT, counted
from planner.desktop.forms.out_of_reach import OutOfReach
from planner.desktop.forms.parts import Parts
from planner.desktop.forms.way_in_form import way_rows
from planner.desktop.forms.work_row import WorkRow
from planner.desktop.look import headline
from planner.desktop.model.dates import today
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.house import HOUSE, OPEN, REAR, SIDE, House, new_house, sites_driven_to, work_ticks
from planner.desktop.model.naming import called
from planner.desktop.model.open_day import OpenDay
from planner.desktop.plain import PlainLabel
from planner.desktop.thinking.missed import Missed
from planner.record.kept_sites import Site, customers_path, into_day, keep_site, site_in
from planner.trade.lifting import USUAL_LOAD_LIMIT

TAPS: list[tuple[Any, str]] = [
    ("rear", "at the rear"),
    ("front", "at the front"),
    ("rear front", "one on each side"),
    ("", "none: we bring water"),
]
"""The sides that have a tap, and what is said of it."""


class HousePage(QWidget):
    """Which house, and its form; `copy_wanted` tells which job is to be copied to another date."""

    copy_wanted = Signal(str)

    def __init__(
        self, open_day: OpenDay, parent: QWidget | None = None, *, missed: Missed | None = None
    ) -> None:
        super().__init__(parent)
        self.open_day = open_day
        self.missed = missed or Missed(open_day, self)
        self.form: HouseForm | None = None
        self._heading = PlainLabel("A house", self)
        self._heading.setFont(headline(15, bold=True))
        self.which = Choice("Which house", [], self)
        self.kept_button = QPushButton("A kept customer …", self)
        self.keep_button = QPushButton("Keep this customer", self)
        self.copy_button = QPushButton("To another date …", self)
        self.more_button = QPushButton("One more house", self)
        self._told = PlainLabel("", self)
        self._told.setWordWrap(True)
        self._told.hide()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        for widget in (self._heading, self.which):
            self._column.addWidget(widget)
        self._column.addWidget(self.kept_button, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addStretch(1)
        row = Flow()
        for button in (self.more_button, self.keep_button, self.copy_button):
            row.addWidget(button)
        self._column.addLayout(row)
        self._column.addWidget(self._told)
        self.which.value_entered.connect(self.show_house)
        self.more_button.clicked.connect(self.begin)
        self.kept_button.clicked.connect(self.on_kept_wanted)
        self.keep_button.clicked.connect(self.on_keep)
        self.copy_button.clicked.connect(self.on_copy)
        open_day.settled.connect(self.on_settled)
        jobs = list(open_day.draft.at(("jobs",), {}))
        self.show_house(jobs[0] if jobs else new_house(open_day.draft))

    @Slot()
    def begin(self) -> None:
        """One more house is wanted."""
        self.show_house(new_house(self.open_day.draft))
        self.take_focus()

    def take_focus(self) -> None:
        """Put the keys into the first field."""
        if self.form is not None:
            self.form.name.line.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @Slot(object)
    def show_house(self, job: str) -> None:
        """Show the form of a house, which need not be there yet."""
        if self.form is not None:
            if self.form.job == job:
                return
            self._column.removeWidget(self.form)
            self.form.hide()
            self.form.deleteLater()
        self.form = HouseForm(self.open_day, job, self.missed, self)
        self._column.insertWidget(3, self.form)
        self.on_settled()

    @Slot()
    def on_settled(self) -> None:
        """The day changed: there may be other houses."""
        jobs, job = self.open_day.draft.at(("jobs",), {}), self.form.job if self.form is not None else ""
        offered = [(key, called(jobs, key, "title")) for key in jobs]
        self.which.offer(offered + ([] if job in jobs else [(job, "A new one")]))
        self.which.show_value(job)
        self.which.setVisible(len(jobs) > (1 if job in jobs else 0))
        for button in (self.more_button, self.keep_button, self.copy_button):
            button.setVisible(job in jobs)
        for button in (self.more_button, self.kept_button):
            button.setEnabled(not self.open_day.is_read_only)

    @property
    def told(self) -> str:
        """What was said last of keeping a customer."""
        return self._told.text()

    @Slot()
    def on_kept_wanted(self) -> None:
        """A customer that is kept is wanted: which one."""
        dialog = CustomersDialog(self)
        if dialog.exec() and dialog.site is not None:
            self.take_site(dialog.site)

    def take_site(self, site: Site) -> None:
        """Put a site into the day as one more job, and show it."""
        before = set(self.open_day.draft.at(("jobs",), {}))
        self.open_day.change("Take a kept customer", into_day(site, self.open_day.draft.tables))
        for job in self.open_day.draft.at(("jobs",), {}):
            if job not in before:
                self.show_house(job)

    @Slot()
    def on_keep(self) -> None:
        """The customer that is shown is to be kept, for other days."""
        if self.form is None:
            return
        site = site_in(self.open_day.draft.tables, self.form.job, today())
        try:
            keep_site(customers_path(), site)
            words = f"Kept: {site.title}. Its way in, taps, quiet hours and measures come with it."
        except FileFault as fault:
            words = str(fault)
        self._told.setText(words)
        self._told.show()

    @Slot()
    def on_copy(self) -> None:
        """The job that is shown is to be copied to another date."""
        if self.form is not None:
            self.copy_wanted.emit(self.form.job)


class HouseForm(Form):
    """All that is asked of one house. The first answer puts it into the day, with what is usual."""

    def __init__(self, open_day: OpenDay, job: str, missed: Missed, parent: QWidget | None = None) -> None:
        super().__init__(open_day, parent)
        self.job, self.missed = job, missed
        self._offered: list[str] = []
        self._add_whose()
        self._add_way()
        self._add_supplies()
        self._add_work()
        self.on_settled()

    def _add_whose(self) -> None:
        place: Where = ("jobs", self.job)
        self.name = Field("Name of the customer", TEXT)
        self.add_row(
            self._bound(self.name, (*place, "customer", "name"), lambda h: h.name or None, House.with_name),
            self._plain("Phone", ("customer", "phone")),
        )
        self._street = Field("Street and number", TEXT)
        street = self._bound(
            self._street,
            ("places", House(self.open_day.draft, self.job).site, "name"),
            lambda h: h.street or None,
            House.with_street,
        )
        self.add_row(street)
        self.add_widget(DriveParts(self.open_day, self, job=self.job))
        at_home = Choice("Somebody at home", [(None, "not known"), (True, "yes"), (False, "no")])
        self.add_row(
            self._bound(
                at_home,
                (*place, "customer", "at_home"),
                lambda h: h.at("customer", "at_home"),
                lambda h, value: h.with_value(("customer", "at_home"), value),
            ),
            self._plain("Note for the crew", ("note",)),
        )

        self._times = Fold(self.open_day, self._times_standing, self._build_times, self)
        self.add_widget(self._times)

    @Slot()
    def on_settled(self) -> None:
        """The day changed: what is seldom said can be said once the house is there."""
        super().on_settled()
        if hasattr(self, "_way"):
            is_there = House(self.open_day.draft, self.job).is_there
            for fold in (self._times, self._way):
                fold.setVisible(is_there)
            self._offer_places()

    def _offer_places(self) -> None:
        """Streets that the day has already are offered as one types."""
        house = House(self.open_day.draft, self.job)
        names = [name for _, name in sites_driven_to(self.open_day.draft, self.job) if name != house.street]
        if names != self._offered:
            self._offered = names
            completer = QCompleter(names, self._street.line)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            self._street.line.setCompleter(completer)

    def _times_standing(self) -> str:
        house = House(self.open_day.draft, self.job)
        arrive, done_by, price = (house.at(word) for word in ("arrive", "done_by", "price"))
        quiet = SPANS.show(house.at("quiet") or [])
        said = [
            f"arrive {arrive[0]} to {arrive[1]}" if arrive else "arrive at any time",
            f"done by {done_by}" if done_by else "",
            f"quiet {quiet}" if quiet else "no quiet hours",
            f"price {price:g}" if isinstance(price, int | float) else "",
        ]
        return ", ".join(word for word in said if word)

    def _build_times(self, form: Form) -> None:
        place, draft = ("jobs", self.job), self.open_day.draft
        ends = (draft.at(("start",), "07:30"), draft.at(("finish",), "17:30"))
        first, second = Field("Arrive from", CLOCK), Field("Arrive until", CLOCK)
        form.add_row(*span_bounds(first, second, (*place, "arrive"), ends))
        form.add_row(Bound(Field("Promised done by", CLOCK), (*place, "done_by")))
        form.add_row(
            Bound(Field("Quiet hours there", SPANS), (*place, "quiet")),
            Bound(Field("Price agreed", PRICE), (*place, "price")),
        )

    def _add_way(self) -> None:
        self.add_heading("How one gets to the rear")
        ground = House(self.open_day.draft, self.job).ground(REAR)
        here: Where = ("grounds", ground, "way_in")
        ways: list[tuple[Any, str]] = [
            (OPEN, "open: past the house"),
            (HOUSE, "through the house"),
            (SIDE, "by a side passage"),
        ]
        self.add_row(
            self._bound(Choice("Way in", ways), ("jobs", self.job, *here, "through"), lambda h: h.way, House.with_way),
            self._bound(
                Field("From the van, one way", MINUTES),
                ("jobs", self.job, *here, "minutes"),
                lambda h: h.at(*here, "minutes") or (None if h.is_there else "1 min"),
                lambda h, value: h.with_value((*here, "minutes"), value),
            ),
        )
        self.explain("restricted")
        self._way = Fold(self.open_day, self._way_standing, self._build_way, self)
        self.add_widget(self._way)

    def _way_standing(self) -> str:
        house = House(self.open_day.draft, self.job)
        way = house.at("grounds", house.ground(REAR), "way_in") or {}
        protection = {"none": "no floor protection", "customer": "floor covered by them", "ours": "we cover the floor"}
        said = protection.get(str(way.get("protection", "none")), "")
        carries = way.get("load_limit", USUAL_LOAD_LIMIT)
        return f"{carries:g} armfuls to a hand, {said}"

    def _build_way(self, form: Form) -> None:
        house = House(self.open_day.draft, self.job)
        form.explain("armful")
        way = ("jobs", self.job, "grounds", house.ground(REAR), "way_in")
        way_rows(form, way)

    def _add_supplies(self) -> None:
        self.add_heading("Water and current")
        ground = House(self.open_day.draft, self.job).ground(REAR)
        here: Where = ("grounds", ground, "supplies", "socket")
        self.add_row(
            self._bound(
                Choice("A tap", TAPS),
                ("jobs", self.job, "grounds", ground, "supplies", "tap"),
                lambda h: " ".join(h.taps),
                lambda h, sides: h.with_taps(tuple(sides.split())),
            ),
            self._bound(
                Field("How many sockets", counted("2", 0, 20)),
                ("jobs", self.job, *here),
                lambda h: h.at(*here) if h.is_there else 2,
                lambda h, value: h.with_value(here, value),
            ),
        )
        run = Field("How far they are from the work", RUN)
        run.line.setPlaceholderText("25 or less")
        self.add_row(
            self._bound(
                run,
                ("jobs", self.job, "grounds", ground, "hose_run"),
                lambda h: h.at("grounds", ground, "hose_run"),
                House.with_hose_run,
            )
        )
        self.add_widget(OutOfReach(self.missed, lambda one: one.job == self.job, self))

    def _add_work(self) -> None:
        self.add_heading("The work")
        self.add_note("Tick what is to be done, and give its measure.")
        ticks = work_ticks()
        self._add_rows(self, [tick for tick in ticks if tick.is_often])
        rest = [tick for tick in ticks if not tick.is_often]
        fold = Fold(self.open_day, lambda: "kinds of work", lambda form: self._add_rows(form, rest), self)
        self.add_widget(fold)
        house = House(self.open_day.draft, self.job)
        if any(house.use_of(tick) is not None for tick in rest):
            fold.line.setChecked(True)
        self.add_widget(OutOfReach(self.missed, lambda one: not one.job, self))

    def _add_rows(self, form: Form, ticks: list[Any]) -> None:
        group = ""
        around = QWidget(form)
        column = QVBoxLayout(around)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for tick in ticks:
            if tick.group != group:
                group = tick.group
                label = PlainLabel(group, around)
                label.setProperty("role", "faint")
                label.setContentsMargins(0, 4, 0, 0)
                column.addWidget(label)
            column.addWidget(WorkRow(self.open_day, self.job, tick, around))
        form.add_widget(around)

    def _plain(self, label: str, where: Where) -> Bound:
        """A field for a text that the job holds as it is."""
        return self._bound(
            Field(label, TEXT),
            ("jobs", self.job, *where),
            lambda house: house.at(*where),
            lambda house, value: house.with_value(where, value),
        )

    def _bound(self, entry: Any, place: Where, read: Any, write: Any) -> Bound:
        """An entry that reads and writes by way of the house."""

        def read_draft(draft: Draft) -> Any:
            return read(House(draft, self.job))

        def write_draft(draft: Draft, value: Any) -> list[Change]:
            changes: list[Change] = write(House(draft, self.job), value)
            return changes

        return Bound(entry, place, read=read_draft, write=write_draft)


class DriveParts(Parts):
    """How long the drive is, from wherever the van may come from: asked, never reckoned from a map."""

    def keys(self) -> list[tuple[Any, ...]]:
        """One for each place that the van may come from."""
        return [(key, name) for key, name in sites_driven_to(self.open_day.draft, self.job)]

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """All stay."""
        return None

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """The minutes, which must be known."""
        other, name = key
        site = House(self.open_day.draft, self.job).site

        def read(draft: Draft) -> Any:
            at = trip_between(draft, other, site)
            return None if at is None else draft.at(("travel", "trips", at, "minutes"))

        def write(draft: Draft, value: Any) -> list[Change]:
            return [*House(draft, self.job).begun(), *trip_changes(draft, other, site, value)]

        field = Field(f"Drive from {name}", MINUTES)
        reckoned = _reckoned(self.open_day.draft, other, site)
        if reckoned is not None:
            field.line.setPlaceholderText(f"{reckoned}, as the crow flies, if not given")
        place = ("travel", "trips", other, site)
        form.add_row(Bound(field, place, read=read, write=write, faults=lambda draft: drive_faults(draft, other, site)))


def _reckoned(draft: Draft, one: str, other: str) -> int | None:
    """The drive as the day reckons it where nobody has given it; None where it cannot."""
    day = draft.day
    if day is None or trip_between(draft, one, other) is not None or other not in day.places:
        return None
    return day.drive_minutes(one, other)
