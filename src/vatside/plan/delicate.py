"""Which fibre of a plan alkali harms first, and what suits it."""

from __future__ import annotations

from vatside.catalogue.values import Fibre
from vatside.chemistry.buffer import RULES
from vatside.plan.measures import fibre_of, powder
from vatside.plan.plan import Lot, Plan


def delicate_lot(plan: Plan) -> Lot | None:
    """Give the lot whose fibre alkali harms first; None for a plan without lots."""
    return min(plan.lots, key=lambda lot: _delicacy(fibre_of(lot)), default=None)


def _delicacy(fibre: Fibre) -> tuple[float, float]:
    return fibre.window.block, fibre.window.high


def suits_lime(group: str, alkali: str) -> bool:
    """Tell a vat that lime holds above its fibre's window without harm: cellulose is dyed in lime all the same."""
    return group == "cellulose" and alkali == "calcium hydroxide"


LYE = "sodium hydroxide"


BUFFERED = ("vat.soda-ash", "vat.baking-soda")
"""Figures of what holds a vat for wool or silk."""


def is_buffered(plan: Plan) -> bool:
    """Tell a vat of lye for wool, hair or silk."""
    lot = delicate_lot(plan)
    gentle = lot is not None and fibre_of(lot).group in RULES
    return gentle and powder(plan, "alkali").material.species == LYE
