"""Files run no code, reach nowhere outside their folder, and none of their texts breaks out of what is written."""

import json
import re
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import html5lib
import pytest
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject

from planner.cli import main
from planner.day import Day
from planner.day.file import DayFaults, day_to_toml, read_day
from planner.plan.plan_file import PlanFault, plan_from_json, plan_to_json
from planner.sheet.chart import chart
from planner.sheet.chart.svg import chart_svg
from planner.sheet.export import export
from tests.sheet.hostile import SCRIPT, hostile_day
from tests.sheet.plans import tiny_plan

# --- files are data -------------------------------------------------------------------------------------------------

CODE = [
    "__import__('os').system('touch {canary}')",
    "{{{{ ''.__class__.__mro__[1].__subclasses__() }}}}{{% include '{canary}' %}}",
    "$(touch {canary}) `touch {canary}` ; touch {canary}",
    "${{jndi:ldap://127.0.0.1/{canary}}}",
    "!!python/object/apply:os.system ['touch {canary}']",
    "%s%n {{0.__class__}} {{title.__init__.__globals__}}",
]


@pytest.mark.parametrize("words", CODE)
def test_texts_of_a_day_are_never_run(tmp_path: Path, words: str) -> None:
    canary = tmp_path / "canary"
    said = words.format(canary=canary)
    day = hostile_day(title=said)
    file = tmp_path / "day.toml"
    file.write_text(day_to_toml(day), encoding="utf-8")
    assert read_day(file).title == said
    kept = file.with_suffix(".plan.json")
    kept.write_text(plan_to_json(tiny_plan(), day), encoding="utf-8")
    for name, what in (("x.html", "sheet"), ("x.ics", "calendar"), ("x.svg", "chart"), ("tables", "tables")):
        arguments = ["sheet", str(file)] if what == "sheet" else ["export", str(file), what]
        assert main([*arguments, "--shipped-pace", "-o", str(tmp_path / name)]) == 0
    assert not canary.exists()
    page = html5lib.parse((tmp_path / "x.html").read_text(encoding="utf-8"), namespaceHTMLElements=False)
    assert said in re.sub(r"\s+", " ", "".join(page.find("body").itertext()))


@pytest.mark.parametrize(
    "text",
    [
        'format = 1\n__class__ = "x"\n',
        'format = 1\n[jobs."../../x"]\n',
        'format = 1\n[places."a/b"]\n',
        "format = 1\n[van]\n__init__ = { __globals__ = 1 }\n",
        '"' + "a" * 100_000 + '" = 1\n',
        "a = " + "[" * 50_000 + "\n",
        "x." * 20_000 + "y = 1\n",
        "format = " + "9" * 10_000 + "\n",
    ],
)
def test_odd_day_files_are_told_as_faults(tmp_path: Path, text: str) -> None:
    file = tmp_path / "day.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DayFaults) as caught:
        read_day(file)
    assert all(line.startswith(str(file)) for line in str(caught.value).splitlines())


@pytest.mark.parametrize(
    "change",
    [
        {"__class__": "os.system"},
        {"works": [{"__reduce__": ["os.system", ["true"]]}]},
        {"py/object": "os.system"},
        {"proof": {"py/reduce": []}},
    ],
)
def test_a_plan_holds_nothing_but_what_its_schema_names(change: dict[str, Any]) -> None:
    told = json.loads(plan_to_json(tiny_plan(), hostile_day())) | change
    with pytest.raises(PlanFault):
        plan_from_json(json.dumps(told))


def test_a_forecast_behind_a_link_is_not_shown(tmp_path: Path) -> None:
    secret = tmp_path / "secret.csv"
    secret.write_text("time,air,humidity,wind\nTHE SECRET,1,1,1\n")
    folder = tmp_path / "days"
    (folder / "sub").mkdir(parents=True)
    (folder / "link.csv").symlink_to(secret)
    (folder / "sub" / "up").symlink_to(tmp_path)
    for name in ("link.csv", "sub/up/secret.csv", str(secret), "../secret.csv", "sub/../../secret.csv"):
        file = folder / "day.toml"
        file.write_text(f"weather_file = {json.dumps(name)}\n{day_to_toml(hostile_day())}", encoding="utf-8")
        with pytest.raises(DayFaults) as caught:
            read_day(file)
        assert "leads out of the folder of the day file" in str(caught.value)
        assert "THE SECRET" not in str(caught.value)


# --- hostile texts in what is written ------------------------------------------------------------------------------

