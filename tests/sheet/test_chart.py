"""The picture of the day: nothing overlaps, nothing is cut, and everything of the plan is there."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path as FilePath

import pytest

from planner.day import Day
from planner.day.file import read_day
from planner.engine import first_plan
from planner.plan.plan import Plan, Rest
from planner.sheet.chart import Chart, Label, Line, Path, Rect, chart, describe
from planner.sheet.chart.text import table_measure
from tests.plan import worked
from tests.sheet.busy import busy_day, busy_plan

DAYS = {"tiny": worked.tiny, "pair": worked.pair, "round": worked.round_trip}


def full() -> tuple[Day, Plan]:
    """Four jobs of sixteen stages."""
    day = busy_day(4, 4)
    return day, busy_plan(day)


def pictures() -> Iterator[tuple[str, Chart]]:
    """Every day at a small and a large size."""
    for name, make in {**DAYS, "full": full}.items():
        day, plan = make()
        for width, height, scale in ((1366, 768, 1.0), (3840, 2160, 2.0), (640, 480, 1.0), (5000, 500, 1.0)):
            picture = chart(day, plan, width=width, height=height, scale=scale, now=plan.leaves + 40)
            yield f"{name} {width}", picture


PICTURES = dict(pictures())


@pytest.fixture(params=PICTURES)
def picture(request: pytest.FixtureRequest) -> Chart:
    return PICTURES[request.param]


def test_no_two_texts_overlap(picture: Chart) -> None:
    for one, other in combinations(picture.labels(), 2):
        left, top, right, bottom = one.box
        left2, top2, right2, bottom2 = other.box
        apart = right <= left2 or right2 <= left or bottom <= top2 or bottom2 <= top
        assert apart, (one.text, one.box, other.text, other.box)


def test_no_text_is_cut_by_the_page(picture: Chart) -> None:
    for label in picture.labels():
        left, top, right, bottom = label.box
        assert left >= 0, label
        assert top >= 0, label
        assert right <= picture.width + 0.5, label
        assert bottom <= picture.height + 0.5, label


def test_no_crossing_runs_through_a_text(picture: Chart) -> None:
    strokes = [s for s in picture.shapes if isinstance(s, Line) and s.role in ("crossing", "restricted crossing")]
    assert strokes or not any(item.about[0] == "crossing" for item in picture.items)
    for label in picture.labels():
        left, top, right, bottom = label.box
        for stroke in strokes:
            is_beside = not left < stroke.x1 < right
            is_over = bottom <= min(stroke.y1, stroke.y2) or top >= max(stroke.y1, stroke.y2)
            assert is_beside or is_over, (label.text, stroke)


def test_no_line_down_the_picture_runs_through_a_text(picture: Chart) -> None:
    """Home and the latest finish: where a text crosses one, something lies between both."""
    marks = [s for s in picture.shapes if isinstance(s, Line) and s.role in ("home", "finish")]
    assert marks
    boxes = [shape for shape in picture.shapes if isinstance(shape, Rect | Path)]
    for label in picture.labels():
        left, top, right, bottom = label.box
        for mark in marks:
            if not (left < mark.x1 < right and mark.y1 < top and bottom < mark.y2):
                continue
            middle = (top + bottom) / 2
            between = [box for box in boxes if mark.layer < box.layer < label.layer and _holds(box, mark.x1, middle)]
            assert between, (label.text, mark)


def _holds(shape: Rect | Path, x: float, y: float) -> bool:
    """Whether a point lies within what surrounds a shape."""
    corners = () if isinstance(shape, Path) else ((shape.x, shape.y), (shape.x + shape.width, shape.y + shape.height))
    points = shape.points if isinstance(shape, Path) else corners
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return min(xs) <= x <= max(xs) and min(ys) <= y <= max(ys)


def test_texts_stay_readable(picture: Chart) -> None:
    """Eleven pixels is the least that was asked for: on a small laptop it is read at arm's length."""
    assert min(label.size for label in picture.labels()) >= 11


