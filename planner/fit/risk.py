"""The plan's order played out many times: how sure the day is, and where its lateness comes from.

In each play every stage takes a time drawn from its low, likely and high minutes; set-ups, walks and drives take their
planned minutes, waits are kept, hands and kit come in the order of the plan, and gates hold. How stages are slow
together is said in `planner.fit.chance`.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from planner.day import Day, Wait
from planner.fit.chance import SAME_TIME, USUAL, Draws, Shared
from planner.fit.linking import network_of
from planner.fit.network import Doing, Link, Network
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from planner.plan.rules.day_and_plan import job_words, stage_words
from planner.trade.units import MINUTES_IN_A_DAY, show_clock, show_minutes

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Minutes: TypeAlias = NDArray[np.float64]

PLAYS = 10_000
"""So many that a chance of one in ten is told within a hundredth, two standard errors being 0.6 of one."""


@dataclass(frozen=True, slots=True)
class Chance:
    """How likely something is to go wrong, with what it is in words."""

    words: str
    chance: float
    job: str | None = None


@dataclass(frozen=True, slots=True)
class Source:
    """A stage that lateness comes from: the minutes it adds, on the mean, to the late days' critical chains."""

    job: str
    stage: str
    words: str
    minutes: float
    share: float


@dataclass(frozen=True)
class Risk:
    """What came of the plays.

    ``late`` is the chance of home past the latest finish (or of a stage shut out by dark, rain or its own latest
    time); ``home_80`` the minute by which the van is home in four days of five; ``promises`` the chance that each is
    broken, ``dwells`` that each wait outruns its most. ``sources`` are taken from the late days, or from the slowest
    fifth where fewer are late, the largest first. ``homes`` is how many plays were home in each minute of the day, as
    pairs of minute and count in order, without the minutes in which none was.
    """

    plays: int
    seed: int
    latest: int
    late: float
    shut_out: float
    home_mean: float
    home_deviation: float
    home_80: float
    promises: tuple[Chance, ...]
    dwells: tuple[Chance, ...]
    sources: tuple[Source, ...]
    homes: tuple[tuple[int, int], ...] = ()
    shared: Shared = USUAL

    @property
    def on_time(self) -> float:
        """The chance of home by the latest finish."""
        return 1.0 - self.late

    @property
    def sentence(self) -> str:
        """The chance and the 80 % time, in one sentence."""
        sure = f"by {show_clock(self.home_80)} in 80 %"
        home = f"Home by {show_clock(self.latest)} in {in_percent(self.on_time)} of days, {sure}"
        broken = [p for p in self.promises if p.chance > 0.2]
        more = f"; {broken[0].words} is broken in {in_percent(broken[0].chance)}" if broken else ""
        return f"{home}{more}."

    def rows(self) -> list[tuple[str, str]]:
        """Everything worth telling, as what and how likely or how long."""
        rows = [
            ("home by the latest finish", in_percent(self.on_time)),
            ("home in 80 % of days by", show_clock(self.home_80)),
        ]
        if self.shut_out:
            rows.append(("a stage is shut out by dark, weather or its latest time", in_percent(self.shut_out)))
        rows += [(f"kept: {p.words}", in_percent(1 - p.chance)) for p in self.promises]
        rows += [(f"runs over: {d.words}", in_percent(d.chance)) for d in self.dwells]
        rows += [(f"lateness from {s.words}", f"{s.minutes:.0f} min, {in_percent(s.share)}") for s in self.sources[:5]]
        rows.append(("how stages are slow together", self.shared.words))
        return rows


def play_out(day: Day, plan: Plan, *, plays: int = PLAYS, seed: int = 0, shared: Shared = USUAL) -> Risk:
    """Play a plan's order out so many times.

    Parameters
    ----------
    day, plan
        The plan must be one that the checker passes.
    plays
        How many days; the standard error of a chance is at most ``0.5 / sqrt(plays)``.
    seed
        Equal seeds give equal results.
    shared
        What the stages of a day, of a hand, of a job have in common; a user's own record may know better.
    """
    return _Plays(day, plan, network_of(day, plan), plays, Draws(shared, plays, seed), seed).risk()


