"""A house in a few words: whose and where, how one gets in, what there is to draw on, and the work, a tick each.

Nothing is kept apart from the day: what is asked is read from a draft, and what is answered are changes to it, so
everything can be seen and changed on the other pages too.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from planner.day.faults import Where
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.naming import called, key_for
from planner.trade.library import MEASURES, library
from planner.trade.trade_tables import Table
from planner.trade.visits import usual_coming_and_going

REAR, FRONT = "rear", "front"
SIDES = (REAR, FRONT)

GROUPS = ("Paving, steps and decks", "Walls, fences and windows", "Gutters and eaves")

USUAL_WAY: dict[str, Any] = {"minutes": "1 min"}
USUAL_SUPPLIES = {"tap": 1, "socket": 2}

OPEN, HOUSE, SIDE = "open", "the house", "the side passage"
"""How one gets to the rear: past the house, through it, or by a passage beside it."""


@dataclass(frozen=True)
class WorkTick:
    """One piece of work that can be ticked: a recipe, and for what is high up the side that it is on.

    ``measure`` is the one that is asked; ``beside`` are the others that the recipe cannot do without, with the values
    that they are given until somebody says otherwise.
    """

    recipe: str
    side: str
    words: str
    measure: str
    beside: tuple[tuple[str, str], ...]
    is_often: bool
    group: str


def work_ticks() -> list[WorkTick]:
    """Everything that can be ticked, by the library's recipes, what is asked often first."""
    found = [tick for name, recipe in library().recipes.items() for tick in _ticks_of(name, recipe)]
    return sorted(found, key=lambda tick: (not tick.is_often, GROUPS.index(tick.group)))


def _ticks_of(name: str, recipe: Table) -> Iterator[WorkTick]:
    surface, tick = recipe["surface"], recipe.get("tick", {})
    needed = list(recipe.get("needs", []))
    measure = "steps" if "steps" in recipe.get("may_have", []) else next(iter(needed), "area")
    asked = ["step_width"] if measure == "steps" else [word for word in needed if word != measure]
    beside = tuple((word, str(recipe.get("usual", {}).get(word, MEASURES[word][1]))) for word in asked)
    group = GROUPS[2] if surface.get("high") else GROUPS[0] if surface.get("stood_on", True) else GROUPS[1]
    words = str(tick.get("words") or recipe["title"])
    for side in (FRONT, REAR) if surface.get("high") else ("",):
        told = f"{words}, {side}" if side else words
        yield WorkTick(name, side, told, measure, beside, bool(tick.get("often")), group)


