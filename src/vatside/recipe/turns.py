"""How many pieces take turns in one vat, and how long that takes."""

from __future__ import annotations

from math import ceil, floor

from attrs import frozen


def in_turn(air_min: float, dip_min: float) -> int:
    """Give how many pieces (or groups of them) keep a vat always busy: air ÷ dip, rounded down, and one more."""
    if dip_min <= 0:
        return 1
    return max(floor(air_min / dip_min + 1e-9), 0) + 1


@frozen
class Throughput:
    """A lot's way through the vat."""

    groups: int
    """Pieces that go in together count as one."""
    entries: int
    minutes: float
    """From the first piece in to the last one out."""
    busy: float
    """Of it the vat's own minutes, handling included."""
    waits_for: str
    """`air` where the vat stands idle while pieces air, else `vat`."""


def throughput(pieces: int, at_once: int, dips: int, dip_min: float, air_min: float, handling_min: float) -> Throughput:
    """Work out how long a lot takes when its groups take turns and nobody airs too short.

    No more groups take turns than `in_turn` says; the others follow them. A turn lasts as long as its groups need in
    the vat, or as one needs for dip, handling and air, whichever is longer. The last airing is not counted.
    """
    groups, each = ceil(pieces / max(at_once, 1)), dip_min + handling_min
    if not dips or not groups:
        return Throughput(groups, 0, 0.0, 0.0, "vat")
    most = in_turn(air_min, each)
    last = groups % most or min(most, groups)
    before = (groups - last) // most
    minutes = before * dips * _turn(most, each, air_min) + (dips - 1) * _turn(last, each, air_min) + last * each
    busy = dips * groups * each
    return Throughput(groups, groups * dips, minutes, busy, "air" if minutes > busy + 1e-9 else "vat")


def _turn(groups: int, each: float, air_min: float) -> float:
    """Minutes in which each of some groups is dipped once and the first of them has aired."""
    return max(groups * each, each + air_min)
