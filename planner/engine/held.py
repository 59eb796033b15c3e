"""What has happened, bound in a model: the past is fixed, and everything else begins from now on."""

from planner.day import Day
from planner.engine.hints import Hint
from planner.engine.variables import Expr, Stay, Task, Variables
from planner.plan.plan import Plan
from planner.plan.progress import NOT_YET, Progress


class Held(Hint):
    """Binds a model to a past: what the past says of a variable holds, and what it does not say lies ahead."""

    def __init__(self, day: Day, past: Plan, variables: Variables, progress: Progress) -> None:
        self.now = progress.at
        super().__init__(day, past, variables)
        for index, value in self.said.items():
            variables.model.add(variables.model.get_int_var_from_proto_index(index) == value)
        self._begin_from_now()
        self._send_home(progress)

    def say(self, expr: Expr, value: int) -> None:
        """Only what is over is said."""
        if value < NOT_YET // 2:
            super().say(expr, value)

    def _from_now(self, *times: Expr) -> None:
        for time in times:
            self.v.model.add(time >= self.now)

    def _visits(self) -> None:
        begun = {(x.job, x.number): x for x in self.known.visits}
        if self.known.drives:
            self.say(self.v.leave, self.known.leaves)
        else:
            self._from_now(self.v.leave)
        for visit in self.v.visits:
            planned = begun.get((self.index.jobs[visit.job], visit.number + 1))
            if planned is None:
                self.v.model.add(visit.arrive >= self.now).only_enforce_if(visit.present)
                continue
            self.say(visit.present, 1)
            self.say(visit.arrive, planned.arrive)
            self.say(visit.depart, planned.depart)
            if planned.depart == NOT_YET:
                self._from_now(visit.depart)

    def _begin_from_now(self) -> None:
        """What has not begun begins from now on; what is under way ends from now on."""
        begun = {(w.job, w.stage) for w in self.known.works}
        for a, task in enumerate(self.v.activities):
            if self.index.stages[a] not in begun:
                self._from_now(task.start)
        for stay in self.v.stays:
            self._stay_from_now(stay)
        for n, slot in enumerate(self.v.slots):
            crossing = self.rows.get(n)
            if crossing is None:
                self._from_now(slot.start)
            elif crossing.end == NOT_YET:
                self._from_now(slot.end - slot.walk)
        for (g, n), (_, lay, lift) in self.v.protection.items():
            done = {
                c.what
                for c in self.known.chores
                if (c.job, c.ground, c.visit) == (*self.index.grounds[g], self.v.visits[n].number + 1)
            }
            for what, chore in (("lay", lay), ("lift", lift)):
                if chore is not None and what not in done:
                    self._from_now(chore.start)
        rested = {r.hand for r in self.known.rests}
        for rest in self.v.rests:
            if self.index.hands[rest.hand] not in rested:
                self._from_now(rest.start)

    def _stay_from_now(self, stay: Stay) -> None:
        job, ground = self.index.grounds[stay.ground]
        key = (job, ground, self.index.kit[stay.kit], stay.number + 1)
        begun = next((s for s in self.known.stays if (s.job, s.ground, s.kit, s.number) == key), None)
        if begun is None:
            self._from_now(stay.came)
        if begun is None or begun.carried_out == NOT_YET:
            self._from_now(stay.left)
        for what, chore in (("set up", stay.set_up), ("pack down", stay.pack_down)):
            if chore is not None and self._chore(*key, what) is None:
                self._from_now(chore.start)

    def _slots(self) -> None:
        for n, crossing in self.rows.items():
            slot = self.v.slots[n]
            self.say(slot.present, 1)
            self.say(slot.start, crossing.start)
            self.say(slot.end, crossing.end)
            for m, material in enumerate(self.index.materials):
                brought = sum(c.count for c in crossing.carried_in if c.what == material)
                counts = [x for (_, k, slot_n), x in self.v.deliveries.items() if (k, slot_n) == (m, n)]
                if counts:
                    self.v.model.add(sum(counts) <= brought)

    def _task(self, task: Task, start: int, end: int, hands: tuple[str, ...]) -> None:
        super()._task(task, start, end, hands)
        for n, inside in task.slots.items():
            crossing = self.rows.get(n)
            if crossing is None:
                self.say(inside, 0)
            elif end >= NOT_YET and crossing.end >= NOT_YET:
                holds = crossing.hand in hands and crossing.start <= start
                self.said[inside.index] = int(holds)

    def _stay(self, stay: Stay) -> None:
        super()._stay(stay)
        for n, crossing in self.rows.items():
            if n in stay.left_by and crossing.end == NOT_YET:
                self.said.pop(stay.left_by[n].index, None)

    def _send_home(self, progress: Progress) -> None:
        """A hand who has gone does nothing from then on."""
        for h, hand in enumerate(self.index.hands):
            if hand not in progress.gone:
                continue
            begun = {(w.job, w.stage) for w in self.known.works if w.end < NOT_YET}
            for a, task in enumerate(self.v.activities):
                if h in task.hands and self.index.stages[a] not in begun and task.hands[h] is not task.present:
                    self.v.model.add(task.hands[h] == 0)
            for stay in self.v.stays:
                for chore in (stay.set_up, stay.pack_down):
                    if chore is not None and h in chore.hands:
                        self.v.model.add(chore.end <= max(self.now, progress.gone[hand])).only_enforce_if(
                            chore.hands[h]
                        )
            for n in self.v.slots_of(hand=h):
                self.v.model.add(self.v.slots[n].end <= max(self.now, progress.gone[hand]) + 1)
