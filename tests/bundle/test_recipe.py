"""The recipe of the built program, without building it: what it brings, where it begins, what is said of licences."""

import html.parser
import importlib.metadata
import re
import runpy
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from configparser import ConfigParser
from pathlib import Path

import pytest

from planner.cli import COMMANDS
from planner.desktop.model.guide import guide_pages
from tests.bundle import contents, entry
from tests.bundle.guide import guide_html
from tests.bundle.licences import bundled_distributions, licence_of, licences_text

HERE = Path(__file__).parent


def test_modules_that_are_imported_by_name_are_brought() -> None:
    """A trial build once missed them: no tool sees an import whose name is put together."""
    modules = contents.our_modules()
    assert {f"planner.cli.{command.replace('-', '_')}" for command in COMMANDS} <= set(modules)
    assert "planner.desktop.thinking.thinker" in modules


def test_all_data_is_brought_to_where_it_is_looked_for() -> None:
    data = dict(contents.shipped_data())
    assert data[str(contents.ROOT / "resources")] == "planner/_resources"
    assert all(Path(path).exists() for path in data)


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        (["-P", "-m", "planner.desktop.thinking.thinker", "x"], ("planner.desktop.thinking.thinker", ["x"])),
        (["-m", "planner"], ("planner", [])),
        (["-m", "http.server"], None),
        (["-m", "plannerless"], None),
        (["plan", "-m", "planner.cli"], None),
        ([], None),
    ],
)
def test_only_modules_of_ours_can_be_asked_for(words: list[str], asked: object) -> None:
    assert entry.asked_module(words) == asked


def test_the_entry_runs_the_command(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "argv", ["slackwater", "--version"])
    with pytest.raises(SystemExit) as ended:
        runpy.run_path(str(HERE / "entry.py"), run_name="__main__")
    assert ended.value.code == 0
    assert capsys.readouterr().out.startswith("slackwater ")


def test_licences_name_what_is_bundled_and_nothing_else() -> None:
    """Read against the metadata that each project publishes: pydantic and pint are MIT and BSD by their own word."""
    here = [Path(str(importlib.metadata.distribution(name).locate_file(name))) for name in ("pydantic", "pint")]
    files = [path / "__init__.py" for path in here]
    found = bundled_distributions(files)
    assert [one.metadata["Name"].lower() for one in found] == ["pint", "pydantic"]
    assert "BSD" in licence_of(found[0])
    assert "MIT" in licence_of(found[1])
    text = licences_text(found)
    assert "Permission is hereby granted, free of charge" in text  # the MIT licence's own words
    assert "hypothesis" not in text


# --- the guide as one page ---------------------------------------------------------------------------------------


class _Seen(html.parser.HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.ids: set[str] = set()
        self.links: list[str] = []
        self.sources: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        self.ids.add(said.get("id") or "")
        self.links.append(said.get("href") or "")
        self.sources.append(said.get("src") or "")


def test_the_guide_stands_alone_as_one_page() -> None:
    seen = _Seen()
    told = guide_html()
    seen.feed(told)
    assert "<td>Rinse from the top</td>" in told
    assert {f"{p.path.stem}" for p in guide_pages()} <= seen.ids
    links = [link for link in seen.links if link]
    assert len(links) > len(guide_pages())
    assert {link for link in links if not (link.startswith("#") and link[1:] in seen.ids)} == set()
    pictures = [source for source in seen.sources if source]
    assert pictures
    assert all(source.startswith("data:image/png;base64,") for source in pictures)


# --- the desktop -------------------------------------------------------------------------------------------------


@pytest.mark.skipif(sys.platform != "linux", reason="a script for Linux desktops")
def test_the_entry_for_the_menu_is_put_there_and_taken_out(tmp_path: Path) -> None:
    """By the Desktop Entry Specification: the program quoted, with what is special in quotes escaped."""
    folder = tmp_path / "Jörg's tools, 50 % $off" / "slackwater"
    laid = folder / "desktop"
    laid.mkdir(parents=True)
    for name in ("slackwater.desktop", "slackwater-day.xml", "put-in-menu"):
        (laid / name).write_bytes((HERE / "desktop" / name).read_bytes())
    (laid / "slackwater.svg").write_text("<svg/>")
    data = tmp_path / "data"
    command = ["sh", str(laid / "put-in-menu")]
    environment = {"XDG_DATA_HOME": str(data), "HOME": str(tmp_path), "PATH": "/usr/bin:/bin"}
    subprocess.run(command, env=environment, check=True)
    parser = ConfigParser(interpolation=None)
    parser.read(data / "applications" / "slackwater.desktop", "utf-8")
    assert _program_of(parser["Desktop Entry"]["Exec"]) == str(folder / "slackwater")
    kinds = ElementTree.parse(data / "mime" / "packages" / "slackwater-day.xml").getroot()
    assert kinds[0].get("type") == parser["Desktop Entry"]["MimeType"].rstrip(";")
    subprocess.run([*command, "--remove"], env=environment, check=True)
    left = [path.name for path in data.rglob("*") if path.is_file()]
    assert not {"slackwater.desktop", "slackwater.svg", "slackwater-day.xml"} & set(left)


def _program_of(line: str) -> str:
    """The first word of an Exec line, read by the specification: string escapes, then quoting, then field codes."""
    text = line.replace("\\\\", "\\")
    quoted = re.match(r'"((?:\\.|[^"\\])*)"', text)
    assert quoted is not None, line
    return re.sub(r"\\(.)", r"\1", quoted.group(1)).replace("%%", "%")
