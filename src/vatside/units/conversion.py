"""Amounts from one unit into another, as affine maps: from our own exact factors, or else from the registry."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from vatside.units.amount import BASE_UNITS, Amount, Kind, Spoons
from vatside.units.factors import known
from vatside.units.names import KIND_OF_UNIT, KIND_WORDS, UNITS, fits


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


def from_base(value: float, kind: Kind, unit: str, spoons: Spoons = Spoons.US) -> float:
    """Give a number in `BASE_UNITS[kind]` in another unit; ValueError if the unit does not measure `kind`."""
    return convert(value, BASE_UNITS[kind], unit, spoons)


def is_spoon(amount: Amount) -> bool:
    """Whether an amount is a volume, so that a powder in it must go through its grams a spoon."""
    return KIND_OF_UNIT.get(amount.unit) is Kind.VOLUME


def teaspoons(amount: Amount, spoons: Spoons) -> float:
    """Give a volume as a number of level teaspoons; ValueError if the amount is no volume."""
    return convert(amount.value, amount.unit, "tsp", spoons)


def spoon_millilitres(unit: str, spoons: Spoons) -> float:
    """Millilitres in one level spoon, cup or other measure; ValueError if the unit is no volume."""
    return convert(1.0, unit, "mL", spoons)
