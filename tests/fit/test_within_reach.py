"""What falls out of a day for want of a supply, kit or a hand is found, with what it would save."""

from pathlib import Path

import pytest

from planner.day.editing import edited
from planner.day.reading import day_from_text
from planner.fit.within_reach import Reach, within_reach, worth_trying

HERE = Path("day.toml")


def text(*, sockets: int = 2, tap: int = 1, more: str = "", hands: int = 2) -> str:
    crew = "".join(f'[hands.hand-{number}]\nname = "Hand {number}"\n' for number in range(1, hands + 1))
    return f"""format = 1
date = 2026-06-16
{more}
[van]
starts_at = "yard"
ends_at = "yard"
[places.yard]
[places.elm]
[travel]
trips = [{{ from = "yard", to = "elm", minutes = "10 min" }}]
{crew}
[jobs.elm]
title = "Elm Road"
place = "elm"
recipes = [{{ recipe = "clean-and-repoint-patio", area = "6 m2", slab = "600 x 300 mm", joint_width = "10 mm" }}]
[jobs.elm.grounds.rear]
name = "Rear"
way_in = {{ minutes = "2 min" }}
supplies = {{ tap = {tap}, socket = {sockets} }}
"""


def found(said: str) -> dict[str, Reach]:
    return {one.lacking: one for one in within_reach(said, HERE)}


def minutes(said: str, stage: str, method: str) -> int:
    return day_from_text(said, HERE).jobs["elm"].likely_minutes(stage, method)


def test_with_one_socket_the_grinder_is_missed_with_what_it_would_save() -> None:
    """A grinder runs with its extractor, so it takes two sockets (kit.toml); with one, joints are raked by hand."""
    one = found(text(sockets=1))["socket"]
    [cut] = [gain for gain in one.gains if gain.stage == "Cut the joints out"]
    by_hand, by_disc = minutes(text(), "grind", "rake"), minutes(text(), "grind", "grinder")
    assert (cut.now, cut.then, one.saved) == (by_hand, by_disc, by_hand - by_disc)
    assert one.name == "an extra socket or a small generator (Elm Road, Rear)"
    assert day_from_text(edited(text(sockets=1), one.changes, HERE), HERE) == one.day == day_from_text(text(), HERE)
    assert [remedy.words for remedy in worth_trying([one])] == [one.name]


def test_without_any_socket_the_extractor_and_the_grinding_are_missed() -> None:
    """The extractor takes one, the grinder two: with one the dust is taken up by it, with two joints are cut as well.

    The washing is done from the van's tank, which takes none.
    """
    told = [one for one in within_reach(text(sockets=0), HERE) if one.lacking == "socket"]
    assert [one.name.split(" or ")[0] for one in told] == ["an extra socket", "2 extra sockets"]
    assert [gain.stage for gain in told[0].gains] == ["Take up dust and mortar"]
    assert [gain.stage for gain in told[1].gains] == ["Cut the joints out", "Take up dust and mortar"]


def test_nothing_is_missed_where_all_is_there() -> None:
    assert found(text()) == {}


@pytest.mark.parametrize(
    ("more", "name"),
    [
        ('leave_at_home = ["grinder"]', "Joint grinder along"),
        ("[kit.grinder]\nown = 0\n", "Joint grinder, hired or lent"),
    ],
)
def test_kit_left_at_home_or_not_owned_is_missed(more: str, name: str) -> None:
    one = found(text(more=more))["kit"]
    assert one.name == name
    assert [gain.stage for gain in one.gains] == ["Cut the joints out"]
    assert "grinder" in one.day.jobs["elm"].stages["grind"].methods


def test_alone_the_ways_of_two_are_missed() -> None:
    alone = found(text(hands=1))["hand"]
    assert alone.gains
    assert all("two hands" in gain.method for gain in alone.gains)
    assert worth_trying([alone]) == [], "a second hand is among the remedies of every day"


def test_a_text_that_is_no_day_and_a_day_without_recipes_miss_nothing() -> None:
    assert list(within_reach("format = [", HERE)) == []
    assert list(within_reach("format = 1\n[jobs.elm]\ntitle = 3\n", HERE)) == []
