"""How long a slow reducer takes at another warmth than its kind of vat is told for."""

from __future__ import annotations

from vatside.chemistry.rates import speed
from vatside.chemistry.reducers import REDUCERS
from vatside.plan.measures import has_warm_bath, powder
from vatside.plan.plan import Plan

COLDEST_C, HOTTEST_C = 20.0, 75.0
"""Between these the law is used; outside, as at the end: it was measured at 65 degrees C and near it [Vuorema2008]."""


def times_as_long(plan: Plan, from_C: float, to_C: float) -> float:
    """Give how many times as long the plan's reducer works at another warmth [Arrhenius]; 1 where its pace is unknown.

    Sugar takes 4.2 times as long at 45 as at 65 degrees C, by glucose's energy of activation [Vuorema2008].
    """
    heat = REDUCERS[powder(plan, "reducer").material.species].heat
    there, then = (min(max(celsius, COLDEST_C), HOTTEST_C) for celsius in (from_C, to_C))
    return speed(heat, then, there) if heat else 1.0


def stock_warmth(plan: Plan) -> str:
    """Give the figure of the warmth at which the stock rests: its bath's, or its water's."""
    return "stock.bath_temperature" if has_warm_bath(plan) else "stock.start"
