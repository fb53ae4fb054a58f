"""The alkali that raises a vat for wool or silk to the pH of the plant fibres."""

from __future__ import annotations

import pytest
from tests.plan.plans import plan_of_lots, plan_with, says

from vatside.chemistry.bath import add_grams
from vatside.chemistry.liquor import solve
from vatside.plan.measures import powder
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.baths import vat_bath
from vatside.recipe.compute import compute


def low(first: str = "silk", method: str = "tdo-lye", **changes: str) -> Plan:
    """Give a delicate fibre and cotton in a vat with little alkali."""
    plan = plan_of_lots((first, "60 g"), ("cotton", "300 g"), method=method)
    return plan_with(plan, **{"stock__alkali": "3 g", "vat__alkali": "0 g", **changes})


@pytest.mark.parametrize("first", ["silk", "wool"])
@pytest.mark.parametrize("method", ["tdo-lye", "dithionite-lye", "fructose-lime"])
def test_it_brings_the_vat_of_the_plan_to_the_ph_of_cotton(first: str, method: str) -> None:
    """Put into the plan's vat, the grams of the sheet bring it to pH 11 at its temperature."""
    plan = low(first, method)
    sheet = compute(plan)
    alkali = powder(plan, "alkali")
    bath = vat_bath(plan, lambda figure: sheet[figure].value)
    raised = add_grams(bath, alkali.material.species, sheet["dip.alkali"].value * alkali.purity)
    assert solve(bath).pH < 11
    assert solve(raised).pH == pytest.approx(11, abs=0.02)


def test_it_says_what_it_is_for_in_grams_and_spoons() -> None:
    """The figure of the dips names alkali and fibre, and has teaspoons."""
    figure = compute(low())["dip.alkali"]
    assert figure.label == "Lye to raise it for cotton"
    assert figure.stage is Stage.DIP
    assert figure.teaspoons is not None
    assert figure.rough


def test_a_weaker_powder_takes_more() -> None:
    """At half the purity twice the grams, the stock and the vat holding the same alkali."""
    weak = low(shelf__alkali__purity="50 %", stock__alkali="6 g")
    strong = low(shelf__alkali__purity="100 %")
    assert compute(weak)["dip.alkali"].value == pytest.approx(2 * compute(strong)["dip.alkali"].value, rel=0.01)


@pytest.mark.parametrize("lots", [[("silk", "60 g")], [("cotton", "300 g")], [("silk", "60 g"), ("wool", "60 g")]])
def test_one_kind_of_fibre_wants_none(lots: list[tuple[str, str]]) -> None:
    """Without plant fibres after wool or silk nothing is raised."""
    plan = plan_with(plan_of_lots(*lots), stock__alkali="3 g", vat__alkali="0 g")
    with pytest.raises(KeyError):
        compute(plan)["dip.alkali"]


def test_a_vat_that_stands_there_wants_none() -> None:
    """With lye alone above pH 11 there is no figure to put in."""
    sheet = compute(low(vat__alkali="8 g", **{"vat__baking-soda": "0 g", "vat__soda-ash": "0 g"}))
    assert sheet["vat.pH"].value > 11
    assert sheet.value("dip.alkali", -1) == -1


def test_no_notice_stands_where_it_can_be_raised() -> None:
    """That no amount would do is only said where it is so."""
    assert not says(compute(low()), "brings this bath")
