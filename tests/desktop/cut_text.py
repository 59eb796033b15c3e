"""Which words of a widget are cut, as it is laid out now: what has less room than its words need."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QCheckBox,
    QLabel,
    QPushButton,
    QStyle,
    QStyleOptionButton,
    QStyleOptionViewItem,
    QToolButton,
    QWidget,
)

from planner.desktop.pages.verdict_strip import FewLines, VerdictStrip

SLACK = 1
"""Pixels by which a rounded width may fall short."""


def cut_words(around: QWidget) -> list[str]:
    """A line for each label, button and list below a widget that shows less than all of its words."""
    found = []
    for widget in around.findChildren(QWidget):
        lacks = _lacks(widget) if widget.isVisibleTo(around) else ""
        if lacks:
            found.append(f"{type(widget).__name__} “{_words(widget)}” {lacks}")
    return found


def _words(widget: QWidget) -> str:
    for name in ("text", "title"):
        read = getattr(widget, name, None)
        if callable(read):
            return str(read())
    return widget.accessibleName()


def _lacks(widget: QWidget) -> str:
    if isinstance(widget, FewLines):
        return _few_lines_lack(widget)
    if isinstance(widget, QLabel):
        return _label_lacks(widget)
    if isinstance(widget, QPushButton | QToolButton | QCheckBox):
        return _button_lacks(widget)
    if isinstance(widget, QAbstractItemView):
        return _view_lacks(widget)
    return ""


def _few_lines_lack(label: FewLines) -> str:
    """What ends in dots is not cut where a button beside it shows all of it."""
    strip = label.parentWidget()
    has_more = isinstance(strip, VerdictStrip) and strip.more_button.isVisible()
    return "" if has_more or label.shown == label.text() else f"ends in dots: {label.shown}"


def _label_lacks(label: QLabel) -> str:
    if not label.text():
        return ""
    room = label.contentsRect().size()
    if label.wordWrap():
        high = label.heightForWidth(label.width())
        widest = max(label.fontMetrics().horizontalAdvance(word) for word in label.text().split() or [""])
        if high > label.height() + SLACK:
            return f"needs {high} px of height and has {label.height()}"
        return f"has a word of {widest} px in {room.width()}" if widest > room.width() + SLACK else ""
    wanted = label.sizeHint()
    return _short(wanted, label.size())


def _button_lacks(button: QAbstractButton) -> str:
    if not button.text():
        return ""
    if isinstance(button, QCheckBox) and button.hasHeightForWidth():
        wanted = QSize(button.minimumSizeHint().width(), button.heightForWidth(button.width()))
        return _short(wanted, button.size())
    lines = button.text().replace("&&", "\0").replace("&", "").replace("\0", "&").split("\n")
    wide = max(button.fontMetrics().horizontalAdvance(line) for line in lines)
    room = button.size()
    if isinstance(button, QPushButton):
        option = QStyleOptionButton()
        button.initStyleOption(option)
        inside = button.style().subElementRect(QStyle.SubElement.SE_PushButtonContents, option, button)
        room = QSize(inside.width(), button.height())
    return _short(QSize(wide, button.fontMetrics().height() * len(lines)), room)


def _view_lacks(view: QAbstractItemView) -> str:
    """Rows of a list whose words do not fit its width, where it neither wraps nor scrolls sideways."""
    model = view.model()
    if model is None or view.horizontalScrollBarPolicy() is not Qt.ScrollBarPolicy.ScrollBarAlwaysOff:
        return ""
    for row in range(model.rowCount()):
        index = model.index(row, 0)
        delegate = view.itemDelegate(index)
        if delegate is None:  # of a list that Qt keeps for itself, as in its file dialog
            return ""
        needed = delegate.sizeHint(_option(view), index)
        if needed.width() > view.viewport().width() + SLACK:
            return f"row “{index.data()}” needs {needed.width()} px and has {view.viewport().width()}"
    return ""


def _option(view: QAbstractItemView) -> QStyleOptionViewItem:
    option = QStyleOptionViewItem()
    view.initViewItemOption(option)
    option.rect = QRect(QPoint(0, 0), view.viewport().size())
    return option


def _short(wanted: QSize, room: QSize) -> str:
    if wanted.width() > room.width() + SLACK:
        return f"needs {wanted.width()} px of width and has {room.width()}"
    if wanted.height() > room.height() + SLACK:
        return f"needs {wanted.height()} px of height and has {room.height()}"
    return ""
