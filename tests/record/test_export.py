"""The record taken out of the program."""

import csv
import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from planner.day.safekeeping import SaveFault
from planner.record import Quote, QuotedWork, Record, Timing
from planner.record.taking_out import safe_cell

WASH = Timing(
    date(2026, 3, 9), 'Rear "patio", wide', "wash-1", "wash", "washer", "green", 40.0, 52.5, 32.0, "m2"
)
QUOTE = Quote(
    "Jos\u00e9",
    "Patio\nand steps",
    date(2026, 2, 3),
    ("sweep", "=1+1"),
    (QuotedWork("regrout", "patio", {"area": "32 m2"}),),
)


def test_json_holds_everything(record: Record, tmp_path: Path) -> None:
    record.note_timing(WASH)
    record.add_quote(QUOTE)
    assert record.export(tmp_path / "out.json") == (tmp_path / "out.json",)
    out = json.loads((tmp_path / "out.json").read_text(encoding="utf-8"))
    assert out["format"] == "slackwater record 1"
    (timing,) = out["timings"]
    assert timing["date"] == "2026-03-09"
    assert (timing["job"], timing["actual_minutes"], timing["noted_on"]) == (WASH.job, 52.5, "2026-03-10")
    (quote,) = out["quotes"]
    assert (quote["customer"], quote["promises"]) == ("Jos\u00e9", ["sweep", "=1+1"])
    assert quote["work"] == [{"recipe": "regrout", "surface": "patio", "measures": {"area": "32 m2"}}]


def test_csv_reads_back(record: Record, tmp_path: Path) -> None:
    record.note_timing(WASH)
    record.note_timing(replace(WASH, measure=None))
    record.add_quote(QUOTE)
    written = record.export(tmp_path / "out.csv")
    assert written == (tmp_path / "out.csv", tmp_path / "out-quotes.csv")
    with written[0].open(encoding="utf-8", newline="") as file:
        first, second = csv.DictReader(file)
    assert (first["date"], first["job"], float(first["actual_minutes"])) == ("2026-03-09", WASH.job, 52.5)
    assert (first["measure"], second["measure"]) == ("32.0", "")
    with written[1].open(encoding="utf-8", newline="") as file:
        (quote,) = csv.DictReader(file)
    assert (quote["customer"], quote["title"]) == ("Jos\u00e9", "Patio\nand steps")
    assert quote["promises"] == "sweep\n=1+1"
    assert quote["work"] == "patio: regrout (area 32 m2)"


@pytest.mark.parametrize(
    "formula", ["=1+1", "+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", "  =cmd|' /c calc'!A0", "＝1+1"]
)
def test_no_cell_is_a_formula(record: Record, tmp_path: Path, formula: str) -> None:
    """The starts of a formula as OWASP, "CSV Injection", lists them."""
    record.note_timing(
        replace(WASH, job=formula, stage=formula, kind=formula, method=formula, condition=formula)
    )
    record.add_quote(replace(QUOTE, customer=formula, title=formula, promises=(formula,)))
    for path in record.export(tmp_path / "out.csv"):
        with path.open(encoding="utf-8", newline="") as file:
            cells = [cell for row in csv.reader(file) for cell in row]
        assert f"'{formula}" in cells
        assert not [cell for cell in cells if cell.lstrip(" ").startswith(tuple("=+-@\t\r＝"))]


def test_what_is_no_formula_stays_as_it_is() -> None:
    for value in ("plain", "a=b", "", "12 - 3", -4.5, None, 7):
        assert safe_cell(value) == value


def test_an_ending_that_is_not_written(record: Record, tmp_path: Path) -> None:
    with pytest.raises(SaveFault, match=r"'\.xls' is no ending .*\.csv or \.json"):
        record.export(tmp_path / "out.xls")


def test_a_folder_that_is_not_there(record: Record, tmp_path: Path) -> None:
    with pytest.raises(SaveFault, match="no such folder"):
        record.export(tmp_path / "none" / "out.csv")
