"""On which line of a TOML text a place stands. Used only when there is a fault to point at."""

import re
from typing import NamedTuple

from planner.day.faults import Where

_TOKEN = re.compile(
    r"""(?P<text>\"{3}(?:\\.|[^\\])*?\"{3,5}|'{3}.*?'{3,5}|"(?:\\.|[^"\\\n])*"|'[^'\n]*')"""
    r"""|(?P<comment>\#[^\n]*)|(?P<newline>\n)|(?P<sign>[\[\]{}=,.])|(?P<bare>[^\s\[\]{}=,.\#"']+)""",
    re.DOTALL,
)


class _Token(NamedTuple):
    kind: str
    text: str
    line: int


def lines_of(text: str) -> dict[Where, int]:
    """The line, counted from 1, of every table, key and list item in a TOML text.

    The text has been read by a TOML reader before; where it has not, the lines are a best guess.
    """
    return _Scan(text).lines


def line_of(place: Where, lines: dict[Where, int]) -> int | None:
    """The line of a place, or of the nearest thing around it that the file writes."""
    while place:
        if place in lines:
            return lines[place]
        place = place[:-1]
    return None


def end_of_part(text: str, place: Where) -> int:
    """How many lines of the text there are up to the end of a table, or 0 if the text has no such table.

    Remarks and blanks before the next header belong to that header. The whole text has the empty place.
    """
    scan = _Scan(text)
    last = max((line for found, line in scan.lines.items() if found[: len(place)] == place), default=0)
    if not last:
        return 0 if place else text.count("\n") + 1
    rows = text.split("\n")
    end = min((line - 1 for line in scan.headers if line > last), default=len(rows))
    while end > last and (not rows[end - 1].strip() or rows[end - 1].lstrip().startswith("#")):
        end -= 1
    return end


class _Scan:
    """One walk over the tokens of a text; ``lines`` and the lines of ``headers`` are what it finds."""

    def __init__(self, text: str) -> None:
        self.lines: dict[Where, int] = {}
        self.headers: list[int] = []
        self._tokens = _tokens(text)
        self._next = 0
        self._counts: dict[Where, int] = {}
        here: Where = ()
        while (token := self._peek()) is not None:
            if token.text == "[" and token.kind == "sign":
                here = self._header()
            elif token.kind in ("bare", "text"):
                self._pair(here)
            else:
                self._next += 1

    def _peek(self) -> _Token | None:
        return self._tokens[self._next] if self._next < len(self._tokens) else None

    def _take(self) -> _Token | None:
        token = self._peek()
        self._next += 1
        return token

    def _header(self) -> Where:
        """``[a.b]`` or ``[[a.b]]``: the place that the following keys belong to."""
        self._next += 1
        is_list = (token := self._peek()) is not None and token.text == "["
        self._next += is_list
        line = self._tokens[self._next - 1].line
        self.headers.append(line)
        keys = self._keys()
        while (token := self._peek()) is not None and token.text == "]" and token.line == line:
            self._next += 1
        place: Where = ()
        for depth, key in enumerate(keys):
            place = (*place, key)
            if is_list and depth == len(keys) - 1:
                self.lines.setdefault(place, line)
                self._counts[place] = self._counts.get(place, -1) + 1
            self._note(place, line)
            if place in self._counts:
                place = (*place, self._counts[place])
                self._note(place, line)
        return place

    def _note(self, place: Where, line: int) -> None:
        """A table's own header counts before one that merely names it on the way to another."""
        self.lines.setdefault(place, line)

    def _keys(self) -> list[str]:
        """A dotted key."""
        keys = []
        while (token := self._peek()) is not None and (token.kind in ("bare", "text") or token.text == "."):
            if token.text != ".":
                keys.append(_unquoted(token))
            self._next += 1
        return keys

    def _pair(self, here: Where) -> None:
        """``a.b = value``."""
        first = self._peek()
        place = here
        for key in self._keys():
            place = (*place, key)
            if first is not None:
                self._note(place, first.line)
        if (token := self._peek()) is not None and token.text == "=":
            self._next += 1
            self._value(place)

    def _value(self, start: Where) -> None:
        """A value, and whatever lies inside it, without recursion: files may nest as deep as they like."""
        open_: list[tuple[str, Where, int]] = []  # bracket, its place, items seen
        place = start
        while (token := self._take()) is not None:
            if token.kind in ("comment", "newline"):
                if token.kind == "newline" and not open_:
                    return
                continue
            if token.kind == "sign" and token.text in "[{":
                self._item(open_, token)
                if open_ and open_[-1][0] == "[":
                    place = (*open_[-1][1], open_[-1][2])
                open_.append((token.text, place, 0))
            elif token.kind == "sign" and token.text in "]}":
                if not open_:
                    return
                open_.pop()
            elif token.text == "," and open_:
                bracket, place, seen = open_.pop()
                open_.append((bracket, place, seen + 1))
            elif open_ and open_[-1][0] == "{" and token.kind in ("bare", "text"):
                self._next -= 1
                place = open_[-1][1]
                for key in self._keys():
                    place = (*place, key)
                    self._note(place, token.line)
                if (sign := self._peek()) is not None and sign.text == "=":
                    self._next += 1
                    after = self._peek()
                    if after is not None and after.kind != "sign":
                        self._scalar()
            else:
                self._item(open_, token)

    def _item(self, open_: list[tuple[str, Where, int]], token: _Token) -> None:
        if open_ and open_[-1][0] == "[":
            self._note((*open_[-1][1], open_[-1][2]), token.line)

    def _scalar(self) -> None:
        """Step over one plain value; a number such as 1.5 is several tokens."""
        while (token := self._peek()) is not None and (token.kind in ("bare", "text") or token.text == "."):
            self._next += 1


def _tokens(text: str) -> list[_Token]:
    tokens, line, at = [], 1, 0
    for found in _TOKEN.finditer(text):
        line += text.count("\n", at, found.start())
        at = found.start()
        tokens.append(_Token(found.lastgroup or "", found[0], line))
    return tokens


def _unquoted(token: _Token) -> str:
    if token.kind == "bare":
        return token.text
    if token.text[0] == "'":
        return token.text[1:-1]
    try:
        return token.text[1:-1].encode("latin-1", "backslashreplace").decode("unicode_escape")
    except UnicodeDecodeError:
        return token.text[1:-1]
