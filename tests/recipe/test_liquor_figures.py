"""pH of stock and vat on the sheet, and what it says when alkali would harm the fibre."""

from __future__ import annotations

import pytest
from tests.plan.plans import hand_plan, hand_with

from vatside.plan.figure_text import figure_text
from vatside.plan.paths import add_lot
from vatside.plan.plan import Plan
from vatside.plan.sheet import Notice, Sheet, Stage, Weight
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute, taken

IDS = ("stock.pH", "stock.pH_25", "vat.pH", "vat.pH_25", "vat.leuco_acid", "vat.leuco_mono", "vat.leuco_di",
       "vat.window_low", "vat.window_high", "stock.pH_spent", "vat.pH_spent")  # fmt: skip
ABOUT = ("stock.pH_spent", "vat.pH", "vat.pH_spent")
"""What the notices about alkali name."""
NO_SODA = {"vat__soda-ash": "0 g", "vat__baking-soda": "0 g"}


def about_pH(sheet: Sheet) -> list[Notice]:
    """Notices about the pH of the vat."""
    return [notice for notice in sheet.notices if notice.figure == "vat.pH"]


def test_the_usual_plan_has_them_all() -> None:
    """Stock and vat at both temperatures and spent, the forms of the dye, and the window."""
    sheet = compute(hand_plan())
    assert {figure.id for figure in sheet.figures} >= set(IDS)
    assert all(sheet[name].stage is Stage(name.partition(".")[0]) for name in IDS)


def test_both_pH_say_their_temperature() -> None:
    """Each pH names its temperature; the cooler one is the higher one, by about 0.03 a degree where lye holds it.

    Carbonate moves less: its second pK falls from 10.33 to 10.17 between 25 and 47 degrees (Plummer and Busenberg).
    """
    lye, soda = compute(hand_with(lots__a__fibre="cotton")), compute(hand_plan())
    assert lye["vat.pH"].label == "pH at 45 °C"
    assert soda["vat.pH"].label == "pH at 47 °C"
    assert lye["vat.pH_25"].label == "pH at 25 °C"
    assert lye.value("vat.pH_25") - lye.value("vat.pH") == pytest.approx(0.03 * 20, abs=0.06)
    assert soda.value("vat.pH_25") - soda.value("vat.pH") == pytest.approx(0.16, abs=0.04)


def test_the_forms_are_whole_percents() -> None:
    """Acid, single and double ion come to 100 %."""
    sheet = compute(hand_plan())
    forms = [sheet.value(f"vat.leuco_{form}") for form in ("acid", "mono", "di")]
    assert sum(forms) == 100
    assert all(share == round(share) for share in forms)


def lye_alone(stock: str, vat: str) -> Plan:
    """Give the wool vat with lye held in stock and tub and no soda."""
    return hand_with(stock__alkali=stock, vat__alkali=vat, **NO_SODA)


def test_the_usual_lye_would_harm_wool() -> None:
    """Half a pound of wool with 6 g of lye held in the tub: DANGER, and the amounts as worked out are offered."""
    (notice,) = about_pH(compute(lye_alone("2.8 g", "6 g")))
    assert notice.weight is Weight.DANGER
    assert notice.stage is Stage.VAT
    assert "harms wool" in notice.text
    (remedy,) = notice.remedies
    assert "as worked out" in remedy.label
    assert {place for place, amount in remedy.places if amount is None} == {
        "stock.alkali", "vat.alkali", "vat.soda-ash", "vat.baking-soda",
    }  # fmt: skip


@pytest.mark.parametrize("fibre", ["wool", "silk", "cotton"])
@pytest.mark.parametrize("method", ["tdo-lye", "dithionite-lye"])
@pytest.mark.parametrize("held", [{"stock__alkali": "1.2 g", "vat__alkali": "0 g"}, {"stock__alkali": "0 g"}])
def test_following_the_advice_holds_the_vat(fibre: str, method: str, held: dict[str, str]) -> None:
    """With amounts as worked out nothing is said any more, and the vat stays in the window to its end."""
    soda = NO_SODA if fibre != "cotton" else {}
    plan = hand_with(method=method, lots__a__fibre=fibre, **held, **soda)
    remedy = next(
        remedy for notice in compute(plan).notices if notice.figure in ABOUT for remedy in notice.remedies
    )  # fmt: skip
    better = compute(taken(plan, remedy))
    assert not [notice for notice in better.notices if notice.figure in ABOUT]
    assert better.value("vat.window_low") <= better.value("vat.pH_spent")
    assert better.value("vat.pH") <= better.value("vat.window_high")
    for figure, _ in remedy.places:
        assert f" {figure_text(better[figure], plan).main}" in remedy.label
    assert f"for pH {better.value('vat.pH'):.1f}" in remedy.label


