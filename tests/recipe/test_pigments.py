"""Pigments that are no plain powder: reduced already, or a paste of leaves."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.plan.plans import wool_plan

from vatside.catalogue.load import materials
from vatside.forms.fields import set_value
from vatside.plan.measures import powder
from vatside.plan.plan import Plan, ShelfEntry
from vatside.plan.sheet import Sheet
from vatside.recipe.baths import stock_bath
from vatside.recipe.compute import compute
from vatside.units import Amount


def plan_with(pigment: str, method: str = "tdo-lye") -> Plan:
    """A plan for linen whose indigo is another pigment."""
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", "linen"), "method", method)
    entry = ShelfEntry(pigment, Amount(materials()[pigment].purity.value, "%"), None)
    others = tuple(item for item in plan.shelf if materials()[item.material].role != "indigo")
    return evolve(plan, shelf=(entry, *others))


def sheet_with(pigment: str, method: str = "tdo-lye") -> Sheet:
    """The sheet of such a plan."""
    return compute(plan_with(pigment, method))


@pytest.mark.parametrize("pigment", ["pre-reduced-indigo", "leaf-paste", "leaf-paste-dry", "woad", "synthetic-indigo"])
def test_each_serves_as_indigo(pigment: str) -> None:
    """The plan weighs as much of it as holds the indigotin wanted, by its purity."""
    plan = plan_with(pigment)
    sheet = compute(plan)
    assert powder(plan, "indigo").id == pigment
    purity = materials()[pigment].purity.value / 100
    assert sheet.value("stock.pigment") * purity == pytest.approx(sheet.value("stock.wanted"))


def test_what_is_reduced_already_takes_no_reducer() -> None:
    """With 60 % reduced, two fifths of the usual reducer go in; two fifths are the least that the reaction takes."""
    usual, less = sheet_with("synthetic-indigo"), sheet_with("pre-reduced-indigo")
    a_gram, a_gram_less = (one.value("stock.reducer") / one.value("stock.indigotin") for one in (usual, less))
    assert a_gram_less == pytest.approx(0.4 * a_gram)
    least = less["stock.reducer"].minimum
    assert least is not None
    assert least * 0.99 == pytest.approx(0.4 * 0.4123 * less.value("stock.indigotin"), rel=0.002)


def test_its_dye_is_all_reduced_in_the_stock() -> None:
    """The bath of the stock holds no blue dye, and no more dye than went in."""
    plan = plan_with("pre-reduced-indigo")
    sheet = compute(plan)
    bath = stock_bath(plan, sheet.value)
    assert bath.indigotin == pytest.approx(0, abs=1e-9)
    assert bath.leuco * 262.2635 == pytest.approx(sheet.value("stock.indigotin"))


@pytest.mark.parametrize("pigment", ["leaf-paste", "leaf-paste-dry"])
def test_a_paste_counts_as_the_powder_in_it(pigment: str) -> None:
    """One of indigo, two of lime, three of sugar: by powder of 40 %, not by the water in a paste."""
    sheet = sheet_with(pigment, "fructose-lime")
    as_powder = sheet.value("stock.indigotin") / 0.40
    assert sheet.value("stock.reducer") == pytest.approx(3 * as_powder)
    assert sheet.value("stock.alkali") * 0.95 == pytest.approx(2 * as_powder)
