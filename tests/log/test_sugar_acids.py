"""Sugar in lime turns to acid and eats the lime: by the clock, by what is found, and in the vinegar of the end."""

from __future__ import annotations

from math import log

import pytest
from tests.log.makers import session
from tests.plan.plans import plan_with

from vatside.catalogue.looks import Colour, Smell
from vatside.chemistry.ageing import falling_apart
from vatside.chemistry.liquor import solve
from vatside.log.events.day import Event, PlanChanged
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatMade, VatSpent
from vatside.log.fold import State, fold
from vatside.log.vat_account import standing_at
from vatside.log.waits import after
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.account import reducer_g
from vatside.vat.account_changes import reducer_between
from vatside.vat.reading import PHBy, Reading

LINEN = PlanChanged("lots.a.fibre", "linen"), PlanChanged("method", "fructose-lime")
LIME_PER_SUGAR = 74.0927 / 2 / 180.1562
"""Slaked lime that one acid of a hexose takes, g/g: 0.206."""


def vat(*events: Event) -> State:
    """A vat of fructose and lime for linen, with what happened to it."""
    return fold(session(*LINEN, VatMade(), *events))


def later(state: State, hours: float) -> State:
    """The same some hours on, nobody near it."""
    known = state.tending.clocked
    assert known is not None
    return standing_at(state, after(known.at, 3600 * hours))


def sugar(state: State) -> float:
    """Fructose that is likely left, g."""
    assert state.tending.account is not None
    return reducer_g(state.tending.account, "fructose")


def test_half_of_it_in_twelve_hours_at_fifty_degrees() -> None:
    """A guess, with a band of three times either way; 2.5 times slower for ten degrees less, as for other reducers."""
    warm, cold = falling_apart("fructose", 50, 12), falling_apart("plant sugar", 40, 12)
    assert warm.likely == pytest.approx(log(2) / 12)
    assert (warm.low, warm.high) == pytest.approx((log(2) / 36, log(2) / 4))
    assert cold.likely == pytest.approx(log(2) / 12 / 2.5)


def test_it_goes_by_the_clock_and_takes_lime_along() -> None:
    """What is gone after a day took 1.5 acids a hexose, 0.31 g of lime a gram, out of what lies at the bottom."""
    fresh = vat()
    day = later(fresh, 24)
    gone = sugar(fresh) - sugar(day)
    assert 0.05 * sugar(fresh) < gone < 0.7 * sugar(fresh)
    assert fresh.tending.account is not None
    assert day.tending.account is not None
    eaten = (day.tending.account.bath.strong_anions - fresh.tending.account.bath.strong_anions) * 74.0927 / 2
    assert eaten == pytest.approx(1.5 * LIME_PER_SUGAR * gone, rel=0.05)
    low, likely, high = reducer_between(day.tending.account, "fructose")
    assert low < likely < high <= sugar(fresh) * 1.001


def test_sugar_that_may_be_left_is_no_sulphur_in_acid() -> None:
    """Its band is wide, yet nothing in it gives off sulphur dioxide."""
    account = later(vat(), 24).tending.account
    assert account is not None
    assert account.more_g > 0
    assert not account.is_alive


BROWN = Reading(Amount(45, "degC"), 10.3, pH_by=PHBy.METER, colour=Colour.BROWN, smell=Smell.CARAMEL)
LIME = CorrectionMade(finding="sugar-acids", remedy="lime", material="slaked-lime", amount=Amount(20, "g"))


def test_what_is_found_and_acted_on_is_written_in() -> None:
    """Brown, caramel, pH 10.3: once lime goes in for that the account knows that its lime is gone.

    Its sugar stays: 1.5 acids of all of it are 0.34 mol, and its lime holds 0.7.
    """
    before, done = vat(ReadingTaken(BROWN)), vat(ReadingTaken(BROWN), LIME)
    assert before.tending.account is not None
    assert done.tending.account is not None
    assert solve(before.tending.account.bath).pH > 11.5
    assert before.tending.account.bath.calcium * 2 > 1.5 * sugar(before) / 180.1562
    assert sugar(done) == pytest.approx(sugar(before), rel=0.01)
    # 10.3 and then 1 g/L of lime: some of it dissolves, and the vat is limy again.
    assert 10.8 < solve(done.tending.account.bath).pH < 12


def test_a_pH_that_agrees_writes_nothing_in() -> None:
    """Lime given for some pH that the account has as well takes no sugar away."""
    account = vat().tending.account
    assert account is not None
    agrees = Reading(Amount(45, "degC"), round(solve(account.bath, 45).pH, 1), pH_by=PHBy.METER)
    assert sugar(vat(ReadingTaken(agrees), LIME)) == pytest.approx(sugar(vat(ReadingTaken(agrees))), rel=0.01)


def test_the_end_takes_less_vinegar_for_it() -> None:
    """What is planned is a range, from all of the sugar sour to half of it: a mole of its acid for one of vinegar's."""
    sheet = compute(plan_with(None, lots__a__fibre="linen", method="fructose-lime"))
    figure = sheet["finish.vinegar"]
    assert figure.fewest is not None
    apart = sheet.value("stock.reducer") + sheet.value("vat.reducer")
    # Half of it, 1.5 acids a hexose, at 0.8326 mol/L of vinegar of 5 %.
    assert figure.value - figure.fewest == pytest.approx(apart / 180.1562 * 0.5 * 1.5 / 0.8326, rel=0.12)


def test_a_vat_seen_spent_goes_on_turning() -> None:
    """Air leaves the sugar as it is, and alkali does not."""
    end = vat(VatSpent())
    assert sugar(later(end, 24)) < sugar(end)
