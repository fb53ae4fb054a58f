"""Booking on the shelf what a session used, once and for all."""

from __future__ import annotations

from datetime import timedelta

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.effort import examples
from tests.log.played import Played
from tests.log.strategies import sessions
from tests.plan.plans import plan_with, wool_plan
from tests.shelf.shelves import MAY, item, noted

from vatside.dayline.day_steps import steps
from vatside.log.events.day import StepReopened, Undone
from vatside.log.events.vat import CorrectionMade, VatLetGo, VatMade
from vatside.log.state import Session
from vatside.recipe.compute import compute
from vatside.shelf.booking import Booking, book, by_bag
from vatside.shelf.events import Item, ItemBought, ItemFinished, Noted, PowderUsed, ShelfEvent
from vatside.shelf.shelf import Shelf, shelf
from vatside.shelf.supplies import taking
from vatside.storage.places import SAMPLE_ID
from vatside.units import Amount

INDIGO = item("i1", "indigo")
LYE = item("l1", "lye")


def unplaced(found: Booking) -> tuple[PowderUsed, ...]:
    """Uses of which nobody can tell which bag they came from."""
    return tuple(use for question in found.questions for use in question.uses)


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
    for name, day in (("s1", 2), ("s2", 9)):
        played = Played(ident=name, clock=VirtualClock(MAY + timedelta(days=day)))
        found = booked(found, played.set("stock.pigment", "5 g").done("stock.paste"))
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
    assert [(use.figure, use.item) for use in unplaced(found)] == [("stock.pigment", "")]


def test_an_answer_given_once_stays() -> None:
    """The dyer said that it was the second bag; later the amount is put right."""
    day = Played().done("stock.paste")
    two = stocked(INDIGO, evolve(INDIGO, id="i2"))
    answered = more(two, evolve(unplaced(book(two, day.session))[0], item="i2"))
    assert book(answered, day.session).events == ()
    found = booked(answered, day.set("stock.pigment", "4 g"))
    assert [owned.left for owned in found.owned] == [100, 96]


def test_the_bag_that_was_taken_into_the_plan_is_the_one() -> None:
    """Of two bags, the one whose purity the plan took over."""
    two = stocked(INDIGO, evolve(INDIGO, id="i2", purity=Amount(55, "%")))
    taken = taking(wool_plan(), two["i2"])
    assert taken is not None
    found = booked(two, Played().happen(taken).set("stock.pigment", "5 g").done("stock.paste"))
    assert [owned.left for owned in found.owned] == [100, 95]


def test_a_bag_that_was_taken_and_is_not_on_this_shelf_is_passed_over() -> None:
    """Taken from a shelf elsewhere: here it can only have been the one that stands here."""
    taken = taking(wool_plan(), stocked(evolve(INDIGO, id="elsewhere"))["elsewhere"])
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
    assert (found.events, len(unplaced(found))) == ((), 1)


@examples(40)
@given(sessions())
def test_booking_any_session_again_changes_nothing(past: Session) -> None:
    """Whatever happened in it, the second booking finds all done."""
    items = [item(name, name) for name in ("indigo", "lye", "thiourea-dioxide", "soap", "detergent", "vinegar")]
    full = stocked(*items)
    once = more(full, *book(full, past).events)
    assert book(once, past).events == ()


@examples(30)
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
    bag = stocked(evolve(INDIGO, purity=Amount(55, "%"), spoon_mass=Amount(2.6, "g"), lot="A"))["i1"]
    taken = taking(wool_plan(), bag)
    assert taken is not None
    plan = Played().happen(taken).state.plan
    assert compute(plan)["stock.pigment"].value == pytest.approx(227 * 0.008 / 0.7 / 0.55)
    assert plan.shelf[0].spoon_mass == Amount(2.6, "g")
    assert taken.lot == "A"


def test_another_powder_of_the_same_kind_takes_its_place() -> None:
    """Synthetic indigo fills the place of the natural one."""
    bag = stocked(Item("i1", "synthetic-indigo", Amount(100, "g"), Amount(95, "%")))["i1"]
    taken = taking(wool_plan(), bag)
    assert taken is not None
    state = Played().happen(taken).state
    assert state.misfits == ()
    assert compute(state.plan)["stock.pigment"].value == pytest.approx(227 * 0.008 / 0.7 / 0.95)


def test_soap_goes_in_by_its_spoon() -> None:
    """It has no purity to set, only a spoon."""
    bag = stocked(Item("s1", "soap", Amount(500, "g"), Amount(100, "%"), spoon_mass=Amount(6, "g")))["s1"]
    taken = taking(wool_plan(), bag)
    assert taken is not None
    state = Played().happen(taken).state
    assert state.misfits == ()
    assert compute(state.plan)["scour.wool.soap"].teaspoons == pytest.approx(7.4002 / 6)


def test_a_powder_that_the_method_has_no_use_for_stays_on_the_shelf() -> None:
    """Slaked lime in a lye vat."""
    assert taking(wool_plan(), stocked(item("x", "slaked-lime"))["x"]) is None


def test_what_was_booked_stays_with_its_bag() -> None:
    """Ground from the only bag; a second one is taken in for what comes next: the first use does not move."""
    day = Played().set("stock.pigment", "5 g").done("stock.paste")
    old = booked(stocked(INDIGO), day)
    new = more(old, ItemBought(evolve(INDIGO, id="i2", purity=Amount(55, "%"))))
    taken = taking(day.state.plan, new["i2"])
    assert taken is not None
    assert book(new, day.happen(taken).session).events == ()


