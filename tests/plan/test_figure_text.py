"""Figures and workings as words."""

from __future__ import annotations

from math import log

import pytest
from attrs import evolve
from tests.plan.plans import hand_plan, hand_with

from vatside.catalogue.load import sources
from vatside.chemistry.sources import SOURCES
from vatside.plan.figure_text import figure_text, plain, source_text, working_lines
from vatside.plan.sheet import Figure, Stage, Working
from vatside.recipe.compute import compute


def lines(figure: str, **changes: str) -> list[str]:
    """Give the working of a figure."""
    plan = hand_with(**changes)
    return [line.strip() for line in working_lines(compute(plan)[figure], plan)]


def test_a_working_can_be_done_again() -> None:
    """The powder's working gives the formula, both inputs, the result and where the purity comes from."""
    assert lines("stock.pigment")[:4] == [
        "Indigo powder = indigotin ÷ purity",
        "Indigotin wanted: 2.6 g",
        "purity: 40 %",
        "worked out: 6.5 g",
    ]
    assert lines("stock.pigment")[-1].startswith("Source: Hartl")


def test_a_pin_stands_in_the_working() -> None:
    """What was worked out and what is held stand one under the other."""
    found = lines("stock.pigment", stock__pigment="4 tsp")
    assert "worked out: 6.5 g" in found
    assert "set by you: 4 tsp = 8.9 g" in found
    assert "a level spoon of it is sure to ±44 %" in found


def test_the_minimum_stands_in_the_working() -> None:
    """What the reactions alone take is said: 2.72 g of lye, or 2.74 g of 99 %."""
    assert "the reaction alone takes 2.7 g" in lines("stock.alkali")


def test_a_range_that_the_value_says_itself_is_no_mark_of_it() -> None:
    """Five to six dips between five and six are said once; between three and nine, both."""
    dips = Figure(
        Stage.DIP,
        "dip.a.dips",
        "Dips",
        6.0,
        "",
        6.0,
        Working("by hand", (), "practice"),
        fewest=5.0,
        between=(5.0, 6.0),
        pinnable=False,
    )
    plan = hand_plan()
    assert (figure_text(dips, plan).main, figure_text(dips, plan).marks) == ("5 to 6", ())
    assert figure_text(evolve(dips, between=(3.0, 9.0)), plan).marks == ("3 to 9",)


def test_practice_says_that_it_has_no_source() -> None:
    """Common practice is called so."""
    assert lines("vat.fill")[-1] == "Source: common practice among dyers; no publication found"


@pytest.mark.parametrize("key", [*sources(), *SOURCES])
def test_every_key_has_a_citation(key: str) -> None:
    """A source key is never shown for its citation."""
    assert source_text(key) != key
    assert len(source_text(key)) > 6


def test_an_unknown_key_is_shown_as_it_stands() -> None:
    """A key that no list has is printed rather than lost."""
    assert source_text("Nobody1999") == "Nobody1999"


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (2.3, "K", "2.3 °C"),
        (55, "degC", "55 °C"),
        (7.5, "L", "7.5 L"),
        (0.173, "L", "170 mL"),
        (6.486, "g", "6.5 g"),
        (227, "g", "227 g"),
        (90, "min", "1 h 30 min"),
        (30, "L/kg", "30 L/kg"),
        (1, "", "1"),
    ],
)
def test_units(value: float, unit: str, text: str) -> None:
    """Each unit of the sheet is printed in its own way; a difference of temperature has a tenth."""
    assert plain(value, unit) == text


@pytest.mark.parametrize(
    ("figure", "text"),
    [("scour.wool.wet_mass", "570 g"), ("scour.wool.level", "77 %"), ("vat.displaced", "170 mL")],
)
def test_guesses_have_two_digits(figure: str, text: str) -> None:
    """What is only roughly known is printed roughly: 567.5 g of wet wool is about 570 g."""
    plan = hand_plan()
    assert figure_text(compute(plan)[figure], plan).main == text


def test_held_and_minimum_are_marks() -> None:
    """A held figure says what was typed; one with a minimum says it."""
    plan = hand_with(stock__alkali="2 tsp")
    text = figure_text(compute(plan)["stock.alkali"], plan)
    assert text.marks[:2] == ("set 2 tsp", "least 2.7 g")


@pytest.mark.parametrize(
    ("water", "text"), [("1 quart", "950 mL"), ("996 mL", "1 L"), ("1.25 L", "1.25 L"), ("60 mL", "60 mL")]
)
def test_a_jug_shows_ten_millilitres(water: str, text: str) -> None:
    """Volumes below a litre are printed to 10 mL, those a spoon would measure to 1."""
    plan = hand_with(stock__water=water)
    assert figure_text(compute(plan)["stock.water"], plan).main == text


def test_other_units_keep_their_digits() -> None:
    """A strength of 0.128 g/L is no volume and is not rounded like one."""
    plan = hand_plan()
    assert figure_text(compute(plan)["vat.strength"], plan).main == "0.128 g/L"


@pytest.mark.parametrize(
    ("figure", "inputs"),
    [
        ("scour.wool.liquor", [227, 30]),
        ("scour.wool.load_water", [10, 75]),
        ("scour.wool.soap", [227, 7.5, 32.6]),
        ("scour.wool.steps_down", [60, 20, 10]),
        ("scour.wool.wet_mass", [227, 150]),
        ("stock.wanted", [227 * 0.008, 70]),
        ("stock.pigment", [227 * 0.008 / 0.70, 40]),
        ("stock.jars", [227 * 0.008 / 0.70 / 0.40, 60, 1]),
        ("stock.alkali", [1, 0, 227 * 0.008 / 0.70, 0.8, 99]),
        ("stock.reducer", [1, 0, 227 * 0.008 / 0.70, 1.0, 99]),
        ("vat.tub", [24]),
        ("vat.fill", [227 * 0.008 / 0.70, 0.5 * 2 ** (log(0.8 / 0.35) / log(1 / 0.35)), 113.5, 24, 15, 30]),
        ("vat.entry", [227, 20.4, 30]),
        ("vat.displaced", [227, 1.31]),
        ("vat.temperature", [47]),
        ("vat.reducer", [20.4 - 0.227 / 1.31, 0.10, 0.1177, 99]),
        ("vat.dyes.a", [227, 227 * 0.008 / 0.70, 70, 227 * 0.008, 0.8]),
    ],
)
def test_workings_show_the_numbers_that_went_in(figure: str, inputs: list[float]) -> None:
    """Each working lists what the formula took, in its own units, so that it can be checked on paper."""
    assert [item.value for item in compute(hand_plan())[figure].working.inputs] == pytest.approx(inputs, rel=5e-4)


@pytest.mark.parametrize("typed", ["0 d", "0 min", "0 h"])
def test_no_time_at_all_is_one_number(typed: str) -> None:
    """A vat that is not kept is kept for as she set it, and not for 0 min beside a "set 0 d"."""
    plan = hand_with(finish__keep=typed)
    found = figure_text(compute(plan)["finish.keep"], plan)
    assert (found.main, found.marks) == (typed, (f"set {typed}",))
