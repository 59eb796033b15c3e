"""The small windows in which work is added: a whole new job, one more recipe to a job that is there, or one stage."""

from typing import Any

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QGridLayout, QVBoxLayout, QWidget

from planner.desktop.forms.day_form import trip_changes
from planner.desktop.forms.field import Choice, Field, Tick
from planner.desktop.forms.kinds import LOAD_LIMIT, MINUTES, TEXT
from planner.desktop.forms.naming import called, key_for
from planner.desktop.forms.recipe_form import ground_words, measure_kind, measure_words, new_use, recipes, use_changes
from planner.desktop.look import headline
from planner.desktop.model.draft import Change, Draft
from planner.desktop.pages.panel import scrolled
from planner.desktop.plain import PlainLabel
from planner.trade.visits import usual_coming_and_going


class WorkChoice(QWidget):
    """A recipe, and a field for each measure that it needs."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        options = [(key, str(recipe["title"])) for key, recipe in recipes().items()]
        self.recipe = Choice("What is to be done", options, self)
        self.recipe.box.currentIndexChanged.connect(self.on_recipe)
        self.measures: dict[str, Field] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(self.recipe)
        self._fields: QWidget | None = None
        self.on_recipe()

    @Slot()
    def on_recipe(self) -> None:
        """Another recipe was chosen: it has other measures."""
        if self._fields is not None:
            self._column.removeWidget(self._fields)
            self._fields.hide()
            self._fields.deleteLater()
        self._fields = QWidget(self)
        grid = QGridLayout(self._fields)
        grid.setContentsMargins(0, 0, 0, 0)
        self.measures = {}
        for at, word in enumerate(recipes()[self.recipe.value()].get("needs", [])):
            self.measures[word] = Field(measure_words(word), measure_kind(word), self._fields, optional=False)
            grid.addWidget(self.measures[word], at // 2, at % 2)
        self._column.addWidget(self._fields)


class NewWork(QDialog):
    """Adds a recipe to a job."""

    def __init__(self, draft: Draft, job: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._draft, self._job = draft, job
        self.setWindowTitle("Add work")
        self.resize(460, 300)
        self.work = WorkChoice(self)
        self.ground = Choice("On which ground", ground_words(draft, job), self)
        column = QVBoxLayout(self)
        column.addWidget(self.work)
        column.addWidget(self.ground)
        column.addStretch(1)
        column.addWidget(_buttons(self))
        self.changes: list[Change] = []

    def accept(self) -> None:
        """Take what stands in the fields if all of it is good."""
        values = taken(self.work.measures)
        if values is None:
            return
        use = new_use(self._draft, self._job, self.work.recipe.value(), self.ground.value(), values)
        self.changes = use_changes(self._draft, self._job, use)
        super().accept()


class ExtraWork(QDialog):
    """Adds a stage by hand to a job: what nobody foresaw, and how long it will take."""

    def __init__(self, draft: Draft, job: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._draft, self._job = draft, job
        self.setWindowTitle("Extra work")
        self.resize(420, 260)
        surfaces = draft.at(("jobs", job, "surfaces"), {})
        self.name = Field("What is to be done", TEXT, optional=False)
        self.surface = Choice("On which surface", [(key, called(surfaces, key)) for key in surfaces])
        self.minutes = Field("How long it takes", MINUTES, optional=False)
        column = QVBoxLayout(self)
        for entry in (self.name, self.surface, self.minutes):
            column.addWidget(entry)
        column.addStretch(1)
        column.addWidget(_buttons(self))
        self.changes: list[Change] = []

    def accept(self) -> None:
        """Take what stands in the fields if all of it is good."""
        values = taken({"name": self.name, "minutes": self.minutes})
        if values is None:
            return
        stages = ("jobs", self._job, "stages")
        key = key_for(values["name"], self._draft.at(stages, {}), "extra")
        methods = {"by-hand": {"minutes": values["minutes"]}}
        stage = {"kind": "work", "name": values["name"], "surface": self.surface.value(), "methods": methods}
        self.changes = [Change((*stages, key), stage)]
        super().accept()


class NewJob(QDialog):
    """Makes a job: whose, where, how we get in, and its first work."""

    def __init__(self, draft: Draft, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._draft = draft
        self.setWindowTitle("Add a job")
        self.title = Field("Title", TEXT, optional=False)
        self.customer = Field("Customer", TEXT)
        places = draft.at(("places",), {})
        yard = draft.at(("van", "starts_at"), "")
        options = [("", "a new place")]
        options += [(key, called(places, key)) for key in places if key != yard]
        self.place = Choice("Where", options)
        self.place_name = Field("Name of the place", TEXT)
        self.driving = Field(
            f"Driving from {called(places, yard)}", MINUTES, optional=False
        )
        self.place.box.currentIndexChanged.connect(self.on_place)
        self.ground = Field("Which ground is worked on", TEXT, optional=False)
        self.ground.line.setText("Rear")
        self.walk = Field("Walk from the van, one way", MINUTES, optional=False)
        self.restricted = Tick("Restricted: through a house, a window, a shared hall")
        self.through = Field("Through", TEXT)
        self.load_limit = Field("One hand carries at a time", LOAD_LIMIT)
        self.protection = Choice(
            "Floor protection",
            [
                ("none", "none needed"),
                ("customer", "laid by the customer before"),
                ("ours", "laid and lifted by us"),
            ],
        )
        self.tap, self.socket = Tick("There is a tap"), Tick("There is a socket")
        self.work = WorkChoice(self)
        inside = QWidget(self)
        column = QVBoxLayout(inside)
        for heading, rows in (
            ("Whose and where", [(self.title, self.customer), (self.place, self.place_name), (self.driving,)]),
            (
                "The way in",
                [
                    (self.ground, self.walk),
                    (self.restricted,),
                    (self.through, self.load_limit),
                    (self.protection,),
                    (self.tap, self.socket),
                ],
            ),
            ("The work", [(self.work,)]),
        ):
            label = PlainLabel(heading, self)
            label.setFont(headline(12.5, bold=True))
            column.addWidget(label)
            grid = QGridLayout()
            for at, row in enumerate(rows):
                for across, entry in enumerate(row):
                    grid.addWidget(entry, at, across, 1, 3 - len(row))
            column.addLayout(grid)
        column.addStretch(1)
        outside = QVBoxLayout(self)
        outside.addWidget(scrolled(inside), 1)
        outside.addWidget(_buttons(self))
        self.resize(560, 640)
        self.job = ""
        self.changes: list[Change] = []
        self.on_place()

    @Slot()
    def on_place(self) -> None:
        """Another place was chosen: a new one wants a name and a driving time."""
        is_new = not self.place.value()
        self.place_name.setEnabled(is_new)
        self.driving.setEnabled(is_new)

    def accept(self) -> None:
        """Take what stands in the fields if all of it is good."""
        fields: dict[str, Field] = {
            "title": self.title,
            "customer": self.customer,
            "place": self.place_name,
            "ground": self.ground,
            "walk": self.walk,
            "through": self.through,
            "load_limit": self.load_limit,
        }
        if not self.place.value():
            fields["driving"] = self.driving
        values, measures = taken(fields), taken(self.work.measures)
        if values is None or measures is None:
            return
        self.changes = self._changes(values, measures)
        super().accept()

    def _changes(self, values: dict[str, Any], measures: dict[str, Any]) -> list[Change]:
        draft, changes = self._draft, []
        place = self.place.value()
        if not place:
            name = values.get("place") or values["title"]
            place = key_for(name, draft.at(("places",), {}))
            changes.append(Change(("places", place), {"name": name}))
            changes += trip_changes(draft, draft.at(("van", "starts_at"), ""), place, values["driving"])
        self.job = key_for(values["title"], draft.at(("jobs",), {}), "job")
        ground = key_for(values["ground"], {}, "ground")
        job: dict[str, Any] = {"title": values["title"], "place": place, **usual_coming_and_going()}
        job["grounds"] = {ground: self._ground(values)}
        job["recipes"] = [new_use(draft, self.job, self.work.recipe.value(), ground, measures)]
        if values.get("customer"):
            job["customer"] = {"name": values["customer"]}
        return [*changes, Change(("jobs", self.job), job)]

    def _ground(self, values: dict[str, Any]) -> dict[str, Any]:
        way: dict[str, Any] = {"minutes": values["walk"]}
        if self.restricted.value():
            way["restricted"] = True
        way |= {word: values[word] for word in ("through", "load_limit") if word in values}
        if self.protection.value() != "none":
            way["protection"] = self.protection.value()
        supplies = {word: 1 for word, tick in (("tap", self.tap), ("socket", self.socket)) if tick.value()}
        return {"name": values["ground"], "way_in": way} | ({"supplies": supplies} if supplies else {})


def taken(fields: dict[str, Field]) -> dict[str, Any] | None:
    """The values of fields that are not empty; None when one is wrong, which then says so and gets the focus."""
    values: dict[str, Any] = {}
    wrong: Field | None = None
    for word, field in fields.items():
        try:
            value = field.value()
        except ValueError as fault:
            field.say(str(fault))
            wrong = wrong or field
        else:
            if value is not None:
                values[word] = value
    if wrong is not None:
        wrong.line.setFocus(Qt.FocusReason.OtherFocusReason)
        return None
    return values


def _buttons(dialog: QDialog) -> QDialogButtonBox:
    buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel, dialog)
    ok = buttons.button(QDialogButtonBox.StandardButton.Ok)
    ok.setText(dialog.windowTitle())
    ok.setProperty("role", "first")
    buttons.accepted.connect(dialog.accept)
    buttons.rejected.connect(dialog.reject)
    return buttons