@pytest.mark.parametrize("make", [*DAYS.values(), full])
def test_everything_of_the_plan_can_be_pointed_at(make) -> None:
    day, plan = make()
    picture = chart(day, plan, width=1366)
    abouts = {item.about for item in picture.items}
    assert {("work", w.job, w.stage) for w in plan.works} <= abouts
    assert {("crossing", c.job, c.ground, c.hand, c.start) for c in plan.crossings} <= abouts
    assert {("stay", s.job, s.ground, s.kit, s.number) for s in plan.stays} <= abouts
    assert {("rest", r.hand, r.start) for r in plan.rests} <= abouts
    assert {("drive", d.start) for d in plan.drives} <= abouts
    assert sum(about[0] == "chore" for about in abouts) == len(plan.chores)
    waits = {
        ("wait", j, w.after, w.before or "") for j, job in day.jobs.items() for w in job.waits if w.kind != "order"
    }
    assert waits <= abouts


def named_in(picture: Chart) -> dict[tuple[str | int, ...], str]:
    """The names that stages bear in the picture, in them or beside them, lines of one name joined."""
    told: dict[tuple[str | int, ...], str] = {}
    for label in picture.labels():
        if label.role in ("stage name", "flag"):
            told[label.about] = f"{told[label.about]} {label.text}" if label.about in told else label.text
    return told


def test_every_name_is_written_whole_beside_its_stage(picture: Chart) -> None:
    """The full day's stages are called by what is done to what, as its maker calls them."""
    named = named_in(picture)
    for item in picture.items:
        if item.about[0] == "work":
            assert item.about in named
            assert "…" not in named[item.about]
    assert not [label for label in picture.labels() if label.role == "number"]


def test_time_runs_evenly_from_left_to_right() -> None:
    day, plan = worked.tiny()
    picture = chart(day, plan, width=1366)
    assert picture.x_of(picture.first) == picture.margin
    assert picture.x_of(picture.last) == pytest.approx(picture.width - picture.edge)
    per_minute = picture.x_of(501) - picture.x_of(500)
    for work in plan.works:
        item = picture.item(("work", work.job, work.stage))
        assert item is not None
        assert item.width == pytest.approx((work.end - work.start) * per_minute)
        assert picture.minute_at(item.x) == work.start


def test_work_behind_lies_below_the_threshold_and_work_in_front_above() -> None:
    day, plan = worked.pair()
    picture = chart(day, plan, width=1366)
    (threshold,) = {s.y1 for s in picture.shapes if isinstance(s, Line) and s.role == "threshold sill"}
    for work in plan.works:
        job = day.jobs[work.job]
        item = picture.item(("work", work.job, work.stage))
        assert item is not None
        is_open = job.grounds[job.ground_of(work.stage)].way_in.is_open
        assert (item.y + item.height < threshold) if is_open else (item.y > threshold)


def test_a_hand_steps_over_the_threshold_twice_for_each_crossing() -> None:
    day, plan = worked.tiny()
    picture = chart(day, plan, width=1366)
    (sill,) = {s.y1 - 3.5 for s in picture.shapes if isinstance(s, Line) and s.role == "threshold sill"}
    (path,) = [s for s in picture.shapes if isinstance(s, Path) and s.role == "path 1"]
    ys = [y for _, y in path.points if y != sill]
    steps = sum((a < sill) != (b < sill) for a, b in pairwise(ys))
    assert steps == 2 * len(plan.crossings)
    xs = [x for x, _ in path.points]
    assert xs == sorted(xs)


def test_restricted_crossings_are_heavy_and_others_are_not() -> None:
    day, plan = worked.tiny()
    assert {s.role for s in chart(day, plan, width=900).shapes if "crossing" in s.role and isinstance(s, Line)} == {
        "restricted crossing"
    }
    tables = day.model_dump(by_alias=True)
    tables["jobs"]["elm"]["grounds"]["rear"]["way_in"]["restricted"] = False
    free = chart(Day.model_validate(tables), plan, width=900)
    assert {s.role for s in free.shapes if "crossing" in s.role and isinstance(s, Line)} == {"crossing"}


def test_a_wait_is_bare_just_where_no_hand_does_anything() -> None:
    """By the tiny plan's own table: treat ends 508, then pack down to 512, sweep to 532, walk out and in to 536,
    set up to 542; so no minute is bare. Without the sweep 512 to 532 is."""
    day, plan = worked.tiny()
    assert not [s for s in chart(day, plan, width=1366).shapes if s.role == "bare pool"]
    idle = replace(plan, works=tuple(w for w in plan.works if w.stage != "sweep"))
    picture = chart(day, idle, width=1366)
    (bare,) = [s for s in picture.shapes if isinstance(s, Rect) and s.role == "bare pool" and s.about]
    assert picture.minute_at(bare.x) == 512
    assert picture.minute_at(bare.x + bare.width) == 532
    assert any(isinstance(s, Label) and s.text == "bare 20" for s in picture.shapes)


