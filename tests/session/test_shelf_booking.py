"""Booking on the shelf what a session used, once and for all."""

from __future__ import annotations

from datetime import timedelta

import pytest
from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.recipe.plans import plan_with
from tests.session.played import Played
from tests.session.shelves import MAY, item, noted
from tests.session.strategies import sessions

from vatside.recipe.compute import compute
from vatside.recipe.starter import starter_plan
from vatside.session.care_events import CorrectionMade, VatMade
from vatside.session.events import StepReopened
from vatside.session.session import Session
from vatside.session.shelf.booking import book, taking
from vatside.session.shelf.events import Item, ItemBought, ItemChanged, ItemFinished, Noted, ShelfEvent
from vatside.session.shelf.shelf import Shelf, shelf
from vatside.session.shelf.strike import strike_factor, struck
from vatside.units import Amount

INDIGO = item("i1", "indigo")
LYE = item("l1", "lye")


def stocked(*items: Item) -> Shelf:
    """A shelf with these items."""
    return shelf(noted(*(ItemBought(one) for one in items)))


def more(old: Shelf, *events: ShelfEvent) -> Shelf:
    """The shelf after some more events."""
    first = len(old.noted) + 1
    return shelf(
        (*old.noted, *(Noted(first + number, f"m{first + number}", MAY, event) for number, event in enumerate(events)))
    )


def booked(old: Shelf, day: Played) -> Shelf:
    """The shelf once the day is booked."""
    return more(old, *book(old, day.session).events)


def test_a_day_takes_what_its_steps_put_in() -> None:
    """Ground 6.486 g of indigo (227 g at 0.8 % by 70 % and 40 %): so much less is there."""
    found = booked(stocked(INDIGO), Played().done("stock.paste"))
    assert found["i1"].left == pytest.approx(100 - 6.486)


def test_booking_twice_changes_nothing() -> None:
    """The second time there is nothing to note."""
    day = Played().done("stock.paste", "stock.alkali_in")
    once = booked(stocked(INDIGO, LYE), day)
    assert book(once, day.session).events == ()


def test_a_corrected_amount_is_put_right_not_added() -> None:
    """First 6.486 g, then the dyer says that it was 4."""
    day = Played().done("stock.paste")
    once = booked(stocked(INDIGO), day)
    assert booked(once, day.set("stock.pigment", "4 g"))["i1"].left == 96


def test_a_reopened_step_gives_back() -> None:
    """What was not done after all was not used."""
    day = Played().done("stock.paste")
    once = booked(stocked(INDIGO), day)
    day.happen(StepReopened("stock.paste"))
    again = booked(once, day)
    assert again["i1"].left == 100
    assert book(again, day.session).events == ()


def test_two_days_are_two_uses() -> None:
    """The same step of another session counts by itself."""
    found = stocked(INDIGO)
    for name in ("s1", "s2"):
        found = booked(found, Played(ident=name).set("stock.pigment", "5 g").done("stock.paste"))
    assert found["i1"].left == 90


def test_one_powder_in_two_steps_is_booked_twice() -> None:
    """Lye for the stock and lye to sharpen."""
    day = Played().set("stock.alkali", "8 g").set("vat.alkali", "5 g").done("stock.alkali_in", "vat.alkali_in")
    assert booked(stocked(LYE), day)["l1"].left == 87


def test_a_correction_of_the_vat_is_booked() -> None:
    """Three grams more of lye."""
    day = Played().happen(VatMade()).happen(CorrectionMade(material="alkali", amount=Amount(3, "g")))
    assert booked(stocked(LYE), day)["l1"].left == 97


def test_the_time_of_a_use_is_that_of_its_step() -> None:
    """Booked weeks later, it still counts from the day it was used."""
    (event,) = book(stocked(INDIGO), Played().done("stock.paste").session).events
    assert event.used == Played().session.created + timedelta(minutes=1)


def test_what_could_come_from_two_bags_waits_for_an_answer() -> None:
    """Two bags alike: nobody guesses."""
    found = book(stocked(INDIGO, evolve(INDIGO, id="i2")), Played().done("stock.paste").session)
    assert found.events == ()
    assert [(use.figure, use.item) for use in found.unplaced] == [("stock.pigment", "")]


def test_an_answer_given_once_stays() -> None:
    """The dyer said that it was the second bag; later the amount is put right."""
    day = Played().done("stock.paste")
    two = stocked(INDIGO, evolve(INDIGO, id="i2"))
    answered = more(two, evolve(book(two, day.session).unplaced[0], item="i2"))
    assert book(answered, day.session).events == ()
    found = booked(answered, day.set("stock.pigment", "4 g"))
    assert [owned.left for owned in found.owned] == [100, 96]


def test_the_bag_that_was_taken_into_the_plan_is_the_one() -> None:
    """Of two bags, the one whose purity the plan took over."""
    two = stocked(INDIGO, evolve(INDIGO, id="i2", purity=Amount(55, "%")))
    taken = taking(starter_plan(), two["i2"])
    assert taken is not None
    found = booked(two, Played().happen(taken).set("stock.pigment", "5 g").done("stock.paste"))
    assert [owned.left for owned in found.owned] == [100, 95]


def test_a_bag_that_was_taken_and_is_not_on_this_shelf_is_passed_over() -> None:
    """Taken from a shelf elsewhere: here it can only have been the one that stands here."""
    taken = taking(starter_plan(), stocked(evolve(INDIGO, id="elsewhere"))["elsewhere"])
    assert taken is not None
    day = Played().happen(taken).set("stock.pigment", "5 g").done("stock.paste")
    assert booked(stocked(INDIGO), day)["i1"].left == 95


