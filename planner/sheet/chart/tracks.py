"""A hand's track in a zone: bars on the path, each with its name in it, or over or under it on a staff."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.sheet.chart.canvas import BAR, NAME_BACK, STROKE, Canvas
from planner.sheet.chart.flags import Claim, Flag, place_flags
from planner.sheet.chart.shelf import Interval, Shelf
from planner.sheet.chart.text import elided
from planner.sheet.chart.things import Bar

SOLE = 5
"""Height of the patterned foot of a stage's bar, in pixels at scale 1."""


@dataclass(frozen=True, slots=True)
class _Named:
    """Bars that share one name outside them: one bar, or the sections of one stage."""

    bars: tuple[Bar, ...]
    titles: tuple[str, ...]


def draw_track(
    canvas: Canvas,
    bars: Sequence[Bar],
    over: Sequence[Interval],
    under: Sequence[Interval],
    top: float,
    ceiling: float = 0.0,
) -> tuple[float, float]:
    """Draw the bars of one hand under ``top`` with at least ``ceiling`` over them.

    Parameters
    ----------
    canvas
        Where to draw.
    bars
        What the hand does there.
    over, under
        From and to, in pixels, of what runs through the rows of names over and under the bars.
    top, ceiling
        In pixels.

    Returns
    -------
    tuple of float
        The level of the path and the lower edge of the track.
    """
    sections = _sections(bars)
    bars = [_numbered(bar) if len(sections.get(_stage_of(bar), ())) > 1 else bar for bar in bars]
    named = _named(canvas, bars)
    flags = _flags(canvas, named, over, under)
    above, below = (
        max((flag.row + 1 for flag in flags if flag.side == side), default=0) for side in ("over", "under")
    )
    bar_top = top + max(above * canvas.row, ceiling) + canvas.gap(3)
    level = bar_top + canvas.bar / 2
    for bar in bars:
        _draw_bar(canvas, bar, level)
    for thing, flag in zip(named, flags, strict=True):
        _draw_flag(canvas, thing, flag, (bar_top, bar_top + canvas.bar))
    bottom = bar_top + canvas.bar + below * canvas.row
    return level, _draw_others(canvas, bars, bottom)


def _stage_of(bar: Bar) -> tuple[str | int, ...]:
    """What the sections of one stage share."""
    return (*bar.about[:2], *bar.whole)


def _sections(bars: Sequence[Bar]) -> dict[tuple[str | int, ...], list[Bar]]:
    """The sections of each stage that is worked in sections here."""
    sections: dict[tuple[str | int, ...], list[Bar]] = {}
    for bar in bars:
        if bar.section is not None:
            sections.setdefault(_stage_of(bar), []).append(bar)
    return sections


def _numbered(bar: Bar) -> Bar:
    """A section whose stage is named once for all of them: in it stands which it is."""
    _, _, count = bar.titles[-1].rpartition("/")
    return replace(bar, titles=(f"{bar.section} of {count}", str(bar.section)))


def _named(canvas: Canvas, bars: Sequence[Bar]) -> list[_Named]:
    """What bears its name outside: the sections of a stage together, and each bar too small for its own."""
    sections = _sections(bars)
    named: list[_Named] = []
    for bar in bars:
        together = sections.get(_stage_of(bar), [])
        if len(together) > 1:
            named += [_Named(tuple(together), bar.whole)] if together[0] is bar else []
        elif bar.kind in ("stage", "break") and not _inside(canvas, bar):
            named.append(_Named((bar,), tuple(dict.fromkeys(bar.titles[1:]))))
    return named


def _flags(
    canvas: Canvas, named: Sequence[_Named], over: Sequence[Interval], under: Sequence[Interval]
) -> list[Flag]:
    left, right = canvas.margin + 2, canvas.width - 4
    claims = []
    for thing in named:
        titles = tuple(title for title in thing.titles if canvas.wide(title) <= right - left)
        titles = titles or (elided(thing.titles[-1], right - left, canvas.small, canvas.measure),)
        claims.append(Claim(titles, tuple((canvas.x(bar.start), canvas.x(bar.end)) for bar in thing.bars)))
    wide = {title: canvas.wide(title) for claim in claims for title in claim.titles}
    return place_flags(claims, wide, (left, right), over, under, canvas.marks)


