"""One open day: what it says, its plan, its file, and every step back and forth. The model behind a day's page."""

from collections import OrderedDict
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtGui import QUndoCommand, QUndoStack

from planner.day import Day
from planner.day.faults import DayFaults, Where
from planner.day.names import Names
from planner.desktop.model.day_changes import changed_to
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.plain_faults import told
from planner.desktop.model.running_clock import now_on
from planner.fit.verdict import Verdict
from planner.plan.doubts import Doubt, asked_of, with_likely
from planner.plan.pieces import with_pieces, without_gone_pieces
from planner.plan.plan import Plan
from planner.plan.progress import NOTHING_TOLD, Noted, Progress, ProgressError, check_not_to_come, corrected
from planner.plan.told_items import with_causes
from planner.plan.went import day_as_it_went

_PLANS_KEPT = 60


@dataclass(frozen=True)
class Settled:
    """All that a step back brings back: the draft, what was marked on the day, and the bound the user chose."""

    draft: Draft
    progress: Progress = NOTHING_TOLD
    most_crossings: int | None = None


@dataclass(frozen=True)
class Planned:
    """A plan, and the verdict on it once it is known; on a day under way ``record`` says what cannot hold any more."""

    plan: Plan
    verdict: Verdict | None = None
    record: Progress | None = None


@dataclass(frozen=True)
class Shown:
    """A day and a plan for it: what the picture and the pages show; a day under way as it went."""

    day: Day
    plan: Plan
    verdict: Verdict | None = None


class _Step(QUndoCommand):
    """From one settled state to the next."""

    def __init__(self, words: str, open_day: "OpenDay", before: Settled, after: Settled) -> None:
        super().__init__(words)
        self._open_day, self._before, self._after = open_day, before, after

    def undo(self) -> None:
        """Go back."""
        self._open_day.show(self._before)

    def redo(self) -> None:
        """Go forth."""
        self._open_day.show(self._after)


