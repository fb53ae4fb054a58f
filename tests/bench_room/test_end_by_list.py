"""The list of steps and the end of the vat are one: what is ticked in the one is known in the other."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import acts, commands
from vatside.bench.desk import Desk, Held
from vatside.bench.evening_acts import keep_vat
from vatside.bench.open_day import new_day
from vatside.dayline.steps import Step
from vatside.log.events.day import PinSet, PlanChanged
from vatside.log.events.vat import ReadingTaken, VatMade
from vatside.units import Amount
from vatside.vat.reading import Reading


@pytest.fixture(name="clock")
def _clock() -> VirtualClock:
    return VirtualClock()


@pytest.fixture(name="desk")
def _desk(tmp_path: Path, clock: VirtualClock) -> Iterator[Desk]:
    desk = new_day(tmp_path, clock)
    desk.record(PlanChanged("lots.a.fibre", "linen"), PinSet("finish.keep", Amount(0, "min")), VatMade())
    desk.record(*(commands.acknowledge(item) for item in desk.steps if item.cautions))
    yield desk
    desk.keeping.close()


def step_of(desk: Desk, name: str) -> Step:
    """Give a step of the finish."""
    return next(step for step in desk.steps if step.id == name)


def oxidise(desk: Desk, clock: VirtualClock) -> str:
    """Begin to oxidise, and end its wait some hours later."""
    acts.do(desk, step_of(desk, "finish.oxidise"))
    clock.advance(5 * 3600)
    return acts.end(desk, desk.waits(clock.now())[0])


def test_oxidised_in_the_list_it_was_seen_to_stay_blue(desk: Desk, clock: VirtualClock) -> None:
    """The step is over when the vat is blue and stays blue: the end of the vat goes on from there, and asks its pH."""
    said = oxidise(desk, clock)
    assert desk.state.tending.seen_spent
    assert "read the pH" in said


def test_opened_again_it_was_not(desk: Desk, clock: VirtualClock) -> None:
    """Taken back in the list it is taken back at the end of the vat."""
    oxidise(desk, clock)
    acts.do(desk, step_of(desk, "finish.oxidise"))
    assert not desk.state.tending.seen_spent
    assert "finish.oxidise" not in desk.state.done


def test_oxidised_a_kept_vat_is_fed_no_more(desk: Desk, clock: VirtualClock) -> None:
    """The wait that says when to feed it is over with the step, and runs again where that is taken back."""
    keep_vat(desk, "")
    [feeding] = desk.state.waits
    oxidise(desk, clock)
    assert not list(desk.state.waits)
    acts.do(desk, step_of(desk, "finish.oxidise"))
    assert [wait.id for wait in desk.state.waits] == [feeding.id]


def test_a_titrated_sample_asks_for_its_number(desk: Desk, clock: VirtualClock) -> None:
    """Ticked in the list it says where what it took is written down."""
    oxidise(desk, clock)
    assert "what the sample took" in acts.do(desk, step_of(desk, "finish.titrate"))


def test_a_caustic_vat_is_not_poured_off_by_the_list_unasked(desk: Desk, clock: VirtualClock) -> None:
    """Unread, or read above the range in which it may go, it is asked about; read at pH 8 it goes."""
    oxidise(desk, clock)
    for reading in (None, Reading(Amount(20, "degC"), 11.6)):
        if reading is not None:
            desk.record(ReadingTaken(reading))
        with pytest.raises(Held):
            acts.do(desk, step_of(desk, "finish.drain"))
        assert "finish.drain" not in desk.state.done
    clock.advance(60)
    desk.record(ReadingTaken(Reading(Amount(20, "degC"), 8.0)))
    acts.do(desk, step_of(desk, "finish.drain"))
    assert "finish.drain" in desk.state.done
