"""``quote``: what was quoted is kept, listed until it is done, and brought into a day whole."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from shutil import copyfile

import pytest

from planner import cli
from planner.day.file import read_day
from planner.record import Record
from tests.cli.commands import SAMPLES, Run

Opens = Callable[[], Record]
LARCH = (
    "quote", "add", "--title", "9 Larch Rise", "--customer", "Ms Orme", "--promise", "Gutters run free",
    "--on", "2026-02-01", "--work", "recipe=clear-gutters", "run=11 m", "ground=front", "way_in=1 min",
)  # fmt: skip
DRIVES = ("--drive", "yard=16 min", "--drive", "mill=9 min")


@pytest.fixture
def day(tmp_path: Path) -> Path:
    return Path(copyfile(SAMPLES / "by_recipe.toml", tmp_path / "day.toml"))


def test_a_quote_is_kept_listed_brought_in_and_done(run: Run, day: Path, record: Opens) -> None:
    before = day.read_text()
    added = run(*LARCH)
    assert added == (cli.DONE, "kept:    1  9 Larch Rise, Ms Orme: quoted 2026-02-01, open\n", "")
    listed = run("quote", "list").out
    assert "9 Larch Rise, Ms Orme: quoted 2026-02-01, open" in listed
    assert "promised: Gutters run free" in listed
    brought = run("quote", "bring", 1, day, *DRIVES)
    assert brought.code == cli.DONE
    assert brought.out.startswith(f"{day}: quote 1 is in as job '9-larch-rise', ")
    job = read_day(day).jobs["9-larch-rise"]
    assert (job.title, job.customer.name) == ("9 Larch Rise", "Ms Orme")
    assert set(job.quoted["Gutters run free"]) == set(job.stages)
    assert read_day(day).drive_minutes("mill", "9-larch-rise") == 9
    assert set(before.splitlines()) <= set(day.read_text().splitlines())  # comments and all
    assert run("quote", "list").out == "There are no open quotes.\n"
    with record() as kept:
        assert kept.quote(1).day == date(2026, 5, 12)
    assert "planned for 2026-05-12" in run("quote", "list", "--all").out
    assert "done for 2026-05-12" in run("quote", "done", 1).out


def test_a_table_of_jobs_becomes_quotes(run: Run, day: Path) -> None:
    ran = run("quote", "add", SAMPLES / "jobs.csv", "--promise", "All moss gone")
    assert ran.code == cli.DONE
    assert len(ran.out.splitlines()) == 2
    assert run("quote", "bring", 1, day, *DRIVES).code == cli.DONE
    job = read_day(day).jobs["alder-bank-patio-and-gutters"]
    assert (job.place, job.arrive, job.surfaces["patio"].area) == ("alder", (480, 570), 14)
    assert set(job.quoted["All moss gone"]) == set(job.stages)


def test_a_quote_goes_into_one_day_only(run: Run, day: Path, tmp_path: Path) -> None:
    run(*LARCH)
    run("quote", "bring", 1, day, *DRIVES)
    other = Path(copyfile(SAMPLES / "by_recipe.toml", tmp_path / "other.toml"))
    before = other.read_bytes()
    ran = run("quote", "bring", 1, other, *DRIVES)
    assert ran.code == cli.FAULTY
    assert "'9 Larch Rise' is planned for 2026-05-12; put it back among the open quotes first" in ran.err
    assert other.read_bytes() == before
    assert run("quote", "back", 1).code == cli.DONE
    assert run("quote", "bring", 1, other, *DRIVES).code == cli.DONE


def test_a_second_quote_of_the_same_name_gets_its_own_job(run: Run, day: Path) -> None:
    run(*LARCH)
    run(*LARCH)
    run("quote", "bring", 1, day, *DRIVES)
    assert run("quote", "bring", 2, day).code == cli.DONE
    assert list(read_day(day).jobs) == ["mill", "9-larch-rise", "9-larch-rise-2"]


def test_what_the_day_cannot_take_stays_open(run: Run, day: Path) -> None:
    before = day.read_bytes()
    run(*LARCH)
    ran = run("quote", "bring", 1, day)
    assert ran.code == cli.FAULTY
    assert "no driving time" in ran.err
    assert day.read_bytes() == before
    assert "9 Larch Rise" in run("quote", "list").out


def test_a_day_that_cannot_be_saved_leaves_the_quote_open(run: Run, day: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from planner.day.faults import DayFaults, Fault

    def refuses(*_: object, **__: object) -> Path:
        raise DayFaults(day, [Fault((), None, "not saved: the disk is full", "make room")])

    run(*LARCH)
    monkeypatch.setattr("planner.day.file.DayFile.save", refuses)
    ran = run("quote", "bring", 1, day, *DRIVES)
    assert (ran.code, ran.err) == (cli.FAULTY, f"{day}: not saved: the disk is full; make room\n")
    assert "9 Larch Rise, Ms Orme: quoted 2026-02-01, open" in run("quote", "list").out


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("quote", "bring", "7", "DAY"), "there is no quote number 7; choose one from the list of quotes"),
        (("quote", "done", "7"), "there is no quote number 7"),
        (("quote", "back", "1"), "'9 Larch Rise' is open; bring it into a day first"),
        (("quote", "bring", "1", "DAY", "--drive", "16 min"), "--drive: '16 min' names no place and minutes"),
        (("quote", "bring", "1", "DAY", "--drive", "yard=soon"), "--drive: 'soon' is not a duration"),
        (("quote", "add", "gone.csv"), "gone.csv: there is no such file"),
        (("quote", "add", "--title", "X", "--work", "recipe=clear-guters"), "did you mean 'clear-gutters'?"),
        (("quote", "add", "--title", "X", "--work", "recipe=clear-gutters", "run=long"), "run: 'long' is not a length"),
        (("quote", "add", "--title", "X" * 3000, "--work", "recipe=clear-gutters", "run=5 m"), "at most 2000 char"),
    ],
)
def test_what_cannot_be_is_told(run: Run, day: Path, words: tuple[str, ...], expected: str) -> None:
    run(*LARCH)
    ran = run(*(day if word == "DAY" else word for word in words))
    assert (ran.code, ran.out) == (cli.FAULTY, "")
    assert expected in ran.err
    assert len(run("quote", "list", "--all").out.split("quoted 2026-02-01, open")) == 2


def test_an_empty_list_and_an_empty_table(run: Run, tmp_path: Path) -> None:
    assert run("quote", "list", "--all").out == "There are no quotes.\n"
    table = tmp_path / "jobs.csv"
    table.write_text("job,recipe\n")
    ran = run("quote", "add", table)
    assert (ran.code, ran.err) == (cli.FAULTY, f"{table}: there are no jobs in it; write a row for each surface\n")
