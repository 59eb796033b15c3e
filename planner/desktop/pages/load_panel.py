"""The load list with a box to tick for each thing, large enough for a thumb."""

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from planner.desktop.look import headline
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.panel import Panel
from planner.sheet.papers.loading import load_groups

_KEY = Qt.ItemDataRole.UserRole


class LoadPanel(Panel):
    """What must be in the van, in the order in which it goes in. What is ticked stays ticked while the day is open."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Load", parent)
        self._ticked: set[str] = set()
        self._left = self.add_words("")
        self.list = QListWidget(self)
        self.list.setAccessibleName("Load list")
        self.list.setSpacing(2)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setWordWrap(True)
        self.list.itemChanged.connect(self.on_ticked)
        self.column.addWidget(self.list, 1)

    @property
    def words(self) -> str:
        """How much is in the van."""
        return self._left.text()

    def refresh(self) -> None:
        """List what the plan needs."""
        self.list.blockSignals(True)
        self.list.clear()
        shown = self.open_day.shown
        for group in load_groups(shown.day, shown.plan) if shown else ():
            heading = QListWidgetItem(group.name, self.list)
            heading.setFont(headline(11.5, bold=True))
            heading.setFlags(Qt.ItemFlag.NoItemFlags)
            for words in group.lines:
                item = QListWidgetItem(words, self.list)
                key = f"{group.name}/{words}"
                item.setData(_KEY, key)
                item.setFlags(
                    Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsUserCheckable
                )
                item.setCheckState(Qt.CheckState.Checked if key in self._ticked else Qt.CheckState.Unchecked)
        self.list.blockSignals(False)
        self._count()

    @Slot(QListWidgetItem)
    def on_ticked(self, item: QListWidgetItem) -> None:
        """A box was ticked or cleared."""
        change = self._ticked.add if item.checkState() is Qt.CheckState.Checked else self._ticked.discard
        change(item.data(_KEY))
        self._count()

    def _count(self) -> None:
        items = [self.list.item(row) for row in range(self.list.count())]
        boxes = [item for item in items if item.data(_KEY)]
        done = sum(item.checkState() is Qt.CheckState.Checked for item in boxes)
        if not boxes:
            self._left.setText("There is no plan yet.")
        elif done == len(boxes):
            self._left.setText("All is in the van.")
        else:
            self._left.setText(f"{done} of {len(boxes)} in the van")
