"""Draws the sheets and slips of the sample days page by page, in grey, on both papers, for a person to look at.

    python -m tests.sheets_to_png OUT [--only WORD] [--seconds S]

It plans for real, so it takes some minutes; `draw` takes a plan that is already made.
"""

import argparse
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from planner.cli.on_terminal import verdict_line
from planner.day import Day
from planner.day.reading import read_day
from planner.engine import plan_day
from planner.plan.plan import Plan
from planner.sheet.export import export

SAMPLES = Path(__file__).parent.parent / "sample_days"
DOTS = 1.6
"""Pixels for each point of 1/72 inch."""


def draw(day: Day, plan: Plan, name: str, out: Path) -> list[Path]:
    """Draw every page of a planned day's run sheet and slips as PNG; gives the files."""
    drawn = []
    for paper in ("A4", "Letter"):
        for what in ("sheet", "slip"):
            with TemporaryDirectory() as folder:
                pdf = Path(folder) / "x.pdf"
                export(day, plan, pdf, what, paper=paper, verdict=verdict_line(day, plan))  # type: ignore[arg-type]
                pages = _pages(pdf)
            for number, page in enumerate(pages, 1):
                path = out / f"{name} {what} {paper} side {number}.png"
                page.save(str(path))
                drawn.append(path)
    return drawn


def _pages(pdf: Path) -> list[Any]:
    """The pages of a PDF as grey pictures."""
    from PySide6.QtGui import QImage

    from planner.desktop.pages.paper_pages import PaperPages

    pages = PaperPages(pdf.read_bytes())
    drawn = [pages.picture(number, round(pages.size(number)[0] * DOTS)) for number in range(len(pages))]
    pages.close()
    return [page.convertToFormat(QImage.Format.Format_Grayscale8) for page in drawn]


def main() -> None:
    """Draw the sheets of every sample day that has a plan."""
    from PySide6.QtGui import QGuiApplication

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument("--only", default="", help="draw only sample days whose name holds this word")
    parser.add_argument("--seconds", type=float, default=10.0, help="how long to plan each day at the most")
    asked = parser.parse_args()
    application = QGuiApplication(sys.argv[:1])
    asked.out.mkdir(parents=True, exist_ok=True)
    for path in sorted(SAMPLES.glob("*.toml")):
        if asked.only not in path.stem:
            continue
        day = read_day(path)
        plan = plan_day(day, seconds=asked.seconds).plan
        for drawn in draw(day, plan, path.stem, asked.out) if plan else []:
            sys.stdout.write(f"{drawn}\n")
    del application


if __name__ == "__main__":
    main()
