"""Names over and under the bars of a track, each on a staff, in as many rows as it takes: none is left out or cut."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from planner.sheet.chart.shelf import Interval

GAP = 4.0
"""Least distance between two texts of a row."""

SHORTER, UNDER, SIDEWAYS, MARKED, THROUGH, SHUT_IN = 1.3, 0.4, 0.15, 0.3, 5.0, 40.0
"""What a shorter name, the lower side, another anchor, a mark of the day and a crossing that run behind the text, and
a staff that runs behind other texts are worth, in rows."""

Side = Literal["over", "under"]


@dataclass(frozen=True, slots=True)
class Claim:
    """What wants a name: the boxes of one thing from left to right, and its names, the longest first."""

    titles: tuple[str, ...]
    boxes: tuple[Interval, ...]


@dataclass(frozen=True, slots=True)
class Flag:
    """A name in a row counted from the bar outward, with a staff to each box, and whether a crossing runs behind."""

    side: Side
    row: int
    text: str
    left: float
    staffs: tuple[float, ...]
    is_crossed: bool


@dataclass(slots=True)
class Rows:
    """The rows of one side; ``strokes`` run through all of them."""

    strokes: Sequence[Interval]
    texts: list[list[Interval]] = field(default_factory=list)
    marks: list[list[Interval]] = field(default_factory=list)

    def has_room(self, row: int, text: Interval, staffs: Sequence[float]) -> bool:
        """Whether a text in a row, and its staffs through all rows before it, touch no other."""
        lines = [(staff - 1, staff + 1) for staff in staffs]
        if any(_meets(line, self._of(self.texts, under)) for line in lines for under in range(row)):
            return False
        whole = (min(text[0], *staffs), max(text[1], *staffs)) if len(staffs) > 1 else text
        return not (_meets(whole, self._of(self.texts, row)) or _meets(text, self._of(self.marks, row)))

    def free_row(self, text: Interval, staffs: Sequence[float]) -> tuple[int, bool]:
        """The first row with room, and whether its staffs find no way out between the texts before it."""
        for row in range(len(self.texts) + 1):
            if self.has_room(row, text, staffs):
                return row, False
        return len(self.texts), True

    def take(self, row: int, text: Interval, staffs: Sequence[float]) -> None:
        """Take the place for good."""
        while len(self.texts) <= row:
            self.texts.append([])
            self.marks.append([])
        self.texts[row].append(text)
        for staff in staffs:
            for under in range(row):
                self.marks[under].append((staff - 1, staff + 1))
        if len(staffs) > 1:
            self.texts[row].append((min(staffs) - 1, max(staffs) + 1))

    @staticmethod
    def _of(rows: list[list[Interval]], row: int) -> list[Interval]:
        return rows[row] if row < len(rows) else []


def place_flags(
    claims: Iterable[Claim],
    wide: "dict[str, float]",
    page: Interval,
    over: Sequence[Interval],
    under: Sequence[Interval],
    marks: Sequence[Interval] = (),
) -> list[Flag]:
    """Give each claim its flag.

    From right to left, so that a staff on the left of its text passes beside the texts of what comes later. Things of
    several boxes come last: their rail lies outside the others' names.

    Parameters
    ----------
    claims
        What wants a name.
    wide
        How wide each of the names is, in pixels.
    page
        Left and right edge that no text may pass.
    over, under
        What runs through the rows on either side.
    marks
        What runs down the whole picture, behind everything.

    Returns
    -------
    list of Flag
        In the order of the claims.
    """
    rows: dict[Side, Rows] = {"over": Rows(over), "under": Rows(under)}
    asked = list(claims)
    found: dict[int, Flag] = {}
    for number in sorted(range(len(asked)), key=lambda n: (len(asked[n].boxes) > 1, -asked[n].boxes[0][0])):
        flag = _best(asked[number], wide, page, rows, marks)
        rows[flag.side].take(flag.row, (flag.left, flag.left + wide[flag.text]), flag.staffs)
        found[number] = flag
    return [found[number] for number in range(len(asked))]


def _best(
    claim: Claim, wide: "dict[str, float]", page: Interval, rows: "dict[Side, Rows]", marks: Sequence[Interval]
) -> Flag:
    """The cheapest place of all: near the bar, the long name, clear of crossings and marks."""
    found: list[tuple[float, Flag]] = []
    for shorter, title in enumerate(claim.titles):
        for aside, (left, staffs) in enumerate(_spots(claim, wide[title], page)):
            text = (left, left + wide[title])
            marked = MARKED * _meets(text, marks)
            for side, there in rows.items():
                through = _meets(text, there.strokes)
                cost = shorter * SHORTER + aside * SIDEWAYS + (side == "under") * UNDER + through * THROUGH
                row, is_shut_in = there.free_row(text, staffs)
                cost += row + is_shut_in * SHUT_IN + marked
                found.append((cost, Flag(side, row, title, left, staffs, through)))
    return min(found, key=lambda spot: spot[0])[1]


def _spots(claim: Claim, wide: float, page: Interval) -> Iterable[tuple[float, tuple[float, ...]]]:
    """Left edges of a text and where its staffs stand: to the right of its thing's start, about it, to the left."""
    (start, first_end), last_end = claim.boxes[0], claim.boxes[-1][1]
    others = tuple((box[0] + box[1]) / 2 for box in claim.boxes[1:])
    middle = (start + first_end) / 2
    spots = [(start + 5, start + 1), (middle - wide / 2, middle)]
    spots.append((first_end - wide - 5, first_end - 1) if not others else (last_end - wide - 5, middle))
    inside = [(left, staff) for left, staff in spots if page[0] <= left and left + wide <= page[1]]
    for left, staff in inside or [(max(page[0], min(start + 5, page[1] - wide)), start + 1)]:
        yield left, (staff, *others)


def _meets(part: Interval, others: Iterable[Interval]) -> bool:
    return any(part[0] < end + GAP and start < part[1] + GAP for start, end in others)
