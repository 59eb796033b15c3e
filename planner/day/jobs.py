"""A job: one customer's work at one place, with its grounds, surfaces, stages and waits."""

from contextlib import suppress
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from planner.day.customer import Customer
from planner.day.stage_kinds import (
    CLEANING,
    CLEARING,
    COVERING,
    CUTTING,
    DIRT,
    DUST,
    LAYING_ON,
    RAIN,
    RUNS_DOWN,
    SPOILS_WHAT_IS_LAID_ON,
    SPRAY,
    WASHING,
    WETS,
    first_word,
    kind_of_work,
    wets_for_what_follows,
)
from planner.day.waiting import MOST_SECTIONS, Wait
from planner.day.words import (
    AirTemperature,
    Brief,
    Clock,
    Key,
    Litres,
    Metres,
    Minutes,
    Span,
    SquareMetres,
    SurfaceTemperature,
    Title,
    Words,
)
from planner.trade.lifting import USUAL_LOAD_LIMIT
from planner.trade.rates import Spread, duration, whole_minutes
from planner.trade.units import measure

OPEN_WAY_MINUTES = 1
"""A way in that is not restricted and no longer than this is *open*: its walk is part of setting up."""


class WayIn(Words):
    """How a ground is reached from the van.

    ``minutes`` is one way. A ``restricted`` way in goes through the house, a window or a shared hallway.
    ``load_limit`` is what one hand carries on one leg, in armfuls. ``protection`` says who lays floor
    protection: nobody, the customer before we come, or us (``lay`` before the first crossing of a visit and
    ``lift`` after the last, both in minutes of one hand's work). ``over`` are surfaces that the way in itself
    passes over. ``wheeled`` says that it has no steps: a sack truck or a barrow can go along it.
    """

    minutes: Minutes = 0
    restricted: bool = False
    through: Title = ""
    load_limit: Annotated[float, Field(gt=0, le=100)] = USUAL_LOAD_LIMIT
    protection: Literal["none", "customer", "ours"] = "none"
    lay: Brief = 8
    lift: Brief = 5
    over: tuple[Key, ...] = ()
    wheeled: bool = False

    @property
    def is_open(self) -> bool:
        """Whether walking it needs no crossing: not restricted, and short."""
        return not self.restricted and self.minutes <= OPEN_WAY_MINUTES


class Ground(Words):
    """A part of the site reached by one way in, and what it supplies (``{tap = 1, socket = 1}``).

    ``hose_run`` is how far the work is from its tap and its sockets; a recipe that asks for the way of the hose takes
    it from here where its use does not say. ``drain`` is where its water goes: every recipe there that washes or rinses
    then says what that asks for.
    """

    name: Title = ""
    way_in: WayIn = WayIn()
    supplies: dict[Key, Annotated[int, Field(ge=0, le=20)]] = {}
    hose_run: Metres | None = None
    drain: Literal["surface drain", "foul drain", "soil"] | None = None


class Surface(Words):
    """What is worked on.

    ``stood_on`` says whether hands and kit stand on it (a patio, steps; not a wall or a gutter);
    ``worked_from`` are surfaces one stands on to work it (a wall worked from the patio); ``over`` are the
    surfaces it is reached over; ``drains_to`` are surfaces that its run-off reaches, and what falls from it. One that
    is ``high`` up (a gutter, a fascia) stands over all of its ground that is not; where that is not said, it is one
    that nobody stands on and that is cleared of dirt. ``shaded`` says that it lies out of the sun all day: it dries
    more slowly and stays as cool as the air. ``measured`` says that its moisture is measured before the work that needs
    it dry: only then may a forecast make a wait for drying shorter than the file says.
    """

    name: Title = ""
    ground: Key
    area: SquareMetres | None = None
    run: Metres | None = None
    stood_on: bool = True
    worked_from: tuple[Key, ...] = ()
    over: tuple[Key, ...] = ()
    drains_to: tuple[Key, ...] = ()
    high: bool | None = None
    shaded: bool = False
    measured: bool = False


class Rate(Words):
    """How fast a method goes: ``amount`` of ``unit`` ("m2" or "m") in an hour of work.

    A text such as "40 m2/h" is read too.
    """

    amount: Annotated[float, Field(gt=0)]
    unit: Literal["m2", "m"]

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, value: Any) -> Any:
        if not isinstance(value, str):
            return value
        for unit in ("m2", "m"):
            with suppress(ValueError):
                return {"amount": measure(value, f"{unit}/min") * 60, "unit": unit}
        raise ValueError(f"'{value}' is not a rate; write for example '40 m2/h' or '30 m/h'")


