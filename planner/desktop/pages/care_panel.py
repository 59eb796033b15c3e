"""Care: what each hand takes from shaking and noise over the day, and the cautions that the day calls for."""

from PySide6.QtWidgets import QWidget

from planner.day.names import Names
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.pages.panel import TellingPanel
from planner.desktop.pages.told_rows import ToldRow
from planner.plan.exposed import noise_exposed, noise_heard, vibration_uses
from planner.sheet.papers.cautions import cautions_today, noise_words
from planner.trade.cautions import DEFERS
from planner.trade.exposure import vibration_exposure
from planner.trade.limits import limits
from planner.trade.units import show_minutes


class CarePanel(TellingPanel):
    """Reminders, which defer to local law, labels and licensed practice."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Care", "Exposure of each hand, and cautions", parent, words=DEFERS)

    def told(self, shown: Shown) -> list[ToldRow]:
        """Each hand's exposure, then the cautions."""
        told: list[ToldRow] = []
        for hand in shown.day.hands:
            told += self._exposure(shown, hand)
        told.append(ToldRow(heading="Cautions"))
        return told + [
            ToldRow(what=note.title, below="\n".join(filter(None, (note.text, note.about))))
            for note in cautions_today(shown.day, shown.plan)
        ]

    def _exposure(self, shown: Shown, hand: str) -> list[ToldRow]:
        shaken, heard = vibration_uses(shown.day, shown.plan, hand), noise_heard(shown.day, shown.plan, hand)
        told = [ToldRow(heading=Names(shown.day).hand(hand))]
        vibration = vibration_exposure(shaken, limits().vibration)
        told.append(
            ToldRow(
                when=f"{vibration.points:.0f}",
                what="vibration points",
                below=f"A(8) {vibration.value:.1f} m/s2 over {show_minutes(sum(minutes for _, minutes in shaken))}; "
                f"{vibration.standing}",
            )
        )
        if noise := noise_exposed(shown.day, shown.plan, hand):
            words = noise_words(shown.day, shown.plan, hand, noise)
            told.append(
                ToldRow(
                    when=f"{noise.value if noise.at_ear is None else max(0.0, noise.at_ear):.0f}",
                    what="dB(A) over the day" if noise.at_ear is None else "dB(A) at the ear",
                    below=f"over {show_minutes(sum(one.minutes for one in heard))}; {words}",
                )
            )
        return told
