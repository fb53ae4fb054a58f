"""An amount of one powder or liquid, as it is weighed and as it is read out."""

from __future__ import annotations

from attrs import frozen

from vatside.recipe.care.made import VINEGAR
from vatside.recipe.measures import Powder
from vatside.recipe.plan import Measure, Plan
from vatside.recipe.show import in_spoons
from vatside.units import show_mass, show_volume


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
