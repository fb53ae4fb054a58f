"""What a notice offers: amounts that can be measured, tried before they are offered."""

from __future__ import annotations

import re

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.plan.any_plan import any_plan
from tests.plan.plans import hand_plan, kept_vat, plan_of_lots, plan_with, says, wool_plan

from vatside.dips.uptake import SoFar
from vatside.forms.fields import base_value, field, get_value
from vatside.plan.figure_text import figure_text
from vatside.plan.measures import powder
from vatside.plan.paths import set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Notice, Remedy, Sheet, Stage, Weight
from vatside.recipe.baths import Dose, amount_text, as_measured
from vatside.recipe.compute import MOST_TRIED, compute, taken, with_advice
from vatside.units import Amount

MOST_TAKEN = 12
"""Remedies taken one after the other until a plan offers none; more would be going round in circles."""


def offers(sheet: Sheet) -> list[tuple[Notice, Remedy]]:
    """Give every remedy of a sheet with its notice."""
    return [(notice, remedy) for notice in sheet.notices for remedy in notice.remedies]


def grave(sheet: Sheet, least: tuple[Weight, ...]) -> dict[tuple[Stage, str], int]:
    """Count the notices of some weights by what they are about."""
    found: dict[tuple[Stage, str], int] = {}
    for notice in sheet.notices:
        if notice.weight in least:
            about = (notice.stage, notice.figure or notice.text)
            found[about] = found.get(about, 0) + 1
    return found


def lands(before: Sheet, after: Sheet, notice: Notice) -> None:
    """Hold that a notice is gone, and that none of weight has come."""
    for least in ((Weight.DANGER,), (Weight.DANGER, Weight.CARE)):
        old, new = grave(before, least), grave(after, least)
        assert all(count <= old.get(about, 0) for about, count in new.items())
    about = (notice.stage, notice.figure or notice.text)
    counted = tuple(Weight) if notice.weight is Weight.NOTE else (Weight.DANGER, Weight.CARE)
    assert grave(after, counted).get(about, 0) < grave(before, counted)[about]


def put_right(plan: Plan) -> Plan:
    """Take the first remedy that the plan's notices offer."""
    _, remedy = offers(compute(plan))[0]
    return taken(plan, remedy)


NO_SODA = {"vat__soda-ash": "0 g", "vat__baking-soda": "0 g"}
HARMS = [
    plan_with(vat__alkali="6 g"), plan_with(lots__a__fibre="silk", **NO_SODA),
    plan_with(lots__a__fibre="alpaca", vat__alkali="3 g", **NO_SODA),
    plan_with(measure="spoons", stock__alkali="1/4 tsp"),
    plan_with(stock__alkali="0 g", vat__alkali="0 g"),
    plan_with(stock__alkali="1 g", vat__alkali="0 g", stock__pigment="12 g"),
    plan_with(stock__start="60 C", vat__temperature="60 C"),
    plan_with(vat__temperature="30 C", vat__fill="30 L", vat__entry="2 kg", lots__a__mass="2 kg"),
    plan_with(stock__pigment="100 g", stock__jars="1", stock__water="2 L", scour__wool__hold_temperature="70 C"),
    plan_of_lots(("cotton", "300 g"), ("wool", "100 g"), plan=plan_with(stock__alkali="0 g")),
    plan_of_lots(("wool", "100 g"), ("silk", "100 g"), plan=plan_with(vat__alkali="5 g", **NO_SODA), measure="spoons"),
    evolve(plan_with(vat__temperature="60 C"), kept=kept_vat(alkali_g=0)),
]  # fmt: skip
"""Plans with something to put right."""


@pytest.mark.parametrize("plan", HARMS)
def test_every_plan_of_the_table_offers_something(plan: Plan) -> None:
    """Each of the plans above has a notice that can be put right."""
    assert offers(compute(plan))


@examples(25)
@given(st.sampled_from(HARMS) | any_plan(), st.data())
def test_a_remedy_lands_in_whatever_order_they_are_taken(plan: Plan, data: st.DataObject) -> None:
    """Each time its notice is gone and none has come that matters, until no remedy is left."""
    sheet = compute(plan)
    for _ in range(MOST_TAKEN):
        if not offers(sheet):
            return
        notice, remedy = data.draw(st.sampled_from(offers(sheet)))
        plan = taken(plan, remedy)
        before, sheet = sheet, compute(plan)
        lands(before, sheet, notice)
    pytest.fail("taking remedies never came to an end")


