"""Walking through the things of the picture by keyboard, and finding the one under a point."""

from collections.abc import Callable, Sequence
from typing import Literal

from planner.sheet.chart import About, Chart, Item

Way = Literal["next", "previous", "above", "below", "first", "last"]


def step(picture: Chart, here: About | None, way: Way) -> Item | None:
    """The thing that comes next that way; None at the end.

    Next and previous go in order of time. Above and below go to the nearest thing that overlaps in time, or else to the
    nearest of those that lie that way.
    """
    items = picture.items
    if not items:
        return None
    at = next((number for number, item in enumerate(items) if item.about == here), None)
    if at is None or way in ("first", "last"):
        return items[-1] if way in ("last", "previous") else items[0]
    if way in ("next", "previous"):
        reached = at + (1 if way == "next" else -1)
        return items[reached] if 0 <= reached < len(items) else None
    return _beside(items, items[at], _is_above if way == "above" else _is_below)


def _is_above(item: Item, here: Item) -> bool:
    return item.y + item.height / 2 < here.y + here.height / 2 - 1


def _is_below(item: Item, here: Item) -> bool:
    return _is_above(here, item)


def _beside(items: Sequence[Item], here: Item, lies_there: Callable[[Item, Item], bool]) -> Item | None:
    def distance(item: Item) -> tuple[float, float]:
        aside = max(item.x - (here.x + here.width), here.x - (item.x + item.width), 0.0)
        return aside, abs(item.y + item.height / 2 - here.y - here.height / 2)

    return min((item for item in items if lies_there(item, here)), key=distance, default=None)


def item_at(picture: Chart, x: float, y: float, slack: float = 2.0) -> Item | None:
    """The smallest thing whose box holds a point of the page, give or take a little."""
    found = [
        item
        for item in picture.items
        if item.x - slack <= x <= item.x + item.width + slack and item.y - slack <= y <= item.y + item.height + slack
    ]
    return min(found, key=lambda item: item.width * item.height, default=None)
