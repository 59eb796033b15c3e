"""A plan as plain data: who does what, where, from when to when, and what is carried on the way.

All times are whole minutes after midnight of the day's date. Jobs, grounds, stages, hands, kit and materials are
named by their keys in the day.

How a plan is to be read (the checker holds every plan to this):

* The van makes a *drive* from place to place; between drives it stands at a job: a *visit*. Hands ride in it, but
  for those with their own transport, who have an *attendance* inside a visit instead.
* A *way in* that is open (not restricted, at most ``OPEN_WAY_MINUTES`` long) needs no crossings. On every other
  ground a hand works inside a *crossing*: ``start`` at the van, on the ground from ``start + way_in.minutes`` to
  ``end - way_in.minutes``, back at the van at ``end``. What it carries in is on the ground at the end of its
  in-leg; what it carries out leaves at the start of its out-leg.
* A piece of kit stands on a ground for a *stay*. It is set up and packed down by *chores* inside the stay, each
  ``kit.set_up`` / ``kit.pack_down`` minutes of one hand's work (no chore where that is 0). On an open way in the
  chore also carries: it takes ``2 * way_in.minutes`` more for each load of at most ``load_limit * lift`` armfuls,
  and needs ``kit.lift`` hands (again no chore where it comes to 0 minutes).
  On other ways in, kit that takes two hands to lift is carried by two crossings whose legs coincide, each bearing its
  share of the load.
* Material is carried in before the stage that uses it starts. Its containers, empty or with what is left, go out again
  after the last stage that uses it on that ground; so does what a stage leaves (rubble, green waste), after that
  stage. What is left of a material that the customer keeps stays with them. On an open way in none of it needs a
  record.
* A leg is within the way's load limit in armfuls and within what that hand lifts in kg. A sack truck or a barrow goes
  along for a whole crossing, on ways that take wheels, and raises both.
* On a *fetch* one hand drives the van away for kit that was forgotten. The others work on with what is there: until
  it is back, nothing comes out of the van or goes into it.
* Floor protection that is ours is laid by a chore before the first crossing of a visit by that way in, lifted by one
  after the last; both are one hand's work done at the van's side, outside crossings.
"""

from collections.abc import Collection
from dataclasses import dataclass, field, replace
from typing import Literal

PLAN_FORMAT = 1
"""Version of the plan's JSON."""


@dataclass(frozen=True, slots=True)
class Drive:
    """The van on the road, from one place to another, all riders in it."""

    from_place: str
    to_place: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Visit:
    """The van standing at a job. ``number`` counts the visits to that job from 1."""

    job: str
    number: int
    arrive: int
    depart: int


@dataclass(frozen=True, slots=True)
class Attendance:
    """A hand with their own transport, at a visit."""

    hand: str
    job: str
    visit: int
    arrive: int
    leave: int


@dataclass(frozen=True, slots=True)
class Carried:
    """So many of a kit or a material in one hand's arms; ``share`` is the part of the load this hand bears.

    ``rest`` is of material that is carried out: the part of each container that is full, 0 for an empty one.
    """

    what: str
    count: int = 1
    is_material: bool = False
    share: float = 1.0
    rest: float | None = None


@dataclass(frozen=True, slots=True)
class Crossing:
    """One there-and-back along a way in by one hand, with a sack truck or a barrow (``wheels``, its kit) or without."""

    job: str
    visit: int
    ground: str
    hand: str
    start: int
    end: int
    carried_in: tuple[Carried, ...] = ()
    carried_out: tuple[Carried, ...] = ()
    wheels: str | None = None


StayKey = tuple[str, str, str, int]
"""Job, ground, kit and number of a stay."""


@dataclass(frozen=True, slots=True)
class Stay:
    """A piece of kit's time on a ground, from carried in to carried out.

    ``number`` tells apart the stays of the same kit on the same ground. ``carried_in`` is when it reaches the ground
    (on an open way in: when its set-up begins), ``carried_out`` when it leaves it (when its pack-down ends).
    ``visit_in`` and ``visit_out`` differ only for kit that may stay while the van is away. A stay that ``follows``
    another of its kit there, by number, begins in the minute in which that ends: the kit lay there packed down, and
    nobody carries it.
    """

    job: str
    ground: str
    kit: str
    number: int
    visit_in: int
    visit_out: int
    carried_in: int
    carried_out: int
    follows: int | None = None

    @property
    def key(self) -> StayKey:
        """What tells it apart from all others of a plan."""
        return self.job, self.ground, self.kit, self.number


