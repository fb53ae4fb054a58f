"""A bath: water, how warm it is, all that is dissolved or lies in it in moles; what goes in, what reducer does there.

Indigo takes two electrons from its reducer, which ends as sulfite, rust or sugar acid; oxygen takes four, and sends
sulfur on to sulfate. So a mole of thiourea dioxide counts once for indigo and once for oxygen. These are the theory's
amounts: air at the surface, slow powder and side reactions take more [Reactions].
"""

from __future__ import annotations

from collections.abc import Iterable
from math import inf, isfinite
from operator import add, attrgetter
from typing import Literal

from attrs import Attribute, evolve, field, fields_dict, frozen

from vatside.chemistry.errors import OutOfRange, require_not_negative, require_positive
from vatside.chemistry.heat import mix_temperature, water_mass
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.substances import VINEGAR_STRENGTH, VINEGAR_WATER, moles, substance
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


def add_grams(bath: Bath, name: str, grams: float) -> Bath:
    """Put grams of a pure substance into a bath [CIAAW].

    Names as in `vatside.chemistry.substances`. The temperature stays: see `vatside.chemistry.heat.lye_rise`. Raises
    `OutOfRange` for an unknown substance or an amount below zero.
    """
    require_not_negative(f"amount of {name}", grams, "g")
    amount = moles(name, grams)
    return evolve(bath, **{total: getattr(bath, total) + count * amount for total, count in substance(name).gives})


def add_vinegar(bath: Bath, millilitres: float) -> Bath:
    """Pour household vinegar of 5 % (mL) into a bath; its water counts. Raises `OutOfRange` below zero."""
    require_not_negative("amount of vinegar", millilitres, "mL")
    sour = add_grams(bath, "acetic acid", VINEGAR_STRENGTH * millilitres)
    return evolve(sour, water_kg=bath.water_kg + VINEGAR_WATER * millilitres / 1000)


def reduce(bath: Bath, oxygen_mg: float = 0.0) -> Bath:
    """Let the reducers of a bath use up oxygen (mg in the whole bath), then reduce its indigotin [Reactions].

    Indigotin and leuco-indigo together stay the same number of moles. Oxygen that finds no reducer turns leuco-indigo
    back, two moles for each. Raises `OutOfRange` for oxygen below zero.
    """
    require_not_negative("oxygen", oxygen_mg, "mg")
    oxygen = oxygen_mg / 1000 / _mass("oxygen")
    aired, met = _use_up(bath, oxygen, "oxygen")
    back = min(aired.leuco, 2 * max(oxygen - met, 0.0))
    blue, leuco = aired.indigotin + back, aired.leuco - back
    after, reduced = _use_up(aired, blue, "indigo")
    return evolve(after, indigotin=blue - reduced, leuco=leuco + reduced)


def not_begun(bath: Bath) -> Bath:
    """Give a bath of starch in which nothing lives yet: its dye is blue, what reduced it still there [Reactions].

    The other way round from `reduce`: a mole of indigotin gives back its ion's hydroxide and that of its acid.
    """
    for kind in REDUCERS.values():
        acids = sum(count for _, count in kind.with_indigo)
        if not kind.breeds or not getattr(bath, kind.total):
            continue
        blue = min(bath.leuco, bath.strong_anions / (kind.per_indigotin * acids))
        back = (
            (kind.total, kind.per_indigotin),
            ("strong_anions", -kind.per_indigotin * acids),
            ("leuco", -1),
            ("indigotin", 1),
        )
        bath = changed(bath, ((total, count * blue) for total, count in back))
    return bath


def _use_up(bath: Bath, wanted: float, partner: Literal["oxygen", "indigo"]) -> tuple[Bath, float]:
    """Let the reducers in turn meet moles of oxygen or indigo; give the bath, and the moles that they met."""
    all_met = 0.0
    for kind in REDUCERS.values():
        need = kind.per_oxygen if partner == "oxygen" else kind.per_indigotin
        products = kind.with_oxygen if partner == "oxygen" else kind.with_indigo
        used = min(getattr(bath, kind.total), need * wanted)
        if not used:
            continue
        met = used / need
        all_met += met
        wanted = max(wanted - met, 0.0)
        bath = changed(bath, ((kind.total, -used), *((product, count * used) for product, count in products)))
    return bath, all_met


def gives_off_sulfur_dioxide(bath: Bath) -> bool:
    """Say whether acid would drive sulfur dioxide out of a bath, by the reducer that it still holds."""
    return any(getattr(bath, total) > 0 for total in _SULFUROUS)


_SULFUROUS = tuple(kind.total for kind in REDUCERS.values() if kind.gives_sulfur_dioxide)


def aerate(bath: Bath) -> Bath:
    """Stir a bath in air until nothing in it can take up oxygen any more: blue, all sulfur as sulfate [Reactions].

    What air does not spend is left as it is. The acid that forms uses alkali up.
    """
    bath = evolve(
        bath, indigotin=bath.indigotin + bath.leuco, leuco=0.0, sulfate=bath.sulfate + bath.sulfite, sulfite=0.0
    )
    for kind in REDUCERS.values():
        there = getattr(bath, kind.total)
        if there and kind.air_spends:
            bath = changed(bath, ((kind.total, -there), *((made, count * there) for made, count in kind.in_air)))
    return bath


def _mass(name: str) -> float:
    return substance(name).molar_mass
