"""Amounts into the units of the arithmetic and back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.units import (
    BASE_UNITS,
    KIND_OF_UNIT,
    UNITS,
    Amount,
    Kind,
    Spoons,
    convert,
    fits,
    is_spoon,
    teaspoons,
    to_base,
)

PAIRS = [(one, other) for one in UNITS for other in UNITS if KIND_OF_UNIT[one] is KIND_OF_UNIT[other]]


@given(
    value=st.floats(-1e6, 1e6),
    pair=st.sampled_from(PAIRS),
    spoons=st.sampled_from(Spoons),
)
def test_there_and_back(value: float, pair: tuple[str, str], spoons: Spoons) -> None:
    """A value turned into another unit and back is the same value."""
    there = convert(value, pair[0], pair[1], spoons)
    assert convert(there, pair[1], pair[0], spoons) == pytest.approx(value, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("unit", UNITS)
def test_a_unit_into_itself_changes_nothing(unit: str) -> None:
    """Converting into the same unit gives the very same float."""
    assert convert(0.1, unit, unit) == 0.1


@pytest.mark.parametrize(
    ("value", "unit", "to", "expected"),
    [
        # by definition
        (1.5, "h", "min", 90.0),
        (2.0, "day", "h", 48.0),
        (90.0, "s", "min", 1.5),
        (12.0, "in", "ft", 1.0),
        (2.5, "m", "cm", 250.0),
        (1500.0, "W", "kW", 1.5),
        (250.0, "mL", "L", 0.25),
        (1.0, "lb", "oz", 16.0),
        (1.0, "gal", "pint", 8.0),
        (1.0, "pint", "fl_oz", 16.0),
        (60.0, "degC", "degF", 140.0),
    ],
)
def test_defined_relations(value: float, unit: str, to: str, expected: float) -> None:
    """Relations that hold by definition hold here."""
    assert convert(value, unit, to) == pytest.approx(expected, rel=1e-15)


@pytest.mark.parametrize(
    ("unit", "to", "words"),
    [
        ("g", "mL", "g is a mass and cannot be turned into a volume"),
        ("degC", "min", "°C is a temperature and cannot be turned into a length of time"),
        ("", "%", "a number is a plain number and cannot be turned into a percentage"),
        ("g/L", "L/kg", "g/L is a concentration and cannot be turned into a liquor ratio"),
    ],
)
def test_other_dimensions_are_refused_in_words(unit: str, to: str, words: str) -> None:
    """Two units that do not measure the same cannot be converted, and the error says so."""
    with pytest.raises(ValueError, match=f"^{words}$"):
        convert(1.0, unit, to)


@pytest.mark.parametrize("unit", ["coulomb", "furlong", "G", "1 g", "9**9**9**9"])
def test_unknown_units_are_refused(unit: str) -> None:
    """Only the whitelist reaches the registry."""
    with pytest.raises(ValueError, match="is not a unit known here"):
        convert(1.0, unit, "g")


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind is not Kind.POWDER])
def test_base_units_measure_their_kind(kind: Kind) -> None:
    """An amount in the base unit of a kind is its own base value."""
    assert to_base(Amount(2.5, BASE_UNITS[kind]), kind) == 2.5


def test_to_base_uses_the_spoons_of_the_plan() -> None:
    """A tablespoon is 20 mL on an Australian bench and 15 mL on a metric one."""
    assert to_base(Amount(1, "tbsp"), Kind.VOLUME, Spoons.AUSTRALIAN) == pytest.approx(0.020, rel=1e-15)
    assert to_base(Amount(1, "tbsp"), Kind.VOLUME, Spoons.METRIC) == pytest.approx(0.015, rel=1e-15)


def test_a_powder_may_be_a_mass() -> None:
    """A powder in ounces becomes grams."""
    assert to_base(Amount(1, "oz"), Kind.POWDER) == pytest.approx(28.349523125, rel=1e-15)


@pytest.mark.parametrize("unit", ["tsp", "tbsp", "cup", "mL"])
def test_spoons_of_a_powder_need_the_shelf(unit: str) -> None:
    """Spoons of a powder have no mass of their own."""
    with pytest.raises(ValueError, match="only through what one spoon of it weighs"):
        to_base(Amount(1, unit), Kind.POWDER)


@pytest.mark.parametrize("kind", [Kind.VOLUME, Kind.TEMPERATURE, Kind.NUMBER])
def test_to_base_refuses_another_kind(kind: Kind) -> None:
    """A mass is no volume, temperature or number."""
    with pytest.raises(ValueError, match="'g' does not measure"):
        to_base(Amount(1, "g"), kind)


@given(value=st.floats(0, 1e6), unit=st.sampled_from(list(UNITS)), spoons=st.sampled_from(Spoons))
def test_converting_back_undoes_to_base(value: float, unit: str, spoons: Spoons) -> None:
    """A base value put back into the unit it came from is the amount again."""
    kind = KIND_OF_UNIT[unit]
    back = convert(to_base(Amount(value, unit), kind, spoons), BASE_UNITS[kind], unit, spoons)
    assert back == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_a_mass_is_not_turned_into_spoons() -> None:
    """Grams of a powder cannot be put into spoons here."""
    assert convert(453.59237, BASE_UNITS[Kind.POWDER], "lb") == pytest.approx(1.0, rel=1e-15)
    with pytest.raises(ValueError, match="cannot be turned into a volume"):
        convert(5.0, BASE_UNITS[Kind.POWDER], "tsp")


@pytest.mark.parametrize(
    ("unit", "spoon"), [("tsp", True), ("cup", True), ("mL", True), ("g", False), ("", False), ("?", False)]
)
def test_is_spoon(unit: str, spoon: bool) -> None:
    """Every volume counts as a spoon; nothing else does, units out of nowhere included."""
    assert is_spoon(Amount(1, unit)) is spoon


@pytest.mark.parametrize(
    ("amount", "spoons", "count"),
    [
        (Amount(1.5, "tsp"), Spoons.US, 1.5),
        (Amount(1, "tbsp"), Spoons.US, 3),
        (Amount(1, "tbsp"), Spoons.IMPERIAL, 3),
        (Amount(1, "tbsp"), Spoons.AUSTRALIAN, 4),
        (Amount(1, "cup"), Spoons.US, 48),
        (Amount(1, "cup"), Spoons.METRIC, 50),
        (Amount(20, "mL"), Spoons.METRIC, 4),
    ],
)
def test_teaspoons(amount: Amount, spoons: Spoons, count: float) -> None:
    """Spoons and cups come apart into the level teaspoons of their own kitchen."""
    assert teaspoons(amount, spoons) == pytest.approx(count, rel=1e-14)


def test_teaspoons_of_a_mass_are_refused() -> None:
    """Grams are not a number of spoons."""
    with pytest.raises(ValueError, match="g is a mass"):
        teaspoons(Amount(1, "g"), Spoons.US)


@pytest.mark.parametrize(
    ("unit", "kind", "expected"),
    [
        ("g", Kind.MASS, True),
        ("g", Kind.POWDER, True),
        ("tsp", Kind.POWDER, True),
        ("tsp", Kind.MASS, False),
        ("degC", Kind.POWDER, False),
        ("nonsense", Kind.MASS, False),
    ],
)
def test_fits(unit: str, kind: Kind, expected: bool) -> None:
    """A powder takes masses and spoons, every other kind only its own units."""
    assert fits(unit, kind) is expected
