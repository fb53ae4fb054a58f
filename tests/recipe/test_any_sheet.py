"""What holds for any plan that a person can type."""

from __future__ import annotations

from math import isclose, isfinite

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.facts import Facts
from tests.plan.any_plan import any_plan
from tests.plan.plans import hand_plan, hand_with, told, wool_plan

from vatside.catalogue.load import sources
from vatside.chemistry.sources import SOURCES
from vatside.chemistry.water import density, enthalpy
from vatside.dayline.day_steps import steps
from vatside.forms.fields import fields, is_pin
from vatside.plan.figure_text import figure_text, source_text, working_lines
from vatside.plan.measures import celsius, clean_grams, method_of, share
from vatside.plan.plan import Plan
from vatside.plan.sheet import Figure, Sheet, Stage
from vatside.recipe import compute as computing
from vatside.recipe.compute import compute, untried
from vatside.recipe.kept import in_tub

fact: Facts[[Plan, Sheet]] = Facts()
"""What holds of any plan that can be typed, and of its sheet."""

DRAWN_AT = {
    "vat.": ("vat.water", "vat.temperature"),
    "stock.": ("stock.water", "stock.start"),
    "stock.bath_": ("stock.bath", "stock.bath_temperature"),
    "scour.wool.": ("scour.wool.load_water", "scour.wool.start"),
}
"""Draws of tap water with the figures that say how much of it is wanted and how warm."""


@examples(80)
@given(any_plan())
def test_every_fact_holds_of_any_plan(plan: Plan) -> None:
    """Each of the facts here."""
    fact.hold(plan, compute(plan))


@fact
def any_plan_has_a_sheet_of_finite_figures(plan: Plan, sheet: Sheet) -> None:
    """No plan that can be typed makes the sheet fail or print something that is no number."""
    for figure in sheet.figures:
        assert isfinite(figure.value), figure.id
        assert isfinite(figure.worked), figure.id
        assert figure.minimum is None or isfinite(figure.minimum)


@fact
def an_untried_sheet_has_the_same_figures_and_notices(plan: Plan, sheet: Sheet) -> None:
    """Whatever the day is called: only what the notices advise is left out."""
    other = untried(evolve(plan, title="Another day"))
    assert other.figures == sheet.figures
    assert (other.piece_dips, other.held_up) == (sheet.piece_dips, sheet.held_up)
    assert [(item.stage, item.figure, item.weight) for item in other.notices] == [
        (item.stage, item.figure, item.weight) for item in sheet.notices
    ]


@fact
def any_sheet_can_be_printed(plan: Plan, sheet: Sheet) -> None:
    """Every figure of every sheet has its words, its working and a source that stands in a list."""
    for figure in sheet.figures:
        assert figure_text(figure, plan).main
        assert working_lines(figure, plan)
        assert set(figure.working.source.split(" + ")) <= {*sources(), *SOURCES}
        assert source_text(figure.working.source) != figure.working.source


@fact
def any_plan_has_steps_without_blanks(plan: Plan, sheet: Sheet) -> None:
    """Every step of any plan has a length of hands, a length of wait and no blank left."""
    for step in steps(plan, sheet):
        assert step.hands_min >= 0
        assert step.minutes is None or step.minutes >= 0
        assert not {"{", "}", "–"} & set(step.text)


@fact
def pinnable_figures_and_pin_rows_are_the_same(plan: Plan, sheet: Sheet) -> None:
    """Each figure that can be held has a row to hold it in, and each such row a figure."""
    rows = {row.path for stage in Stage for row in fields(plan, stage, hidden=True) if row.pin}
    figures = {figure.id for figure in sheet.figures if figure.pinnable}
    assert rows == figures
    assert all(is_pin(path) for path in rows)


@fact
def the_pH_lies_on_the_scale(plan: Plan, sheet: Sheet) -> None:
    """Where there is one."""
    assert -1 <= sheet.value("vat.pH", 7.0) <= 16


