"""A newcomer's plan: calm, and done in a day."""

from __future__ import annotations

from vatside.catalogue.load import usual_method
from vatside.plan import plan as plans
from vatside.units import Amount, Spoons

MEDIUM_DEPTH = 0.8
"""Indigotin on the fibre for a medium blue, % on weight of fibre: common practice, no source."""


def starter_plan(title: str = "A new day") -> plans.Plan:
    """Give a usable plan: six linen napkins, a medium blue, in a bucket or a tub."""
    lot = plans.Lot(
        "a",
        "Linen napkins",
        "linen",
        Amount(300, "g"),
        6,
        plans.Form.CLOTH,
        plans.Condition.CLEAN,
        Amount(MEDIUM_DEPTH, "%"),
        named=False,
    )
    return plans.Plan(
        title=title,
        ready_by=None,
        method=usual_method(),
        measure=plans.Measure.SCALE,
        spoons=Spoons.US,
        lots=(lot,),
        vessels=_vessels(),
        water=plans.Water(Amount(55, "degC"), Amount(12, "degC"), Amount(20, "degC"), Amount(1.5, "kW")),
        shelf=(),
    )


def _vessels() -> plans.Vessels:
    tub = plans.Tub(
        shape=plans.TubShape.LITRES,
        volume=Amount(8, "L"),
        length=Amount(32, "cm"),
        width=Amount(32, "cm"),
        height=Amount(30, "cm"),
        headspace=Amount(15, "%"),
        stuff=plans.Stuff.PLASTIC,
    )
    return plans.Vessels(
        scour_pot=Amount(10, "L"),
        scour_fill=Amount(75, "%"),
        scour_stuff=plans.Stuff.STAINLESS,
        stock_jar=Amount(1, "L"),
        jar_stuff=plans.Stuff.GLASS,
        tub=tub,
        others=(Amount(20, "L"),),
    )


def new_lot(plan: plans.Plan) -> plans.Lot:
    """Give one more lot, of the fibre of the last one and in its state, under the first free letter."""
    taken = {lot.id for lot in plan.lots}
    names = (chr(code) for code in range(ord("a"), ord("z") + 1))
    numbers = (f"lot{number}" for number in range(1, len(taken) + 2))
    free = next(name for name in (*names, *numbers) if name not in taken)
    fibre, condition = (plan.lots[-1].fibre, plan.lots[-1].condition) if plan.lots else ("wool", plans.Condition.CLEAN)
    return plans.Lot(
        free, f"Lot {len(plan.lots) + 1}", fibre, Amount(100, "g"), 1,
        plans.Form.SKEINS, condition, Amount(MEDIUM_DEPTH, "%"), named=False,
    )  # fmt: skip
