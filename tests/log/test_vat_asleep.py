"""A vat that is to be brought to life: until somebody saw it live its dye is blue, in the account as in the plan."""

from __future__ import annotations

import pytest
from tests.log.makers import session

from vatside.bench.vat_acts import ended
from vatside.catalogue.looks import Colour
from vatside.chemistry.liquor import solve
from vatside.log.events.day import Event, PlanChanged
from vatside.log.events.vat import CorrectionMade, DipEnded, DipStarted, DyeSeen, PHTrusted, ReadingTaken, VatMade
from vatside.log.fold import State, fold, sheet_of
from vatside.log.vat_account import kept_vat, standing_at
from vatside.log.waits import after
from vatside.units import Amount
from vatside.vat.account import Account, predict
from vatside.vat.account_changes import pH_between, tank_of
from vatside.vat.reading import Reading

YELLOW = ReadingTaken(Reading(colour=Colour.YELLOW_GREEN))


def bran(*events: Event) -> State:
    """A vat of bran and soda for linen, with what happened to it."""
    chosen = PlanChanged("lots.a.fibre", "linen"), PlanChanged("method", "fermentation")
    return fold(session(*chosen, VatMade(), *events))


def account(state: State) -> Account:
    """What stands in the tub."""
    assert state.tending.account is not None
    return state.tending.account


def test_a_new_vat_of_bran_is_blue() -> None:
    """Aino et al. (2018): four days at the least. The pH is that of the plan for now, not that of later."""
    state, sheet = bran(), sheet_of(bran())
    assert account(state).unreduced_g == pytest.approx(account(state).indigotin_g)
    assert predict(account(state)).pH == pytest.approx(sheet.value("vat.pH"), abs=0.02)
    assert sheet.value("vat.pH") > sheet.value("vat.pH_awake") + 0.15
    band = pH_between(account(state), "fermentable starch")
    assert band.low <= band.likely <= band.high
    assert band.likely == pytest.approx(sheet.value("vat.pH"), abs=0.02)


@pytest.mark.parametrize(
    "signs",
    [(YELLOW,), (DipStarted("a.1", 5.0), DipEnded("a.1", 15.0)), (DyeSeen(reduced=True),)],
    ids=["read", "dipped", "seen"],
)
def test_seen_to_live_its_dye_is_dissolved(signs: tuple[Event, ...]) -> None:
    """Read yellow, dipped in or said to be ready: from then on the account is that of a vat at work."""
    state = bran(*signs)
    assert account(state).unreduced_g == pytest.approx(0, abs=0.01)
    assert predict(account(state)).pH == pytest.approx(sheet_of(bran()).value("vat.pH_awake"), abs=0.06)


def test_a_piece_that_goes_in_leaves_the_clock_of_the_vat_alone() -> None:
    """The account stands as it did when it was made, and has cooled since: a dip begun is no look at it."""
    assert bran(DipStarted("a.1", 5.0)).tending.clocked == bran().tending.clocked


def said_by_the_look(state: State) -> tuple[Event, ...]:
    """What the step that calls the vat ready says of it."""
    return ended("vat.look", state, sheet_of(state))


def test_the_step_that_calls_it_ready_says_so() -> None:
    """Ticked by the signs alone, without a reading: the account follows it. Of one that lives already, nothing."""
    assert said_by_the_look(bran()) == (DyeSeen(reduced=True),)
    assert said_by_the_look(bran(YELLOW)) == ()
    assert said_by_the_look(fold(session(VatMade()))) == ()


def test_what_the_pieces_will_come_to_is_told_before_it_lives() -> None:
    """Forecasts are of the day on which it is dyed in."""
    assert tank_of(account(bran())).strength == pytest.approx(tank_of(account(bran(YELLOW))).strength, rel=1e-3)


def test_days_do_not_dissolve_it() -> None:
    """Three days by the clock make acid, and no yellow vat that nobody saw."""
    state = bran()
    assert state.tending.clocked is not None
    later = account(standing_at(state, after(state.tending.clocked.at, 72 * 3600)))
    assert later.unreduced_g == pytest.approx(account(state).unreduced_g)
    assert predict(later, 35).pH < predict(account(state), 35).pH


@pytest.mark.parametrize("pH", [9.6, 10.9])
def test_a_pH_taken_as_true_is_that_of_the_blue_vat(pH: float) -> None:
    """What was read stands, before and after the vat is looked at again; soda raises it from there."""
    celsius = Amount(35, "degC")
    trusted = bran(PHTrusted(pH, celsius))
    assert predict(account(trusted)).pH == pytest.approx(pH, abs=0.02)
    assert account(trusted).unreduced_g == pytest.approx(account(trusted).indigotin_g)
    soda = CorrectionMade(material="soda-ash", amount=Amount(20, "g"))
    assert predict(account(bran(PHTrusted(pH, celsius), soda))).pH > pH


def test_kept_for_another_day_its_dye_is_blue() -> None:
    """A vat that never lived is handed on as it is."""
    kept = kept_vat(bran())
    assert kept is not None
    assert kept.oxidised_g == pytest.approx(kept.indigotin_g)


def test_other_kinds_are_reduced_as_they_are_made() -> None:
    """A stock was looked at before it went in."""
    made = account(fold(session(VatMade())))
    assert not made.asleep
    assert solve(made.bath).pH == pytest.approx(predict(made).pH)
