"""The fewest sections of a surface, against trying every number and every minute; and what a section is given."""

import itertools
import random
import re
from pathlib import Path
from typing import Any

import pytest

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.day.file import day_from_text, day_to_toml
from planner.day.jobs import Job, Part
from planner.day.sections import in_sections, least_sections
from planner.day.without import without_stages
from planner.trade.units import minutes
from planner.trade.visits import usual_room_to_begin
from tests.days import tiny_day
from tests.trade.conftest import own_values

__all__ = ["own_values"]

ORDERS = ("same", "reversed", "any")


def holds(first: int, second: int, least: int, most: int, order: str, count: int, room: int) -> bool:
    """Whether each of so many sections has a gap that keeps every patch within the bounds, by looking at all; and so
    many more, the longest of them so much later than the shortest."""
    for number in range(1, count + 1):
        a = Part.model_construct(of="a", number=number, count=count).share(first)
        b = Part.model_construct(of="b", number=number, count=count, late=order != "same").share(second)
        ends = [((a + gap, gap + b) if order == "same" else (gap, a + gap + b)) for gap in range(most + 1)]
        gaps = [gap for gap, waits in enumerate(ends) if least <= min(waits) and max(waits) <= most]
        if not gaps or gaps[-1] - gaps[0] < room:
            return False
    return True


@pytest.mark.parametrize("order", ORDERS)
def test_the_closed_form_is_the_least_number_that_holds(order: str) -> None:
    """Minutes of at least the number of sections tried, so that none is left without a minute of its own."""
    bounds = itertools.product((0, 7), (1, 4, 9, 20), (0, 3, 5))
    for first, second, said in itertools.product(range(12, 40, 3), range(12, 40, 5), bounds):
        least, apart, room = said
        found = least_sections(first, second, least, least + apart, order, room)
        tried = next((n for n in range(1, 13) if holds(first, second, least, least + apart, order, n, room)), None)
        assert (found if found is not None and found <= 12 else None) == tried, (first, second, *said)


def test_spraying_27_and_washing_52_minutes_within_30_to_50_takes_two_sections() -> None:
    """By hand: 52 / 2 = 26 is within 50, and (52 - 27) / 2 = 12.5 within the 20 that most is above least; one pass is
    not, as 52 > 50. Laid from the bottom up and rinsed from the top down it would be (27 + 52) / 20, so four."""
    assert least_sections(27, 52, 30, 50, "same") == 2
    assert least_sections(27, 52, 30, 50, "reversed") == 4
    assert least_sections(27, 52, 30, 50, "any") == 4
    assert least_sections(27, 52, 30, 50, None) == 1
    assert least_sections(27, 52, 30, None, "same") == 1


def test_no_section_is_small_enough_where_nothing_may_differ() -> None:
    assert least_sections(10, 20, 30, 30, "same") is None
    assert least_sections(20, 20, 30, 30, "same") == 1
    assert least_sections(1, 1, 30, 30, "any") is None
    assert least_sections(10, 10, 0, 0, "same") is None


def cut_day(**changes: Any) -> Day:
    """The tiny day, its wall treated in 27 and rinsed in 52 minutes, with three cans of treatment."""
    tables = tiny_day().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["stages"]["treat"]["methods"] = {"spray": {"minutes": 27, "kit": ["sprayer"], "uses": {"cans": 3}}}
    job["stages"]["rinse"]["methods"] = {"lance": {"minutes": 52, "kit": ["washer"], "draws": 8.0}}
    job["stages"]["sweep"]["after"] = ["treat"]
    job["waits"] = [
        {"after": "treat", "before": "rinse", "kind": "dwell", "least": 30, "most": 50, "order": "same"} | changes
    ]
    job["quoted"] = {"Wall": ["treat", "rinse"]}
    tables["materials"] = {"cans": {"load": 0.5}}
    return Day.model_validate(tables)


def test_each_section_has_its_share_and_all_of_them_are_the_whole() -> None:
    whole = cut_day()
    assert faults_in(whole) == []
    job = in_sections(whole).jobs["elm"]
    assert list(job.stages) == ["treat_1", "treat_2", "rinse_1", "rinse_2", "sweep"]
    assert [job.likely_minutes(s, "spray") for s in ("treat_1", "treat_2")] == [14, 13]
    assert [job.likely_minutes(s, "lance") for s in ("rinse_1", "rinse_2")] == [26, 26]
    cans = [job.stages[s].methods["spray"].uses["cans"] for s in ("treat_1", "treat_2")]
    assert cans == [2, 1]  # one and a half for the first, from two cans; the rest of the second and the third
    assert [job.stages[s].methods["lance"].draws for s in ("rinse_1", "rinse_2")] == [4.0, 4.0]
    assert job.stages["treat_2"].after == ("treat_1",)
    assert job.stages["sweep"].after == ("treat_2",)
    assert [(w.after, w.before) for w in job.waits] == [("treat_1", "rinse_1"), ("treat_2", "rinse_2")]
    assert job.quoted == {"Wall": ("treat_1", "treat_2", "rinse_1", "rinse_2")}


