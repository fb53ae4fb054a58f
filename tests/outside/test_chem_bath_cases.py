"""The cases of `bath_cases.csv`: reducer's acid, tap water, buffered vats, neutralising and gases.

Columns: id, quantity, inputs, expected value, unit, tolerance, source. Most rows were worked with PHREEQC 3, and the
last column names the database; sulfite, leuco-indigo, acetate and citrate had to be added to it with the constants that
stand here, so that there only the algebra and the activities are checked.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from attrs import evolve

from vatside.chemistry.adjust import acid_for_pH, alkali_for_pH
from vatside.chemistry.bath import Bath, add_grams
from vatside.chemistry.life import least_alkali, spend
from vatside.chemistry.liquor import open_to_air, solve, sulfur_dioxide_ppm
from vatside.chemistry.reducers import hydrogen_of, hydroxide_of
from vatside.chemistry.tap import PURE, fill, of_calcium_carbonate
from vatside.units import Amount, Kind, parse_amount, to_base

CASES = {row["id"]: row for row in csv.DictReader((Path(__file__).parent / "bath_cases.csv").open(encoding="utf-8"))}

POWDERS = {
    "lye": "sodium hydroxide",
    "soda ash": "sodium carbonate",
    "baking soda": "sodium bicarbonate",
    "slaked lime": "calcium hydroxide",
    "ammonia (NH3)": "ammonia",
    "citric acid": "citric acid",
}
"""As the inputs name them."""
NUMBER = r"([\d.]+)"


def found(pattern: str, text: str, default: float = 0.0) -> float:
    """The number that a pattern finds in the inputs."""
    match = re.search(pattern, text)
    return float(match[1]) if match else default


def filled(text: str) -> Bath:
    """Give the bath that a row's inputs describe, before any reducer."""
    kg = found(rf"{NUMBER} kg", text, 1.0)
    hardness = re.search(rf"hardness {NUMBER} and alkalinity {NUMBER}", text)
    water = of_calcium_carbonate(float(hardness[1]), float(hardness[2])) if hardness else PURE
    bath = fill(Bath(kg, found(rf"{NUMBER} C;", text)), water, kg)
    for name, pure in POWDERS.items():
        bath = add_grams(
            bath, pure, found(rf"(?<!\w ){re.escape(name)} {NUMBER} g", text) * (kg if "g/kg" in text else 1)
        )
    return add_grams(bath, "acetic acid", 0.05 * found(rf"vinegar 5 % {NUMBER} mL/kg", text) * kg)


def tap_pH(text: str) -> float:
    """PH of tap water with powders; vinegar counts without its own water."""
    return solve(filled(text), chalk="calcite settles" in text).pH


def vat_pH(text: str) -> float:
    """PH of a vat whose dye was reduced to the last, with the spare reducer fresh or gone to sulfate."""
    dithionite = "dithionite" in text
    name, dye = (
        "sodium dithionite" if dithionite else "thiourea dioxide",
        found(rf"indigotin {NUMBER} g", text) / 262.2635,
    )
    bath = filled(text)
    bath = evolve(bath, leuco=dye, sulfite=dye * (1 + dithionite), sodium=bath.sodium + 2 * dye * dithionite)
    bath = spend(add_grams(bath, name, found(rf"{NUMBER} g of it gone", text)), 1.0)
    bath = add_grams(bath, name, found(rf"{NUMBER} g more", text))
    return solve(spend(bath, 0.0 if "fresh" in text else 1.0), chalk="calcite settles" in text).pH


def soda_vat(vinegar_ml: float) -> float:
    """PH of a spent soda vat with vinegar (its water left out), open to the air."""
    vat = add_grams(add_grams(Bath(20, 25), "sodium carbonate", 40), "sodium dithionite", 12 * 0.88)
    return solve(open_to_air(add_grams(spend(vat, 1.0), "acetic acid", 0.05 * vinegar_ml))).pH


