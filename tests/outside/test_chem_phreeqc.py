"""The charge balance against PHREEQC, an independent program.

pitzer.dat is an independent model too: lye, soda ash, lime and gypsum. phreeqc.dat serves for mixtures of carbonate
with sulfite, acetate, citrate and leuco-indigo, which it does not know: those get the same constants as here, so
there only the algebra and the activities are checked. Its sodium-carbonate pairs, which the NBS carbonate standard
refutes, are switched off.
"""

from __future__ import annotations

from math import log10

import pytest
from attrs import evolve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from phreeqpython import PhreeqPython
from tests.outside.phreeqc_runs import SLOW, phreeqc

from vatside.chemistry.adjust import Acid, acid_for_pH, acid_needed, with_acid
from vatside.chemistry.bath import Bath
from vatside.chemistry.liquor import carbon_dioxide_pressure, clear, open_to_air, solve
from vatside.chemistry.tap import TapWater, fill
from vatside.chemistry.water import log_water_activity, pitzer_lye


@pytest.fixture(name="pitzer", scope="module")
def _pitzer() -> PhreeqPython:
    return PhreeqPython(database="pitzer.dat")


@pytest.mark.parametrize("t_C", [10, 20, 25, 30, 40, 50, 60])
@pytest.mark.parametrize("molality", [0.001, 0.01, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.5, 1.0])
def test_lye(pitzer: PhreeqPython, molality: float, t_C: float) -> None:
    """Lye from 0.04 to 40 g/kg has PHREEQC's pH within 0.012, through the hand-over from Davies to Pitzer."""
    bath = Bath(1, t_C, sodium=molality)
    assert solve(bath).pH == pytest.approx(phreeqc(pitzer, bath), abs=0.012)


@pytest.mark.parametrize("t_C", [10, 25, 50])
@pytest.mark.parametrize("molality", [1.5, 2.0])
def test_strong_lye(pitzer: PhreeqPython, molality: float, t_C: float) -> None:
    """Lye up to 80 g/kg has PHREEQC's pH within 0.04, which is how the two split sodium's part from hydroxide's."""
    bath = Bath(1, t_C, sodium=molality)
    assert solve(bath).pH == pytest.approx(phreeqc(pitzer, bath), abs=0.04)


@pytest.mark.parametrize("t_C", [10, 25, 50])
@pytest.mark.parametrize("molality", [0.1, 0.5, 1.0, 2.0, 3.0])
def test_mean_activity_of_lye(molality: float, t_C: float) -> None:
    """The mean activity coefficient of lye is PHREEQC's within 0.002 in its logarithm."""
    program = PhreeqPython(database="pitzer.dat")
    program.ip.run_string(
        f"SOLUTION 1\n    temp {t_C}\n    units mol/kgw\n    pH 7 charge\n    Na {molality}\n"
        "SELECTED_OUTPUT\n    -reset false\n    -activities OH- Na+\n    -molalities OH- Na+\nEND\n"
    )
    hydroxide, sodium, log_hydroxide, log_sodium = program.ip.get_selected_output_array()[-1]
    mean = (log_hydroxide + log_sodium - log10(hydroxide) - log10(sodium)) / 2
    assert pitzer_lye(molality, t_C) == pytest.approx(mean, abs=0.002)


@pytest.mark.parametrize(("molality", "apart"), [(0.1, 1e-4), (0.5, 6e-4), (1.0, 6e-4), (2.0, 3e-3)])
def test_activity_of_water(molality: float, apart: float) -> None:
    """The activity of water in lye is PHREEQC's; a straight line, 0.034 a mole, leaves it at 2 mol/kg."""
    program = PhreeqPython(database="pitzer.dat")
    program.ip.run_string(
        f"SOLUTION 1\n    temp 25\n    units mol/kgw\n    pH 7 charge\n    Na {molality}\n"
        "SELECTED_OUTPUT\n    -reset false\n    -activities H2O\nEND\n"
    )
    (published,) = program.ip.get_selected_output_array()[-1]
    assert 10 ** log_water_activity(molality) == pytest.approx(10**published, abs=apart)


@pytest.mark.parametrize("t_C", [10, 25, 40, 50])
@pytest.mark.parametrize("grams", [0.1, 0.5, 1, 2, 5, 10])
def test_soda_ash(pitzer: PhreeqPython, grams: float, t_C: float) -> None:
    """Soda ash up to 10 g/kg has PHREEQC's pH within 0.04."""
    bath = Bath(1, t_C, sodium=2 * grams / 105.9885, carbonate=grams / 105.9885)
    assert solve(bath).pH == pytest.approx(phreeqc(pitzer, bath), abs=0.04)


