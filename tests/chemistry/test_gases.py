"""Gases over a bath, and a bath in the air."""

from __future__ import annotations

import pytest
from attrs import evolve

from vatside.chemistry.adjust import alkali_for_pH
from vatside.chemistry.bath import Bath
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.liquor import carbon_dioxide_pressure, open_to_air, solve, sulfur_dioxide_ppm


@pytest.mark.parametrize(
    ("sulfite", "t_C", "pH", "ppm"),
    # worked by hand from pK 1.857 and 7.172, Davies at I 0.03, 1.317 mol/(L atm) at 25 and 0.675 at 47 degrees C
    [(0.001, 47, 4.9, 2), (0.010, 47, 5.8, 2), (0.010, 47, 4.2, 100), (0.003, 25, 4.8, 2), (0.030, 25, 4.1, 100)],
)
def test_the_pH_at_which_a_limit_is_reached(sulfite: float, t_C: float, pH: float, ppm: float) -> None:
    """Sulfur dioxide passes 2 and 100 ppm at these pH, to a tenth."""
    salt = Bath(1, t_C, sodium=0.03, strong_anions=0.03 - sulfite, sulfite=sulfite)
    salt = evolve(salt, sodium=0.03 - sulfite)
    lye = alkali_for_pH(salt, pH, "sodium hydroxide") / 39.9971
    there = sulfur_dioxide_ppm(solve(evolve(salt, sodium=salt.sodium + lye)))
    assert ppm / 1.35 < there < ppm * 1.35


def test_pure_water_in_the_air() -> None:
    """Published: rain in balance with the air has pH 5.6."""
    assert solve(open_to_air(Bath(1, 25))).pH == pytest.approx(5.65, abs=0.05)


@pytest.mark.parametrize(
    ("alkalinity", "pH"),
    # PHREEQC, 25 degrees C, pCO2 10^-3.4: 1, 2, 5, 10, 20 and 40 meq/kg of sodium
    [(1, 8.2), (2, 8.5), (5, 8.85), (10, 9.1), (20, 9.3), (40, 9.55)],
)
def test_the_alkalinity_sets_the_pH_in_the_air(alkalinity: float, pH: float) -> None:
    """What a soda or lye vat comes to by the next day."""
    assert solve(open_to_air(Bath(1, 25, sodium=alkalinity / 1000))).pH == pytest.approx(pH, abs=0.06)


@pytest.mark.parametrize("bath", [Bath(20, 40, sodium=0.5), Bath(1, 25, calcium=0.01), Bath(3, 10, acetate=0.01)])
def test_in_balance(bath: Bath) -> None:
    """Open to the air every bath comes to the air's own carbon dioxide, and stays there."""
    aired = open_to_air(bath, chalk=True)
    assert carbon_dioxide_pressure(solve(aired, chalk=True)) == pytest.approx(10**-3.4, rel=1e-3)
    assert open_to_air(aired, chalk=True).carbonate == pytest.approx(aired.carbonate, abs=1e-7)


def test_no_such_air() -> None:
    """Air without carbon dioxide, or of nothing else, is refused."""
    with pytest.raises(OutOfRange, match="carbon dioxide"):
        open_to_air(Bath(1), 0.0)


def test_too_much_alkali_for_the_air() -> None:
    """120 g of lye a litre would turn into more carbonate than can be worked with, and that is said."""
    with pytest.raises(OutOfRange, match="turned it to carbonate"):
        open_to_air(Bath(1, 25, sodium=3.0))
