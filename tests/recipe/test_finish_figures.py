"""The figures of the finish."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import plan_with, told

from vatside.catalogue.load import methods
from vatside.chemistry.tap import CLASSES
from vatside.dayline.day_steps import steps
from vatside.plan.batches import batches
from vatside.plan.figure_text import figure_text
from vatside.plan.paths import add_lot
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage, Weight
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
from vatside.recipe.stages.finish import true_gain
from vatside.recipe.stages.sour import a_litre_takes
from vatside.vat.account import planned_account
from vatside.vat.spent import Acid, dose_by_account


def sheet_of(**changes: str) -> Sheet:
    """Work out the starter plan with some fields set."""
    return compute(plan_with(**changes))


# Vinegar (mL of 5 %) and citric acid (g) a litre at 20 degrees C by PHREEQC (phreeqc.dat), carbonic acid kept
SOURS = {
    (7, "soft"): (0.1, 0.01), (7, "medium"): (0.4, 0.02), (7, "hard"): (0.8, 0.04),
    (6.5, "soft"): (0.3, 0.02), (6.5, "medium"): (1.1, 0.06), (6.5, "hard"): (2.2, 0.12),
    (6, "soft"): (0.5, 0.03), (6, "medium"): (2.0, 0.11), (6, "hard"): (4.2, 0.22),
    (5, "soft"): (1.1, 0.055), (5, "medium"): (4.3, 0.19), (5, "hard"): (8.8, 0.38),
    (4.5, "soft"): (2.0, 0.08), (4.5, "medium"): (7.7, 0.265), (4.5, "hard"): (15.5, 0.51),
}  # fmt: skip


@pytest.mark.parametrize(("pH", "water"), SOURS)
def test_what_a_litre_of_sour_takes(pH: float, water: str) -> None:
    """Both acids within six parts in a hundred, or the last digit, of what PHREEQC gives."""
    vinegar, citric = SOURS[pH, water]
    assert a_litre_takes(CLASSES[water], 20, pH, "vinegar") == pytest.approx(vinegar, rel=0.06, abs=0.06)
    assert a_litre_takes(CLASSES[water], 20, pH, "citric acid") == pytest.approx(citric, rel=0.05, abs=0.006)


@pytest.mark.parametrize(("water", "plant", "wool"), [("soft", 0.6, 1), ("medium", 2.5, 4), ("hard", 5, 8)])
def test_sour_follows_the_tap(water: str, plant: float, wool: float) -> None:
    """Cotton 0.6, 2.5 and 5 mL of vinegar a litre, wool and silk 1, 4 and 8: what holds pH 5.8 and 5.1 by PHREEQC."""
    for fibre, expected in (("cotton", plant), ("linen", plant), ("wool", wool), ("silk", wool)):
        sheet = sheet_of(lots__a__fibre=fibre, water__tap=water, water__room="20 °C")
        a_litre = 1000 * sheet[f"finish.{fibre}.vinegar"].value / sheet[f"finish.{fibre}.water"].value
        assert a_litre == pytest.approx(expected, abs=0.4)


@pytest.mark.parametrize(("water", "aired"), [("soft", 7.18), ("medium", 7.65), ("hard", 8.04)])
def test_the_sour_has_the_pH_that_its_row_says(water: str, aired: float) -> None:
    """Plant fibre: 5.8 as mixed, and 7.2 to 8.0 once the carbonic acid has gone, by PHREEQC."""
    figure = sheet_of(lots__a__fibre="cotton", water__tap=water, water__room="20 °C")["finish.cotton.sour_pH"]
    assert figure.value == pytest.approx(5.8, abs=0.02)
    assert figure.between == pytest.approx((5.8, aired), abs=0.15)


def test_the_pH_is_that_of_the_vinegar_held() -> None:
    """20 mL a litre, as was once usual, is pH 3.5, 4.0 and 4.3 in soft, medium and hard water: by PHREEQC."""
    for water, expected in (("soft", 3.5), ("medium", 4.0), ("hard", 4.3)):
        sheet = sheet_of(finish__wool__water="3 L", finish__wool__vinegar="60 mL", water__tap=water)
        assert sheet["finish.wool.sour_pH"].value == pytest.approx(expected, abs=0.06)


def test_an_unknown_tap_makes_the_sour_a_band() -> None:
    """The dose of medium water is too sour in soft water and too little in hard: the row says both."""
    between = sheet_of(water__tap="not known", water__room="20 °C")["finish.wool.sour_pH"].between
    assert between is not None
    assert between[0] < 4.6
    assert between[1] > 6


def test_stronger_vinegar_is_halved() -> None:
    """Of 10 % vinegar half as much, and the bath is as sour."""
    plan = plan_with(finish__wool__water="3 L", water__tap="hard")
    usual, strong = compute(plan), compute(told(plan, "shelf.vinegar.purity", "10 %"))
    assert strong["finish.wool.vinegar"].value == pytest.approx(usual["finish.wool.vinegar"].value / 2)
    assert strong["finish.wool.sour_pH"].value == pytest.approx(usual["finish.wool.sour_pH"].value, abs=0.02)


def test_lime_is_soured_longer() -> None:
    """After a vat with lime fifteen minutes."""
    assert sheet_of(method="fructose-lime", lots__a__fibre="cotton")["finish.cotton.sour"].value == 15


@pytest.mark.parametrize(("fibre", "low", "high"), [("wool", 15, 30), ("silk", 15, 30), ("cotton", 30, 720)])
def test_last_airing(fibre: str, low: float, high: float) -> None:
    """Wool a quarter to half an hour, plant fibres half an hour and more."""
    assert low <= sheet_of(lots__a__fibre=fibre)[f"finish.{fibre}.last_air"].value <= high


@pytest.mark.parametrize(("fibre", "low", "high"), [("wool", 40, 50), ("silk", 40, 50), ("linen", 80, 95)])
def test_wash_off(fibre: str, low: float, high: float) -> None:
    """Protein is washed off warm, plant fibres near the boil."""
    assert low <= sheet_of(lots__a__fibre=fibre)[f"finish.{fibre}.wash"].value <= high


def test_wool_never_jumps() -> None:
    """It goes into water one step warmer than the room, is warmed a degree a minute, and comes down by steps."""
    sheet = sheet_of(water__room="18 C")
    assert sheet["finish.wool.rinse_temperature"].value == 28
    assert sheet["finish.wool.wash_start"].value == 28
    assert sheet["finish.wool.heating"].value >= 45 - 28
    # From 45 to 18 °C by at most 10 at a time: 35, 25, 18.
    assert sheet["finish.wool.last_rinses"].value == 3


def test_what_no_pot_takes_is_washed_in_parts() -> None:
    """800 g of cotton in 16 L and a pot of 10 L: 16 + 0.8 / 1.54 = 16.5 L, twice 9.5 L; each part is heated anew."""
    sheet = sheet_of(lots__a__fibre="cotton", lots__a__mass="800 g", vessels__scour_pot="10 L")
    assert (sheet["finish.cotton.wash_parts"].value, sheet["finish.cotton.part_water"].value) == (2, 8)
    assert sheet["finish.cotton.part_detergent"].value == sheet["finish.cotton.detergent"].value / 2
    once = sheet["finish.cotton.heating"].value + sheet["finish.cotton.wash_minutes"].value
    assert sheet["finish.cotton.wash_in_all"].value == pytest.approx(2 * once)


def test_water_that_is_brought_up_on_the_hob_first_is_so_for_each_part() -> None:
    """With a cold tap alone the second part waits for its kettle as well; the first one's was heated before."""
    sheet = sheet_of(lots__a__fibre="wool", lots__a__mass="800 g", vessels__scour_pot="10 L", water__hot="10 C")
    kettle, one = sheet["finish.wool.wash_kettle"].value, sheet["finish.wool.part_takes"].value
    parts = sheet["finish.wool.wash_parts"].value
    assert parts == 3
    assert kettle > 0
    assert sheet["finish.wool.wash_in_all"].value == pytest.approx(parts * one - kettle)


