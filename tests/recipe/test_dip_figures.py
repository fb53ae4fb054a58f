"""The figures of the dips."""

from __future__ import annotations

from math import exp, sqrt

import pytest
from tests.plan.plans import plan_with, told

from vatside.catalogue.load import methods
from vatside.dips.lot import dip_order, law_for
from vatside.forms.fields import fields
from vatside.plan.measures import clean_grams
from vatside.plan.paths import add_lot
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage, Weight
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
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
    assert balance(plan, compute(plan)) == pytest.approx(0, abs=1e-9)


def test_what_is_on_the_fibre_is_what_the_lots_come_to() -> None:
    """Mass of each lot times its depth."""
    plan = add_lot(class_plan(), new_lot(plan_with()))
    sheet = compute(plan)
    on = sum(clean_grams(plan, lot) * sheet[f"dip.{lot.id}.reaches"].value / 100 for lot in plan.lots)
    assert sheet["dip.on_fibre"].value == pytest.approx(on)


def test_a_first_dip_by_hand() -> None:
    """1 g/L in a vat too large to weaken: 1.4 x 1 + 2.3 x 0.8 x (1 - e^-sqrt 5) = 3.043 g/kg, less 15 %: 0.2587 %."""
    plan = class_plan(lots__a__mass="10 g", lots__a__pieces="1", vat__fill="1000 L", stock__water="400 L",
                      lots__a__depth="1.4 %", dip__a__dip="5 min")  # fmt: skip
    plan = told(plan, "stock.pigment", "2500 g")
    sheet = compute(plan)
    strength = sheet["vat.strength"].value
    assert strength == pytest.approx(1.0, rel=0.001)
    assert sheet["dip.a.first"].value / strength == pytest.approx(0.2587, rel=0.001)


@pytest.mark.parametrize(
    ("depth", "dip", "air"), [("0.05 %", 1, 10), ("0.35 %", 3, 10), ("0.8 %", 5, 14), ("1 %", 5, 15), ("2 %", 8, 19)]
)
def test_the_times_follow_the_depth_by_hand(depth: str, dip: float, air: float) -> None:
    """Between the rows by the logarithm: 0.8 % is ln(0.8/0.35) / ln(1/0.35) = 0.79 of the way from 3, 10 to 5, 15.

    That is 4.6 and 13.9 min. 2 % is ln 2 / ln 2.25 = 0.85 of the way from 5 and 15 to 8 and 20: 7.6 and 19.3 min.
    """
    sheet = compute(class_plan(lots__a__depth=depth))
    assert (sheet["dip.a.dip"].value, sheet["dip.a.air"].value) == (dip, air)


def test_a_weak_vat_is_dipped_into_no_longer() -> None:
    """Longer than ten minutes adds next to nothing; more dips do: the times are those of a strong vat."""
    weak, strong = (compute(class_plan(stock__pigment=grams)) for grams in ("12 g", "60 g"))
    assert weak["dip.a.dip"].value == strong["dip.a.dip"].value
    assert weak["dip.a.dips"].value > strong["dip.a.dips"].value


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
    """With the dips set to two the lot comes to what two dips lay on, and the care notice names it."""
    sheet = compute(class_plan(dip__a__dips="2"))
    assert sheet["dip.a.reaches"].value < 2.01 * sheet["dip.a.first"].value
    said = [item.text for item in sheet.notices if item.stage is Stage.DIP and item.weight is Weight.CARE]
    assert len(said) == 1
    assert said[0].startswith("Wool skeins will come out")


def test_the_usual_day_names_nobody() -> None:
    """A new day is calm: no notice of its dips or finish is more than a note."""
    said = [item for item in compute(starter_plan()).notices if item.stage in (Stage.DIP, Stage.FINISH)]
    assert not [item for item in said if item.weight is not Weight.NOTE]


def test_own_uptake_pulls_the_table() -> None:
    """Held at twice what the table gives, the same dye takes fewer dips, and pieces in the session go by it too."""
    plan = told(class_plan(), "dip.a.factor", "200 %")
    assert compute(plan)["dip.a.dips"].value < compute(class_plan())["dip.a.dips"].value
    assert law_for(plan, plan.lots[0], 5).factor == 2
    assert law_for(class_plan(), plan.lots[0], 5).factor == 1


def test_a_range_of_dips_stands_round_the_dips_by_hand() -> None:
    """No result yet: four days in five lie within e^(1.28 x sqrt(0.35^2 + 0.20^2)) = 1.68 times, or 0.60.

    Ten pieces in 15 L started at 1.2 g/L: 5 dips, 3 to 8, each worked out again below dip by dip.
    """
    plan = plan_with(class_plan(), vat__fill="15 L", stock__pigment="45 g", dip__a__dip="5 min", dip__a__air="15 min",
                     lots__a__condition="ready")  # fmt: skip
    sheet = compute(plan)
    assert sheet["vat.strength"].value == pytest.approx(1.2, rel=0.03)
    assert [sheet[f"dip.a.{name}"].value for name in ("dips_low", "dips", "dips_high")] == [3, 5, 8]
    litres, grams = sheet["vat.liquor"].value, sheet["dip.a.piece"].value
    assert [dips_by_hand(litres, sheet["vat.strength"].value, 5 * grams / 1000, by) for by in (1.68, 1.0, 0.6)] == [
        3,
        5,
        8,
    ]


