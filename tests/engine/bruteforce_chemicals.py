"""What the exact search reads of chemicals that must never meet, written apart from the engine and the checker.

What is put on a surface is held by it until a rinse of it, begun after that, is over. A hold is said for each two
stages whose chemicals must never meet, by (first, second, surface, rinse): the rinse that goes on over it, or none.
"""

from collections.abc import Sequence
from itertools import permutations

from planner.day import Day, Stage
from planner.trade.chemicals import chemicals
from tests.engine.bruteforce_fresh import all_below, apart

Holds = tuple[tuple[int, int, str, int], ...]
"""All holds of a moment, sorted."""

WAITING, RUNNING, NO_RINSE = -1, -2, -1


class ChemicalReading:
    """The chemicals of one day, its stages named by their numbers."""

    def __init__(self, day: Day, stages: Sequence[tuple[str, str, Stage]]) -> None:
        self.day, self.stages = day, stages
        used = [(x, s.chemical) for x, (_, _, s) in enumerate(stages) if s.chemical]
        self.meet: dict[tuple[int, int], set[str]] = {}
        self.drift: dict[tuple[int, int], set[int]] = {}
        """Of two that are put on beside each other, what takes off the first: until then the other is not opened."""
        for (x, one), (y, other) in permutations(used, 2):
            both = self._reached(x) & self._reached(y) if stages[x][0] == stages[y][0] else set()
            if both and not chemicals().may_meet(one, other):
                self.meet[x, y] = both
            near = not both and stages[x][0] == stages[y][0] and self._ground(x) == self._ground(y)
            if near and not chemicals().may_meet(one, other):
                self.drift[x, y] = self._taken_off(x) - {y}
        self.own = {(x, y): self._own_rinses(x, y) for x, y in self.meet}

    def _ground(self, x: int) -> str:
        j, _, stage = self.stages[x]
        return self.day.jobs[j].surfaces[stage.surface].ground

    def _taken_off(self, x: int) -> set[int]:
        j, s, _ = self.stages[x]
        ends = {w.before for w in self.day.jobs[j].waits if w.after == s and w.kind == "dwell"}
        return {i for i, (k, key, _) in enumerate(self.stages) if k == j and key in ends}

    def _reached(self, x: int) -> set[str]:
        """The surface of a stage and all below."""
        j, _, stage = self.stages[x]
        return {stage.surface} | all_below(self.day.jobs[j])[stage.surface]

    def _follow(self, x: int) -> set[int]:
        """The stages that come after one by the words of the day, straight or by others."""
        j, _, _ = self.stages[x]
        number = {s: i for i, (k, s, _) in enumerate(self.stages) if k == j}
        pairs = [(a, s) for s in number for a in self.day.jobs[j].stages[s].after]
        pairs += [(w.after, w.before) for w in self.day.jobs[j].waits if w.before]
        found, new = set[int](), {x}
        while new:
            new = {number[b] for a, b in pairs if number[a] in new} - found
            found |= new
        return found

    def _is_elsewhere(self, rinse: int, x: int) -> bool:
        """Whether a rinse is of another section of the surface of a stage."""
        one, other = self.stages[rinse][2], self.stages[x][2]
        return one.surface == other.surface and apart(one.part, other.part)

    def _own_rinses(self, x: int, y: int) -> set[int]:
        """The rinses of what a stage is put on that come after it by the day's words, and not after the other."""
        found = {r for r in self._follow(x) - self._follow(y) if self.stages[r][2].rinses}
        return {r for r in found if self.stages[r][2].surface == self.stages[x][2].surface} - {
            r for r in found if self._is_elsewhere(r, x)
        }

    def _clears(self, rinse: int, x: int, y: int, surface: str) -> bool:
        j, _, stage = self.stages[rinse]
        if j != self.stages[x][0] or not stage.rinses or self._is_elsewhere(rinse, x) or self._is_elsewhere(rinse, y):
            return False
        if surface in (self.stages[x][2].surface, self.stages[y][2].surface):
            return stage.surface == surface
        return surface in self._reached(rinse)

    def may_start(self, stages: Sequence[int], held: Holds, i: int) -> bool:
        """Whether no chemical that must never meet that of a stage is where it goes, with all its rinses over."""
        if any(second == i for _, second, _, _ in held):
            return False
        for (x, y), off in self.drift.items():
            is_on = stages[x] == RUNNING or (stages[x] != WAITING and any(stages[r] == WAITING for r in off))
            if y == i and is_on:
                return False
        before = [x for x, y in self.meet if y == i and stages[x] != WAITING]
        return not any(stages[r] in (WAITING, RUNNING) for x in before for r in self.own[x, i])

    def begun(self, stages: Sequence[int], held: Holds, i: int) -> Holds:
        """The holds once a stage has begun: what it puts on, and what it rinses."""
        ahead = {y: some for (x, y), some in self.meet.items() if x == i and stages[y] == WAITING}
        new = {(i, y, s, NO_RINSE) for y, some in ahead.items() for s in some}
        over = {h for h in held if stages[h[0]] not in (WAITING, RUNNING)}
        new |= {(x, y, s, i) for x, y, s, _ in over if self._clears(i, x, y, s)}
        return tuple(sorted({h for h in held if h[1] != i} | new))

    def rinsed(self, held: Holds, ended: set[int]) -> Holds:
        """The holds once some stages have ended."""
        gone = {(x, y, s) for x, y, s, rinse in held if rinse in ended}
        return tuple(h for h in held if h[:3] not in gone)
