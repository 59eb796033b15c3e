"""A lane: the threshold of one job, or of several that follow each other, the van above it and the ground below."""

from collections.abc import Sequence
from itertools import pairwise

from planner.sheet.chart.canvas import GRID, GROUND, PATH, Canvas
from planner.sheet.chart.headers import PAD, caption, draw_header
from planner.sheet.chart.pools import draw_bands, draw_pools
from planner.sheet.chart.scene import Scene
from planner.sheet.chart.shapes import Thing
from planner.sheet.chart.shelf import Interval
from planner.sheet.chart.steps import draw_doorstep, draw_numbers, draw_strokes, legs_above, legs_below
from planner.sheet.chart.text import wrapped
from planner.sheet.chart.things import Stripe, Zone
from planner.sheet.chart.tracks import draw_track

Lane = list[str]
"""The jobs of one lane, in order of time."""


def draw_lane(canvas: Canvas, reading: Scene, lane: Lane, top: float) -> float:
    """Draw a lane under ``top``; gives back the lower edge."""
    for job in lane:
        canvas.tops[job] = top
    bottom = draw_header(canvas, reading, lane, top)
    zones = [reading.zones(job) for job in lane]
    depth = max(len(own) for own in zones)
    bottom = _draw_van_side(canvas, reading, [own[0] for own in zones], bottom, has_threshold=depth > 1)
    for level in range(1, depth):
        deeper = [step for step in reading.steps if any(step.zone in own[level + 1 :] for own in zones)]
        here = [own[level] for own in zones if level < len(own)]
        bottom = _draw_ground(canvas, reading, here, legs_below(canvas, deeper), bottom)
    canvas.line((0, bottom, canvas.width, bottom), "lane edge", GRID)
    return bottom


def _drives(canvas: Canvas, reading: Scene, zones: Sequence[Zone], *, below: bool) -> list[Interval]:
    """Where the road to another lane runs through this one."""
    crossed = reading.drives_through(zones[0][0], below=below)
    return [(canvas.x(start), canvas.x(end)) for start, end in crossed]


def _draw_van_side(
    canvas: Canvas, reading: Scene, zones: Sequence[Zone], top: float, *, has_threshold: bool
) -> float:
    """The tracks at the van and in front, with the kit and the waits of the open grounds."""
    drives = _drives(canvas, reading, zones, below=False)
    jobs = [zone[0] for zone in zones]
    steps = [step for step in reading.steps if step.zone[0] in jobs]
    bottom = draw_bands(canvas, _bands(canvas, reading, zones), drives, top)
    passed: list[Interval] = list(drives)
    for hand in reading.hands_in(zones):
        bars = [bar for bar in reading.bars if bar.zone in zones and bar.hand == hand]
        over = list(passed)
        passed += legs_above(canvas, [step for step in steps if step.hand == hand])
        under = [*passed, *_drives(canvas, reading, zones, below=True)]
        level, bottom = draw_track(canvas, bars, over, under, bottom + canvas.gap(2))
        _set_level(canvas, reading, zones, hand, level)
    passed += _drives(canvas, reading, zones, below=True)
    pools = [pool for pool in reading.pools if pool.zone in zones]
    bottom = draw_pools(canvas, pools, passed, bottom - canvas.bar, bottom)
    bottom += canvas.gap(10) + 10 * canvas.scale
    grounds = [ground for job in jobs for ground in reading.open_grounds(job)]
    if has_threshold or grounds:
        bottom = _say_van_side(canvas, list(dict.fromkeys(grounds)), bottom)
    return bottom


def _say_van_side(canvas: Canvas, grounds: list[str], bottom: float) -> float:
    """Say in the margin that this is at the van, and which grounds are in front; gives back the lower edge."""
    whole = " · ".join(["At the van", *grounds])
    fits = canvas.wide(whole) <= canvas.margin - 1.5 * PAD * canvas.scale
    lines = [whole] if fits or not grounds else ["At the van", " · ".join(grounds)]
    bottom += (len(lines) - 1) * canvas.row
    for number, line in enumerate(reversed(lines)):
        caption(canvas, line, bottom - 5 * canvas.scale - number * canvas.row, "caption")
    return bottom


