"""A bath: water, how warm it is, and everything dissolved or lying in it, in moles."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf, isfinite
from operator import add, attrgetter

from attrs import Attribute, evolve, field, fields_dict, frozen

from vatside.chemistry.errors import OutOfRange, require_not_negative, require_positive
from vatside.chemistry.heat import mix_temperature, water_mass
from vatside.chemistry.water import HIGHEST_C, LOWEST_C


def _is_water(_bath: Bath, _attribute: Attribute[float], value: float) -> None:
    require_positive("water in the bath", value, "kg")


def _is_liquid(_bath: Bath, _attribute: Attribute[float], value: float) -> None:
    if not (isfinite(value) and LOWEST_C <= value <= HIGHEST_C):
        raise OutOfRange(f"A bath lies between {LOWEST_C:g} and {HIGHEST_C:g} °C, not at {value:g} °C.")


def _total() -> float:
    total: float = field(default=0.0)
    return total


@frozen
class Bath:
    """What is in a vessel. Totals are moles, whatever form they are in; solids count.

    Raises `OutOfRange` for an amount below zero, no water, or a temperature outside 0..100 degrees C.
    """

    water_kg: float = field(validator=_is_water)
    temperature_C: float = field(default=25.0, validator=_is_liquid)  # noqa: N815  (chemistry's own symbol)
    sodium: float = _total()
    """With the sodium of soda ash, dithionite and every other salt. Potassium, if any, belongs here too."""
    calcium: float = _total()
    """With the lime that has not dissolved."""
    magnesium: float = _total()
    """With magnesium hydroxide at the bottom."""
    ammonia: float = _total()
    """With its ammonium ions."""
    ferrous: float = _total()
    """Iron that can still reduce, with ferrous hydroxide at the bottom."""
    ferric: float = _total()
    """Spent iron, all of it rust at the bottom."""
    carbonate: float = _total()
    """With bicarbonate and carbonic acid."""
    sulfite: float = _total()
    acetate: float = _total()
    citrate: float = _total()
    sulfate: float = _total()
    strong_anions: float = _total()
    """Single ions that take no part: chloride, and the acids that sugar turns into."""
    leuco: float = _total()
    """Reduced indigo in all its forms."""
    indigotin: float = _total()
    """Blue indigo, none of it dissolved."""
    dithionite: float = _total()
    """Its two sodium ions are counted in `sodium`."""
    thiourea_dioxide: float = _total()
    fructose: float = _total()
    plant_sugar: float = _total()
    starch: float = _total()
    """What living things may still turn to acid."""
    zinc: float = _total()
    """Dust that has reduced nothing yet."""

    def __attrs_post_init__(self) -> None:
        """Look at all amounts at once: a sheet makes a hundred baths, and the words only when they are needed."""
        amounts = _amounts(self)
        if min(amounts) >= 0 and sum(amounts) < inf:
            return
        for name, value in zip(TOTALS, amounts, strict=True):
            require_not_negative(f"amount of {name.replace('_', ' ')}", value, "mol")


TOTALS: tuple[str, ...] = tuple(name for name in fields_dict(Bath) if name not in ("water_kg", "temperature_C"))
"""The names of the amounts in moles."""
_amounts = attrgetter(*TOTALS)


def changed(bath: Bath, changes: Iterable[tuple[str, float]]) -> Bath:
    """Give a bath with so many moles more (or, below zero, as many fewer as there are) of some totals."""
    return evolve(bath, **{total: max(getattr(bath, total) + count, 0.0) for total, count in changes})


def water_bath(litres: float, t_C: float) -> Bath:
    """Give a bath of plain water (L at its own temperature). Tap water's own hardness is left out [Kell1975]."""
    return Bath(water_mass(litres, t_C), t_C)


def at_temperature(bath: Bath, t_C: float) -> Bath:
    """Give the same bath, warmed or cooled to t_C."""
    return evolve(bath, temperature_C=t_C)


def part(bath: Bath, share: float) -> Bath:
    """Give a share (0..1, not 0) of a bath, solids and all, as when some of the stock is poured over."""
    if not 0 < share <= 1:
        raise OutOfRange(f"The share of a bath must lie above 0 and up to 1, not at {share:g}.")
    return Bath(share * bath.water_kg, bath.temperature_C, *(share * amount for amount in _amounts(bath)))


def together(first: Bath, second: Bath) -> Bath:
    """Pour two baths together: amounts add, temperatures mix as water's do [Popiel1998]."""
    amounts = map(add, _amounts(first), _amounts(second))
    warm = mix_temperature(((first.water_kg, first.temperature_C), (second.water_kg, second.temperature_C)))
    return Bath(first.water_kg + second.water_kg, warm, *amounts)
