"""Plain tables of text, printed a row at a time so that a long run can be watched."""

from collections.abc import Sequence
from dataclasses import dataclass, field


@dataclass
class Table:
    """A table with a heading over each column; the first column is aligned left, all others right.

    ``lines`` keeps what was printed, so that it can be kept in a file too.
    """

    columns: Sequence[str]
    first_width: int = 24
    lines: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.say(self._line(self.columns))
        self.say("-" * len(self.lines[0]))

    def row(self, *cells: object) -> None:
        """Print a row; None is a dash, a float has two digits."""
        self.say(self._line([_shown(cell) for cell in cells]))

    def say(self, line: str) -> None:
        """Print a line below the table."""
        self.lines.append(line)
        print(line, flush=True)

    def _line(self, cells: Sequence[str]) -> str:
        widths = [self.first_width, *(max(8, len(column)) for column in self.columns[1:])]
        shown = [f"{cells[0]:<{widths[0]}}", *(f"{c:>{w}}" for c, w in zip(cells[1:], widths[1:], strict=True))]
        return "  ".join(shown).rstrip()


def _shown(cell: object) -> str:
    if cell is None:
        return "-"
    return f"{cell:.2f}" if isinstance(cell, float) else str(cell)


def percent(part: float | None) -> str | None:
    """A part as text: 0.0312 as 3.1 %."""
    return None if part is None else f"{100 * part:.1f} %"
