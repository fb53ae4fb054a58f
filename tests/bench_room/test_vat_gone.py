"""A vat that was let go rings no more, and its figures stay where they were."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import acts, vat_acts
from vatside.bench.desk import Desk
from vatside.bench.open_day import new_day
from vatside.days.keep_vat import feeding_wait
from vatside.log.effects.vat import NEUTRALISE
from vatside.log.events.day import PinSet
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatMade, VatSpent
from vatside.units import Amount
from vatside.vat.reading import PHBy, Reading


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A day with a vat for cotton."""
    found = new_day(tmp_path, VirtualClock())
    found.type("lots.a.fibre", "cotton")
    found.record(PinSet("finish.keep", Amount(0, "min")), VatMade())
    yield found
    found.keeping.close()


def at_its_end(desk: Desk) -> None:
    """Seen blue, read, given the vinegar that the plan names."""
    desk.record(VatSpent(), ReadingTaken(Reading(Amount(22, "degC"), 12.0, pH_by=PHBy.METER)))
    litres = desk.sheet.value("finish.vinegar")
    desk.record(CorrectionMade(remedy=NEUTRALISE, material="vinegar", amount=Amount(litres, "L")))


def test_its_waits_end_with_it(desk: Desk) -> None:
    """The week until it is fed, and the acid at work, are over; a wait of her own runs on; one undo brings all back."""
    desk.record(feeding_wait(desk.state.seq + 1))
    acts.own_wait(desk, 60, "soak")
    vat_acts.let_go(desk, "as the water company said")
    assert [wait.label for wait in desk.state.waits] == ["soak"]


def test_the_vinegar_it_took_stays_on_the_list(desk: Desk) -> None:
    """Let go, the list names what it took, and not again the amount of the plan as if nothing had gone in."""
    at_its_end(desk)
    before = 1000 * desk.sheet.value("finish.vinegar")
    took = 1000 * desk.state.tending.account.bath.acetate / 0.8326  # type: ignore[union-attr]
    vat_acts.let_go(desk, "as the water company said")
    assert before == pytest.approx(0, abs=5)
    assert 1000 * desk.sheet.value("finish.vinegar") == pytest.approx(took, rel=0.05)
