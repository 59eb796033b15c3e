"""What is under way, bound in a model: it goes on where it is; everything else begins from now on."""

from planner.day import Day
from planner.engine.index import Index
from planner.engine.underway.rest import stays_left
from planner.engine.variables import Expr, Task, Variables
from planner.plan.past import NOT_YET, Past
from planner.plan.plan import Attendance, Chore, Crossing, Stay, Visit, Work
from planner.plan.progress import Progress, Sent


class Held:
    """Binds a model to what is under way; knows which slots and stays stand for what has begun."""

    def __init__(self, day: Day, past: Past, variables: Variables, progress: Progress) -> None:
        self.day, self.past, self.v, self.progress = day, past.plan, variables, progress
        self.now, self.index = progress.at, Index.of(day)
        self.crossings = self._crossings_by_slot()
        self.stays = self._stays_by_place(past)
        self.attendances = self._attendances_by_place()
        self.begun: set[int] = set()

    def bind(self) -> None:
        """Add all of it to the model."""
        self._visits()
        self._attend()
        self._slots()
        for a, task in enumerate(self.v.activities):
            self._activity(a, task)
        for n in range(len(self.v.stays)):
            self._stay(n)
        self._protection()
        self._rests()
        self._send_home()
        self._wait_for_the_late()
        self._wait_for_kit()
        for fetch in self.progress.fetches:
            if fetch.back > self.now:
                self._wait_for_the_van(fetch)

    # --- what stands for what -----------------------------------------------------------------------------------

    def _crossings_by_slot(self) -> dict[int, Crossing]:
        """The crossing under way that each slot stands for."""
        found: dict[int, Crossing] = {}
        for crossing in self.past.crossings:
            if crossing.end <= self.now:
                continue
            for n, slot in enumerate(self.v.slots):
                visit = self.v.visits[slot.visit]
                place = (*self.index.grounds[slot.ground], self.index.hands[slot.hand], visit.number + 1)
                if n not in found and place == (crossing.job, crossing.ground, crossing.hand, crossing.visit):
                    found[n] = crossing
                    break
        return found

    def _stays_by_place(self, past: Past) -> dict[int, Stay]:
        """The stay under way that each standing stay of the model is."""
        left = list(stays_left(past, self.index))
        found = {}
        for n, stay in enumerate(self.v.stays):
            if stay.standing is not None:
                same = [s for k, g, s in left if (k, g) == (stay.kit, stay.ground)]
                found[n] = same[stay.number]
        return found

    def _attendances_by_place(self) -> dict[tuple[int, int], Attendance]:
        """Attendances begun, by hand and visit."""
        found = {}
        for a in self.past.attendances:
            for n, visit in enumerate(self.v.visits):
                if (self.index.jobs[visit.job], visit.number + 1) == (a.job, a.visit):
                    found[self.index.hands.index(a.hand), n] = a
        return found

    # --- binding ------------------------------------------------------------------------------------------------

    def _fix(self, expr: Expr, value: int) -> None:
        self.v.model.add(expr == value)

    def _from_now(self, *times: Expr) -> None:
        for time in times:
            self.v.model.add(time >= self.now)

    def _visits(self) -> None:
        begun = {(x.job, x.number): x for x in self.past.visits}
        if self.past.drives:
            self._fix(self.v.leave, self.past.leaves)
        else:
            self._from_now(self.v.leave)
        for n, visit in enumerate(self.v.visits):
            known = begun.get((self.index.jobs[visit.job], visit.number + 1))
            times = None if known is None else (known.arrive, known.depart)
            self._there(visit.present, visit.arrive, visit.depart, times)
            if known is not None and known.depart == NOT_YET:
                opens, closes = self.v.at_work(n)
                self.v.model.add(closes >= opens)
                self.v.model.add(closes >= self._done_by(known))

    def _done_by(self, visit: Visit) -> int:
        """When all that is over at a visit was, and a break under way will be: what leaving takes comes after it."""
        here: tuple[Work | Chore | Crossing, ...] = (*self.past.works, *self.past.chores, *self.past.crossings)
        ends = [x.end for x in here if (x.job, x.visit) == (visit.job, visit.number) and x.end <= self.now]
        riders = {h for h, hand in self.day.hands.items() if not hand.own_transport}
        ends += [x.end for x in self.past.rests if x.hand in riders and x.start >= visit.arrive]
        return max(ends, default=visit.arrive)

    def _attend(self) -> None:
        for (h, n), at in self.v.attendances.items():
            if self.v.problem.hands[h].rides:
                continue
            known = self.attendances.get((h, n))
            times = None if known is None else (known.arrive, known.leave)
            self._there(at.present, at.arrive, at.leave, times)
            if known is not None and known.leave == NOT_YET:
                for rest in self.past.rests:  # who has a break has it here
                    if rest.hand == known.hand and rest.end > self.now:
                        self.v.model.add(at.leave >= rest.end)

    def _there(self, present: Expr, arrive: Expr, leave: Expr, known: tuple[int, int] | None) -> None:
        """Van or hand at a job as it was; one not yet there comes no sooner than now."""
        if known is None:
            self.v.model.add(arrive >= self.now).only_enforce_if(present)
            return
        self._fix(present, 1)
        self._fix(arrive, known[0])
        if known[1] == NOT_YET:
            self._from_now(leave)
        else:
            self._fix(leave, known[1])

    def _slots(self) -> None:
        for n, slot in enumerate(self.v.slots):
            crossing = self.crossings.get(n)
            if crossing is None:
                self._from_now(slot.start)
                continue
            self._fix(slot.present, 1)
            if self.v.caps.shuttles:  # what goes to and fro beside it is still to come
                self._fix(slot.before, 0)
                if crossing.end < NOT_YET:
                    self._fix(slot.after, 0)
            if crossing.end == NOT_YET:
                self._fix(slot.start, crossing.start)
                self._from_now(slot.end - slot.walk)
            else:
                self._fix(slot.end, crossing.end)
                self._fix(slot.start, min(crossing.start, crossing.end - 2 * slot.walk))
            self._carry_no_more(n, crossing)

    def _carry_no_more(self, n: int, crossing: Crossing) -> None:
        """A crossing under way brings what it brought, and takes out no more once the hand walks out."""
        for stay in self.v.stays:
            for legs, is_over in ((stay.came_by, True), (stay.left_by, crossing.end < NOT_YET)):
                if n in legs and is_over:
                    self._fix(legs[n], 0)
        for (_, _, slot), count in self.v.deliveries.items():
            if slot == n:
                self._fix(count, 0)
        for (i, slot), some in self.v.takes_some.items():
            if slot == n and crossing.end < NOT_YET:
                self._fix(some, 0)
                if self.v.problem.leaving[i].count > 1:
                    self._fix(self.v.takings[i, slot], 0)
        for k, along in self.v.slots[n].wheels.items():
            self._fix(along, int(crossing.wheels == self.index.kit[k]))

    def _activity(self, a: int, task: Task) -> None:
        work = self.past.work(*self.index.stages[a])
        if work is None or work.end < NOT_YET:
            return  # what is over has its start in the problem, and so has what is still to come
        self._under_way(task, work.start, work.hands, work.visit)
        stays = [s for n, s in enumerate(self.v.stays) if n in self.stays and a in s.used_by]
        by_stay = {id(self.v.stays[n]): known for n, known in self.stays.items()}
        for stay in stays:
            known = by_stay[id(stay)]
            self._fix(stay.used_by[a], int((known.kit, known.number) in work.stays))

    def _under_way(self, task: Task, start: int, hands: tuple[str, ...], visit: int) -> None:
        self.begun.add(id(task))
        self._fix(task.present, 1)
        self._fix(task.start, start)
        for h, does in task.hands.items():
            self._fix(does, int(self.index.hands[h] in hands))
        for n, here in task.visits.items():
            self._fix(here, int(self.v.visits[n].number + 1 == visit))
        for n, inside in task.slots.items():
            crossing = self.crossings.get(n)
            self._fix(inside, int(crossing is not None and crossing.end == NOT_YET and crossing.hand in hands))

    def _stay(self, n: int) -> None:
        stay, known = self.v.stays[n], self.stays.get(n)
        if known is None:
            self._from_now(stay.came, stay.left)
            self._from_now(*(task.start for task in (stay.set_up, stay.pack_down) if task is not None))
            return
        self._fix(stay.present, 1)
        self._from_now(stay.left)
        self._fix(stay.came, known.carried_in)
        for v, here in stay.visits.items():
            if not self.v.problem.kit[stay.kit].may_stay:
                self._fix(here, int(self.v.visits[v].number + 1 == known.visit_in))
        for what, task in (("set up", stay.set_up), ("pack down", stay.pack_down)):
            begun = self._chore(known, what)
            if task is not None and begun is not None:
                self._under_way(task, begun.start, begun.hands, begun.visit)
            elif task is not None:
                self._from_now(task.start)
        self._keep_to_its_chemical(n, known)
        if self._chore(known, "pack down") is not None:
            for a, used in stay.used_by.items():
                work = self.past.work(*self.index.stages[a])
                if work is None:
                    self._fix(used, 0)

    def _keep_to_its_chemical(self, n: int, known: Stay) -> None:
        """Kit that is rinsed out when it is packed down serves no other chemical than it has served so far."""
        stay, activities = self.v.stays[n], self.v.problem.activities
        works = {a: work for a, stage in enumerate(self.index.stages) if (work := self.past.work(*stage)) is not None}
        kit = (known.kit, known.number)
        served = {activities[a].chemical for a, w in works.items() if w.job == known.job and kit in w.stays}
        if not self.v.problem.kit[stay.kit].of_one_chemical or not served:
            return
        for a, used in stay.used_by.items():
            if a not in works and activities[a].chemical not in served:
                self._fix(used, 0)

    def _chore(self, stay: Stay, what: str) -> Chore | None:
        key = (stay.job, stay.ground, stay.kit, stay.number, what)
        return next((c for c in self.past.chores if (c.job, c.ground, c.kit, c.stay, c.what) == key), None)

    def _protection(self) -> None:
        for (g, n), (used, lay, lift) in self.v.protection.items():
            place = (*self.index.grounds[g], self.v.visits[n].number + 1)
            if (g, n) in self.v.problem.laid:
                self._fix(used, 1)
            for what, task in (("lay", lay), ("lift", lift)):
                if task is None:
                    continue
                chore = next(
                    (c for c in self.past.chores if (c.job, c.ground, c.visit, c.what) == (*place, what)), None
                )
                if chore is not None and chore.end > self.now:
                    self._under_way(task, chore.start, chore.hands, chore.visit)
                else:
                    self._from_now(task.start)

    def _rests(self) -> None:
        left = list(self.past.rests)
        for rest in self.v.rests:
            hand = self.index.hands[rest.hand]
            known = next((r for r in left if (r.hand, r.end - r.start) == (hand, rest.length)), None)
            left = [r for r in left if r is not known]
            if known is None:
                self._from_now(rest.start)
                for other in self.past.rests:
                    if other.hand == hand and other.end > self.now:
                        self.v.model.add(rest.start >= other.end).only_enforce_if(rest.present)
            elif known.end <= self.now:
                self._fix(rest.present, 0)
            else:
                self._fix(rest.present, 1)
                self._fix(rest.start, known.start)

    def _send_home(self) -> None:
        """A hand who goes home does nothing from then on, but for what is under way."""
        for hand, minute in self.progress.gone.items():
            h, gone = self.index.hands.index(hand), max(minute, self.now)
            for task in self.v.all_tasks():
                if h in task.hands and id(task) not in self.begun:
                    self.v.model.add(task.end <= gone).only_enforce_if(task.hands[h])
            for n in self.v.slots_of(hand=h):
                if n not in self.crossings:
                    slot = self.v.slots[n]
                    self.v.model.add(slot.end <= gone).only_enforce_if(slot.present)

    def _wait_for_the_late(self) -> None:
        """A hand who is not there yet, or away, begins nothing before they are; nor one who has a break, owed or no."""
        riders = [h for h, hand in self.day.hands.items() if not hand.own_transport]
        if riders and not self.past.drives:
            self.v.model.add(self.v.leave >= min(self.progress.comes_at(h) for h in riders))
        for hand, minute in self.progress.back.items():
            self._begin_nothing_before(minute, hand)
            for rest in self.v.rests:
                if self.index.hands[rest.hand] == hand and not any(r.hand == hand for r in self.past.rests):
                    self.v.model.add(rest.start >= minute).only_enforce_if(rest.present)
        for known in self.past.rests:
            if known.end > self.now:
                self._begin_nothing_before(known.end, known.hand)
                for n, crossing in self.crossings.items():
                    if crossing.hand == known.hand and crossing.end == NOT_YET:
                        self.v.model.add(self.v.slots[n].goes >= known.end)

    def _begin_nothing_before(self, minute: int, hand: str) -> None:
        h = self.index.hands.index(hand)
        for task in self.v.all_tasks():
            if h in task.hands and id(task) not in self.begun:
                self.v.model.add(task.start >= minute).only_enforce_if(task.hands[h])
        for n in self.v.slots_of(hand=h):
            if n not in self.crossings:
                slot = self.v.slots[n]
                self.v.model.add(slot.start >= minute).only_enforce_if(slot.present)

    def _wait_for_kit(self) -> None:
        """What is not there yet is carried in, or set up, only once it is."""
        for n, stay in enumerate(self.v.stays):
            until = self.progress.lacking.get(self.index.kit[stay.kit])
            if until is not None and n not in self.stays and self.day.kit[self.index.kit[stay.kit]].own < 2:
                self.v.model.add(stay.came >= until)

    def _wait_for_the_van(self, fetch: Sent) -> None:
        """While the van is away nothing is brought from it or taken to it, and it goes nowhere else."""
        v, job = self.v, self.index.jobs.index(fetch.job)
        here = {n for n, visit in enumerate(v.visits) if visit.job == job}
        for n in here:
            v.model.add(v.visits[n].depart >= fetch.back).only_enforce_if(v.visits[n].present)
        for n, slot in enumerate(v.slots):
            if slot.visit in here:
                is_light, leg = v.model.new_bool_var(f"light {n}"), slot.start
                if n in self.crossings:
                    leg = slot.end - slot.walk
                v.model.add(leg >= fetch.back).only_enforce_if(~is_light)
                for load in self._loads(n):
                    v.model.add(load == 0).only_enforce_if(is_light)
        own = {g for g, ground in enumerate(v.problem.grounds) if ground.job == job}
        chores = [task for (g, _), (_, lay, lift) in v.protection.items() if g in own for task in (lay, lift)]
        for n, stay in enumerate(v.stays):
            if stay.ground in own and not v.problem.grounds[stay.ground].slots:
                begun = {c.what for c in self.past.chores if n in self.stays and self._is_of(c, self.stays[n])}
                tasks = (("set up", stay.set_up), ("pack down", stay.pack_down))
                chores += [task for what, task in tasks if what not in begun]
        for task in chores:
            if task is not None:
                v.model.add(task.start >= fetch.back).only_enforce_if(task.present)

    def _loads(self, n: int) -> list[Expr]:
        """All that may be carried in or out in a slot."""
        v = self.v
        found = [legs[n] for stay in v.stays for legs in (stay.came_by, stay.left_by) if n in legs]
        found += [count for (_, _, slot), count in v.deliveries.items() if slot == n]
        return found + [some for (_, slot), some in v.takes_some.items() if slot == n]

    @staticmethod
    def _is_of(chore: Chore, stay: Stay) -> bool:
        key = (chore.job, chore.ground, chore.kit, chore.stay)
        return key == stay.key
