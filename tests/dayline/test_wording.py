"""Amounts inside sentences."""

from __future__ import annotations

import pytest
from tests.plan.plans import hand_with

from vatside.dayline.steps import amount_words, draw_words, fill
from vatside.recipe.compute import compute

PLAN = hand_with()
SHEET = compute(PLAN)


@pytest.mark.parametrize(
    ("template", "text"),
    [
        ("Weigh {stock.pigment}", "Weigh 6.5 g (2 7/8 tsp)"),
        ("at {stock.start}", "at 55 °C"),
        ("{stock.jars}", "1 jar"),
        ("{scour.wool.rinses}", "2 times"),
        ("{scour.wool.steps_down}", "4 baths"),
        ("{vat.rest}", "1 h"),
        ("{nobody.knows}", "–"),
        ("{nobody.draw}", "–"),
        ("no blank", "no blank"),
        ("{who} and {who}", "she and she"),
        ("{}", "{}"),
        ("{vat.draw}", "15.7 L hot and 3.5 L cold"),
    ],
)
def test_blanks(template: str, text: str) -> None:
    """Figures, counts, words and draws fill their blanks; what nobody knows is a dash."""
    assert fill(template, SHEET, PLAN, who="she") == text


def test_a_word_is_not_filled_again() -> None:
    """A fibre or lot called like a blank stands as it is."""
    assert fill("{name}", SHEET, PLAN, name="{vat.rest}") == "{vat.rest}"


def test_one_is_not_many() -> None:
    """One rinse is one time."""
    plan = hand_with(scour__wool__rinses="1")
    assert amount_words(compute(plan)["scour.wool.rinses"], plan) == "1 time"


def test_a_draw_of_one_tap_names_one() -> None:
    """What is all hot has no cold in it."""
    assert draw_words("stock.", SHEET, PLAN) == "950 mL hot"


def test_has() -> None:
    """A sheet has what was worked out, and no more."""
    assert "vat.liquor" in SHEET
    assert "vat.kettle" not in SHEET