class Method(Words):
    """One way of doing a stage.

    Its time is ``minutes``, or ``rate`` times the measure plus ``minutes`` as a fixed part; all of it times
    ``factor`` (conditions such as heavy growth). ``spread`` is low, likely and high as parts of that time.
    ``trigger`` is the part of the time in which vibrating or noisy kit really runs. ``uses`` are the containers of
    each material to take, ``expected`` how many of them the work is reckoned to use up, ``draws`` the water that it
    takes from a tap or the van's tank. ``leaves`` is what the work leaves to be taken away, by the container of a
    material: ``{ rubble = 3.2 }`` is three full bags and one with a fifth in it.
    """

    name: Title = ""
    kit: tuple[Key, ...] = ()
    hands: Annotated[int, Field(ge=1, le=4)] = 1
    minutes: Minutes = 0
    rate: Rate | None = None
    factor: Annotated[float, Field(gt=0, le=20)] = 1.0
    spread: tuple[Annotated[float, Field(gt=0)], Annotated[float, Field(gt=0)], Annotated[float, Field(gt=0)]] = (
        0.85,
        1.0,
        1.3,
    )
    trigger: Annotated[float, Field(ge=0, le=1)] = 0.7
    uses: dict[Key, Annotated[int, Field(ge=0, le=200)]] = {}
    expected: dict[Key, Annotated[float, Field(ge=0, le=200)]] = {}
    draws: Litres | None = None
    leaves: dict[Key, Annotated[float, Field(ge=0, le=200)]] = {}
    consumables: tuple[Title, ...] = ()
    notes: Title = ""
    source: Title = "common practice, no source"


class Part(Words):
    """That a stage is section ``number`` of ``count`` equal ones into which the stage called ``of`` was cut.

    Its minutes are a share, in whole minutes, of those for the surface as a whole; the long shares come first, or last
    if ``late``. They are its ``own``, and no share, where the work has begun and was left, or took what it took.
    """

    of: Key
    number: Annotated[int, Field(ge=1, le=MOST_SECTIONS)]
    count: Annotated[int, Field(ge=2, le=MOST_SECTIONS)]
    late: bool = False
    own: bool = False

    def share(self, minutes: int) -> int:
        """The whole minutes of this section, of so many for all of them; at least 1."""
        each, over = divmod(minutes, self.count)
        is_long = self.number > self.count - over if self.late else self.number <= over
        return max(1, each + is_long) if minutes else 0

    def is_beside(self, other: "Part") -> bool:
        """Whether none of it is of another section of the same surface, which may be cut into more parts or fewer.

        A piece of work that was begun and left is no equal part: it is beside whatever has another number. What has the
        same number is never beside, so that what a plan may do can still be done once it is under way.
        """
        if self.own or other.own or self.number == other.number:
            return self.number != other.number
        first, second = sorted((self, other), key=lambda part: part.number / part.count)
        return first.number * second.count <= (second.number - 1) * first.count


