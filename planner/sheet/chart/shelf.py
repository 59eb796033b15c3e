"""Rows in which intervals lie side by side and never touch."""

from collections.abc import Iterable, Sequence

Interval = tuple[float, float]


class Shelf:
    """Rows of intervals, filled from row 0 on; ``strokes`` are what no text may cross in any row."""

    def __init__(self, most: int | None = None, strokes: Iterable[Interval] = (), gap: float = 3.0) -> None:
        self.most = most
        self.gap = gap
        self.strokes = sorted(strokes)
        self.rows: list[list[Interval]] = []

    def put(self, spans: Sequence[Interval], texts: Sequence[Interval] = ()) -> int | None:
        """The lowest row in which all these lie free, taken from now on; None if no row is left."""
        row = self.free_row(spans, texts)
        if row is not None:
            for part in (*spans, *texts):
                self.take(part, row)
        return row

    def free_row(self, spans: Sequence[Interval], texts: Sequence[Interval] = (), *, lowest: int = 0) -> int | None:
        """The lowest row, from one on, in which all these lie free; ``spans`` may cross strokes, ``texts`` may not."""
        if any(self._hits(text, self.strokes) for text in texts):
            return None
        parts = (*spans, *texts)
        for row in range(lowest, len(self.rows)):
            if not any(self._hits(part, self.rows[row]) for part in parts):
                return row
        new = max(lowest, len(self.rows))
        return new if self.most is None or new < self.most else None

    def take(self, part: Interval, row: int) -> None:
        """Take a place in a row for good."""
        while len(self.rows) <= row:
            self.rows.append([])
        self.rows[row].append(part)

    def _hits(self, part: Interval, others: Iterable[Interval]) -> bool:
        return any(part[0] < end + self.gap and start < part[1] + self.gap for start, end in others)