@dataclass(frozen=True)
class House:
    """One job of a draft as the short way sees it; ``job`` need not be there yet."""

    draft: Draft
    job: str

    @property
    def place(self) -> Where:
        """Where it stands in the day."""
        return ("jobs", self.job)

    @property
    def is_there(self) -> bool:
        """Whether anything of it has been said."""
        return self.draft.written_at(self.place) is not None

    @property
    def site(self) -> str:
        """The key of its place; for a house that is not there yet, the one it will get."""
        said = self.draft.written_at((*self.place, "place"))
        return said if isinstance(said, str) else key_for(self.job, self.draft.written_at(("places",)) or {})

    def ground(self, side: str) -> str:
        """The key of the ground on a side; where a job has other grounds than ours, the nearest to it."""
        grounds = self.draft.written_at((*self.place, "grounds")) or {}
        if side in grounds or not grounds:
            return side
        return next(iter(grounds)) if side == REAR else side

    def at(self, *where: str | int) -> Any:
        """What the file says at a place of the job."""
        return self.draft.written_at((*self.place, *where))

    def begun(self) -> list[Change]:
        """What puts the house into the day, with what is usual; nothing when it is there."""
        if self.is_there:
            return []
        job: dict[str, Any] = {"title": "A house", "place": self.site, **usual_coming_and_going()}
        rear = {"name": "Rear", "way_in": dict(USUAL_WAY), "supplies": dict(USUAL_SUPPLIES)}
        job["grounds"] = {REAR: rear}
        return [Change(("places", self.site), {"name": ""}), Change(self.place, job)]

    def with_value(self, where: Where, value: Any) -> list[Change]:
        """What sets a value of the job."""
        return [*self.begun(), Change((*self.place, *where), value)]

    # Whose and where

    @property
    def name(self) -> str:
        """The customer's name."""
        return str(self.at("customer", "name") or "")

    @property
    def street(self) -> str:
        """The name of its place."""
        return str(self.draft.written_at(("places", self.site, "name")) or "")

    def with_name(self, name: str | None) -> list[Change]:
        """What gives it another customer; the title goes with it where nobody has given it one of its own."""
        return [*self.with_value(("customer", "name"), name), *self._retitled(name or "", self.street)]

    def with_street(self, street: str | None) -> list[Change]:
        """What gives its place another name; one that the day has already becomes its place."""
        places = self.draft.written_at(("places",)) or {}
        same = [key for key, place in places.items() if street and place.get("name") == street and key != self.site]
        if same:
            there = [*self.begun(), Change((*self.place, "place"), same[0]), *self._retitled(self.name, street or "")]
            return [*there, *self._leave(self.site)]
        named = Change(("places", self.site, "name"), street or "")
        return [*self.begun(), named, *self._retitled(self.name, street or "")]

    def _leave(self, site: str) -> list[Change]:
        """What takes out a place to which nobody else goes, with the drives to it."""
        jobs, van = self.draft.written_at(("jobs",)) or {}, self.draft.written_at(("van",)) or {}
        others = {job.get("place") for key, job in jobs.items() if key != self.job}
        if site in {*others, van.get("starts_at"), van.get("ends_at")}:
            return []
        trips = self.draft.written_at(("travel", "trips")) or []
        gone = [at for at, trip in enumerate(trips) if site in (trip.get("from"), trip.get("to"))]
        return [Change(("places", site), None), *(Change(("travel", "trips", at), None) for at in reversed(gone))]

    def _retitled(self, name: str, street: str) -> list[Change]:
        ours = {"", "A house", _title(self.name, self.street)}
        if self.is_there and str(self.at("title") or "") not in ours:
            return []
        return [Change((*self.place, "title"), _title(name, street))]

    # The way in, tap and sockets

    def ground_choices(self) -> list[tuple[str, str]]:
        """The grounds of the job, each with its name; the front, even where nothing is done there yet."""
        grounds = self.at("grounds") or {}
        return [(key, called(grounds, key)) for key in grounds] + ([] if FRONT in grounds else [(FRONT, "Front")])

    @property
    def way(self) -> str:
        """How one gets to the rear."""
        way = self.at("grounds", self.ground(REAR), "way_in") or {}
        through = str(way.get("through") or "")
        return (through or HOUSE) if way.get("restricted") else (through or OPEN)

    def with_way(self, way: str) -> list[Change]:
        """What makes one get in another way; how long it is stays as it was said."""
        here = ("grounds", self.ground(REAR), "way_in")
        restricted = True if way not in (OPEN, SIDE) else None
        return [
            *self.with_value((*here, "through"), None if way == OPEN else way),
            Change((*self.place, *here, "restricted"), restricted),
        ]

    @property
    def taps(self) -> tuple[str, ...]:
        """The sides that have a tap."""
        return tuple(side for side in SIDES if self._supply(side, "tap"))

    def with_taps(self, sides: tuple[str, ...]) -> list[Change]:
        """What puts a tap on these sides and on no others."""
        changes = self.begun()
        for side in SIDES:
            there = side in (self.at("grounds") or {REAR: {}}) or self.ground(side) != side
            if there or side in sides:
                changes += [] if there else self._with_ground(side)
                value = max(1, self._supply(side, "tap")) if side in sides else 0
                changes.append(Change((*self.place, "grounds", self.ground(side), "supplies", "tap"), value))
        return changes

    def _supply(self, side: str, name: str) -> int:
        if not self.is_there:
            return USUAL_SUPPLIES[name] if side == REAR else 0
        if self.ground(side) != side and side == FRONT:
            return 0
        said = self.at("grounds", self.ground(side), "supplies", name)
        return said if isinstance(said, int) else 0

    def _with_ground(self, side: str) -> list[Change]:
        """What adds a ground that anybody can walk to."""
        ground: dict[str, Any] = {"name": side.capitalize(), "way_in": dict(USUAL_WAY)}
        run = self.at("grounds", self.ground(REAR), "hose_run")
        if run is not None:
            ground["hose_run"] = run
        return [Change((*self.place, "grounds", side), ground)]

    def with_hose_run(self, run: str | None) -> list[Change]:
        """What says for each ground how far tap and sockets are."""
        grounds = list(self.at("grounds") or {REAR: {}})
        return [*self.begun(), *(Change((*self.place, "grounds", ground, "hose_run"), run) for ground in grounds)]

    # The work

    def use_of(self, tick: WorkTick) -> Where | None:
        """Where the day says that this is done; None where it does not."""
        for place, recipe in self.draft.uses_in(self.job):
            if recipe != tick.recipe:
                continue
            ground = self.draft.written_at((*place, "ground"))
            if not tick.side or ground == tick.side or (ground is None and tick.side == REAR):
                return place
        return None

    def measure_of(self, tick: WorkTick) -> Any:
        """The measure that is asked, as it was said; None where the work is not ticked."""
        place = self.use_of(tick)
        return None if place is None else self.draft.written_at((*place, tick.measure))

    def with_work(self, tick: WorkTick, measure: str, again: dict[str, Any] | None = None) -> list[Change]:
        """What puts the work into the day with its measure; ``again`` is what was said of it before."""
        place = self.use_of(tick)
        if place is not None:
            return [Change((*place, tick.measure), measure)]
        changes = self.begun()
        if self.at("recipe") is not None:
            return changes  # the short form of one recipe: its page changes it
        side = tick.side or (self.ground(REAR) if again is None else str(again.get("ground", REAR)))
        grounds = self.at("grounds") or {REAR: {}}
        if side not in grounds:
            changes += self._with_ground(side)
        use = (again or {"recipe": tick.recipe, "ground": side, **dict(tick.beside)}) | {tick.measure: measure}
        if again is None:
            use |= self._names(tick) | self._turn(tick)
        listed = self.at("recipes") or []
        added = Change((*self.place, "recipes"), [use])
        changes.append(added if not listed else Change((*self.place, "recipes", len(listed)), use))
        return [*self._usual_drains(), *changes]

    def with_ground_of(self, place: Where, ground: str) -> list[Change]:
        """What moves a piece of work to another ground."""
        added = [] if ground in (self.at("grounds") or {}) else self._with_ground(ground)
        return [*self._usual_drains(), *added, Change((*place, "ground"), ground)]

    def without_work(self, tick: WorkTick) -> list[Change]:
        """What takes the work out of the day."""
        place = self.use_of(tick)
        if place is None:
            return []
        if place[-1] == "measures":
            return [Change(place, None), Change((*self.place, "recipe"), None)]
        gone = self._stages_of(place)
        changes = []
        for other, _ in self.draft.uses_in(self.job):
            for word in ("before", "after"):
                said = self.draft.written_at((*other, word)) or []
                if other != place and gone & set(said):
                    changes.append(Change((*other, word), [name for name in said if name not in gone] or None))
        return [*self._usual_drains(), *changes, Change(place, None)]

    def _turn(self, tick: WorkTick) -> dict[str, list[str]]:
        """A gutter is cleared before anything else is done to it, whichever was ticked first."""
        if not tick.side:
            return {}
        same = [
            (place, recipe)
            for place, recipe in self.draft.uses_in(self.job)
            if _surface(recipe).get("key") == _surface(tick.recipe).get("key")
            and self.draft.written_at((*place, "ground")) == tick.side
        ]
        word = "before" if _soils(tick.recipe) else "after"
        others = [place for place, recipe in same if _soils(recipe) != _soils(tick.recipe)]
        names = [name for place in others for name in sorted(self._stages_of(place))]
        return {word: names} if names else {}

    def _stages_of(self, place: Where) -> set[str]:
        """The stages that a use of a recipe comes to."""
        use = self.draft.written_at(place) or {}
        recipe = library().recipes.get(str(use.get("recipe")))
        prefix = f"{use['prefix']}-" if use.get("prefix") else ""
        return set() if recipe is None else {f"{prefix}{stage}" for stage in recipe["stages"]} & self._stages()

    def _names(self, tick: WorkTick) -> dict[str, str]:
        """What the surface is called, and what goes before the stages, so that two of a kind are told apart."""
        recipe = library().recipes[tick.recipe]
        surface, tick_name = recipe["surface"], str(recipe.get("tick", {}).get("name", ""))
        name = tick_name
        if tick.side:
            name = f"{tick.side.capitalize()} {surface['name'][:1].lower()}{surface['name'][1:]}"
        names = {"name": name} if name else {}
        taken = set(self.draft.at((*self.place, "surfaces"), {}))
        taken |= {str(stage).rpartition("-")[0] or str(stage) for stage in self.draft.at((*self.place, "stages"), {})}
        uses = [self.draft.written_at(place) or {} for place, _ in self.draft.uses_in(self.job)]
        prefixes = {str(use.get("prefix", "")) for use in uses} | taken
        is_taken = surface["key"] in taken or any(stage in self._stages() for stage in recipe["stages"])
        if tick.side or is_taken:
            names["prefix"] = key_for(tick.side or surface["key"], prefixes)
        return names

    def _stages(self) -> set[str]:
        return set(self.draft.at((*self.place, "stages"), {}))

    def _usual_drains(self) -> list[Change]:
        """What takes out the paving below a wall where it stands written though it goes without saying.

        Days made before it did have it; it would not follow the paving that is added and taken out.
        """
        places = [((*place, "drains_to"), usual) for place, usual in _drains(self.draft, self.job)]
        return [
            Change(place, None)
            for place, usual in places
            if (said := self.draft.written_at(place)) and tuple(said) == usual
        ]


