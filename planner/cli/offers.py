"""What can be given up of a day under way, on a terminal, with the words that give it up."""

from collections.abc import Iterable, Sequence

from rich.console import Console

from planner.cli.on_terminal import harmless_text
from planner.day import Day
from planner.fit.giving_up import Offer
from planner.plan.progress import Progress
from planner.trade.units import show_clock


def print_offers(console: Console, day: Day, progress: Progress, offers: Sequence[Offer]) -> None:
    """What can be given up for today, and what each saves; nothing where nothing can."""
    if not offers:
        return
    console.print(harmless_text("What can be given up for today, the least first:"))
    for offer in offers:
        what, saves = offer.what(day, progress, mark="'"), f"home at {show_clock(offer.home)}{offer.saves}"
        console.print(harmless_text(f"  {what}: {saves}: {_words(offer.behind, offer.stages)}"))
        console.print(harmless_text(f"    {offer.tomorrow}: --left FILE"))


def _words(behind: Iterable[tuple[str, str]], stages: Iterable[tuple[str, str]]) -> str:
    """The words of a command by which stages are given up, and kit stays at a job."""
    options = [("--stays", behind), ("--dropped", stages)]
    return " ".join(word for option, pairs in options if pairs for word in (option, *map(".".join, pairs)))
