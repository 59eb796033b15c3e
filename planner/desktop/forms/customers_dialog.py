"""The customers that are kept: one is looked for, picked and taken into the day, or forgotten."""

from pathlib import Path

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QPushButton, QWidget

from planner.day.safekeeping import FileFault
from planner.desktop.flow import Flow
from planner.desktop.forms.dialog import FieldsDialog
from planner.desktop.forms.field import Field, Tick
from planner.desktop.forms.kinds import TEXT
from planner.desktop.plain import PlainLabel, tip
from planner.record.kept_sites import Site, customers_path, forget_site, read_customers


class CustomersDialog(FieldsDialog):
    """`site` is the one that was picked, with its work or without."""

    def __init__(self, parent: QWidget | None = None, path: Path | None = None) -> None:
        super().__init__("A kept customer", "Take this one", parent)
        self._path = path or customers_path()
        self._sites: dict[str, Site] = {}
        self.site: Site | None = None
        self.sought = Field("Look for", TEXT)
        self.list = QListWidget()
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setAccessibleName("Kept customers")
        self.with_work = Tick("With the work as it was last time")
        self.with_work.show_value(True)
        self.forget_button = QPushButton("Forget this customer")
        self._told = PlainLabel("")
        self._told.setWordWrap(True)
        row = Flow()
        row.addWidget(self.with_work)
        row.addWidget(self.forget_button)
        self.column.addWidget(self.sought)
        self.column.addWidget(self.list, 1)
        self.column.addWidget(self._told)
        self.column.addLayout(row)
        self.sought.line.textChanged.connect(self.on_sought)
        self.list.currentRowChanged.connect(self.on_picked)
        self.list.itemActivated.connect(self.accept)
        self.forget_button.clicked.connect(self.on_forget)
        self._read()

    @property
    def told(self) -> str:
        """What is said of the file."""
        return self._told.text()

    def _read(self) -> None:
        words = ""
        try:
            found = read_customers(self._path)
            self._sites, words = found.sites, "\n".join(found.faults)
        except FileFault as fault:
            self._sites, words = {}, str(fault)
        if not self._sites and not words:
            words = "None are kept yet. On the page House, press “Keep this customer”."
        self._told.setText(words)
        self._told.setVisible(bool(words))
        for widget in (self.sought, self.list, self.with_work, self.forget_button):
            widget.setVisible(bool(self._sites))  # where none are kept there is nothing to look for
        self.on_sought()

    @Slot()
    def on_sought(self) -> None:
        """Other words are looked for: those that have all of them are listed."""
        words = self.sought.line.text().casefold().split()
        self.list.clear()
        for key, site in sorted(self._sites.items(), key=lambda pair: pair[1].title.casefold()):
            if all(word in site.title.casefold() for word in words):
                item = QListWidgetItem(site.title, self.list)
                item.setData(256, key)
                item.setToolTip(tip(f"{site.title}, kept {site.kept:%d %b %Y}" if site.kept else site.title))
        self.list.setCurrentRow(0 if self.list.count() else -1)
        self.on_picked()

    @Slot()
    def on_picked(self) -> None:
        """Another one is looked at."""
        item = self.list.currentItem()
        self.done_button.setEnabled(item is not None)
        self.forget_button.setEnabled(item is not None)
        self.forget_button.setAccessibleName(f"Forget {item.text()}" if item is not None else "Forget this customer")

    @Slot()
    def on_forget(self) -> None:
        """The one looked at is not to be kept any more."""
        item = self.list.currentItem()
        if item is None:
            return
        try:
            forget_site(self._path, item.data(256))
        except FileFault as fault:
            self._told.setText(str(fault))
            self._told.setVisible(True)
            return
        self._read()

    def accept(self) -> None:
        """Take the one that is looked at."""
        item = self.list.currentItem()
        if item is None:
            return
        site = self._sites[item.data(256)]
        self.site = site if self.with_work.value() else site.without_work()
        super().accept()