@pytest.mark.parametrize("t_C", [0, 10, 25, 40, 50, 60])
@pytest.mark.parametrize("molality", [0.001, 0.005, 0.01, 0.015, 0.0203])
def test_clear_lime_water(pitzer: PhreeqPython, molality: float, t_C: float) -> None:
    """Clear lime water has PHREEQC's pH within 0.035."""
    bath = Bath(1, t_C, calcium=molality)
    assert solve(bath, settles=False).pH == pytest.approx(phreeqc(pitzer, bath), abs=0.035)


@pytest.mark.parametrize("t_C", [0, 10, 25, 40, 50, 60])
@pytest.mark.parametrize("sodium", [0.0, 0.02, 0.1])
@pytest.mark.parametrize("sulfate", [0.0, 0.02, 0.06])
def test_clear_liquor_over_lime(pitzer: PhreeqPython, sulfate: float, sodium: float, t_C: float) -> None:
    """What lime and gypsum leave dissolved here has PHREEQC's pH within 0.05."""
    bath = Bath(1, t_C, sodium=sodium, calcium=0.2 + sulfate, sulfate=sulfate)
    assert solve(bath).pH == pytest.approx(phreeqc(pitzer, clear(bath)), abs=0.05)


@pytest.mark.parametrize("sodium", [0.0, 0.02, 0.1])
@pytest.mark.parametrize("sulfate", [0.01, 0.03, 0.06, 0.15])
def test_lime_and_gypsum(pitzer: PhreeqPython, sulfate: float, sodium: float) -> None:
    """With solubilities of its own PHREEQC finds the pH within 0.06 (at 25 degrees C: its lime has no other)."""
    phases = "    Portlandite 0 0.2\n    Gypsum 0 0"
    dissolved = Bath(1, 25, sodium=sodium + 2 * sulfate, sulfate=sulfate)
    worked = solve(evolve(dissolved, calcium=0.2)).pH
    assert worked == pytest.approx(phreeqc(pitzer, dissolved, phases), abs=0.06)


MIXTURES = {
    "vat": Bath(1, 25, sodium=0.05, carbonate=0.005, leuco=0.004, sulfite=0.01),
    "weak vat": Bath(1, 25, sodium=0.01, carbonate=0.001, leuco=0.003, sulfite=0.002),
    "wool vat": Bath(1, 25, sodium=0.012, carbonate=0.004, leuco=0.003, sulfite=0.003),
    "stock": Bath(1, 25, sodium=0.12, carbonate=0.004, leuco=0.02, sulfite=0.025),
    "spent vat": Bath(1, 25, sodium=0.05, carbonate=0.01, sulfite=0.01, acetate=0.02),
    "neutralised": Bath(1, 25, sodium=0.05, carbonate=0.01, sulfite=0.01, citrate=0.0087),
    "sour": Bath(1, 25, acetate=0.02),
    "citric": Bath(1, 25, citrate=0.01, sodium=0.005),
    "salt": Bath(1, 25, sodium=0.06, strong_anions=0.05, carbonate=0.003),
    "soda vat": Bath(1, 25, sodium=0.06, carbonate=0.025, leuco=0.004, sulfite=0.004),
}
"""Liquors of up to 0.15 mol/kg."""


@pytest.mark.parametrize("t_C", [25, 40, 50])
@pytest.mark.parametrize("name", MIXTURES)
def test_mixtures(own: PhreeqPython, name: str, t_C: float) -> None:
    """A mixture has the pH within 0.025 that PHREEQC gives it from the same constants."""
    bath = evolve(MIXTURES[name], temperature_C=t_C)
    assert solve(bath).pH == pytest.approx(phreeqc(own, bath), abs=0.025)


def traces(most: float) -> st.SearchStrategy[float]:
    """Moles in a kilogram: from a trace to the most, every decade as likely."""
    return st.floats(-4, 0).map(lambda exponent: most * 10.0**exponent)


def tap(magnesium: float) -> st.SearchStrategy[TapWater]:
    """Tap water up to twice as hard as a hard one."""
    return st.builds(TapWater, st.floats(0, 6), st.floats(0, 6.4), st.just(magnesium))


POWDERS = st.one_of(
    st.builds(lambda lye: {"sodium": lye}, traces(0.1)),
    st.builds(lambda soda: {"sodium": 2 * soda, "carbonate": soda}, traces(0.04)),
    st.builds(
        lambda soda, baking: {"sodium": 2 * soda + baking, "carbonate": soda + baking}, traces(0.02), traces(0.02)
    ),
    st.builds(lambda vinegar, lye: {"acetate": vinegar, "sodium": lye}, traces(0.04), traces(0.02)),
    st.builds(lambda citric, lye: {"citrate": citric, "sodium": lye}, traces(0.01), traces(0.02)),
    st.builds(lambda ammonia: {"ammonia": ammonia}, traces(0.04)),
)
"""What a dyer puts in, mol/kg."""

SULFUR = st.builds(lambda dye, spent: {"leuco": dye, "sulfite": dye, "sulfate": spent}, traces(0.01), traces(0.004))
"""What the reducer leaves, mol/kg."""

quick = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)


