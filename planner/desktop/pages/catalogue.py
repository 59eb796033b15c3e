"""Which pages there are beside the picture, in which order. `making` makes each."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Page:
    """A page, or the heading of a group when it has no key."""

    words: str
    key: str = ""


PAGES: tuple[Page, ...] = (
    Page("Settle"),
    Page("House", "house"),
    Page("Day", "day"),
    Page("Hands", "hands"),
    Page("Kit", "kit"),
    Page("Jobs", "jobs"),
    Page("Read"),
    Page("Order", "order"),
    Page("Load", "load"),
    Page("Care", "care"),
    Page("Run sheet", "sheet"),
    Page("Weigh"),
    Page("Remedies", "remedies"),
    Page("Trade-off", "trade-off"),
    Page("Risk", "risk"),
    Page("What if", "what-if"),
    Page("Compare", "compare"),
    Page("Work"),
    Page("On the day", "running"),
    Page("What we own", "own"),
    Page("Own pace", "pace"),
    Page("Quotes", "quotes"),
)
