"""Draws the house: one floor for each package, its rooms, and which floors below it uses, measured from the imports.

    python -m tests.house [OUT]

writes `resources/pictures/house.svg`, which the contributor's guide shows.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from pathlib import Path

from tests import architecture
from tests.architecture import ORDER, ROOT

PICTURE = ROOT / "resources" / "pictures" / "house.svg"
WIDTH, FLOOR, LEFT, ROOMS, STAIR = 960.0, 52.0, 120.0, 560.0, 26.0
FLOOR_INK, ROOM_INK, LINE_INK = "#eef1ee", "#c9d6cf", "#2f4a3f"


@dataclass(frozen=True)
class Floor:
    """A package: lines of each of its rooms (the folder itself is ""), and the packages that it imports."""

    name: str
    rooms: dict[str, int]
    uses: frozenset[str]


def floors() -> list[Floor]:
    """The packages as they are, the lowest first."""
    rooms: dict[str, dict[str, int]] = {name: {} for name in ORDER}
    uses: dict[str, set[str]] = {name: set() for name in ORDER}
    for module, path in architecture.modules():
        _, package, *inside = module.split(".")
        if package not in rooms:
            continue
        source = path.read_text("utf-8")
        room = inside[0] if len(inside) > 1 else ""
        rooms[package][room] = rooms[package].get(room, 0) + source.count("\n")
        for one in architecture.imports_in(source, module):
            parts = one.module.split(".")
            if parts[0] == "planner" and len(parts) > 1 and parts[1] in ORDER[: ORDER.index(package)]:
                uses[package].add(parts[1])
    return [Floor(name, rooms[name], frozenset(uses[name])) for name in ORDER]


def drawn(house: list[Floor]) -> str:
    """The picture as SVG: the lowest floor at the bottom; a stair from each floor, with a dot where it ends."""
    height = FLOOR * len(house) + 56
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {height:g}" '
            'font-family="sans-serif" font-size="12">',
            '<rect width="100%" height="100%" fill="white"/>',
            f'<text x="{LEFT:g}" y="24">rooms, as wide as they have lines</text>',
            f'<text x="{LEFT + ROOMS + 30:g}" y="24">from each floor to those it uses</text>',
            *(line for at, floor in enumerate(house) for line in _floor(floor, at, house)),
            "</svg>\n",
        ]
    )


def _floor(floor: Floor, at: int, house: list[Floor]) -> Iterator[str]:
    top = _middle(at, house) - FLOOR / 2
    yield f'<rect x="8" y="{top + 3:g}" width="{LEFT + ROOMS:g}" height="{FLOOR - 6:g}" fill="{FLOOR_INK}"/>'
    yield f'<text x="18" y="{top + FLOOR / 2 + 1:g}" font-weight="bold">{floor.name}</text>'
    yield f'<text x="18" y="{top + FLOOR / 2 + 15:g}" font-size="10">{sum(floor.rooms.values())} lines</text>'
    largest = max(sum(one.rooms.values()) for one in house)
    left = LEFT
    for name, lines in sorted(floor.rooms.items(), key=lambda room: (room[0] == "", -room[1])):
        width = ROOMS * lines / largest
        box = f'x="{left:g}" y="{top + 8:g}" width="{max(1.0, width - 2):.1f}" height="{FLOOR - 16:g}"'
        yield f'<rect {box} fill="{ROOM_INK}"><title>{escape(name or floor.name)}: {lines} lines</title></rect>'
        if name and width > 7 * len(name) + 8:
            yield f'<text x="{left + 5:g}" y="{top + FLOOR / 2 + 4:g}">{escape(name)}</text>'
        left += width
    x = LEFT + ROOMS + 40 + STAIR * at
    lowest = max((_middle(n, house) for n, one in enumerate(house) if one.name in floor.uses), default=top + FLOOR / 2)
    yield f'<path d="M{x:g} {top + FLOOR / 2:g} V{lowest:g}" stroke="{LINE_INK}" fill="none"/>'
    yield f'<rect x="{x - 4:g}" y="{top + FLOOR / 2 - 4:g}" width="8" height="8" fill="{LINE_INK}"/>'
    for n, one in enumerate(house):
        if one.name in floor.uses:
            yield f'<circle cx="{x:g}" cy="{_middle(n, house):g}" r="4" fill="white" stroke="{LINE_INK}"/>'


def _middle(at: int, house: list[Floor]) -> float:
    return 40 + FLOOR * (len(house) - at) - FLOOR / 2


def main() -> None:
    """Write the picture."""
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else PICTURE
    out.write_text(drawn(floors()), "utf-8")


if __name__ == "__main__":
    main()
