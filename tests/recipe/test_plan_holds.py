"""What the plans of the tool come to once their reducer is spent: held for the fibre, or said."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn
from tests.effort import examples
from tests.facts import Facts
from tests.plan.plans import kept_vat, plan_of_lots, told, wool_plan

from vatside.catalogue.load import fibres
from vatside.chemistry.life import Course, course
from vatside.chemistry.substances import reducer_per_gram, reducer_per_gram_oxygen
from vatside.chemistry.tap import CLASSES
from vatside.plan.measures import delicate_lot, fibre_of, powder, tap_of
from vatside.plan.plan import Plan, StockKept, TapKind
from vatside.plan.sheet import Sheet, Weight
from vatside.recipe.baths import stock_bath, vat_bath
from vatside.recipe.compute import compute
from vatside.units import Amount

LYE = ("tdo-lye", "dithionite-lye")
DISSOLVED = 8.0
"""Half of the reduced dye is white acid at 7.97 (Etters), undissolved."""
REL_PPM = 2.0
"""Sulphur dioxide that a workplace may have over ten hours (NIOSH)."""
NEAR = 0.16
"""A pH so little past its limit may go unsaid: 0.05 by which it prints as the limit, 0.1 for unknown water."""


HELD = (
    "stock.alkali", "stock.reducer", "vat.alkali", "vat.reducer", "vat.soda-ash", "vat.baking-soda",
)  # fmt: skip
"""Amounts that decide the pH."""


@st.composite
def held_vat(draw: DrawFn) -> Plan:
    """Draw the same with some amounts set to up to three times what is worked out."""
    plan = draw(any_vat())
    sheet = compute(plan)
    for figure in draw(st.lists(st.sampled_from(HELD), min_size=1, max_size=3, unique=True)):
        if any(row.id == figure for row in sheet.figures):
            grams = sheet.value(figure) * draw(st.floats(0, 3)) + draw(st.sampled_from((0.0, 0.0, 2.0)))
            plan = told(plan, figure, f"{grams:.3f} g")
    return plan


@st.composite
def any_vat(draw: DrawFn, methods: tuple[str, ...] = LYE) -> Plan:
    """Draw a plan of one to three lots in a tub of 3 to 100 L, with nothing held but what a kept vat or jar holds."""
    lots = draw(st.lists(st.tuples(st.sampled_from(sorted(fibres())), st.integers(20, 400)), min_size=1, max_size=3))
    plan = evolve(wool_plan(), pins=())
    plan = plan_of_lots(*((fibre, f"{grams} g") for fibre, grams in lots), plan=plan)
    tub = draw(st.integers(3, 100))
    changes = {
        "method": draw(st.sampled_from(methods)),
        "vessels.tub.volume": f"{tub} L",
        "dosing": draw(st.sampled_from(("", "for this fibre", "a working vat"))),
        "water.tap": draw(st.sampled_from(TapKind)).value,
    }
    for lot, _ in zip(plan.lots, lots, strict=True):
        changes[f"lots.{lot.id}.depth"] = f"{draw(st.sampled_from((0.1, 0.5, 0.8, 2.0, 4.0)))} %"
    if draw(st.booleans()):
        changes["water.hardness"] = f"{draw(st.integers(0, 500))} mg/L"
    for path, text in changes.items():
        plan = told(plan, path, text)
    if draw(st.integers(0, 3)) == 0:
        litres = tub * draw(st.floats(0.3, 0.8))
        grams = [litres * draw(st.floats(0, most)) for most in (0.2, 0.4, 0.1)]
        plan = evolve(plan, kept=kept_vat(litres, 20, *grams))
    if draw(st.integers(0, 3)) == 0:
        dye, alkali, reducer = (Amount(draw(st.floats(0, most)), "g") for most in (4, 4, 2))
        plan = evolve(plan, stock_kept=StockKept(Amount(0.5, "L"), dye, alkali, reducer))
    return plan


def life(plan: Plan, sheet: Sheet) -> Course:
    """Give the way of the vat in every water it may be."""
    return course(*(vat_bath(plan, sheet.value, tap=water) for water in tap_of(plan).waters))


def said(sheet: Sheet, *figures: str) -> bool:
    """Tell whether the sheet warns of something about one of these."""
    return any(notice.figure in figures and notice.weight is not Weight.NOTE for notice in sheet.notices)


fact: Facts[[Plan, Sheet, Course]] = Facts()
"""What holds of any vat that is planned, as it stands and with amounts held, of its sheet and of its life."""


@examples(80)
@given(any_vat() | held_vat())
def test_every_fact_holds_of_any_vat(plan: Plan) -> None:
    """Each of the facts here."""
    sheet = compute(plan)
    fact.hold(plan, sheet, life(plan, sheet))


@fact
def no_vat_falls_below_where_its_dye_dissolves_unsaid(plan: Plan, sheet: Sheet, found: Course) -> None:
    """Below pH 8, spent, in any water that it may be: a notice says so."""
    if found.low < DISSOLVED:
        assert said(sheet, "vat.pH_spent", "vat.pH", "vat.baking-soda"), found


@fact
def no_vat_leaves_the_window_of_wool_or_silk_unsaid(plan: Plan, sheet: Sheet, found: Course) -> None:
    """Fresh or spent, in any water that it may be."""
    lot = delicate_lot(plan)
    assert lot is not None
    fibre = fibre_of(lot)
    if fibre.group == "cellulose":
        return
    if found.low < fibre.window.low - NEAR or found.high > fibre.window.high + NEAR:
        assert said(sheet, "vat.pH", "vat.pH_spent", "vat.baking-soda"), found


@fact
def no_gas_goes_unsaid(plan: Plan, sheet: Sheet, found: Course) -> None:
    """Where stock or vat could give off more sulphur dioxide than a workplace may have, it is cautioned."""
    assert found.sulfur_dioxide_ppm <= REL_PPM or said(sheet, "vat.pH_spent", "vat.pH")
    if sheet.value("stock.water"):
        stock = course(stock_bath(plan, sheet.value))
        assert stock.sulfur_dioxide_ppm <= REL_PPM or said(sheet, "stock.pH_spent", "stock.pH")


@examples(40)
@given(any_vat((*LYE, "copperas-lime")))
def test_reducer_is_never_below_theory(plan: Plan) -> None:
    """The stock takes 0.41 g of thiourea dioxide, 0.66 of dithionite or 2.12 of copperas a gram, the tub its oxygen."""
    sheet, reducer = compute(plan), powder(plan, "reducer")
    name = reducer.material.species
    stock, tub = (sheet.value(figure) * reducer.purity for figure in ("stock.reducer", "vat.reducer"))
    assert stock >= sheet.value("stock.indigotin") * reducer_per_gram(name) * (1 - 1e-9)
    left = plan.kept.reducer.value if plan.kept else 0.0
    assert tub + left >= sheet.value("vat.oxygen") * reducer_per_gram_oxygen(name) * (1 - 1e-9)


@fact
def a_band_holds_its_likeliest_value(plan: Plan, sheet: Sheet, found: Course) -> None:
    """PH of stock and vat, fresh and spent."""
    for figure in sheet.figures:
        if figure.id in ("stock.pH", "stock.pH_spent", "vat.pH", "vat.pH_spent") and figure.between:
            low, high = figure.between
            assert low - 1e-3 <= figure.value <= high + 1e-3, figure.id


@examples(40)
@given(any_vat(), st.integers(0, 400), st.integers(0, 200))
def test_harder_water_never_wants_less_lye(plan: Plan, mg: int, more: int) -> None:
    """To a part in five hundred, by which it is worked out."""
    softer, harder = (compute(told(plan, "water.hardness", f"{hardness} mg/L")) for hardness in (mg, mg + more))
    assert harder.value("vat.alkali") >= softer.value("vat.alkali") * (1 - 2e-3) - 1e-3


@pytest.mark.parametrize("method", LYE)
@pytest.mark.parametrize(("fibre", "mass"), [("wool", "227 g"), ("silk", "100 g"), ("alpaca or mohair", "60 g")])
def test_harder_water_never_wants_less_soda_ash(fibre: str, mass: str, method: str) -> None:
    """From rain to very hard: each gram of hardness takes 1.3 g of soda ash for wool, 2.2 g for silk."""
    plan = plan_of_lots((fibre, mass), plan=evolve(wool_plan(), pins=()), method=method)
    taps = ("rain or distilled", "soft", "medium", "hard", "very hard")
    soda = [compute(told(plan, "water.tap", tap)).value("vat.soda-ash", 0.0) for tap in taps]
    assert soda == sorted(soda)
    assert soda[-1] > soda[0]


@pytest.mark.parametrize("method", LYE)
@pytest.mark.parametrize("fibre", sorted(fibres()))
@pytest.mark.parametrize("tub", ["5 L", "24 L", "100 L"])
def test_a_day_of_one_fibre_has_a_vat_that_holds(fibre: str, tub: str, method: str) -> None:
    """In water not known, from soft to hard, every fibre of the catalogue has a plan with nothing to warn of."""
    plan = evolve(wool_plan(), pins=())
    grams = 15 * float(tub.split(maxsplit=1)[0])
    plan = plan_of_lots((fibre, f"{grams} g"), plan=plan, method=method)
    plan = told(told(plan, "vessels.tub.volume", tub), "water.tap", "not known")
    sheet, window = compute(plan), fibre_of(plan.lots[0]).window
    found = life(plan, sheet)
    assert not said(sheet, "vat.pH", "vat.pH_spent", "vat.baking-soda")
    assert window.low - NEAR <= found.low
    assert found.high <= window.block


def test_the_classes_of_water_are_in_order() -> None:
    """The next harder class is harder and more alkaline, so that a band from soft to hard has the others inside."""
    waters = [CLASSES[name] for name in ("pure", "soft", "medium", "hard", "very hard")]
    assert waters == sorted(waters, key=lambda water: (water.hardness, water.alkalinity))