@fact
def no_amount_of_stuff_is_negative(plan: Plan, sheet: Sheet) -> None:
    """Only what is left over can fall below zero: masses and volumes are real."""
    may_be_short = {"vat.alkali_left"}
    for figure in sheet.figures:
        if figure.unit in ("g", "L") and figure.id not in may_be_short:
            assert figure.value >= 0, figure.id


@fact
def water_is_neither_made_nor_lost(plan: Plan, sheet: Sheet) -> None:
    """What is drawn hot and cold weighs what the water wanted weighs at its own temperature."""
    hot_C, cold_C = celsius(plan.water.hot), celsius(plan.water.cold)
    for prefix, (volume, temperature) in DRAWN_AT.items():
        if not any(figure.id == f"{prefix}hot" for figure in sheet.figures):
            continue
        drawn = sheet.value(f"{prefix}hot") * density(hot_C) + sheet.value(f"{prefix}cold") * density(cold_C)
        jug = min(sheet.value("stock.jug", 0.0), sheet.value(volume)) if prefix == "stock." else 0.0
        assert isclose(
            drawn, (sheet.value(volume) - jug) * density(sheet.value(temperature)), rel_tol=1e-9, abs_tol=1e-9
        )


@fact
def the_parts_of_drawn_water_add_up_as_printed(plan: Plan, sheet: Sheet) -> None:
    """What is printed for the hot and the cold tap is, added up, what is printed for the whole."""
    for whole, prefix in ((figure.id, figure.id.removesuffix("load_water")) for figure in sheet.figures):
        prefix = "vat." if whole == "vat.water" else prefix
        if prefix != whole and f"{prefix}hot" in sheet:
            hot, cold, both = (_litres(sheet[name], plan) for name in (f"{prefix}hot", f"{prefix}cold", whole))
            assert isclose(hot + cold, both, rel_tol=1e-9, abs_tol=LEAST_L), (whole, hot, cold, both)


LEAST_L = 1.1e-4
"""Less is printed as less than so much, L."""


def _litres(figure: Figure, plan: Plan) -> float:
    *_, number, unit = figure_text(figure, plan).main.split()
    return float(number) * {"L": 1, "mL": 1e-3}[unit]


@fact
def drawn_water_has_the_heat_it_needs(plan: Plan, sheet: Sheet) -> None:
    """Heat of hot, cold and hob together is the heat of a new vat's water, unless the cold tap is too warm."""
    hot_C, cold_C, warm = celsius(plan.water.hot), celsius(plan.water.cold), sheet.value("vat.temperature")
    if plan.kept is not None or cold_C > warm:
        return
    drawn = sum(
        litres * density(t) / 1000 * enthalpy(t)
        for litres, t in ((sheet.value("vat.hot"), hot_C), (sheet.value("vat.cold"), cold_C))
    )
    power = 1000 if plan.water.hob.unit == "W" else 1
    hob = sheet.value("vat.kettle", 0.0) * 60 * plan.water.hob.value / power
    wanted = sheet.value("vat.water") * density(warm) / 1000 * enthalpy(warm)
    close_enough = 0.5 * 4.22 * sheet.value("vat.water")
    assert isclose(drawn + hob, wanted, rel_tol=1e-6, abs_tol=close_enough if not hob else 1e-6)


@fact
def indigotin_is_neither_made_nor_lost(plan: Plan, sheet: Sheet) -> None:
    """The vat holds the stock's indigotin in the share of stock brought in, and what of a kept one stays."""
    brought_in = min(sheet.value("vat.stock") / sheet.value("stock.water"), 1) if sheet.value("stock.water") else 0
    brought = brought_in * sheet.value("stock.indigotin")
    kept = in_tub(plan)
    stays = kept.indigotin_g * (1 - sheet.value("vat.surplus", 0.0) / kept.litres) if kept.litres else 0
    assert isclose(sheet.value("vat.indigotin"), brought + stays, rel_tol=1e-9, abs_tol=1e-12)
    assert isclose(sheet.value("vat.strength") * sheet.value("vat.liquor"), sheet.value("vat.indigotin"), abs_tol=1e-9)