@examples(25)
@given(st.sampled_from(HARMS) | any_plan())
def test_what_is_said_is_what_is_held(plan: Plan) -> None:
    """Amounts set stand in the form's range and are printed in the label as the figure then is, and so is the pH."""
    for _, remedy in offers(compute(plan)):
        then = taken(plan, remedy)
        sheet = compute(then)
        for path, amount in remedy.places:
            row = field(then, path)
            assert get_value(then, path) == amount
            assert row.optional if amount is None else row.low <= base_value(then, row, amount) <= row.high
            if amount is not None and amount.value and row.powder:
                printed = figure_text(sheet[path], then)
                assert f"{printed.main} ({printed.second})" in remedy.label
        assert "{" not in remedy.label
        promised = re.search(r"for pH ([\d.]+)", remedy.label)
        assert promised is None or promised[1] == f"{sheet.value('vat.pH'):.1f}"


@given(st.floats(0, 5000), st.just(0.0) | st.floats(0.001, 5000), st.sampled_from(["scale", "spoons"]))
def test_what_can_be_measured_is_printed_as_it_is(grams: float, least: float, measure: str) -> None:
    """Neither scale nor spoons show another amount than is held, nor one below the least there has to be."""
    plan = plan_with(measure=measure)
    lye = powder(plan, "alkali")
    amount = as_measured(plan, lye, grams, least)
    held = lye.grams(amount, plan.spoons)
    assert held >= least * (1 - 1e-6)
    again = as_measured(plan, lye, held)
    assert amount_text(plan, Dose(lye, lye.grams(again, plan.spoons))) == amount_text(plan, Dose(lye, held))


@pytest.mark.parametrize(
    ("grams", "text"),
    [(0.034, "0.03 g"), (1.57, "1.6 g"), (99.96, "100 g"), (123.4, "123 g"), (1234, "1.23 kg"), (0, "0 g")],
)
def test_a_scale_holds_what_it_shows(grams: float, text: str) -> None:
    """Hundredths below a tenth of a gram, tenths below 100 g, then whole grams and tens: as masses are printed."""
    plan = wool_plan()
    lye = powder(plan, "alkali")
    assert amount_text(plan, Dose(lye, as_measured(plan, lye, grams).value)).startswith(text)


@pytest.mark.parametrize("fibre", ["wool", "silk", "alpaca"])
def test_held_as_offered_the_vat_suits_the_fibre(fibre: str) -> None:
    """Lye alone harms protein; with the amounts that the notice offers nothing is in danger or short."""
    sheet = compute(put_right(plan_with(lots__a__fibre=fibre, vat__alkali="6 g", **NO_SODA)))
    assert not [notice for notice in sheet.notices if notice.weight is Weight.DANGER]
    assert sheet["vat.window_low"].value <= sheet["vat.pH"].value <= sheet["vat.window_high"].value
    assert sheet["stock.alkali"].value >= (sheet["stock.alkali"].minimum or 0)


def test_more_pigment_after_the_lye_was_held_starves_no_stock() -> None:
    """Lye held as worked out, then three times the dye: what is offered now leaves the stock what it all takes."""
    plan = plan_with(stock__alkali="2.8 g", stock__pigment="19 g")
    sheet = compute(put_right(plan))
    assert sheet["stock.alkali"].value >= (sheet["stock.alkali"].minimum or 0)
    assert not says(sheet, "undissolved")
    assert 8.5 <= sheet["vat.pH_spent"].value <= sheet["vat.pH"].value <= 9.8


def test_a_remedy_that_brings_a_notice_takes_its_remedy_along() -> None:
    """No lye held, and soda for a stock without: with the lye alone let go wool's vat would stand too high."""
    soda = {"vat__soda-ash": "11.7 g", "vat__baking-soda": "8.6 g"}
    (notice,) = says(compute(plan_with(stock__alkali="0 g", **soda)), "Lye set to 0 g")
    held = {"stock.alkali", "vat.soda-ash", "vat.baking-soda"}
    assert [set(dict(remedy.places)) for remedy in notice.remedies] == [held]


def test_a_figure_held_amiss_is_offered_as_worked_out() -> None:
    """Water started too warm for the lye: the cure lets it follow the plan again, and says how warm that is."""
    sheet = compute(plan_with(stock__start="60 C"))
    (notice,) = says(sheet, "Lye into water")
    assert notice.remedies == (Remedy("start the water at 55 °C, as worked out", (("stock.start", None),)),)


def trial(plan: Plan, *remedies: Remedy, otherwise: str = "", gone_in: tuple[str, ...] = ()) -> Notice:
    """Let a warm tub's notice offer some remedies, and give it as tried."""
    warm = Notice(Stage.VAT, Weight.CARE, "Warmer than it likes.", "vat.temperature", remedies, otherwise)

    def work(other: Plan) -> Sheet:
        sheet = compute(other)
        there = [warm] if sheet.value("vat.temperature") > 50 else []
        return evolve(sheet, notices=tuple(there))

    (notice,) = with_advice(plan, work(plan), work, gone_in).notices
    return notice


