"""What a notice offers to hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.recipe.plans import plan_with, wool_plan

from vatside.recipe.compute import compute
from vatside.recipe.place import set_value
from vatside.recipe.plan import Plan
from vatside.recipe.sheet import Sheet, Weight
from vatside.recipe.show import figure_text
from vatside.units import Amount


def put_right(plan: Plan) -> Sheet:
    """Hold what the plan's first notice with a remedy offers."""
    for path, amount in next(notice.remedy for notice in compute(plan).notices if notice.remedy):
        plan = set_value(plan, path, amount)
    return compute(plan)


@pytest.mark.parametrize("fibre", ["wool", "silk", "alpaca"])
def test_held_as_offered_the_vat_suits_the_fibre(fibre: str) -> None:
    """The usual lye harms protein; with the amounts held that the notice offers nothing is in danger or short."""
    sheet = put_right(plan_with(lots__a__fibre=fibre))
    assert not [notice for notice in sheet.notices if notice.weight is Weight.DANGER]
    assert sheet["vat.alkali_left"].value > 0
    assert sheet["vat.window_low"].value <= sheet["vat.pH"].value <= sheet["vat.window_high"].value + 0.3


def test_only_the_notice_about_pH_offers_amounts() -> None:
    """The starter plan's danger offers lye for stock and sharpening."""
    offered = [notice.remedy for notice in compute(wool_plan()).notices if notice.remedy]
    assert [[path for path, _ in remedy] for remedy in offered] == [["stock.alkali", "vat.alkali"]]


@given(st.integers(40, 900))
def test_the_spoons_said_are_those_of_the_figure_held(grams: int) -> None:
    """What the notice says of the stock's lye stands so in the stock once it is held: no second count of spoons."""
    plan = set_value(wool_plan(), "lots.a.mass", Amount(grams, "g"))
    notice = next(notice for notice in compute(plan).notices if notice.remedy)
    for path, amount in notice.remedy:
        plan = set_value(plan, path, amount)
    held = figure_text(compute(plan)["stock.alkali"], plan)
    assert f"{held.main} ({held.second}) in the stock" in notice.text
