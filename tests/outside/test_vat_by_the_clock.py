"""The pH of a vat that stands for hours, against PHREEQC, from the grams of reducer that the account has left."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from attrs import evolve
from phreeqpython import PhreeqPython
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, logged, session
from tests.outside.phreeqc_runs import phreeqc

from vatside.log.events.day import Event, PlanChanged
from vatside.log.events.vat import ReadingTaken, VatMade
from vatside.log.fold import fold
from vatside.log.vat_account import standing_at
from vatside.log.waits import after
from vatside.units import Amount
from vatside.vat.account import Account, predict, reducer_g
from vatside.vat.account_changes import ends
from vatside.vat.reading import Reading

TDO = "thiourea dioxide"


def stands(fibre: str, hours: float) -> tuple[Account, Account]:
    """Give the account of a vat read at 47 °C, and as it stands so many hours later."""
    events: tuple[Event, ...] = (
        PlanChanged("lots.a.fibre", fibre), PlanChanged("water.tap", "medium"), VatMade(),
        ReadingTaken(Reading(Amount(47, "degC"))),
    )  # fmt: skip
    state = fold(evolve(session(), entries=logged(*events, clock=VirtualClock(CREATED))))
    assert state.last is not None
    before, now = (one.tending.account for one in (state, standing_at(state, after(state.last, 3600 * hours))))
    assert before is not None
    assert now is not None
    return before, now


def each(fibre: str, hours: float) -> Iterator[Account]:
    """Give the account then, and with the least and the most reducer."""
    _, now = stands(fibre, hours)
    yield now
    yield from ends(now, TDO)


@pytest.mark.parametrize("hours", [0, 1, 4, 14])
@pytest.mark.parametrize("fibre", ["wool", "silk", "cotton"])
def test_the_pH_of_a_vat_that_stands(own: PhreeqPython, fibre: str, hours: float) -> None:
    """After a break, an afternoon, a night: likely and at both ends within 0.06, as everywhere in a buffered vat."""
    for account in each(fibre, hours):
        assert predict(account).pH == pytest.approx(phreeqc(own, account.bath), abs=0.06)


@pytest.mark.parametrize("fibre", ["wool", "cotton"])
def test_its_bath_is_the_fresh_one_with_reducer_turned_to_sulfite(own: PhreeqPython, fibre: str) -> None:
    """By hand: the grams gone ÷ 108.12 as so many moles of sulfite more; PHREEQC then gives the same pH."""
    before, now = stands(fibre, 8)
    gone = (reducer_g(before, TDO) - reducer_g(now, TDO)) / 108.12
    bath = before.bath
    by_hand = evolve(
        bath, thiourea_dioxide=bath.thiourea_dioxide - gone, sulfite=bath.sulfite + gone, temperature_C=now.celsius
    )
    assert predict(now).pH == pytest.approx(phreeqc(own, by_hand), abs=0.06)
