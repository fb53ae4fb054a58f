"""The reducers: what each becomes in a bath, and what it takes of alkali on the way.

In alkali, with two electrons for each molecule of indigo and four for each of oxygen:

    indigo + 2 e- + 2 H2O                     -> leuco acid + 2 OH-
    leuco acid + n OH-                        -> leuco ion (charge n-) + n H2O
    thiourea dioxide + 2 OH-                  -> urea + SO2(2-) + H2O               (falling apart) [Svarovsky2000]
    SO2(2-) + indigo + H2O                    -> SO3(2-) + leuco acid
    SO2(2-) + O2                              -> SO4(2-)
    S2O4(2-) + 4 OH-                          -> 2 SO3(2-) + 2 H2O + 2 e-           (with indigo)
    S2O4(2-) + O2 + 2 OH-                     -> SO3(2-) + SO4(2-) + H2O            (with oxygen)
    2 S2O4(2-) + 2 OH-                        -> S2O3(2-) + 2 SO3(2-) + H2O         (closed, in weak alkali) [ECHA]
    SO3(2-) + 1/2 O2                          -> SO4(2-)
    FeSO4 + 2 OH-  -> Fe(OH)2 ;  Fe(OH)2 + OH- -> Fe(OH)3 + e-
    fructose + 3 OH-                          -> a sugar acid ion + 2 H2O + 2 e-    (a working assumption, from memory)
    Zn + 2 H2O                                -> Zn(OH)2 + H2                       (what indigo leaves of it)

So a mole takes the same hydroxide whether indigo, oxygen or time spends it, but for dithionite shut off from the air.
"""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from vatside.chemistry.errors import OutOfRange, require_not_negative, require_positive
from vatside.chemistry.substances import moles

Products = tuple[tuple[str, float], ...]
"""Totals of a bath, and moles of each from a mole of reducer."""
End = Literal["sulfate", "sulfite", "closed"]
"""How far a reducer's sulfur goes: air takes it to sulfate, indigo to sulfite, a closed jar part of the way."""


@frozen
class Reducer:
    """One reducer, by the reactions at the head of this module [Reactions]."""

    substance: str
    total: str
    """Where a bath keeps it."""
    per_indigotin: float
    """Moles for a mole of indigotin."""
    per_oxygen: float
    """Moles for a mole of oxygen."""
    hydroxide: float
    """Moles of hydroxide that a mole takes, spent by indigo or by oxygen; the leuco ion's own is not in it."""
    with_indigo: Products
    with_oxygen: Products
    """By the first oxygen that it meets."""
    in_air: Products
    """In the end, with all the oxygen that it can take."""
    closed: Products
    """Falling apart without indigo or oxygen."""
    hydroxide_closed: float
    """Moles of hydroxide taken then."""
    gives_off: tuple[str, ...] = ()
    """Gases to be warned of."""
    assumed: bool = False
    """True where no fixed reaction exists: never show its figures as theory."""

    @property
    def hydroxide_mono(self) -> float:
        """Moles of hydroxide used in all for a mole of indigotin brought to the single leuco ion."""
        return self.per_indigotin * self.hydroxide + 1

    @property
    def hydroxide_oxygen(self) -> float:
        """Moles of hydroxide used in all for a mole of oxygen."""
        return self.per_oxygen * self.hydroxide

    def becomes(self, end: End) -> Products:
        """Give what a mole has become once it is spent."""
        return {"sulfate": self.in_air, "sulfite": self.with_indigo, "closed": self.closed}[end]


_SULFUR_DIOXIDE = ("sulphur dioxide in acid",)
_RUST: Products = (("ferric", 1),)
_SUGAR_ACID: Products = (("strong_anions", 1),)

_ALL = (
    Reducer(
        "sodium dithionite", "dithionite", 1, 1, 2,
        with_indigo=(("sulfite", 2),),
        with_oxygen=(("sulfite", 1), ("sulfate", 1)),
        in_air=(("sulfate", 2),),
        closed=(("strong_anions", 1), ("sulfite", 1)),
        hydroxide_closed=1,
        gives_off=(*_SULFUR_DIOXIDE, "hydrogen sulphide in acid"),
    ),
    Reducer(
        "thiourea dioxide", "thiourea_dioxide", 1, 1, 2,
        with_indigo=(("sulfite", 1),),
        with_oxygen=(("sulfate", 1),),
        in_air=(("sulfate", 1),),
        closed=(("sulfite", 1),),
        hydroxide_closed=2,
        gives_off=_SULFUR_DIOXIDE,
    ),
    Reducer("ferrous sulfate heptahydrate", "ferrous", 2, 4, 2, _RUST, _RUST, _RUST, _RUST, 2),
    Reducer("fructose", "fructose", 1, 2, 1, _SUGAR_ACID, _SUGAR_ACID, _SUGAR_ACID, _SUGAR_ACID, 1, assumed=True),
)  # fmt: skip

REDUCERS: dict[str, Reducer] = {one.substance: one for one in _ALL}
"""The reducers, by substance, in the order in which they are used up when a bath holds several: common practice, no
source [Reactions]. Thiosulfate, two charges for two dithionites, is kept as a strong anion."""


def reducer(name: str) -> Reducer:
    """Look a reducer up by its substance; raises `OutOfRange` with the names there are."""
    if name not in REDUCERS:
        raise OutOfRange(f"“{name}” is no reducer that is known here; {', '.join(REDUCERS)} are.")
    return REDUCERS[name]


def hydroxide_of(name: str, grams: float, *, closed: bool = False) -> float:
    """Give the moles of hydroxide that grams of a pure reducer take until it is spent [Reactions].

    18.50 mmol a gram of thiourea dioxide, however spent; 11.49 a gram of dithionite, half of it in a `closed` jar.
    Raises `OutOfRange` for an unknown reducer or an amount below zero.
    """
    require_not_negative(f"amount of {name}", grams, "g")
    kind = reducer(name)
    return moles(name, grams) * (kind.hydroxide_closed if closed else kind.hydroxide)


ZINC_MOLAR_MASS = 65.38
"""Zn, g/mol [CIAAW]."""
_GAS_CONSTANT = 8.314463
"""L kPa/(mol K), by definition."""


def hydrogen_of_zinc(grams: float, t_C: float = 25.0, pressure_kPa: float = 101.325) -> float:
    """Give the litres of hydrogen, dry, that zinc dust gives off once no indigo takes it [Reactions].

    0.374 L a gram at 25 degrees C: a vat of zinc and lime is kept under no tight lid and near no flame. Raises
    `OutOfRange` for an amount below zero or no pressure.
    """
    require_not_negative("amount of zinc", grams, "g")
    require_positive("air pressure", pressure_kPa, "kPa")
    return grams / ZINC_MOLAR_MASS * _GAS_CONSTANT * (t_C + 273.15) / pressure_kPa