def test_the_least_and_the_most_of_a_wait_are_marked() -> None:
    day, plan = worked.tiny()
    picture = chart(day, plan, width=1366)
    (least,) = [s for s in picture.shapes if isinstance(s, Line) and s.role == "least"]
    (most,) = [s for s in picture.shapes if isinstance(s, Line) and s.role == "most"]
    assert picture.minute_at(least.x1) == 508 + 30
    assert picture.minute_at(most.x1) == 508 + 45


def test_jobs_that_follow_each_other_share_a_lane_and_a_job_returned_to_has_its_own() -> None:
    one_lane = chart(*full(), width=1366)
    assert len([s for s in one_lane.shapes if s.role == "lane edge"]) == 1
    two_lanes = chart(*worked.round_trip(), width=1366)
    assert len([s for s in two_lanes.shapes if s.role == "lane edge"]) == 2


def test_two_hands_have_two_paths_each_with_a_name() -> None:
    day, plan = worked.pair()
    picture = chart(day, plan, width=1366)
    assert {s.role for s in picture.shapes if isinstance(s, Path) and s.role.startswith("path")} == {"path 1", "path 2"}
    names = {label.role: label.text for label in picture.labels() if label.role.startswith("hand")}
    assert names == {"hand 1": "Ash", "hand 2": "Bo"}


def test_a_given_height_is_kept_to_where_it_can_be() -> None:
    natural = chart(*worked.tiny(), width=1366)
    roomy = chart(*worked.tiny(), width=1366, height=natural.height + 80)
    assert natural.height < roomy.height <= natural.height + 80
    day = busy_day(2, 2)
    assert chart(day, busy_plan(day), width=1366, height=768).height <= 768


def test_the_other_plan_is_marked_where_it_differs() -> None:
    day, plan = worked.tiny()
    later = replace(plan, works=tuple(replace(w, start=w.start + 5, end=w.end + 5) for w in plan.works))
    picture = chart(day, plan, width=1366, compare=later)
    marked = {s.about for s in picture.shapes if s.role == "other plan" and s.about}
    assert marked == {("work", w.job, w.stage) for w in plan.works}
    assert not [s for s in chart(day, plan, width=1366, compare=plan).shapes if s.role == "other plan" and s.about]


def test_the_words_come_in_order_of_time_and_tell_each_stage() -> None:
    day, plan = worked.tiny()
    picture = chart(day, plan, width=1366)
    words = describe(picture)
    minutes = [item.minute for item in picture.items]
    assert minutes == sorted(minutes)
    told = [line for line in words if line.startswith("Rinse")]
    assert len(told) == 1
    assert "09:02 to 09:17 (15 min)" in told[0]
    assert any("Restricted crossing through the house" in line and "in with washer" in line for line in words)


def test_strange_names_and_a_break_on_the_road_do_no_harm() -> None:
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    tables["jobs"]["elm"]["title"] = "Ω" * 300 + " \u202e<b>&"
    tables["jobs"]["elm"]["stages"]["treat"]["name"] = "W" * 390
    tables["hands"]["ash"]["name"] = "名前" * 50
    on_the_road = replace(plan, rests=(Rest("ash", plan.leaves, plan.leaves + 5),))
    picture = chart(Day.model_validate(tables), on_the_road, width=700)
    assert all(label.box[2] <= picture.width for label in picture.labels())
    assert picture.item(("rest", "ash", plan.leaves)) is not None


def test_a_plan_without_anything_is_still_a_picture() -> None:
    day, _ = worked.tiny()
    picture = chart(day, Plan((), (), ()), width=900)
    assert picture.height > 0
    assert picture.last > picture.first


