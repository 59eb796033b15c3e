"""The constraint problem of a day, as plain data.

It knows nothing of files or days. The core is the resource-constrained project scheduling problem with modes and
minimum and maximum time lags (activities, modes, lags, cumulative resources); around it stand what a day adds:
hands, kit that stays on grounds, crossings that carry it, visits of the van. A published scheduling instance is a
problem with only the core. Times are whole minutes on one axis; everything else is named by its index.
"""

from dataclasses import dataclass

from planner.engine.between import (
    Beneath,
    Cleaned,
    Closed,
    KeptFresh,
    Lag,
    Slippery,
    Spans,
    Spell,
    Spoiling,
    Unmixable,
    Wetted,
)

__all__ = [
    "LARGE", "LOAD_SCALE", "MASS_SCALE", "SHAKE_SCALE", "Activity", "Beneath", "Cleaned", "Closed", "DrawnTogether",
    "Ground", "Hand", "Job", "KeptFresh", "Kit", "KitThere", "Lag", "Leaving", "Material", "Meal", "Mode", "Problem",
    "Resource", "Rest", "Route", "Slippery", "Spell", "Spoiling", "Unmixable", "Wetted",
]  # fmt: skip

LOAD_SCALE = 100
"""Loads and limits are whole hundredths of an armful."""

SHAKE_SCALE = 100
"""Vibration is in whole hundredths of a point (HSE hand-arm vibration ready reckoner: 2 a^2 T[h])."""


MASS_SCALE = 100
"""Masses are whole hundredths of a kilogram."""

MIDDLING, LARGE = 15, 60
"""Activities times hands from which a day is no longer small, and beyond which it is large."""


@dataclass(frozen=True, slots=True)
class Mode:
    """One way of doing an activity: its time, hands, kit, resource demands, material containers, and how it shakes.

    ``shake`` is the vibration that each hand doing it takes, in whole hundredths of points. ``slow`` are the minutes by
    which it takes longer than planned in so many days as are to be reckoned with.
    """

    name: str
    minutes: int
    hands: int = 0
    kit: tuple[int, ...] = ()
    demands: tuple[tuple[int, int], ...] = ()
    uses: tuple[tuple[int, int], ...] = ()
    shake: int = 0
    slow: int = 0


@dataclass(frozen=True, slots=True)
class Activity:
    """What must happen once (or, if ``optional``, may): in one mode, on one ground, outside its ``shut`` spans.

    ``is_section`` says that others like it do the rest of the surface, with the same kit. ``chemical`` is the class of
    what its kit is filled with. Where it ``wants_water`` (something mixed, a corrosive opened), that is there before.
    ``kind`` is what sort of work it is, ``surface`` a number for what is worked on: only for what is natural.
    """

    name: str
    modes: tuple[Mode, ...]
    ground: int | None = None
    earliest: int = 0
    latest: int | None = None
    start: int | None = None
    shut: Spans = ()
    optional: bool = False
    hand: int | None = None
    is_section: bool = False
    chemical: str | None = None
    wants_water: bool = False
    kind: str = ""
    surface: int | None = None


@dataclass(frozen=True, slots=True)
class Resource:
    """A cumulative resource."""

    name: str
    capacity: int


@dataclass(frozen=True, slots=True)
class Ground:
    """A ground with its way in. With ``slots`` hands work there inside crossings; without, chores include the walk.

    Where a relaxation leaves crossings out, ``toll`` are the minutes of a leg, and ``tolls`` crossings are certain.
    """

    name: str
    job: int
    walk: int
    slots: bool
    restricted: bool
    limit: int
    lay: int = 0
    lift: int = 0
    wheeled: bool = False
    toll: int = 0
    tolls: int = 0

    @property
    def is_carried_to_by_chores(self) -> bool:
        """Whether chores carry kit in and out, and the hands that do them lift it."""
        return not self.slots and not self.toll