class Stage(Words):
    """One piece of hands-on work on one surface.

    ``makes`` and ``spoiled_by`` name nuisances ("dust", "spray", "water", "dirt", "mist"): while a stage, or a wait
    that follows it, can be spoiled by one, nothing that reaches it may make it. ``fresh_to`` are those that spoil
    what the stage leaves on its surface, and "feet" and "rain": it is fresh from its start until ``fresh_for`` after
    its end; where that is not given, until the waits after it are over, and for good without one. What a stage makes
    and is fresh to follow from its ``kind`` (`planner.day.stage_kinds`) where they are not given. ``spares`` are
    surfaces that what it makes does no harm: they are covered, or rinsed with it. ``soils`` says whether what runs or
    falls from it makes dirty what lies below; where that is not given, it does, unless its kind carries nothing along
    (the wetting of joints). ``stays_for`` are the stages until whose end its kit stays where it was put (sheets);
    where that is not given, kit that covers stays for all that follow on its surface. ``lies_on`` are the surfaces on
    which that kit lies: nothing else is worked there until it is up again.
    ``dry_for`` is how long nothing may have wetted its surface before it begins, neither rain nor what another stage
    sprays or lets run there; where its own surface is washed, the wait after that counts.
    ``chemical`` is its class in the table of what must never meet; a stage that ``rinses`` clears the surface of
    what went before. ``only_if_needed`` marks a re-wet or re-coat that a wait names in ``extended_by``.
    ``not_before`` and ``not_after`` bound the whole of its work; ``coldest`` is of the air and ``hottest`` of the
    surface, in C; ``windiest`` is in km/h; ``above_dew`` is how far in C the air must stay above its dew point; a
    stage that rain stops must have been done ``dry_after`` minutes before it. ``part`` says that it does one
    section of its surface.
    """

    name: Title = ""
    kind: Title = "work"
    surface: Key
    area: SquareMetres | None = None
    run: Metres | None = None
    methods: Annotated[dict[Key, Method], Field(min_length=1)]
    after: tuple[Key, ...] = ()
    makes: tuple[Key, ...] | None = None
    spoiled_by: tuple[Key, ...] = ()
    fresh_to: tuple[Key, ...] | None = None
    fresh_for: Minutes | None = None
    spares: tuple[Key, ...] = ()
    soils: bool | None = None
    stays_for: tuple[Key, ...] | None = None
    lies_on: tuple[Key, ...] = ()
    chemical: Key | None = None
    rinses: bool = False
    noisy: bool = False
    outdoors: bool = True
    stopped_by_rain: bool = False
    coldest: AirTemperature | None = None
    hottest: SurfaceTemperature | None = None
    windiest: Annotated[float, Field(ge=0, le=200)] | None = None
    above_dew: Annotated[float, Field(ge=0, le=30)] | None = None
    dry_after: Minutes = 0
    dry_for: Minutes = 0
    not_before: Clock | None = None
    not_after: Clock | None = None
    starts_at: Clock | None = None
    by_hand: Key | None = None
    only_if_needed: bool = False
    quoted: bool = True
    tags: tuple[Key, ...] = ()
    wear: tuple[Title, ...] = ()
    consumables: tuple[Title, ...] = ()
    mixing: Title = ""
    notes: Title = ""
    part: Part | None = None

    @property
    def nuisances(self) -> frozenset[str]:
        """What it makes that spoils other work: its own words, else those of its kind."""
        return frozenset(kind_of_work(self.kind).makes if self.makes is None else self.makes)

    @property
    def spoiled_while_fresh_by(self) -> frozenset[str]:
        """What spoils the work that it leaves, while that is fresh; nothing for one that leaves nothing fresh."""
        return frozenset(kind_of_work(self.kind).fresh_to if self.fresh_to is None else self.fresh_to)

    @property
    def is_stopped_by_rain(self) -> bool:
        """Whether rain stops it: it says so, or spoils what it leaves."""
        return self.stopped_by_rain or RAIN in self.spoiled_while_fresh_by

    @property
    def cleans(self) -> bool:
        """Whether it leaves its surface clean."""
        return self.rinses or first_word(self.kind) in CLEANING

    @property
    def washes(self) -> bool:
        """Whether it takes off more than lies loose: what a rinse leaves where it is."""
        return first_word(self.kind) == WASHING

    @property
    def soils_below(self) -> bool:
        """Whether it carries dirt onto what lies below its surface: its own word, else that of its kind."""
        carries = bool(self.nuisances & RUNS_DOWN)
        return carries and (not wets_for_what_follows(self.kind) if self.soils is None else self.soils)

    @property
    def wets(self) -> bool:
        """Whether its surface, and what that drains to, is wet after it."""
        return bool(self.nuisances & WETS)

    @property
    def wants_it_clear(self) -> bool:
        """Whether nothing may stand on its surface meanwhile: it wets, treats or coats that, or fills its joints."""
        return self.wets or self.is_laid_on or bool(self.spoiled_while_fresh_by)

    @property
    def is_laid_on(self) -> bool:
        """Whether something is put on its surface that lies there wet: a treatment, a sealer, oil."""
        return self.chemical is not None or first_word(self.kind) in LAYING_ON

    @property
    def endangers(self) -> bool:
        """Whether nobody else may be under it or within its reach: it sprays, cuts, drops dirt, or puts something on.

        Nor below it where it makes dust on what nobody stands on, which only the surface tells.
        """
        return self.is_laid_on or self.grinds or bool(self.nuisances & {SPRAY, DIRT})

    @property
    def spoiled_meanwhile_by(self) -> frozenset[str]:
        """What spoils it while it goes on: what is put on by its kind, dust and spray; what is swept or dusty, water.

        What it leaves has words of its own.
        """
        if first_word(self.kind) in LAYING_ON:
            return SPOILS_WHAT_IS_LAID_ON
        return WETS if self.sweeps or DUST in self.nuisances else frozenset()

    @property
    def grinds(self) -> bool:
        """Whether it cuts dry, and leaves dust that must be taken up before it gets wet."""
        return first_word(self.kind) in CUTTING

    @property
    def sweeps(self) -> bool:
        """Whether it takes up what lies on its surface."""
        return first_word(self.kind) == "sweep"

    @property
    def clears(self) -> bool:
        """Whether it takes out what has fallen or run onto its surface: a gutter, a channel."""
        return first_word(self.kind) == CLEARING

    @property
    def covers(self) -> bool:
        """Whether its kit is left to cover something."""
        return first_word(self.kind) in COVERING