@pytest.mark.parametrize("method", ["tdo-lye", "dithionite-lye"])
@pytest.mark.parametrize("fibre", ["cotton", "linen", "viscose"])
def test_what_sharpens_leaves_the_spent_vat_just_above_its_lowest(method: str, fibre: str) -> None:
    """A tenth above the lowest pH of the fibre, in the pure water of the plan."""
    sheet = compute(hand_with(method=method, lots__a__fibre=fibre))
    assert sheet.value("vat.alkali") > 0
    assert sheet.value("vat.pH_spent") == pytest.approx(sheet.value("vat.window_low") + 0.1, abs=0.02)


def test_above_the_window_but_not_harmful() -> None:
    """Wool between 9.8 and 10.5: CARE."""
    (notice,) = about_pH(compute(lye_alone("2.2 g", "0 g")))
    assert notice.weight is Weight.CARE
    assert "above the 9.8" in notice.text


def test_below_the_window() -> None:
    """Wool below 8.5: part of the dye is white acid."""
    (notice,) = about_pH(compute(lye_alone("1.35 g", "0 g")))
    assert notice.weight is Weight.CARE
    assert "white acid" in notice.text
    assert "below the 8.5" in notice.text


def test_a_vat_that_falls_out_of_the_window_of_wool_is_said() -> None:
    """Four times the baking soda holds the dye to the end, but below the 8.5 of wool: CARE, with the amounts for it."""
    sheet = compute(hand_with(**{"vat__soda-ash": "4 g", "vat__baking-soda": "58 g"}))
    assert 8.0 < sheet.value("vat.pH_spent") < 8.35
    (notice,) = [notice for notice in sheet.notices if notice.figure == "vat.pH_spent"]
    assert notice.weight is Weight.CARE
    assert "below the 8.5 that wool wants" in notice.text
    assert notice.remedies


def test_a_vat_that_turns_sour_is_said_with_its_gas() -> None:
    """Lye alone over wool's stock: the fall is said, and above 100 ppm (NIOSH) the gas is a danger."""
    found = [notice for notice in compute(lye_alone("1.5 g", "0 g")).notices if notice.figure == "vat.pH_spent"]
    assert {notice.weight for notice in found} == {Weight.DANGER, Weight.CARE}
    assert any("sulphur dioxide" in notice.text and "Window open, no acid" in notice.text for notice in found)
    assert any("the dye comes out of it" in notice.text for notice in found)


def test_a_stock_whose_reducer_the_dye_has_used_up_gives_off_gas_all_the_same() -> None:
    """1.0 g of reducer for 2.6 g of indigotin, which take 1.07 g, and no lye: nothing is left to spend, sulfite is."""
    sheet = compute(hand_with(stock__alkali="0 g", stock__reducer="1.0 g"))
    assert "stock.pH_spent" not in {figure.id for figure in sheet.figures}
    (notice,) = [notice for notice in sheet.notices if notice.figure == "stock.pH"]
    assert notice.weight is Weight.DANGER
    assert "sulphur dioxide" in notice.text


def test_no_alkali_is_said_in_words() -> None:
    """A vat without alkali is no crash and no number to wonder about."""
    (notice,) = about_pH(compute(lye_alone("0 g", "0 g")))
    assert notice.weight is Weight.CARE
    assert notice.text.startswith("The vat holds no alkali")


def test_out_of_range_is_said_in_words() -> None:
    """A stock stronger than any liquor has no pH; the sheet says so, and the vat still has one."""
    sheet = compute(hand_with(stock__alkali="900 g"))
    assert "stock.pH" not in {figure.id for figure in sheet.figures}
    assert any(notice.figure == "stock.alkali" and "cannot be worked out" in notice.text for notice in sheet.notices)
    assert sheet.value("vat.pH") > 12


def test_lime_for_cotton_is_no_alarm() -> None:
    """A lime vat stands above cotton's window because lime holds it there: a note, no more."""
    (notice,) = about_pH(compute(hand_with(method="copperas-lime", lots__a__fibre="cotton")))
    assert notice.weight is Weight.NOTE


def test_cotton_in_its_usual_vat_is_fine() -> None:
    """Nothing is said about cotton at pH 11.5."""
    assert about_pH(compute(hand_with(lots__a__fibre="cotton"))) == []


def test_the_most_delicate_fibre_decides() -> None:
    """With cotton and wool in one plan the window is wool's; cotton is told to wait for more alkali."""
    both = add_lot(hand_plan(), new_lot(hand_plan()))
    sheet = compute(hand_with(both, lots__b__fibre="cotton", stock__alkali="1.6 g", vat__alkali="0 g"))
    assert sheet.value("vat.window_high") == 9.8
    assert any(notice.weight is Weight.NOTE and "raise the alkali" in notice.text for notice in about_pH(sheet))


def test_the_working_can_be_asked_for() -> None:
    """Each of these figures has a formula, inputs and a source."""
    sheet = compute(hand_plan())
    for name in IDS:
        assert sheet[name].working.formula
        assert sheet[name].working.source
