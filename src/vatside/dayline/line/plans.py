"""What a laying gives back: starts, seats, units and breaks in numbers, and how good it is."""

from collections.abc import Mapping, Sequence

from attrs import frozen

from vatside.dayline.line.laying import Laying, StuckError
from vatside.dayline.line.net import NEVER, Net

#: Minutes over the limits of facts, minutes after the wanted hours, last minute.
Value = tuple[int, int, int]


@frozen(eq=False)
class Laid:
    """A laid day in numbers. `value` is overrun, lateness and end in minutes; smaller is better."""

    starts: Sequence[int]
    seats: Sequence[int]
    units: Sequence[int]
    breaks: Sequence[int]
    value: Value


@frozen(eq=False)
class Asked:
    """What an older plan asks of a new one where nothing stands against it: seats of nudges, rows of spans."""

    seats: Mapping[int, int]
    units: Mapping[int, int]


def lay(
    net: Net,
    order: Sequence[int],
    breaks: Sequence[int],
    floor: Sequence[int] | None = None,
    asked: Asked | None = None,
) -> Laid | None:
    """One laying; None where the order has no plan."""
    laying = Laying(net, order, floor or [0] * net.size, breaks)
    if asked is not None:
        laying.seats.asked, laying.asked_unit = asked.seats, asked.units
    try:
        laying.run()
    except StuckError:
        return None
    return Laid(laying.begin, laying.seats.seat, laying.unit, tuple(breaks), value(net, laying.begin))


def value(net: Net, starts: Sequence[int]) -> Value:
    """How good some starts are; smaller is better."""
    overrun = late = end = 0
    for i, start in enumerate(starts):
        done = start + net.lengths[i]
        if net.limit[i] < NEVER:
            overrun += max(0, start - net.limit[i])
        if net.due[i] < NEVER:
            late += max(0, done - net.due[i])
        if net.counts[i] and done > end:
            end = done
    return overrun, late, end
