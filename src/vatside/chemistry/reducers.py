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
    Zn + indigo + 2 H2O                       -> Zn(OH)2 + leuco acid ; Zn + 2 H2O -> Zn(OH)2 + H2
    2 Zn(OH)2 + Ca(OH)2 + 2 H2O               -> CaZn2(OH)6(H2O)2                   [ZieglerJohnson2001]
    C6H10O5 + 2 OH-                           -> 2 lactate ion + H2O                (living things)
    fructose + 3 OH-                          -> a sugar acid ion + 2 H2O + 2 e-    (a working assumption, from memory)
    fructose + 1 to 2 OH-                     -> 1 to 2 sugar acid ions             (falling apart)
    Zn + 2 H2O                                -> Zn(OH)2 + H2                       (what indigo leaves of it)

So a mole takes the same hydroxide whether indigo, oxygen or time spends it, but for dithionite shut off from the air.
"""

from __future__ import annotations

from typing import Literal

from attrs import frozen

from vatside.chemistry.errors import OutOfRange, require_not_negative
from vatside.chemistry.rates import CALORIE, Decay, FirstOrder, HalfLives, Sour


@frozen
class Substance:
    """One pure substance."""

    name: str
    formula: str
    molar_mass: float
    """g/mol [CIAAW]."""
    gives: tuple[tuple[str, float], ...] = ()
    """What a mole brings to a bath: a total of `vatside.chemistry.bath.Bath`, and moles of it."""


Products = tuple[tuple[str, float], ...]
"""Totals of a bath, and moles of each from a mole of reducer; below zero where it takes them out of the liquor."""
End = Literal["sulfate", "sulfite", "closed"]
"""How far a reducer's sulfur goes: air takes it to sulfate, indigo to sulfite, a closed jar part of the way."""


@frozen
class InSoda:
    """How a reducer is given to a vat of soda for wool or silk [Buffered]; grams of pure substances."""

    soda_ash: float
    """With each gram that is fed later."""
    baking_soda: float


@frozen
class Reducer:
    """One reducer, by the reactions at the head of this module [Reactions]."""

    pure: Substance
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
    assumed: bool = False
    """True where no fixed reaction exists: never show its figures as theory."""
    at_once: bool = False
    """It takes its hydroxide as it goes in, whether it reduces anything or not."""
    air_spends: bool = True
    """Stirring in the air spends it."""
    air: tuple[float, float, float] | None = None
    """Moles that a mole of oxygen really takes: least, likely, most; None: as theory has it."""
    decay: Decay | None = None
    """How fast it falls apart by itself; None: not, as far as is known."""
    heat: float = 0.0
    """Energy of activation of its work on indigo, kJ/mol, where that sets the pace; 0: it does not."""
    in_soda: InSoda | None = None
    """None: nobody knows how a vat of soda for wool or silk takes it."""
    sludge: float = 0.0
    """Grams of what settles from a mole once it is spent, lime and gypsum not counted."""
    hydrogen: float = 0.0
    """Moles of hydrogen from a mole that meets neither indigo nor oxygen."""
    breathes: str = ""
    """The gas that comes off while stock and vat stand; empty: none. They are never shut tightly then."""

    @property
    def substance(self) -> str:
        """Its name."""
        return self.pure.name

    @property
    def total(self) -> str:
        """Name of the field of a `Bath` that holds its moles."""
        return next(total for total, count in reversed(self.pure.gives) if total not in SALTS and count == 1)

    @property
    def hydroxide_mono(self) -> float:
        """Moles of hydroxide used in all for a mole of indigotin brought to the single leuco ion."""
        return self.per_indigotin * self.hydroxide + 1

    @property
    def hydroxide_oxygen(self) -> float:
        """Moles of hydroxide used in all for a mole of oxygen."""
        return self.per_oxygen * self.hydroxide

    @property
    def gives_sulfur_dioxide(self) -> bool:
        """Tell whether acid would drive sulfur dioxide out of it."""
        return any(total == "sulfite" for total, _ in self.with_indigo)

    @property
    def sours(self) -> bool:
        """Tell what turns to acid whether it reduces anything or not: sugar in alkali, starch that ferments."""
        return self.assumed and not self.air_spends

    @property
    def breeds(self) -> bool:
        """Tell what reduces by living things alone: not before they are there."""
        return self.breathes == "gas"

    @property
    def in_acid(self) -> str:
        """What acid does to a vat in which it is alive, as the end of a sentence."""
        if self.gives_sulfur_dioxide:
            return "gives off sulphur dioxide, which chokes"
        if self.sours:
            return "drives hydrogen sulphide out where life has made sulphides, which can kill"
        if self.hydrogen:
            return "gives off hydrogen, which burns"
        return "takes its iron up again"

    @property
    def acid(self) -> float:
        """Moles of hydroxide that a gram takes until it is spent."""
        return self.hydroxide / self.pure.molar_mass

    def becomes(self, end: End) -> Products:
        """Give what a mole has become once it is spent."""
        return {"sulfate": self.in_air, "sulfite": self.with_indigo, "closed": self.closed}[end]


