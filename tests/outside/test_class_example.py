"""A one-day class, as far as the sheet covers it: common practice, no source; the numbers are derived in the tests.

Ten people, 100 g of cotton each, a medium blue of 1 % on weight of fibre; powder of 40 %, 70 % of the dye on the fibre.
"""

from __future__ import annotations

import pytest
from tests.recipe.plans import plan_of_lots, told

from vatside.recipe.compute import compute


def class_of_ten(volume: str = "17.65 L") -> dict[str, float]:
    """Give the figures of the class, ten lots of 100 g cotton, with a tub of some brim volume."""
    plan = plan_of_lots(*[("cotton", "100 g")] * 10, vessels__tub__volume=volume)
    for lot in plan.lots:
        plan = told(plan, f"lots.{lot.id}.depth", "1 %")
    return {figure.id: figure.value for figure in compute(plan).figures}


def test_indigotin() -> None:
    """1000 g x 1 % / 0.70 = 14.3 g."""
    assert class_of_ten()["stock.wanted"] == pytest.approx(14.3, abs=0.05)


def test_powder() -> None:
    """14.3 g / 0.40 = 36 g."""
    assert class_of_ten()["stock.pigment"] == pytest.approx(36, abs=0.5)


def test_it_fits_one_jar() -> None:
    """36 g is within the 25 to 60 g a litre of stock holds."""
    assert class_of_ten()["stock.jars"] == 1


def test_strength_of_the_vat() -> None:
    """14.3 g in 15 L is 0.95 g/L, a medium vat."""
    figures = class_of_ten()
    assert figures["vat.fill"] == pytest.approx(15, abs=0.01)
    assert figures["vat.strength"] == pytest.approx(0.95, rel=0.04)


def test_five_pieces_an_entry() -> None:
    """15 L at 30 L/kg take 500 g, five pieces of a hundred: two groups."""
    figures = class_of_ten()
    assert figures["vat.entry"] == pytest.approx(500, rel=0.001)
    assert figures["vat.entries"] == 2


def test_the_dye_is_enough_for_everyone() -> None:
    """Each of the ten can dye all of the hundred grams: the indigo is not the bottleneck."""
    figures = class_of_ten()
    assert [figures[f"vat.dyes.{letter}"] for letter in "abcdefghij"] == pytest.approx([100] * 10)


def test_one_lot_or_ten_is_the_same_dye() -> None:
    """A kilogram as one lot takes what ten lots of 100 g take."""
    plan = told(plan_of_lots(("cotton", "1 kg")), "lots.a.depth", "1 %")
    assert compute(plan)["stock.pigment"].value == pytest.approx(class_of_ten()["stock.pigment"])


def test_fifty_grams_of_powder() -> None:
    """50 g at 40 % hold 20 g of indigotin: about 700 g of cotton at 2 % with 70 % on the fibre."""
    plan = told(told(plan_of_lots(("cotton", "1 kg")), "lots.a.depth", "2 %"), "stock.pigment", "50 g")
    sheet = compute(plan)
    assert sheet["stock.indigotin"].value == pytest.approx(20)
    assert sheet["vat.dyes.a"].value == pytest.approx(700)
