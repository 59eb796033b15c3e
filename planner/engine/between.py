"""What holds between activities of a problem: lags, closed surfaces, what spoils, soils, wets and covers what.

Part of the plain data of `planner.engine.problem`, from which it is imported.
"""

from dataclasses import dataclass, replace

Spans = tuple[tuple[int, int], ...]
"""Half-open spans of minutes."""


@dataclass(frozen=True, slots=True)
class Lag:
    """``least <= start(second) - end(first) <= most``, a generalized precedence relation.

    Counted from ``start(first)`` if ``from_start`` and to ``end(second)`` if ``to_end``, so that all four relations of
    Elmaghraby and Kamburowski (Management Science 38:1245, 1992) can be said: finish-to-start is the plain one.
    ``steps`` are (since, least, most): the last one whose ``since`` is not after the minute from which is counted holds
    instead; with ``patchwise``, all hold that begin to hold, or hold, at some minute from start to end of ``first``.
    ``extended_by`` is an optional activity that, when present, comes within ``most`` and restarts the count.
    """

    first: int
    second: int
    least: int | None = 0
    most: int | None = None
    from_start: bool = False
    steps: tuple[tuple[int, int | None, int | None], ...] = ()
    extended_by: int | None = None
    to_end: bool = False
    patchwise: bool = False

    @property
    def is_in_turn(self) -> bool:
        """Whether it lets the second begin only after the first has ended, whatever the time of day."""
        leasts = [self.least, *(least for _, least, _ in self.steps)]
        return not self.from_start and not self.to_end and all(x is not None and x >= 0 for x in leasts)

    @property
    def binds(self) -> bool:
        """Whether it says more than that one comes after the other."""
        return bool(self.least) or self.most is not None or bool(self.steps)

    @property
    def has_most(self) -> bool:
        """Whether the second may come too late."""
        return self.most is not None or any(most is not None for _, _, most in self.steps)

    def bounds(self, start: int, end: int) -> tuple[int | None, int | None]:
        """Least and most minutes where ``first`` runs from ``start`` to ``end``."""
        origin = start if self.from_start else end
        held = [(self.least, self.most)]
        begins = start if self.patchwise else origin
        for since, least, most in self.steps:
            if since <= begins:
                held = []
            if since <= (end if self.patchwise else origin):
                held.append((least, most))
        leasts, mosts = [x for x, _ in held if x is not None], [x for _, x in held if x is not None]
        return max(leasts, default=None), min(mosts, default=None)

    def endless(self) -> "Lag":
        """The same without any most."""
        return replace(self, most=None, steps=tuple((since, least, None) for since, least, _ in self.steps))


@dataclass(frozen=True, slots=True)
class Closed:
    """From the end of ``first`` to the start of ``until`` (or for good) these activities and ways in are barred.

    And nobody puts up or takes down, on its ground, ``kit`` that has to stand there: pairs of ground and kit.

    ``from_start`` bars them from the start of ``first`` on; with ``minutes`` they are barred until so long after its
    end. ``has_begun`` says, on a day under way, that ``first`` has: whoever walks or sees to kit there by then goes on.
    """

    first: int
    until: int | None
    activities: tuple[int, ...] = ()
    ways: tuple[int, ...] = ()
    kit: tuple[tuple[int, int], ...] = ()
    from_start: bool = False
    minutes: int | None = None
    has_begun: bool = False


@dataclass(frozen=True, slots=True)
class Spoiling:
    """``maker`` may not run between the start of ``spoiled`` and the last start in ``until`` (None: for good).

    Nor until so many ``minutes`` after the end of ``spoiled``.
    """

    maker: int
    spoiled: int
    until: tuple[int | None, ...] = ()
    minutes: int = 0


@dataclass(frozen=True, slots=True)
class Cleaned:
    """``maker`` soils a surface: it is over before one of ``cleaners`` begins."""

    maker: int
    cleaners: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class KeptFresh:
    """The ``kit`` of ``activity`` stays on its ground, and serves nothing else, until the ends of ``until``.

    It lies where ``under`` are worked: these are over before, or begin when it is up again. ``is_over`` says, on a day
    under way, that the activity was done and its kit stands there.
    """

    activity: int
    until: tuple[int, ...]
    ground: int
    kit: tuple[int, ...]
    under: tuple[int, ...] = ()
    is_over: bool = False


@dataclass(frozen=True, slots=True)
class Wetted:
    """``wet`` wets what ``dry`` must find dry: that begins so many ``minutes`` after it, or is over before it."""

    wet: int
    dry: int
    minutes: int


@dataclass(frozen=True, slots=True)
class Slippery:
    """``wet`` wets what the ways to ``grounds`` go over: no ``kit`` goes along them then, nor ``minutes`` after.

    ``has_begun`` says so on a day under way: what carries kit along an open way, and has begun too, goes on.
    """

    wet: int
    grounds: tuple[int, ...]
    kit: tuple[int, ...]
    minutes: int
    has_begun: bool = False


@dataclass(frozen=True, slots=True)
class Beneath:
    """``kit`` on ``ground`` stands under ``above``: nobody sets it up or packs it down while that goes on.

    With ``is_down`` it does not even stand there then: a ladder on paving that is being washed, treated or sealed; nor
    is it put up there until so many ``minutes`` after that.
    ``has_begun`` says, on a day under way, that it goes on now: it keeps what is still to come, not what has begun too.
    """

    above: int
    ground: int
    kit: int
    is_down: bool = False
    minutes: int = 0
    has_begun: bool = False


@dataclass(frozen=True, slots=True)
class Spell:
    """From the start of ``first`` to the end of ``last`` none of the ``shut`` spans begins."""

    first: int
    last: int
    shut: Spans


@dataclass(frozen=True, slots=True)
class Unmixable:
    """Two activities whose chemicals must not meet: one of ``rinses`` lies wholly between them.

    Whichever comes first, all that rinses it off (``off_one``, ``off_other``) is over before the second.
    """

    one: int
    other: int
    rinses: tuple[int, ...]
    off_one: tuple[int, ...] = ()
    off_other: tuple[int, ...] = ()
