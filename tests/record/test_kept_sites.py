"""Customers and their sites are kept in one file of the user's own, and come into a day with all that was said."""

import datetime as dt
from pathlib import Path

import pytest

from planner.day.editing import edited
from planner.day.faults import DayFaults
from planner.day.holding import FileInUse, hold
from planner.day.reading import day_from_text, tables_of
from planner.record.kept_sites import CustomersFault, Site, forget_site, into_day, keep_site, read_customers, site_in

HERE = Path("day.toml")
TODAY = dt.date(2026, 6, 16)

EMPTY = """format = 1
date = 2026-06-17
[van]
starts_at = "yard"
ends_at = "yard"
[places.yard]
name = "Our yard"
[hands.hand-1]
"""
DAY = EMPTY + """[places.larch]
name = "12 Larch Rise"
[travel]
trips = [{ from = "larch", to = "yard", minutes = "12 min" }]
[jobs.larch]
title = "12 Larch Rise"
place = "larch"
arrive = ["08:00", "09:00"]
quiet = [["12:00", "13:00"]]
note = "Mind the cat"
[jobs.larch.customer]
name = "Mrs Bird"
phone = "01632 960017"
[jobs.larch.grounds.rear]
name = "Rear"
way_in = { minutes = "2 min", restricted = true, through = "the house" }
supplies = { tap = 1, socket = 2 }
[[jobs.larch.recipes]]
recipe = "treat-wall"
area = "8 m2"
"""


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    path = tmp_path / "own" / "customers.toml"
    keep_site(path, site_in(tables_of(DAY, HERE), "larch", TODAY))
    return path


def test_a_site_comes_into_another_day_with_its_way_in_taps_quiet_hours_and_measures(kept: Path) -> None:
    [site] = read_customers(kept).sites.values()
    assert (site.title, site.drive, site.kept) == ("12 Larch Rise, Mrs Bird", "12 min", TODAY)
    text = edited(EMPTY, into_day(site, tables_of(EMPTY, HERE)), HERE)
    before, after = (day_from_text(said, HERE) for said in (DAY, text))
    [old], [new] = before.jobs.values(), after.jobs.values()
    assert new.arrive is None, "an appointment belongs to its date"
    assert new.model_copy(update={"arrive": old.arrive, "place": old.place}) == old
    assert after.drive_minutes("yard", new.place) == 12
    assert after.places[new.place].name == "12 Larch Rise"


def test_without_the_work_the_rest_comes(kept: Path) -> None:
    [site] = read_customers(kept).sites.values()
    assert "recipes" not in site.without_work().job
    assert site.without_work().job["grounds"] == site.job["grounds"]


def test_a_place_that_the_day_has_is_not_put_in_twice(kept: Path) -> None:
    [site] = read_customers(kept).sites.values()
    once = edited(EMPTY, into_day(site, tables_of(EMPTY, HERE)), HERE)
    twice = tables_of(edited(once, into_day(site, tables_of(once, HERE)), HERE), HERE)
    assert len(twice["places"]) == 2
    assert len(twice["travel"]["trips"]) == 1
    assert len(twice["jobs"]) == 2


def test_kept_again_it_takes_the_place_of_the_one_before_and_others_and_remarks_stay(kept: Path) -> None:
    other = Site({"title": "Elm", "grounds": {"front": {}}}, {"name": "Elm Road"})
    keep_site(kept, other)
    kept.write_text(kept.read_text("utf-8") + "# a remark\n", "utf-8")
    moved = site_in(tables_of(DAY.replace("Mind the cat", "Two cats"), HERE), "larch", TODAY)
    keep_site(kept, moved)
    sites = read_customers(kept).sites
    assert [site.title for site in sites.values()] == ["12 Larch Rise, Mrs Bird", "Elm Road"]
    assert next(iter(sites.values())).job["note"] == "Two cats"
    assert "# a remark" in kept.read_text("utf-8")
    forget_site(kept, next(iter(sites)))
    assert [site.title for site in read_customers(kept).sites.values()] == ["Elm Road"]
    forget_site(kept, next(iter(read_customers(kept).sites)))
    assert read_customers(kept).sites == {}
    keep_site(kept, other)
    assert len(read_customers(kept).sites) == 1


@pytest.mark.parametrize("text", ["[customers\n", "format = 2\n", "customers = 3\n", "\x00"])
def test_a_file_that_cannot_be_used_is_told_and_left_as_it_is(kept: Path, text: str) -> None:
    kept.write_text(text, "utf-8")
    with pytest.raises(CustomersFault, match=r"customers\.toml"):
        read_customers(kept)
    with pytest.raises(CustomersFault):
        keep_site(kept, Site({}, {}))
    assert kept.read_text("utf-8") == text


def test_one_site_at_fault_keeps_nobody_from_the_others(kept: Path) -> None:
    kept.write_text(kept.read_text("utf-8") + "\n[customers.elm]\nplace = 3\n", "utf-8")
    found = read_customers(kept)
    assert len(found.sites) == 1
    [fault] = found.faults
    assert "customers.elm" in fault


def test_while_another_window_writes_nothing_is_written(kept: Path) -> None:
    before = kept.read_bytes()
    held = hold(kept)
    try:
        with pytest.raises(FileInUse):
            keep_site(kept, Site({"title": "Elm"}, {}))
    finally:
        held.let_go()
    assert kept.read_bytes() == before


def test_what_a_site_says_wrongly_is_told_as_of_any_day(kept: Path) -> None:
    kept.write_text(kept.read_text("utf-8").replace('"2 min"', '"soon"'), "utf-8")
    [site] = read_customers(kept).sites.values()
    with pytest.raises(DayFaults, match="soon"):
        day_from_text(edited(EMPTY, into_day(site, tables_of(EMPTY, HERE)), HERE), HERE)
