"""The form of the jobs: whose they are, when we may come, how we get in, and what is done."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.desktop.forms.field import Choice, Field
from planner.desktop.forms.form import Bound, Form, span_bounds
from planner.desktop.forms.kinds import CLOCK, MINUTES, PRICE, SPANS, TEXT, WORDS, counted
from planner.desktop.forms.new_work import NewWork
from planner.desktop.forms.picking import Picking
from planner.desktop.forms.recipe_form import RecipeParts
from planner.desktop.forms.stages_form import StagePicking, WaitParts
from planner.desktop.forms.way_in_form import GroundParts, SurfaceParts
from planner.desktop.model.naming import called
from planner.desktop.model.open_day import OpenDay


class JobsForm(Form):
    """The list of jobs and the form of the one picked."""

    def __init__(self, open_day: OpenDay, add_job: Callable[[], None], parent: QWidget | None = None) -> None:
        super().__init__(open_day, parent)
        self.add_heading("Jobs")
        self.jobs = JobPicking(open_day, self)
        self.jobs.new_job_wanted.connect(add_job)
        self.add_widget(self.jobs)
        self.add_end()


class JobPicking(Picking):
    """Every job. A new one is made from a recipe, so adding only asks for that."""

    new_job_wanted = Signal()

    table, list_words, add_words, name = "jobs", "Jobs", "Add a job …", "title"

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """All of a job."""
        draft, place = self.open_day.draft, ("jobs", key[0])
        places = draft.at(("places",), {})
        ends = (draft.at(("start",), "07:30"), draft.at(("finish",), "17:30"))
        form.add_row(Bound(Field("Title", TEXT), (*place, "title")))
        form.add_row(
            Bound(Field("Customer", TEXT), (*place, "customer", "name")),
            Bound(Choice("Place", [(p, called(places, p)) for p in places]), (*place, "place")),
        )
        first, second = Field("Arrive from", CLOCK), Field("Arrive until", CLOCK)
        form.add_row(
            *span_bounds(first, second, (*place, "arrive"), ends),
            Bound(Field("Promised done by", CLOCK), (*place, "done_by")),
        )
        form.add_row(
            Bound(Field("Arriving: walk round, tests", MINUTES), (*place, "arriving"), "0 min"),
            Bound(Field("Leaving: clean down, handover", MINUTES), (*place, "leaving"), "0 min"),
        )
        form.add_row(
            Bound(Field("Visits at most", counted("1", 1, 3)), (*place, "visits"), 1),
            Bound(Field("Rank, 1 stays longest", counted("5", 1, 9)), (*place, "priority"), 5),
        )
        form.add_row(
            Bound(Field("Quiet hours there", SPANS), (*place, "quiet")),
            Bound(Field("Price agreed", PRICE), (*place, "price")),
        )
        form.add_row(
            Bound(Field("Asked of the customer beforehand", WORDS), (*place, "customer", "before"), [])
        )
        if draft.uses_in(key[0]):
            form.add_heading("Work from recipes")
            form.explain("recipe")
            form.add_widget(RecipeParts(self.open_day, form, job=key[0]))
        more = QPushButton("Add work from a recipe …", form)
        more.setEnabled(not self.open_day.is_read_only)
        more.clicked.connect(lambda: self._add_work(key[0]))
        form.add_widget(more)
        form.add_heading("Ways in")
        form.explain("ground", "way in")
        form.add_widget(GroundParts(self.open_day, form, job=key[0]))
        form.add_heading("Surfaces")
        form.add_widget(SurfaceParts(self.open_day, form, job=key[0]))
        form.add_heading("Stages")
        form.explain("stage")
        form.add_widget(StagePicking(self.open_day, form, job=key[0], rows=8))
        form.add_heading("Waits")
        form.explain("wait")
        form.add_widget(WaitParts(self.open_day, form, job=key[0]))

    def _add_work(self, job: str) -> None:
        dialog = NewWork(self.open_day.draft, job, self)
        if dialog.exec() and dialog.changes:
            self.open_day.change("Add work", dialog.changes)

    @Slot()
    def on_add(self) -> None:
        """A new job is wanted."""
        self.new_job_wanted.emit()
