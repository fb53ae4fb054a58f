"""How many pieces take turns in one vat, and how long that takes."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

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


def throughput(dips: Sequence[int], at_once: int, dip_min: float, air_min: float, handling_min: float) -> Throughput:
    """Work out how long a lot takes, by the dips that each piece has to come, when its groups take turns.

    Nobody airs too short. A group is as many pieces as go in together, and is dipped as often as any of them; a piece
    without a dip to come is in nobody's way. No more groups take turns than `in_turn` says; the others follow them. A
    round lasts as long as its groups need in the vat, or as one needs for dip, handling and air, whichever is longer.
    The last airing is not counted.
    """
    left, size, each = [many for many in dips if many > 0], max(at_once, 1), dip_min + handling_min
    groups = [max(left[first : first + size]) for first in range(0, len(left), size)]
    if not groups:
        return Throughput(0, 0, 0.0, 0.0, "vat")
    most = in_turn(air_min, each)
    turns = [_rounds(groups[first : first + most]) for first in range(0, len(groups), most)]
    last = turns[-1].pop()
    minutes = sum(_round(many, each, air_min) for rounds in turns for many in rounds) + last * each
    busy = sum(groups) * each
    return Throughput(len(groups), sum(groups), minutes, busy, "air" if minutes > busy + 1e-9 else "vat")


def _rounds(turn: Sequence[int]) -> list[int]:
    """Give how many groups of a turn go in at each of its rounds, by the dips of each group."""
    return [sum(dips > done for dips in turn) for done in range(max(turn))]


def _round(groups: int, each: float, air_min: float) -> float:
    """Minutes in which each of some groups is dipped once and the first of them has aired."""
    return max(groups * each, each + air_min)
