"""Waits as pools that hang under the surface they close, and kit as thin bands on the ground."""

from collections.abc import Sequence

from planner.sheet.chart.canvas import KIT, POOL, REACH, STROKE, Canvas
from planner.sheet.chart.shelf import Interval, Shelf
from planner.sheet.chart.text import elided
from planner.sheet.chart.things import Pool, Stripe

THROUGH, SHORTER = 0.5, 6.0
"""In how many rows deeper a name rather stands than behind a gap in a line down the picture, or than shorter."""


def draw_pools(canvas: Canvas, pools: Sequence[Pool], strokes: Sequence[Interval], ceiling: float, top: float) -> float:
    """Draw pools in rows under ``top``; their reach goes up to ``ceiling``. Gives back the lower edge."""
    if not pools:
        return top
    height = min(max(canvas.gap(16), canvas.row), 24 * canvas.scale)
    pitch = height + canvas.gap(7)
    shelf = Shelf(None, strokes)
    top += canvas.gap(5)
    for pool in pools:
        text, x, row = _place(canvas, shelf, pool)
        y = top + row * pitch
        _draw_pool(canvas, pool, y, height, ceiling)
        baseline = y + height / 2 + 0.36 * canvas.small
        if pool.kind != "order":
            _draw_waves(canvas, pool, (x - 3, x + canvas.wide(text) + 3), (y + 4, y + height - 4))
        start, end = _extent(canvas, pool)
        if pool.kind == "order" or not start <= x < end:
            canvas.part_marks((x, x + canvas.wide(text)), y + height / 2)
        canvas.label(x, baseline, text, "pool name", of=pool)
    return top + len(shelf.rows) * pitch - canvas.gap(4)


def _extent(canvas: Canvas, pool: Pool) -> Interval:
    ends = canvas.last if pool.is_open_ended else max(pool.ends, pool.most or 0)
    return canvas.x(pool.begins), min(canvas.x(ends), canvas.right)


def _place(canvas: Canvas, shelf: Shelf, pool: Pool) -> tuple[str, float, int]:
    """Text, its left edge and the row of a pool: the text in it, or beside it in the row that is highest."""
    start, end = _extent(canvas, pool)
    slots = [] if pool.kind == "order" else _slots(canvas, pool, shelf.strokes)
    within = shelf.free_row([(start, end)]) or 0
    spots: list[tuple[float, int, float, str]] = []
    for shorter, title in enumerate(pool.titles):
        wide = canvas.wide(title)
        spots += [(within + SHORTER * shorter, within, a + 5, title) for a, b in slots if b - a >= wide + 9][:1]
        for left in (end + 7, start - wide - 6):
            if canvas.margin <= left and left + wide <= canvas.right:
                text = (left, left + wide)
                row = shelf.free_row([_hull((start, end), left, wide)], [text])
                if row is not None:
                    through = any(_meets(text, mark) for mark in canvas.marks)
                    spots.append((row + SHORTER * shorter + THROUGH * through, row, left, title))
    if spots:
        _, row, left, title = min(spots, key=lambda spot: spot[0])
        shelf.take(_hull((start, end), left, canvas.wide(title)), row)
        return title, left, row
    return "", end, shelf.put([(start, end)]) or 0


def _hull(span: Interval, left: float, wide: float) -> Interval:
    return min(span[0], left), max(span[1], left + wide)


def _meets(text: Interval, stroke: Interval) -> bool:
    return text[0] < stroke[1] + 3 and stroke[0] < text[1] + 3


def _slots(canvas: Canvas, pool: Pool, strokes: Sequence[Interval]) -> list[Interval]:
    """The parts of a pool that are neither bare nor marked nor crossed."""
    end = canvas.right if pool.is_open_ended else canvas.x(pool.ends)
    cuts = [*strokes, *((canvas.x(a), canvas.x(b)) for a, b in pool.bare)]
    if not pool.is_open_ended:
        least = canvas.x(pool.least)
        cuts.append((least - 2, least + 2))
    slots, reached = [], canvas.x(pool.begins)
    for a, b in sorted(cuts):
        slots.append((reached, min(a, end)))
        reached = max(reached, b)
    return [slot for slot in [*slots, (reached, end)] if slot[1] > slot[0]]


def _draw_pool(canvas: Canvas, pool: Pool, y: float, height: float, ceiling: float) -> None:
    start, end = canvas.x(pool.begins), min(canvas.x(pool.ends), canvas.right)
    bottom = y + height
    if pool.is_open_ended:
        end = canvas.right
    most = None if pool.most is None else min(canvas.x(pool.most), canvas.right)
    canvas.item(pool, (start, y, max(end, most or end), bottom), pool.begins)
    if pool.kind == "order":
        middle = y + height / 2
        canvas.line((start, middle, end, middle), "tie", POOL, of=pool)
        if most is not None and most > end:
            canvas.line((end, middle, most, middle), "slack", POOL, of=pool)
            canvas.line((most, y + 3, most, bottom - 3), "most", STROKE, of=pool)
        return
    canvas.rect((start, ceiling, end, y), "reach", REACH)
    basin = _basin(start, end, y, bottom, is_open=pool.is_open_ended)
    canvas.path(basin, "pool", POOL, closed=True, of=pool)
    for a, b in pool.bare:
        left, right = canvas.x(a), canvas.x(b)
        canvas.rect((left, y + 1, right, bottom - 2), "bare pool", POOL, pattern="bare", of=pool)
        text = f"bare {b - a}"
        if right - left >= canvas.wide(text) + 6:
            baseline = y + height / 2 + 0.36 * canvas.small
            canvas.label((left + right) / 2, baseline, text, "bare name", anchor="middle", of=pool)
    canvas.line((start, y, end, y), "surface", POOL, of=pool)
    if not pool.is_open_ended:
        least = canvas.x(pool.least)
        canvas.line((least, y - 4, least, bottom + 2), "least", STROKE, of=pool)
    if most is not None:
        if most > end:
            canvas.line((end, y, most, y), "slack", POOL, of=pool)
        canvas.line((most, y - 4, most, bottom + 2), "most", STROKE, of=pool)


