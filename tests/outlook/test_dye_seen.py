"""One answer: what a reading surely shows of the dye, the account follows, and the board with it."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.log.makers import session

from vatside.catalogue.load import methods
from vatside.catalogue.looks import Clarity, Colour, Smell, Strip, Surface
from vatside.dips.rotation import Do
from vatside.log.events.day import Event, PlanChanged
from vatside.log.events.vat import DyeSeen, ReadingTaken, VatMade
from vatside.log.fold import State, fold, sheet_of
from vatside.log.waits import after
from vatside.outlook.dip_board import next_move
from vatside.outlook.vat_facts import dye_seen
from vatside.plan.measures import powder
from vatside.units import Amount
from vatside.vat.account import Account, all_blue, all_reduced, predict, reducer_g
from vatside.vat.reading import PHBy, Reading

COTTON = PlanChanged("lots.a.fibre", "cotton")
GOOD = Reading(
    temperature=Amount(45, "degC"), pH=11.3, pH_by=PHBy.METER, colour=Colour.YELLOW_GREEN, clarity=Clarity.CLEAR,
    surface=Surface.COPPERY, strip=Strip.GREEN_YELLOW, seconds=55, smell=Smell.USUAL,
)  # fmt: skip
BLUE = Reading(
    temperature=Amount(45, "degC"), pH=11.3, pH_by=PHBy.METER, colour=Colour.BLUE, clarity=Clarity.CLOUDY,
    strip=Strip.BLUE, seconds=5,
)  # fmt: skip


def day(*events: Event, method: str = "tdo-lye") -> State:
    """Give the state of a vat after these events."""
    return fold(session(COTTON, PlanChanged("method", method), VatMade(), *events))


def vat(state: State) -> Account:
    """Give its account."""
    assert state.tending.account is not None
    return state.tending.account


def seen(state: State, reading: Reading, hours: float = 0.0) -> tuple[DyeSeen, ...]:
    """Give what a reading so many hours later says for sure."""
    assert state.last is not None
    return dye_seen(state, sheet_of(state), reading, after(state.last, 3600 * hours))


def test_a_good_reading_clears_what_was_thought_blue() -> None:
    """Blue by the account and yellow-green in the glass: all of it is reduced, and the reducer is alive."""
    blue = day(DyeSeen(reduced=False))
    assert vat(blue).unreduced_g == pytest.approx(vat(blue).indigotin_g)
    assert seen(blue, GOOD) == (DyeSeen(reduced=True),)
    good = day(DyeSeen(reduced=False), ReadingTaken(GOOD), DyeSeen(reduced=True))
    assert vat(good).unreduced_g < 0.05
    assert reducer_g(vat(good), powder(good.plan, "reducer").material.species) > 0


def test_a_blue_reading_spends_what_was_thought_left() -> None:
    """A fresh account full of reducer and a blue, cloudy liquor: none is left, and all of the dye is blue."""
    assert seen(day(), BLUE) == (DyeSeen(reduced=False),)
    state = day(ReadingTaken(BLUE), DyeSeen(reduced=False))
    assert reducer_g(vat(state), "thiourea dioxide") == 0
    assert vat(state).more_g == 0


def test_a_blue_vat_that_turned_sour_is_spent_as_well() -> None:
    """Whatever its pH: its sulfite has gone on to sulfate, which binds no acid, so no lye is reckoned for it."""
    sour = evolve(BLUE, pH=5.0)
    assert seen(day(), sour) == (DyeSeen(reduced=False),)
    bath = vat(day(ReadingTaken(sour), DyeSeen(reduced=False))).bath
    assert bath.sulfite == bath.leuco == bath.thiourea_dioxide == 0


@pytest.mark.parametrize("method", sorted(methods()))
def test_reducer_that_was_seen_alive_changes_no_pH(method: str) -> None:
    """It is a salt with its own sodium, or none: the pH that was read with it stays the account's."""
    state = day(method=method)
    what = powder(state.plan, "reducer").material.species
    none = all_reduced(all_blue(vat(state), what), what, 0.0)
    alive = all_reduced(none, what, reducer_g(none, what) + 5)
    assert reducer_g(alive, what) == pytest.approx(reducer_g(none, what) + 5)
    assert predict(alive).pH == pytest.approx(predict(none).pH, abs=0.05)


def test_zinc_that_was_seen_spent_begins_at_nothing() -> None:
    """1.1 g given to a vat that was seen blue are 1.1 g left, not 4."""
    state = day(method="zinc-lime")
    spent = all_blue(vat(state), "zinc")
    assert reducer_g(vat(state), "zinc") > 1
    assert reducer_g(spent, "zinc") == 0


@pytest.mark.parametrize("reading", [GOOD, Reading(colour=Colour.GREEN), Reading(), Reading(colour=Colour.BLUE)])
def test_what_agrees_or_leaves_doubt_changes_nothing(reading: Reading) -> None:
    """A good reading of a good vat says nothing new; a colour alone is no certainty."""
    assert seen(day(), reading) == ()


def test_a_cold_blue_vat_is_warmed_first() -> None:
    """Below its warmth a vat looks short of reducer and is not."""
    from attrs import evolve

    assert seen(day(), evolve(BLUE, temperature=Amount(30, "degC"))) == ()


def test_bran_that_sleeps_is_not_spent() -> None:
    """A vat that works by itself keeps its bran, however blue."""
    state = day(method="fermentation")
    before = reducer_g(vat(state), "fermentable starch")
    assert reducer_g(all_blue(vat(state), "fermentable starch"), "fermentable starch") == before


def test_nothing_is_all_dipped_that_never_was_in() -> None:
    """With all its dye blue by the account the board asks for a reading, and does not say that all is dipped."""
    state = day(DyeSeen(reduced=False))
    assert state.last is not None
    call = next_move(state, sheet_of(state), after(state.last, 1))
    assert call.do is not Do.DONE
