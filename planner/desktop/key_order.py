"""In which order Tab goes through what lies below a widget: as it is read, also where a part of it was made later."""

from collections.abc import Iterator
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLayout, QScrollArea, QSplitter, QStackedWidget, QWidget


def stops(around: QWidget) -> Iterator[QWidget]:
    """What takes the Tab key below a widget, and the widget itself, in the order of their layouts."""
    if around.isHidden():
        return
    takes = bool(around.focusPolicy() & Qt.FocusPolicy.TabFocus) and around.focusProxy() is None
    if takes and around.isEnabled():
        yield around
    if not takes or isinstance(around, QScrollArea):  # what takes the keys itself minds its own parts
        for part in _parts(around):
            yield from stops(part)


def _parts(around: QWidget) -> Iterator[QWidget]:
    layout = around.layout()
    if isinstance(around, QScrollArea):
        yield from filter(None, [around.widget()])
    elif isinstance(around, QStackedWidget):
        yield from filter(None, [around.currentWidget()])
    elif isinstance(around, QSplitter):
        yield from filter(None, (around.widget(at) for at in range(around.count())))
    elif layout is not None:
        yield from _laid_out(layout)


def _laid_out(layout: QLayout) -> Iterator[QWidget]:
    for at in range(layout.count()):
        item = layout.itemAt(at)
        widget, inner = (None, None) if item is None else (item.widget(), item.layout())
        if widget is not None:
            yield widget
        elif inner is not None:
            yield from _laid_out(inner)


def order_as_read(around: QWidget) -> None:
    """Let Tab go through what lies below a widget as it is read."""
    for one, following in pairwise(list(stops(around))):
        if one.nextInFocusChain() is not following:
            QWidget.setTabOrder(one, following)
