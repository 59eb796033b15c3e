"""A wait: the gap that must follow a stage, its bounds, and when what ends it may begin."""

from typing import Annotated, Literal, NamedTuple

from pydantic import Field

from planner.day.words import Clock, Key, Minutes, Words

MOST_SECTIONS = 12
"""No surface is cut into more parts than this: smaller ones are not worked as parts any more."""

USUAL_SECTIONS = 4
"""Into so many parts a surface may be cut where its waits say nothing else: common practice, no source."""


class Step(Words):
    """From this time of day on, a wait that begins has these bounds (drying by the hour)."""

    since: Clock
    least: Minutes
    most: Minutes | None = None


class Opening(NamedTuple):
    """From when, and until when (None: for as long as one likes), something may begin; minutes of the day."""

    soonest: int
    latest: int | None


class Wait(Words):
    """A gap after one stage before another may start; nobody need stand over it.

    ``least`` and ``most`` run from the end of ``after`` to the start of ``before``. With no ``before`` it is
    what follows the last work on a surface (a cure). While it runs the surface is closed if ``closes`` (when
    it is not given: yes for dwell, dry, cure and set; no for order). ``by_hour`` replaces the bounds by the
    time of day at which the wait begins. ``extended_by`` is a stage that starts the count of ``most`` anew; of
    a film it puts off the drying alone, and the ``most`` of the file, the label's, is counted on.
    ``keep_clear`` wants no other stage of the job worked meanwhile. ``weather`` says that the bounds come
    from drying ("dry") or from the film drying out ("film"); ``film`` is the water or product on the surface,
    in mm.

    ``order`` says that the bounds hold for every patch of the surface, and how the second stage goes over it: ``same``
    begins where the first began, ``reversed`` where it ended, ``any`` is not known. Where one pass cannot hold such
    bounds the surface is worked in up to ``sections`` parts.
    """

    after: Key
    before: Key | None = None
    kind: Literal["dwell", "dry", "cure", "set", "order"] = "order"
    least: Minutes = 0
    most: Minutes | None = None
    closes: bool | None = None
    by_hour: tuple[Step, ...] = ()
    extended_by: Key | None = None
    keep_clear: bool = False
    weather: Literal["dry", "film"] | None = None
    film: Annotated[float, Field(gt=0, le=20)] | None = None
    order: Literal["same", "reversed", "any"] | None = None
    sections: Annotated[int, Field(ge=1, le=MOST_SECTIONS)] = USUAL_SECTIONS

    @property
    def as_meant(self) -> "Wait":
        """The wait with the bounds that the day says."""
        return self

    @property
    def closes_surface(self) -> bool:
        """Whether nobody may stand on the surface while the wait runs."""
        return self.kind != "order" if self.closes is None else self.closes

    @property
    def label(self) -> "Wait | None":
        """Of a film that is wetted again, the wait for as long as the treatment may stay on at the most, wet or not."""
        if self.weather != "film" or self.extended_by is None or self.most is None:
            return None
        return self.model_copy(update={"least": 0, "by_hour": (), "weather": None, "extended_by": None})

    def bounds(self, begins: int) -> tuple[int, int | None]:
        """Least and most minutes for a wait that begins at this minute of the day."""
        least, most = self.least, self.most
        for step in self.by_hour:
            if begins >= step.since:
                least, most = step.least, step.most
        return least, most

    def bounds_while(self, begins: int, ends: int) -> tuple[int, int | None]:
        """Least and most minutes that suit a patch left at any minute from ``begins`` to ``ends``."""
        found = [self.bounds(begins), *((s.least, s.most) for s in self.by_hour if begins < s.since <= ends)]
        mosts = [most for _, most in found if most is not None]
        return max(least for least, _ in found), min(mosts, default=None)

    def begin_between(self, start: int, end: int, minutes: int, again: tuple[int, int] | None = None) -> Opening:
        """When the second stage, of so many minutes, may begin where the first runs from ``start`` to ``end``.

        ``again`` is when a re-wet ran, from which the most is counted, but for the label's. By order, see `order`; a
        patch is left, and reached, at an even pace.
        """
        if again is not None and (label := self.label) is not None:
            anew = self.model_copy(update={"weather": None}).begin_between(start, end, minutes, again)
            both = [x for x in (anew.latest, label.begin_between(start, end, minutes).latest) if x is not None]
            return Opening(anew.soonest, min(both, default=None))
        if self.order is None:
            least, most = self.bounds(end)
            return Opening(end + least, None if most is None else (again[1] if again else end) + most)
        least, most = self.bounds_while(start, end)
        first, last = again or (start, end)
        latest = None
        if self.order == "same":
            soonest = max(end, start + least, end + least - minutes)
            if most is not None:
                latest = min(first + most, last + most - minutes)
        else:
            soonest = end + least
            if most is not None:
                latest = first + most - minutes
        return Opening(soonest, latest)

    def patch_waits(self, first: tuple[int, int], second: tuple[int, int]) -> tuple[int, int]:
        """The shortest and the longest that a patch waits, where the stages run so; with no order at the worst."""
        if self.order == "same":
            waits = (second[0] - first[0], second[1] - first[1])
            return min(waits), max(waits)
        return second[0] - first[1], second[1] - first[0]


class RunsOver(Wait):
    """A wait that cannot be kept on a day under way: its bounds are what a plan is held to now, not what is ``meant``.

    No file has it: it is made of a record (`planner.plan.went`), so that paper and clocks show until when it should be.
    """

    meant: Wait

    @property
    def as_meant(self) -> Wait:
        """The wait with the bounds that the day says."""
        return self.meant
