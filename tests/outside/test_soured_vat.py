"""A soda vat that reads lower than it should has turned sour: its carbonate stays, for its alkali and for its acid.

PHREEQC, an independent program, says what brings such a vat up, and what lets it go.
"""

from __future__ import annotations

import pytest
from attrs import evolve
from phreeqpython import PhreeqPython
from tests.outside.phreeqc_runs import phreeqc
from tests.plan.plans import plan_with
from tests.vat.vats import account_with, setting_of

from vatside.chemistry.bath import add_grams, add_vinegar
from vatside.chemistry.tap import CLASSES, tap_bath
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.account import Account, planned_account, predict, reducer_g, warmed
from vatside.vat.corrections import corrections
from vatside.vat.diagnosis import judge
from vatside.vat.interlocks import Vat
from vatside.vat.reading import PHBy, Reading
from vatside.vat.spent import Acid, PHRange, dose_by_account, put_right
from vatside.vat.trust import compare, trust

LITRES, SODA_G = 5.4, 27.2


def fermenting() -> Plan:
    """Linen in bran and 5 g/L of soda."""
    return plan_with(None, lots__a__fibre="linen", method="fermentation", vat__alkali="102 g")


def soda_vat(t_C: float, soda_g: float = SODA_G) -> Account:
    """Soda ash in 5.4 L of middling tap water."""
    account = account_with(LITRES, t_C, "sodium carbonate")
    return evolve(account, bath=add_grams(tap_bath(LITRES, t_C, CLASSES["medium"]), "sodium carbonate", soda_g))


def test_its_carbonate_stays() -> None:
    """Read pH 8.4: all its 50 mmol/L are still there, as bicarbonate for the most part."""
    account = soda_vat(33)
    trusted = trust(account, 8.4, 33)
    assert trusted.bath.carbonate == pytest.approx(account.bath.carbonate)
    assert predict(trusted).pH == pytest.approx(8.4, abs=0.01)


def test_what_brings_it_back(own: PhreeqPython) -> None:
    """43 g of soda ash bring it to pH 10, 8.4 g no higher than 9.4: that would do where less soda went in."""
    bath = trust(soda_vat(33), 8.4, 33).bath
    found = [phreeqc(own, add_grams(bath, "sodium carbonate", grams)) for grams in (0, 8.4, 43)]
    assert found == pytest.approx([8.4, 9.4, 10.0], abs=0.08)


def test_its_way_back_is_what_phreeqc_says(own: PhreeqPython) -> None:
    """The correction of a fermenting vat read at 8.4 brings it to the pH that it names.

    By hand: with 50 mmol/L of bicarbonate and pK 9.9, pH 10 wants 1.26 of carbonate to one: 60 mmol/L, 6.4 g/L.
    """
    plan = fermenting()
    account, reading = (
        warmed(planned_account(plan, compute(plan)), 33),
        Reading(Amount(33, "degC"), 8.4, pH_by=PHBy.METER),
    )
    vat = Vat(plan, account, setting_of(plan), reading, confirmed=True)
    low = next(one for one in judge(reading, vat.setting) if one.axis == "pH")
    soda = next(way for way in corrections(low, vat) if way.material == "soda-ash")
    bath = add_grams(trust(account, 8.4, 33).bath, "sodium carbonate", soda.grams)
    assert phreeqc(own, evolve(bath, starch=0, indigotin=0)) == pytest.approx(vat.setting.window.target, abs=0.08)
    assert 5.5 < soda.grams / account.litres < 9.5


def test_its_end_takes_the_acid_of_its_soda(own: PhreeqPython) -> None:
    """35.5 g of soda in 5.4 L, at the end pH 9.6 at 20 degrees: about half a litre of vinegar, not 110 mL.

    By hand: 0.335 mol of soda and 13 mmol of the tap's are 0.68 mol of alkalinity; pH 9.6 shows 0.233 mol of acid. What
    is left but for 5 mmol/L is 0.42 mol, at 0.8326 mol/L 0.51 L. The next day PHREEQC finds it within the range.
    """
    plan, aim = fermenting(), PHRange()
    account, reading = soda_vat(20, 35.5), Reading(Amount(20, "degC"), 9.6, pH_by=PHBy.METER)
    right = put_right(account, reading, aim)
    dose = dose_by_account(right, plan, Acid.VINEGAR, aim)
    assert dose.millilitres == pytest.approx(510, rel=0.07)
    drifted = evolve(add_vinegar(right.bath, dose.millilitres), temperature_C=25.0)
    open_air = phreeqc(own, drifted, "    CO2(g) -3.4 10\n")
    assert open_air <= aim.high
    assert dose.next_day_pH == pytest.approx(open_air, abs=0.1)


def test_its_starch_is_what_turned(own: PhreeqPython) -> None:
    """At most 12.3 mmol of acid come of a gram of starch: a tenth under what the bran can make, starch is left."""
    plan = fermenting()
    account = evolve(planned_account(plan, compute(plan)), asleep=False)
    starch = reducer_g(account, "fermentable starch")
    half = evolve(account.bath, strong_anions=account.bath.strong_anions + starch / 2 * 0.01234, starch=0.0)
    t_C = account.celsius
    trusted = trust(account, phreeqc(own, evolve(half, indigotin=0)), t_C)
    assert reducer_g(trusted, "fermentable starch") == pytest.approx(starch / 2, rel=0.15)
    assert trusted.bath.strong_anions == pytest.approx(half.strong_anions, rel=0.15)


def test_nobody_speaks_of_lye_in_a_vat_of_soda() -> None:
    """Its bran has made acid, as much as soda ash; lye that stood open has nothing to do with it."""
    plan = fermenting()
    account = warmed(planned_account(plan, compute(plan)), 33)
    found = compare(account, Reading(Amount(33, "degC"), 8.4, pH_by=PHBy.METER))
    assert found is not None
    assert "of soda ash had formed" in found.text
    assert any("starch" in words for words in found.explanations)
    assert not any("lye" in words.lower() for words in (found.text, *found.explanations))