@dataclass(frozen=True, slots=True)
class Chore:
    """Hands setting up or packing down a stay's kit, or laying or lifting floor protection."""

    what: Literal["set up", "pack down", "lay", "lift"]
    job: str
    visit: int
    ground: str
    hands: tuple[str, ...]
    start: int
    end: int
    kit: str | None = None
    stay: int | None = None


@dataclass(frozen=True, slots=True)
class Work:
    """A stage as planned: by which method, on which hands, with which stays of its kit (kit key, stay number)."""

    job: str
    stage: str
    method: str
    hands: tuple[str, ...]
    visit: int
    start: int
    end: int
    stays: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Rest:
    """A break of one hand."""

    hand: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Fetch:
    """A hand who drives the van from a job to where it starts its day, for kit that was forgotten, and back.

    It leaves the job, is at the place from ``there`` to ``away``, and ``back`` at the job: the visit goes on meanwhile.
    """

    hand: str
    kit: str
    job: str
    place: str
    leaves: int
    there: int
    away: int
    back: int


@dataclass(frozen=True, slots=True)
class TradeOff:
    """The fewest minutes home with at most so many restricted crossings, and the bound on those minutes."""

    crossings: int
    minutes: int
    bound: int

    @property
    def is_proven(self) -> bool:
        """Whether no plan with so few crossings is home sooner."""
        return self.minutes <= self.bound


@dataclass(frozen=True, slots=True)
class Proof:
    """How good the plan is known to be.

    ``value`` is ``minutes home + price x restricted crossings`` and ``bound`` a lower bound on the value of every plan
    with the least overrun; ``overrun_bound`` is a lower bound on the overrun. All in minutes. ``minutes`` home and
    restricted ``crossings`` stand beside those of the serial order. On a day that says how sure it is to be,
    ``unsure_minutes`` and ``unsure_crossings`` are those of the best plan found that keeps no room for slow stages.
    """

    value: int
    bound: int
    overrun: int
    overrun_bound: int
    minutes: int
    crossings: int
    seconds: float = 0.0
    serial_minutes: int | None = None
    serial_crossings: int | None = None
    unsure_minutes: int | None = None
    unsure_crossings: int | None = None
    trade_off: tuple[TradeOff, ...] = ()

    @property
    def is_best(self) -> bool:
        """Whether the plan is proven best: no other has less overrun, nor as much and a lower value."""
        return self.bound >= self.value and self.overrun_bound >= self.overrun

    @property
    def gap(self) -> float:
        """The part of the value that is not proven necessary, 0 when proven best."""
        return 0.0 if self.is_best else max(0.0, (self.value - self.bound) / max(1, self.value))


@dataclass(frozen=True)
class Plan:
    """Times, hands, methods, stays, crossings and visits for a day; always checked before anyone sees it.

    ``since`` is set on a day under way: the minute from which it was planned again. What lies before is what happened.
    """

    drives: tuple[Drive, ...]
    visits: tuple[Visit, ...]
    works: tuple[Work, ...]
    crossings: tuple[Crossing, ...] = ()
    stays: tuple[Stay, ...] = ()
    chores: tuple[Chore, ...] = ()
    rests: tuple[Rest, ...] = ()
    attendances: tuple[Attendance, ...] = ()
    fetches: tuple[Fetch, ...] = ()
    proof: Proof | None = None
    since: int | None = None
    format: int = field(default=PLAN_FORMAT)

    @property
    def leaves(self) -> int:
        """The minute at which the van sets off."""
        return min((d.start for d in self.drives), default=min((v.arrive for v in self.visits), default=0))

    @property
    def home(self) -> int:
        """The minute at which the van is home."""
        return max((d.end for d in self.drives), default=max((v.depart for v in self.visits), default=0))

    @property
    def followed(self) -> frozenset[StayKey]:
        """The stays after which the kit lies there, packed down, until another stay of it begins."""
        return frozenset((s.job, s.ground, s.kit, s.follows) for s in self.stays if s.follows is not None)

    def without_works(self, gone: Collection[tuple[str, str]]) -> "Plan":
        """The plan without the work on some stages, each as (job, stage)."""
        return replace(self, works=tuple(w for w in self.works if (w.job, w.stage) not in gone))

    def work(self, job: str, stage: str) -> Work | None:
        """Where a stage stands in the plan; None for a re-wet that is not needed."""
        return next((w for w in self.works if (w.job, w.stage) == (job, stage)), None)