def _inside(canvas: Canvas, bar: Bar) -> list[str]:
    """The longest name that lies in the bar, in one row or two; none if none does."""
    room = canvas.x(bar.end) - canvas.x(bar.start) - 8 * canvas.scale
    for title in bar.titles:
        if canvas.wide(title) <= room:
            return [title]
        if bar.kind == "stage" and not canvas.brief:
            first, second = _halves(canvas, title)
            if second and max(canvas.wide(first), canvas.wide(second)) <= room:
                return [first, second]
    return []


def _halves(canvas: Canvas, title: str) -> tuple[str, str]:
    """A name broken between two words so that the wider half is as narrow as can be; the second may be empty."""
    words = title.split(" ")
    breaks = [
        (" ".join(words[:count]).removesuffix(" ·"), " ".join(words[count:]).removeprefix("· "))
        for count in range(1, len(words))
    ]
    return min(breaks, key=lambda pair: max(canvas.wide(pair[0]), canvas.wide(pair[1])), default=(title, ""))


def _draw_bar(canvas: Canvas, bar: Bar, level: float) -> None:
    x0, x1 = canvas.x(bar.start), canvas.x(bar.end)
    is_chore = bar.kind not in ("stage", "break")
    half = canvas.bar / 2 * (0.44 if is_chore else 1.0)
    box = (x0, level - half, x1, level + half)
    canvas.item(bar, box, bar.start)
    role = "chore" if is_chore else bar.kind
    pattern = bar.pattern if is_chore else "solid"
    canvas.rect(box, role, BAR, pattern=pattern, round_by=2.0, of=bar)
    lines = _inside(canvas, bar)
    sole = SOLE * canvas.scale if bar.kind == "stage" and bar.pattern != "solid" else 0.0
    if sole:
        foot = (x0 + 1, level + half - sole, x1 - 1, level + half - 1)
        canvas.rect(foot, "sole", BAR, pattern=bar.pattern, of=bar)
    for number, line in enumerate(lines if not is_chore else []):
        y = level - sole / 2 + (number - (len(lines) - 1) / 2) * 12 * canvas.scale + 0.36 * canvas.small
        canvas.label(x0 + 5 * canvas.scale, y, line, f"{bar.kind} name", of=bar)


def _draw_others(canvas: Canvas, bars: Sequence[Bar], top: float) -> float:
    """Under the track, where the other plan has these stages at another time; gives back the lower edge."""
    shelf = Shelf(gap=1.0)
    for bar in bars:
        if bar.was is None:
            continue
        x0, x1 = (min(max(canvas.x(minute), canvas.margin), canvas.right) for minute in bar.was)
        row = shelf.put([(x0, x1)]) or 0
        y = top + canvas.gap(3) + row * (canvas.row + 2)
        canvas.rect((x0, y, x1, y + canvas.row), "other plan", STROKE, pattern="bare", of=bar)
        name = next((title for title in bar.titles[1:] if canvas.wide(title) + 7 <= x1 - x0), "")
        canvas.label(x0 + 4, y + 0.76 * canvas.row, name, "other plan name", of=bar)
    return top + (canvas.gap(3) + len(shelf.rows) * (canvas.row + 2) if shelf.rows else 0.0)


def _draw_flag(canvas: Canvas, thing: _Named, flag: Flag, bar: Interval) -> None:
    """The name, its staffs from the bar, and for sections the rail that joins them."""
    first = thing.bars[0]
    is_over = flag.side == "over"
    near, way = (bar[0], -1) if is_over else (bar[1], 1)
    middle = near + way * (flag.row + 0.5) * canvas.row + way * canvas.scale
    edge = middle - way * (0.5 * canvas.small + 1)
    text = (flag.left - 3, flag.left + canvas.wide(flag.text) + 3)
    for staff in flag.staffs:
        is_beside = not text[0] <= staff <= text[1]
        canvas.line((staff, middle if is_beside else edge, staff, near), "staff", STROKE)
    if len(flag.staffs) > 1:
        for start, end in ((min(flag.staffs), text[0]), (text[1], max(flag.staffs))):
            if start < end:
                canvas.line((start, middle, end, middle), "staff", STROKE)
    if flag.is_crossed:
        role = "name back" if first.zone[1] is None else "ground name back"
        canvas.rect((text[0], middle - canvas.row / 2, text[1], middle + canvas.row / 2), role, NAME_BACK)
    canvas.label(flag.left, middle + 0.36 * canvas.small, flag.text, "flag", of=first)