@pytest.mark.parametrize("face", ["Helvetica", "Times-Roman"])
def test_the_table_of_widths_is_never_narrower_than_the_faces_of_print(face: str) -> None:
    """Against the Adobe font metrics that reportlab carries for its standard faces."""
    metrics = pytest.importorskip("reportlab.pdfbase.pdfmetrics")
    for text in ("Cut the joints out · 51 min", "WASH AND RETURN", "07:30–18:15", "iiiillll''..", "Müller, Ånd"):
        assert table_measure(text, 10) >= metrics.stringWidth(text, face, 10)
        bold = {"Helvetica": "Helvetica-Bold", "Times-Roman": "Times-Bold"}[face]
        assert table_measure(text, 10, True) >= metrics.stringWidth(text, bold, 10)


SAMPLES = sorted(FilePath(__file__).parents[2].joinpath("sample_days").glob("*.toml"))


@pytest.mark.parametrize("file", SAMPLES, ids=lambda file: file.stem)
def test_the_sample_days_are_drawn_without_overlap_and_name_every_stage(file: FilePath) -> None:
    """At the widths that a window of 1366 by 768 leaves to the picture, with a page beside it and without."""
    day = read_day(file)
    plan = first_plan(day)
    if plan is None:
        pytest.skip("no plan is made for this day by the plain rule")
    for width in (780, 1200):
        picture = chart(day, plan, width=width, height=560)
        test_no_two_texts_overlap(picture)
        test_no_text_is_cut_by_the_page(picture)
        test_no_crossing_runs_through_a_text(picture)
        test_no_line_down_the_picture_runs_through_a_text(picture)
        test_texts_stay_readable(picture)
        _every_stage_bears_its_name(day, plan, picture)


def _every_stage_bears_its_name(day: Day, plan: Plan, picture: Chart) -> None:
    """What a stage is called in its file stands whole in it or beside it; sections of a stage share its name."""
    named = named_in(picture)
    for work in plan.works:
        job = day.jobs[work.job]
        stage = job.stages[work.stage]
        whole = stage.part.of if stage.part else work.stage
        alike = [key for key, other in job.stages.items() if other.part and other.part.of == whole] or [work.stage]
        told = [named.get(("work", work.job, key), "") for key in alike]
        called = (stage.name or stage.kind).split(", section")[0]
        assert any(called.lower() in text.lower() for text in told), (called, told)


def test_a_wait_is_named_whole_where_there_is_room_beside_it() -> None:
    """Too narrow for its name, it is not called by its kind alone while there is room beside it."""
    day, plan = worked.tiny()
    narrow = chart(day, plan, width=700)
    [name] = [label for label in narrow.labels() if label.role == "pool name"]
    [basin] = [item for item in narrow.items if item.about[:1] == ("wait",)]
    assert name.text == "wall: dwell 30–45 min"
    assert not basin.x <= name.x < basin.x + basin.width


def test_a_long_name_of_a_ground_goes_over_two_lines() -> None:
    day, plan = worked.tiny()
    elm = day.jobs["elm"]
    rear = elm.grounds["rear"].model_copy(update={"name": "Rear, by the side passage"})
    job = elm.model_copy(update={"grounds": {**elm.grounds, "rear": rear}})
    picture = chart(day.model_copy(update={"jobs": {"elm": job}}), plan, width=1366)
    told = [label.text for label in picture.labels() if label.role == "ground name"]
    assert len(told) == 2
    assert " ".join(told) == "Rear, by the side passage"


def test_kit_is_named_even_between_two_drives_at_the_narrowest() -> None:
    day, plan = worked.tiny()
    kit = {key: one.model_copy(update={"name": f"A rather long name for the {key}"}) for key, one in day.kit.items()}
    picture = chart(day.model_copy(update={"kit": kit}), plan, width=480, kit_folded=False)
    told = [label.text for label in picture.labels() if label.role == "kit name"]
    assert len(told) == 3
    assert all(text.startswith("A r") for text in told), told


def test_a_promise_beside_another_jobs_visit_says_whose_it_is() -> None:
    day = read_day("sample_days/three_jobs_two_hands.toml")
    plan = first_plan(day)
    assert plan is not None
    after = next(v.arrive for v in plan.visits if v.job == "quarry") + 35
    kiln = day.jobs["kiln"].model_copy(update={"done_by": after})
    picture = chart(day.model_copy(update={"jobs": {**day.jobs, "kiln": kiln}}), plan, width=1900)
    [told] = [label.text for label in picture.labels() if "promised gone" in label.text]
    assert told.startswith(f"{kiln.title}: ")
