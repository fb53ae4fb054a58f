"""What is done by a pH that was read is reckoned from that pH, once: no dose grows by what went in."""

from __future__ import annotations

import pytest
from tests.log.makers import session
from tests.plan.plans import wool_plan

from vatside.log.effects.vat import NEUTRALISE
from vatside.log.events.day import Event, LotAdded, PinSet, PlanChanged
from vatside.log.events.vat import CorrectionMade, PieceDone, ReadingTaken, VatMade, VatSpent
from vatside.log.fold import State, fold, sheet_of
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_deeds import as_proposed
from vatside.outlook.vat_end import Choices, dose_of
from vatside.outlook.vat_facts import findings_of, setting_of
from vatside.plan.starter import new_lot
from vatside.units import Amount
from vatside.vat.account import Account, predict
from vatside.vat.interlocks import Correction
from vatside.vat.reading import PHBy, Reading
from vatside.vat.spent import AcidDose

LOW = "short-of-alkali"
SMALL = PinSet("vat.tub", Amount(8, "L")), PinSet("vat.fill", Amount(6, "L"))


def vat(fibre: str, method: str, *events: Event) -> State:
    """A vat of six litres, with what happened to it."""
    chosen = PlanChanged("lots.a.fibre", fibre), PlanChanged("method", method)
    return fold(session(*chosen, *SMALL, VatMade(), *events))


def read(pH: float, celsius: float, by: PHBy = PHBy.METER) -> ReadingTaken:
    """A reading of warmth and pH alone."""
    return ReadingTaken(Reading(Amount(celsius, "degC"), pH, pH_by=by))


def alkali(state: State) -> Correction:
    """The way that brings it back to the pH the fibre likes."""
    return next(way for way in Outlook(state, sheet_of(state)).ways(LOW) if way.does == "to window")


@pytest.mark.parametrize(
    ("fibre", "method", "pH", "celsius"),
    [("linen", "fermentation", 9.2, 34), ("linen", "fermentation", 8.0, 34), ("wool", "tdo-soda", 7.9, 46),
     ("linen", "tdo-lye", 9.6, 45)],
)  # fmt: skip
def test_after_part_of_it_less_is_still_to_go_in(fibre: str, method: str, pH: float, celsius: float) -> None:
    """A third of the soda or lye that was advised is in: two thirds are left to give, never more than at first."""
    before = vat(fibre, method, read(pH, celsius))
    said = alkali(before)
    third = CorrectionMade(LOW, said.remedy, material=said.material, amount=Amount(round(said.grams / 3, 2), "g"))
    then = alkali(vat(fibre, method, read(pH, celsius), third))
    assert then.grams == pytest.approx(said.grams * 2 / 3, rel=0.1)


@pytest.mark.parametrize(
    ("fibre", "method", "pH", "celsius"), [("wool", "tdo-soda", 7.9, 46), ("silk", "dithionite-soda", 8.2, 35)]
)
def test_the_account_stands_where_the_soda_was_to_bring_it(fibre: str, method: str, pH: float, celsius: float) -> None:
    """Acid had formed, by the pH read; soda went in for it as advised: read there, the two agree."""
    before = vat(fibre, method, read(pH, celsius))
    said = alkali(before)
    account = vat(fibre, method, read(pH, celsius), as_proposed(said, before.plan)).tending.account
    assert isinstance(account, Account)
    assert predict(account).pH == pytest.approx(Outlook(before, sheet_of(before)).setting.window.target, abs=0.1)


def test_a_pH_read_before_something_went_in_counts_no_more() -> None:
    """Lye of her own after the reading: soda given for that reading is added to the vat as it stands by then."""
    lye = CorrectionMade(material="lye", amount=Amount(1, "g"))
    soda = CorrectionMade(LOW, "soda", material="soda-ash", amount=Amount(2, "g"))
    with_lye, without = (
        vat("wool", "tdo-soda", read(7.9, 46), *first, soda).tending.account for first in ((lye,), ())
    )  # fmt: skip
    assert with_lye is not None
    assert without is not None
    assert predict(with_lye).pH > predict(without).pH + 0.3


@pytest.mark.parametrize(("method", "soda_g"), [("fermentation", 30), ("dithionite-soda", 48)])
def test_two_portions_of_acid_are_the_dose_that_was_said(method: str, soda_g: float) -> None:
    """Three quarters are in, and a strip reads what their carbonic acid makes of it: the rest is the last quarter."""
    spent = PinSet("vat.alkali", Amount(soda_g, "g")), VatMade(), VatSpent(), read(9.4, 20, PHBy.STRIP)
    whole = dose_of(vat("linen", method, *spent), Choices())
    assert isinstance(whole, AcidDose)
    given = CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(0.75 * whole.millilitres, "mL"))
    rest = dose_of(vat("linen", method, *spent, given, read(8.6, 20, PHBy.STRIP)), Choices())
    assert isinstance(rest, AcidDose)
    assert rest.millilitres == pytest.approx(0.25 * whole.millilitres, rel=0.25)


@pytest.mark.parametrize(("second", "short"), [("silk", False), ("cotton", True)])
def test_a_vat_made_for_two_is_short_of_nothing_once_the_first_is_out(second: str, short: bool) -> None:
    """Soda that dissolves the dye for wool does so for silk; for plant fibres the plan raises the pH, by a step."""
    lot = LotAdded(new_lot(wool_plan()))
    both = lot, PlanChanged("lots.b.fibre", second), PlanChanged("method", "dithionite-soda"), VatMade(), read(9.2, 42)
    wool_out = tuple(PieceDone(f"a.{number}") for number in range(1, wool_plan().lots[0].pieces + 1))
    state = fold(session(*both, *wool_out))
    assert setting_of(state, sheet_of(state)).fibre == second
    assert any(found.id == LOW and found.is_out for found in findings_of(state, sheet_of(state))) is short
