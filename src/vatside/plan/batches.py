"""Lots that go through the day together: scoured in one bath, and rinsed, soured and washed off in one batch."""

from __future__ import annotations

from functools import lru_cache

from attrs import evolve, frozen

from vatside.catalogue.dyeing import Finish, finishes
from vatside.catalogue.values import Fibre, Scour
from vatside.plan.grouping import gathered
from vatside.plan.measures import clean_grams, fibre_key, fibre_of_all, is_greasy, lot_grams, scour_key, scour_of
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Stage


@frozen
class Bath:
    """Lots that are scoured together."""

    key: str
    fibre: Fibre
    scour: Scour
    lots: tuple[Lot, ...]
    grams: float
    """Air-dry mass of them all."""

    @property
    def name(self) -> str:
        """What the screen calls it."""
        if any(is_greasy(lot) for lot in self.lots):
            return self.fibre.greasy_name
        return f"{self.fibre.name}, {self.lots[0].condition}" if self.unscoured else self.fibre.name

    @property
    def called(self) -> str:
        """What it is called in a sentence."""
        return self.fibre.name if self.unscoured else self.name

    @property
    def unscoured(self) -> bool:
        """It goes through no bath: it is only wetted out, perhaps rinsed before."""
        return not self.scour.baths

    @property
    def gentle(self) -> bool:
        """Warmed and cooled a step at a time."""
        return self.scour.start == "lukewarm"

    def id(self, name: str) -> str:
        """Give the figure id of one of its quantities."""
        return f"scour.{self.key}.{name}"


@lru_cache(maxsize=8)
def baths(plan: Plan) -> tuple[Bath, ...]:
    """Sort the lots into scour baths, in the order in which they first appear; once for all who ask."""
    by_key = gathered((scour_key(lot), lot) for lot in plan.lots)
    return tuple(_bath(plan, key, tuple(lots)) for key, lots in by_key.items())


def _bath(plan: Plan, key: str, lots: tuple[Lot, ...]) -> Bath:
    grams = sum(lot_grams(plan, lot) for lot in lots)
    clean = sum(clean_grams(plan, lot) for lot in lots)
    scour = scour_of(lots[0])
    if len(lots) > 1 and grams and scour.loss.value:
        scour = evolve(scour, loss=evolve(scour.loss, value=100 * (1 - clean / grams)))
    return Bath(key, fibre_of_all(plan, lots), scour, lots, grams)


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
    by_key = gathered((fibre_key(lot), lot) for lot in plan.lots)
    return tuple(_batch(plan, key, lots) for key, lots in by_key.items())


def _batch(plan: Plan, key: str, lots: list[Lot]) -> Batch:
    fibre = fibre_of_all(plan, lots)
    return Batch(key, fibre, finishes()[fibre.group], sum(clean_grams(plan, lot) for lot in lots))


def stage_title(plan: Plan, stage: Stage) -> str:
    """Name a stage over its figures and notices: a scour without a bath is only a wetting out."""
    without = stage is Stage.SCOUR and all(bath.unscoured for bath in baths(plan))
    return "Wet out" if without else stage.value.capitalize()
