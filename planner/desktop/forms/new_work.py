"""The small windows in which work is added: a whole new job, one more recipe to a job that is there, or one stage."""

from typing import Any

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from planner.desktop.forms.dialog import FieldsDialog
from planner.desktop.forms.field import Choice, Field
from planner.desktop.forms.kinds import MINUTES, TEXT
from planner.desktop.forms.recipe_form import ground_words, measure_kind, measure_words, new_use, recipes, use_changes
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.naming import called, key_for


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


class NewWork(FieldsDialog):
    """Adds a recipe to a job."""

    def __init__(self, draft: Draft, job: str, parent: QWidget | None = None) -> None:
        super().__init__("Add work", parent=parent)
        self._draft, self._job = draft, job
        self.work = WorkChoice(self)
        self.ground = Choice("On which ground", ground_words(draft, job), self)
        self.column.addWidget(self.work)
        self.column.addWidget(self.ground)
        self.column.addStretch(1)
        self.changes: list[Change] = []

    def accept(self) -> None:
        """Take what stands in the fields if all of it is good."""
        values = taken(self.work.measures)
        if values is None:
            return
        use = new_use(self._draft, self._job, self.work.recipe.value(), self.ground.value(), values)
        self.changes = use_changes(self._draft, self._job, use)
        super().accept()


class ExtraWork(FieldsDialog):
    """Adds a stage by hand to a job: what nobody foresaw, and how long it will take."""

    def __init__(self, draft: Draft, job: str, parent: QWidget | None = None) -> None:
        super().__init__("Extra work", parent=parent)
        self._draft, self._job = draft, job
        surfaces = draft.at(("jobs", job, "surfaces"), {})
        self.name = Field("What is to be done", TEXT, optional=False)
        self.surface = Choice("On which surface", [(key, called(surfaces, key)) for key in surfaces])
        self.minutes = Field("How long it takes", MINUTES, optional=False)
        for entry in (self.name, self.surface, self.minutes):
            self.column.addWidget(entry)
        self.column.addStretch(1)
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
