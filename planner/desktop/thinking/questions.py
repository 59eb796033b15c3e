"""What the window and its planning process say to each other, and how it goes through a pipe.

Each message is JSON, led by its length in bytes.
"""

import struct
from dataclasses import dataclass
from typing import Any

from planner.day import Day
from planner.fit.verdict import Verdict
from planner.fit.wire import from_json, to_json
from planner.plan.plan import Plan
from planner.plan.progress import NOTHING_TOLD, Progress

_LENGTH = struct.Struct("!I")


@dataclass(frozen=True)
class Question:
    """Something to think about for one day.

    ``task`` names what is wanted: "plan", or a study of a plan such as "remedies" or "risk". ``previous`` is the plan
    to start from, or to study. ``most_crossings`` bounds the restricted crossings; ``progress`` is what has been
    done of a running day, of which the rest is planned again.
    """

    number: int
    task: str
    day: Day
    previous: Plan | None = None
    seconds: float = 20.0
    most_crossings: int | None = None
    progress: Progress = NOTHING_TOLD
    extra: Any = None


@dataclass(frozen=True)
class StopAsked:
    """StopAsked thinking about a question, and answer with the best so far."""

    number: int


@dataclass(frozen=True)
class Better:
    """A better plan has been found; thinking goes on."""

    number: int
    plan: Plan
    verdict: Verdict


@dataclass(frozen=True)
class Progressed:
    """How far a study is: so many of so many, and what was done last."""

    number: int
    done: int
    of: int
    words: str = ""


@dataclass(frozen=True)
class Answer:
    """The end of thinking.

    ``plan`` is None when none exists: ``conflict`` then holds the facts that cannot hold together. ``finding`` is
    what a study found. ``progress`` is the record of a day under way with what cannot hold any more.
    """

    number: int
    plan: Plan | None = None
    verdict: Verdict | None = None
    conflict: tuple[str, ...] = ()
    stopped: bool = False
    urgent: tuple[str, ...] = ()
    finding: Any = None
    progress: Progress | None = None


@dataclass(frozen=True)
class Failed:
    """Thinking broke down; in words for the person at the window."""

    number: int
    words: str


Message = Question | StopAsked | Better | Progressed | Answer | Failed


def packed(message: Message) -> bytes:
    """A message as bytes, its length first."""
    body = to_json(message).encode("utf-8", "surrogatepass")
    return _LENGTH.pack(len(body)) + body


class Unpacker:
    """Gathers bytes as they come and gives whole messages."""

    def __init__(self) -> None:
        self._rest = b""

    def feed(self, data: bytes) -> list[Message]:
        """The messages that are whole now that ``data`` has come too."""
        self._rest += data
        messages: list[Message] = []
        while len(self._rest) >= _LENGTH.size:
            (length,) = _LENGTH.unpack_from(self._rest)
            if len(self._rest) < _LENGTH.size + length:
                break
            body = self._rest[_LENGTH.size : _LENGTH.size + length]
            self._rest = self._rest[_LENGTH.size + length :]
            messages.append(from_json(body.decode("utf-8", "surrogatepass")))
        return messages