@pytest.mark.parametrize(("pots", "parts"), [("", True), ("30 L", False)])
def test_a_wash_that_fits_has_its_usual_steps(pots: str, parts: bool) -> None:
    """In a larger pot of the kitchen all of it is washed at once."""
    plan = plan_with(None, lots__a__fibre="cotton", lots__a__mass="800 g", place__pots=pots)
    names = {step.id.rpartition(".")[2] for step in steps(plan, compute(plan)) if step.stage is Stage.FINISH}
    assert ({"wash_each"} <= names, {"wash_heat", "wash"} <= names) == (parts, not parts)


def test_cotton_is_washed_as_the_tap_runs() -> None:
    """Plant fibres take the hot tap's water and any jump."""
    sheet = sheet_of(lots__a__fibre="cotton", water__hot="60 C")
    assert sheet["finish.cotton.wash_start"].value == 60
    assert sheet["finish.cotton.last_rinses"].value == 2


def test_fibres_are_finished_apart() -> None:
    """Two lots of wool share their baths; cotton has its own."""
    plan = add_lot(plan_with(), new_lot(plan_with()))
    plan = told(add_lot(plan, new_lot(plan)), "lots.c.fibre", "cotton")
    assert [batch.key for batch in batches(plan)] == ["wool", "cotton"]


