"""When the vat wants a rest: after some entries a short one, after hours of work a long one. Times are minutes."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

from attrs import frozen

from vatside.dips.queue import ROOM
from vatside.plan.sheet import Sheet
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
    """Of an entry: a half where two pieces fill it."""


@frozen
class VatUse:
    """What the vat has done since it last rested."""

    worked: float = 0.0
    """Since the first entry after a long rest."""
    entries: int = 0
    """Entries since a rest; pieces that go in together make one."""
    idle: float = 0.0
    """Since the last piece came out; 0 while one is in."""


@frozen
class Rests:
    """When the vat wants a rest."""

    after_work: float
    long: float
    after_entries: float
    short: float


NEVER = Rests(0, 0, 0, 0)
"""A vat that wants no rest."""


def rests(sheet: Sheet) -> Rests:
    """Give the plan's rests."""
    return Rests(*(sheet.value(f"dip.{name}") for name in ("rest_after", "rest", "entries", "short_rest")))


@frozen
class Worked:
    """What the vat has done up to the end of its latest entry."""

    began: float | None = None
    """First entry after a long rest."""
    entries: int = 0
    """Since a rest."""
    latest: float = -inf
    """End of the latest stay."""
    filled: float = 0.0
    """Of the latest entry."""

    def then(self, start: float, end: float, share: float, when: Rests) -> Worked:
        """Go on with one more stay; the gap before it was a rest if it was long enough.

        It begins an entry if the vat was empty, or if the latest entry has no room for it.
        """
        gap, filled = start - self.latest, self.filled + share
        begins = gap >= 0 or filled > 1 + ROOM
        return Worked(
            start if self.began is None or gap >= COUNTS * when.long else self.began,
            (0 if gap >= COUNTS * when.short else self.entries) + begins,
            max(self.latest, end),
            share if begins else filled,
        )

    def use(self, now: float, when: Rests) -> VatUse:
        """Give what it has done by now; the rest that is going on counts once it is over."""
        if self.began is None:
            return VatUse()
        idle = max(now - self.latest, 0.0)
        worked = 0.0 if idle >= when.long else now - idle - self.began
        return VatUse(max(worked, 0.0), 0 if idle >= when.short else self.entries, idle)


def vat_use(stays: Iterable[Stay], now: float, when: Rests) -> VatUse:
    """Give what the vat has done since its rests."""
    done = Worked()
    for stay in sorted(stays, key=lambda item: item.start):
        done = done.then(stay.start, inf if stay.end is None else stay.end, stay.share, when)
    return done.use(now, when)


def rest_due(vat: VatUse, when: Rests) -> tuple[float, str] | None:
    """Give the minutes of rest that the vat wants and why; None if it can go on."""
    if when.after_work and vat.worked >= when.after_work:
        return when.long, f"{when.after_work / 60:g} h of work"
    if when.after_entries and vat.entries >= when.after_entries:
        return when.short, show_count(vat.entries, "entry", "entries")
    return None