COOLER = Remedy("vat at {vat.temperature}", (("vat.temperature", Amount(45, "degC")),))
HOTTER = Remedy("vat at 65 °C", (("vat.temperature", Amount(65, "degC")),))
NOWHERE = Remedy("vat at 2000 °C", (("vat.nothing", Amount(2000, "degC")),))
OUTSIDE = Remedy("vat at 2 °C", (("vat.temperature", Amount(2, "degC")),))
WARM = plan_with(vat__temperature="60 C")


@pytest.mark.parametrize("remedy", [HOTTER, NOWHERE, OUTSIDE])
def test_a_remedy_that_does_not_land_is_not_offered(remedy: Remedy) -> None:
    """Its notice would stay, its place is not there, or the form would refuse it: the sentence says what else to do."""
    notice = trial(WARM, remedy, otherwise="Let it cool.")
    assert (notice.text, notice.remedies) == ("Warmer than it likes. Let it cool.", ())


def test_several_that_land_are_all_offered() -> None:
    """One that does not is left out; of two for the same place the first counts; blanks are filled."""
    other = Remedy("as the plan has it", (("vat.temperature", Amount(48, "degC")),))
    away = Remedy("follow", (("vat.temperature", None), ("water.room", Amount(20, "degC"))))
    notice = trial(WARM, HOTTER, COOLER, other, away, otherwise="Let it cool.")
    assert [remedy.label for remedy in notice.remedies] == ["vat at 45 °C", "follow"]
    assert notice.in_full == "Warmer than it likes. To put it right: vat at 45 °C; or follow."


def test_nothing_changes_what_has_gone_in() -> None:
    """What was weighed, drawn or warmed in a step that is done no remedy touches, and no other word is made of it."""
    notice = trial(WARM, COOLER, otherwise="Let it cool.", gone_in=("vat.temperature",))
    assert (notice.text, notice.remedies) == ("Warmer than it likes.", ())
    told = compute(wool_plan(), SoFar(gone_in=frozenset({"stock.alkali"})))
    assert not [remedy for _, remedy in offers(told) if "stock.alkali" in dict(remedy.places)]


def test_a_plan_without_remedies_is_worked_out_once() -> None:
    """Trying costs only where there is something to try."""
    tried: list[Plan] = []
    plan = hand_plan()
    sheet = compute(plan)
    assert not offers(sheet)

    def work(other: Plan) -> Sheet:
        tried.append(other)
        return sheet

    assert with_advice(plan, sheet, work) is sheet
    assert tried == []


@given(st.integers(40, 900))
def test_the_amounts_said_are_those_of_the_figures_then(grams: int) -> None:
    """What the notice says of lye and soda stands so on the sheet once it is taken: soda follows the lye let go."""
    plan = set_value(plan_with(stock__alkali="0.5 g", **NO_SODA), "lots.a.mass", Amount(grams, "g"))
    remedy = next(remedy for _, remedy in offers(compute(plan)) if "stock.alkali" in dict(remedy.places))
    then = taken(plan, remedy)
    sheet = compute(then)
    for place, amount in remedy.places:
        assert amount is not None or f" {figure_text(sheet[place], then).main}" in remedy.label


@examples(25)
@given(st.sampled_from(HARMS) | any_plan())
def test_trying_is_bounded(plan: Plan) -> None:
    """However much there is to put right, so many plans are worked out for it and no more."""
    tried: list[Plan] = []

    def work(other: Plan) -> Sheet:
        tried.append(other)
        return compute(other)

    with_advice(plan, compute(plan), work)
    assert len(tried) <= MOST_TRIED


def test_what_was_not_tried_is_not_said_to_be_of_no_use() -> None:
    """Past the bound a notice stands alone; the graver one before it was tried."""
    ways = tuple(Remedy(f"at {hot} °C", (("vat.temperature", Amount(hot, "degC")),)) for hot in range(51, 62))
    care = Notice(Stage.VAT, Weight.CARE, "Too warm.", "vat.temperature", ways, "Let it cool.")
    danger = Notice(Stage.STOCK, Weight.DANGER, "Too hot.", "stock.start", ways[:1], "Wait.")
    sheet = evolve(compute(WARM), notices=(care, danger))
    found = with_advice(WARM, sheet, lambda other: evolve(compute(other), notices=(care, danger)))
    assert [notice.text for notice in found.notices] == ["Too warm.", "Too hot. Wait."]
