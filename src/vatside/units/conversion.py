"""Amounts from one unit into another, as affine maps: from our own exact factors, or else from the registry.

The factors are what most plans are written in, so that an ordinary day never waits for pint. The definitions are
`registry`'s; a test holds every factor here against pint's own. What is not here, the British and Australian
measures, goes through pint.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from vatside.units.amount import BASE_UNITS, Amount, Kind, Spoons
from vatside.units.names import KIND_OF_UNIT, KIND_WORDS, UNITS, fits

_POUND_G = Fraction("453.59237")
_INCH_CM = Fraction("2.54")
_GALLON_US_L = 231 * (_INCH_CM / 10) ** 3
_FLUID_OUNCE_US_L = _GALLON_US_L / 128

_CALCIUM_CARBONATE = Fraction("100.0869")
_GRAIN_MG = _POUND_G * 1000 / 7000
_GALLON_IMPERIAL_L = Fraction("4.54609")

_EVERYWHERE: dict[str, Fraction] = {
    "g": Fraction(1),
    "mg": Fraction(1, 1000),
    "kg": Fraction(1000),
    "oz": _POUND_G / 16,
    "lb": _POUND_G,
    "mL": Fraction(1, 1000),
    "L": Fraction(1),
    "degC": Fraction(1),
    "degF": Fraction(5, 9),
    "s": Fraction(1, 60),
    "min": Fraction(1),
    "h": Fraction(60),
    "day": Fraction(1440),
    "%": Fraction(1),
    "cm": Fraction(1),
    "mm": Fraction(1, 10),
    "m": Fraction(100),
    "in": _INCH_CM,
    "ft": 12 * _INCH_CM,
    "g/L": Fraction(1),
    "L/kg": Fraction(1),
    "W": Fraction(1, 1000),
    "kW": Fraction(1),
    "mg/L CaCO3": Fraction(1),
    "dH": 10 * _CALCIUM_CARBONATE / Fraction("56.0774"),
    "fH": Fraction(10),
    "eH": _GRAIN_MG / _GALLON_IMPERIAL_L,
    "gpg": _GRAIN_MG / _GALLON_US_L,
    "mmol/L": _CALCIUM_CARBONATE,
    "mg/L Ca": _CALCIUM_CARBONATE / Fraction("40.078"),
    "meq/L": _CALCIUM_CARBONATE / 2,
    "mg/L HCO3": _CALCIUM_CARBONATE / 2 / Fraction("61.0168"),
    "": Fraction(1),
}
"""One of each in the base unit of its kind."""

_US: dict[str, Fraction] = {
    "tsp": _FLUID_OUNCE_US_L / 6,
    "tbsp": _FLUID_OUNCE_US_L / 2,
    "cup": 8 * _FLUID_OUNCE_US_L,
    "fl_oz": _FLUID_OUNCE_US_L,
    "pint": 16 * _FLUID_OUNCE_US_L,
    "quart": 32 * _FLUID_OUNCE_US_L,
    "gal": _GALLON_US_L,
}
_METRIC: dict[str, Fraction] = {"tsp": Fraction(5, 1000), "tbsp": Fraction(15, 1000), "cup": Fraction(250, 1000)}

FACTORS: dict[tuple[str, Spoons | None], Fraction] = {
    **{(unit, None): factor for unit, factor in _EVERYWHERE.items()},
    **{(unit, Spoons.US): factor for unit, factor in _US.items()},
    **{(unit, Spoons.METRIC): factor for unit, factor in _METRIC.items()},
}
"""Litres, grams and so on in one of a unit; None: whoever's spoons they are."""

_AT_ZERO: dict[str, Fraction] = {"degF": Fraction(-160, 9)}
"""The base unit's number where a unit's own is zero, for those that do not begin together."""


def known(unit: str, spoons: Spoons) -> tuple[Fraction, Fraction] | None:
    """Give scale and offset of a unit to the base unit of its kind; None if only pint knows them."""
    factor = FACTORS.get((unit, None)) or FACTORS.get((unit, spoons))
    return None if factor is None else (factor, _AT_ZERO.get(unit, Fraction(0)))


def convert(value: float, unit: str, to: str, spoons: Spoons = Spoons.US) -> float:
    """Turn a value in one unit into another; `spoons` says whose spoons, cups and pints are meant.

    ValueError if a unit is not in `UNITS` or the two do not measure the same.
    """
    scale, offset = _map(unit, to, spoons)
    return value * scale + offset


@cache
def _map(unit: str, to: str, spoons: Spoons) -> tuple[float, float]:
    """Give scale and offset between two units, rounded once from exact fractions."""
    _check(unit, to)
    if unit == to:
        return 1.0, 0.0
    ours, theirs = known(unit, spoons), known(to, spoons)
    if ours and theirs:
        return float(ours[0] / theirs[0]), float((ours[1] - theirs[1]) / theirs[0])
    at_zero, at_one = (_exact(Fraction(point), unit, to, spoons) for point in (0, 1))
    return float(at_one - at_zero), float(at_zero)


def _check(unit: str, to: str) -> None:
    for name in (unit, to):
        if name not in UNITS:
            raise ValueError(f"{name!r} is not a unit known here")
    have, want = KIND_OF_UNIT[unit], KIND_OF_UNIT[to]
    if have is not want:
        raise ValueError(
            f"{UNITS[unit] or 'a number'} is {KIND_WORDS[have]} and cannot be turned into {KIND_WORDS[want]}"
        )


def _exact(value: Fraction, unit: str, to: str, spoons: Spoons) -> Fraction:
    """Let pint convert one fraction; imported here, because pint takes a tenth of a second to start."""
    from vatside.units.registry import registry, registry_name

    units = registry()
    quantity = units.Quantity(value, units.Unit(registry_name(unit, spoons)))
    return Fraction(quantity.to(units.Unit(registry_name(to, spoons))).magnitude)


def to_base(amount: Amount, kind: Kind, spoons: Spoons = Spoons.US) -> float:
    """Give an amount as a plain number in `BASE_UNITS[kind]`.

    ValueError if the amount does not measure `kind`, or if it is spoons of a powder: only the shelf entry
    knows what a spoon of it weighs.
    """
    if not fits(amount.unit, kind):
        raise ValueError(
            f"{UNITS.get(amount.unit, amount.unit)!r} does not measure {KIND_WORDS[kind].partition(' ')[2]}"
        )
    if kind is Kind.POWDER and is_spoon(amount):
        raise ValueError("spoons of a powder become grams only through what one spoon of it weighs")
    return convert(amount.value, amount.unit, BASE_UNITS[kind], spoons)


def is_spoon(amount: Amount) -> bool:
    """Whether an amount is a volume, so that a powder in it must go through its grams a spoon."""
    return KIND_OF_UNIT.get(amount.unit) is Kind.VOLUME


def teaspoons(amount: Amount, spoons: Spoons) -> float:
    """Give a volume as a number of level teaspoons; ValueError if the amount is no volume."""
    return convert(amount.value, amount.unit, "tsp", spoons)


def spoon_millilitres(unit: str, spoons: Spoons) -> float:
    """Millilitres in one level spoon, cup or other measure; ValueError if the unit is no volume."""
    return convert(1.0, unit, "mL", spoons)