@dataclass(frozen=True, slots=True)
class Kit:
    """Equipment: how many are owned, load (scaled), hands to lift, set-up and pack-down minutes, mass (scaled).

    ``wheels`` is the mass that it takes if it is a sack truck or a barrow, ``wheels_load`` the armfuls (both scaled). A
    stay that is ``of_one_chemical`` serves only activities of the same. What it ``needs`` stands before it is set up.
    What ``stays_put`` is used where it stands, and carried no more.
    """

    name: str
    own: int
    load: int
    lift: int
    set_up: int
    pack_down: int
    may_stay: bool = False
    mass: int = 0
    wheels: int = 0
    wheels_load: int = 0
    of_one_chemical: bool = False
    water: bool = False
    needs: tuple[int, ...] = ()
    stays_put: bool = False


@dataclass(frozen=True, slots=True)
class Material:
    """Something carried in by the container of ``load`` and ``mass`` (both scaled); it may be clean water."""

    name: str
    load: int
    mass: int = 0
    water: bool = False


@dataclass(frozen=True, slots=True)
class DrawnTogether:
    """Of a material on a ground the containers that the first of ``sure`` brings serve all ``activities``.

    They are there before any of these begins. Others of ``sure`` could bring them as well: each is done for certain.
    """

    ground: int
    material: int
    activities: tuple[int, ...]
    sure: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Leaving:
    """So many containers of a material that go out of a ground once the activities ``after`` are over.

    ``rest`` is the part of each that is full, ``load`` and ``mass`` are of one (scaled). It is so only where every
    activity of ``when`` is done by one of the modes named beside it (none named: is not done at all).
    """

    ground: int
    material: int
    count: int
    rest: float
    load: int
    mass: int
    after: tuple[int, ...]
    when: tuple[tuple[int, tuple[int, ...]], ...] = ()


@dataclass(frozen=True, slots=True)
class Rest:
    """A break owed once a hand is there longer than ``once_over``; it begins from ``soonest`` to ``within`` in."""

    length: int
    once_over: int
    within: int
    soonest: int = 0
    earliest: int | None = None
    latest: int | None = None


@dataclass(frozen=True, slots=True)
class Meal:
    """The meal of a hand that is out longer than ``once_over``; it begins between two times of the clock."""

    length: int
    once_over: int
    earliest: int
    latest: int


@dataclass(frozen=True, slots=True)
class Hand:
    """One who works. ``rides`` in the van, else comes and goes within ``earliest`` and ``latest``.

    ``shaken`` is the vibration taken already, in hundredths of points; ``lifts`` is the mass carried alone (scaled).
    """

    name: str
    earliest: int
    latest: int
    rides: bool = True
    rest: Rest | None = None
    shaken: int = 0
    lifts: int | None = None
    meal: Meal | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """A place to visit up to ``visits`` times, first in the ``arrive`` window, gone for good by ``done_by``.

    Nothing else is done for ``arriving`` minutes after the first arrival and ``leaving`` before the last departure.
    """

    name: str
    visits: int = 1
    arrive: tuple[int, int] | None = None
    done_by: int | None = None
    arriving: int = 0
    leaving: int = 0


@dataclass(frozen=True, slots=True)
class KitThere:
    """Kit that is on a ground already, on a day under way; is it set up, and packed down again (or begun to be)?"""

    kit: int
    ground: int
    is_set_up: bool
    is_packed_down: bool
    is_begun: bool = False
    is_going: bool = False


@dataclass(frozen=True, slots=True)
class Route:
    """Driving minutes: from the start to each job, between jobs, from each job to the end."""

    out: tuple[int, ...]
    between: tuple[tuple[int, ...], ...]
    back: tuple[int, ...]


