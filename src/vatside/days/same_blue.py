"""Whether a day done again makes the same blue: strength, pH and dips before and after."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.days.why_apart import SHOWS_DIPS, SHOWS_PH, SHOWS_STRENGTH, how_far
from vatside.dips.words import dips_number
from vatside.plan.plan import Lot
from vatside.plan.sheet import Sheet
from vatside.units import show_concentration

Told = tuple[str, bool]
"""Words, and whether it differs by enough to be seen."""


def before_and_after(was: Sheet, now: Sheet, lots: tuple[Lot, ...], arrow: str = "→") -> Iterator[Told]:
    """Say what a vat comes to that is made again, beside what its plan came to, both as worked out."""
    one, other = was.value("vat.strength"), now.value("vat.strength")
    yield _told("Strength", show_concentration(one), show_concentration(other), arrow, _far(one, other, SHOWS_STRENGTH))
    one, other = was.value("vat.pH", 0.0), now.value("vat.pH", 0.0)
    if one and other:
        yield _told("pH", f"{one:.1f}", f"{other:.1f}", arrow, abs(other - one) >= SHOWS_PH)
    for lot in lots:
        one, other = (sheet.value(f"dip.{lot.id}.dips") for sheet in (was, now))
        before, after = (dips_number(sheet, lot) for sheet in (was, now))
        yield _told(f"Dips of {lot.name}", before, after, arrow, _far(one, other, SHOWS_DIPS))


def _told(label: str, one: str, other: str, arrow: str, differs: bool) -> Told:
    return f"{label} {one} {arrow} {other}" if one != other else f"{label} {one}", differs


def _far(one: float, other: float, shows: float) -> bool:
    return how_far(one, other) >= shows
