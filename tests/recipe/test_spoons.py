"""Powders by the level spoon: grams, how sure they are, and what can be measured."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.plan.plans import hand_plan, hand_with

from vatside.plan.figure_text import figure_text
from vatside.plan.measures import powder
from vatside.recipe.compute import compute

MILLILITRES = {"us": 4.92892, "metric": 5.0, "imperial": 5.919388, "australian": 5.0}
"""A level teaspoon: 1/768 of a gallon of 231 cubic inches, kitchen measure, 1/24 of a gill, kitchen measure."""


@pytest.mark.parametrize("system", MILLILITRES)
def test_a_spoon_is_a_volume_of_the_chosen_system(system: str) -> None:
    """A level teaspoon of lye beads at 1.15 g/mL weighs 5.7 to 6.8 g, by whose spoon it is."""
    assert powder(hand_with(spoons=system), "alkali").grams_per_teaspoon == pytest.approx(
        1.15 * MILLILITRES[system], rel=1e-5
    )


@pytest.mark.parametrize("system", MILLILITRES)
def test_a_pin_in_spoons_weighs_what_the_system_says(system: str) -> None:
    """Four teaspoons of indigo at 0.45 g/mL."""
    sheet = compute(hand_with(spoons=system, stock__pigment="4 tsp"))
    assert sheet["stock.pigment"].value == pytest.approx(4 * 0.45 * MILLILITRES[system], rel=1e-5)


@pytest.mark.parametrize(("system", "tablespoon"), [("us", 3), ("metric", 3), ("imperial", 3), ("australian", 4)])
def test_tablespoons(system: str, tablespoon: int) -> None:
    """A tablespoon is three teaspoons, four in Australia."""
    sheet = compute(hand_with(spoons=system, stock__pigment="1 tbsp"))
    assert sheet["stock.pigment"].teaspoons == pytest.approx(tablespoon)


@pytest.mark.parametrize("system", MILLILITRES)
def test_her_own_spoon_overrides_any_system(system: str) -> None:
    """A spoon that was weighed at 2.4 g is 2.4 g, whatever it is called."""
    sheet = compute(hand_with(spoons=system, shelf__indigo__spoon_mass="2.4 g", stock__pigment="4 tsp"))
    assert sheet["stock.pigment"].value == pytest.approx(9.6)


def test_each_powder_has_its_own_spoon() -> None:
    """Weighing the indigo's spoon leaves lye and reducer as they were."""
    plan = hand_with(shelf__indigo__spoon_mass="2.4 g")
    assert powder(plan, "alkali") == powder(hand_plan(), "alkali")
    assert powder(plan, "reducer") == powder(hand_plan(), "reducer")


class TestSpread:
    """How unsure a spoon is."""

    def test_of_a_usual_powder(self) -> None:
        """Loose indigo weighs 0.30 to 0.65 g/mL about 0.45: 0.20 / 0.45 = 44 %."""
        assert marks(measure="spoons", figure="stock.pigment")[-1:] == ("±44 %",)

    def test_of_her_own(self) -> None:
        """Ten spoons weighed once are good to 5 %."""
        assert "±5 %" in marks(measure="spoons", figure="stock.pigment", shelf__indigo__spoon_mass="2.4 g")

    def test_a_scale_is_sure(self) -> None:
        """With a scale in use, worked-out amounts carry no ±."""
        assert not [mark for mark in marks(figure="stock.pigment") if "±" in mark]

    def test_a_pin_in_spoons_is_unsure_with_a_scale_too(self) -> None:
        """What was held by the spoon stays a guess."""
        assert "±44 %" in marks(figure="stock.pigment", stock__pigment="4 tsp")

    def test_a_pin_in_grams_is_sure_among_spoons(self) -> None:
        """What was weighed is known, even when the rest is spooned."""
        assert not [
            mark for mark in marks(measure="spoons", figure="stock.pigment", stock__pigment="8 g") if "±" in mark
        ]


def marks(*, figure: str, **changes: str) -> tuple[str, ...]:
    """Give the marks beside a figure."""
    plan = hand_with(**changes)
    return figure_text(compute(plan)[figure], plan).marks


class TestPrinting:
    """Spoons on the screen."""

    def test_the_scale_comes_first_where_it_is_used(self) -> None:
        """Grams, then spoons."""
        plan = hand_plan()
        text = figure_text(compute(plan)["stock.pigment"], plan)
        assert (text.main, text.second) == ("6.5 g", "2 7/8 tsp")

    def test_spoons_come_first_where_they_are_used(self) -> None:
        """Spoons, then grams."""
        plan = hand_with(measure="spoons")
        text = figure_text(compute(plan)["stock.pigment"], plan)
        assert (text.main, text.second) == ("2 7/8 tsp", "6.5 g")

    def test_rounding_that_matters_is_said(self) -> None:
        """0.7 g of indigo is 0.316 tsp; the nearest eighth is 0.375, 19 % too much."""
        found = marks(measure="spoons", figure="stock.pigment", stock__pigment="0.7 g")
        assert "rounded +19 %" in found

    @pytest.mark.parametrize("grams", range(150, 400, 25))
    def test_spoons_hold_no_less_than_the_minimum(self, grams: int) -> None:
        """A stock with less lye than its minimum turns sour: its spoons (1.15 g/mL) are rounded up."""
        plan = hand_with(stock__water="", lots__a__mass=f"{grams} g", measure="spoons")
        lye = compute(plan)["stock.alkali"]
        whole, _, part = figure_text(lye, plan).main.removesuffix(" tsp").rpartition(" ")
        teaspoons = float(Fraction(part)) + float(whole or 0)
        assert lye.minimum is not None
        assert teaspoons * 1.15 * MILLILITRES["us"] >= 0.98 * lye.minimum

    def test_rounding_that_does_not_matter_is_not(self) -> None:
        """6.486 g is 2.924 tsp; 2 7/8 is 1.7 % less."""
        assert not [mark for mark in marks(measure="spoons", figure="stock.pigment") if "rounded" in mark]

    def test_a_scale_does_not_round(self) -> None:
        """With a scale the spoons stand beside the grams for interest only."""
        assert not [mark for mark in marks(figure="stock.pigment", stock__pigment="0.7 g") if "rounded" in mark]

    def test_less_than_a_spoon_can_give(self) -> None:
        """0.1 g is less than an eighth of a teaspoon, and that is all there is to say."""
        plan = hand_with(measure="spoons", stock__pigment="0.1 g")
        text = figure_text(compute(plan)["stock.pigment"], plan)
        assert text.main == "less than 1/8 tsp"
        assert not [mark for mark in text.marks if "rounded" in mark]

    @examples(25)
    @given(st.floats(0.4, 5000))
    def test_printed_spoons_are_within_what_is_said(self, grams: float) -> None:
        """What the spoons come to differs from the grams beside them by more than 5 % only where a mark says so."""
        plan = hand_with(measure="spoons", stock__pigment=f"{grams:.6f} g")
        text = figure_text(compute(plan)["stock.pigment"], plan)
        spoons = compute(hand_with(stock__pigment=text.main))["stock.pigment"]
        beside = compute(hand_with(stock__pigment=text.second))["stock.pigment"]
        off = spoons.value / beside.value - 1
        assert abs(off) <= 0.0501 or any(mark.startswith("rounded") for mark in text.marks)
