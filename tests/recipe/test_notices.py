"""What the sheet says about a plan before anything is weighed."""

from __future__ import annotations

import pytest
from _pytest.mark import ParameterSet
from attrs import evolve
from tests.plan.plans import plan_of_lots, plan_with, says, told, wool_plan

from vatside.catalogue.load import fibres, methods
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage, Weight
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute


def test_the_usual_day_needs_few_words() -> None:
    """An untouched new day has nothing that the dyer must hear: notes, and few of them."""
    found = compute(starter_plan()).notices
    assert {notice.weight for notice in found} <= {Weight.NOTE}
    assert len(found) <= 4


def test_every_notice_is_about_a_figure_of_the_sheet() -> None:
    """A notice that names a figure names one that is there."""
    for row in CASES:
        plan = row.values[0]
        assert isinstance(plan, Plan)
        sheet = compute(plan)
        ids = {figure.id for figure in sheet.figures}
        assert all(notice.figure is None or notice.figure in ids for notice in sheet.notices)


def case(name: str, plan: Plan, stage: Stage, weight: Weight, *words: str) -> ParameterSet:
    """Make one row of the table below."""
    return pytest.param(plan, stage, weight, words, id=name)


CASES = [
    case(
        "wool too hot", plan_with(scour__wool__hold_temperature="70 C"), Stage.SCOUR, Weight.DANGER,
        "Wool above 60 °C", "felts",
    ),
    case(
        "silk too hot", plan_with(lots__a__fibre="silk", scour__silk__hold_temperature="70 C"), Stage.SCOUR,
        Weight.DANGER, "Silk above 60 °C", "loses its lustre",
    ),
    case(
        "viscose too hot", plan_with(lots__a__fibre="viscose", scour__viscose__hold_temperature="90 C"), Stage.SCOUR,
        Weight.DANGER, "Viscose above 70 °C",
    ),
    case(
        "warm cold tap", plan_with(water__cold="30 C", water__room="12 C"), Stage.SCOUR, Weight.CARE,
        "18.0 °C warmer", "10.0 °C at a time",
    ),
    case(
        "pot runs over", plan_with(scour__wool__load_water="9.8 L"), Stage.SCOUR, Weight.CARE, "10 L pot runs over",
    ),
    case(
        "large pot", plan_with(vessels__scour_pot="40 L"), Stage.SCOUR, Weight.NOTE, "4.4 times the liquor",
    ),
    case(
        "crowded pot", plan_with(lots__a__mass="1 kg", scour__wool__loads="1"), Stage.SCOUR, Weight.CARE,
        "wool is crowded", "7.5 L in all", "30 L",
    ),
    case(
        "several loads", plan_with(lots__a__mass="1 kg"), Stage.SCOUR, Weight.NOTE, "in 4 loads",
    ),
    case(
        "too many loads", plan_with(lots__a__mass="5 kg"), Stage.SCOUR, Weight.CARE, "in 20 loads", "Only 12",
    ),
    case(
        "grease", plan_with(lots__a__condition="greasy"), Stage.SCOUR, Weight.NOTE, "loses 15 to 50 %", "70 % of it",
    ),
    case(
        "aluminium pot", plan_with(lots__a__fibre="cotton", vessels__scour_stuff="aluminium"), Stage.SCOUR,
        Weight.DANGER, "scour pot is aluminium", "hydrogen",
    ),
    case(
        "zinc tub", plan_with(vessels__tub__stuff="galvanised (zinc)"), Stage.VAT, Weight.DANGER, "vat tub",
    ),
    case(
        "aluminium jar", plan_with(vessels__jar_stuff="aluminium"), Stage.STOCK, Weight.DANGER, "stock jar",
    ),
    case(
        "no hot tap", plan_with(water__hot="12 C"), Stage.PLAN, Weight.CARE, "no warmer than the cold one",
    ),
    case(
        "tap short of the vat", plan_with(water__hot="40 C"), Stage.VAT, Weight.NOTE, "gives 40 °C",
        "the vat wants 47 °C", "on the hob",
    ),
    case(
        "tap short of the stock", plan_with(water__hot="40 C"), Stage.STOCK, Weight.NOTE, "the stock wants 55 °C",
    ),
    case(
        "cold tap too warm", plan_with(method="copperas-lime", lots__a__fibre="cotton", water__cold="27 C"), Stage.VAT,
        Weight.NOTE, "gives 27 °C", "wants 20 °C", "let it stand",
    ),
    case(
        "lye too warm", plan_with(stock__start="60 C"), Stage.STOCK, Weight.DANGER, "Lye into water of 60 °C",
        "pass 60 °C", "start at 59 °C at most",
    ),
    case(
        "too much lye", plan_with(stock__alkali="500 g"), Stage.STOCK, Weight.DANGER, "more water, less lye",
    ),
    case(
        "thick stock", plan_with(stock__pigment="100 g", stock__jars="1"), Stage.STOCK, Weight.CARE,
        "More than 60 g/L", "one more jar",
    ),
    case(
        "stock beyond the jar", plan_with(stock__water="2 L"), Stage.STOCK, Weight.CARE, "do not take 2 L of stock",
    ),
    case(
        "stock beyond two jars", plan_with(stock__jars="2", stock__water="3.1 L"), Stage.STOCK, Weight.CARE,
        "do not take 3.1 L of stock",
    ),
    case(
        "spoons", plan_with(measure="spoons"), Stage.STOCK, Weight.NOTE, "Indigo powder ±44 %", "Reducer ±25 %",
        "ten level spoons",
    ),
    case(
        "little copperas", plan_with(method="copperas-lime", lots__a__fibre="cotton", stock__reducer="5 g"),
        Stage.STOCK, Weight.CARE, "Copperas", "The reaction alone takes 6.5 g", "unreduced",
    ),
    case(
        "strong vat", plan_with(lots__a__fibre="cotton", stock__pigment="200 g"), Stage.VAT,
        Weight.CARE, "Above 3 g/L", "more dips",
    ),
    case(
        "cold vat", plan_with(vat__temperature="30 C"), Stage.VAT, Weight.CARE, "Below 40 °C thiourea dioxide",
    ),
    case(
        "hot vat", plan_with(vat__temperature="60 C"), Stage.VAT, Weight.CARE, "60 °C is warmer than the 50 °C",
    ),
    case(
        "cool vat", plan_with(vat__temperature="42 C"), Stage.VAT, Weight.CARE, "42 °C is cooler than the 45 °C",
    ),
    case(
        "tub runs over", plan_with(vat__fill="30 L"), Stage.VAT, Weight.CARE, "runs over", "24 L to the brim",
    ),
    case(
        "crowded tub", plan_with(lots__a__mass="2 kg", vat__entry="2 kg"), Stage.VAT, Weight.CARE,
        "10.2 L/kg", "20 L/kg at least", "uneven",
    ),
    case(
        "no alkali", plan_with(lots__a__fibre="cotton", stock__alkali="0 g", vat__alkali="0 g"), Stage.VAT, Weight.CARE,
        "holds no alkali",
    ),
    case(
        "stock over the tub", plan_with(stock__water="30 L", vat__stock="25 L"), Stage.VAT, Weight.CARE,
        "More stock than the tub holds",
    ),
    case(
        "tub too small for the stock", plan_with(lots__a__fibre="cotton", stock__water="30 L"),
        Stage.VAT, Weight.CARE, "of stock the tub takes", "a larger tub", "% of the indigo",
    ),
    case("no depth", plan_with(lots__a__depth="0 %"), Stage.VAT, Weight.NOTE, "takes no indigo"),
    case(
        "lime and wool", plan_with(method="fructose-lime"), Stage.VAT, Weight.CARE,
        "fructose and lime is too alkaline for wool",
    ),
    case(
        "mixed vat", plan_of_lots(("cotton", "100 g"), ("wool", "100 g")), Stage.VAT, Weight.NOTE, "go in first",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("plan", "stage", "weight", "words"), CASES)
def test_the_sheet_says_so(plan: Plan, stage: Stage, weight: Weight, words: tuple[str, ...]) -> None:
    """Each plan that goes wrong somewhere has one notice there, of the right weight, in the dyer's words."""
    found = [notice for notice in compute(plan).notices if all(word in notice.text for word in words)]
    assert [(notice.stage, notice.weight) for notice in found] == [(stage, weight)]


QUIET = [
    ("soap in an aluminium pot", plan_with(vessels__scour_stuff="aluminium"), "scour pot"),
    ("raw silk's own boil", plan_with(lots__a__fibre="silk", lots__a__condition="greasy"), "warmer"),
    ("cotton into a hot bath", plan_with(lots__a__fibre="cotton"), "warmer"),
    ("a scale", plan_with(), "By the spoon"),
    ("her own spoons", plan_with(stock__pigment="4 tsp", shelf__indigo__spoon_mass="2.4 g"), "By the spoon"),
    ("a pin in grams", plan_with(stock__pigment="8 g"), "By the spoon"),
    ("an exact fit", plan_with(lots__a__mass="250 g"), "loads"),
    ("cellulose in lime", plan_with(method="fructose-lime", lots__a__fibre="hemp"), "too alkaline"),
    ("one kind of fibre", plan_of_lots(("cotton", "100 g"), ("linen", "100 g")), "go in first"),
    ("clean wool", wool_plan(), "loses"),
    ("two jars two thirds full", plan_with(stock__jars="2", stock__water="2.9 L"), "do not take"),
]


@pytest.mark.parametrize(("plan", "part"), [pytest.param(*row[1:], id=row[0]) for row in QUIET])
def test_the_sheet_keeps_quiet(plan: Plan, part: str) -> None:
    """What is well is not spoken of."""
    assert not says(compute(plan), part)


def test_a_spoon_held_is_unsure_even_with_a_scale() -> None:
    """Four teaspoons held by hand are a guess, whatever the rest is weighed with."""
    sheet = compute(plan_with(stock__pigment="4 tsp"))
    (notice,) = says(sheet, "By the spoon")
    assert "Indigo powder ±44 %" in notice.text
    assert "Reducer" not in notice.text


@pytest.mark.parametrize("method", methods())
def test_some_fibre_suits_every_vat(method: str) -> None:
    """Every kind of vat has fibre that is dyed in it without a word about warmth or alkali."""
    quiet = [
        fibre
        for fibre in fibres()
        if not says(compute(plan_with(method=method, lots__a__fibre=fibre)), "too alkaline")
        and not says(compute(plan_with(method=method, lots__a__fibre=fibre)), "it likes")
    ]
    assert {"cotton", "linen"} <= set(quiet)


def test_each_lot_is_named() -> None:
    """Two lots that stand different warmth are told apart by name."""
    plan = told(plan_of_lots(("wool", "100 g"), ("silk", "100 g")), "vat.temperature", "55 C")
    names = {notice.text.partition(":")[0] for notice in says(compute(plan), "it likes")}
    assert names == {"Wool skeins", "Silk skeins"}


def sentences(sheet: Sheet) -> list[str]:
    """Give every text of a sheet's notices."""
    return [notice.text for notice in sheet.notices]


@pytest.mark.parametrize(("plan", "stage", "weight", "words"), CASES)
def test_notices_are_sentences(plan: Plan, stage: Stage, weight: Weight, words: tuple[str, ...]) -> None:
    """Each notice begins with a capital or a lot's name, ends with a stop and never shouts."""
    for text in sentences(compute(plan)):
        assert text[0].isupper()
        assert text.endswith(".")
        assert "!" not in text
        assert "  " not in text


@pytest.mark.parametrize("method", ["copperas-lime", "fructose-lime"])
@pytest.mark.parametrize("fibre", ["silk", "wool"])
def test_lime_suits_neither_silk_nor_wool(method: str, fibre: str) -> None:
    """The sheet says so once for the fibre, and the kinds of vat that it names hold no lime."""
    sheet = compute(plan_with(method=method, lots__a__fibre=fibre))
    assert any("too alkaline" in notice.text for notice in sheet.notices)
    (danger,) = [notice.text for notice in sheet.notices if "Kinds of vat that suit" in notice.text]
    assert "lime" not in danger.partition("Kinds of vat")[2]
    assert "lye" in danger.partition("Kinds of vat")[2]


def test_a_kind_of_vat_that_is_not_known_is_said() -> None:
    """A plan whose own vat's file is gone is not worked out as something else without a word."""
    found = [notice for notice in compute(evolve(starter_plan(), method="my-own")).notices if "my-own" in notice.text]
    assert [notice.weight for notice in found] == [Weight.DANGER]


@pytest.mark.parametrize("method", [key for key, item in methods().items() if "protein" not in item.vat.suits])
def test_a_vat_that_does_not_suit_names_those_that_do(method: str) -> None:
    """Every kind named suits wool, none of the others is named, and no amount is offered as its cure."""
    sheet = compute(plan_with(method=method, lots__a__fibre="wool"))
    (unfit,) = [item for item in sheet.notices if "too alkaline for wool; take another vat" in item.text]
    (told,) = [text for item in sheet.notices if (text := item.text.partition("Kinds of vat that suit: ")[2])]
    named = set(told.removesuffix(".").split(", "))
    assert named == {item.name for item in methods().values() if "protein" in item.vat.suits}
    assert unfit.remedies == ()


def test_a_living_vat_too_high_for_wool_is_waited_for_not_woken_with_vinegar() -> None:
    """It lives at pH 9 [Padden1998] and sleeps above 10.5: what suits wool is another limit."""
    plan = plan_with(starter_plan(), method="fermentation", lots__a__fibre="wool")
    said = " ".join(notice.text for notice in compute(plan).notices)
    assert "above the 9.8 that suits wool: its acid brings it down; dip once it reads 9.8 or less." in said
    assert "sleeps" not in said
    assert "vinegar" not in said


def test_a_living_vat_for_wool_begins_with_as_little_soda_as_is_usual() -> None:
    """No more alkali than the fibre bears where life would bear more: cotton's 1.6 g/L would harm wool (block 10.5)."""
    litre = {}
    for fibre in ("cotton", "wool"):
        sheet = compute(plan_with(starter_plan(), method="fermentation", lots__a__fibre=fibre))
        litre[fibre] = sheet.value("vat.alkali") * 0.99 / sheet.value("vat.liquor")
    assert litre["wool"] == pytest.approx(1.0, abs=0.02)
    assert litre["cotton"] > 1.5


def test_a_living_vat_above_what_life_bears_sleeps() -> None:
    """Twice the soda: above 10.5, whatever is dyed in it, and that is the limit it names."""
    for fibre in ("cotton", "wool"):
        plan = plan_with(None, method="fermentation", lots__a__fibre=fibre, vat__alkali="40 g")
        sheet = compute(plan)
        assert sheet.value("vat.pH") > 10.55
        said = " ".join(notice.text for notice in sheet.notices)
        assert "above 10.5 it sleeps" in said or "harms" in said