BREAKING_OUT = [
    SCRIPT,
    "</text></svg><script>alert(1)</script>",
    "]]><!--<svg onload=alert(1)>-->",
    "\"' onmouseover='alert(1)' x=\"",
    "<a href='javascript:alert(1)' xlink:href=\"data:text/html,x\">x</a>",
    "&#60;script&#62;&lt;b&gt;",
    "a\r\nEND:VEVENT\r\nBEGIN:VALARM\r\nACTION:PROCEDURE\r\nATTACH:file:///bin/sh",
    "x:;,\\n\\;\u2028\u2029\u0085END:VCALENDAR",
    "\u202egnp.exe\u202c\u200b\ufeff",
]


def day_called(words: str) -> Day:
    """The hostile day with these words in place of each text that a page, a chart or a calendar shows first."""
    tables = hostile_day().model_dump()
    tables["title"] = words
    tables["hands"]["ash"]["name"] = words
    tables["kit"]["washer"]["name"] = words
    job = tables["jobs"]["elm"]
    job["title"] = job["customer"]["name"] = words
    job["grounds"]["rear"]["name"] = job["grounds"]["rear"]["way_in"]["through"] = words
    for stage in job["stages"].values():
        stage["name"] = words
    return Day.model_validate(tables)


def local(name: Any) -> str:
    return str(name).rpartition("}")[2].lower()


def acts(root: ET.Element) -> list[str]:
    """What in a document would run, load or lead somewhere."""
    tags = [local(element.tag) for element in root.iter()]
    found = [tag for tag in tags if tag in ("script", "iframe", "object", "embed", "a", "foreignobject", "img", "link")]
    for element in root.iter():
        for name, value in element.attrib.items():
            leads_out = local(name) in ("href", "src") and not value.startswith("#")
            if local(name).startswith("on") or leads_out or "javascript:" in value.lower():
                found.append(f"{local(element.tag)} {name}={value}")
    return found


@pytest.mark.parametrize("words", BREAKING_OUT)
@pytest.mark.parametrize("theme", ["light", "grey"])
def test_no_text_breaks_out_of_the_chart(words: str, theme: Any) -> None:
    root = ET.fromstring(chart_svg(chart(day_called(words), tiny_plan(), width=1200), theme))
    assert acts(root) == []


@pytest.mark.parametrize("words", BREAKING_OUT)
@pytest.mark.parametrize("what", ["sheet", "slip"])
def test_no_text_breaks_out_of_a_page(tmp_path: Path, words: str, what: Any) -> None:
    [path] = export(day_called(words), tiny_plan(), tmp_path / "x.html", what, verdict=words)
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(path.read_text(encoding="utf-8"))
    assert acts(page) == []


@pytest.mark.parametrize("words", BREAKING_OUT)
def test_no_text_breaks_out_of_a_calendar(tmp_path: Path, words: str) -> None:
    [path] = export(day_called(words), tiny_plan(), tmp_path / "x.ics", "calendar", stages=True, waits=True)
    lines = path.read_bytes().decode("utf-8").split("\r\n")
    # RFC 5545, section 3.1: a line that begins with a blank goes on with the one before it.
    names = {re.split("[:;]", line)[0] for line in lines if line and not line.startswith((" ", "\t"))}
    assert names & {"ATTACH", "URL"} == set()
    assert all(re.fullmatch(r"[A-Z][A-Z-]*", name) for name in names)
    assert [line for line in lines if line.startswith("ACTION:") and line != "ACTION:DISPLAY"] == []
    assert lines.count("BEGIN:VCALENDAR") == lines.count("END:VCALENDAR") == 1
    assert all("\n" not in line and "\r" not in line for line in lines)


@pytest.mark.parametrize("words", BREAKING_OUT)
@pytest.mark.parametrize("what", ["sheet", "slip"])
def test_a_printed_page_does_nothing(tmp_path: Path, words: str, what: Any) -> None:
    [path] = export(day_called(words), tiny_plan(), tmp_path / "x.pdf", what, verdict=words)
    reader = PdfReader(path)
    names: set[str] = set()
    todo: list[Any] = [reader.trailer]
    seen: set[int] = set()
    while todo:
        thing = todo.pop()
        if isinstance(thing, IndirectObject):
            if thing.idnum in seen:
                continue
            seen.add(thing.idnum)
            thing = thing.get_object()
        if isinstance(thing, DictionaryObject):
            names |= set(map(str, thing.keys()))
            todo += thing.raw_items() if hasattr(thing, "raw_items") else list(dict.values(thing))
        elif isinstance(thing, ArrayObject):
            todo += list(list.__iter__(thing))
    assert "/Pages" in names
    # ISO 32000-1, 12.6: what makes a reader act, and 7.11.4: files within the file.
    assert names & {"/A", "/AA", "/JS", "/JavaScript", "/Launch", "/URI", "/OpenAction", "/EmbeddedFiles"} == set()
