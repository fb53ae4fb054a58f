"""What a lot's dips rest on, in words."""

from __future__ import annotations

from attrs import evolve
from tests.plan.plans import plan_with

from vatside.dips.lot import dips_lines, dips_words
from vatside.log.fold import fold, sheet_of
from vatside.plan.plan import Learned, Plan
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
from vatside.storage.places import samples_folder
from vatside.storage.session_text import loaded_of


def words(plan: Plan) -> str:
    """Give the words of the first lot."""
    return dips_words(plan, compute(plan), plan.lots[0])


def numbers(plan: Plan) -> str:
    """Give the numbers that the sheet has for the pieces of the first lot."""
    sheet = compute(plan)
    each = [dips for _, dips in sheet.piece_dips]
    low, high = (round(sheet.value(f"dip.a.{name}")) for name in ("dips_low", "dips_high"))
    assert low <= min(each) <= max(each) < high
    dips = f"{min(each)} to {max(each)}" if min(each) < max(each) else f"{max(each)}"
    return f"{dips} dips ({low} to {high})"


def test_without_results_it_is_the_table_alone() -> None:
    """The starter's linen rests on the practice table."""
    assert words(starter_plan()) == f"{numbers(starter_plan())}, by no result of yours yet"


def test_with_results_they_are_counted() -> None:
    """Three lots that were recorded on other days, and one."""
    three = evolve(starter_plan(), learned=(Learned("cellulose", 0.9, 0.2, 3),))
    assert words(three) == f"{numbers(three)}, by 3 results of yours"
    one = evolve(starter_plan(), learned=(Learned("cellulose", 0.9, 0.3, 1),))
    assert words(one).endswith(", by 1 result of yours")


def test_results_of_other_fibres_say_nothing_of_this_one() -> None:
    """What wool took says nothing of linen."""
    wool = evolve(starter_plan(), learned=(Learned("protein", 0.9, 0.2, 3),))
    assert words(wool).endswith(", by no result of yours yet")


def test_a_range_is_not_said_twice() -> None:
    """Where the pieces take as few and as many dips as the range has, it stands there once."""
    day = fold(loaded_of(samples_folder() / "finished-day.json").session)
    assert dips_words(day.plan, sheet_of(day), day.plan.lots[0]) == "5 to 6 dips, by no result of yours yet"


def test_what_she_holds_is_said_to_be_hers() -> None:
    """Held dips, and a held uptake."""
    assert words(plan_with(starter_plan(), dip__a__dips="4")) == "4 dips, as you set them"
    assert words(plan_with(starter_plan(), dip__a__factor="80 %")).endswith(", by the uptake you set")


def test_lots_of_which_the_same_is_said_share_a_line() -> None:
    """Three that are held at four dips: two are named and one is counted."""
    plan = starter_plan()
    for name in ("Runner", "Apron"):
        plan = evolve(plan, lots=(*plan.lots, evolve(plan.lots[0], id=new_lot(plan).id, name=name)))
    plan = plan_with(plan, dip__a__dips="4", dip__b__dips="4", dip__c__dips="4")
    assert dips_lines(plan, compute(plan)) == ("Linen napkins, Runner and 1 more lot: 4 dips, as you set them",)
