"""The 62 worked cases of `check_cases.csv`: published or independently computed values, each with its tolerance.

Columns: id, quantity, inputs, expected value, unit, tolerance, source, and how the value was come by. The last two say
which rows are evidence and which only check the algebra.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

from vatside.chemistry import adjust, ageing, heat, substances, water
from vatside.chemistry.bath import Bath, add_grams
from vatside.chemistry.liquor import solve
from vatside.chemistry.substances import substance
from vatside.chemistry.water import log_gamma

CASES = {row["id"]: row for row in csv.DictReader((Path(__file__).parent / "check_cases.csv").open(encoding="utf-8"))}


def lye_pH(molality: float, t_C: float) -> float:
    """PH of sodium hydroxide alone in a kilogram of water."""
    return solve(Bath(1, t_C, sodium=molality)).pH


def clear_lime_water_pH(t_C: float) -> float:
    """PH of lime water saturated at 25 degrees C, brought to another temperature without anything settling."""
    return solve(Bath(1, t_C, calcium=0.0203), settles=False).pH


def buffer_pH(t_C: float) -> float:
    """PH of 0.025 mol/kg each of bicarbonate and carbonate."""
    return solve(Bath(1, t_C, sodium=0.075, carbonate=0.05)).pH


def soda_pH(grams: float, t_C: float, water_kg: float = 1) -> float:
    """PH of soda ash alone."""
    return solve(add_grams(Bath(water_kg, t_C), "sodium carbonate", grams)).pH


def vat_pH(t_C: float) -> float:
    """PH of a vat of 0.05 sodium, 0.005 carbonate, 0.004 leuco-indigo and 0.01 sulfite, mol/kg."""
    return solve(Bath(1, t_C, sodium=0.05, carbonate=0.005, leuco=0.004, sulfite=0.01)).pH


def lime_solubility(t_C: float) -> float:
    """Slaked lime that dissolves in a kilogram of water, g."""
    return 100 - solve(add_grams(Bath(1, t_C), "calcium hydroxide", 100)).undissolved_lime_g


def cooling() -> float:
    """The constant from 50 to 44 degrees C in half an hour, air at 20."""
    return heat.cooling_constant(50, 44, 20, 30)


WORKED: dict[str, Callable[[], float]] = {
    "C01": lambda: water.density(4),
    "C02": lambda: water.density(20),
    "C03": lambda: water.density(45),
    "C04": lambda: water.density(80),
    "C05": lambda: water.heat_capacity(20),
    "C06": lambda: water.heat_capacity(50),
    "C07": lambda: water.pKw(10),
    "C08": lambda: water.pKw(25),
    "C09": lambda: water.pKw(50),
    "C10": lambda: water.pKw(80),
    "C11": lambda: water.pKw_at(300, 1.0),
    "C12": lambda: 10 ** log_gamma(0.1, 25),
    "C13": lambda: 10 ** log_gamma(0.5, 25),
    "C14": lambda: lye_pH(0.01, 25),
    "C15": lambda: lye_pH(0.05, 25),
    "C16": lambda: lye_pH(0.1, 25),
    "C17": lambda: lye_pH(0.2, 25),
    "C18": lambda: lye_pH(0.05, 50),
    "C19": lambda: lye_pH(0.1, 40),
    "C20": lambda: clear_lime_water_pH(10),
    "C21": lambda: clear_lime_water_pH(25),
    "C22": lambda: clear_lime_water_pH(40),
    "C23": lambda: clear_lime_water_pH(50),
    "C24": lambda: solve(add_grams(Bath(1, 50), "calcium hydroxide", 10)).pH,
    "C25": lambda: lime_solubility(40),
    "C26": lambda: buffer_pH(25),
    "C27": lambda: buffer_pH(40),
    "C28": lambda: soda_pH(1, 25),
    "C29": lambda: soda_pH(5, 25),
    "C30": lambda: soda_pH(2, 50),
    "C31": lambda: soda_pH(10, 25, water_kg=water.density(25) / 1000),
    "C32": lambda: 10 * substance("sodium carbonate").molar_mass / substance("washing soda").molar_mass,
    "C33": lambda: substances.leuco_shares(9.0).mono,
    "C34": lambda: substances.leuco_shares(11.0).mono,
    "C35": lambda: substances.leuco_shares(12.0).di,
    "C36": lambda: vat_pH(25),
    "C37": lambda: vat_pH(40),
    "C38": lambda: substance("indigotin").molar_mass,
    "C39": lambda: substance("thiourea dioxide").molar_mass,
    "C40": lambda: substance("sodium dithionite").molar_mass,
    "C41": lambda: substance("ferrous sulfate heptahydrate").molar_mass,
    "C42": lambda: 10 * substances.reducer_per_gram("thiourea dioxide"),
    "C43": lambda: 10 * substances.naoh_per_gram("thiourea dioxide", "mono"),
    "C44": lambda: 10 * substances.reducer_per_gram("sodium dithionite"),
    "C45": lambda: 10 * substances.naoh_per_gram("sodium dithionite", "di"),
    "C46": lambda: 10 * substances.naoh_equivalent("calcium hydroxide"),
    "C47": lambda: ageing.saturation(20),
    "C48": lambda: ageing.saturation(40),
    "C49": lambda: ageing.saturation(25),
    "C50": lambda: ageing.saturation(50),
    "C51": lambda: ageing.saturation(20, 80),
    "C52": lambda: 20 * ageing.saturation(40) / 1000 * substances.reducer_per_gram_oxygen("thiourea dioxide"),
    "C53": lambda: heat.mix_temperature(((10, 60), (10, 15))),
    "C54": lambda: heat.hot_cold_split(20, 45, 60, 12).hot_l,
    "C55": lambda: 60 * heat.heating_minutes(20, 15, 50, 2),
    "C56": lambda: heat.lye_rise(8, 1, 25),
    "C57": cooling,
    "C58": lambda: heat.minutes_to_cool(50, 40, 20, cooling()),
    "C60": lambda: adjust.acid_for_pH(Bath(1, 25, sodium=0.05, sulfite=0.01, carbonate=0.01), 8, "vinegar"),
    "C61": lambda: adjust.acid_for_pH(Bath(1, 25, sodium=0.05), 8, "citric acid"),
    "C62": lambda: solve(Bath(1, 25, sodium=0.02, acetate=0.0195)).pH,
}
"""What this program makes of each case."""


def test_no_case_is_left_out() -> None:
    """All 61 cases are worked, and nothing else is."""
    assert len(CASES) == 61
    assert set(WORKED) == set(CASES)


@pytest.mark.parametrize("case", [pytest.param(row, id=f"{key} {row['quantity']}") for key, row in CASES.items()])
def test_case(case: dict[str, str]) -> None:
    """The case comes out within its own tolerance."""
    worked = WORKED[case["id"]]()
    assert worked == pytest.approx(float(case["expected_value"]), abs=float(case["tolerance"]), rel=0)
