"""An amount beyond what any dyer means, typed by a slip of the unit, the point or the row."""

from __future__ import annotations

import pytest
from tests.plan.plans import plan_with

from vatside.forms.fields import read
from vatside.plan.figure_text import plain
from vatside.plan.sheet import Notice, Weight
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute, taken
from vatside.units import Problem

LYE = ("stock.alkali", "vat.alkali")


def said_of(figure: str, text: str) -> list[Notice]:
    """Give what is said of a figure of the starter that is held so, where it matters and the figure is worked out."""
    sheet = compute(plan_with(starter_plan(), **{figure.replace(".", "__"): text}))
    worked = plain(sheet[figure].worked, "g")
    return [
        notice
        for notice in sheet.notices
        if notice.figure == figure and notice.weight is not Weight.NOTE and f"worked out {worked}." in notice.text
    ]


@pytest.mark.parametrize(
    ("figure", "text"),
    [("stock.reducer", "200 g"), ("vat.reducer", "200 g"), ("stock.alkali", "28.75 kg"), ("vat.alkali", "28.75 kg"),
     ("stock.alkali", "30 g"), ("stock.pigment", "200 g"), ("scour.linen.soda-ash", "500 g"),
     ("scour.linen.detergent", "1 kg")],
)  # fmt: skip
def test_far_too_much_of_a_powder_is_warned_of(figure: str, text: str) -> None:
    """Lye as a danger, all else as a warning; each names the worked-out amount and is put right by one key."""
    (notice,) = said_of(figure, text)
    assert notice.weight is (Weight.DANGER if figure in LYE else Weight.CARE)
    assert "ook at the amount and its unit." in notice.text
    plan = plan_with(starter_plan(), **{figure.replace(".", "__"): text})
    assert compute(taken(plan, notice.remedies[0]))[figure].pin is None


@pytest.mark.parametrize(
    ("figure", "text"),
    [("stock.reducer", "6 g"), ("vat.reducer", "2 g"), ("stock.alkali", "5 g"), ("stock.pigment", "30 g"),
     ("scour.linen.soda-ash", "40 g")],
)  # fmt: skip
def test_more_that_a_dyer_may_mean_is_only_noted(figure: str, text: str) -> None:
    """Somewhat more, and a pinch more of very little; indigo for a vat that is kept."""
    assert said_of(figure, text) == []


def test_a_spoon_that_cannot_weigh_so_much_is_refused() -> None:
    """Forty-five grams for a level teaspoon: ten spoons that were not parted by ten."""
    assert isinstance(read(starter_plan(), "shelf.alkali.spoon_mass", "45 g"), Problem)
