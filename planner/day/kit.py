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
    vibration: Annotated[float, Field(ge=0, le=100)] | None = None
    noise: Annotated[float, Field(ge=0, le=150)] | None = None
    attachments: tuple[Title, ...] = ()
    group: Title = ""
    tags: tuple[Key, ...] = ()


class Material(Words):
    """Something used up, carried by the container; containers are not carried out again."""

    name: Title = ""
    container: Title = "container"
    load: Armfuls = 1.0
    holds_kg: Kilograms | None = None
    holds_litres: Litres | None = None
    mass: Kilograms | None = None
    group: Title = ""