def test_a_bag_of_the_plans_purity_and_spoon_is_the_one() -> None:
    """The plan says 55 %: that is written on one of the bags only."""
    two = stocked(INDIGO, evolve(INDIGO, id="i2", purity=Amount(55, "%")))
    day = Played(plan_with(shelf__indigo__purity="55 %", stock__pigment="5 g")).done("stock.paste")
    assert [owned.left for owned in booked(two, day).owned] == [100, 95]


def test_a_new_bag_takes_no_old_use_over() -> None:
    """Booked from the first bag, which is finished since; the second stays whole."""
    day = Played().set("stock.pigment", "5 g").done("stock.paste")
    old = booked(stocked(INDIGO), day)
    new = more(old, ItemFinished("i1"), ItemBought(evolve(INDIGO, id="i2")))
    assert book(new, day.session).events == ()


def test_what_is_not_on_the_shelf_is_left_open() -> None:
    """An empty shelf books nothing and loses nothing."""
    found = book(stocked(), Played().done("stock.paste").session)
    assert (found.events, len(found.unplaced)) == ((), 1)


@settings(max_examples=60)
@given(sessions())
def test_booking_any_session_again_changes_nothing(past: Session) -> None:
    """Whatever happened in it, the second booking finds all done."""
    items = [item(name, name) for name in ("indigo", "lye", "thiourea-dioxide", "soap", "detergent", "vinegar")]
    full = stocked(*items)
    once = more(full, *book(full, past).events)
    assert book(once, past).events == ()


@settings(max_examples=40)
@given(st.lists(st.sampled_from(["stock.paste", "stock.alkali_in", "vat.alkali_in", "vat.reducer_in"]), max_size=6))
def test_booking_step_by_step_is_booking_at_the_end(done: list[str]) -> None:
    """After every step or once, the shelf is the same."""
    live = stocked(INDIGO, LYE)
    day = Played()
    for step in done:
        live = booked(live, day.done(step))
    end = booked(stocked(INDIGO, LYE), day)
    assert [owned.left for owned in live.owned] == pytest.approx([owned.left for owned in end.owned])


def test_an_item_goes_into_the_plan_with_its_purity_and_spoon() -> None:
    """55 % and 2.6 g to the spoon: the plan takes both, and less powder."""
    bag = stocked(evolve(INDIGO, purity=Amount(55, "%"), spoon_mass=Amount(2.6, "g"), lot="Neel"))["i1"]
    taken = taking(starter_plan(), bag)
    assert taken is not None
    plan = Played().happen(taken).state.plan
    assert compute(plan)["stock.pigment"].value == pytest.approx(227 * 0.008 / 0.7 / 0.55)
    assert plan.shelf[0].spoon_mass == Amount(2.6, "g")
    assert taken.lot == "Neel"


def test_another_powder_of_the_same_kind_takes_its_place() -> None:
    """Synthetic indigo fills the place of the natural one."""
    bag = stocked(Item("i1", "synthetic-indigo", Amount(100, "g"), Amount(95, "%")))["i1"]
    taken = taking(starter_plan(), bag)
    assert taken is not None
    state = Played().happen(taken).state
    assert state.misfits == ()
    assert compute(state.plan)["stock.pigment"].value == pytest.approx(227 * 0.008 / 0.7 / 0.95)


def test_soap_goes_in_by_its_spoon() -> None:
    """It has no purity to set, only a spoon."""
    bag = stocked(Item("s1", "soap", Amount(500, "g"), Amount(100, "%"), spoon_mass=Amount(6, "g")))["s1"]
    taken = taking(starter_plan(), bag)
    assert taken is not None
    state = Played().happen(taken).state
    assert state.misfits == ()
    assert compute(state.plan)["scour.wool.soap"].teaspoons == pytest.approx(7.4002 / 6)


def test_a_powder_that_the_method_has_no_use_for_stays_on_the_shelf() -> None:
    """Slaked lime in a lye vat."""
    assert taking(starter_plan(), stocked(item("x", "slaked-lime"))["x"]) is None


def test_the_strike_is_the_ratio_of_the_strips() -> None:
    """The new strip took a fifth more: its powder counts for a fifth more."""
    assert strike_factor(2.0, 2.4) == pytest.approx(1.2)


def test_a_stronger_lot_is_dosed_lighter_for_the_same_blue() -> None:
    """Struck at 125 %, a lot of 40 % counts as 50 %: four fifths of the powder."""
    bag = more(stocked(INDIGO), struck("i1", 2.0, 2.5))["i1"]
    taken = taking(starter_plan(), bag)
    assert taken is not None
    plain = compute(starter_plan())["stock.pigment"].value
    assert compute(Played().happen(taken).state.plan)["stock.pigment"].value == pytest.approx(plain * 0.8)


@pytest.mark.parametrize(("old", "new"), [(0, 1), (1, 0), (-1, 1), (1, float("nan")), (1, 11), (11, 1)])
def test_strips_that_cannot_be_are_refused(old: float, new: float) -> None:
    """No colour, or ten times apart, is no comparison."""
    with pytest.raises(ValueError, match="strip"):
        strike_factor(old, new)


@given(st.floats(0.1, 10), st.floats(0.1, 10))
def test_striking_back_and_forth_comes_to_one(one: float, other: float) -> None:
    """The old lot beside the new is the inverse of the new beside the old."""
    if 0.1 <= one / other <= 10:
        assert strike_factor(one, other) * strike_factor(other, one) == pytest.approx(1)


def test_a_strike_is_kept_with_the_item() -> None:
    """As an event like any other."""
    assert struck("i1", 2, 3) == ItemChanged("i1", "strike", Amount(150, "%"))
