"""Why two blues came out apart: what differs between their cards, most likely cause first."""

from __future__ import annotations

from collections.abc import Iterator
from math import log

from attrs import frozen

from vatside.chemistry.difference import delta_e_76
from vatside.session.across.card import BlueCard
from vatside.units import show_concentration, show_minutes, show_temperature

SHOWS_STRENGTH = 0.10
SHOWS_PH = 0.3
SHOWS_CELSIUS = 3.0
SHOWS_DIPS = 0.20
SHOWS_AIR = 0.25
SHOWS_PURITY = 0.10
"""Differences from which on one sees them on the cloth: shares, pH and degrees C. Ours, no source."""
SAME_BLUE = 3.0
"""Distance (CIE 1976) up to which two blues count as one in a studio: common practice, no source."""
ANOTHER_VAT, ANOTHER_LOT = 3.0, 1.0
"""What another kind of vat, and another lot of pigment, weigh beside those. Ours, no source."""


@frozen
class Reason:
    """One thing that differs and may be why."""

    label: str
    left: str
    right: str
    weight: float
    """1 is what just shows; more is likelier to be the reason."""
    says: str
    """What it does to the right one."""

    @property
    def likely(self) -> bool:
        """Tell whether it is large enough to be seen."""
        return self.weight >= 1


def reasons(left: BlueCard, right: BlueCard) -> tuple[Reason, ...]:
    """Give what differs between two cards, the likeliest reason first.

    Among equals: strength, pH, temperature, dips, time in the air, purity and lot, kind of vat.
    """
    found = [reason for reason in _all(left, right) if reason.left != reason.right]
    return tuple(sorted(found, key=lambda reason: -reason.weight))


def _all(left: BlueCard, right: BlueCard) -> Iterator[Reason]:
    yield _strength(left, right)
    yield from _pH(left, right)
    warmer = right.celsius - left.celsius
    yield Reason(
        "Temperature", show_temperature(left.celsius), show_temperature(right.celsius), abs(warmer) / SHOWS_CELSIUS,
        "warmer: quicker uptake, less even" if warmer > 0 else "cooler: the reducer works less",
    )  # fmt: skip
    yield from _dips(left, right)
    yield from _pigment(left, right)
    yield Reason("Kind of vat", left.vat, right.vat, ANOTHER_VAT, "another vat dyes another blue")


def _strength(left: BlueCard, right: BlueCard) -> Reason:
    says = "more dye in the vat: darker" if right.strength > left.strength else "less dye in the vat: paler"
    weight = _apart(left.strength, right.strength) / SHOWS_STRENGTH
    return Reason(
        "Indigotin", show_concentration(left.strength), show_concentration(right.strength), weight, says
    )  # fmt: skip


def _pH(left: BlueCard, right: BlueCard) -> Iterator[Reason]:
    """Read values are held against read ones, worked-out against worked-out."""
    pairs = (("pH read", left.pH_read, right.pH_read), ("pH worked out", left.pH_worked, right.pH_worked))
    for label, one, other in pairs:
        if one is not None and other is not None:
            says = "higher: less uptake, deeper into the fibre" if other > one else "lower: more colour for the dye"
            yield Reason(label, f"{one:.1f}", f"{other:.1f}", abs(other - one) / SHOWS_PH, says)
            return


def _dips(left: BlueCard, right: BlueCard) -> Iterator[Reason]:
    one, other = left.dips, right.dips
    if not (one.number and other.number):
        return
    says = "more dips: darker" if other.number > one.number else "fewer dips: paler"
    planned = "" if one.as_done and other.as_done else ", as planned"
    weight = _apart(one.number, other.number) / SHOWS_DIPS
    yield Reason(f"Dips{planned}", f"{one.number:.0f}", f"{other.number:.0f}", weight, says)
    if one.air_min and other.air_min:
        says = "longer in the air: more of it turned blue" if other.air_min > one.air_min else "shorter in the air"
        weight = _apart(one.air_min, other.air_min) / SHOWS_AIR
        yield Reason("Time in the air", show_minutes(one.air_min), show_minutes(other.air_min), weight, says)


def _pigment(left: BlueCard, right: BlueCard) -> Iterator[Reason]:
    weight = _apart(left.purity, right.purity) / SHOWS_PURITY
    says = "both were dosed by these: if one is wrong, so was its dose"
    yield Reason("Purity", f"{left.purity:.3g} %", f"{right.purity:.3g} %", weight, says)
    says = "what its label says may not be so: dip two strips alike and note how it strikes"
    yield Reason("Pigment", left.pigment, right.pigment, ANOTHER_LOT, says)


def _apart(one: float, other: float) -> float:
    """How far two amounts are apart, as the logarithm of their ratio; far, where one of them is nothing."""
    if one <= 0 or other <= 0:
        return 0.0 if one == other else 10.0
    return abs(log(other / one))


def apart_lines(left: BlueCard, right: BlueCard) -> Iterator[str]:
    """Say how far two blues are apart and why, likeliest first."""
    measured = dict(right.colours)
    for fibre, lab in left.colours:
        if fibre in measured:
            distance = delta_e_76(lab, measured[fibre])
            yield f"{fibre}: colour distance {distance:.1f} (up to {SAME_BLUE:g} is the same blue)"
    found = reasons(left, right)
    likely = [reason for reason in found if reason.likely]
    yield "Most likely because of:" if likely else "Nothing differs by enough to be seen."
    for number, reason in enumerate(likely, start=1):
        yield f"  {number}. {reason.label}: {reason.left} → {reason.right}; {reason.says}"
    small = [f"{reason.label} {reason.left} → {reason.right}" for reason in found if not reason.likely]
    if small:
        yield f"Too small to be seen: {'; '.join(small)}"
