"""What a step puts in, found from its sentence."""

from __future__ import annotations

import pytest
from tests.plan.plans import plan_with, told, wool_plan

from vatside.catalogue.load import methods
from vatside.dayline.day_steps import steps
from vatside.dayline.step_uses import all_uses, uses, wait_figure
from vatside.recipe.compute import compute


def test_a_step_of_the_stock_names_its_powder() -> None:
    """Grinding the pigment uses the pigment, as much as the sheet says."""
    plan = wool_plan()
    sheet = compute(plan)
    (use,) = uses(plan, sheet, "stock.paste")
    assert (use.material, use.grams) == ("indigo", sheet["stock.pigment"].value)


def test_a_scour_uses_its_agents_once_a_bath() -> None:
    """Cotton takes soda ash and detergent, and a bath that is made twice takes them twice."""
    plan = plan_with(lots__a__fibre="cotton", scour__cotton__loads="2")
    baths = [use.material for use in all_uses(plan) if use.step.startswith("scour.")]
    assert baths == ["soda-ash", "detergent"] * 2


@pytest.mark.parametrize(("pinned", "acid"), [("", "vinegar"), ("finish.wool.citric", "citric-acid")])
def test_of_two_acids_one_is_used(pinned: str, acid: str) -> None:
    """A sour takes vinegar, unless the dyer holds an amount of citric acid."""
    plan = plan_with(**{pinned.replace(".", "__"): "5 g"}) if pinned else wool_plan()
    (use,) = uses(plan, compute(plan), "finish.wool.sour")
    assert use.material == acid


def test_a_litre_of_vinegar_is_weighed_by_its_density() -> None:
    """Vinegar is measured in litres and booked in grams: 100 mL weigh 101 g (bulk 1.01 g/mL in the catalogue)."""
    plan = plan_with(finish__wool__vinegar="100 mL")
    (use,) = uses(plan, compute(plan), "finish.wool.sour")
    assert use.grams == pytest.approx(101)


@pytest.mark.parametrize("method", sorted(methods()))
def test_every_method_brings_in_its_three_powders(method: str) -> None:
    """Whatever the kind of vat, pigment, alkali and reducer are found in its steps."""
    plan = plan_with(method=method)
    known = methods()[method]
    assert {known.indigo, known.alkali, known.reducer} <= {use.material for use in all_uses(plan)}


@pytest.mark.parametrize("method", sorted(methods()))
def test_every_wait_has_its_figure(method: str) -> None:
    """The length of each step's wait is that of the figure found for it."""
    plan = plan_with(method=method, lots__a__condition="greasy")
    sheet = compute(plan)
    for step in steps(plan, sheet):
        figure = wait_figure(plan, step.id)
        if step.minutes is not None:
            assert sheet[figure].value == step.minutes, step.id


def test_an_unknown_step_uses_nothing() -> None:
    """A step of another version is no reason to fail."""
    plan = wool_plan()
    assert uses(plan, compute(plan), "scour.wool.polish.3") == ()
    assert wait_figure(plan, "polish") == ""


def test_an_acid_on_the_plan_goes_before_the_one_named_first() -> None:
    """Citric acid taken from the shelf is the sour; a held amount of vinegar still counts for more."""
    plan = told(wool_plan(), "shelf.citric-acid.purity", "99 %")
    (citric,) = uses(plan, compute(plan), "finish.wool.sour")
    assert citric.material == "citric-acid"
    held = plan_with(plan, finish__wool__vinegar="200 mL")
    (vinegar,) = uses(held, compute(held), "finish.wool.sour")
    assert vinegar.material == "vinegar"
