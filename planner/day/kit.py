"""Equipment and material: what is owned, carried, set up and packed down."""

from typing import Annotated

from pydantic import Field

from planner.day.stage_kinds import LADDER
from planner.day.words import Armfuls, Brief, Key, Kilograms, Litres, Title, Words

EMPTY_BULK = 0.25
"""The armfuls of an empty container, as a part of a full one's: tubs nest, cans hang from one hand. Common practice, no
source."""

FOLDED_BULK = 0.05
"""The same of an empty bag, which folds and goes into another or a pocket. Common practice, no source."""

EMPTY_MASS = 0.06
"""The mass of an empty container, as a part of a full one's, where the day does not say; common practice, no source."""


class Kit(Words):
    """A piece of equipment.

    ``load`` is in armfuls; ``lift`` is how many hands must carry it together; ``needs`` is other kit that must stand
    set up on the same ground while this is used; ``supply`` is what it takes from the ground while it is used ("tap",
    "socket"). ``may_stay`` lets it stand on a ground when the van leaves for a while and comes back, unless it is a
    ladder. ``vibration`` is in m/s2 (frequency-weighted, total), ``noise`` in dB(A) at the ear of who uses it, without
    protection. ``wear`` is what who uses it must wear, ``tags`` the cautions that it calls for. ``rinse_out`` is how
    long it is rinsed out when it is packed down after use, because chemical was in it: such kit serves one chemical
    from set-up to pack-down. Where nothing is said, kit that two chemicals may come out of is rinsed out for the usual
    time (`with_rinsing_out`). ``water`` says that it brings clean water to where it stands (a hose from the van's
    tank). ``wheels`` makes it a sack truck or a barrow, and is what one hand moves with it in one go on a way in that
    takes wheels.
    """

    name: Title = ""
    own: Annotated[int, Field(ge=0, le=20)] = 1
    load: Armfuls = 1.0
    lift: Annotated[int, Field(ge=1, le=4)] = 1
    set_up: Brief = 0
    pack_down: Brief = 0
    needs: tuple[Key, ...] = ()
    supply: tuple[Key, ...] = ()
    may_stay: bool = False
    mass: Kilograms | None = None
    rinse_out: Brief | None = None
    water: bool = False
    wheels: Annotated[Kilograms, Field(gt=0, le=500)] | None = None
    vibration: Annotated[float, Field(ge=0, le=100)] | None = None
    noise: Annotated[float, Field(ge=0, le=140)] | None = None
    attachments: tuple[Title, ...] = ()
    group: Title = ""
    wear: tuple[Title, ...] = ()
    tags: tuple[Key, ...] = ()

    @property
    def rinsing(self) -> int:
        """Minutes of rinsing out when it is packed down; 0 for what serves several chemicals as it is."""
        return self.rinse_out or 0

    @property
    def may_be_left(self) -> bool:
        """Whether it may stand on a ground while the van is away: a ladder never may, whoever climbs it meanwhile."""
        return self.may_stay and LADDER not in self.tags


class KitThatStays(Kit):
    """Kit that stands at a job, behind a way in, until another day: who is there uses it, and nobody carries it.

    No file has it: it is made of a record (`planner.plan.went`).
    """


class Material(Words):
    """Something used up, or left by the work, carried by the container.

    ``mass`` is that of a full container, ``empty`` of an empty one (a material without it is reckoned by what it
    holds). What comes in goes out again: empty, or with what is left in it. ``water`` is clean water: what is left of
    it is poured away. ``shared`` says that a container, once open, serves every stage of a ground: all that they take
    together is there before the first of them begins.
    ``tags`` are the cautions that it calls for wherever it is used.
    """

    name: Title = ""
    container: Title = "container"
    load: Armfuls = 1.0
    holds_kg: Kilograms | None = None
    holds_litres: Litres | None = None
    mass: Kilograms | None = None
    empty: Kilograms | None = None
    water: bool = False
    shared: bool = False
    group: Title = ""
    tags: tuple[Key, ...] = ()

    @property
    def empty_mass(self) -> float:
        """Of an empty container, in kg: as the day says, or what is left of a full one without what it holds."""
        if self.empty is not None:
            return self.empty
        full = self.mass or 0.0
        return max(0.0, full - self.holds_kg) if self.holds_kg is not None else EMPTY_MASS * full

    def mass_with(self, rest: float) -> float:
        """Of a container in which a part is left (0 to 1), in kg; 0 where the day does not say its mass."""
        return 0.0 if self.mass is None else self.empty_mass + rest * (self.mass - self.empty_mass)

    def load_with(self, rest: float) -> float:
        """Of a container in which a part is left (0 to 1), in armfuls."""
        bulk = FOLDED_BULK if self.container.split()[-1:] in (["bag"], ["sack"]) else EMPTY_BULK
        return self.load * (bulk + (1 - bulk) * rest)
