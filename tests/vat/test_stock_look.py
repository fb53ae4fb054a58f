"""A look at the stock in its jar: warmth, alkali, and whether it is ready."""

from __future__ import annotations

import pytest
from tests.plan.plans import plan_with

from vatside.catalogue.looks import Clarity, Colour
from vatside.chemistry.liquor import solve
from vatside.plan.measures import powder
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.account import lye_grams
from vatside.vat.reading import PHBy, Reading
from vatside.vat.stock_look import stock_account, stock_comparison, stock_words
from vatside.vat.trust import trust

PLAN = plan_with()
SHEET = compute(PLAN)
WARM = Amount(46, "degC")


def seen(pH: float | None) -> Reading:
    """Give a clear stock at 46 degrees, its pH read by a meter."""
    return Reading(temperature=WARM, pH=pH, pH_temperature=WARM, pH_by=PHBy.METER, clarity=Clarity.CLEAR)


def test_a_stock_short_of_alkali_is_told_what_to_put_in() -> None:
    """Clear at pH 9.0 it does not go into the vat: lye in grams and spoons, a wait, another look."""
    said = " ".join(stock_words(seen(9.0), PLAN, SHEET))
    assert "Short of alkali: pH 9.0" in said
    assert "tsp) of lye" in said
    assert "wait" in said
    assert "read again" in said
    assert "it may go into the vat" not in said


def test_what_the_stock_has_then_is_told_to_be_written_down() -> None:
    """What was planned and what is missing, together: with that in its row the sheet knows of both."""
    found = stock_comparison(seen(9.0), PLAN, SHEET)
    assert found is not None
    lye = powder(PLAN, "alkali")
    whole = SHEET.value("stock.alkali") - found.lye_g / lye.purity
    said = " ".join(stock_words(seen(9.0), PLAN, SHEET))
    assert f"With it the stock has {whole:.1f} g" in said


def test_the_lye_offered_brings_it_to_what_was_worked_out() -> None:
    """The stock as read, with the lye it is told to be short of, stands at the pH worked out for it."""
    found = stock_comparison(seen(9.0), PLAN, SHEET)
    assert found is not None
    low = trust(stock_account(PLAN, SHEET), 9.0, 46)
    assert solve(lye_grams(low, -found.lye_g).bath, 46).pH == pytest.approx(found.predicted, abs=0.01)


@pytest.mark.parametrize("pH", [None, "as worked out"])
def test_a_clear_stock_with_alkali_enough_is_ready(pH: str | None) -> None:
    """Without a pH, or with the one worked out, clear means ready and no lye is offered."""
    right = solve(stock_account(PLAN, SHEET).bath, 46).pH if pH else None
    said = " ".join(stock_words(seen(right), PLAN, SHEET))
    assert "it may go into the vat" in said
    assert "Short of alkali" not in said


def test_it_speaks_of_the_stock() -> None:
    """What a pH would mean is told of the stock, not of the vat."""
    found = stock_comparison(seen(9.0), PLAN, SHEET)
    assert found is not None
    assert found.text.endswith("less lye were in the stock.")


@pytest.mark.parametrize(
    ("method", "colour", "said"),
    [
        ("fructose-lime", Colour.GREY, "Grey: not all of the dye is reduced yet"),
        ("zinc-lime", Colour.GREEN, "Green: not all of the dye is reduced yet"),
        ("plant-lime", Colour.BROWN, "Brown: its sugar has turned to acid. A little slaked lime"),
    ],
)
def test_a_clear_stock_that_is_green_grey_or_brown_does_not_go_in(method: str, colour: Colour, said: str) -> None:
    """A strip of glass comes out without a trace of green [Mairet1938]: clear alone is not ready."""
    plan = plan_with(None, method=method, lots__a__fibre="cotton")
    words = " ".join(stock_words(Reading(colour=colour, clarity=Clarity.CLEAR), plan, compute(plan)))
    assert said in words
    assert "it may go into the vat" not in words


def test_what_a_blue_stock_is_given_has_its_row() -> None:
    """As for alkali: a quarter more, written into its row as the whole, so that account and shelf know of it."""
    plan = plan_with(None, method="fructose-lime", lots__a__fibre="cotton")
    had = compute(plan).value("stock.reducer")
    said = " ".join(stock_words(Reading(colour=Colour.BLUE), plan, compute(plan)))
    assert f"then {0.25 * had:.1f} g" in said
    assert f"With it the stock has {1.25 * had:.1f} g" in said
    assert "write that into its row" in said
