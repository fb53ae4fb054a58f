"""Conversions against the tables of measurement offices.

Exact factors are those of the International Yard and Pound agreement of 1959 and the UK Weights and Measures
Act 1985, as tabulated in NIST SP 811 (2008), Appendix B.8, and NIST Handbook 44, Appendix C (from memory,
the gallons and the pound compared with public extracts of Handbook 44).
"""

from __future__ import annotations

import pytest

from vatside.units import Spoons, convert

US, IMPERIAL = Spoons.US, Spoons.IMPERIAL


@pytest.mark.parametrize(
    ("value", "unit", "to", "spoons", "published"),
    [
        # exact
        (1, "lb", "g", US, 453.59237),
        (1, "oz", "g", US, 28.349523125),
        (1, "in", "cm", US, 2.54),
        (1, "ft", "m", US, 0.3048),
        (1, "gal", "L", US, 3.785411784),
        (1, "quart", "L", US, 0.946352946),
        (1, "pint", "mL", US, 473.176473),
        (1, "fl_oz", "mL", US, 29.5735295625),
        (1, "cup", "mL", US, 236.5882365),
        (1, "gal", "L", IMPERIAL, 4.54609),
        (1, "quart", "L", IMPERIAL, 1.1365225),
        (1, "pint", "mL", IMPERIAL, 568.26125),
        (1, "fl_oz", "mL", IMPERIAL, 28.4130625),
    ],
)
def test_exact_factors(value: float, unit: str, to: str, spoons: Spoons, published: float) -> None:
    """Factors that are exact by law come out to the last digit of a float."""
    assert convert(value, unit, to, spoons) == pytest.approx(published, rel=4e-16)


@pytest.mark.parametrize(
    ("unit", "millilitres", "spoons"),
    [
        ("tsp", 4.928922, US),
        ("tbsp", 14.78676, US),
        ("cup", 236.5882, US),
        ("fl_oz", 29.57353, US),
        ("fl_oz", 28.41306, IMPERIAL),
    ],
)
def test_sp811_rounded_factors(unit: str, millilitres: float, spoons: Spoons) -> None:
    """SP 811 prints the small measures to seven digits; ours round to the same."""
    assert f"{convert(1, unit, 'mL', spoons):.7g}" == f"{millilitres:.7g}"


@pytest.mark.parametrize(
    ("unit", "millilitres", "half_a_digit"),
    [
        ("tsp", 4.9, 0.05),
        ("tbsp", 15, 0.5),
        ("fl_oz", 30, 0.5),
        ("cup", 237, 0.5),
        ("pint", 473, 0.5),
        ("quart", 946, 0.5),
    ],
)
def test_sp430_household_table(unit: str, millilitres: float, half_a_digit: float) -> None:
    """NIST SP 430, Metric Household, table 1 (seen), is met to the digits it prints."""
    assert convert(1, unit, "mL", US) == pytest.approx(millilitres, abs=half_a_digit)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [
        # SP 811 B.8: t/°C = (t/°F - 32)/1.8
        (32, 0),
        (212, 100),
        (-40, -40),
        (98.6, 37),
        (140, 60),
        (50, 10),
    ],
)
def test_fahrenheit(fahrenheit: float, celsius: float) -> None:
    """The two temperature scales meet where SP 811 puts them."""
    assert convert(fahrenheit, "degF", "degC") == pytest.approx(celsius, abs=1e-12)
    assert convert(celsius, "degC", "degF") == pytest.approx(fahrenheit, abs=1e-12)
