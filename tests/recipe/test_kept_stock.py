"""Plans that use the stock of another vat, or leave some for one."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.plan.plans import free_plan, kept_vat, plan_with, says

from vatside.catalogue.load import methods
from vatside.dayline.day_steps import steps
from vatside.plan.plan import Pin, Plan, StockKept
from vatside.plan.sheet import Stage, Weight
from vatside.plan.starter import starter_plan
from vatside.recipe.baths import stock_share
from vatside.recipe.compute import compute
from vatside.recipe.kept import past_days
from vatside.recipe.stages import scour as scour_stage
from vatside.recipe.stages import stock as stock_stage
from vatside.recipe.stages import vat as vat_stage
from vatside.recipe.vat_alkali import wool_vat
from vatside.recipe.worksheet import Worksheet
from vatside.units import Amount
from vatside.vat.account import planned_account

MADE = "2026-05-02T14:00"


def stock(litres: float = 0.5, indigotin_g: float = 6, alkali_g: float = 2, made_: str | None = MADE) -> StockKept:
    """Half a jar at 12 g/L, its reducer gone."""
    return StockKept(Amount(litres, "L"), Amount(indigotin_g, "g"), Amount(alkali_g, "g"), Amount(0.0, "g"), made_)


def with_stock(kept: StockKept, plan: Plan | None = None) -> Plan:
    """The starter with a stock at hand."""
    return evolve(plan or starter_plan(), stock_kept=kept)


def for_others(grams: float, plan: Plan | None = None) -> Plan:
    """The starter with so much powder weighed in for other vats."""
    plan = plan or starter_plan()
    return evolve(plan, pins=(*plan.pins, Pin("stock.others", Amount(grams, "g"))))


def step_ids(plan: Plan) -> list[str]:
    """The steps of a plan."""
    return [step.id for step in steps(plan, compute(plan))]


def test_a_stock_for_two_vats_leaves_half_a_jar() -> None:
    """As much powder again for another vat as this one takes: half of the litres and of the dye stay in the jar."""
    one = compute(starter_plan())
    two = compute(for_others(one.value("stock.pigment")))
    assert two.value("stock.pigment") == pytest.approx(2 * one.value("stock.pigment"))
    assert two.value("stock.left", 0.0) == pytest.approx(two.value("stock.water") / 2)
    assert two.value("stock.left_indigotin", 0.0) == pytest.approx(one.value("stock.indigotin"))
    assert two.value("vat.indigotin") == pytest.approx(one.value("vat.indigotin"))


def test_powder_for_others_changes_nothing_of_this_vat() -> None:
    """Litres, strength and the share on the fibre are those of the vat alone."""
    one, two = compute(starter_plan()), compute(for_others(15))
    for figure in ("vat.fill", "vat.strength", "stock.owf", "dip.a.dips", "dip.kept"):
        assert two.value(figure) == pytest.approx(one.value(figure)), figure


def test_a_held_powder_counts_less_what_others_take() -> None:
    """20 g held, 12 g of them for others: 8 g at 40 % are 3.2 g in this vat."""
    plan = for_others(12, plan_with(starter_plan(), stock__pigment="20 g"))
    assert compute(plan).value("vat.indigotin") == pytest.approx(3.2)


def test_stock_enough_wants_no_powder_no_steps_and_no_waits() -> None:
    """300 g at 0.8 % by 70 % are 3.43 g: 286 mL at 12 g/L hold them; nothing is made anew."""
    plan = with_stock(stock())
    sheet = compute(plan)
    assert sheet.value("vat.stock_kept", 0.0) == pytest.approx(300 * 0.008 / 0.7 / 12)
    assert [sheet.value(f"stock.{name}") for name in ("pigment", "jars", "water", "alkali", "reducer")] == [0] * 5
    assert not [step for step in steps(plan, sheet) if step.stage is Stage.STOCK]
    assert sheet.value("vat.indigotin") == pytest.approx(300 * 0.008 / 0.7)


def test_only_what_is_missing_is_made_anew() -> None:
    """Of 3.43 g one is in the jar: the other 2.43 g are 6.07 g of powder at 40 %, and all of the jar goes in."""
    sheet = compute(with_stock(stock(indigotin_g=1)))
    assert sheet.value("vat.stock_kept", 0.0) == pytest.approx(0.5)
    assert sheet.value("stock.pigment") == pytest.approx((300 * 0.008 / 0.7 - 1) / 0.4)
    assert sheet.value("vat.indigotin") == pytest.approx(300 * 0.008 / 0.7)


def test_what_stands_in_the_tub_is_used_before_the_jar() -> None:
    """Of 3.43 g two stand in the tub: the jar gives the other 1.43 g."""
    sheet = compute(evolve(with_stock(stock()), kept=kept_vat(litres=2, indigotin_g=2)))
    assert sheet.value("vat.stock_kept", 0.0) * 12 == pytest.approx(sheet.value("stock.wanted") - 2)


def test_the_litres_of_the_jar_can_be_held() -> None:
    """All of it, though less would do; more than there is goes in only as far as it goes, and is warned of."""
    assert compute(plan_with(with_stock(stock()), vat__stock_kept="500 mL")).value("vat.indigotin") == pytest.approx(6)
    sheet = compute(plan_with(with_stock(stock()), vat__stock_kept="800 mL"))
    assert sheet.value("vat.indigotin") == pytest.approx(6)
    assert says(sheet, "The jar holds 500 mL")


def test_the_water_makes_room_for_the_kept_stock() -> None:
    """Liquor = water + kept stock + new stock."""
    sheet = compute(with_stock(stock(indigotin_g=1)))
    parts = ("vat.water", "vat.stock_kept", "vat.stock")
    assert sum(sheet.value(part) for part in parts) == pytest.approx(sheet.value("vat.liquor"))


def test_alkali_of_the_jar_counts_in_the_vat() -> None:
    """With the sharpening held, two grams more of lye in the whole jar are two more in the vat, and a higher pH."""
    plans = (plan_with(with_stock(stock(alkali_g=g)), vat__stock_kept="500 mL", vat__alkali="1 g") for g in (1, 3))
    less, more = (compute(plan) for plan in plans)
    assert more.value("vat.alkali_left") - less.value("vat.alkali_left") == pytest.approx(2)
    assert more.value("vat.pH") > less.value("vat.pH")


def test_both_stocks_are_named_by_the_step_that_brings_them_in() -> None:
    """The kept one first, read before it goes in; a day without one says nothing of a kept jar."""
    plan = with_stock(stock(indigotin_g=1))
    text = next(step.text for step in steps(plan, compute(plan)) if step.id == "vat.stock_in")
    assert text.index("kept stock") < text.index("new stock")
    assert step_ids(plan).index("vat.jar") < step_ids(plan).index("vat.stock_in")
    assert "vat.jar" not in step_ids(starter_plan())


def test_the_jar_that_is_left_is_labelled_at_the_end() -> None:
    """What it is, how strong, its days, what it does, and where it stands; no such step where the jar is emptied."""
    plan = for_others(15)
    text = next(step.text for step in steps(plan, compute(plan)) if step.id == "finish.jar")
    for part in ("9.92 g/L", "600 mL", "use within 30 d", "CAUSTIC", "lye burns", "away from children", "food"):
        assert part in text
    assert "finish.jar" not in step_ids(starter_plan())


def test_the_label_of_a_kept_stock_says_its_own_days() -> None:
    """Made on 2 May, and good for 30 days: until 1 June."""
    plan = with_stock(stock())
    text = next(step.text for step in steps(plan, compute(plan)) if step.id == "finish.jar")
    assert "made 2 May 14:00, use by 1 Jun" in text


@pytest.mark.parametrize("method", sorted(methods()))
def test_a_stock_past_its_days_says_so(method: str) -> None:
    """The low end of what is usual counts (common practice, no source); unread it is not relied on."""
    plan, days = with_stock(stock(), evolve(starter_plan(), method=method)), methods()[method].stock.keeps.value
    fresh, old = (evolve(plan, ready_by=f"2026-{when}T14:00") for when in ("05-02", "08-02"))
    assert not says(compute(fresh), "past the")
    assert [notice.weight for notice in says(compute(old), "past the")] == [Weight.CARE]
    assert past_days(plan, MADE, "2026-08-02T14:00") == pytest.approx(92 - days)


def test_a_stock_of_unknown_age_or_an_open_hour_says_nothing() -> None:
    """Nobody knows is no age."""
    assert past_days(starter_plan(), None, "2026-08-02T14:00") is None
    assert past_days(starter_plan(), MADE, "14:00") is None


@examples(15)
@given(
    litres=st.floats(0.05, 5), grams=st.floats(0.1, 60), others=st.floats(0, 60),
    held=st.none() | st.floats(0, 5), method=st.sampled_from(sorted(methods())),
)  # fmt: skip
def test_no_dye_is_made_or_lost_between_jar_and_vat(
    litres: float, grams: float, others: float, held: float | None, method: str
) -> None:
    """Kept stock and new powder = in the vat + left in the jars, on the sheet and in the account."""
    plan = for_others(others, with_stock(stock(litres, grams), evolve(starter_plan(), method=method)))
    if held is not None:
        plan = evolve(plan, pins=(*plan.pins, Pin("vat.stock_kept", Amount(held, "L"))))
    sheet = compute(plan)
    brought = grams + sheet.value("stock.indigotin")
    account = planned_account(plan, sheet)
    assert account.indigotin_g + account.stock_strength * account.stock_litres == pytest.approx(brought, rel=1e-9)
    if sheet.value("stock.left", 0.0):
        both = sheet.value("vat.indigotin") + sheet.value("stock.left_indigotin", 0.0)
        assert both == pytest.approx(brought, rel=1e-9)
        assert account.indigotin_g == pytest.approx(sheet.value("vat.indigotin"), rel=1e-9)


def test_the_dye_of_a_kept_stock_brings_the_lye_that_holds_it() -> None:
    """Four grams of dye in their single ion hold 4 × 40.00 ÷ 262.26 = 0.61 g of lye beside the free gram."""
    sheet = Worksheet(evolve(free_plan(), stock_kept=stock(indigotin_g=4, alkali_g=1)))
    for stage in (scour_stage, stock_stage, vat_stage):
        stage.work_out(sheet)
    found, share = wool_vat(sheet), stock_share(sheet.__getitem__)
    poured = (found.indigotin_g - sheet["stock.indigotin"] * share) / 4
    new = (sheet["stock.alkali"] * share + sheet["vat.alkali"]) * 0.99
    assert poured > 0
    assert found.lye_g == pytest.approx(new + poured * (1 + 4 * 39.997 / 262.26), rel=1e-3)
