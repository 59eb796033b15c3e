"""What planning a day gives back."""

from dataclasses import dataclass

from planner.day import Day
from planner.plan.plan import Plan
from planner.plan.progress import Progress
from planner.plan.proof_words import proof_words
from planner.trade.units import show_clock, show_minutes


@dataclass(frozen=True)
class Result:
    """The best plan found, the serial order it is compared with, and what was proven.

    ``plan`` is None when there is no plan: then ``conflict`` names a small set of facts that cannot hold together, or,
    when it is empty, none was found in the time given. ``refused`` are rules that a plan of the engine's own broke in
    the checker's eyes; such a plan is never given out, and there should be none. On a day under way, ``urgent`` is what
    must be said first, ``assumed`` are stages (job, stage) taken as done without a note, and ``day`` is the day as it
    went: the plan is one of that day. ``progress`` is the record, with what cannot be kept any more.
    """

    plan: Plan | None
    serial: Plan | None = None
    conflict: tuple[str, ...] = ()
    stopped: bool = False
    refused: tuple[str, ...] = ()
    urgent: tuple[str, ...] = ()
    assumed: tuple[tuple[str, str], ...] = ()
    day: Day | None = None
    progress: Progress | None = None

    @property
    def is_impossible(self) -> bool:
        """Whether it is known that no plan exists."""
        return self.plan is None and bool(self.conflict)

    def summary(self) -> str:
        """The result in a few lines for a person."""
        if self.plan is None:
            if not self.conflict:
                return "No plan was found in the time given; give it longer."
            return "There is no plan. These cannot hold together:\n" + "\n".join(
                f"  - {fact}" for fact in self.conflict
            )
        proof = self.plan.proof
        lines = [f"Home at {show_clock(self.plan.home)}."]
        if proof is not None:
            if proof.overrun:
                lines[0] += f" That is {show_minutes(proof.overrun)} past the latest finish."
            lines.append(proof_words(proof))
            saved = saving(self.plan)
            if saved:
                lines.append(saved)
        return "\n".join(lines)


def saving(plan: Plan) -> str:
    """What the plan saves against one thing after another, in words; empty when there is nothing to compare."""
    proof = plan.proof
    if proof is None or proof.serial_minutes is None or proof.serial_crossings is None:
        return ""
    minutes = proof.serial_minutes - proof.minutes
    crossings = proof.serial_crossings - proof.crossings
    parts = []
    if minutes:
        parts.append(f"{show_minutes(abs(minutes))} {'less' if minutes > 0 else 'more'}")
    if crossings:
        word = "crossing" if abs(crossings) == 1 else "crossings"
        parts.append(f"{abs(crossings)} restricted {word} {'fewer' if crossings > 0 else 'more'}")
    return f"{' and '.join(parts)} than one thing after another." if parts else "The same as one thing after another."
