"""Where a day stands, in the few words and numbers of the strip at the top of its page."""

from dataclasses import dataclass

from planner.day import Day
from planner.fit.verdict import Verdict
from planner.plan.measures import latest_finish, measure
from planner.plan.plan import Plan
from planner.trade.units import show_clock, show_minutes


@dataclass(frozen=True)
class Standing:
    """What the strip says: a word, the numbers beside it, and a sentence behind them.

    ``mood`` is "good", "tight", "bad" or "open" (nothing to judge yet).
    """

    mood: str
    word: str
    spare: str = "–"
    spare_label: str = ""
    home: str = "–"
    home_label: str = ""
    crossings: str = "–"
    crossings_label: str = ""
    proof: str = "–"
    proof_label: str = ""
    sentence: str = ""

    def as_text(self) -> str:
        """All of it in one line, for a screen reader."""
        pairs = (
            (self.spare, self.spare_label),
            (self.home, self.home_label),
            (self.crossings, self.crossings_label),
            (self.proof, self.proof_label),
        )
        return "; ".join([self.word, *(f"{label}: {value}" for value, label in pairs if label), self.sentence])


_MOODS = {"fits": "good", "tight": "tight", "does not fit": "bad"}


def standing_of(day: Day, plan: Plan, verdict: Verdict | None) -> Standing:
    """Where a planned day stands; while the verdict is still being thought about, by its spare minutes alone."""
    numbers = measure(day, plan)
    spare = latest_finish(day) - plan.home
    judged = verdict or Verdict("fits" if spare >= 0 else "does not fit", spare, "")
    words = {"fits": "Fits", "tight": "Tight", "does not fit": "Does not fit"}
    proof, proof_label = proof_words(plan)
    return Standing(
        mood=_MOODS[judged.word],
        word=words[judged.word],
        spare=show_minutes(abs(judged.spare)),
        spare_label="spare" if judged.spare >= 0 else "missing",
        home=show_clock(plan.home),
        home_label=f"home, at the latest {show_clock(latest_finish(day))}",
        crossings=str(numbers.restricted_crossings),
        crossings_label=crossing_words(day, numbers.restricted_crossings),
        proof=proof,
        proof_label=proof_label,
        sentence=" ".join(filter(None, (judged.sentence, judged.reason))),
    )


def unplanned(word: str, sentence: str, *, mood: str = "open") -> Standing:
    """Where a day stands that has no plan."""
    return Standing(mood=mood, word=word, sentence=sentence)


def crossing_words(day: Day, count: int) -> str:
    """What the number of restricted crossings counts: "trips through the house"."""
    ways = {
        ground.way_in.through
        for job in day.jobs.values()
        for ground in job.grounds.values()
        if ground.way_in.restricted
    }
    if not ways:
        return "restricted trips, none needed"
    trips = "trip" if count == 1 else "trips"
    through = next(iter(ways)) if len(ways) == 1 else ""
    return f"{trips} " + (f"through {through}" if through else "by a restricted way in")


def proof_words(plan: Plan) -> tuple[str, str]:
    """How good the plan is known to be, and what that means."""
    proof = plan.proof
    if proof is None:
        return "–", "not proven"
    if not proof.is_best and (proof.bound <= 0 or proof.overrun > proof.overrun_bound == 0):
        return "–", "nothing proven yet"
    if proof.is_best:
        return "Proven best", "no plan is better"
    if proof.overrun > proof.overrun_bound:
        return "Not proven", f"at least {show_minutes(proof.overrun_bound)} late"
    return (
        "Gap {share}".format(share=f"{100 * proof.gap:.0f} %" if proof.gap >= 0.01 else "< 1 %"),
        f"at most {show_minutes(proof.value - proof.bound)} better",
    )
