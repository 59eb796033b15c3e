"""A thinking process that is started before anybody asks: it loads what it needs while the window is being drawn."""

from collections.abc import Sequence

from PySide6.QtCore import QObject, QProcess

from planner.own_python import own_module

OURS = own_module("planner.desktop.thinking.thinker")
_ahead: list[QProcess] = []


def begun(parent: QObject, command: Sequence[str] = OURS) -> QProcess:
    """A process that has been told to start."""
    process = QProcess(parent)
    process.setProgram(command[0])
    process.setArguments(list(command[1:]))
    process.setProcessChannelMode(QProcess.ProcessChannelMode.SeparateChannels)
    process.setStandardErrorFile(QProcess.nullDevice())
    process.start()
    return process


def begin_ahead(parent: QObject) -> None:
    """Start one for whoever comes first; it ends with its parent."""
    _ahead.append(begun(parent))


def taken(parent: QObject, command: Sequence[str]) -> QProcess:
    """The process that was started ahead, where there is one of this command; else one that is started now."""
    while _ahead and tuple(command) == OURS:
        process = _ahead.pop()
        if process.state() is not QProcess.ProcessState.NotRunning:
            process.setParent(parent)
            return process
    return begun(parent, command)
