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
from vatside.log.events.day import MethodChosen, PinSet, PlanChanged
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatMade, VatSpent
from vatside.plan.sheet import Stage
from vatside.recipe.worksheet import shown
from vatside.units import Amount, Kind, to_base
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


LEFT = {"zinc-lime": set[str](), "fructose-lime": {"finish.sludge"}, "tdo-lye": set[str]()}
"""What stays to do of a vat that is gone: lime that dries with what settled in it."""


@pytest.mark.parametrize("method", LEFT)
def test_nothing_is_left_to_settle_or_to_pour_of_a_vat_that_is_gone(tmp_path: Path, method: str) -> None:
    """Oxidised and let go by its pages, undipped, it asks for no night of settling, no cans, no drain, no keeping."""
    desk = new_day(tmp_path, VirtualClock())
    desk.record(MethodChosen("method", method), PlanChanged("lots.a.fibre", "cotton"), VatMade(), VatSpent())
    vat_acts.let_go(desk, "the waste office")
    ends = [step.id for step in desk.steps if step.group in ("Let the vat go", "Keep the vat")]
    assert {step for step in ends if step not in desk.state.done} == LEFT[method]
    desk.keeping.close()


@pytest.mark.parametrize(("method", "stays"), [("copperas-lime", True), ("fructose-lime", True), ("zinc-lime", False)])
def test_only_the_clear_liquor_of_a_lime_vat_goes(tmp_path: Path, method: str, stays: bool) -> None:
    """What lies at the bottom stays in the tub, to dry; a vat of zinc is handed over whole."""
    desk = new_day(tmp_path, VirtualClock())
    desk.record(MethodChosen("method", method), PlanChanged("lots.a.fibre", "cotton"), VatMade(), VatSpent())
    account = desk.state.tending.account
    assert account is not None
    vat_acts.let_go(desk, "the drain, as the water company said")
    gone = desk.state.tending.let_go
    assert gone is not None
    litres = to_base(gone.volume, Kind.VOLUME)
    left = desk.sheet.value("vat.sludge") if stays else 0.0
    assert litres == pytest.approx(account.litres - left, rel=0.03)
    desk.keeping.close()


def test_a_vat_that_is_not_kept_is_not_fed(desk: Desk) -> None:
    """Kept for no day, it wants no powder a week."""
    assert not any(figure.id.startswith("finish.feed") for figure in shown(desk.sheet, Stage.FINISH))