def _draw_waves(canvas: Canvas, pool: Pool, text: Interval, rows: Interval) -> None:
    """Waves in the filled parts of a pool, but not behind its name."""
    end = canvas.right if pool.is_open_ended else canvas.x(pool.ends)
    dry = [text, *((canvas.x(a), canvas.x(b)) for a, b in pool.bare), (end - 4, end)]
    reached = canvas.x(pool.begins) + 5
    for a, b in sorted(dry):
        if min(a, end) - reached > 4:
            canvas.rect((reached, rows[0], min(a, end), rows[1]), "waves", POOL, pattern="waves", of=pool)
        reached = max(reached, b)


def _basin(start: float, end: float, top: float, bottom: float, *, is_open: bool) -> list[tuple[float, float]]:
    """A flat top and a round bottom; a wait that outlasts the picture runs out of it."""
    bend = min((end - start) / 2, (bottom - top) * 0.4)
    curve = [(0.0, 0.0), (0.08, 0.45), (0.3, 0.8), (0.6, 0.96), (1.0, 1.0)]
    left = [(start + part * bend, top + fall * (bottom - top)) for part, fall in curve]
    right = [(end - part * bend, top + fall * (bottom - top)) for part, fall in curve]
    return [*left, *([(end, bottom), (end, top)] if is_open else right[::-1])]


def draw_bands(canvas: Canvas, bands: Sequence[Stripe], strokes: Sequence[Interval], top: float) -> float:
    """Draw kit in rows under ``top``, each named on its own band or after it; gives back the lower edge.

    Folded, the bands lie close and bear no names: pointing at one says them.
    """
    if not bands:
        return top
    if canvas.density.is_kit_folded:
        return _draw_folded(canvas, bands, top + canvas.gap(4))
    shelf = Shelf(None, strokes)
    top += canvas.gap(4)
    for band in bands:
        start, end = canvas.x(band.start), canvas.x(band.end)
        title, left = _band_title(canvas, shelf, band, (start, end))
        wide = canvas.wide(title)
        row = shelf.put([(min(start, left), max(end, left + wide))]) or 0
        y = top + (row + 0.5) * canvas.row
        box = (start, y - canvas.row / 2, end, y + canvas.row / 2)
        canvas.item(band, box, band.start)
        for x in (start, end):
            canvas.line((x, y - 3.5, x, y + 3.5), "kit end", KIT, of=band)
        begin = left + wide + 3 if start <= left < end else start
        canvas.rect((begin, y - 1.25, end, y + 1.25), "kit band", KIT, of=band)
        canvas.label(left, y + 0.35 * canvas.small, title, "kit name", of=band)
    return top + len(shelf.rows) * canvas.row


def _draw_folded(canvas: Canvas, bands: Sequence[Stripe], top: float) -> float:
    shelf, pitch = Shelf(None), 5 * canvas.scale
    for band in bands:
        start, end = canvas.x(band.start), canvas.x(band.end)
        y = top + ((shelf.put([(start, end)]) or 0) + 0.5) * pitch
        canvas.item(band, (start, y - pitch / 2, end, y + pitch / 2), band.start)
        canvas.rect((start, y - 1.25, end, y + 1.25), "kit band", KIT, of=band)
    return top + len(shelf.rows) * pitch


def _band_title(canvas: Canvas, shelf: Shelf, band: Stripe, span: Interval) -> tuple[str, float]:
    """A band's name and its left edge: on the band if it is long enough, else after or before it, at last shortened."""
    start, end = span
    wide = canvas.wide(band.title)
    spots = [start + 4] if end - start >= wide + 16 else []
    spots += [end + 5, start - wide - 5]
    for left in spots:
        inside = canvas.margin <= left and left + wide <= canvas.right
        if inside and not any(_meets((left, left + wide), stroke) for stroke in shelf.strokes):
            return band.title, left
    return _shortened_title(canvas, shelf, band, span)


def _shortened_title(canvas: Canvas, shelf: Shelf, band: Stripe, span: Interval) -> tuple[str, float]:
    """A name for which there is no room, where most of it is left: after the band, or on it."""
    start, end = span
    after = end + 5
    for stroke in shelf.strokes:  # in order, so that one step past each is enough
        if stroke[0] - 3 <= after <= stroke[1] + 3:
            after = stroke[1] + 4
    rooms = [(after, canvas.right - after), (start + 4, end - start - 16)]
    titles = []
    for left, room in rooms:
        reach = min([left + room, *(stroke[0] - 3 for stroke in shelf.strokes if stroke[1] > left)])
        titles.append((elided(band.title, reach - left, canvas.small, canvas.measure), left))
    return max(titles, key=lambda told: len(told[0]))
