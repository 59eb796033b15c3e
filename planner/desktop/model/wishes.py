"""Wishes about the plan: each is a change of the day, in words, that can be weighed before it is made."""

from dataclasses import dataclass

from planner.day.faults import Where
from planner.day.names import written_name
from planner.desktop.model.draft import Change, Draft
from planner.trade.units import show_clock


@dataclass(frozen=True)
class Wish:
    """What is wished, in words, and the changes that would make it so."""

    words: str
    changes: tuple[Change, ...]


def stage_at(draft: Draft, job: str, stage: str, minute: int) -> Wish:
    """A stage starts exactly at a minute of the day."""
    words = f"{stage_words(draft, job, stage)} at {show_clock(minute)}"
    return Wish(words, (Change(("jobs", job, "stages", stage, "starts_at"), show_clock(minute)),))


def stage_free(draft: Draft, job: str, stage: str) -> Wish:
    """A stage is no longer pinned to a time."""
    words = f"{stage_words(draft, job, stage)} at any time"
    return Wish(words, (Change(("jobs", job, "stages", stage, "starts_at"), None),))


def stage_before(draft: Draft, job: str, first: str, second: str) -> Wish:
    """One stage comes before another of the same job."""
    place: Where = ("jobs", job, "stages", second, "after")
    others = [name for name in draft.at(place, []) if name != first]
    words = f"{stage_words(draft, job, first)} before {stage_words(draft, job, second)}"
    return Wish(words, (Change(place, [*others, first]),))


def without_method(draft: Draft, job: str, stage: str, method: str) -> Wish:
    """A stage is not done by a method."""
    words = f"{stage_words(draft, job, stage)} without “{method}”"
    place: Where = ("jobs", job, "stages", stage, "methods", method)
    changes = [] if draft.written_at(place) is None else [Change(place, None)]
    if draft.uses_in(job):
        changes.append(dropped(draft, job, f"{stage}.{method}"))
    return Wish(words, tuple(changes))


def wait_kept_clear(draft: Draft, job: str, after: str, before: str | None, *, clear: bool) -> Wish:
    """No other work of the job is done while a wait runs; or it may be again."""
    name = stage_words(draft, job, after)
    words = (
        f"Nothing else on the job while it waits after {name}"
        if clear
        else f"Other work again while it waits after {name}"
    )
    return Wish(words, tuple(wait_changes(draft, job, after, before, "keep_clear", clear)))


def wait_changes(draft: Draft, job: str, after: str, before: str | None, word: str, value: object) -> list[Change]:
    """What sets a word of the wait between two stages; one that a recipe gives gets a table to lie over it."""
    place: Where = ("jobs", job, "waits")
    own = draft.written_at(place) or []
    for at, wait in enumerate(own):
        if (wait.get("after"), wait.get("before")) == (after, before):
            return [Change((*place, at, word), value)]
    if value is None:
        return []
    table = {"after": after} | ({"before": before} if before else {}) | {word: value}
    return [Change((*place, len(own)), table) if own else Change(place, [table])]


def hand_added(draft: Draft, key: str, name: str, start: str, end: str) -> Wish:
    """One more hand from one time to another."""
    words = f"With {name} from {start} to {end}"
    return Wish(words, (Change(("hands", key), {"name": name, "hours": [start, end], "own_transport": True}),))


def stage_words(draft: Draft, job: str, stage: str) -> str:
    """What a stage is called in a wish."""
    return written_name(draft.at(("jobs", job, "stages", stage), {}), stage, "name", "kind")


def dropped(draft: Draft, job: str, what: str) -> Change:
    """What takes a stage, or a method ("wash.lance"), out of a job that is made from recipes."""
    so_far = draft.written_at(("jobs", job, "drop")) or []
    return Change(("jobs", job, "drop"), [*so_far, what])
