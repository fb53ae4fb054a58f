"""The steps of fruit and bran in an order that can be done, and figures and words that say something."""

from __future__ import annotations

import pytest
from tests.plan.plans import plan_with

from vatside.catalogue.looks import Clarity, Colour
from vatside.dayline.day_steps import steps
from vatside.dayline.steps import MOMENT_MIN, draw_words
from vatside.dayline.tasks import task_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute
from vatside.recipe.worksheet import shown
from vatside.ui.day.figure_table import overview
from vatside.units import Amount
from vatside.vat.reading import Reading
from vatside.vat.stock_look import stock_words


def vat(method: str, **more: str) -> Plan:
    """Linen in some kind of vat."""
    return plan_with(None, lots__a__fibre="linen", method=method, **more)


def texts(plan: Plan) -> dict[str, str]:
    """The sentences of its steps."""
    return {step.id: step.text for step in steps(plan, compute(plan))}


@pytest.mark.parametrize(
    ("method", "draws", "spoils", "boils"),
    [("plant-lime", "stock.water", "stock.alkali_in", "stock.reducer_in"),
     ("fermentation", "vat.fill", "vat.alkali_in", "vat.reducer_in")],
)  # fmt: skip
def test_what_is_simmered_has_water_of_its_own(method: str, draws: str, spoils: str, boils: str) -> None:
    """Nobody boils fruit in lime, or bran in soda: a pot is kept back before they go in, and used after."""
    found = texts(vat(method))
    order = list(found)
    assert order.index(draws) < order.index(spoils) < order.index(boils)
    assert "back" in found[draws]
    assert "water kept back" in found[boils]


def test_fruit_simmers_on_the_hob_for_its_half_hour_and_the_jar_stays_warm() -> None:
    """Its half hour is a wait on the hob, not hands alone; half of the brew goes in strained, once it is over."""
    plan = vat("plant-lime")
    found = {step.id: step for step in steps(plan, compute(plan))}
    fruit, hold = found["stock.reducer_in"], found["stock.hold_warm"]
    assert fruit.minutes == pytest.approx(30)
    assert any(use.resource == "hob" and use.until - use.since == 30 for use in task_of(fruit).uses)
    assert "bath" in fruit.text or "water at" in fruit.text
    assert "half of it into" in hold.text
    assert "simmered" in found["vat.reducer_in"].text


def test_a_moment_of_heat_waits_for_no_hob() -> None:
    """Water that lacks some seconds comes from a kettle while a pot of fibre has the hob."""
    plan = vat("fructose-lime")
    water = next(step for step in steps(plan, compute(plan)) if step.id == "stock.water")
    assert 0 < (water.minutes or 0.0) < MOMENT_MIN
    assert "or a splash from the kettle" in water.text
    assert all(use.resource != "hob" for use in task_of(water).uses)


def test_the_second_half_of_the_brew_is_a_step_with_a_wait() -> None:
    """It goes in after the look, so all the fruit that is booked is in, and what is still blue is looked at again."""
    found = {step.id: step for step in steps(vat("plant-lime"), compute(vat("plant-lime")))}
    order = list(found)
    assert order.index("stock.look") < order.index("stock.reducer_rest") < order.index("vat.fill")
    assert found["stock.reducer_rest"].minutes == pytest.approx(30)
    assert found["stock.reducer_rest"].stage is Stage.STOCK


def test_a_stock_that_stays_blue_is_told_in_grams() -> None:
    """A quarter of its fruit again, not a little of it, and when to look."""
    plan = vat("plant-lime")
    sheet = compute(plan)
    said = " ".join(stock_words(Reading(Amount(55, "degC"), colour=Colour.BLUE, clarity=Clarity.CLOUDY), plan, sheet))
    assert f"{sheet.value('stock.reducer') / 4:.1f} g" in said
    assert "30 min" in said


def test_no_row_is_empty() -> None:
    """A paste takes no bran and no soda, a wool vat no lye in the tub: nothing is weighed as 0 g."""
    for plan in (vat("fermentation"), plan_with(None, method="tdo-lye")):
        sheet = compute(plan)
        rows = [figure for stage in Stage for figure in shown(sheet, stage)] + list(overview(sheet))
        assert all(figure.value for figure in rows if figure.teaspoons is not None), [
            figure.id for figure in rows if figure.teaspoons is not None and not figure.value
        ]


def test_a_paste_has_no_pH_and_bran_sharpens_nothing() -> None:
    """Indigo and water are no liquor to be read; what ferments is called so."""
    sheet = compute(vat("fermentation"))
    assert "stock.pH" not in sheet
    assert "ferment" in sheet["vat.reducer"].label
    assert "sharpen" not in sheet["vat.alkali"].label


@pytest.mark.parametrize(
    ("method", "word"), [("fermentation", "alkaline"), ("tdo-soda", "alkaline"), ("tdo-lye", "caustic")]
)
def test_soda_is_not_called_caustic(method: str, word: str) -> None:
    """Lye and lime burn; soda at pH 9.5 to 10.5 wants the gloves and not the word."""
    assert f"the vat is {word}" in texts(vat(method))["dip.warm"]


def test_a_moment_on_the_hob_is_no_minute() -> None:
    """What is told of the draw is what its wait says: 14 s are not 1 min."""
    plan = vat("tdo-lye", water__hot="54.5 C")
    sheet = compute(plan)
    for prefix in ("stock.", "vat."):
        minutes = sheet.value(f"{prefix}kettle", 0.0)
        words = draw_words(prefix, sheet, plan)
        assert ("1 min on the hob" in words) is (0.5 <= minutes < 1.5)
        assert (" s on the hob" in words) is (0 < minutes < 0.5)