def _draw_ground(
    canvas: Canvas, reading: Scene, zones: Sequence[Zone], deeper: Sequence[Interval], top: float
) -> float:
    """The grounds under their thresholds: loads on the doorstep, tracks, pools, kit."""
    steps = [step for step in reading.steps if step.zone in zones]
    for zone in zones:
        canvas.thresholds[zone] = top
    floor = _name_grounds(canvas, reading, zones, top)
    passing = [*_drives(canvas, reading, zones, below=True), *deeper]
    tell = draw_numbers if canvas.brief else draw_doorstep
    bottom = tell(canvas, steps, passing, top + 7 * canvas.scale)
    hands = reading.hands_in(zones)
    for number, hand in enumerate(hands):
        bars = [bar for bar in reading.bars if bar.zone in zones and bar.hand == hand]
        over, under = (
            [*passing, *legs_below(canvas, [step for step in steps if step.hand in hands[first:]])]
            for first in (number, number + 1)
        )
        ceiling = max(0.0, floor - bottom) if number == 0 else 0.0
        level, bottom = draw_track(canvas, bars, over, under, bottom + canvas.gap(2), ceiling)
        _set_level(canvas, reading, zones, hand, level)
    pools = [pool for pool in reading.pools if pool.zone in zones]
    bottom = draw_pools(canvas, pools, passing, top, max(bottom, floor))
    bottom = draw_bands(canvas, _bands(canvas, reading, zones), passing, bottom) + canvas.gap(8)
    for zone in zones:
        _draw_threshold(canvas, reading, zone, top, bottom)
    draw_strokes(canvas, steps, top)
    return bottom


def _bands(canvas: Canvas, reading: Scene, zones: Sequence[Zone]) -> list[Stripe]:
    """The kit that is shown in some zones: none in a brief picture, which leaves it to the order of the day."""
    return [] if canvas.brief else [band for band in reading.bands if band.zone in zones]


def _draw_threshold(canvas: Canvas, reading: Scene, zone: Zone, y: float, bottom: float) -> None:
    """The line of the way in while the van stands there, double when restricted, and the ground under it."""
    job, ground = zone[0], zone[1] or ""
    way = reading.day.jobs[job].grounds[ground].way_in
    role = "restricted threshold" if way.restricted else "threshold"
    told = reading.way_words(zone)
    for visit in reading.plan.visits:
        if visit.job == job:
            x0, x1 = canvas.x(visit.arrive), canvas.x(visit.depart)
            canvas.rect((x0, y, x1, bottom), "ground", GROUND)
            canvas.line((x0, y, x1, y), role, PATH, of=Thing(words=told))
            if way.restricted:
                canvas.line((x0, y + 3.5, x1, y + 3.5), "threshold sill", PATH)
    laid = sorted(
        (chore.start, chore.end, chore.what)
        for chore in reading.plan.chores
        if (chore.job, chore.ground) == zone and chore.what in ("lay", "lift")
    )
    for first, second in pairwise(laid):
        if (first[2], second[2]) == ("lay", "lift"):
            box = (canvas.x(first[1]), y - 4.5, canvas.x(second[0]), y - 1.5)
            canvas.rect(box, "sheets", PATH, pattern="hatch", of=Thing(words="Floor protection is down"))


def _name_grounds(canvas: Canvas, reading: Scene, zones: Sequence[Zone], top: float) -> float:
    """The ground and its way in, in the margin, or a common word for several; gives back the lower edge."""
    restricted = any(reading.day.jobs[job].grounds[key or ""].way_in.restricted for job, key in zones)
    role = "restricted threshold" if restricted else "threshold"
    canvas.line((0, top, canvas.margin, top), role, GRID, pinned="left")
    canvas.line((canvas.margin, top, canvas.width, top), "far threshold", GRID)
    names = {reading.names.ground(job, key or "") for job, key in zones}
    ways = {reading.way_words(zone) for zone in zones}
    title = names.pop() if len(names) == 1 else "On the ground"
    way = ways.pop() if len(ways) == 1 else "each by its own way in"
    baseline = top + 2
    room = canvas.margin - 1.5 * PAD * canvas.scale
    for text, role, bold in ((title, "ground name", True), (way, "caption", False)):
        for line in wrapped(text, room, canvas.small, canvas.measure, lines=2, bold=bold):
            baseline += 0.95 * canvas.row
            caption(canvas, line, baseline, role, bold=bold)
    return baseline + 0.3 * canvas.row


def _set_level(canvas: Canvas, reading: Scene, zones: Sequence[Zone], hand: str, level: float) -> None:
    """Remember where a hand's track lies, and name the hand in the margin at the end of a sample of its line."""
    for zone in zones:
        canvas.levels[zone, hand] = level
    if len(reading.day.hands) == 1:
        return
    number = list(reading.day.hands).index(hand) + 1
    right = canvas.margin - 6 * canvas.scale
    start = right - 22 * canvas.scale
    name = reading.names.hand(hand)
    canvas.line((start, level, right, level), f"path {number}", PATH, pinned="left")
    canvas.label(
        start - 4,
        level + 0.35 * canvas.small,
        name,
        f"hand {number}",
        anchor="end",
        pinned="left",
        room=canvas.margin * 0.6,
        of=Thing(words=name),
    )
