"""What goes into a bath, and what the reducer does there.

Indigo takes two electrons from its reducer, which ends as sulfite, rust or sugar acid; oxygen takes four, and sends
sulfur on to sulfate. So a mole of thiourea dioxide counts once for indigo and once for oxygen. These are the theory's
amounts: air at the surface, slow powder and side reactions take more [Reactions].
"""

from __future__ import annotations

from typing import Literal

from attrs import evolve, frozen

from vatside.chemistry.alkalis import LYE
from vatside.chemistry.bath import Bath, changed
from vatside.chemistry.errors import require_not_negative
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.substances import VINEGAR_STRENGTH, VINEGAR_WATER, moles, substance


def add(bath: Bath, name: str, grams: float) -> Bath:
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
    sour = add(bath, "acetic acid", VINEGAR_STRENGTH * millilitres)
    return evolve(sour, water_kg=bath.water_kg + VINEGAR_WATER * millilitres / 1000)


@frozen
class ReducerUse:
    """What became of one reducer."""

    name: str
    used_g: float
    left_g: float


@frozen
class Reduction:
    """A bath after its reducer has done what it can, and the account of it."""

    bath: Bath
    reduced_g: float
    """Indigotin turned into leuco-indigo."""
    unreduced_g: float
    """Indigotin still blue."""
    reoxidised_g: float
    """Leuco-indigo, as indigotin, that oxygen turned back because no reducer was left."""
    oxygen_used_mg: float
    reducers: tuple[ReducerUse, ...]
    alkali_used_g: float
    """Sodium hydroxide, or its equivalent, used up to the single leuco ion; for copperas with what its iron takes."""
    sulfite_formed_mol: float


def reduce(bath: Bath, oxygen_mg: float = 0.0) -> Reduction:
    """Let the reducers of a bath use up oxygen (mg in the whole bath), then reduce its indigotin [Reactions].

    Indigotin and leuco-indigo together stay the same number of moles. Oxygen that finds no reducer turns leuco-indigo
    back. Raises `OutOfRange` for oxygen below zero.
    """
    require_not_negative("oxygen", oxygen_mg, "mg")
    oxygen = oxygen_mg / 1000 / _mass("oxygen")
    aired, by_oxygen = _use_up(bath, oxygen, "oxygen")
    aired, back = _turn_back(aired, oxygen - sum(by_oxygen.values()))
    after, by_indigo = _use_up(aired, aired.indigotin, "indigo")
    reduced = sum(by_indigo.values())
    after = evolve(after, indigotin=aired.indigotin - reduced, leuco=aired.leuco + reduced)
    return Reduction(
        bath=after,
        reduced_g=reduced * _mass("indigotin"),
        unreduced_g=after.indigotin * _mass("indigotin"),
        reoxidised_g=back * _mass("indigotin"),
        oxygen_used_mg=(sum(by_oxygen.values()) + back / 2) * _mass("oxygen") * 1000,
        reducers=_uses(bath, after),
        alkali_used_g=(_hydroxide(by_oxygen, by_indigo) - back) * _mass(LYE),
        sulfite_formed_mol=after.sulfite - bath.sulfite,
    )


def _hydroxide(by_oxygen: dict[str, float], by_indigo: dict[str, float]) -> float:
    """Give the moles of hydroxide used by the moles of oxygen and indigo that each reducer met."""
    return sum(
        by_oxygen[name] * kind.hydroxide_oxygen + by_indigo[name] * kind.hydroxide_mono
        for name, kind in REDUCERS.items()
    )


def _use_up(bath: Bath, wanted: float, partner: Literal["oxygen", "indigo"]) -> tuple[Bath, dict[str, float]]:
    """Let the reducers in turn meet moles of oxygen or indigo; give the bath and the moles each of them met."""
    met: dict[str, float] = {}
    for name, kind in REDUCERS.items():
        need = kind.per_oxygen if partner == "oxygen" else kind.per_indigotin
        products = kind.with_oxygen if partner == "oxygen" else kind.with_indigo
        there = getattr(bath, kind.total)
        used = min(there, need * wanted)
        met[name] = used / need
        if not used:
            continue
        wanted = max(wanted - met[name], 0.0)
        made = ((product, count * used) for product, count in products)
        bath = changed(bath, ((kind.total, -used), *made))
    return bath, met


def _turn_back(bath: Bath, oxygen: float) -> tuple[Bath, float]:
    """Let moles of oxygen turn leuco-indigo back into indigotin, two for each; give the bath and the moles turned."""
    back = min(bath.leuco, 2 * max(oxygen, 0.0))
    return evolve(bath, leuco=bath.leuco - back, indigotin=bath.indigotin + back), back


def _uses(before: Bath, after: Bath) -> tuple[ReducerUse, ...]:
    rows = ((name, getattr(before, c.total), getattr(after, c.total)) for name, c in REDUCERS.items())
    return tuple(
        ReducerUse(name, (first - last) * _mass(name), last * _mass(name)) for name, first, last in rows if first
    )


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
