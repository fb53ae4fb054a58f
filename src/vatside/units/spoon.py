"""Level spoons to the nearest fraction that a set of measuring spoons can give."""

from __future__ import annotations

from math import floor, isfinite

from attrs import frozen

from vatside.units.amount import Amount, Spoons
from vatside.units.conversion import teaspoons as teaspoons_of
from vatside.units.show import fraction_number, with_unit

MOST_TEASPOONS = 6.0
"""Up to here one counts teaspoons; above, the larger measures come out."""

_SMALL_STEP, _MIDDLE_STEP, _LARGE_STEP = 1 / 8, 1 / 2, 1.0
"""Rounding, in teaspoons: up to `MOST_TEASPOONS`, up to half a cup, and above; from 1 1/4 tsp on it is
never out by more than 5 %."""


@frozen
class Spoonful:
    """A number of level spoons as it can be measured."""

    text: str
    teaspoons: float
    """What the text comes to, in level teaspoons."""
    error: float
    """How far that is from what was wanted, as a share of it: 0.1 is ten per cent too much."""


def spoonfuls(teaspoons: float, spoons: Spoons) -> Spoonful:
    """Round level teaspoons to spoons and cups; ValueError below zero or if not a finite number."""
    if not isfinite(teaspoons) or teaspoons < 0:
        raise ValueError(f"a number of spoons cannot be {teaspoons}")
    if teaspoons == 0:
        return Spoonful("0 tsp", 0.0, 0.0)
    if teaspoons < _SMALL_STEP / 2:
        return Spoonful("less than 1/8 tsp", 0.0, -1.0)
    parts = _parts(teaspoons, spoons)
    total = sum(count * _size(unit, spoons) for count, unit in parts)
    return Spoonful(" ".join(_part(*part) for part in parts), total, total / teaspoons - 1)


def _size(unit: str, spoons: Spoons) -> float:
    return teaspoons_of(Amount(1.0, unit), spoons)


def _parts(teaspoons: float, spoons: Spoons) -> list[tuple[float, str]]:
    """Choose the measures: teaspoons, then tablespoons, then quarter cups with spoons."""
    if _rounded(teaspoons, _SMALL_STEP) <= MOST_TEASPOONS:
        return [(_rounded(teaspoons, _SMALL_STEP), "tsp")]
    quarter = _size("cup", spoons) / 4
    if teaspoons < 2 * quarter:
        return _tablespoons(_rounded(teaspoons, _MIDDLE_STEP), spoons)
    quarters = floor(teaspoons / quarter)
    rest = _rounded(teaspoons - quarters * quarter, _LARGE_STEP)
    if rest >= quarter:
        quarters, rest = quarters + 1, 0.0
    return [(quarters / 4, "cup"), *_tablespoons(rest, spoons)]


def _tablespoons(teaspoons: float, spoons: Spoons) -> list[tuple[float, str]]:
    size = round(_size("tbsp", spoons))
    count, rest = divmod(teaspoons, size)
    return [(number, unit) for number, unit in ((count, "tbsp"), (rest, "tsp")) if number]


def _rounded(value: float, step: float) -> float:
    return floor(value / step + 0.5) * step


def _part(count: float, unit: str) -> str:
    return with_unit(fraction_number(count) or str(count), unit, many=count > 1)