class OpenDay(QObject):
    """A day in the window.

    Signals: `settled` whenever anything of the day changed (also by undo), `plan_changed` when there is another plan
    or none, `clean_changed` when the day came to be saved or unsaved, `file_changed` when it has another file,
    `refused` with why a change cannot be made as the file is written.
    """

    settled = Signal()
    plan_changed = Signal()
    clean_changed = Signal(bool)
    file_changed = Signal()
    refused = Signal(str)

    def __init__(
        self,
        text: str,
        path: Path | None = None,
        *,
        read_only: bool = False,
        recovered: bool = False,
        progress: Progress = NOTHING_TOLD,
    ) -> None:
        super().__init__()
        self._state = Settled(self.drafted(text, path or Path("new day.toml")), progress)
        self._plans: OrderedDict[Settled, Planned] = OrderedDict()
        self._shown: Shown | None = None
        self._stuck: Settled | None = None
        self.path = path
        self.saved_text: str | None = None  # what its file held when it was last read or written here
        self.is_read_only = read_only
        self.is_recovered = recovered
        self.undo_stack = QUndoStack(self)
        self.undo_stack.cleanChanged.connect(self.on_clean_changed)
        if recovered:
            self.undo_stack.resetClean()

    def drafted(self, text: str, path: Path) -> Draft:
        """The draft of a text."""
        return Draft(text, path)

    @property
    def state(self) -> Settled:
        """What is settled now."""
        return self._state

    @property
    def draft(self) -> Draft:
        """The text and what it says."""
        return self._state.draft

    @property
    def day(self) -> Day | None:
        """The day; None while something in it is wrong."""
        return self.draft.day

    @property
    def plan(self) -> Plan | None:
        """The plan for what is settled now; None when there is none (yet)."""
        planned = self._plans.get(self._state)
        return None if planned is None else planned.plan

    @property
    def record(self) -> Progress:
        """What was told of the day, with what cannot hold any more."""
        planned = self._plans.get(self._state)
        return self._state.progress if planned is None or planned.record is None else planned.record

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """What must be answered before the rest can be planned."""
        progress, day, shown = self._state.progress, self.day, self._shown
        if not progress.is_under_way or day is None or shown is None or self.is_shown_current:
            return ()
        with suppress(ProgressError):  # told when it is planned
            return asked_of(day, shown.plan, self.told_since)
        return ()

    @property
    def shown(self) -> Shown | None:
        """The plan shown last with its day, perhaps the day before its latest change: where planning starts from."""
        return self._shown

    @property
    def is_under_way(self) -> bool:
        """Whether something was told of the day: then only its rest can still be planned."""
        return self._state.progress.is_under_way

    @property
    def told_since(self) -> Progress:
        """What was told of a day under way, to plan its rest from the plan that is shown, its own record so far."""
        made = None if self._shown is None else self._shown.plan.since
        return self._state.progress.since(made or 0)

    @property
    def is_shown_current(self) -> bool:
        """Whether what is shown is planned for the day as it is settled now."""
        return self._shown is not None and self._shown.plan is self.plan

    @property
    def is_stuck(self) -> bool:
        """Whether planning ended without a plan for the state as it is."""
        return self._stuck == self._state

    def give_up_planning(self, state: Settled) -> None:
        """Planning ended without a plan for a state."""
        self._stuck = state
        self.plan_changed.emit()

    @property
    def is_clean(self) -> bool:
        """Whether all is saved."""
        return self.undo_stack.isClean()

    @property
    def name(self) -> str:
        """What the day is called on its tab."""
        if self.path is not None:
            return self.path.stem
        return self.draft.at(("title",)) or "New day"

    def change(self, words: str, changes: Iterable[Change]) -> None:
        """Make changes as one step; ``words`` names it in the menu ("Change way in")."""
        try:
            draft = self.draft.changed(changes)
        except DayFaults as refused:
            self.refused.emit("\n".join(str(told(self.draft, fault)) for fault in refused.faults))
            return
        if draft.text != self.draft.text:
            self.settle(words, replace(self._state, draft=draft, most_crossings=None))

    def set(self, words: str, place: Where, value: object) -> None:
        """Set one value; None takes it out."""
        self.change(words, [Change(place, value)])

    def adopt(self, words: str, shown: Shown, changes: Iterable[Change] = ()) -> bool:
        """Take another day with its plan as one step, by the changes that make it where they are known.

        Whether it could be written into the text.
        """
        made = tuple(changes)
        draft = self.draft.changed(made) if made else changed_to(self.draft, shown.day)
        if draft is None or (made and draft.day != shown.day) or self.is_read_only:
            return False
        state = Settled(draft, self._state.progress)
        self.keep_plan(shown.plan, state, verdict=shown.verdict)
        self.settle(words, state)
        return True

    def mark(self, note: Noted, clock: int | None = None) -> None:
        """Mark a stage as started, done or half done.

        Raises `ProgressError` when that is still to come on the day that it is, by the minute of the clock.
        """
        if self.day is not None and clock is not None and (now := now_on(self.day.date, clock)) is not None:
            name = Names(with_pieces(self.day, self._state.progress)).stage(note.job, note.stage)
            check_not_to_come(note, now, f"'{name}'")
        self.settle("Mark a stage", replace(self._state, progress=self._state.progress.with_note(note)))

    def drop(self, job: str, stage: str) -> None:
        """Give a stage up for today."""
        self.note("Give a stage up", self._state.progress.without(job, stage))

    def take_back(self, job: str, stage: str) -> None:
        """Say nothing of a stage any more that was marked or given up; what the plan has as begun is not begun then.

        On another day than today nobody knows how late it is: the day is then told as far as what is left says.
        """
        progress, shown = self._state.progress, self._shown
        if shown is not None:
            made = now_on(shown.day.date, shown.plan.since or 0)
            progress = corrected(progress, shown.plan, job, stage, made)
            self.settle("Take a mark back", replace(self._state, progress=progress))

    def note(self, words: str, progress: Progress) -> None:
        """Note what else became of the day."""
        if self.day is not None:
            progress = with_causes(self.day, self._state.progress, progress)
        self.settle(words, replace(self._state, progress=progress))

    def answer_as_likely(self) -> None:
        """Take the likely answer to all that is asked."""
        progress, day, shown = self._state.progress, self.day, self._shown
        if day is not None and shown is not None:
            likely = with_likely(day, shown.plan, self.told_since)
            self.note("All as likely", replace(likely, settled=progress.settled))

    def settle(self, words: str, after: Settled) -> None:
        """Go to another state as one step that can be undone."""
        if after.draft.day is not None:
            after = replace(after, progress=without_gone_pieces(after.draft.day, after.progress))
        if after != self._state and not self.is_read_only:
            self.undo_stack.push(_Step(words, self, self._state, after))

    def show(self, state: Settled) -> None:
        """Be in a state, without a step: for the steps themselves."""
        if state.draft.path != self.draft.path:  # it was saved under another name since
            state = replace(state, draft=replace(state.draft, path=self.draft.path))
        self._state = state
        self._take_shown()
        self.settled.emit()
        self.plan_changed.emit()

    def keep_plan(
        self,
        plan: Plan,
        state: Settled | None = None,
        *,
        verdict: Verdict | None = None,
        record: Progress | None = None,
    ) -> None:
        """Keep a plan, and its verdict where it is known, for a state (the present one when none is said)."""
        state = state or self._state
        self._plans[state] = Planned(plan, verdict, record)
        self._plans.move_to_end(state)
        while len(self._plans) > _PLANS_KEPT:
            self._plans.popitem(last=False)
        if state == self._state:
            self._take_shown()
            self.plan_changed.emit()

    def go_on_from(self, plan: Plan) -> None:
        """Show a plan by which the day went until something was told of which there is no plan yet."""
        if self.day is not None:
            day = with_pieces(self.day, self._state.progress)
            known = {(j, s) for j, s, _ in day.stages()}
            gone = [stage for work in plan.works if (stage := (work.job, work.stage)) not in known]
            self._shown = Shown(day, plan.without_works(gone))

    def read_anew(self) -> None:
        """What we own is another than before, so the same text may say another day: no plan is for it any more."""
        before = self.day
        self._state = replace(self._state, draft=self.drafted(self.draft.text, self.draft.path))
        if self.day != before:
            self._plans.clear()
            self.settled.emit()
            self.plan_changed.emit()

    def become_copy(self) -> None:
        """Go on without a file: what was opened stays as it is there."""
        self.path, self.is_read_only = None, False
        self.undo_stack.resetClean()
        self.file_changed.emit()

    def saved_as(self, path: Path) -> None:
        """The present state is on disk now."""
        changed = path != self.path
        self.path, self.is_recovered, self.is_read_only = path, False, False
        self._state = replace(self._state, draft=Draft(self.draft.text, path))
        self.undo_stack.setClean()
        if changed:
            self.file_changed.emit()

    @Slot(bool)
    def on_clean_changed(self, clean: bool) -> None:
        """The undo stack passed the saved state."""
        self.clean_changed.emit(clean)

    def _take_shown(self) -> None:
        planned, day = self._plans.get(self._state), self.day
        if planned is not None and day is not None:
            progress = planned.record or self._state.progress
            self._shown = Shown(_as_it_went(day, planned.plan, progress), planned.plan, planned.verdict)


def _as_it_went(day: Day, plan: Plan, progress: Progress) -> Day:
    """A day under way as it went, of which the plan is one; a day that has not begun as it is."""
    if not progress.is_under_way:
        return day
    with suppress(ProgressError):
        return day_as_it_went(day, plan, progress.since(progress.at))[0]
    return day
