"""The threshold chart: the picture of a planned day, as plain shapes for a screen or for paper.

``gathering`` takes what is shown from a day and its plan, still in minutes: ``things`` in a ``scene``
``arrangement`` where it lies on the page: `chart`; `lanes`, `tracks`, `steps`, `pools`, `paths`, `backdrop`, `legend`
``shapes``    the plain shapes that come out
``themes``    which ink each role is drawn in
"""

from planner.sheet.chart.arrangement import chart, describe
from planner.sheet.chart.shapes import About, Chart, Item, Label, Line, Path, Rect, Shape
from planner.sheet.chart.themes import THEMES, Ink, Theme

__all__ = [
    "THEMES",
    "About",
    "Chart",
    "Ink",
    "Item",
    "Label",
    "Line",
    "Path",
    "Rect",
    "Shape",
    "Theme",
    "chart",
    "describe",
]
