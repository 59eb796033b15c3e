"""Weighs a wish: plans the day as it would be, and says what it costs, before anything is changed."""

from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal, Slot

from planner.day.faults import DayFaults
from planner.desktop.model.differences import differences
from planner.desktop.model.draft import Draft
from planner.desktop.model.open_day import OpenDay, Settled, Shown
from planner.desktop.model.plain_faults import all_told, told
from planner.desktop.model.wishes import Wish
from planner.desktop.thinking.planning_process import PlanningProcess
from planner.desktop.thinking.questions import Answer, Better, Failed, Question
from planner.fit.verdict import Verdict
from planner.plan.plan import Plan

WISH_SECONDS = 8.0
"""How long a wish is weighed at most; what the first plan with it costs is said as soon as there is one."""


@dataclass(frozen=True)
class WeighedWish:
    """A wish with the plan that it would lead to, and what would change, in words."""

    wish: Wish
    state: Settled
    shown: Shown
    changes: tuple[str, ...]
    is_last: bool


class Wishing(QObject):
    """Weighs one wish at a time.

    Signals: `thinking` with the wish, then `weighed` with a `Weighed`, or `refused` with the wish and the reasons.
    """

    thinking = Signal(object)
    weighed = Signal(object)
    refused = Signal(object, object)

    def __init__(self, open_day: OpenDay, process: PlanningProcess) -> None:
        super().__init__(open_day)
        self.open_day, self._process = open_day, process
        self._wish: Wish | None = None
        self._state: Settled | None = None
        self._before: Settled | None = None
        self._weighed: WeighedWish | None = None
        process.better.connect(self.on_better)
        process.answered.connect(self.on_answered)
        process.failed.connect(self.on_failed)

    def weigh(self, wish: Wish) -> None:
        """Plan the day as it would be with the wish."""
        self.leave()
        if self.open_day.is_read_only:
            self.refused.emit(wish, ("the day is open to read only; save a copy to change it",))
            return
        try:
            draft = self.open_day.draft.changed(wish.changes)
        except DayFaults as refused:
            self.refused.emit(wish, tuple(str(told(self.open_day.draft, fault)) for fault in refused.faults))
            return
        if draft.day is None:
            self.refused.emit(wish, tuple(map(str, all_told(draft))))
            return
        self._ask(wish, draft)

    def accept(self) -> None:
        """Do what was weighed, as one step with its plan."""
        weighed = self._weighed
        self.leave()
        if weighed is not None and self.open_day.state == self._before:
            self.open_day.keep_plan(weighed.shown.plan, weighed.state, verdict=weighed.shown.verdict)
            self.open_day.settle(weighed.wish.words, weighed.state)

    def leave(self) -> None:
        """Leave all as it is."""
        self._weighed = None
        if self._wish is not None:
            self._wish = None
            self._process.set_aside()

    def _ask(self, wish: Wish, draft: Draft) -> None:
        assert draft.day is not None
        shown = self.open_day.shown
        self._before = self.open_day.state
        self._wish, self._state = wish, Settled(draft, self._before.progress)
        self.thinking.emit(wish)
        self._process.ask(
            Question(
                number=0,
                task="plan",
                day=draft.day,
                previous=shown.plan if shown else None,
                seconds=WISH_SECONDS,
                progress=self._before.progress,
            )
        )

    @Slot(object)
    def on_better(self, message: Better) -> None:
        """There is a plan with the wish; a better one may come."""
        self._weigh(message.plan, message.verdict, is_last=False)

    @Slot(object)
    def on_answered(self, answer: Answer) -> None:
        """The wish is weighed."""
        wish = self._wish
        if wish is None:
            return
        if answer.plan is None:
            self._wish = None
            self.refused.emit(wish, answer.conflict or ("no plan was found with it in the time given",))
        else:
            self._weigh(answer.plan, answer.verdict, is_last=True)
            self._wish = None

    def _weigh(self, plan: Plan, verdict: Verdict | None, *, is_last: bool) -> None:
        wish, state = self._wish, self._state
        if wish is None or state is None or state.draft.day is None:
            return
        now = Shown(state.draft.day, plan, verdict)
        changes = differences(self.open_day.shown, now) if self.open_day.shown else ()
        self._weighed = WeighedWish(wish, state, now, changes, is_last)
        self.weighed.emit(self._weighed)

    @Slot(object)
    def on_failed(self, failed: Failed) -> None:
        """It could not be weighed."""
        wish, self._wish = self._wish, None
        if wish is not None:
            self.refused.emit(wish, (failed.words,))