class _Plays:
    """All plays of one plan at once: each array has one number for each play, in minutes of the day."""

    def __init__(self, day: Day, plan: Plan, network: Network, plays: int, draws: Draws, seed: int) -> None:
        import numpy as np

        self.np, self.day, self.plan, self.network, self.count, self.seed = np, day, plan, network, plays, seed
        self.shared = draws.shared
        self.is_shut_out = np.zeros(plays, dtype=bool)
        held = set(network.held())
        self.lengths = [
            draws.minutes(duty.spread, duty.minutes, hands=duty.hands, job=duty.job or "") for duty in network.duties
        ]
        self.starts: list[Minutes] = []
        self.ends: list[Minutes] = []
        for i, duty in enumerate(network.duties):
            soonest = max(network.leaves, duty.start if i in held else 0, duty.not_before[0] if duty.not_before else 0)
            start = np.full(plays, float(soonest))
            for link in duty.links:
                np.maximum(start, self._ready(link, self.lengths[i]), out=start)
            start = self._opened(duty, start, self.lengths[i])
            self.starts.append(start)
            self.ends.append(start + self.lengths[i])

    def _ready(self, link: Link, length: "Minutes") -> "Minutes":
        begins = (self.starts if link.from_start else self.ends)[link.before]
        if link.wait is None:
            return begins + float(link.lag)
        if link.wait.order is None:
            return begins + self._bound(link.wait, begins, least=True)
        first, last = self.starts[link.before], self.ends[link.before]
        least = self.np.maximum(*(self._bound(link.wait, minute, least=True) for minute in (first, last)))
        if link.wait.order == "same":  # both where the stages begin and where they end
            return self.np.maximum(last, self.np.maximum(first + least, last + least - length))
        return last + least

    def _bound(self, wait: Wait, begins: "Minutes", *, least: bool) -> "Minutes":
        """The least, or the most, of a wait that begins then; no most is infinite."""
        np = self.np

        def number(bound: int | None) -> float:
            return np.inf if bound is None else float(bound)

        bounds: Minutes = np.full(self.count, number(wait.least if least else wait.most))
        for step in wait.by_hour:
            bounds = np.where(begins >= step.since, number(step.least if least else step.most), bounds)
        return bounds

    def _opened(self, duty: Doing, start: "Minutes", length: "Minutes") -> "Minutes":
        """Put off what would run while it is shut; what is shut for the rest of the day is shut out, and done late."""
        np = self.np
        for shut in duty.shut:
            meets = (start < shut.end) & (start + length > shut.start)
            if shut.end > MINUTES_IN_A_DAY:
                self.is_shut_out |= meets
            else:
                start = np.where(meets, float(shut.end), start)
        return start

    # --- what came of it ------------------------------------------------------------------------------------------

    def risk(self) -> Risk:
        """Everything worth knowing of the plays."""
        np, home = self.np, self.ends[self.network.home]
        latest = latest_finish(self.day)
        late = (home > latest + SAME_TIME) | self.is_shut_out
        minutes = np.unique(np.ceil(home - SAME_TIME).astype(int), return_counts=True)
        return Risk(
            plays=self.count,
            seed=self.seed,
            latest=latest,
            late=float(late.mean()),
            shut_out=float(self.is_shut_out.mean()),
            home_mean=float(home.mean()),
            home_deviation=float(home.std(ddof=1)) if self.count > 1 else 0.0,
            home_80=float(np.quantile(home, 0.8)),
            promises=tuple(self._promises()),
            dwells=tuple(self._dwells()),
            sources=self._sources(late if late.mean() >= 0.2 else home >= np.quantile(home, 0.8)),
            homes=tuple(zip(*(column.tolist() for column in minutes), strict=True)),
            shared=self.shared,
        )

    def _promises(self) -> list[Chance]:
        found = []
        visits = sorted(self.plan.visits, key=lambda v: (v.arrive, v.depart))
        drives = self.network.numbers("drive")
        for key, job in self.day.jobs.items():
            own = [n for n, visit in enumerate(visits) if visit.job == key]
            if not own:
                continue
            arrive, depart = self.ends[drives[own[0]]], self.starts[drives[own[-1] + 1]]
            latest = job.arrive[1] if job.arrive else None
            for words, by, minute in (("arrival at", latest, arrive), ("done at", job.done_by, depart)):
                if by is not None:
                    chance = float((minute > by + SAME_TIME).mean())
                    found.append(Chance(f"{words} {job_words(self.day, key)} by {show_clock(by)}", chance, key))
        return found

    def _dwells(self) -> list[Chance]:
        found = []
        for first, second, wait in self.network.dwells():
            starts, ends = self.starts[first], self.ends[first]
            most = self._bound(wait, ends, least=False)
            longest = self.starts[second] - ends
            if wait.order is not None:  # of the patch that waits longest
                most = self.np.minimum(most, self._bound(wait, starts, least=False))
                longest = self.ends[second] - starts
            if wait.order == "same":
                longest = self.np.maximum(self.starts[second] - starts, self.ends[second] - ends)
            chance = float((longest > most + SAME_TIME).mean())
            job = self.network.duties[second].job
            assert job is not None
            words = f"{wait.kind} after {stage_words(self.day, job, wait.after)}"
            if wait.most is not None:
                words += f", at most {show_minutes(wait.most)}"
            found.append(Chance(words, chance, job))
        return found

    def _sources(self, slow: "NDArray[np.bool_]") -> tuple[Source, ...]:
        """Each stage's minutes over its likely time, on the critical chains of the slow days."""
        critical = self._critical()
        found = []
        for i, duty in enumerate(self.network.duties):
            if duty.spread is not None and duty.job is not None and duty.stage is not None:
                over = (self.lengths[i] - duty.minutes) * critical[i]
                found.append((duty, float(over[slow].mean())))
        whole = sum(max(0.0, minutes) for _, minutes in found)
        sources = [
            Source(duty.job or "", duty.stage or "", duty.words, minutes, minutes / whole)
            for duty, minutes in found
            if minutes > 0
        ]
        return tuple(sorted(sources, key=lambda s: -s.minutes))

    def _critical(self) -> "list[NDArray[np.bool_]]":
        """Of each duty the plays in which it lies on a chain that carries the finish; one chain for each play."""
        np = self.np
        critical = [np.zeros(self.count, dtype=bool) for _ in self.network.duties]
        critical[self.network.home][:] = True
        for i in range(len(self.network.duties) - 1, -1, -1):
            left = critical[i].copy()
            for link in self.network.duties[i].links:
                if not left.any():
                    break
                binds = left & (np.abs(self._ready(link, self.lengths[i]) - self.starts[i]) < SAME_TIME)
                critical[link.before] |= binds
                left &= ~binds
        return critical


def in_percent(chance: float) -> str:
    """A chance for a person; what is not quite certain is not called so."""
    whole = round(100 * chance)
    if whole == 0 and chance > 0:
        return "less than 1 %"
    if whole == 100 and chance < 1:
        return "more than 99 %"
    return f"{whole} %"
