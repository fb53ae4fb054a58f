"""Minutes as bits of one integer: bit t is set where minute t is taken."""

from functools import cache


@cache
def ones(count: int) -> int:
    """`count` set bits, none below zero."""
    return (1 << count) - 1 if count > 0 else 0


@cache
def shifts(length: int) -> tuple[int, ...]:
    """By how much to shift, one after the other, to spread a bit over the `length` - 1 minutes before it."""
    steps, reach = [], 1
    while 2 * reach <= length:
        steps.append(reach)
        reach *= 2
    if reach < length:
        steps.append(length - reach)
    return tuple(steps)


def smeared(taken: int, steps: tuple[int, ...]) -> int:
    """The minutes at which a need that is as long as `steps` spread cannot begin."""
    for step in steps:
        taken |= taken >> step
    return taken


def narrowed(taken: int, steps: tuple[int, ...]) -> int:
    """The minutes at which a window that is as long as `steps` spread is taken from end to end."""
    for step in steps:
        taken &= taken >> step
    return taken


def lowest_zero(taken: int) -> int:
    """The first minute that is not taken."""
    free = ~taken
    return (free & -free).bit_length() - 1


def stretch(begin: int, end: int) -> int:
    """The minutes from `begin` to before `end`, those before 0 left out."""
    if begin < 0:
        begin = 0
    return ones(end - begin) << begin


def take(rows: list[int], base: int, size: int, units: int, minutes: int) -> None:
    """Book `units` of a resource of `size` over `minutes`: row `base` + k holds where more than k units are taken."""
    if size == 1:
        rows[base] |= minutes
        return
    for k in range(base + size - 1, base + units - 1, -1):
        rows[k] |= rows[k - units] & minutes
    for k in range(base, base + min(units, size)):
        rows[k] |= minutes


def give_back(rows: list[int], base: int, size: int, units: int, minutes: int) -> None:
    """Undo `take`."""
    for k in range(base, base + size):
        above = rows[k + units] & minutes if k + units < base + size else 0
        rows[k] = rows[k] & ~minutes | above