def test_sections_that_are_left_open_their_own_containers() -> None:
    """One can is opened for the first section and serves both; where only the second is left, it opens it. Of
    three cans the second takes the rest of the second and the third: alone it takes one and a half, from two."""
    for cans, both, alone in ((1, [1, 0], 1), (3, [2, 1], 2)):
        whole = cut_day()
        tables = whole.model_dump(by_alias=True)
        tables["jobs"]["elm"]["stages"]["treat"]["methods"]["spray"]["uses"] = {"cans": cans}
        job = in_sections(Day.model_validate(tables)).jobs["elm"]
        assert [cans_of(job, s) for s in ("treat_1", "treat_2")] == both
        assert cans_of(without_stages(job, ["treat_1", "rinse_1"]), "treat_2") == alone
        assert cans_of(without_stages(job, ["treat_2", "rinse_2"]), "treat_1") == both[0]


def cans_of(job: Job, stage: str) -> int:
    """How many cans a stage opens."""
    return job.stages[stage].methods["spray"].uses["cans"]


def test_a_day_in_sections_is_not_cut_again_and_can_be_written() -> None:
    day = in_sections(cut_day())
    assert in_sections(day) == day
    back = day_from_text(day_to_toml(day), Path("back.toml"))
    assert back.jobs["elm"].stages == day.jobs["elm"].stages


def test_what_can_be_done_in_one_pass_with_room_to_begin_is_not_cut() -> None:
    """52 - 27 minutes within 60 - 30: the rinse may begin three minutes after the treatment or eight. Within 59 - 30
    there are but four minutes for that, and two sections are made."""
    assert usual_room_to_begin() == 5
    day = cut_day(most=60)
    assert in_sections(day) is day
    assert sections(cut_day(most=59)) == 2


def sections(day: Day) -> int:
    part = in_sections(day).jobs["elm"].stages["treat_1"].part
    assert part is not None
    return part.count


def test_where_no_number_leaves_that_room_they_are_the_fewest_that_hold() -> None:
    """27 and 25 minutes within 40 to 44 in the same order: |27 - 25| <= 4, so in one; and 27 and 52 in seven."""
    for rinse, count in ((25, 1), (52, 7)):
        day = cut_day(least=40, most=44, sections=12)
        tables = day.model_dump(by_alias=True)
        tables["jobs"]["elm"]["stages"]["rinse"]["methods"]["lance"]["minutes"] = rinse
        day = Day.model_validate(tables)
        assert in_sections(day) is day if count == 1 else sections(day) == count


def test_no_more_sections_are_made_for_room_than_are_allowed() -> None:
    """79 minutes within 20 take four; with room of five they would take 79 / 15, so six."""
    tight = {"order": "reversed"}
    assert [sections(cut_day(**tight, sections=n)) for n in (4, 5, 6, 12)] == [4, 5, 6, 6]


def test_no_section_is_made_shorter_than_the_room_that_it_would_leave() -> None:
    """8 and 7 minutes in the reversed order within 7 take three; for room of five 15 / 2, so eight of a minute each."""
    tables = cut_day(order="reversed", sections=12, most=37).model_dump(by_alias=True)
    for stage, method, takes in (("treat", "spray", 8), ("rinse", "lance", 7)):
        tables["jobs"]["elm"]["stages"][stage]["methods"][method]["minutes"] = takes
    assert least_sections(8, 7, 30, 37, "reversed", 5) == 8
    assert sections(Day.model_validate(tables)) == 3


def test_the_users_own_room_is_left(own_values: Any) -> None:
    for room, count in ((0, 4), (2, 5), (7, 7)):
        own_values(f'[visits.room_to_begin]\nminutes = "{room} min"\n')
        assert sections(cut_day(order="reversed", sections=12)) == count


