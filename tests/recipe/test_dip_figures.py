"""The figures of the dips."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.recipe.plans import plan_with, told

from vatside.catalogue.load import methods
from vatside.recipe.compute import compute
from vatside.recipe.dip import dip_order
from vatside.recipe.dip_lot import take_of
from vatside.recipe.fields import fields
from vatside.recipe.measures import clean_grams
from vatside.recipe.place import add_lot
from vatside.recipe.plan import Kept, Plan
from vatside.recipe.sheet import Sheet, Stage, Weight
from vatside.recipe.starter import new_lot
from vatside.units import Amount


def class_plan(**more: str) -> Plan:
    """Give ten pieces of cotton, a kilogram, in a vat of 15 L that takes five at once."""
    plan = plan_with(
        lots__a__fibre="cotton", lots__a__mass="1 kg", lots__a__pieces="10", lots__a__depth="1 %",
        vat__fill="15.3 L", vat__entry="500 g",
    )  # fmt: skip
    return plan_with(plan, **more)


def balance(plan: Plan, sheet: Sheet) -> float:
    """Give what of the vat's indigotin the figures leave unexplained, g."""
    parts = ("dip.on_fibre", "dip.rinsed", "dip.kept")
    return sheet["vat.indigotin"].value - sum(sheet[name].value for name in parts)


@pytest.mark.parametrize("method", methods())
@pytest.mark.parametrize("depth", ["0.1 %", "0.8 %", "4 %"])
def test_indigotin_is_all_accounted_for(method: str, depth: str) -> None:
    """What the vat held is on the fibre, in the rinses or still in the vat."""
    plan = class_plan(method=method, lots__a__depth=depth)
    assert balance(plan, compute(plan)) == pytest.approx(0, abs=1e-6)


def test_what_is_on_the_fibre_is_what_the_lots_come_to() -> None:
    """Mass of each lot times its depth."""
    plan = add_lot(class_plan(), new_lot(plan_with()))
    sheet = compute(plan)
    on = sum(clean_grams(plan, lot) * sheet[f"dip.{lot.id}.reaches"].value / 100 for lot in plan.lots)
    assert sheet["dip.on_fibre"].value == pytest.approx(on)


def test_a_first_dip_by_hand() -> None:
    """1 g/L in a vat too large to weaken: (1.4 + 1 x sqrt(5/5)) x 1 = 2.4 g/kg, less 15 %, is 0.204 %."""
    plan = class_plan(lots__a__mass="10 g", lots__a__pieces="1", vat__fill="1000 L", stock__water="400 L",
                      lots__a__depth="1.4 %", dip__a__dip="5 min")  # fmt: skip
    plan = told(plan, "stock.pigment", "2500 g")
    sheet = compute(plan)
    strength = sheet["vat.strength"].value
    assert strength == pytest.approx(1.0, rel=0.001)
    assert sheet["dip.a.first"].value / strength == pytest.approx(0.204, rel=0.001)


def test_a_weak_vat_asks_for_longer_dips() -> None:
    """A medium blue is dipped 5 min in 1 g/L and up to 10 min in a tenth of that."""
    weak = compute(class_plan(stock__pigment="3.5 g"))
    strong = compute(class_plan(stock__pigment="60 g"))
    assert weak["dip.a.dip"].value == 10
    assert strong["dip.a.dip"].value == 5


def test_it_airs_at_least_as_long_as_it_was_dipped() -> None:
    """Mairet: air for as long as dipped."""
    sheet = compute(class_plan(dip__a__dip="40 min"))
    assert sheet["dip.a.air"].value == 40


def test_the_vat_takes_so_many_pieces() -> None:
    """Half a kilogram at an entry is five pieces of a hundred grams, less what the scour takes off."""
    sheet = compute(class_plan())
    assert sheet["dip.a.at_once"].value == 5
    assert sheet["dip.a.piece"].value == pytest.approx(clean_grams(class_plan(), class_plan().lots[0]) / 10)


def test_a_piece_larger_than_an_entry_goes_in_alone() -> None:
    """One at least."""
    assert compute(class_plan(lots__a__pieces="1"))["dip.a.at_once"].value == 1


def test_more_dye_takes_fewer_dips() -> None:
    """Twice the pigment, fewer dips for the same depth."""
    some, more = compute(class_plan()), compute(class_plan(stock__pigment="70 g"))
    assert more["dip.a.dips"].value < some["dip.a.dips"].value


def test_a_held_number_of_dips_counts() -> None:
    """With the dips held at two the lot comes to what two dips lay on, and the care notice names it."""
    sheet = compute(class_plan(dip__a__dips="2"))
    assert sheet["dip.a.reaches"].value < 2.01 * sheet["dip.a.first"].value
    said = [item.text for item in sheet.notices if item.stage is Stage.DIP and item.weight is Weight.CARE]
    assert len(said) == 1
    assert said[0].startswith("Wool skeins will come out")


def test_the_strength_named_does_it() -> None:
    """Where a lot takes more than the usual dips, the vat named for those brings it there."""
    plan = class_plan()
    sheet = compute(plan)
    wanted = sheet["dip.a.strength"].value / sheet["vat.strength"].value
    stronger = told(plan, "stock.pigment", f"{wanted * sheet['stock.pigment'].value:.2f} g")
    stronger = told(told(stronger, "dip.a.dips", "5"), "dip.a.dip", "5 min")
    assert compute(stronger)["dip.a.reaches"].value == pytest.approx(1.0, rel=0.06)


