"""Every kind of vat against PHREEQC and against what is published of it.

The bath of each method's plan, fresh and spent, is solved by PHREEQC as in `test_chem_phreeqc.py`. The pH of soda and
lime vats over their life were worked out with PHREEQC beforehand (phreeqc.dat with its sodium-carbonate pairs off and
pitzer.dat), vat by vat, for grams of pure powder in tap water of 150 mg/L hardness and 120 mg/L alkalinity.
"""

from __future__ import annotations

import pytest
from attrs import evolve
from phreeqpython import PhreeqPython
from tests.outside.test_chem_phreeqc import OWN_SPECIES, phreeqc
from tests.recipe.plans import wool_plan

from vatside.catalogue.load import methods
from vatside.chemistry.bath import Bath, water_bath
from vatside.chemistry.life import SPENT, holds_reducer, spend
from vatside.chemistry.liquor import clear, solve
from vatside.chemistry.tap import CLASSES, fill
from vatside.chemistry.vat import add, reduce
from vatside.forms.fields import set_value
from vatside.recipe.baths import vat_bath
from vatside.recipe.compute import compute


@pytest.fixture(name="program", scope="module")
def _program() -> PhreeqPython:
    program = PhreeqPython(database="phreeqc.dat")
    program.ip.run_string(OWN_SPECIES)
    return program


LIME_AND_GYPSUM = "    Portlandite 0 0\n    Gypsum 0 0\n"


@pytest.mark.parametrize("spent", [False, True])
@pytest.mark.parametrize("key", methods())
def test_a_planned_vat_stands_where_phreeqc_has_it(program: PhreeqPython, key: str, spent: bool) -> None:
    """The clear liquor of each method's vat for linen has PHREEQC's pH within 0.06, fresh and once spent."""
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", "linen"), "method", key)
    made = vat_bath(plan, compute(plan).value)
    bath = clear(spend(made, SPENT) if spent else made)
    dissolved = evolve(bath, dithionite=0.0, strong_anions=bath.strong_anions + 2 * bath.dithionite)
    assert solve(bath).pH == pytest.approx(phreeqc(program, dissolved), abs=0.06)


def tap(litres: float, t_C: float, **grams: float) -> Bath:
    """Give medium tap water with grams of pure substances in it, the dye reduced; `__` stands for a blank."""
    bath = fill(water_bath(litres, t_C), CLASSES["medium"], litres)
    for name, much in grams.items():
        bath = add(bath, name.replace("__", " "), much)
    return reduce(bath).bath


@pytest.mark.parametrize(("soda", "fresh", "spent"), [(2, 9.99, 9.69), (5, 10.37, 10.22), (8, 10.52, 10.40)])
def test_soda_over_the_life_of_a_vat(soda: float, fresh: float, spent: float) -> None:
    """Soda ash (g/L) beside 0.4 g/L of thiourea dioxide and 0.5 g/L of indigotin at 45 degrees C."""
    bath = tap(1, 45, indigotin=0.5, sodium__carbonate=soda, thiourea__dioxide=0.4)
    assert solve(bath).pH == pytest.approx(fresh, abs=0.06)
    assert solve(spend(bath, SPENT)).pH == pytest.approx(spent, abs=0.06)


@pytest.mark.parametrize("soda", [2, 5, 8])
def test_soda_beside_dithionite(program: PhreeqPython, soda: float) -> None:
    """Soda ash (g/L) beside 1 g/L of dithionite and 0.5 g/L of indigotin at 40 degrees C, fresh and spent."""
    fresh = tap(1, 40, indigotin=0.5, sodium__carbonate=soda, sodium__dithionite=1)
    for bath in (fresh, spend(fresh, SPENT)):
        as_salt = evolve(bath, dithionite=0.0, strong_anions=bath.strong_anions + 2 * bath.dithionite)
        assert solve(bath).pH == pytest.approx(phreeqc(program, as_salt), abs=0.04)


def test_soda_ash_alone_stops_short_of_eleven() -> None:
    """10 g/L of soda ash at 45 degrees C stand at pH 10.95 in pure water, by PHREEQC: below what suits cotton."""
    assert solve(add(water_bath(1, 45), "sodium carbonate", 10)).pH == pytest.approx(10.95, abs=0.04)


@pytest.mark.parametrize("key", [key for key in methods() if key.endswith("-soda")])
@pytest.mark.parametrize("fibre", ["wool", "silk"])
def test_soda_holds_wool_and_silk(key: str, fibre: str) -> None:
    """A vat of soda for wool or silk stays in its window to the end of its reducer, and nobody is warned of it."""
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", fibre), "method", key)
    sheet = compute(plan)
    low, high = sheet.value("vat.window_low"), sheet.value("vat.window_high")
    assert low <= sheet.value("vat.pH_spent") <= sheet.value("vat.pH") <= high
    assert holds_reducer(vat_bath(plan, sheet.value))
    assert not [notice for notice in sheet.notices if notice.figure in ("vat.pH", "vat.pH_spent")]
