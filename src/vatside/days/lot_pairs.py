"""Which lot of one day goes beside which of another: by name, then by fibre, then as they come."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence

from attrs import frozen

from vatside.plan.measures import fibre_key, fibre_words
from vatside.plan.plan import Lot
from vatside.units import show_amount

FEW = 6
"""Lots that are told one by one; of more, those alike are told together. Ours, no source."""


@frozen
class Pairs:
    """The lots of two days, two and two."""

    both: tuple[tuple[Lot, Lot], ...]
    """In the order of the left day."""
    left: tuple[Lot, ...]
    """Those of the left day without a partner."""
    right: tuple[Lot, ...]

    def as_left(self) -> Mapping[str, str]:
        """Give what each lot of the right day goes by on the left: its partner's id, or one that nobody has there."""
        return {other.id: one.id for one, other in self.both} | {lot.id: f"+{lot.id}" for lot in self.right}


def paired(left: Sequence[Lot], right: Sequence[Lot]) -> Pairs:
    """Put lots beside each other; the same way whichever day is on the left."""
    ones, others, found = list(left), list(right), []
    for key in (_name, _fibre, _anything):
        for one, other in _alike(ones, others, key):
            ones.remove(one)
            others.remove(other)
            found.append((one, other))
    order = [lot.id for lot in left]
    return Pairs(tuple(sorted(found, key=lambda pair: order.index(pair[0].id))), tuple(ones), tuple(others))


def _name(lot: Lot) -> Hashable:
    return " ".join(lot.name.casefold().split())


def _fibre(lot: Lot) -> Hashable:
    return fibre_key(lot)


def _anything(_lot: Lot) -> Hashable:
    return ""


def _alike(ones: Sequence[Lot], others: Sequence[Lot], key: Callable[[Lot], Hashable]) -> list[tuple[Lot, Lot]]:
    """The first of a kind goes with the first, the second with the second."""
    waiting: dict[Hashable, list[Lot]] = {}
    for lot in others:
        waiting.setdefault(key(lot), []).append(lot)
    return [(lot, waiting[key(lot)].pop(0)) for lot in ones if waiting.get(key(lot))]


def lot_words(lot: Lot) -> str:
    """Print a lot in a line, without its name."""
    what = f"{show_amount(lot.mass)} of {fibre_words(lot)}, {lot.pieces} × {lot.form.value}"
    return f"{what}, depth wanted {show_amount(lot.depth)}"
