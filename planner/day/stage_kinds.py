"""What the kind of a stage says of it: what it makes that spoils other work, and what spoils what it leaves.

A recipe, or a day, may say either for a stage itself; where it says nothing, the first word of the kind counts ("clear
gutters" is read as "clear"). All of it is common practice, no source.
"""

from functools import lru_cache
from typing import NamedTuple

DIRT = "dirt"
"""What falls from what is cleared or cut: leaves, moss, bits of mortar."""

DUST = "dust"
"""What dry work makes: it travels over the whole of its ground."""

MIST = "mist"
"""What drifts, over the whole of its ground, from a treatment that is sprayed. Common practice, no source."""

RUNS_DOWN: frozenset[str] = frozenset({"spray", "water", DIRT})
"""Nuisances that run or fall from a surface onto what it stands over or drains to."""

STAYS_PUT: frozenset[str] = frozenset({"water"})
"""Nuisances that run down and go nowhere else; all others travel over the whole of their ground."""

SPRAY = "spray"
"""What a jet makes: it runs down, and travels over the whole of its ground."""

WETS: frozenset[str] = frozenset({SPRAY, "water"})
"""Nuisances that leave wet what they reach."""

WET_UNDERFOOT = 60
"""Minutes after a surface was wetted for which it is slippery underfoot. Common practice, no source."""

DRAINS_IN = 15
"""Minutes until what ran into open joints has drained, so that they can be filled. Common practice, no source."""

LADDER = "ladder"
"""The tag of kit that one works from, and of stages that are done from such kit of the site's (a condition says so)."""

LADDER_WINDIEST = 30.0
"""Wind in km/h up to which one works from a ladder where the stage itself says none: force 5 begins at 29. Common
practice, no source."""

FEET, RAIN = "feet", "rain"
"""What spoils fresh work besides the nuisances of other stages: being stood on or walked over, and rain."""


COATING = ("seal", "oil", "paint", "varnish", "coat", "stain")
"""Kinds that leave a coat, fresh until it has dried."""


class KindOfWork(NamedTuple):
    """What work of a kind makes, and what spoils what it leaves."""

    makes: tuple[str, ...] = ()
    fresh_to: tuple[str, ...] = ()


_JET = KindOfWork(makes=("spray", "water"))
_DUST = KindOfWork(makes=(DUST,))
_COAT = KindOfWork(fresh_to=("spray", "water", "dirt", DUST, MIST, FEET, RAIN))

KINDS: dict[str, KindOfWork] = {
    "wash": _JET,
    "rinse": _JET,
    "flush": KindOfWork(makes=("water",)),
    "wet": KindOfWork(makes=("water",)),
    "clear": KindOfWork(makes=("dirt",)),
    "grind": _DUST,
    "cut": _DUST,
    "sweep": _DUST,
    "fill": _COAT,
    "compact": KindOfWork(fresh_to=("spray", "water", "dirt", FEET, RAIN)),
    "treat": KindOfWork(makes=(MIST,)),
} | dict.fromkeys(COATING, _COAT)
"""By the first word of a stage's kind."""

LAYING_ON = ("treat", *COATING)
"""Kinds that spray, brush or roll something onto their surface: nobody is near meanwhile, and no dust or spray comes
there. Common practice, no source."""

SPOILS_WHAT_IS_LAID_ON: frozenset[str] = frozenset({DUST, SPRAY})
"""What spoils such work while it is done, whatever it leaves, and however that bears it later."""

CUTTING = ("grind", "cut")
"""Kinds that cut dry: what they cut flies, and its dust must be taken up before it gets wet."""

WASHING = "wash"
"""The kind that takes dirt off. What fell or was thrown onto a surface does not go with a rinse. Common practice, no
source."""

CLEANING = (WASHING, "rinse")
"""Kinds that leave their surface clean."""

CLEARING = "clear"
"""The kind that takes out what has fallen or run somewhere: leaves and silt, which nothing may bring there again."""

WETTING = "wet"
"""The kind that wets a surface for what is to be laid on it: joints before they are filled. So little water carries no
dirt into what lies below. Common practice, no source."""

COVERING = ("cover", "mask", "sheet")
"""Kinds whose kit stays where it was put until the stages that it is for are over."""


def first_word(kind: str) -> str:
    """The word of a kind that counts."""
    return kind.lower().split()[0] if kind.split() else ""


@lru_cache(maxsize=256)  # asked for every two stages of a job
def kind_of_work(kind: str) -> KindOfWork:
    """What a kind says; nothing for a kind that is not known."""
    return KINDS.get(first_word(kind), KindOfWork())


def wets_for_what_follows(kind: str) -> bool:
    """Whether a kind wets its surface for what is laid there next, so that nothing else may."""
    return first_word(kind) == WETTING
