"""A value for every measure that a recipe may need, for tests that go over all recipes."""

from planner.trade.library import library

VALUES = {
    "area": "20 m2",
    "run": "12 m",
    "slab": "600 x 300 mm",
    "joint_width": "15 mm",
}
SMALL = {
    "repoint-brickwork": {"area": "4 m2"},
    "lift-oil-stains": {"area": "3 m2"},
    "relay-sunken-paving": {"area": "2 m2"},
}
"""Where 20 m2 are more than anybody does in a day."""


def measures_for(recipe: str) -> dict[str, str]:
    """What the recipe needs, and nothing more."""
    return {word: VALUES[word] for word in library().recipes[recipe]["needs"]} | SMALL.get(recipe, {})
