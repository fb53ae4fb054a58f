"""When the vat wants a rest. Times are seconds, minutes where they say so."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

from attrs import frozen

from vatside.recipe.sheet import Sheet
from vatside.units import show_count

COUNTS = 2 / 3
"""A gap between two entries that was so much of a rest, as a share, counts as one: a judgement of our own."""


@frozen
class Stay:
    """One piece's time in the vat, on any clock that all stays share."""

    start: float
    end: float | None
    """None while it is in."""
    share: float
    """Of an entry: a half where two pieces go in together."""


@frozen
class VatUse:
    """What the vat has done since it last rested."""

    worked: float = 0.0
    """Seconds since the first entry after a long rest."""
    entries: float = 0.0
    """Entries since a rest; pieces that go in together make one."""
    idle: float = 0.0
    """Seconds since the last piece came out; 0 while one is in."""


@frozen
class Rests:
    """When the vat wants a rest; minutes."""

    after_work: float
    long: float
    after_entries: float
    short: float


def rests(sheet: Sheet) -> Rests:
    """Give the plan's rests."""
    return Rests(*(sheet.value(f"dip.{name}") for name in ("rest_after", "rest", "entries", "short_rest")))


def vat_use(stays: Iterable[Stay], now: float, when: Rests) -> VatUse:
    """Give what the vat has done since its rests: a gap in which nobody was in was one if it was long enough.

    The rest that is going on counts once it is over.
    """
    latest, begun, entries = -inf, None, 0.0
    for stay in sorted(stays, key=lambda item: item.start):
        gap = stay.start - latest
        begun = stay.start if gap >= 60 * COUNTS * when.long else begun
        entries = (0.0 if gap >= 60 * COUNTS * when.short else entries) + stay.share
        latest = max(latest, inf if stay.end is None else stay.end)
    if begun is None:
        return VatUse()
    idle = max(now - latest, 0.0)
    worked = 0.0 if idle >= 60 * when.long else now - idle - begun
    return VatUse(max(worked, 0.0), 0.0 if idle >= 60 * when.short else entries, idle)


def rest_due(vat: VatUse, when: Rests) -> tuple[float, str] | None:
    """Give the minutes of rest that the vat wants and why; None if it can go on."""
    if when.after_work and vat.worked >= 60 * when.after_work:
        return when.long, f"{when.after_work / 60:g} h of work"
    if when.after_entries and vat.entries >= when.after_entries - 1e-6:
        return when.short, show_count(round(vat.entries), "entry", "entries")
    return None
