"""The order of one hand's day, row by row, as it stands on the run sheet."""

from dataclasses import dataclass, replace
from typing import Literal

from planner.day import Day
from planner.day.names import Names, listed, plain, sentence
from planner.plan.coming_and_going import coming_and_going, is_meal
from planner.plan.exposed import worn_for
from planner.plan.legs import legs
from planner.plan.plan import Carried, Chore, Crossing, Drive, Fetch, Plan, Visit, Work
from planner.plan.unknown_weather import leaning
from planner.sheet.crossings import carried_words, crossing_numbers
from planner.sheet.wording import chore_told, counted, moment, sections_told, told_in_a_row
from planner.trade.units import show_clock

FREE_FROM = 5
"""A gap of at least so many minutes gets a row of its own: it is time that can be used."""

ARRIVING = "Arrive: walk round, photographs, tap and RCD tested, pets and windows in"
LEAVING = "Leave: clean down, walk round, hand over"

RowKind = Literal[
    "drive", "arrive", "leave", "in", "out", "set up", "pack down", "lay", "lift", "stage", "break", "free"
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One row of the order: from when to when, where, what, and with what.

    ``note`` is what must be minded with it (the bounds of a wait, what to wear). ``to_do`` rows get a tick box.
    ``short`` is what is said of a crossing where its way in has just been named.
    """

    kind: RowKind
    start: int
    end: int
    place: str
    what: str
    kit: str = ""
    note: str = ""
    short: str = ""

    @property
    def to_do(self) -> bool:
        """Whether there is something to tick off."""
        return self.kind != "free"


@dataclass(frozen=True, slots=True)
class OrderPart:
    """The rows of one visit, with the drive that leads to it (and after the last visit the drive home)."""

    job: str | None
    title: str
    rows: tuple[OrderRow, ...]


@dataclass(frozen=True, slots=True)
class Order:
    """One hand's whole day."""

    hand: str
    name: str
    parts: tuple[OrderPart, ...]

    @property
    def rows(self) -> list[OrderRow]:
        """All rows, one after another."""
        return [row for part in self.parts for row in part.rows]


@dataclass(frozen=True, slots=True)
class _OrderWriter:
    """Writes the rows of one hand.

    ``notes`` holds the bounds of the waits by (job, stage), ``numbers`` counts the day's crossings.
    """

    day: Day
    plan: Plan
    hand: str
    notes: dict[tuple[str, str], list[str]]
    numbers: dict[Crossing, int]

    @property
    def names(self) -> Names:
        return Names(self.day)

    def order(self) -> Order:
        parts = []
        visits = sorted(self.plan.visits, key=lambda v: v.arrive)
        for visit in visits:
            rows = self._ordered(self._rows_at(visit), *self._bounds(visit))
            before, after = self._travel(visit, last=visit is visits[-1])
            if rows or before or after:
                title = self.names.job(visit.job) + (f", visit {visit.number}" if self._returns(visit.job) else "")
                parts.append(OrderPart(visit.job, title, (*before, *rows, *after)))
        if not visits:
            drives = tuple(self._drive(drive) for drive in self.plan.drives)
            parts = [OrderPart(None, "On the road", drives)] if drives else []
        return Order(self.hand, self.names.hand(self.hand), tuple(parts))

    def _returns(self, job: str) -> bool:
        return sum(visit.job == job for visit in self.plan.visits) > 1

    def _bounds(self, visit: Visit) -> tuple[int, int]:
        """From when to when the hand is at the visit."""
        own = [a for a in self.plan.attendances if (a.hand, a.job, a.visit) == (self.hand, visit.job, visit.number)]
        return (own[0].arrive, own[0].leave) if own else (visit.arrive, visit.depart)

    def _travel(self, visit: Visit, *, last: bool) -> tuple[list[OrderRow], list[OrderRow]]:
        if self.day.hands[self.hand].own_transport:
            own = [a for a in self.plan.attendances if (a.hand, a.job, a.visit) == (self.hand, visit.job, visit.number)]
            place = self.names.place(self.day.jobs[visit.job].place)
            return (
                [
                    OrderRow("drive", a.arrive, a.arrive, place, "Arrive by own transport", note=self._whom(visit))
                    for a in own
                ],
                [OrderRow("drive", a.leave, a.leave, place, "Leave by own transport") for a in own],
            )
        drives = sorted(self.plan.drives, key=lambda d: d.start)
        before = [self._drive(d) for d in drives if d.end <= visit.arrive and not self._is_earlier_visits(d, visit)]
        before[:1] = [replace(row, note=self._whom(visit)) for row in before[:1]]
        return before, [self._drive(d) for d in drives if d.start >= visit.depart] if last else []

    def _whom(self, visit: Visit) -> str:
        """Whom to ring, whether they are in, and what else those who go there should know."""
        job = self.day.jobs[visit.job]
        said = {None: "", True: "at home", False: "nobody at home"}[job.customer.at_home]
        return told_in_a_row(plain(words) for words in (job.customer.phone, said, job.note) if words)

    def _is_earlier_visits(self, drive: Drive, visit: Visit) -> bool:
        """Whether the drive led to an earlier visit."""
        return any(drive.end <= other.arrive < visit.arrive for other in self.plan.visits)

    def _drive(self, drive: Drive) -> OrderRow:
        where = self.names.place(drive.to_place)
        return OrderRow("drive", drive.start, drive.end, "Road", f"Drive to {where}")

    def _rows_at(self, visit: Visit) -> list[OrderRow]:
        here = (visit.job, visit.number)
        rows = [self._stage(w) for w in self.plan.works if (w.job, w.visit) == here and self.hand in w.hands]
        rows += self._merged([c for c in self.plan.chores if (c.job, c.visit) == here and self.hand in c.hands])
        for crossing in self.plan.crossings:
            if (crossing.job, crossing.visit) == here and crossing.hand == self.hand:
                rows += self._legs(crossing)
        start, end = self._bounds(visit)
        rows += [
            OrderRow("break", rest.start, rest.end, "", "Meal" if is_meal(self.day, rest) else "Break")
            for rest in self.plan.rests
            if rest.hand == self.hand and start <= rest.start < end
        ]
        fetches = (x for x in self.plan.fetches if x.job == visit.job and start <= x.leaves < end)
        rows += [row for fetch in fetches for row in self._fetch(fetch)]
        return rows + self._coming_and_going(visit)

    def _fetch(self, fetch: Fetch) -> list[OrderRow]:
        """The drive for what was forgotten; for who stays, that the van is away."""
        names = self.names
        kit, yard, here = names.kit(fetch.kit), names.place(fetch.place), self.day.jobs[fetch.job].place
        if fetch.hand == self.hand:
            return [
                OrderRow("drive", fetch.leaves, fetch.away, "Road", f"Drive to {yard}, find {kit}"),
                OrderRow("drive", fetch.away, fetch.back, "Road", f"Drive back to {names.place(here)}", kit),
            ]
        words = f"The van is away until {show_clock(fetch.back)}: {names.hand(fetch.hand)} fetches {kit}"
        return [OrderRow("drive", fetch.leaves, fetch.leaves, "", words)]

    def _coming_and_going(self, visit: Visit) -> list[OrderRow]:
        """What arriving and leaving take, of those who ride in the van."""
        if self.day.hands[self.hand].own_transport:
            return []
        return [
            OrderRow(what, start, end, "", ARRIVING if what == "arrive" else LEAVING)
            for what, start, end in coming_and_going(self.day, self.plan, visit)
        ]

    def _stage(self, work: Work) -> OrderRow:
        job, names = self.day.jobs[work.job], self.names
        stage = job.stages[work.stage]
        kit = [names.kit(key) for key in stage.methods[work.method].kit]
        kit += [counted(names.material(key), count) for key, count in stage.methods[work.method].uses.items() if count]
        notes = [*self.notes.get((work.job, work.stage), ())]
        if worn := worn_for(self.day, work):
            notes.append(f"Wear: {', '.join(plain(word) for word in worn)}")
        notes += [plain(said) for said in (stage.methods[work.method].notes, stage.notes) if said]
        notes += [
            f"Weather not known after {moment(self.day.date, one.known_until)}: look again before you start"
            for one in leaning(self.day, self.plan)
            if (one.job, one.stage) == (work.job, work.stage)
        ]
        if told := sections_told(self.day, self.plan, work):
            notes.insert(0, told)
        mates = [names.hand(other) for other in work.hands if other != self.hand]
        if mates:
            notes.append(f"With {listed(mates)}")
        what = names.stage(work.job, work.stage)
        if len({(method.kit, method.hands) for method in stage.methods.values()}) < len(stage.methods):
            # neither the kit nor who is there tells it
            what += f", by {names.method(work.job, work.stage, work.method)}"
        ground = names.ground(work.job, job.ground_of(work.stage))
        return OrderRow("stage", work.start, work.end, ground, what, ", ".join(kit), told_in_a_row(notes))

    def _merged(self, chores: list[Chore]) -> list[OrderRow]:
        """One row for set-ups (or pack-downs) that follow each other without a gap on the same ground."""
        rows: list[OrderRow] = []
        for chore in sorted(chores, key=lambda c: (c.start, c.end)):
            row = self._chore(chore)
            last = rows[-1] if rows else None
            if last and row.kit and (last.what, last.place, last.end) == (row.what, row.place, row.start):
                rows[-1] = replace(last, end=row.end, kit=f"{last.kit}, {row.kit}")
            else:
                rows.append(row)
        return rows

    def _chore(self, chore: Chore) -> OrderRow:
        ground = self.names.ground(chore.job, chore.ground)
        if chore.what in ("lay", "lift"):
            return OrderRow(chore.what, chore.start, chore.end, ground, f"{sentence(chore.what)} the floor sheets")
        kit = self.names.kit(chore.kit) if chore.kit else ""
        return OrderRow(chore.what, chore.start, chore.end, ground, sentence(chore_told(self.day, chore)), kit)

    def _legs(self, crossing: Crossing) -> list[OrderRow]:
        way_in = self.day.jobs[crossing.job].grounds[crossing.ground].way_in
        wheels = f", with {self.names.kit(crossing.wheels)}" if crossing.wheels else ""
        number, (leg_in, leg_out) = self.numbers[crossing], legs(self.day, crossing)
        ground, way = self.names.ground(crossing.job, crossing.ground), self.names.way(crossing.job, crossing.ground)
        ways: list[tuple[Literal["in", "out"], str, tuple[int, int], tuple[Carried, ...]]] = [
            ("in", way, leg_in, crossing.carried_in),
            ("out", way if way_in.through else f"of {ground}", leg_out, crossing.carried_out),
        ]
        return [
            OrderRow(
                leg,
                start,
                end,
                ground,
                f"Crossing {number}, {leg} {path}{wheels}",
                carried_words(self.day, load) or "empty-handed",
                short=f"Crossing {number}, {leg}",
            )
            for leg, path, (start, end), load in ways
        ]

    def _ordered(self, rows: list[OrderRow], start: int, end: int) -> list[OrderRow]:
        """The rows in order of time, with a row for each gap worth using."""
        ordered: list[OrderRow] = []
        reached = start
        for row in sorted(rows, key=lambda r: (r.start, r.end)):
            if row.start - reached >= FREE_FROM:
                ordered.append(OrderRow("free", reached, row.start, "", "Nothing to do"))
            ordered.append(row)
            reached = max(reached, row.end)
        if rows and end - reached >= FREE_FROM:
            ordered.append(OrderRow("free", reached, end, "", "Nothing to do"))
        return ordered


def orders(day: Day, plan: Plan, notes: dict[tuple[str, str], list[str]]) -> tuple[Order, ...]:
    """The order of the day for each hand that has anything to do, in the order of the file."""
    numbers = crossing_numbers(plan)
    written = (_OrderWriter(day, plan, hand, notes, numbers).order() for hand in day.hands)
    return tuple(order for order in written if any(row.kind != "drive" for row in order.rows))
