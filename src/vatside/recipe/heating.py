"""How long a pot takes to heat with wet fibre in it."""

from __future__ import annotations

from vatside.catalogue.values import Fibre
from vatside.chemistry import heat
from vatside.chemistry.heat import FIBRE_AS_WATER
from vatside.chemistry.water import enthalpy
from vatside.plan.measures import celsius
from vatside.plan.plan import Plan
from vatside.units import Kind, to_base


def wet_litres(fibre: Fibre, grams: float) -> float:
    """Give the water that takes as much heat as squeezed wet fibre (g, dry), L."""
    return grams / 1000 * (fibre.held.value / 100 + FIBRE_AS_WATER)


def pot_minutes(plan: Plan, water_l: float, start_C: float, hold_C: float, fibre: Fibre, grams: float) -> float:
    """Give the minutes in which the hob brings a pot to hold_C, wet fibre as cold as the room going in [Popiel1998].

    Without losses; 0 where it is warm enough already. Temperatures in 0..100 degrees C; raises `OutOfRange` outside.
    """
    if hold_C <= start_C:
        return 0.0
    power, room = to_base(plan.water.hob, Kind.POWER), celsius(plan.water.room)
    fibre_kj = wet_litres(fibre, grams) * max(enthalpy(hold_C) - enthalpy(room), 0.0)
    return heat.heating_minutes(water_l, start_C, hold_C, power) + fibre_kj / power / 60
