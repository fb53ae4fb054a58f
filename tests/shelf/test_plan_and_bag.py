"""Where plan and shelf do not say the same of a powder."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.plan.plans import plan_with, wool_plan
from tests.shelf.shelves import item, of

from vatside.plan.plan import Plan
from vatside.recipe.compute import compute
from vatside.shelf.cost import cost
from vatside.shelf.events import Item, ItemBought, ItemFinished
from vatside.shelf.plan_and_bag import disagreements, from_shelf, taken_into, undecided, why_not
from vatside.shelf.shelf import Shelf
from vatside.shelf.supplies import Need, how_many_more, needs, source, taking
from vatside.units import Amount

BAG = Item("n", "indigo", Amount(100, "g"), Amount(24, "%"), lot="A", price=Amount(18.5, ""))
PLAN = plan_with(stock__pigment="24 g")
"""24.0 g of a powder that the plan takes for 40 %."""


def stocked(*items: Item) -> Shelf:
    """A shelf with these items."""
    return of(*(ItemBought(one) for one in items))


def with_it(plan: Plan, shelf: Shelf, ident: str) -> Plan:
    """The plan once a bag is in it."""
    event = taking(plan, shelf[ident])
    assert event is not None
    return taken_into(plan, event)


def indigo(plan: Plan, shelf: Shelf) -> Need:
    """What the plan needs of pigment."""
    return next(need for need in needs(plan, shelf) if need.material == "indigo")


def test_grams_are_grams_of_the_bag_that_is_weighed_from() -> None:
    """24.0 g out of 100 g at 18.50: 100 g there, four such days, 4.44 for one; whatever the purities."""
    shelf = stocked(BAG)
    assert indigo(PLAN, shelf).grams == pytest.approx(24)
    assert indigo(PLAN, shelf).have == 100
    assert how_many_more(PLAN, shelf).days == 4
    assert cost(PLAN, shelf).total == pytest.approx(4.44)


def test_a_bag_of_another_purity_is_said_with_what_it_takes() -> None:
    """6.486 g at 40 % are 10.81 g at 24 %."""
    (found,) = disagreements(wool_plan(), stocked(BAG))
    assert found.owned is not None
    assert found.owned.item.id == "n"
    assert "A counts as 24 %, the plan reckons with 40 %: 10.8 g of it instead of 6.5 g" in found.words


@pytest.mark.parametrize("other", [evolve(BAG, purity=Amount(40, "%")), evolve(BAG, lot="Other")])
def test_two_unlike_bags_are_left_to_the_dyer(other: Item) -> None:
    """Another purity, or another lot of the same; also where one is as pure as a new plan happens to reckon."""
    said = undecided(wool_plan(), stocked(BAG, evolve(other, id="m")))
    assert said == "Two bags of natural indigo powder, the plan reckons with 40 %: o, o and space say which."


def test_one_bag_or_two_alike_ask_nothing() -> None:
    """Which of two bags of one lot is opened changes no blue; what is finished is none."""
    assert undecided(wool_plan(), stocked(BAG)) == ""
    assert undecided(wool_plan(), stocked(BAG, evolve(BAG, id="m"))) == ""
    other = evolve(BAG, id="m", lot="Other")
    gone = of(ItemBought(BAG), ItemBought(other), ItemFinished("m"))
    assert undecided(wool_plan(), gone) == ""


def test_a_bag_purer_than_pure_goes_into_no_new_plan_unasked() -> None:
    """38 % that is said to strike at 523 %, as an older Vatside let stand."""
    bag = evolve(BAG, purity=Amount(38, "%"), strike=Amount(523, "%"))
    assert from_shelf(wool_plan(), stocked(bag)) == ()


def test_the_bag_in_the_plan_settles_it() -> None:
    """Nothing to say any more, and sheet, need and cost are of one mind: 10.81 g, 2.00."""
    shelf = stocked(BAG)
    plan = with_it(wool_plan(), shelf, "n")
    assert disagreements(plan, shelf) == ()
    assert indigo(plan, shelf).grams == compute(plan)["stock.pigment"].value == pytest.approx(10.81, abs=0.001)
    assert cost(plan, shelf).total == pytest.approx(10.81 * 0.185, abs=0.001)


def test_the_strike_counts_as_purity_does() -> None:
    """24 % that strikes at 125 % counts as 30 %."""
    (found,) = disagreements(wool_plan(), stocked(evolve(BAG, strike=Amount(125, "%"))))
    assert "counts as 30 %" in found.words


def test_a_hair_is_no_disagreement() -> None:
    """39.5 % for 40 % shows on no kitchen scale."""
    assert disagreements(wool_plan(), stocked(evolve(BAG, purity=Amount(39.5, "%")))) == ()


def test_a_spoon_that_was_weighed_is_offered() -> None:
    """The plan guesses 2.2 g to the spoon; the bag's ten were weighed."""
    shelf = stocked(item("i", spoon_mass=Amount(2.6, "g")))
    (found,) = disagreements(wool_plan(), shelf)
    assert "weighs 2.6 g; in the plan it weighs 2.2 g, a guess" in found.words
    assert disagreements(with_it(wool_plan(), shelf, "i"), shelf) == ()


