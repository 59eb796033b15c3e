"""The people who work, and the van they ride in."""

from typing import Annotated

from pydantic import Field

from planner.day.words import Brief, Clock, Key, Kilograms, KilometresPerHour, Minutes, Span, Title, Words

USUAL_LIFT_KG = 25.0
"""What one hand lifts alone where the day does not say: the higher guideline figure (HSE INDG143)."""


class Break(Words):
    """A rest that a hand must get once they work longer than ``once_over``.

    The default is the least of the Working Time Regulations 1998, reg. 12: 20 minutes when more than six
    hours are worked. It begins no sooner than ``soonest`` and no later than ``once_over`` after the hand's start: a
    break at the very start or end of a day is none (guidance on the regulations; the two hours are common practice).
    """

    length: Brief = 20
    once_over: Minutes = 360
    soonest: Minutes = 120
    earliest: Clock | None = None
    latest: Clock | None = None

    @property
    def begun_within(self) -> int:
        """In so many minutes after the hand's start it must have begun."""
        return self.once_over


class OverdueBreak(Break):
    """A break that cannot begin in time any more on a day under way: it is owed as before, and begins ``by`` then.

    No file has it: it is made of a record (`planner.plan.went`). ``by`` is in minutes after the hand's start.
    """

    by: Minutes

    @property
    def begun_within(self) -> int:
        """In so many minutes after the hand's start it must have begun."""
        return self.by


class Meal(Words):
    """The meal of a long day, for whoever is out longer than ``once_over``, begun between the two times.

    It counts as the break too, where it falls in its time.
    """

    length: Annotated[Brief, Field(gt=0)]
    once_over: Minutes
    earliest: Clock
    latest: Clock


class Hand(Words):
    """One person who works.

    ``hours`` bound all they do. A hand with ``own_transport`` does not ride in the van: they may come later
    and leave earlier than it, but work only at a job where the van stands. ``lifts`` is what they lift and carry
    alone in one go: by default the higher guideline figure, 25 kg; the lower is 16 kg, and anyone may give their own.
    """

    name: Title = ""
    hours: Span | None = None
    cost_per_hour: Annotated[float, Field(ge=0)] = 0.0
    own_transport: bool = False
    lifts: Annotated[Kilograms, Field(gt=0, le=100)] = USUAL_LIFT_KG
    rest: Break | None = None


class Place(Words):
    """A named place that the van drives to; ``at`` is latitude and longitude in degrees."""

    name: Title = ""
    at: tuple[Annotated[float, Field(ge=-90, le=90)], Annotated[float, Field(ge=-180, le=180)]] | None = None


class Trip(Words):
    """The driving time between two places, the same both ways unless ``one_way``."""

    from_: Annotated[Key, Field(alias="from")]
    to: Key
    minutes: Minutes
    one_way: bool = False


class Travel(Words):
    """Driving times: named pairs first, then straight-line distance at ``speed``.

    ``detour`` is how much longer roads are than the straight line (1.3 is common practice, no source).
    """

    trips: tuple[Trip, ...] = ()
    speed: KilometresPerHour = 35.0
    detour: Annotated[float, Field(ge=1, le=5)] = 1.3
