"""Equipment and material: what is owned, carried, set up and packed down."""

from typing import Annotated

from pydantic import Field

from planner.day.words import Armfuls, Key, Kilograms, Litres, Minutes, Title, Words


class Kit(Words):
    """A piece of equipment.

    ``load`` is in armfuls; ``lift`` is how many hands must carry it together; ``needs`` is other kit that
    must stand set up on the same ground while this is used; ``supply`` is what it takes from the ground while
    it is used ("tap", "socket"). ``may_stay`` lets it stand on a ground when the van leaves for a while and
    comes back. ``vibration`` is in m/s2 (frequency-weighted, total), ``noise`` in dB(A) at the ear.
    ``rinse_out`` is how long it is rinsed out when it is packed down after use, because chemical was in it: such kit
    serves one chemical from set-up to pack-down. ``water`` says that it brings clean water to where it stands (a
    hose from the van's tank). ``wheels`` makes it a sack truck or a barrow, and is what one hand moves with it in one
    go on a way in that takes wheels.
    """

    name: Title = ""
    own: Annotated[int, Field(ge=0, le=20)] = 1
    load: Armfuls = 1.0
    lift: Annotated[int, Field(ge=1, le=4)] = 1
    set_up: Minutes = 0
    pack_down: Minutes = 0
    needs: tuple[Key, ...] = ()
    supply: tuple[Key, ...] = ()
    may_stay: bool = False
    mass: Kilograms | None = None
    rinse_out: Minutes = 0
    water: bool = False
    wheels: Annotated[Kilograms, Field(gt=0, le=500)] | None = None
    vibration: Annotated[float, Field(ge=0, le=100)] | None = None
    noise: Annotated[float, Field(ge=0, le=150)] | None = None
    attachments: tuple[Title, ...] = ()
    group: Title = ""
    tags: tuple[Key, ...] = ()


class Material(Words):
    """Something used up, or left by the work, carried by the container.

    ``mass`` is that of a full container, ``empty`` of an empty one (a material without it is reckoned by what it
    holds). What comes in goes out again: empty, or with what is left in it. ``water`` is clean water: what is left of
    it is poured away.
    """

    name: Title = ""
    container: Title = "container"
    load: Armfuls = 1.0
    holds_kg: Kilograms | None = None
    holds_litres: Litres | None = None
    mass: Kilograms | None = None
    empty: Kilograms | None = None
    water: bool = False
    group: Title = ""
