"""Nothing quoted is forgotten."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from planner.record import Quote, QuotedWork, QuoteFault, Record, Timing
from tests.record.conftest import TODAY

PATIO = Quote(
    "M. Example",
    "Rear patio, 12 Sample Row",
    date(2026, 2, 3),
    promises=("sweep the side yard too", "pots put back where they stood"),
    work=(
        QuotedWork("regrout", "patio", {"area": "32 m2", "joint width": "10 mm", "joints raked": True}),
        QuotedWork("gutters", "rear gutter", {"run": 14.5}),
    ),
)
DAY = date(2026, 3, 16)


def test_kept_whole(record: Record) -> None:
    kept = record.add_quote(PATIO)
    assert kept == replace(PATIO, id=1)
    assert record.quote(1) == kept
    assert record.open_quotes() == record.quotes() == [kept]
    assert kept.work[0].measures["joints raked"] is True
    assert kept.work[1].measures["run"] == 14.5


def test_the_longest_quoted_comes_first(record: Record) -> None:
    for day in (20, 3, 11):
        record.add_quote(replace(PATIO, quoted_on=date(2026, 2, day)))
    assert [quote.quoted_on.day for quote in record.open_quotes()] == [3, 11, 20]


def test_from_quoted_to_done(record: Record) -> None:
    number = record.add_quote(PATIO).id
    planned = record.bring_into_day(number, DAY)
    assert planned == replace(PATIO, id=number, state="planned", day=DAY)
    assert record.open_quotes() == []
    assert record.quote(number) == planned
    done = record.mark_done(number)
    assert (done.state, done.day) == ("done", DAY)
    assert record.quotes() == [done]


def test_a_day_that_falls_through_gives_its_quotes_back(record: Record) -> None:
    kept = record.add_quote(PATIO)
    record.bring_into_day(kept.id, DAY)
    assert record.put_back(kept.id) == kept
    assert record.open_quotes() == [kept]
    assert record.bring_into_day(kept.id, date(2026, 3, 17)).day == date(2026, 3, 17)


def test_done_without_a_day_is_done_today(record: Record) -> None:
    assert record.mark_done(record.add_quote(PATIO).id).day == TODAY


def test_not_brought_into_two_days(record: Record) -> None:
    number = record.add_quote(PATIO).id
    record.bring_into_day(number, DAY)
    with pytest.raises(
        QuoteFault, match=r"is planned for 2026-03-16; put it back among the open quotes first"
    ):
        record.bring_into_day(number, date(2026, 3, 17))
    assert record.quote(number).day == DAY


def test_two_windows_bring_it_into_one_day_only(record: Record, path: Path) -> None:
    number = record.add_quote(PATIO).id
    with Record.open(path) as other:
        assert other.open_quotes() == record.open_quotes() != []
        other.bring_into_day(number, DAY)
        with pytest.raises(QuoteFault, match="planned for 2026-03-16"):
            record.bring_into_day(number, date(2026, 3, 17))
    assert record.quote(number).day == DAY


@pytest.mark.parametrize("change", ["bring", "put_back", "done"])
def test_done_is_done(record: Record, change: str) -> None:
    number = record.add_quote(PATIO).id
    record.mark_done(number)
    with pytest.raises(QuoteFault, match="is done for 2026-03-10; add a new quote"):
        {
            "bring": lambda: record.bring_into_day(number, DAY),
            "put_back": lambda: record.put_back(number),
            "done": lambda: record.mark_done(number),
        }[change]()


def test_an_open_quote_cannot_be_put_back(record: Record) -> None:
    with pytest.raises(QuoteFault, match="is open; bring it into a day first"):
        record.put_back(record.add_quote(PATIO).id)


def test_a_quote_that_is_not_there(record: Record) -> None:
    for ask in (record.quote, record.mark_done, lambda number: record.bring_into_day(number, DAY)):
        with pytest.raises(QuoteFault, match="no quote number 7"):
            ask(7)


def test_texts_are_only_texts(record: Record) -> None:
    """Whatever is written in them: statements, quotes, signs of any language."""
    nasty = "'); DROP TABLE quotes; --\"\u0000<script>雨🌧"
    quote = replace(
        PATIO,
        customer=nasty,
        title=nasty,
        promises=(nasty,),
        work=(QuotedWork(nasty, nasty, {nasty: nasty}),),
    )
    assert record.add_quote(quote) == replace(quote, id=1)
    assert record.quotes() == [replace(quote, id=1)]


def test_what_cannot_be_a_quote_is_refused() -> None:
    with pytest.raises(ValueError, match="customer must be a text of at most 2000"):
        replace(PATIO, customer="x" * 2001)
    with pytest.raises(ValueError, match="only an open quote has no day"):
        replace(PATIO, state="planned")
    with pytest.raises(ValueError, match="only an open quote has no day"):
        replace(PATIO, day=DAY)
    with pytest.raises(ValueError, match="one of open, planned, done"):
        replace(PATIO, state="lost", day=DAY)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="measure 'area' is nan"):
        QuotedWork("regrout", "patio", {"area": float("nan")})
    with pytest.raises(ValueError, match="measure 'area' is \\[1\\]"):
        QuotedWork("regrout", "patio", {"area": [1]})  # type: ignore[dict-item]
    with pytest.raises(ValueError, match="too many parts"):
        replace(PATIO, promises=("x",) * 201)


def test_wiping_own_pace_keeps_what_is_quoted(record: Record) -> None:
    kept = record.add_quote(PATIO)
    record.note_timing(Timing(DAY, "Rear patio", "wash", "wash", "washer", "green", 40, 50))
    assert record.wipe() == ()
    assert record.timings() == []
    assert record.open_quotes() == [kept]


def test_what_is_wiped_is_in_no_file_any_more(path: Path) -> None:
    """Looked for in the bytes of every file in the folder: the database, its log and its copies."""
    word = "Zanzibar-Road"

    def files_with_the_word() -> list[str]:
        return [file.name for file in path.parent.iterdir() if word.encode() in file.read_bytes()]

    with Record.open(path) as record:
        record.add_quote(replace(PATIO, customer=word))
        record.note_timing(Timing(DAY, word, "wash", "wash", "washer", "green", 40, 50))
    with Record.open(path) as record:
        assert {"record.sqlite", "record.sqlite.last-good"} <= set(files_with_the_word())
        (path.parent / "record.sqlite.version-2").write_text(word)
        record.wipe(with_quotes=True)
        assert files_with_the_word() == []
        assert record.quotes() == record.timings() == []
    assert files_with_the_word() == []