def dips_by_hand(litres: float, strength: float, group_kg: float, factor: float) -> int:
    """Dip two groups of cotton in turn, 5 min a dip, until both have 9.5 g/kg on them; the most dips of the two."""
    on, dips = [0.0, 0.0], [0, 0]
    while min(on) < 9.5:
        for group in (0, 1):
            if on[group] < 9.5:
                own = 2.3 * strength / (strength + 0.25) * (1 - exp(-sqrt(5)))
                laid = factor * (1.4 * strength + own) * (1 - on[group] / 55)
                lost = litres * strength * (1 - exp(-laid * group_kg / litres / strength))
                strength, dips[group] = strength - lost / litres, dips[group] + 1
                on[group] += 0.85 * lost / group_kg
    return max(dips)


def test_held_uptake_leaves_only_the_day_open() -> None:
    """A pin wins over every result: what is left is the spread of one day, 0.20, and the range is narrower."""
    free, pinned = compute(class_plan()), compute(class_plan(dip__a__factor="100 %"))
    assert pinned["dip.a.dips"].value == free["dip.a.dips"].value
    assert free["dip.a.dips_low"].value <= pinned["dip.a.dips_low"].value
    assert pinned["dip.a.dips_high"].value < free["dip.a.dips_high"].value


def test_hands_on_and_waiting_are_told_apart_by_hand() -> None:
    """Four dips of two groups: eight entries of 3 min for the hands; 75 min and one rest from first in to last out.

    The two groups stand idle for 21 - 12 = 9 of 12 min after each round, which is rest enough: 75 min.
    """
    sheet = compute(class_plan(dip__a__dips="4", dip__a__dip="5 min", dip__a__air="15 min", water__room="45 C"))
    assert sheet["dip.all_entries"].value == 8
    assert sheet["dip.hands"].value == 24
    assert sheet["dip.minutes"].value == 75


def test_a_great_many_pieces_are_counted_whole() -> None:
    """A hundred and forty pieces go in bundles for speed; dye, water and depth are those of every piece."""
    plan = class_plan(lots__a__pieces="140", dip__a__dips="4")
    sheet = compute(plan)
    grams = clean_grams(plan, plan.lots[0])
    assert sheet["dip.brought"].value == pytest.approx(grams / 1000 * 1.4 * 4)
    assert balance(plan, sheet) == pytest.approx(0, abs=1e-9)


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


def alone(**more: str) -> Plan:
    """Give one piece of 200 g, which holds 1.4 L/kg, in a vat of 10 L at 50 °C and a room of 20 °C."""
    plan = class_plan(lots__a__mass="200 g", lots__a__pieces="1", lots__a__condition="ready scoured",
                      vat__fill="10 L", vat__temperature="50 C", water__room="20 C")  # fmt: skip
    return plan_with(plan, **{"dip__a__dip": "5 min", "dip__a__air": "15 min"} | more)


def mixed(celsius: float, litres: float) -> float:
    """Let the piece in by hand: 0.2 kg that take as much heat as 1.4 + 0.3 kg of water each, as cold as the room."""
    wet = 0.2 * (1.4 + 0.3)
    return celsius - (celsius - 20) * wet / (litres + wet)


def test_how_far_one_piece_cools_the_vat_by_hand() -> None:
    """A single dip: 0.34 L as cold as the room mix in with ten."""
    sheet = compute(alone(dip__a__dips="1"))
    assert sheet["dip.cools"].value == pytest.approx(50 - mixed(50, sheet["vat.liquor"].value), rel=1e-3)


def test_how_far_two_dips_cool_the_vat_by_hand() -> None:
    """Between two entries a vat of ten litres loses 17 % x cube root of 2 an hour of its warmth above the room."""
    sheet = compute(alone(dip__a__dips="2"))
    litres = sheet["vat.liquor"].value
    minutes = 5 + 1 + 15
    rate = 0.17 / 60 * (20 / litres) ** (1 / 3)
    second = mixed(20 + (mixed(50, litres) - 20) * exp(-rate * minutes), litres)
    assert sheet["dip.cools"].value == pytest.approx(50 - second, rel=0.01)


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
    assert all(len(fields(starter_plan(), stage)) <= 13 for stage in (Stage.DIP, Stage.FINISH))


def test_pins_are_read_back() -> None:
    """What was typed stands in the field."""
    assert told(starter_plan(), "dip.a.factor", "80").pins[0].amount == Amount(80, "%")
