"""Two plans side by side: what changed in words, and which stages moved; and what one more hand would do."""

from collections.abc import Callable

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.desktop.flow import Flow
from planner.desktop.forms.field import Field
from planner.desktop.forms.kinds import CLOCK, TEXT
from planner.desktop.forms.new_work import taken
from planner.desktop.look import headline
from planner.desktop.model import wishes
from planner.desktop.model.differences import differences, moves
from planner.desktop.model.naming import key_for
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.model.wishes import Wish
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.desktop.plain import PlainLabel
from planner.trade.units import show_clock


class ComparePanel(Panel):
    """Keeps one plan and tells how the present one differs. `kept_changed` tells the plan kept, or None."""

    kept_changed = Signal(object)

    def __init__(self, open_day: OpenDay, wish: Callable[[Wish], None], parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Compare", parent)
        self._wish = wish
        self._kept: Shown | None = None
        self._words = self.add_words("")
        self.keep_button = QPushButton("Keep this plan to compare with", self)
        self.let_go_button = QPushButton("Let it go", self)
        row = Flow()
        row.addWidget(self.keep_button)
        row.addWidget(self.let_go_button)
        self.column.addLayout(row)
        self.rows = RowsView(self)
        self.rows.setAccessibleName("What changed")
        self.column.addWidget(self.rows, 1)
        heading = PlainLabel("With one more hand", self)
        heading.setFont(headline(12.5, bold=True))
        self.column.addWidget(heading)
        self.name = Field("Name", TEXT)
        self.name.show_value("Second hand")
        self.from_, self.until = (
            Field("From", CLOCK, optional=False),
            Field("Until", CLOCK, optional=False),
        )
        self.column.addWidget(self.name)
        fields = Flow(shares=True)
        for field in (self.from_, self.until):
            fields.addWidget(field)
        self.column.addLayout(fields)
        self.weigh_button = QPushButton("Weigh it", self)
        self.column.addWidget(self.weigh_button)
        self.column.addStretch(0)
        self.keep_button.clicked.connect(self.on_keep)
        self.let_go_button.clicked.connect(self.on_let_go)
        self.weigh_button.clicked.connect(self.on_weigh)

    @property
    def kept(self) -> Shown | None:
        """The plan that is compared with."""
        return self._kept

    def refresh(self) -> None:
        """Tell what differs from the plan kept."""
        shown, kept = self.open_day.shown, self._kept
        self.keep_button.setEnabled(shown is not None)
        self.let_go_button.setVisible(kept is not None)
        self.weigh_button.setEnabled(shown is not None and not self.open_day.is_read_only)
        self.rows.setVisible(kept is not None and shown is not None)
        if kept is None or shown is None:
            self._words.setText("Keep a plan, change the day, and see here what became of it.")
            self.rows.tell([])
            return
        self._words.setText(
            f"Kept: home {show_clock(kept.plan.home)}.  Now: home {show_clock(shown.plan.home)}."
        )
        told = [ToldRow(what=words[:1].upper() + words[1:]) for words in differences(kept, shown)]
        moved = moves(kept, shown)
        if moved:
            told.append(ToldRow(heading="Other times"))
            told += [
                ToldRow(when=show_clock(now), what=what, below=f"before: {show_clock(then)}")
                for what, then, now in moved
            ]
        self.rows.tell(told)

    @Slot()
    def on_keep(self) -> None:
        """The present plan is kept."""
        self._kept = self.open_day.shown
        self.kept_changed.emit(self._kept)
        self.refresh()

    @Slot()
    def on_let_go(self) -> None:
        """The plan kept is not needed any more."""
        self._kept = None
        self.kept_changed.emit(None)
        self.refresh()

    @Slot()
    def on_weigh(self) -> None:
        """One more hand is to be weighed."""
        values = taken({"name": self.name, "from": self.from_, "until": self.until})
        if values is None:
            return
        draft = self.open_day.draft
        name = values.get("name") or "Second hand"
        key = key_for(name, draft.at(("hands",), {}), "hand")
        if self._kept is None:
            self.on_keep()
        self._wish(wishes.hand_added(draft, key, name, values["from"], values["until"]))
