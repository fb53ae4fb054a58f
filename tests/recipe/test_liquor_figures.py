"""pH of stock and vat on the sheet, and what it says when alkali would harm the fibre."""

from __future__ import annotations

import pytest
from hypothesis import given
from tests.recipe.any_plan import any_plan
from tests.recipe.plans import hand_plan, hand_with

from vatside.recipe.compute import compute
from vatside.recipe.place import add_lot
from vatside.recipe.plan import Plan
from vatside.recipe.sheet import Notice, Sheet, Stage, Weight
from vatside.recipe.starter import new_lot
from vatside.units import spoonfuls

IDS = ("stock.pH", "stock.pH_25", "vat.pH", "vat.pH_25", "vat.leuco_acid", "vat.leuco_mono", "vat.leuco_di",
       "vat.window_low", "vat.window_high", "vat.alkali_for_window")  # fmt: skip


def about_pH(sheet: Sheet) -> list[Notice]:
    """Notices about the pH of the vat."""
    return [notice for notice in sheet.notices if notice.figure == "vat.pH"]


def test_the_usual_plan_has_them_all() -> None:
    """Stock and vat at both temperatures, the forms of the dye, the window and the alkali for it."""
    sheet = compute(hand_plan())
    assert {figure.id for figure in sheet.figures} >= set(IDS)
    assert all(sheet[name].stage is Stage(name.partition(".")[0]) for name in IDS)


def test_both_pH_say_their_temperature() -> None:
    """Each pH names its temperature; the cooler one is the higher one, by about 0.03 a degree."""
    sheet = compute(hand_plan())
    assert sheet["vat.pH"].label == "pH at 47 °C"
    assert sheet["vat.pH_25"].label == "pH at 25 °C"
    assert sheet.value("vat.pH_25") - sheet.value("vat.pH") == pytest.approx(0.03 * 22, abs=0.06)


def test_the_forms_are_whole_percents() -> None:
    """Acid, single and double ion come to 100 %."""
    sheet = compute(hand_plan())
    forms = [sheet.value(f"vat.leuco_{form}") for form in ("acid", "mono", "di")]
    assert sum(forms) == 100
    assert all(share == round(share) for share in forms)


def test_the_usual_lye_would_harm_wool() -> None:
    """Half a pound of wool in the usual vat: DANGER, with the amount that would not, in grams and spoons.

    It is said as it can be weighed, the nearest tenth of a gram to what is worked out.
    """
    sheet = compute(hand_plan())
    (notice,) = about_pH(sheet)
    assert notice.weight is Weight.DANGER
    assert notice.stage is Stage.VAT
    amount = sheet["vat.alkali_for_window"]
    assert amount.teaspoons is not None
    spoons = spoonfuls(amount.teaspoons, hand_plan().spoons).text
    assert notice.remedies[0].label.startswith(f"{amount.value:.1f} g ({spoons}) of lye in the stock")
    assert "harms wool" in notice.text


@pytest.mark.parametrize(("fibre", "target"), [("wool", 9.3), ("silk", 10.0), ("cotton", 11.0)])
@pytest.mark.parametrize("method", ["tdo-lye", "dithionite-lye"])
def test_following_the_advice_ends_at_the_target(fibre: str, target: float, method: str) -> None:
    """With that much in all the vat stands at its target and nothing is said; a tenth of a gram less is short."""
    plan = hand_with(method=method, lots__a__fibre=fibre)
    total = compute(plan).value("vat.alkali_for_window")
    better, less = (
        compute(hand_with(plan, stock__alkali=f"{much * 0.7} g", vat__alkali=f"{much * 0.3} g"))
        for much in (total, total - 0.1)
    )
    assert less.value("vat.pH") - 0.02 < target < better.value("vat.pH") + 0.02
    assert about_pH(better) == []


def test_less_to_sharpen_with() -> None:
    """What is left to sharpen with is what the stock does not bring, to the tenth above; none if it brings more."""
    sheet = compute(hand_with(method="dithionite-lye", lots__a__fibre="cotton"))
    left = sheet.value("vat.alkali_for_window") - sheet.value("stock.alkali")
    assert left <= sheet.value("vat.sharpen_for_window") < left + 0.1
    assert compute(hand_plan()).value("vat.sharpen_for_window") == 0


def test_above_the_window_but_not_harmful() -> None:
    """Wool between 9.8 and 10.5: CARE."""
    (notice,) = about_pH(compute(hand_with(stock__alkali="2.2 g", vat__alkali="0 g")))
    assert notice.weight is Weight.CARE
    assert "above the 9.8" in notice.text


def test_below_the_window() -> None:
    """Wool below 8.5: part of the dye is white acid, and how much alkali would do is said."""
    (notice,) = about_pH(compute(hand_with(stock__alkali="1.35 g", vat__alkali="0 g")))
    assert notice.weight is Weight.CARE
    assert "white acid" in notice.text
    assert "below the 8.5" in notice.text


def test_no_alkali_is_said_in_words() -> None:
    """A vat without alkali is no crash and no number to wonder about."""
    (notice,) = about_pH(compute(hand_with(stock__alkali="0 g", vat__alkali="0 g")))
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


@given(any_plan())
def test_no_plan_makes_it_crash(plan: Plan) -> None:
    """Any plan that the form lets through has a sheet; its pH, where there is one, lies on the scale."""
    sheet = compute(plan)
    assert -1 <= sheet.value("vat.pH", 7.0) <= 16