SALTS = ("sodium", "sulfate")
"""What a reducer's salt brings besides it."""
"""Of what lives in it, which makes sulphides of sulfate: from memory."""
_RUST: Products = (("ferric", 1),)
_SUGAR_ACID: Products = (("strong_anions", 1),)
_SUGAR_ACIDS: Products = (("strong_anions", 1.5),)
"""Of sugar that reduces nothing: one acid, or two of lactic acid, of which lime makes more [Bruijn1986]; that it is
the middle is a guess, no source."""
_SUGAR_DECAY = HalfLives(at_C=50.0, hours=((10.0, 48.0), (11.0, 24.0), (12.0, 12.0)), colder=2.5, spread=3.0)
"""How fast alkali turns sugar to acid: a guess, no source; rates were found for hot sugar juices alone [Bichsel1965].
That it does so, faster when hot and strong, is well known."""

_DITHIONITE = Reducer(
    Substance("sodium dithionite", "Na2S2O4", 174.1068, (("sodium", 2.0), ("dithionite", 1.0))), 1, 1, 2,
    with_indigo=(("sulfite", 2),),
    with_oxygen=(("sulfite", 1), ("sulfate", 1)),
    in_air=(("sulfate", 2),),
    closed=(("strong_anions", 1), ("sulfite", 1)),
    hydroxide_closed=1,
    air=(1.0, 1.4, 1.7),
    decay=FirstOrder(
        at_C=88.5, share=0.27, heat=26.5 * CALORIE, slowest=0.1, fastest=4.0,
        sour=Sour(factor=1.3e8, heat=12.0 * CALORIE, highest_pH=7.5),
    ),
    in_soda=InSoda(soda_ash=1.2, baking_soda=0.9),
)  # fmt: skip
"""Falls apart in lye by 0.27 of it an hour at 88.5 degrees C: 4.5e-3 a minute, whose exponent was not legible. It is
the largest that goes with a life of over 100 days at room temperature; the band's ends are the next smaller exponent,
and what 100 days allow [ListerGarvie1959] [Telfeyan]. In acid as measured at pH 4.8..7 and 60..80 degrees C [Rinker].
A mole of oxygen takes 1.2 at 25 and 1.7 at 37 degrees C [Tao]. In soda as [Buffered]."""

_THIOUREA_DIOXIDE = Reducer(
    Substance("thiourea dioxide", "CH4N2O2S", 108.1195, (("thiourea_dioxide", 1.0),)), 1, 1, 2,
    with_indigo=(("sulfite", 1),),
    with_oxygen=(("sulfate", 1),),
    in_air=(("sulfate", 1),),
    closed=(("sulfite", 1),),
    hydroxide_closed=2,
    air=(1.0, 1.4, 2.0),
    decay=HalfLives(at_C=50.0, hours=((9.0, 10.0), (10.0, 5.0), (11.0, 2.5), (12.0, 1.0)), colder=2.5, spread=3.0),
    in_soda=InSoda(soda_ash=2.0, baking_soda=1.5),
)  # fmt: skip
"""How fast it falls apart is a guess [TDOrate]. A mole of oxygen takes 1 mole to sulfate, 2 to sulfite. In soda as
[Buffered]."""

_COPPERAS = Reducer(
    Substance("ferrous sulfate heptahydrate", "FeSO4(H2O)7", 278.0144, (("ferrous", 1.0), ("sulfate", 1.0))), 2, 4, 2,
    _RUST, _RUST, _RUST, _RUST, 2, at_once=True, sludge=106.866,
)  # fmt: skip
"""Its iron settles as Fe(OH)3, 106.87 g/mol [CIAAW]."""