def test_a_day_that_is_to_be_sure_is_cut_for_its_slow_days() -> None:
    """27 and 52 minutes in the reversed order within 20, with room of five: 79 / 15 in six sections.

    In nine days of ten both take up to a seventh longer (drawn from 0.85, 1 and 1.3 of it): 91 / 15, so seven.
    """
    tight = {"order": "reversed", "sections": 8}
    assert sections(cut_day(**tight)) == 6
    assert sections(cut_day(**tight).model_copy(update={"sure": 0.9})) == 7
    no_more = in_sections(cut_day(order="reversed").model_copy(update={"sure": 0.9})).jobs["elm"]
    assert "treat_4" in no_more.stages
    assert "treat_5" not in no_more.stages


@pytest.mark.parametrize(
    ("changes", "wrong", "right"),
    [
        ({"sections": 1}, "that takes 2 sections, and 1 is allowed", "write sections = 2 in this wait"),
        ({"least": 45}, "that takes 5 sections, and 4 are allowed", "write sections = 5 in this wait"),
        ({"least": 50}, "no section is small enough for that", "give a most of"),
        ({"most": 30}, "no section is small enough for that", "or a shorter least"),
    ],
)
def test_a_wait_that_cannot_hold_is_a_fault_with_its_numbers(
    changes: dict[str, Any], wrong: str, right: str
) -> None:
    found = faults_in(cut_day(**changes))
    assert [fault.place for fault in found] == [("jobs", "elm", "waits", 0, "most")]
    assert wrong in found[0].wrong
    assert "'treat' takes 27 min and 'rinse' 52 min" in found[0].wrong
    assert right in found[0].right


@pytest.mark.parametrize("seed", range(60))
def test_what_such_a_fault_advises_is_right(seed: int) -> None:
    """With the sections or the most that it asks for the fault is gone; with one less of either it is not."""
    rng = random.Random(seed)
    least = rng.randint(0, 50)
    said: dict[str, Any] = {
        "least": least, "most": least + rng.choice((0, 1, 3, 10)), "sections": rng.randint(1, 6),
        "order": rng.choice(("same", "reversed", "any")),
    }  # fmt: skip
    found = faults_in(cut_day(**said))
    if not found:
        return
    most = minutes(str(re.search("a most of (.*?) or more", found[0].right)[1]))  # type: ignore[index]
    assert not faults_in(cut_day(**said | {"most": most}))
    assert most == least or faults_in(cut_day(**said | {"most": most - 1}))
    assert ("shorter least" in found[0].right) <= (least > 0)
    if sections := re.search(r"sections = (\d+)", found[0].right):
        assert not faults_in(cut_day(**said | {"sections": int(sections[1])}))
        assert faults_in(cut_day(**said | {"sections": int(sections[1]) - 1}))


def test_two_pairs_in_sections_are_joined_section_by_section() -> None:
    """Filled and compacted twice in two sections each (52 and 48 minutes within 45); between them 90 minutes would do
    for one pass, but not from the first section of the one to the last of the other with all the rest between: a patch
    waits for its own section."""
    tables = tiny_day().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    surface = job["stages"]["treat"]["surface"]
    names = ("fill", "press", "fill again", "press again")
    job["stages"] = {
        name.replace(" ", "-"): {"surface": surface, "methods": {"by-hand": {"minutes": minutes, "kit": []}}}
        for name, minutes in zip(names, (32, 52, 24, 48), strict=True)
    }
    keys = list(job["stages"])
    mosts = (45, 90, 45)
    job["waits"] = [
        {"after": one, "before": two, "kind": "order", "most": most, "order": "same"}
        for one, two, most in zip(keys, keys[1:], mosts, strict=False)
    ]
    cut = in_sections(Day.model_validate(tables)).jobs["elm"]
    assert len(cut.stages) == 8
    assert {(w.after, w.before) for w in cut.waits if w.most == 90} == {
        ("press_1", "fill-again_1"),
        ("press_2", "fill-again_2"),
    }


def test_sections_are_beside_each_other_where_they_have_no_part_of_the_surface_in_common() -> None:
    """The second third lies over both halves; the second half begins where the second quarter ends."""

    def section(number: int, count: int, *, own: bool = False) -> Part:
        return Part(of="wash", number=number, count=count, own=own)

    assert section(1, 2).is_beside(section(3, 3))
    assert not section(1, 2).is_beside(section(2, 3))
    assert not section(2, 2).is_beside(section(2, 3))
    assert section(1, 2).is_beside(section(3, 4))
    assert section(2, 4).is_beside(section(3, 4))
    assert section(1, 2, own=True).is_beside(section(2, 3)), "a piece of what was begun is no half"