def _soils(recipe: str) -> bool:
    """Whether all of the work brings something down, as clearing does; what seals or fits ends clean."""
    return all(stage.get("makes") for stage in library().recipes[recipe]["stages"].values())


def new_house(draft: Draft) -> str:
    """The key for one more house."""
    return key_for("house", draft.at(("jobs",), {}))


def sites_driven_to(draft: Draft, job: str) -> list[tuple[str, str]]:
    """The other places that a drive to this house may come from, each with what it is called."""
    places = draft.at(("places",), {})
    house = House(draft, job)
    keys = [draft.at(("van", "starts_at")), draft.at(("van", "ends_at"))]
    keys += [other.get("place") for key, other in draft.at(("jobs",), {}).items() if key != job]
    return [(key, called(places, key)) for key in dict.fromkeys(keys) if key in places and key != house.site]


def _title(name: str, street: str) -> str:
    return street or name or "A house"


def _drains(draft: Draft, job: str) -> list[tuple[Where, tuple[str, ...]]]:
    """For each wall that a recipe works, the paving on the same ground, onto which its water runs."""
    uses = [(place, draft.written_at(place) or {}, _surface(recipe)) for place, recipe in draft.uses_in(job)]
    paving: dict[str, list[str]] = {}
    for _, use, surface in uses:
        if surface.get("stood_on", True) and surface.get("key"):
            key = f"{use['prefix']}-{surface['key']}" if use.get("prefix") else surface["key"]
            paving.setdefault(str(use.get("ground", REAR)), []).append(str(use.get("surface", key)))
    return [
        (place, tuple(paving.get(str(use.get("ground", REAR)), ())))
        for place, use, surface in uses
        if surface and not surface.get("stood_on", True) and not surface.get("high") and place[-1] != "measures"
    ]


def _surface(recipe: str) -> Table:
    """The surface that a recipe works; an empty table for a recipe that the library does not know."""
    surface: Table = library().recipes.get(recipe, {}).get("surface", {})
    return surface