class Job(Words):
    """One customer's work at one place.

    ``arrive`` is the window of the first arrival; ``done_by`` is when the van is promised gone; ``quiet`` are
    spans in which no noisy stage runs; ``apart`` are pairs of stages that must not share time; ``visits`` is
    how often the van may come; ``priority`` 1 is the last job one would move to another day. ``quoted`` are
    the items the customer was quoted, in their words, each with the stages that do it. ``arriving`` is the time from
    the first arrival until anything else begins (walk round, photographs, the tap's flow and the residual current
    device tested), ``leaving`` from the end of all else until the van leaves for good (clean down, handover).
    ``note`` is for those who go there: the gate's code, the dog.
    """

    title: Title = ""
    note: Title = ""
    place: Key
    priority: Annotated[int, Field(ge=1, le=9)] = 5
    arrive: Span | None = None
    done_by: Clock | None = None
    arriving: Brief = 0
    leaving: Brief = 0
    quiet: tuple[Span, ...] = ()
    visits: Annotated[int, Field(ge=1, le=3)] = 1
    grounds: Annotated[dict[Key, Ground], Field(min_length=1)]
    surfaces: Annotated[dict[Key, Surface], Field(min_length=1)]
    stages: Annotated[dict[Key, Stage], Field(min_length=1)]
    waits: tuple[Wait, ...] = ()
    apart: tuple[tuple[Key, Key], ...] = ()
    quoted: dict[Title, tuple[Key, ...]] = {}
    customer: Customer = Customer()
    hazards: tuple[Key, ...] = ()
    price: Annotated[float, Field(ge=0)] | None = None

    def ground_of(self, stage: str) -> str:
        """The key of the ground on which a stage is done."""
        return self.surfaces[self.stages[stage].surface].ground

    def minutes(self, stage: str, method: str) -> Spread:
        """Low, likely and high minutes of a stage by a method.

        Raises `ValueError` when the method has a rate but neither the stage nor its surface says the measure.
        """
        work, way = self.stages[stage], self.stages[stage].methods[method]
        amount, per_hour = 0.0, None
        if way.rate is not None:
            surface = self.surfaces[work.surface]
            own, given = (work.area, surface.area) if way.rate.unit == "m2" else (work.run, surface.run)
            found = given if own is None else own
            if found is None:
                word = "an area ('32 m2')" if way.rate.unit == "m2" else "a run ('14 m')"
                raise ValueError(f"method '{method}' of stage '{stage}' goes by measure; give it or its surface {word}")
            amount, per_hour = found, way.rate.amount
        is_share = work.part is not None and not work.part.own
        if work.part is not None and is_share:
            amount *= work.part.count
        whole = duration(fixed=way.minutes, measure=amount, per_hour=per_hour, factors=[way.factor], spread=way.spread)
        if work.part is None or not is_share or not whole.likely:
            return whole
        share = work.part.share(whole_minutes(whole.likely)) / whole.likely
        return Spread(whole.low * share, whole.likely * share, whole.high * share)

    def is_other_section(self, one: str, other: str) -> bool:
        """Whether two stages work different sections of one surface."""
        first, second = self.stages[one], self.stages[other]
        if first.surface != second.surface or first.part is None or second.part is None:
            return False
        return first.part.is_beside(second.part)

    def likely_minutes(self, stage: str, method: str) -> int:
        """The whole minutes that a plan gives to a stage: half up, at least 1 for any work at all."""
        return whole_minutes(self.minutes(stage, method).likely)