@given(st.floats(1, 1e4), st.floats(0, 8))
def test_a_gain_is_found_again(before: float, gain: float) -> None:
    """What was added to the mass comes back as the gain."""
    assert true_gain(before, before * (1 + gain / 100)) == pytest.approx(gain, abs=1e-6)


def test_the_scale_says_what_is_on_the_fibre() -> None:
    """By hand: 230 g that was 227.0 g gained 3 / 227 = 1.32 %."""
    sheet = sheet_of(finish__before__a="227 g", finish__after__a="230 g")
    assert sheet["finish.gain.a"].value == pytest.approx(1.3216, abs=0.001)


def test_without_a_scale_the_gain_is_what_was_worked_out() -> None:
    """Nothing typed in: the gain is the depth the dips come to, and nobody is told anything."""
    sheet = sheet_of()
    assert sheet["finish.gain.a"].value == pytest.approx(sheet["dip.a.reaches"].value)


def test_a_lighter_lot_is_doubted() -> None:
    """Dyed fibre that weighs less than before was not dry the same way."""
    sheet = sheet_of(finish__before__a="227 g", finish__after__a="226 g")
    said = [item for item in sheet.notices if item.figure == "finish.gain.a"]
    assert [item.weight for item in said] == [Weight.CARE]


@pytest.mark.parametrize(
    ("after", "words"), [("5 kg", "5.00 kg dyed and dry, where 150 g went in?"), ("15 g", "15.0 g dyed")]
)
def test_a_mass_that_no_fibre_can_have_is_asked_about(after: str, words: str) -> None:
    """Five kilograms of what was 150 g: the number or its unit is doubted, not the drying."""
    sheet = sheet_of(finish__before__a="150 g", finish__after__a=after)
    ((weight, text),) = [(item.weight, item.text) for item in sheet.notices if item.figure == "finish.gain.a"]
    assert weight is Weight.CARE
    assert words in text
    assert "its unit" in text


def test_damp_wool_is_not_asked_about() -> None:
    """A deep blue on wool that was not quite dry weighs a third more, and may."""
    sheet = sheet_of(finish__before__a="150 g", finish__after__a="200 g")
    assert not any("its unit" in item.text for item in sheet.notices)


def vat_of(left: str) -> Plan:
    """Give a plan whose vat holds more or less dye than the lots take."""
    return plan_with(stock__pigment=left)


def test_a_vat_with_dye_left_is_kept() -> None:
    """Enough indigo left: kept as long as its kind keeps; a spent one is let go; the dyer has the last word."""
    assert compute(vat_of("40 g"))["finish.keep"].value == 7 * 1440
    assert compute(vat_of("5 g"))["finish.keep"].value == 0
    assert compute(told(vat_of("5 g"), "finish.keep", "14 days"))["finish.keep"].value == 14 * 1440


def test_a_kept_vat_is_fed() -> None:
    """0.1 g of thiourea dioxide a litre each week: 20 L of liquor take about 2 g."""
    sheet = sheet_of()
    assert sheet["finish.feed"].value == pytest.approx(0.1 * sheet["vat.liquor"].value / 0.99)


def test_what_a_lye_vat_is_fed_with() -> None:
    """Two hydroxide ions for each thiourea dioxide: 2 g of the pure take 2 × 80.0 ÷ 108.1 = 1.48 g of lye."""
    sheet = sheet_of(lots__a__fibre="cotton", finish__feed="2 g", shelf__alkali__purity="100 %")
    assert sheet["finish.feed.alkali"].value == pytest.approx(1.48 * 0.99, rel=0.01)