_FRUCTOSE = Reducer(
    Substance("fructose", "C6H12O6", 180.1562, (("fructose", 1.0),)), 1, 2, 1,
    _SUGAR_ACID, _SUGAR_ACID, _SUGAR_ACID, _SUGAR_ACIDS, 1.5, assumed=True, air_spends=False, heat=64.0,
    decay=_SUGAR_DECAY,
)  # fmt: skip
"""Its pace is that of glucose [Vuorema2008]; stirred in the air it is left as it is."""

_PLANT_SUGAR = Reducer(
    Substance("plant sugar", "C6H12O6", 180.1562, (("plant_sugar", 1.0), ("strong_anions", 0.18))), 1, 2, 1,
    _SUGAR_ACID, _SUGAR_ACID, _SUGAR_ACID, _SUGAR_ACIDS, 1.5, assumed=True, air_spends=False, heat=64.0,
    decay=_SUGAR_DECAY,
)  # fmt: skip
"""The sugar of fruit, counted as one hexose, with the fruit's own acid: 10 mmol to each 10 g of sugar, from memory. Its
pace is that of glucose [Vuorema2008]."""

_LACTIC: Products = (("strong_anions", 2),)
_STARCH = Reducer(
    Substance("fermentable starch", "C6H10O5", 162.1406, (("starch", 1.0),)), 0.5, 1, 2,
    _LACTIC, _LACTIC, _LACTIC, _LACTIC, 2, assumed=True, air_spends=False, breathes="gas",
    decay=HalfLives(at_C=35.0, hours=((9.0, 72.0), (10.5, 72.0), (11.5, 240.0)), colder=2.5, spread=3.0),
)  # fmt: skip
"""What living things make of bran: at most two of lactic acid, 12.3 mmol a gram; the carbonic acid of other ways is
left out. A vat that turned foul holds sulphide [memory]. How much indigo it reduces is an assumption. That half of
it is acid after three days at 35 degrees C is a guess, no source: a vat reduces from the fourth day to the fourteenth
[Aino2018], and hardly ferments above pH 10.5."""

_ZINCATE: Products = (("calcium", -0.5),)
_ZINC = Reducer(
    Substance("zinc", "Zn", 65.38, (("zinc", 1.0),)), 1, 2, 1,
    _ZINCATE, _ZINCATE, _ZINCATE, _ZINCATE, 1,
    at_once=True, air_spends=False, sludge=154.94, hydrogen=1.0, breathes="hydrogen",
    decay=HalfLives(at_C=20.0, hours=((9.0, 480.0), (13.0, 480.0)), colder=2.5, spread=6.0),
)  # fmt: skip
"""It settles with lime as calcium zincate, half of 309.88 g/mol [CIAAW] [ZieglerJohnson2001]. Where there is no lime
it takes none: what lye dissolves of zinc is left out. What indigo leaves of it the water takes, and hydrogen comes
off; a day of air does not use the metal up. That half of it is gone so in twenty days at 20 degrees C, in three to a
hundred and twenty, is a guess: from memory lime coats it until some 0.5 microampere a square centimetre are left, and
a gram of dust of 5 micrometres has 0.17 square metres."""

_ALL = (_DITHIONITE, _THIOUREA_DIOXIDE, _COPPERAS, _FRUCTOSE, _PLANT_SUGAR, _ZINC, _STARCH)
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
    return grams / kind.pure.molar_mass * (kind.hydroxide_closed if closed else kind.hydroxide)


def as_usual(name: str, grams: float) -> float:
    """Give the grams of thiourea dioxide that take as much hydroxide as grams of another pure reducer [Reactions].

    A gram of dithionite counts for 0.621. The rules of soda vats are told for thiourea dioxide [Buffered]. Raises
    `OutOfRange` as `hydroxide_of`.
    """
    return hydroxide_of(name, grams) / _THIOUREA_DIOXIDE.acid


USUAL = _THIOUREA_DIOXIDE.substance
"""The reducer for which the rules of soda vats are told [Buffered]."""


_GAS_CONSTANT = 8.314463
"""L kPa/(mol K), by definition."""


def hydrogen_of(name: str, grams: float) -> float:
    """Give the litres of hydrogen, dry, that a pure reducer gives off once no indigo takes it [Reactions].

    At 25 degrees C and 101.325 kPa; 0.374 L a gram of zinc: such a vat is kept under no tight lid and near no flame.
    Raises `OutOfRange` for what is no reducer or an amount below zero.
    """
    require_not_negative(f"amount of {name}", grams, "g")
    kind = reducer(name)
    return kind.hydrogen * grams / kind.pure.molar_mass * _GAS_CONSTANT * 298.15 / 101.325
