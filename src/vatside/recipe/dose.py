"""An amount of one powder or liquid, as it is weighed and as it is read out."""

from __future__ import annotations

from math import ceil

from attrs import frozen

from vatside.plan.figure_text import SPOON_STEPS, in_spoons
from vatside.plan.measures import Powder
from vatside.plan.plan import Measure, Plan
from vatside.recipe.baths import VINEGAR
from vatside.units import Amount, show_mass, show_volume, spoonfuls


@frozen
class Dose:
    """An amount of one powder or liquid, as weighed."""

    powder: Powder
    grams: float
    low: float = 0.0
    """The least that is usually given, g; 0 where only one amount is known."""
    high: float = 0.0

    @property
    def millilitres(self) -> float:
        """Volume of a liquid, mL."""
        return self.grams / self.powder.material.bulk.value

    @property
    def is_liquid(self) -> bool:
        """Tell a liquid from a powder: only vinegar is one."""
        return self.powder.material.species == VINEGAR


def amount_text(plan: Plan, dose: Dose) -> str:
    """Print a dose in the plan's way first, the other way behind it; liquids by volume."""
    if dose.is_liquid:
        return show_volume(dose.millilitres / 1000)
    spoon = in_spoons(dose.grams, dose.powder.teaspoons(dose.grams), plan).text
    mass = show_mass(dose.grams)
    return f"{spoon} ({mass})" if plan.measure is Measure.SPOONS else f"{mass} ({spoon})"


def named_amount(plan: Plan, dose: Dose) -> str:
    """Print a dose with the name of its powder: `3.0 g (1/2 tsp) of lye`."""
    return f"{amount_text(plan, dose)} of {dose.powder.material.short.lower()}"


def as_measured(plan: Plan, what: Powder, grams: float, least: float = 0.0) -> Amount:
    """Give the amount that the plan's scale or spoons can measure: the nearest to `grams` that is not below `least`.

    It is printed as it is: `amount_text` of it says neither more nor less.
    """
    grams = max(grams, least)
    if plan.measure is Measure.SCALE:
        step = 0.01 if grams < 0.095 else 0.1 if grams < 99.95 else 1 if grams < 999.5 else 10
        steps = max(round(grams / step), ceil(round(least / step, 6)))
        return Amount(round(steps * step, 2), "g")
    wanted, enough = what.teaspoons(grams), what.teaspoons(least) * (1 - 1e-9)
    rounded = (spoonfuls(wanted + more, plan.spoons).teaspoons for more in SPOON_STEPS)
    return Amount(next(found for found in rounded if found >= enough), "tsp")
