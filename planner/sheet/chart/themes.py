"""Which ink each role of the picture is drawn in: one table of roles, and a palette for each light and paper.

No role is told from another by hue alone: weights, dashes, patterns and words differ as well, and the grey palettes
use no hue at all.
"""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Ink:
    """How a role is drawn; colours are names of a palette, empty for none.

    ``fill`` is the ground of an area and the colour of a text; ``stroke`` that of lines, edges and patterns; ``width``
    is in pixels, ``dash`` in pixels on and off.
    """

    fill: str = ""
    stroke: str = ""
    width: float = 1.0
    dash: tuple[float, ...] = ()
    edge: bool = True


Palette = dict[str, str]

ROLES: dict[str, Ink] = {
    "head": Ink("paper"),
    "head edge": Ink(stroke="ink"),
    "margin": Ink("paper"),
    "hour": Ink(stroke="line"),
    "half hour": Ink(stroke="line", dash=(1, 4)),
    "tick": Ink(stroke="faint"),
    "hour name": Ink("ink"),
    "lane edge": Ink(stroke="line", width=1.5),
    "job title": Ink("ink"),
    "caption": Ink("faint"),
    "ground name": Ink("ink"),
    "ground": Ink("ground"),
    "threshold": Ink(stroke="ink", width=2.0),
    "restricted threshold": Ink(stroke="ink", width=3.0),
    "threshold sill": Ink(stroke="ink", width=1.0),
    "far threshold": Ink(stroke="faint", width=0.75, dash=(2, 3)),
    "sheets": Ink("paper", "ink", 0.75),
    "crossing": Ink(stroke="ink", width=1.75),
    "restricted crossing": Ink(stroke="heavy", width=4.0),
    "crossing arrow": Ink("ink", "ink"),
    "crossing empty arrow": Ink("paper", "ink", 1.25),
    "restricted crossing arrow": Ink("heavy", "heavy"),
    "restricted crossing empty arrow": Ink("paper", "heavy", 1.5),
    "load": Ink("ink"),
    "stage": Ink("stage", "ink", 1.0),
    "sole": Ink("stage", "ink", 1.0, edge=False),
    "stage name": Ink("ink"),
    "flag": Ink("ink"),
    "name back": Ink("paper"),
    "ground name back": Ink("ground"),
    "staff": Ink(stroke="faint", width=0.75),
    "number": Ink("ink"),
    "chore": Ink("paper", "faint", 0.75),
    "break": Ink("paper", "ink", 1.0, (3, 2)),
    "break name": Ink("ink"),
    "reach": Ink("reach"),
    "pool": Ink("pool", "water", 1.0),
    "bare pool": Ink("paper", "water", 1.0, (2, 2)),
    "waves": Ink("pool", "water", edge=False),
    "surface": Ink(stroke="water", width=2.5),
    "least": Ink(stroke="water", width=1.5),
    "most": Ink(stroke="heavy", width=2.0),
    "slack": Ink(stroke="water", width=1.0, dash=(3, 3)),
    "tie": Ink(stroke="water", width=2.0),
    "pool name": Ink("on pool"),
    "bare name": Ink("on pool"),
    "kit band": Ink("kit"),
    "kit end": Ink(stroke="kit", width=1.5),
    "kit name": Ink("faint"),
    "drive": Ink("paper", "faint", 1.0),
    "drive name": Ink("ink"),
    "drive name back": Ink("paper"),
    "stand": Ink("ground"),
    "place": Ink("ink"),
    "promise": Ink(stroke="promise", width=2.0),
    "promise name": Ink("promise"),
    "shade: daylight": Ink("night", "night ink", 0.75, edge=False),
    "shade: rain": Ink("", "rain ink", 0.75, edge=False),
    "shade: quiet": Ink("", "quiet ink", 0.75, edge=False),
    "shade name": Ink("faint"),
    "finish": Ink(stroke="ink", width=1.5, dash=(7, 3)),
    "finish name": Ink("ink"),
    "home": Ink(stroke="faint", width=1.0, dash=(2, 2)),
    "home name": Ink("faint"),
    "now": Ink(stroke="heavy", width=2.0),
    "now name": Ink("heavy"),
    "other plan": Ink("paper", "promise", 1.25, (4, 2)),
    "other plan name": Ink("promise"),
    "note": Ink("ink"),
    "key": Ink("faint"),
    "path 1": Ink(stroke="path 1", width=2.5),
    "path 2": Ink(stroke="path 2", width=2.5, dash=(9, 3)),
    "path 3": Ink(stroke="path 3", width=2.5, dash=(3, 3)),
    "path 4": Ink(stroke="path 4", width=2.5, dash=(10, 3, 2, 3)),
    "path 5": Ink(stroke="path 1", width=2.5, dash=(14, 4)),
    "path 6": Ink(stroke="path 2", width=2.5, dash=(2, 5)),
    "hand 1": Ink("path 1"),
    "hand 2": Ink("path 2"),
    "hand 3": Ink("path 3"),
    "hand 4": Ink("path 4"),
    "hand 5": Ink("path 1"),
    "hand 6": Ink("path 2"),
}


