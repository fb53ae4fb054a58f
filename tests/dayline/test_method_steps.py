"""Steps of stock and vat."""

from __future__ import annotations

import pytest
from tests.plan.plans import hand_with

from vatside.catalogue.load import methods
from vatside.dayline.day_steps import steps
from vatside.dayline.steps import Step
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute


def day(plan: Plan) -> dict[str, Step]:
    """Give the steps of a plan by id."""
    return {step.id: step for step in steps(plan, compute(plan))}


class TestDrawing:
    """Water for stock and vat."""

    def test_both_taps(self) -> None:
        """What to draw hot and cold stands in the step, and there is nothing to wait for."""
        step = day(hand_with())["vat.fill"]
        where = "; the tub where it stays, never to be lifted full"
        assert step.text == f"Draw 19.2 L of water at 47 °C: 15.7 L hot and 3.5 L cold{where}"
        assert step.minutes is None
        assert step.wait_label == ""

    def test_a_tap_that_falls_short_is_a_wait(self) -> None:
        """From 40 to 47 degrees, 19 L on 1.5 kW: 19.2 x 4.18 x 7 / 1.5 / 60 = 6.2 min on the hob."""
        step = day(hand_with(water__hot="40 C"))["vat.fill"]
        assert "19.2 L hot, then 6 min on the hob; the tub" in step.text
        assert step.minutes == pytest.approx(6.2, abs=0.1)
        assert step.wait_label == "Heat the vat water"

    def test_the_stock_too(self) -> None:
        """All of the 950 mL is drawn hot, as it is printed for the whole; its 0.7 min on the hob are said as one."""
        step = day(hand_with(water__hot="40 C"))["stock.water"]
        assert step.text.endswith("950 mL hot, then 1 min on the hob")
        assert step.wait_label == "Heat the stock water"

    def test_nothing_to_draw(self) -> None:
        """A tub full of stock takes no water, and no step says so."""
        plan = hand_with(lots__a__fibre="cotton", stock__water="30 L")
        assert "vat.fill" not in day(plan)


class TestJars:
    """One jar and several."""

    def test_one(self) -> None:
        """One jar takes everything but the 50 mL that its 2.7 g of lye are dissolved in, cold."""
        found = day(hand_with())
        assert found["stock.water"].text.startswith("Fill 1 jar with 950 mL of water at 55 °C")
        assert "shared" not in found["stock.alkali_in"].text
        assert "Lower the jar below" in found["vat.stock_in"].text

    def test_three(self) -> None:
        """Three jars share water, lye and reducer."""
        found = day(hand_with(stock__jars="3", stock__water="3 L"))
        assert found["stock.water"].text.startswith("Fill 3 jars with 2.95 L of water in all at")
        for step in ("stock.alkali_in", "stock.reducer_in"):
            assert "shared between the 3 jars" in found[step].text
        assert "Stand the jars in" in found["stock.hold_warm"].text
        assert "Lower the jars below" in found["vat.stock_in"].text


@pytest.mark.parametrize(("method", "minutes"), [("tdo-lye", 2), ("dithionite-lye", 15), ("copperas-lime", 10)])
def test_stirring_takes_the_hands(method: str, minutes: float) -> None:
    """Nobody can do anything else while the stock is stirred."""
    step = day(hand_with(method=method))["stock.stir_in"]
    assert (step.hands_min, step.minutes) == (minutes, minutes)


def test_a_rest_leaves_the_hands_free() -> None:
    """An hour of rest takes three minutes of hands."""
    step = day(hand_with())["stock.hold_warm"]
    assert (step.hands_min, step.minutes) == (3, 60)


@pytest.mark.parametrize(
    ("method", "minutes"),
    [
        ("tdo-lye", [15, 30, 45]),
        ("dithionite-lye", [15]),
        ("fructose-lime", [15, 30, 45]),
        ("copperas-lime", [120, 240, 360]),
    ],
)
def test_the_stock_is_looked_at(method: str, minutes: list[float]) -> None:
    """A look at each interval of the rest, none at its very end."""
    assert [nudge.minute for nudge in day(hand_with(method=method))["stock.hold_warm"].nudges] == minutes


@pytest.mark.parametrize("method", methods())
def test_lye_lime_and_reducer_follow_in_the_safe_order(method: str) -> None:
    """Water first, then alkali, then dye, then reducer; the vat is sharpened before the stock comes in."""
    order = list(day(hand_with(method=method, lots__a__fibre="cotton")))
    safe = [
        "stock.water", "stock.alkali_in", "stock.stir_in", "stock.reducer_in", "stock.hold_warm",
        "vat.fill", "vat.alkali_in", "vat.reducer_in", "vat.stock_in", "vat.rest_covered",
    ]  # fmt: skip
    assert [name for name in order if name in safe] == [name for name in safe if name not in methods()[method].without]


@pytest.mark.parametrize("method", ["tdo-lye", "dithionite-lye"])
def test_never_water_onto_lye(method: str) -> None:
    """The steps themselves say it, besides the caution: lye into cold water, in plastic, at stock and tub."""
    found = day(hand_with(method=method, lots__a__fibre="linen"))
    for step in ("stock.alkali_in", "vat.alkali_in"):
        assert "of cold water in a plastic jug, never water onto lye" in found[step].text
        assert "The jug: plastic, " in found[step].cautions[0].lines[0]


@pytest.mark.parametrize("method", ["fructose-lime", "copperas-lime"])
def test_lime_is_not_called_lye(method: str) -> None:
    """A vat of lime never speaks of lye."""
    found = day(hand_with(method=method, lots__a__fibre="cotton"))
    texts = [step.text for key, step in found.items() if key.startswith(("stock.", "vat."))]
    assert not any("lye" in text for text in texts)
    assert any("slaked lime" in text for text in texts)


def test_spoons_come_first_where_they_are_used() -> None:
    """With spoons in use the step says spoons, and grams in brackets.

    By hand: 2.594 g of indigotin, as much reducer and a litre take 0.740 and 0.153 of that in lye and 0.4 g: 2.72 g,
    2.7 g of 99 %; half a teaspoon (of 5.7 g).
    """
    assert "Stir 1/2 tsp (2.7 g) of lye" in day(hand_with(measure="spoons"))["stock.alkali_in"].text
