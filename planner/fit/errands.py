"""Errands of the processes that think side by side: ``python -m planner.fit.errands`` does them as they come.

Each is a line of JSON: the name of a function of ours and what it is called with; so is each answer. The process ends
when whoever asks does.
"""

import os
import queue
import re
import signal
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import Any, BinaryIO

from planner.day.own_values import what_does_not_hold
from planner.fit.wire import from_json, to_json
from planner.own_python import own_output

_ENCODING = ("utf-8", "surrogatepass")


@dataclass(frozen=True)
class Errand:
    """A function of some module, and the plain data that it is called with."""

    name: str
    function: Callable[..., Any]
    arguments: tuple[Any, ...] = ()


def name_of(function: Callable[..., Any]) -> str:
    """By which another process finds a function of some module."""
    return f"{function.__module__}:{function.__qualname__}"


def function_named(name: str, package: str = "planner") -> Callable[..., Any]:
    """The function of our package that has this name. Raises `ValueError` when the name is not one of ours."""
    if not re.fullmatch(rf"{package}(?:\.[a-z_0-9]+)+:[A-Za-z_0-9]+", name):
        raise ValueError(f"'{name}' is no function of ours")
    module, _, of_it = name.partition(":")
    found: Callable[..., Any] = getattr(import_module(module), of_it)
    return found


def said(errand: Errand) -> bytes:
    """An errand as the line that asks for it."""
    return _line((name_of(errand.function), errand.arguments))


def told(line: bytes) -> tuple[Any, str]:
    """What a line of an answer says: the value, and in plain words why there is none."""
    value, fault = from_json(line.decode(*_ENCODING))
    return value, str(fault)


def serve(package: str = "planner") -> None:
    """Do errands until whoever asks is gone; an interrupt is for them alone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    source, sink = sys.stdin.buffer, own_output()
    lines: queue.SimpleQueue[bytes] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(source, lines), daemon=True).start()
    what_does_not_hold()
    while True:
        sink.write(answered(lines.get(), package))
        sink.flush()


def _listen(source: BinaryIO, lines: queue.SimpleQueue[bytes]) -> None:
    """Hand on what comes in; end the process, whatever it does, when nobody waits for it any more."""
    for line in source:
        lines.put(line)
    os._exit(0)


def answered(line: bytes, package: str = "planner") -> bytes:
    """The answer to a line that asks for an errand, or why there is none."""
    try:
        name, arguments = from_json(line.decode(*_ENCODING))
        return _line((function_named(name, package)(*arguments), ""))
    except Exception as fault:
        return _line((None, str(fault) or type(fault).__name__))


def _line(value: Any) -> bytes:
    return to_json(value).encode(*_ENCODING) + b"\n"


if __name__ == "__main__":
    serve()