def test_the_usual_day_names_nobody() -> None:
    """A lot that reaches its depth is not warned about."""
    sheet = compute(plan_with())
    said = [item for item in sheet.notices if item.stage in (Stage.DIP, Stage.FINISH)]
    assert not [item for item in said if item.weight is not Weight.NOTE]


def test_many_dips_are_told_with_what_would_spare_them() -> None:
    """A medium blue is usually done in 3 to 5 dips; a vat that takes more is called weak, and a stronger one named."""
    (words,) = [item.text for item in compute(plan_with()).notices if item.figure == "dip.a.dips"]
    assert "5 at most are usual" in words
    assert "would do it in 5" in words


def test_what_stands_in_the_tub_is_taken_off_the_stronger_vat() -> None:
    """Named in grams of powder of 40 %: the strength times the liquor, less the 0.8 g that a kept vat of 10 L holds."""
    kept = Kept(Amount(10, "L"), Amount(30, "degC"), Amount(0.8, "g"), Amount(5, "g"), Amount(0, "g"))
    sheet = compute(evolve(plan_with(), kept=kept))
    (words,) = [item.text for item in sheet.notices if item.figure == "dip.a.dips"]
    grams = float(words.partition(" g of indigo powder beside what stands in the tub")[0].rpartition(" ")[2])
    by_hand = (sheet["dip.a.strength"].value * sheet["vat.liquor"].value - 0.8) / 0.4
    assert grams == pytest.approx(by_hand, rel=0.05)


def test_own_uptake_replaces_the_guess() -> None:
    """Held at what the dyer found, the uptake gives fewer dips, and pieces in the session go by it too."""
    plan = told(class_plan(), "dip.a.takes", "6 L/kg")
    assert compute(plan)["dip.a.dips"].value < compute(class_plan())["dip.a.dips"].value
    assert take_of(plan, plan.lots[0], 5).takes == 6
    assert take_of(class_plan(), plan.lots[0], 5).takes == 1


def test_spinning_is_worth_saying() -> None:
    """Spun out, cotton carries 0.6 L/kg instead of 1.4: less dye by each dip."""
    sheet = compute(class_plan(dip__a__carried="0.6 L/kg"))
    assert sheet["dip.a.first"].value < compute(class_plan())["dip.a.first"].value


def test_water_brought_in_by_hand() -> None:
    """Four dips of a kilogram that holds 1.4 L: what the scour leaves x 1.4 x 4, with 9.1 mg/L of oxygen at 20 °C."""
    plan = class_plan(dip__a__dips="4")
    sheet = compute(plan)
    litres = clean_grams(plan, plan.lots[0]) / 1000 * 1.4 * 4
    assert sheet["dip.brought"].value == pytest.approx(litres)
    assert sheet["dip.oxygen"].value == pytest.approx(litres * 9.1 / 1000, rel=0.01)


def test_cold_pieces_cool_the_vat() -> None:
    """Pieces as warm as the vat do not."""
    assert compute(class_plan())["dip.cools"].value > 3
    warm = class_plan(water__room="45 C", vat__temperature="45 C")
    assert compute(warm)["dip.cools"].value == pytest.approx(0, abs=1e-9)


def test_an_empty_plan_of_dye_dips_nobody() -> None:
    """A lot of depth 0 gets no dips and no warning."""
    sheet = compute(class_plan(lots__a__depth="0 %"))
    assert sheet["dip.a.dips"].value == 0
    assert not [item for item in sheet.notices if item.stage is Stage.DIP]


def test_a_mixed_vat_is_raised_for_cotton() -> None:
    """With wool and cotton in one vat the pH goes up once the wool is out; with wool alone it does not."""
    plan = told(add_lot(plan_with(), new_lot(plan_with())), "lots.b.fibre", "cotton")
    assert compute(plan)["dip.raise_pH"].value == 11
    assert [lot.id for lot in dip_order(plan)] == ["a", "b"]
    with pytest.raises(KeyError):
        compute(plan_with())["dip.raise_pH"]


@pytest.mark.parametrize("stage", [Stage.DIP, Stage.FINISH])
def test_every_pin_of_the_form_is_a_figure(stage: Stage) -> None:
    """Each row names a figure of its stage that can be held, and every figure that can be held has a row."""
    plan = told(add_lot(plan_with(), new_lot(plan_with())), "lots.b.fibre", "cotton")
    sheet = compute(plan)
    rows = {row.path for row in fields(plan, stage, hidden=True) if row.pin}
    assert rows == {figure.id for figure in sheet.of(stage) if figure.pinnable}


def test_a_form_fits_a_screen() -> None:
    """About a dozen rows stand in each form of the starter plan."""
    assert all(len(fields(plan_with(), stage)) <= 13 for stage in (Stage.DIP, Stage.FINISH))


def test_pins_are_read_back() -> None:
    """What was typed stands in the field."""
    assert told(plan_with(), "dip.a.takes", "7").pins[0].amount == Amount(7, "L/kg")
