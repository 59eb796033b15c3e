"""The path of each hand through the day: over thresholds, along tracks, and on the road between jobs."""

from planner.plan.plan import Attendance, Drive
from planner.sheet.chart.canvas import PATH, Canvas
from planner.sheet.chart.scene import Scene
from planner.sheet.chart.shapes import Thing
from planner.sheet.chart.things import Tread

Point = tuple[float, float]


def draw_paths(canvas: Canvas, reading: Scene) -> None:
    """Draw every hand's path, thresholds and tracks being placed already."""
    for number, hand in enumerate(reading.day.hands, start=1):
        name = reading.names.hand(hand)
        for points in _hand_paths(canvas, reading, hand):
            canvas.path(points, f"path {number}", PATH, of=Thing(words=f"The path of {name}"))


def _hand_paths(canvas: Canvas, reading: Scene, hand: str) -> list[list[Point]]:
    """The stretches of a hand's path: one for those in the van, one for each attendance of the others."""
    if not reading.day.hands[hand].own_transport:
        points: list[Point] = []
        for drive in sorted(reading.plan.drives, key=lambda d: d.start):
            points += _drive(canvas, reading, hand, drive)
        own = [step for step in reading.steps if step.hand == hand]
        return [_woven(canvas, points, own)] if points else []
    return [
        _attendance(canvas, reading, attendance) for attendance in reading.plan.attendances if attendance.hand == hand
    ]


def _drive(canvas: Canvas, reading: Scene, hand: str, drive: Drive) -> list[Point]:
    """From track to track; between jobs of one lane up over its edge, as to the van's strip, and down again."""
    left, reached = (reading.visit_at(drive, is_end=is_end) for is_end in (False, True))
    start, end = canvas.x(drive.start), canvas.x(drive.end)
    first = (start, _level(canvas, reading, hand, drive, is_end=False))
    last = (end, _level(canvas, reading, hand, drive, is_end=True))
    if left is None or reached is None or reading.lane_of(left.job) != reading.lane_of(reached.job):
        return [first, last]
    top, part = canvas.tops[left.job], (end - start) / 4
    return [first, (start + part, top), (end - part, top), last]


def _level(canvas: Canvas, reading: Scene, hand: str, drive: Drive, *, is_end: bool) -> float:
    """Where a drive begins or ends: on the hand's track at the job, or else on the van's strip."""
    visit = reading.visit_at(drive, is_end=is_end)
    if visit is None:
        return canvas.strip
    return canvas.levels.get(((visit.job, None), hand), canvas.tops[visit.job])


def _attendance(canvas: Canvas, reading: Scene, attendance: Attendance) -> list[Point]:
    """The path of a hand who comes and goes on their own: in from the lane's top edge, and out."""
    level = canvas.levels[(attendance.job, None), attendance.hand]
    start, end = canvas.x(attendance.arrive), canvas.x(attendance.leave)
    rise = 12 * canvas.scale
    points = [(start - 5, level - rise), (start, level), (end, level), (end + 5, level - rise)]
    here = [
        step
        for step in reading.steps
        if step.hand == attendance.hand
        and step.zone[0] == attendance.job
        and attendance.arrive <= step.start <= attendance.leave
    ]
    return _woven(canvas, points, here)


def _woven(canvas: Canvas, points: list[Point], steps: list[Tread]) -> list[Point]:
    """The path with its steps over thresholds put in, each where its time comes."""
    woven = list(points)
    for step in steps:
        up, down = canvas.levels[(step.zone[0], None), step.hand], canvas.levels[step.zone, step.hand]
        sill = canvas.thresholds[step.zone]
        (a, b), (c, d) = step.legs
        minutes = (a, (a + b) / 2, b, c, (c + d) / 2, d)
        woven += [(canvas.x(m), y) for m, y in zip(minutes, (up, sill, down, down, sill, up), strict=True)]
    order = sorted(range(len(woven)), key=lambda number: (woven[number][0], number))
    return [woven[number] for number in order]
