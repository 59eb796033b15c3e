"""Plans an open day whenever it changes, and says where it stands meanwhile."""

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from planner.desktop.model.day_standing import Standing, standing_of, unplanned
from planner.desktop.model.open_day import OpenDay, Settled
from planner.desktop.model.plain_faults import all_told
from planner.desktop.thinking.planning_process import PlanningProcess
from planner.desktop.thinking.questions import Answer, Better, Failed, Question
from planner.engine import saving
from planner.plan.not_needed import not_needed_words
from planner.plan.plan import Plan

SETTLE_MILLISECONDS = 250
"""How long the day must be left alone before it is planned again."""


class DayPlanning(QObject):
    """Keeps a plan for what is settled.

    Signals: `standing_changed` with a `Standing`, `better_found` with a plan as it comes, `began` when planning starts
    anew, `busy_changed`, `told` with a message for the person, and `urgent`
    with what must be done before all else.
    """

    standing_changed = Signal(object)
    better_found = Signal(object)
    began = Signal()
    busy_changed = Signal(bool)
    told = Signal(str)
    urgent = Signal(object)

    def __init__(self, open_day: OpenDay, process: PlanningProcess, *, seconds: float = 20.0) -> None:
        super().__init__(open_day)
        self.open_day, self.process, self.seconds = open_day, process, seconds
        self._asked: Settled | None = None
        self._has_ended = False
        self._timer = QTimer(self, singleShot=True, interval=SETTLE_MILLISECONDS)
        self._timer.timeout.connect(self.plan_now)
        open_day.settled.connect(self.on_settled)
        process.better.connect(self.on_better)
        process.answered.connect(self.on_answered)
        process.failed.connect(self.on_failed)
        process.busy_changed.connect(self.busy_changed)

    @property
    def is_busy(self) -> bool:
        """Whether planning goes on, or is about to."""
        return self.process.is_busy or self._timer.isActive()

    def start(self) -> None:
        """Say where the day stands now and plan it if it has no plan."""
        self.on_settled()

    @Slot()
    def plan_now(self) -> None:
        """Plan the day as it is settled, starting from the plan that is shown."""
        self._timer.stop()
        open_day = self.open_day
        if open_day.day is None or open_day.doubts:
            return
        shown, state = open_day.shown, open_day.state
        self._asked = state
        self.began.emit()
        self.process.ask(
            Question(
                number=0,
                task="plan",
                day=open_day.day,
                previous=shown.plan if shown else None,
                seconds=self.seconds,
                most_crossings=state.most_crossings,
                progress=state.progress,
            )
        )

    @Slot()
    def plan_on(self) -> None:
        """Go on from a plan that was made elsewhere, in a shorter time, unless it is proven best already."""
        plan = self.open_day.plan
        if plan is None or plan.proof is None or not plan.proof.is_best:
            self.plan_now()

    @Slot()
    def stop(self) -> None:
        """Stop planning; the best so far stays."""
        self._timer.stop()
        self.process.stop()

    def end(self) -> None:
        """The day is closed: plan no more. Whoever closes the whole window may say so again."""
        if self._has_ended:
            return
        self._has_ended = True
        self._timer.stop()
        self._asked = None
        self.open_day.settled.disconnect(self.on_settled)

    @Slot()
    def on_settled(self) -> None:
        """The day changed."""
        open_day = self.open_day
        if self._asked is not None and self._asked != open_day.state:
            self.process.set_aside()
            self._asked = None
        if open_day.day is None:
            self._timer.stop()
            self.standing_changed.emit(self._unready())
        elif open_day.plan is not None:
            self._timer.stop()
            self.say_standing()
        elif doubts := open_day.doubts:
            self._timer.stop()
            self.standing_changed.emit(unplanned("To be answered first", doubts[0].words, mood="tight"))
        else:
            self.standing_changed.emit(unplanned("Planning …", self._last_words()))
            self._timer.start()

    @Slot(object)
    def on_better(self, message: Better) -> None:
        """A better plan came."""
        if self._asked is not None:
            self.open_day.keep_plan(message.plan, self._asked, verdict=message.verdict)
            self.better_found.emit(message.plan)
            self.say_standing()

    @Slot(object)
    def on_answered(self, answer: Answer) -> None:
        """Planning ended."""
        asked, self._asked = self._asked, None
        if asked is None:
            return
        if answer.plan is not None:
            self.open_day.keep_plan(answer.plan, asked, verdict=answer.verdict, record=answer.progress)
            self.better_found.emit(answer.plan)
            self.say_standing()
            self.urgent.emit(answer.urgent)
            if answer.stopped:
                self.told.emit("Stopped. The best plan so far is kept.")
            elif words := " ".join(self._closing_words(answer.plan)):
                self.told.emit(words)
        elif answer.conflict:
            self.open_day.give_up_planning(asked)
            words = "; ".join(answer.conflict)
            self.standing_changed.emit(unplanned("Cannot be", words, mood="bad"))
            if answer.urgent:  # what was urgent before stays so, for all that is known
                self.urgent.emit(answer.urgent)
        elif self.open_day.plan is None:
            self.open_day.give_up_planning(asked)
            words = "No plan was found in the time given. Press F5 to look longer."
            self.standing_changed.emit(unplanned("No plan yet", words))

    def _closing_words(self, plan: Plan) -> list[str]:
        """What the plan saves, and who is not needed to the end."""
        day = self.open_day.day
        free = [] if day is None else not_needed_words(day, plan)
        return [words for words in (saving(plan), *free) if words]

    @Slot(object)
    def on_failed(self, failed: Failed) -> None:
        """Planning broke down; the last good plan stays where it is."""
        self._asked = None
        self.told.emit(failed.words)
        if self.open_day.plan is None:
            self.standing_changed.emit(unplanned("Not planned", failed.words))

    def say_standing(self) -> None:
        """Say where the day stands by the plan that is shown."""
        shown = self.open_day.shown
        if shown is not None and self.open_day.is_shown_current:
            self.standing_changed.emit(standing_of(shown.day, shown.plan, shown.verdict))

    def _last_words(self) -> str:
        return (
            "" if self.open_day.shown is None else "The picture still shows the plan from before the change."
        )

    def _unready(self) -> Standing:
        draft = self.open_day.draft
        if not draft.at(("jobs",)) and all(fault.place == ("jobs",) for fault in draft.faults):
            return unplanned("A new day", "Say whose the first house is, and tick the work: it is planned at once.")
        found = all_told(draft)
        rest = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
        if found and found[0].is_question:
            return unplanned("Not yet", f"{found[0]}{rest}")
        return unplanned("Not ready", f"{found[0]}{rest}" if found else "", mood="tight")