@dataclass(frozen=True, slots=True)
class Theme:
    """A palette by name; strokes are drawn ``scale`` times as wide as the table of roles says."""

    name: str
    palette: Palette
    scale: float = 1.0

    def ink(self, role: str) -> Ink:
        """The ink of a role, with the palette's colours in place of their names."""
        ink = ROLES[role]
        dash = tuple(part * self.scale for part in ink.dash)
        return Ink(self.colour(ink.fill), self.colour(ink.stroke), ink.width * self.scale, dash, ink.edge)

    def scaled(self, scale: float) -> "Theme":
        """The same inks with strokes so many times as wide."""
        return replace(self, scale=self.scale * scale)

    def colour(self, name: str) -> str:
        """A colour of the palette as ``#rrggbb``; empty for none."""
        return self.palette[name] if name else ""


_LIGHT: Palette = {
    "paper": "#fffefb", "ground": "#f3efe4", "ink": "#1c2427", "faint": "#5d6668", "line": "#ddd8ca",
    "heavy": "#99291f", "stage": "#fffefb", "reach": "#e4ecea", "pool": "#cfe3e3", "water": "#0f5963",
    "on pool": "#0a3f47", "kit": "#8b8472", "promise": "#7a4a00", "night": "#e7e5ea", "night ink": "#aca8b8",
    "rain ink": "#c3cedb", "quiet ink": "#e6d7b6",
    "path 1": "#0f5963", "path 2": "#a8510c", "path 3": "#5b3a8c", "path 4": "#3d4a1c",
}  # fmt: skip

_DARK: Palette = {
    "paper": "#1a2023", "ground": "#232a2c", "ink": "#e9e6dd", "faint": "#a3aaa8", "line": "#323b3f",
    "heavy": "#f0968a", "stage": "#2c3538", "reach": "#22363a", "pool": "#1f474c", "water": "#7cc4c8",
    "on pool": "#d9f0f1", "kit": "#8f8a7b", "promise": "#e5b567", "night": "#14181c", "night ink": "#3c4350",
    "rain ink": "#2f4252", "quiet ink": "#423a28",
    "path 1": "#7cc4c8", "path 2": "#f0a868", "path 3": "#c3a8f0", "path 4": "#c8d98a",
}  # fmt: skip

_GREY: Palette = {
    "paper": "#ffffff", "ground": "#f3f3f3", "ink": "#161616", "faint": "#565656", "line": "#d9d9d9",
    "heavy": "#000000", "stage": "#ffffff", "reach": "#e9e9e9", "pool": "#d6d6d6", "water": "#3c3c3c",
    "on pool": "#161616", "kit": "#838383", "promise": "#333333", "night": "#e4e4e4", "night ink": "#a6a6a6",
    "rain ink": "#b2b2b2", "quiet ink": "#c4c4c4",
    "path 1": "#222222", "path 2": "#5a5a5a", "path 3": "#3a3a3a", "path 4": "#6a6a6a",
}  # fmt: skip

_PRINT: Palette = {**_LIGHT, "paper": "#ffffff", "stage": "#ffffff", "ground": "#f4f2ec"}

_CONTRAST: Palette = {
    "paper": "#ffffff", "ground": "#f4f4f4", "ink": "#000000", "faint": "#1f1f1f", "line": "#8c8c8c",
    "heavy": "#860000", "stage": "#ffffff", "reach": "#e8eef8", "pool": "#d9e4f5", "water": "#00307a",
    "on pool": "#000000", "kit": "#3d3d3d", "promise": "#5a3400", "night": "#e6e6e6", "night ink": "#6a6a6a",
    "rain ink": "#6a6a6a", "quiet ink": "#7a6a3a",
    "path 1": "#00307a", "path 2": "#5a3400", "path 3": "#4b1a7a", "path 4": "#004a19",
}  # fmt: skip

THEMES = {
    name: Theme(name, palette)
    for name, palette in (
        ("light", _LIGHT),
        ("dark", _DARK),
        ("grey", _GREY),
        ("print", _PRINT),
        ("contrast", _CONTRAST),
    )
}
"""The themes by name: "light", "dark", "grey" (no hue, for grey paper), "print" (white paper), "contrast" (7 to 1)."""
