"""Lots of one fibre or blend, which are rinsed, soured and washed off together."""

from __future__ import annotations

from attrs import frozen

from vatside.catalogue.dyeing import Finish, finishes
from vatside.catalogue.values import Fibre
from vatside.plan.measures import clean_grams, fibre_key, fibre_of_all
from vatside.plan.plan import Lot, Plan


@frozen
class Batch:
    """Lots of one fibre, finished together."""

    key: str
    """Id of the fibre, or those of a blend."""
    fibre: Fibre
    finish: Finish
    grams: float
    """As they come to the vat."""

    @property
    def name(self) -> str:
        """What the screen calls it."""
        return self.fibre.name

    @property
    def gentle(self) -> bool:
        """Warmed and cooled a step at a time."""
        return self.fibre.group != "cellulose"

    def id(self, name: str) -> str:
        """Give the figure id of one of its quantities."""
        return f"finish.{self.key}.{name}"


def batches(plan: Plan) -> tuple[Batch, ...]:
    """Sort the lots by fibre, in the order in which they first appear."""
    keys = dict.fromkeys(fibre_key(lot) for lot in plan.lots)
    return tuple(_batch(plan, key, [lot for lot in plan.lots if fibre_key(lot) == key]) for key in keys)


def _batch(plan: Plan, key: str, lots: list[Lot]) -> Batch:
    fibre = fibre_of_all(plan, lots)
    return Batch(key, fibre, finishes()[fibre.group], sum(clean_grams(plan, lot) for lot in lots))