@dataclass(frozen=True)
class Problem:
    """All of it.

    ``origin`` is the minute from which minutes home are counted, ``opens`` the earliest start, ``finish`` the latest
    finish (soft), ``horizon`` the end of time, ``price`` the minutes that one restricted crossing is worth. No hand
    takes more than ``most_shake`` (None: no limit), and none more than ``shake_action`` where sharing avoids it. Where
    it ``keeps_room``, no moment that must not come too late is short of room for slow activities.
    On a day under way (``is_underway``), the first stays of a kit on a ground are the ``standing`` ones, ``laid`` are
    the (ground, visit) whose floor protection is down, ``watered`` the activities whose water lies there, ``inside``
    the (ground, hand) whose crossing has begun, and ``begun_visits`` those at which the van has arrived.
    Of the pairs in ``above``, what the first works on is above what the second works on.
    """

    activities: tuple[Activity, ...]
    horizon: int
    lags: tuple[Lag, ...] = ()
    resources: tuple[Resource, ...] = ()
    apart: tuple[tuple[int, int], ...] = ()
    closed: tuple[Closed, ...] = ()
    spoiling: tuple[Spoiling, ...] = ()
    unmixable: tuple[Unmixable, ...] = ()
    cleaned: tuple[Cleaned, ...] = ()
    kept: tuple[KeptFresh, ...] = ()
    wetted: tuple[Wetted, ...] = ()
    slippery: tuple[Slippery, ...] = ()
    beneath: tuple[Beneath, ...] = ()
    spells: tuple[Spell, ...] = ()
    above: tuple[tuple[int, int], ...] = ()
    grounds: tuple[Ground, ...] = ()
    kit: tuple[Kit, ...] = ()
    materials: tuple[Material, ...] = ()
    shared: tuple[DrawnTogether, ...] = ()
    leaving: tuple[Leaving, ...] = ()
    hands: tuple[Hand, ...] = ()
    jobs: tuple[Job, ...] = ()
    route: Route | None = None
    origin: int = 0
    opens: int = 0
    finish: int | None = None
    fixed_start: bool = False
    price: int = 0
    most_shake: int | None = None
    shake_action: int | None = None
    keeps_room: bool = False
    is_underway: bool = False
    standing: tuple[KitThere, ...] = ()
    laid: tuple[tuple[int, int], ...] = ()
    watered: tuple[int, ...] = ()
    inside: tuple[tuple[int, int], ...] = ()
    walking_out: tuple[tuple[int, int], ...] = ()
    begun_visits: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        count = len(self.activities)
        for lag in self.lags:
            if not (0 <= lag.first < count and 0 <= lag.second < count):
                raise ValueError(f"a lag names activity {lag.first} or {lag.second}, but there are {count}")
        for activity in self.activities:
            if not activity.modes:
                raise ValueError(f"activity '{activity.name}' has no mode")
            if activity.ground is not None and not 0 <= activity.ground < len(self.grounds):
                raise ValueError(f"activity '{activity.name}' lies on ground {activity.ground}, which is not there")

    @property
    def is_small(self) -> bool:
        """Whether one search over everything finds good plans by itself."""
        return len(self.activities) * len(self.hands) < MIDDLING

    @property
    def is_large(self) -> bool:
        """Whether one search over everything is more than can be hoped to end well in a minute."""
        return len(self.activities) * len(self.hands) > LARGE

    @property
    def coming_and_going(self) -> int:
        """Minutes of arriving and leaving at all jobs, for everyone who rides."""
        return sum(job.arriving + job.leaving for job in self.jobs)

    def standing_on(self, ground: int, kit: int) -> tuple[KitThere, ...]:
        """The kit of a kind that is on a ground already."""
        return tuple(x for x in self.standing if (x.ground, x.kit) == (ground, kit))

    def walking(self, ground: int, kit: int) -> int:
        """Minutes of walking that a chore on an open way in adds: there and back for each load."""
        g, k = self.grounds[ground], self.kit[kit]
        if g.slots or k.load == 0:
            return 0
        return 2 * g.walk * -(-k.load // (g.limit * k.lift))

    def chore_minutes(self, ground: int, kit: int) -> tuple[int, int]:
        """Minutes of the set-up and the pack-down of a kit on a ground."""
        walking = self.walking(ground, kit)
        return self.kit[kit].set_up + walking, self.kit[kit].pack_down + walking

    def chore_hands(self, ground: int, kit: int) -> int:
        """How many hands a chore takes: on an open way in it carries too."""
        k = self.kit[kit]
        return k.lift if self.grounds[ground].is_carried_to_by_chores and k.load else 1
