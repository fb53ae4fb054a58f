"""Another kind of vat: while planning all else stays; once powder is in, it is refused in words."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench.desk import Desk, Held
from vatside.bench.open_day import new_day
from vatside.bench.undo import take_back
from vatside.bench.vat_acts import put_in
from vatside.catalogue.load import methods
from vatside.log.events.day import MethodChosen, PinSet, PlanChanged, StepDone
from vatside.log.events.vat import CorrectionMade, VatMade
from vatside.log.fold import fold
from vatside.plan.measures import powder
from vatside.plan.paths import OF_THE_METHOD
from vatside.recipe.compute import compute
from vatside.units import Amount


@pytest.fixture(name="desk")
def _desk(tmp_path: Path) -> Desk:
    """A day that is being planned, its litres and its lye held."""
    desk = new_day(tmp_path, VirtualClock())
    desk.record(PlanChanged("lots.a.mass", Amount(410, "g")))
    desk.record(PlanChanged("water.hardness", Amount(14, "dH")))
    desk.record(PinSet("vat.fill", Amount(11, "L")))
    desk.record(PinSet("stock.alkali", Amount(5, "g")))
    return desk


def choose(desk: Desk, method: str) -> None:
    """Choose a kind of vat in the form."""
    desk.type("method", method)
    desk.leave()


@pytest.mark.parametrize("method", [key for key, item in methods().items() if not item.usual])
def test_lots_tubs_and_water_stay(desk: Desk, method: str) -> None:
    """Only the kind of vat is another, and the amount of lye that was held is let go."""
    before = desk.plan
    choose(desk, method)
    after = desk.state.plan
    assert after.method == method
    assert (after.lots, after.vessels, after.water, after.shelf) == (
        before.lots, before.vessels, before.water, before.shelf,
    )  # fmt: skip
    assert {pin.figure for pin in after.pins} == {"vat.fill"}
    assert desk.sheet.value("vat.fill") == 11


def test_it_is_one_act_and_undone_as_one(desk: Desk) -> None:
    """What was held comes back with the kind of vat that it was held for."""
    before = desk.plan
    choose(desk, "copperas-lime")
    take_back(desk)
    assert desk.state.plan == before


def test_it_is_in_the_log_and_reads_back(desk: Desk) -> None:
    """The fold of the log comes to the same plan."""
    choose(desk, "zinc-lime")
    assert isinstance(desk.state.entries[-1].event, MethodChosen)
    assert fold(desk.keeping.session).plan == desk.plan


def test_a_log_of_before_keeps_what_was_held(desk: Desk) -> None:
    """The older event means what it meant: it changes that one place alone."""
    desk.record(PlanChanged("method", "copperas-lime"))
    assert {pin.figure for pin in desk.state.plan.pins} == {"vat.fill", "stock.alkali"}


@pytest.mark.parametrize("step", ["stock.alkali_in", "stock.reducer_in", "vat.alkali_in", "vat.reducer_in"])
def test_once_powder_is_in_it_is_refused(desk: Desk, step: str) -> None:
    """The sentence says what holds which powders, and what to do instead; the plan stays."""
    desk.record(StepDone(step))
    before = desk.plan.method
    desk.type("method", "copperas-lime")
    said = desk.wrong["method"].words
    assert "holds lye and reducer already and takes no other powders" in said
    assert "another day" in said
    desk.leave()
    assert desk.state.plan.method == before


def test_the_same_kind_again_is_not_refused(desk: Desk) -> None:
    """Typing the kind of vat that it is says nothing."""
    desk.record(StepDone("stock.alkali_in"))
    desk.type("method", desk.plan.method)
    assert "method" not in desk.wrong


@pytest.mark.parametrize(
    ("material", "asked"),
    [("slaked-lime", True), ("fructose", True), ("copperas", True), ("soda-ash", False), ("lye", False)],
)
def test_powders_of_another_kind_are_asked_about(desk: Desk, material: str, asked: bool) -> None:
    """Lime, sugar and copperas belong into no vat of lye; soda ash, which holds one for wool, does."""
    desk.record(VatMade())
    try:
        put_in(desk, CorrectionMade(material=material, amount=Amount(1, "g")))
        rules = set()
    except Held as held:
        rules = {getattr(item, "rule", "") for item in held.asked}
    assert ("other-powder" in rules) == asked


def test_lime_and_soda_are_lye(desk: Desk) -> None:
    """Soda ash into a vat of lime: the question says what becomes of it."""
    choose(desk, "fructose-lime")
    desk.record(VatMade())
    with pytest.raises(Held, match="Lime and soda turn to lye"):
        put_in(desk, CorrectionMade(material="soda-ash", amount=Amount(5, "g")))


def test_every_figure_that_goes_is_one(desk: Desk) -> None:
    """What is let go are figures of some plan, and each is a powder's, a warmth's or a wait's."""
    there: set[str] = set()
    for method in methods():
        for fibre in ("linen", "wool"):
            choose(desk, method)
            desk.record(PlanChanged("lots.a.fibre", fibre))
            there |= {figure.id for figure in compute(desk.plan).figures}
    assert set(OF_THE_METHOD) <= there
    assert powder(desk.plan, "alkali")
