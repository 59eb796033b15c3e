"""Quoted work goes in from a table and comes out as a job, with nothing lost on the way."""

from datetime import date
from pathlib import Path

import pytest

from planner.day.faults import DayFaults
from planner.day.job_rows import COLUMNS, jobs_from_csv
from planner.record import Quote, QuotedWork, Record
from planner.record.quoted_jobs import job_of, quotes_from_csv, table_of_jobs
from planner.trade.library import MEASURES

FILE = Path("jobs.csv")
QUOTED = date(2026, 2, 1)
SHIPPED = Path(__file__).parent.parent.parent / "sample_days" / "jobs.csv"


def test_what_comes_out_is_what_went_in(record: Record) -> None:
    text = SHIPPED.read_text(encoding="utf-8")
    wanted = jobs_from_csv(text, SHIPPED)
    kept = [record.add_quote(quote) for quote in quotes_from_csv(text, SHIPPED, QUOTED)]
    assert [(q.title, q.customer, len(q.work)) for q in kept] == [
        ("Alder Bank, patio and gutters", "Mr Okafor", 2),
        ("Birch View, garden wall", "Ms Lindqvist", 1),
    ]
    for quote, job in zip(kept, wanted.values(), strict=True):
        key, brought = job_of(record.quote(quote.id))
        assert brought == job
        assert key in ("alder-bank-patio-and-gutters", "birch-view-garden-wall")


def test_no_column_of_the_table_is_lost() -> None:
    cells = {
        "job": "Elm", "recipe": "clear-gutters", "title": "9 Elm Row", "place": "elm", "priority": "2",
        "done_by": "15:00", "price": "90", "visits": "2", "customer": "Ms Orme", "arrive_from": "08:00",
        "arrive_to": "09:00", "ground": "front", "way_in": "2 min", "restricted": "yes", "through": "the hall",
        "load_limit": "1.5", "protection": "ours", "taps": "1", "sockets": "1", "name": "Front gutter",
        "surface": "gutter", "prefix": "front", "quoted": "Clear the front gutter", "run": "11 m",
    }  # fmt: skip
    asked_by_other_recipes = {"conditions", "before", "after", "over", "worked_from", "drains_to", "area", "slab"}
    asked_by_other_recipes |= {word for word in COLUMNS if word.startswith(("joint", "loose", "disc", "stock", "tap_"))}
    asked_by_other_recipes |= MEASURES.keys() - cells.keys()
    assert set(COLUMNS) - asked_by_other_recipes == set(cells)
    text = table_of_jobs([cells])
    [quote] = quotes_from_csv(text, FILE, QUOTED)
    assert job_of(quote)[1] == jobs_from_csv(text, FILE)["elm"]


def test_promises_go_with_their_pieces_of_work_when_there_are_as_many() -> None:
    text = SHIPPED.read_text(encoding="utf-8")
    quote = quotes_from_csv(text, SHIPPED, QUOTED, ["Patio like new", "Gutters run free"])[0]
    _, job = job_of(quote)
    assert [recipe["quoted"] for recipe in job["recipes"]] == ["Patio like new", "Gutters run free"]


def test_a_promise_for_the_whole_job_stands_over_all_its_stages() -> None:
    quote = quotes_from_csv("job,recipe,run,taps\nElm,clear-gutters,8 m,1\n", FILE, QUOTED, ["One", "Two"])[0]
    _, job = job_of(quote)
    assert list(job["quoted"]) == ["One", "Two"]
    assert job["quoted"]["One"] == job["quoted"]["Two"] != []


def test_a_place_that_was_not_said_is_the_jobs_own() -> None:
    text = "job,title,recipe,run,taps\n9 Elm,A very long way to say gutters,clear-gutters,8 m,1\n"
    _, job = job_of(quotes_from_csv(text, FILE, QUOTED)[0])
    assert (job["place"], job["title"]) == ("9-elm", "A very long way to say gutters")


def test_a_quote_made_elsewhere_with_numbers_and_yes_or_no() -> None:
    work = QuotedWork("clear-gutters", "Front gutter", {"run": "8 m", "taps": 1, "restricted": True, "price": 80.5})
    _, job = job_of(Quote("Ms Orme", "9 Elm", QUOTED, work=(work,)))
    assert job["price"] == 80.5
    assert job["grounds"]["front"]["way_in"]["restricted"]
    assert job["grounds"]["front"]["supplies"] == {"tap": 1}


def test_bad_rows_are_named_on_the_day_of_the_quote() -> None:
    with pytest.raises(DayFaults) as caught:
        quotes_from_csv("job,recipe,run\nA,clear-gutters,x\nB,clear-guters,5 m\n", FILE, QUOTED)
    assert [line.split(":")[:2] for line in str(caught.value).splitlines()] == [["jobs.csv", "2"], ["jobs.csv", "3"]]


def test_a_quote_that_cannot_become_a_job_is_told() -> None:
    with pytest.raises(ValueError, match="quote 0 'X' holds no work"):
        job_of(Quote("", "X", QUOTED))
    with pytest.raises(DayFaults, match="unknown recipe 'gone'"):
        job_of(Quote("", "X", QUOTED, work=(QuotedWork("gone", "Roof", {"run": "3 m"}),)))
    with pytest.raises(DayFaults, match="unknown column 'colour'"):
        job_of(Quote("", "X", QUOTED, work=(QuotedWork("clear-gutters", "Roof", {"run": "3 m", "colour": "red"}),)))