def test_a_bag_whose_spoon_nobody_weighed_takes_none_away() -> None:
    """The plan knows more than the shelf: nothing to say."""
    assert disagreements(plan_with(shelf__indigo__spoon_mass="2.6 g"), stocked(item("i"))) == ()


def test_a_soap_has_no_purity_to_disagree_about() -> None:
    """A plan cannot reckon with one."""
    assert disagreements(wool_plan(), stocked(Item("s", "soap", Amount(500, "g"), Amount(60, "%")))) == ()


def test_of_two_bags_the_plans_own_is_enough() -> None:
    """The other lot is worth what is in it: 100 g of 24 % stand in for 60 g of 40 %."""
    shelf = stocked(BAG, item("old", grams=50))
    assert disagreements(wool_plan(), shelf) == ()
    found = indigo(wool_plan(), shelf)
    assert found.bag is not None
    assert (found.bag.item.id, [owned.item.id for owned in found.others]) == ("old", ["n"])
    assert found.have == pytest.approx(50 + 60)


def test_two_bags_of_which_none_is_the_plans_ask_which() -> None:
    """24 and 30 %, and a plan of 40 %: nobody guesses."""
    (found,) = disagreements(wool_plan(), stocked(BAG, evolve(BAG, id="m", purity=Amount(30, "%"))))
    assert found.owned is None
    assert "none of the 2 bags is that" in found.words


def test_another_pigment_can_take_the_place() -> None:
    """Synthetic indigo only: 6.486 x 40 / 95 = 2.731 g of it."""
    (found,) = disagreements(wool_plan(), stocked(Item("s", "synthetic-indigo", Amount(50, "g"), Amount(95, "%"))))
    assert found.owned is not None
    assert "There is no natural indigo powder; synthetic indigo powder can take its place: 2.7 g" in found.words


def test_a_finished_bag_disagrees_with_nobody() -> None:
    """It is weighed from no more."""
    assert disagreements(wool_plan(), of(ItemBought(BAG), ItemFinished("n"))) == ()


def test_what_was_taken_is_the_source_while_it_lasts() -> None:
    """Two bags alike: the one that was taken; once that is finished, the other."""
    two = (ItemBought(item("a")), ItemBought(item("b")))
    found = source(of(*two), wool_plan(), "indigo", {"indigo": "b"})
    assert found is not None
    assert found.item.id == "b"
    left = source(of(*two, ItemFinished("b")), wool_plan(), "indigo", {"indigo": "b"})
    assert left is not None
    assert left.item.id == "a"
    assert source(of(*two), wool_plan(), "indigo") is None


def test_a_new_plan_takes_the_only_bag_of_a_material() -> None:
    """The bag of 24 % goes in unasked; of two bags none does, and no other pigment takes the place."""
    (event,) = from_shelf(wool_plan(), stocked(BAG))
    assert (event.item, event.place, event.entry.purity) == ("n", "indigo", Amount(24, "%"))
    assert from_shelf(wool_plan(), stocked(BAG, evolve(BAG, id="m", purity=Amount(30, "%")))) == ()
    assert from_shelf(wool_plan(), stocked(Item("s", "synthetic-indigo", Amount(50, "g"), Amount(95, "%")))) == ()


def test_essence_does_not_go_in_as_vinegar() -> None:
    """A plan takes vinegar up to 30 %; essence of 80 % is refused with the reason, and goes in nowhere unasked."""
    shelf = stocked(Item("v", "vinegar", Amount(500, "g"), Amount(80, "%")))
    (found,) = disagreements(wool_plan(), shelf)
    assert "cannot go into this plan as it is. Vinegar, strength: 80 % cannot be" in found.words
    assert from_shelf(wool_plan(), shelf) == ()
    event = taking(wool_plan(), shelf["v"])
    assert event is not None
    assert why_not(wool_plan(), event)