def limed_citrate() -> float:
    """PH of a spent lime vat with citric acid, once calcium citrate has settled."""
    vat = evolve(add_grams(Bath(20, 25), "calcium hydroxide", 40), strong_anions=0.333)
    return solve(add_grams(vat, "citric acid", 50.2), chalk=True).pH


def sour_bath_ml() -> float:
    """Vinegar for a kilogram of medium water that carries 2 mmol of alkali."""
    bath = evolve(fill(Bath(1, 20), of_calcium_carbonate(150, 120), 1), sodium=0.002)
    return acid_for_pH(bath, 5.0, "vinegar")


def gas() -> float:
    """Sulfur dioxide over 1.82 mmol/kg of sulfite at pH 4.25 and an ionic strength of 0.03."""
    sodium = 0.03 + 0.00182
    salt = Bath(1, 47, sodium=sodium, sulfite=0.00182, strong_anions=sodium)
    return sulfur_dioxide_ppm(solve(evolve(salt, sodium=sodium + alkali_for_pH(salt, 4.25, "sodium hydroxide") / 40)))


def base(text: str, kind: Kind) -> float:
    """What an amount as typed comes to in the unit of the arithmetic, mg/L of calcium carbonate."""
    amount = parse_amount(text, kind)
    assert isinstance(amount, Amount)
    return to_base(amount, kind)


STOCK = (("thiourea dioxide", 3.9),)
WORKED: dict[str, Callable[[], float]] = {
    "B01": lambda: 1000 * hydroxide_of("thiourea dioxide", 1),
    "B02": lambda: 39.9971 * hydroxide_of("sodium dithionite", 8.8),
    "B03": lambda: 39.9971 * hydroxide_of("sodium dithionite", 8.8, closed=True),
    "B04": lambda: least_alkali("sodium hydroxide", 3.24, STOCK, 1),
    "B05": lambda: least_alkali("calcium hydroxide", 3.24, STOCK, 1),
    "B06": lambda: hydrogen_of("zinc", 2.4),
    "B16": lambda: of_calcium_carbonate(base("14 °dH", Kind.HARDNESS)).hardness,
    "B17": lambda: base("20 Clark", Kind.HARDNESS),
    "B18": lambda: base("12 gpg", Kind.HARDNESS),
    "B19": lambda: of_calcium_carbonate(0, base("244 mg/L HCO3-", Kind.ALKALINITY)).alkalinity,
    "B39": lambda: alkali_for_pH(filled(CASES["B39"]["inputs"]), 11, "sodium hydroxide", chalk=True),
    "B40": lambda: soda_vat(312),
    "B41": lambda: soda_vat(641),
    "B42": limed_citrate,
    "B43": lambda: solve(Bath(1, 40, sodium=0.2, calcium=0.1, carbonate=0.1), chalk=True).pH,
    "B44": lambda: solve(Bath(1, 25, sodium=0.01, sulfate=0.01)).pH,
    "B47": sour_bath_ml,
    "B48": gas,
}
"""What this program makes of each case that its inputs alone do not give."""


def worked(case: dict[str, str]) -> float:
    """What this program makes of a case."""
    if case["id"] in WORKED:
        return WORKED[case["id"]]()
    return vat_pH(case["inputs"]) if "reduced by" in case["inputs"] else tap_pH(case["inputs"])


def test_no_case_is_left_out() -> None:
    """All 48 cases are there, and nothing is worked that is not."""
    assert len(CASES) == 48
    assert set(WORKED) <= set(CASES)


@pytest.mark.parametrize("case", [pytest.param(row, id=f"{key} {row['what']}") for key, row in CASES.items()])
def test_case(case: dict[str, str]) -> None:
    """The case comes out within its own tolerance."""
    assert worked(case) == pytest.approx(float(case["expected"]), abs=float(case["tolerance"]), rel=0)
