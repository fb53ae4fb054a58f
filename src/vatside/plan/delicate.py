"""Which fibre of a plan alkali harms first, and what suits it."""

from __future__ import annotations

from vatside.catalogue.values import Fibre, Window
from vatside.chemistry.alkalis import ALKALIS
from vatside.chemistry.buffer import RULES
from vatside.chemistry.reducers import REDUCERS
from vatside.plan.measures import fibre_of, method_of, powder
from vatside.plan.plan import Lot, Plan


def delicate_lot(plan: Plan) -> Lot | None:
    """Give the lot whose fibre alkali harms first; None for a plan without lots."""
    return min(plan.lots, key=lambda lot: _delicacy(fibre_of(lot)), default=None)


def window_of(plan: Plan, fibre: Fibre) -> Window:
    """Give the pH between which a fibre is dyed in the plan's kind of vat, at its temperature."""
    return method_of(plan).vat.windows.get(fibre.group, fibre.window)


def _delicacy(fibre: Fibre) -> tuple[float, float]:
    return fibre.window.block, fibre.window.high


def suits_lime(group: str, alkali: str) -> bool:
    """Tell a vat that lime holds above its fibre's window without harm: cellulose is dyed in lime all the same."""
    return group == "cellulose" and ALKALIS[alkali].saturates


SODA, BUFFERS = "soda-ash", ("soda-ash", "baking-soda")
"""Materials that hold a vat for wool or silk."""
BUFFERED = tuple(f"vat.{name}" for name in BUFFERS)
"""Figures of what holds a vat for wool or silk."""


def is_buffered(plan: Plan) -> bool:
    """Tell a vat for wool, hair or silk that soda ash and baking soda hold in the place of its alkali."""
    lot = delicate_lot(plan)
    if lot is None or fibre_of(lot).group not in RULES:
        return False
    alkali, reducer = (powder(plan, role).material.species for role in ("alkali", "reducer"))
    return ALKALIS[alkali].gentle and REDUCERS[reducer].in_soda is not None