def in_tap_water(water: TapWater, t_C: float, *parts: dict[str, float]) -> Bath:
    """A kilogram of tap water with what was put into it."""
    bath = fill(Bath(1, t_C), water, 1)
    for part in parts:
        bath = evolve(bath, **{name: getattr(bath, name) + amount for name, amount in part.items()})
    return bath


@quick
@given(water=tap(0.0), t_C=st.floats(10, 60), powder=POWDERS, sulfur=SULFUR, chalk=st.booleans())
def test_any_bath_in_tap_water(
    own: PhreeqPython, water: TapWater, t_C: float, powder: dict[str, float], sulfur: dict[str, float], chalk: bool
) -> None:
    """Any vat or sour bath in tap water has PHREEQC's pH within 0.06, chalk and calcium citrate settled or not."""
    bath = in_tap_water(water, t_C, powder, sulfur if "sodium" in powder and "acetate" not in powder else {})
    assert solve(bath, chalk=chalk).pH == pytest.approx(phreeqc(own, bath, SLOW if chalk else ""), abs=0.06)


@quick
@given(water=tap(0.2), t_C=st.floats(10, 60), powder=POWDERS, chalk=st.booleans())
def test_a_fifth_of_the_hardness_magnesium(
    own: PhreeqPython, water: TapWater, t_C: float, powder: dict[str, float], chalk: bool
) -> None:
    """With a fifth of the hardness magnesium, whose pairs are left out here, it is within 0.12."""
    bath = in_tap_water(water, t_C, powder)
    assert solve(bath, chalk=chalk).pH == pytest.approx(phreeqc(own, bath, SLOW if chalk else ""), abs=0.12)


@pytest.mark.parametrize(("lime", "soda"), [(0.1, 0.1), (0.05, 0.02), (0.02, 0.05), (0.2, 0.05)])
def test_lime_with_soda_ash_is_lye(pitzer: PhreeqPython, lime: float, soda: float) -> None:
    """Lime and soda ash make chalk and lye: within 0.05 of PHREEQC at 25 degrees C, where its lime is at home."""
    bath = Bath(1, 25, calcium=lime, sodium=2 * soda, carbonate=soda)
    made = Bath(1, 25, sodium=2 * soda, carbonate=soda)
    phases = f"    Portlandite 0 {lime}\n    Calcite 0 0\n"
    assert solve(bath, chalk=True).pH == pytest.approx(phreeqc(pitzer, made, phases), abs=0.05)


@pytest.mark.parametrize("share", [1.0, 1.1, 1.5])
def test_vinegar_into_a_lime_vat(own: PhreeqPython, share: float) -> None:
    """A lime vat with this share of its alkali met by vinegar has PHREEQC's pH within 0.025, pairs and all."""
    bath = Bath(1, 25, calcium=0.1, strong_anions=0.05, acetate=0.15 * share)
    assert solve(bath).pH == pytest.approx(phreeqc(own, bath), abs=0.025)


@quick
@given(soda=traces(0.04), acid=st.floats(0, 0.95), t_C=st.floats(10, 50))
def test_open_to_the_air(own: PhreeqPython, soda: float, acid: float, t_C: float) -> None:
    """A soda vat, neutralised more or less, drifts in the air to the pH that PHREEQC gives it, within 0.03."""
    bath = Bath(1, t_C, sodium=2 * soda, carbonate=soda, acetate=2 * soda * acid)
    aired = open_to_air(bath)
    assert carbon_dioxide_pressure(solve(aired)) == pytest.approx(10**-3.4, rel=1e-4)
    assert solve(aired).pH == pytest.approx(phreeqc(own, bath, "    CO2(g) -3.4 10\n"), abs=0.03)


@pytest.mark.parametrize("soda", [0.01, 0.02, 0.03, 0.05, 0.08])
@pytest.mark.parametrize("acid", ["vinegar", "citric acid"])
def test_where_a_titrated_sample_of_a_soda_vat_ends(own: PhreeqPython, soda: float, acid: Acid) -> None:
    """Titrated to the pH that its alkalinity decides, rounded as a meter is, it stays below 9 in the air by PHREEQC.

    Titrated to pH 8 it has taken 52 to 69 % of that, and ends above 9.
    """
    bath = Bath(1, 25, sodium=2 * soda, carbonate=soda)
    found = acid_needed(bath, 8.0, 9.0, acid)
    assert found.end_pH is not None
    assert phreeqc(own, with_acid(bath, acid, found.amount)) == pytest.approx(found.end_pH, abs=0.03)
    ended, short = (with_acid(bath, acid, acid_for_pH(bath, pH, acid)) for pH in (round(found.end_pH, 1), 8.0))
    assert phreeqc(own, ended, "    CO2(g) -3.4 10\n") < 9
    assert phreeqc(own, short, "    CO2(g) -3.4 10\n") > 9
    assert 0.5 < found.to_target / found.amount < 0.7
