"""What the dyer's tap brings into a bath: as she knows it, or a stated guess with the ends between which it may lie."""

from __future__ import annotations

from vatside.chemistry.tap import CLASSES, UNKNOWN, Tap, TapWater, of_calcium_carbonate, softened
from vatside.plan.plan import Plan, TapKind
from vatside.units import Kind, to_base

ALKALINITY_ENDS = (0.4, 1.0)
"""Alkalinity over hardness, both as calcium carbonate, between which most tap water lies: a guess [Tap]."""


def tap_of(plan: Plan) -> Tap:
    """Give what is known of the plan's tap water: a report or a strip goes before the word for it."""
    water = plan.water
    if water.hardness is not None:
        return _measured(plan)
    if water.tap is TapKind.SOFTENED:
        return Tap(softened(UNKNOWN.likely), tuple(softened(end) for end in UNKNOWN.ends))
    if water.tap is TapKind.UNKNOWN:
        return UNKNOWN
    return Tap(CLASSES["pure" if water.tap is TapKind.PURE else water.tap.value])


def is_known(plan: Plan) -> bool:
    """Tell whether the dyer has said how hard her water is, by number or by word."""
    return plan.water.hardness is not None or plan.water.tap is not TapKind.UNKNOWN


def _measured(plan: Plan) -> Tap:
    hardness = to_base(plan.water.hardness, Kind.HARDNESS) if plan.water.hardness else 0.0
    if plan.water.alkalinity is not None:
        return Tap(of_calcium_carbonate(hardness, to_base(plan.water.alkalinity, Kind.ALKALINITY)))
    ends = tuple(of_calcium_carbonate(hardness, share * hardness) for share in ALKALINITY_ENDS)
    return Tap(of_calcium_carbonate(hardness), ends if hardness else ())


def likely(plan: Plan) -> TapWater:
    """Give the water to reckon with where one is wanted."""
    return tap_of(plan).likely
