"""Risk: the plan played out many times, and when the van is home."""

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from planner.desktop.look import headline
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.home_chart import HomeChart
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.desktop.thinking.studying import Studying
from planner.fit.risk import Risk


class RiskPanel(Panel):
    """When one is likely home, what may go wrong, and where the lateness comes from."""

    def __init__(self, open_day: OpenDay, studying: Studying, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Risk", parent)
        self._studying = studying
        self._sentence = self.add_words("", role="")
        self._sentence.setFont(headline(12.5))
        self.picture = HomeChart(self)
        self.column.addWidget(self.picture)
        self.rows = RowsView(self)
        self.rows.setAccessibleName("Chances")
        self.column.addWidget(self.rows, 1)
        self._note = self.add_words("")
        self.column.addStretch(0)
        studying.failed.connect(self.on_failed)

    def refresh(self) -> None:
        """Play the plan out."""
        shown = self.open_day.shown
        for widget in (self.picture, self.rows):
            widget.hide()
        self._note.setText("")
        if shown is None:
            self._sentence.setText("There is no plan yet.")
            return
        self._sentence.setText("Playing the day out …")
        self._studying.ask("risk", shown, self.on_risk)

    def on_risk(self, risk: Risk) -> None:
        """The plays are done."""
        shown = self.open_day.shown
        if shown is None:
            return
        self._sentence.setText(risk.sentence)
        self.picture.show_risk(risk, shown.plan.home)
        self.rows.tell([ToldRow(what=what[:1].upper() + what[1:], below=how) for what, how in risk.rows()])
        self._note.setText(
            f"{risk.plays} plays of this order, each stage between its low and its high."
        )
        self.picture.show()
        self.rows.show()

    @Slot(str, str)
    def on_failed(self, task: str, words: str) -> None:
        """It could not be played out."""
        if task == "risk":
            self._sentence.setText(words)