@pytest.mark.parametrize(("method", "soda", "baking"), [("tdo-lye", 2.0, 1.5), ("dithionite-lye", 1.2, 0.9)])
def test_what_a_vat_for_wool_is_fed_with(method: str, soda: float, baking: float) -> None:
    """With a gram of thiourea dioxide 2 g of soda ash and 1.5 g of baking soda, by PHREEQC; no lye."""
    sheet = sheet_of(method=method)
    pure = sheet["finish.feed"].value * (0.99 if method == "tdo-lye" else 0.88)
    assert sheet["finish.feed.soda-ash"].value == pytest.approx(soda * pure, rel=0.03)
    assert sheet["finish.feed.baking-soda"].value == pytest.approx(baking * pure, rel=0.03)
    assert "finish.feed.alkali" not in [figure.id for figure in sheet.figures]


def reducer_moles(sheet: Sheet) -> float:
    """All thiourea dioxide of stock and tub, 99 % of 108.115 g/mol: each mole takes two of hydroxide once spent."""
    return (sheet["stock.reducer"].value + sheet["vat.reducer"].value) * 0.99 / 108.115


def test_vinegar_for_the_vat_by_hand() -> None:
    """Lye of 40 g/mol, less two for each spent reducer, over the 0.8326 mol in a litre of 5 % vinegar."""
    sheet = sheet_of(lots__a__fibre="cotton", water__tap="rain or distilled")
    lye = (sheet["stock.alkali"].value + sheet["vat.alkali"].value) * 0.99 / 39.997
    moles = lye - 2 * reducer_moles(sheet)
    assert sheet["finish.vinegar"].value == pytest.approx(moles / 0.8326, rel=0.005)


@pytest.mark.parametrize("fibre", ["cotton", "wool", "silk"])
@pytest.mark.parametrize("tap", ["rain or distilled", "very hard"])
def test_the_plan_and_the_end_of_the_vat_ask_for_one_amount(fibre: str, tap: str) -> None:
    """The vat just as planned takes at its end the vinegar that the plan names."""
    plan = plan_with(lots__a__fibre=fibre, water__tap=tap)
    sheet = compute(plan)
    dose = dose_by_account(planned_account(plan, sheet), plan, Acid.VINEGAR)
    assert 1000 * sheet["finish.vinegar"].value == pytest.approx(dose.millilitres, rel=1e-3)


@pytest.mark.parametrize("method", methods())
def test_every_method_has_a_finish(method: str) -> None:
    """Sour, wash, feeding and the vat's end are worked out for every kind of vat, with a source each."""
    sheet = sheet_of(method=method, lots__a__fibre="cotton")
    acid = ("vinegar",) if methods()[method].end is None else ()
    for name in ("cotton.vinegar", "cotton.wash", "feed", *acid, "oxidise", "settle"):
        assert sheet[f"finish.{name}"].value > 0
    assert all(figure.working.source for figure in sheet.of(Stage.FINISH))


def test_vinegar_for_a_soda_vat_by_hand() -> None:
    """Two for each soda ash, one for each baking soda and lye, less two for each spent reducer and 5 mmol a litre."""
    sheet = sheet_of(water__tap="rain or distilled")
    soda, baking = (sheet[f"vat.{name}-{end}"].value for name, end in (("soda", "ash"), ("baking", "soda")))
    alkali = 2 * soda * 0.99 / 105.99 + baking * 0.99 / 84.01 + sheet["stock.alkali"].value * 0.99 / 39.997
    moles = alkali - 2 * reducer_moles(sheet) - 0.005 * sheet["vat.liquor"].value
    assert sheet["finish.vinegar"].value == pytest.approx(moles / 0.8326, rel=0.01)


def test_no_more_is_clear_than_there_is() -> None:
    """As printed: of 11.7 L that hold a little sludge no 12 L stand clear over it, or are poured off."""
    plan = plan_with(starter_plan(), method="fructose-lime", lots__a__fibre="cotton", lots__a__mass="700 g")
    sheet = compute(plan)
    liquor, *clear = (figure_text(sheet[name], plan).main for name in ("vat.liquor", "vat.clear", "finish.clear"))
    assert all(float(text.split()[0]) <= float(liquor.split()[0]) for text in clear)
