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
from vatside.forms.fields import read, set_value
from vatside.plan.plan import Plan
from vatside.recipe.baths import vat_bath
from vatside.recipe.compute import compute
from vatside.units import Problem


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


def typed(plan: Plan, path: str, text: str) -> Plan:
    """Set a field from typed text."""
    value = read(plan, path, text)
    assert not isinstance(value, Problem), value
    return set_value(plan, path, value)


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


@pytest.mark.parametrize(
    ("water", "lime", "fresh", "spent"),
    # 6 g of thiourea dioxide and 4 g of indigotin in 20 L at 45 degrees C, by PHREEQC
    [("pure", 30, 11.8, 11.75), ("hard", 30, 11.8, 11.75), ("pure", 10, 11.4, 11.2)],
)
def test_lime_over_the_life_of_a_vat_of_thiourea_dioxide(water: str, lime: float, fresh: float, spent: float) -> None:
    """Enough lime keeps it saturated to the end in any water; a third of it does not."""
    bath = fill(water_bath(20, 45), CLASSES[water], 20)
    for name, grams in (("indigotin", 4), ("calcium hydroxide", lime), ("thiourea dioxide", 6)):
        bath = add(bath, name, grams)
    bath = reduce(bath).bath
    assert solve(bath).pH == pytest.approx(fresh, abs=0.08)
    assert solve(spend(bath, SPENT)).pH == pytest.approx(spent, abs=0.12)


def test_the_sludge_of_one_two_three() -> None:
    """A pound of indigo, two of copperas and three of lime in 12 imperial gallons: 1.8 kg of dry sludge, 7 to 14 L.

    Worked by hand: 3.26 mol of iron leave 349 g of Fe(OH)3; of 3.26 mol of sulphate, gypsum of 172 g/mol settles but
    for what dissolves (2.1 g/L, from memory); 1290 g of lime, less 0.267 g a gram of copperas, 0.141 a gram of indigo
    and what dissolves, leave about 1 kg.
    """
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", "linen"), "method", "copperas-lime")
    for path, text in (
        ("shelf.indigo.purity", "100 %"), ("stock.pigment", "454 g"), ("stock.reducer", "908 g"),
        ("stock.alkali", "1362 g"), ("stock.water", "54 L"), ("vat.fill", "54.6 L"), ("vat.reducer", "0 g"),
        ("vat.alkali", "0 g"), ("lots.a.mass", "1 g"), ("vessels.tub.volume", "70 L"),
    ):  # fmt: skip
        plan = typed(plan, path, text)
    sludge = compute(plan)["vat.sludge"]
    assert sludge.between is not None
    assert sludge.between == pytest.approx((7, 14), rel=0.1)


@pytest.mark.parametrize("key", [key for key, item in methods().items() if item.vat.sludge])
def test_fibre_hangs_above_the_sludge(key: str) -> None:
    """At one entry a vat with sludge takes less fibre than its litres would without: by the share that sludge takes."""
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", "linen"), "method", key)
    rules = methods()[key].vat
    assert rules.sludge is not None
    sheet = compute(typed(plan, "lots.a.mass", "2 kg"))
    clear = sheet.value("vat.fill") * (1 - rules.sludge.value / 100)
    assert sheet.value("vat.entry") == pytest.approx(min(2000, 1000 * clear / rules.liquor.value), rel=1e-6)
    assert sheet.value("vat.clear") + sheet.value("vat.sludge") == pytest.approx(sheet.value("vat.liquor"))
