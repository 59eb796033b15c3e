"""Limits of law and guidance, by country, as the table ``limits`` gives them."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, TypeVar

from planner.trade import trade_tables

COUNTRY = "great-britain"
"""The country whose limits hold when no other is named."""


@dataclass(frozen=True, slots=True)
class VibrationLimits:
    """Daily hand-arm vibration A(8) in m/s2."""

    action: float
    limit: float
    source: str


@dataclass(frozen=True, slots=True)
class NoiseLimits:
    """Daily noise exposure L_EP,d in dB(A); `limit` is judged at the ear."""

    lower_action: float
    upper_action: float
    limit: float
    source: str


@dataclass(frozen=True, slots=True)
class Defenders:
    """Hearing protection that suits noise up to a level, in dB: its rating, and what it takes off as really worn."""

    snr: float
    up_to: float
    takes_off: float


@dataclass(frozen=True, slots=True)
class LiftingLimits:
    """Guideline loads in kg for one person, and the share of the sum that a team of two or three lifts."""

    man: float
    woman: float
    pair_share: float
    trio_share: float
    source: str


@dataclass(frozen=True, slots=True)
class BreakLimits:
    """Minutes worked over which a break is due, and its least length."""

    over: float
    least: float
    source: str


@dataclass(frozen=True, slots=True)
class AirLimits:
    """Exposure limits in the air: crystalline silica (8 h) in mg/m3, chlorine (15 min) in ppm."""

    silica_mg_m3: float
    chlorine_ppm: float
    source: str


_Group = TypeVar("_Group", VibrationLimits, NoiseLimits, LiftingLimits, BreakLimits, AirLimits)


@dataclass(frozen=True, slots=True)
class Limits:
    """All limits of one country."""

    name: str
    vibration: VibrationLimits
    noise: NoiseLimits
    defenders: tuple[Defenders, ...]
    lifting: LiftingLimits
    breaks: BreakLimits
    air: AirLimits

    def defenders_for(self, level: float) -> Defenders:
        """The weakest hearing protection that suits a noise level in dB(A), or the strongest there is."""
        return next((one for one in self.defenders if level <= one.up_to), self.defenders[-1])


def limits(country: str = COUNTRY) -> Limits:
    """The limits of a country.

    Raises
    ------
    ValueError
        When no table has that country, or its table misses a value.
    """
    countries = trade_tables.table("limits")
    if country not in countries:
        raise ValueError(f"there are no limits for '{country}'; there are {', '.join(countries)}")
    found, place = countries[country], f"limits.{country}"
    return Limits(
        trade_tables.text(found, "name", place),
        _group(VibrationLimits, found, "vibration", place),
        _group(NoiseLimits, found, "noise", place),
        # ears are the same everywhere: a country that gives no ratings has those of the usual one
        _defenders({**countries[COUNTRY], **found}, place),
        _group(LiftingLimits, found, "lifting", place),
        _group(BreakLimits, found, "breaks", place),
        _group(AirLimits, found, "air", place),
    )


def _defenders(country: dict[str, Any], place: str) -> tuple[Defenders, ...]:
    """The ratings from the weakest up; the share for real use comes off each."""
    entry, here = country["defenders"], f"{place}.defenders"
    worn = trade_tables.number(entry, "real_world", here)
    ratings = entry.get("ratings", [])
    if not isinstance(ratings, list) or not ratings or not all(isinstance(one, dict) for one in ratings):
        raise ValueError(f"{trade_tables.user_file()}: {here} needs ratings = [{{ snr = 25, up_to = 95 }}, ...]")
    read = [tuple(trade_tables.number(one, word, f"{here}.ratings") for word in ("snr", "up_to")) for one in ratings]
    return tuple(Defenders(snr, up_to, max(0.0, snr - worn)) for snr, up_to in sorted(read))


def _group(kind: type[_Group], country: dict[str, Any], name: str, place: str) -> _Group:
    """One group of limits: a number for each field, and the source."""
    entry, here = country.get(name, {}), f"{place}.{name}"
    numbers = {f.name: trade_tables.number(entry, f.name, here) for f in fields(kind) if f.name != "source"}
    return kind(**numbers, source=trade_tables.text(entry, "source", here))
