"""How fast a reducer falls apart by itself: a law each, and the band in which its rate lies."""

from __future__ import annotations

from itertools import pairwise
from math import exp, log, sqrt
from typing import Protocol

from attrs import frozen

from vatside.chemistry.water import ZERO_CELSIUS

GAS_CONSTANT = 8.314463e-3
"""kJ/(mol K), by definition."""
CALORIE = 4.184
"""kJ for a thermochemical kilocalorie, by definition."""


@frozen
class Estimate:
    """A value that is not known: its likely middle, and the ends it hardly passes."""

    low: float
    likely: float
    high: float

    def times(self, low: float, likely: float, high: float) -> Estimate:
        """Give the estimate of a product with a factor that is one itself."""
        return Estimate(self.low * low, self.likely * likely, self.high * high)


class Decay(Protocol):
    """A law by which a reducer falls apart."""

    def share_per_hour(self, t_C: float, pH: float, molar: float, /) -> Estimate:
        """Give the share lost in an hour at t_C degrees C, where a litre holds so many moles."""


@frozen
class HalfLives:
    """A half-life for each pH at one temperature, and how much slower it is for each ten degrees colder."""

    at_C: float  # noqa: N815  (chemistry's own symbol)
    hours: tuple[tuple[float, float], ...]
    """pH, and hours; halved with each step of pH beyond the ends."""
    colder: float
    spread: float

    def share_per_hour(self, t_C: float, pH: float, _molar: float) -> Estimate:
        """Give the share lost in an hour, whatever the strength."""
        likely = log(2) / (self._half_life(pH) * self.colder ** ((self.at_C - t_C) / 10))
        return Estimate(likely / self.spread, likely, likely * self.spread)

    def _half_life(self, pH: float) -> float:
        lowest, longest = self.hours[0]
        half_life = longest * 2 ** (lowest - pH)
        for (before, longer), (after, shorter) in pairwise(self.hours):
            if before <= pH:
                half_life = longer * (shorter / longer) ** min((pH - before) / (after - before), 1.0)
        return half_life


@frozen
class Sour:
    """Falling apart hastened by acid: a rate that goes with the roots of acid and strength."""

    factor: float
    """mol/(L s)."""
    heat: float
    """Energy of activation, kJ/mol."""
    highest_pH: float  # noqa: N815  (chemistry's own symbol)
    """Up to which it is counted."""

    def share_per_hour(self, T: float, pH: float, molar: float) -> float:
        """Give the share lost in an hour at T kelvins."""
        if pH >= self.highest_pH:
            return 0.0
        return 3600 * self.factor * exp(-self.heat / (GAS_CONSTANT * T)) * sqrt(10**-pH * molar)


@frozen
class FirstOrder:
    """A share an hour that grows with heat [Arrhenius] and faster in acid."""

    at_C: float  # noqa: N815  (chemistry's own symbol)
    share: float
    """Lost in an hour there."""
    heat: float
    """Energy of activation, kJ/mol."""
    slowest: float
    fastest: float
    """The band's ends, as factors."""
    sour: Sour

    def share_per_hour(self, t_C: float, pH: float, molar: float) -> Estimate:
        """Give the share lost in an hour."""
        first = self.share * speed(self.heat, self.at_C, t_C)
        sour = self.sour.share_per_hour(t_C + ZERO_CELSIUS, pH, molar)
        return Estimate(self.slowest * first, max(first, sour), max(self.fastest * first, sour))


def speed(heat: float, from_C: float, to_C: float) -> float:
    """Give how many times as fast a reaction of an energy of activation (kJ/mol) goes at another temperature.

    0.24 at 45 degrees C of what it is at 65, for sugar's 64 kJ/mol [Vuorema2008]. Temperatures 0..100 degrees C.
    """
    return exp(heat / GAS_CONSTANT * (1 / (from_C + ZERO_CELSIUS) - 1 / (to_C + ZERO_CELSIUS)))