@fact
def liquor_is_stock_and_water(plan: Plan, sheet: Sheet) -> None:
    """Water to draw, stock and what stays of a kept vat fill the room beside the fibre, where the tub can hold them."""
    if sheet.value("vat.stock") > sheet.value("vat.liquor"):
        return
    there = sheet.value("vat.kept", 0.0) - sheet.value("vat.surplus", 0.0)
    near = 0.1 if plan.kept else 0.0
    filled = sheet.value("vat.water") + sheet.value("vat.stock") + there
    assert isclose(filled, sheet.value("vat.liquor"), rel_tol=1e-9, abs_tol=near)


def linear(plan: Plan, path: str, unit: str, one: float, times: float, figure: str) -> tuple[float, float]:
    """Give a figure with a field at one amount and at so many times it."""
    small = compute(told(plan, path, f"{one:.9f} {unit}")).value(figure)
    large = compute(told(plan, path, f"{one * times:.9f} {unit}")).value(figure)
    return small, large


@given(st.floats(1, 5e4), st.floats(1, 20), st.sampled_from(("wool", "cotton", "silk")))
def test_twice_the_fibre_takes_twice_the_dye(grams: float, times: float, fibre: str) -> None:
    """Indigotin is in proportion to fibre, where none is added to spare dips, as far as the strongest vat goes."""
    plan = hand_with(lots__a__fibre=fibre)
    small, large = linear(plan, "lots.a.mass", "g", grams, times, "stock.wanted")
    strongest = method_of(plan).vat.strength_limit.value * 20  # g in the twenty litres of the tub
    assert large == pytest.approx(times * small) or times * small > 0.95 * strongest


@given(st.floats(0.01, 3), st.floats(1, 3))
def test_depth_is_linear_in_dye(depth: float, times: float) -> None:
    """A depth times three takes three times the powder, where none is added to spare dips."""
    small, large = linear(hand_plan(), "lots.a.depth", "%", depth, times, "stock.pigment")
    assert large == pytest.approx(times * small)


@given(st.floats(1, 33), st.floats(1, 3))
def test_purity_is_linear_in_powder(purity: float, times: float) -> None:
    """Powder of three times the purity weighs a third, for the same indigotin."""
    weak, strong = linear(wool_plan(), "shelf.indigo.purity", "%", purity, times, "stock.pigment")
    assert weak == pytest.approx(times * strong)


@given(st.floats(0, 10), st.floats(0, 10))
def test_deeper_never_takes_less(one: float, other: float) -> None:
    """Powder, alkali, reducer and strength of the vat never fall as the depth rises."""
    light, deep = (compute(hand_with(lots__a__depth=f"{depth:.6f} %")) for depth in sorted((one, other)))
    for figure in ("stock.pigment", "stock.alkali", "stock.reducer", "stock.jars", "vat.indigotin"):
        assert light.value(figure) <= deep.value(figure)


@fact
def dye_goes_out_in_the_share_it_came_in(plan: Plan, sheet: Sheet) -> None:
    """What the lots could be dyed of, times depth over yield, is the indigotin in the vat, if they want any."""
    on_fibre = sum(clean_grams(plan, lot) * share(lot.depth) for lot in plan.lots)
    if not on_fibre:
        return
    enough = sheet.value("vat.indigotin") * method_of(plan).vat.yield_.value / 100 / on_fibre
    for lot in plan.lots:
        dyes = sheet[f"vat.dyes.{lot.id}"]
        assert isclose(dyes.value, _input(dyes, "lot") * enough, rel_tol=1e-9, abs_tol=1e-9)


def _input(figure: Figure, label: str) -> float:
    return next(item.value for item in figure.working.inputs if item.label == label)


@examples(15)
@given(any_plan())
def test_the_sheet_is_the_plan_s_alone(plan: Plan) -> None:
    """Working a plan out twice gives the same sheet."""
    first = compute(plan)
    computing._planned.cache_clear()
    assert first == compute(plan)
