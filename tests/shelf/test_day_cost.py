"""What a day costs by what was done: what went in, what is still to come, and what stays in a kept vat."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.log.played import Played
from tests.plan.plans import wool_plan
from tests.shelf.shelves import item, of

from vatside.dayline.day_steps import steps
from vatside.days.keep_vat import keep
from vatside.log.events.vat import CorrectionMade, VatCarriedOn
from vatside.recipe.compute import compute
from vatside.shelf.booking import as_booked, book
from vatside.shelf.cost import Cost, CostRow, cost, day_cost
from vatside.shelf.events import Item, ItemBought
from vatside.shelf.shelf import Shelf
from vatside.units import Amount
from vatside.vat.kept_vat import KeptVat

INDIGO = item("i1", price=Amount(40, ""))
"""0.40 a gram."""
LYE = evolve(item("l1", "lye", price=Amount(2, "")), purity=Amount(99, "%"))
"""0.02 a gram."""


def stocked(*items: Item) -> Shelf:
    """A shelf with these items."""
    return of(*(ItemBought(one) for one in items))


def row(found: Cost, part: str) -> CostRow:
    """The row whose label holds a word."""
    return next(one for one in found.rows if part in one.label)


def lye_of_plan() -> float:
    """Money for the lye of the plan."""
    return row(cost(wool_plan(), stocked(LYE)), "lye").money or 0.0


def test_a_day_not_begun_costs_its_plan() -> None:
    """Nothing went in: nothing to say of it."""
    shelf = stocked(INDIGO, LYE)
    assert day_cost(Played().session, shelf) == cost(wool_plan(), shelf)


def test_what_went_in_beside_the_plan_is_paid() -> None:
    """Six more grams of lye as a correction: 0.12 more, and the row says what went in."""
    day = Played().happen(CorrectionMade(material="lye", amount=Amount(6, "g")))
    found = day_cost(day.session, stocked(LYE))
    assert row(found, "lye").money == pytest.approx(lye_of_plan() + 0.12)
    assert row(found, "lye").went == "6.0 g went in"
    assert "by the plan what is still to come" in found.notes[0]


def test_a_step_done_counts_once() -> None:
    """6.486 g of pigment at 0.40, done as planned: no more than the plan."""
    found = day_cost(Played().done("stock.paste").session, stocked(INDIGO))
    assert row(found, "indigo powder").money == pytest.approx(6.486 * 0.4, rel=1e-3)
    assert row(found, "indigo powder").went == "6.5 g went in"


def test_a_whole_day_has_nothing_to_come() -> None:
    """All steps ticked: only what went in is named."""
    plan = wool_plan()
    day = Played().done(*(step.id for step in steps(plan, compute(plan))))
    assert "still to come" not in day_cost(day.session, stocked(INDIGO)).notes[0]


def test_what_is_booked_costs_what_its_own_bag_did() -> None:
    """Two bags of one purity, 0.40 and 0.10 a gram: booked from the cheap one."""
    shelf = stocked(evolve(INDIGO, lot="A"), evolve(INDIGO, id="i2", lot="B", price=Amount(10, "")))
    day = Played().done("stock.paste").session
    (asked,) = book(shelf, day).questions
    booking = evolve(book(shelf, day), events=asked.answered("i2"))
    found = day_cost(day, as_booked(shelf, booking))
    assert row(found, "indigo powder").money == pytest.approx(6.486 * 0.1, rel=1e-3)


def test_what_stands_in_the_kept_vat_is_not_charged() -> None:
    """Of 2.594 g of indigotin that went in (6.486 g of 40 %) 1 g was taken: the pieces pay for that, 2.5 g at 0.40."""
    played = Played().done("stock.paste", "vat.look")
    kept = keep(played.session, 1.0)
    played.happen(kept)
    found = day_cost(played.session, stocked(INDIGO))
    left = kept.vat.indigotin_g
    assert row(found, "stays in the vat").money == pytest.approx(-left / 0.4 * 0.4)
    assert found.total == pytest.approx(6.486 * 0.4 - left, rel=1e-3)
    assert sum(lot.total for lot in found.lots) == pytest.approx(found.total)
    assert any("stand in the kept vat: the pieces pay only for what they took" in note for note in found.notes)


def test_what_a_vat_brought_along_is_paid_by_what_is_taken_of_it() -> None:
    """2 g stood in it and 1.5 g stand in it when it is kept again: half a gram, 1.25 g of powder at 0.40, is 0.50."""
    vat = KeptVat(20, 2.0, "sodium hydroxide", 4, "thiourea dioxide", 1)
    played = Played()
    played.happen(VatCarriedOn("s0", "Before", played.clock.now().utc, vat))
    kept = keep(played.session, 0.5)
    played.happen(evolve(kept, vat=evolve(kept.vat, indigotin_g=1.5)))
    found = day_cost(played.session, stocked(INDIGO))
    stood, stays = row(found, "stood in the vat").money, row(found, "stays in the vat").money
    assert (stood or 0) + (stays or 0) == pytest.approx(0.5)
