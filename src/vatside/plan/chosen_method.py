"""Another kind of vat for a plan: what stays, and which held amounts go."""

from __future__ import annotations

from attrs import evolve

from vatside.plan.plan import Plan

OF_THE_METHOD = (
    "stock.alkali", "stock.reducer", "stock.start", "stock.jug", "stock.bath", "stock.bath_temperature", "stock.stir",
    "stock.hold", "stock.look_every", "vat.alkali", "vat.reducer", "vat.soda-ash", "vat.baking-soda",
    "vat.temperature", "vat.sharpen", "vat.rest", "vat.look_every", "finish.feed", "finish.keep",
)  # fmt: skip
"""Figures that mean another powder, or another reaction, in another kind of vat."""


def with_method(plan: Plan, method: str) -> Plan:
    """Give the plan with another kind of vat: lots, vessels, water, litres and dips stay as they are held.

    An amount of lye is no amount of lime, so what is held for the powders, warmth and waits of the old kind goes.
    """
    if method == plan.method:
        return plan
    return evolve(plan, method=method, pins=tuple(pin for pin in plan.pins if pin.figure not in OF_THE_METHOD))