def test_a_bag_taken_in_between_is_that_of_the_later_steps() -> None:
    """Lye from one tin for the stock, then from another to sharpen; all booked at the end."""
    tins = stocked(LYE, evolve(LYE, id="l2", lot="new"))
    one, two = taking(wool_plan(), tins["l1"]), taking(wool_plan(), tins["l2"])
    assert one is not None
    assert two is not None
    day = Played().set("stock.alkali", "8 g").set("vat.alkali", "5 g")
    day.happen(one).done("stock.alkali_in").happen(two).done("vat.alkali_in")
    assert [owned.left for owned in booked(tins, day).owned] == [92, 95]


def test_a_step_done_again_from_another_bag_is_booked_there() -> None:
    """Opened again and given back; then done from the bag that was taken in meanwhile."""
    day = Played().set("stock.pigment", "5 g").done("stock.paste")
    shelf_ = booked(stocked(INDIGO), day)
    shelf_ = booked(shelf_, day.happen(StepReopened("stock.paste")))
    shelf_ = more(shelf_, ItemBought(evolve(INDIGO, id="i2")))
    taken = taking(day.state.plan, shelf_["i2"])
    assert taken is not None
    again = booked(shelf_, day.happen(taken).done("stock.paste"))
    assert [owned.left for owned in again.owned] == [100, 95]


def test_undoing_a_step_takes_its_booking_back() -> None:
    """As opening it again does."""
    day = Played().done("stock.paste")
    once = booked(stocked(INDIGO), day)
    assert booked(once, day.happen(Undone(day.session.seq)))["i1"].left == 100


def test_undoing_a_correction_takes_its_booking_back() -> None:
    """Three grams of lye that did not go in after all."""
    day = Played().happen(VatMade()).happen(CorrectionMade(material="alkali", amount=Amount(3, "g")))
    once = booked(stocked(LYE), day)
    assert once["l1"].left == 97
    assert booked(once, day.happen(Undone(day.session.seq)))["l1"].left == 100


def test_the_acid_at_the_end_is_booked_by_what_went_in() -> None:
    """300 mL of vinegar, 1.01 g each."""
    shelf_ = stocked(item("v1", "vinegar", 1010))
    end = VatLetGo(Amount(18, "L"), 11.0, "vinegar", Amount(300, "mL"), 7.5, "drain")
    found = booked(shelf_, Played().happen(VatMade()).happen(end))
    assert found["v1"].left == pytest.approx(1010 - 303)


def test_everything_that_a_day_puts_in_is_booked() -> None:
    """A jar of each on the shelf: soap, indigo, lye, reducer, sour and detergent all get less."""
    names = ("soap", "indigo", "lye", "thiourea-dioxide", "vinegar", "detergent")
    jars = stocked(*(item(name, name) for name in names))
    day = Played()
    ids = [step.id for step in steps(day.plan, compute(day.plan))]
    found = booked(jars, day.done(*ids))
    assert [owned.item.id for owned in found.owned if owned.left < 100] == list(names)


def test_citric_acid_taken_into_the_plan_is_the_sour() -> None:
    """The sour takes one acid: the one from her shelf, not the vinegar that the sentence names first."""
    jars = stocked(item("v1", "vinegar"), item("c1", "citric-acid"))
    taken = taking(wool_plan(), jars["c1"])
    assert taken is not None
    found = booked(jars, Played().happen(taken).done("finish.wool.sour"))
    assert found["v1"].left == 100
    assert found["c1"].left < 100


def test_the_answer_that_it_stood_on_no_shelf_stays() -> None:
    """Two bags alike, and it was neither: asked once only, and nothing is missing."""
    day = Played().done("stock.paste")
    two = stocked(INDIGO, evolve(INDIGO, id="i2"))
    (question,) = book(two, day.session).questions
    answered = more(two, *question.answered(""))
    assert book(answered, day.session) == Booking((), ())
    assert [owned.left for owned in answered.owned] == [100, 100]


def test_one_question_for_one_material() -> None:
    """Lye for the stock and to sharpen: one question, which offers both tins."""
    tins = stocked(LYE, evolve(LYE, id="l2"))
    day = Played().set("stock.alkali", "8 g").set("vat.alkali", "5 g").done("stock.alkali_in", "vat.alkali_in")
    (question,) = book(tins, day.session).questions
    assert (question.material, question.grams) == ("lye", 13)
    assert [owned.item.id for owned in question.bags(tins)] == ["l1", "l2"]


def test_a_booking_can_be_moved_to_another_bag() -> None:
    """The plan said the first, she took the second: so she says, and it stays so."""
    day = Played().set("stock.pigment", "5 g").done("stock.paste")
    two = more(booked(stocked(INDIGO), day), ItemBought(evolve(INDIGO, id="i2")))
    (asked,) = by_bag(two, "s1")
    moved = more(two, *asked.answered("i2"))
    assert [owned.left for owned in moved.owned] == [100, 95]
    assert book(moved, day.session).events == ()


def test_a_copy_of_a_sample_used_nothing() -> None:
    """Its steps were done by nobody."""
    day = Played(ident=f"{SAMPLE_ID}0123").done("stock.paste")
    assert book(stocked(INDIGO), day.session).events == ()


def test_a_copy_of_a_day_books_only_what_came_after() -> None:
    """What was done before the day was copied is booked already."""
    day = Played().set("stock.pigment", "5 g").done("stock.paste")
    once = booked(stocked(INDIGO, LYE), day)
    copy = Played(ident="copy", clock=day.clock)
    copy.session = evolve(day.session, id="copy")
    found = booked(once, copy.set("stock.alkali", "8 g").done("stock.alkali_in"))
    assert [owned.left for owned in found.owned] == [95, 92]
