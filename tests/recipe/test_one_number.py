"""One number for one thing: what a sentence promises, a figure shows, and what is held of it."""

from __future__ import annotations

import re
from datetime import datetime

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.log.makers import CREATED
from tests.plan.any_plan import any_plan
from tests.plan.plans import free_plan, plan_with, wool_plan

from vatside.catalogue.dyeing import ladder
from vatside.dayline.day_steps import steps
from vatside.days.blues import blues
from vatside.days.class_card import handout
from vatside.days.class_dips import alike
from vatside.dips.lot import dips_words
from vatside.dips.rotation import pieces
from vatside.forms.fields import field
from vatside.log.fold import fold, so_far
from vatside.log.state import Session
from vatside.plain.sheet import rows
from vatside.plan.figure_text import figure_text
from vatside.plan.measures import powder
from vatside.plan.plan import Lot, Measure, Pin, Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.baths import Dose, amount_text
from vatside.recipe.compute import compute, taken
from vatside.storage.files import Fs
from vatside.storage.places import samples_folder
from vatside.storage.session_text import load
from vatside.units import Amount

AMOUNT = re.compile(r"(?<![\d.])(\d+(?:\.\d+)?) (g|kg|L|mL)(?![/\w])")
REST = "could still dye"
"""What the rest of a vat would dye is no figure, however near it comes to what the vat dyes."""
TWIN = 0.05
"""Two amounts closer than this share are taken for one."""
IN_BASE = {"g": 1.0, "kg": 1000.0, "L": 1.0, "mL": 0.001}
BASE = {"g": "g", "kg": "g", "L": "L", "mL": "L"}


def shown(sheet: Sheet, plan: Plan, name: str) -> str:
    """A figure as every screen prints it."""
    text = figure_text(sheet[name], plan)
    return f"{text.main} ({text.second})" if text.second else text.main


def samples() -> list[tuple[str, Plan, Sheet]]:
    """The days that come along, as they stand at their end, and the starter."""
    found = [("starter", wool_plan(), compute(wool_plan()))]
    for path in sorted(samples_folder().glob("*.json")):
        state = fold(load(Fs(), path).session)
        found.append((path.stem, state.plan, compute(state.plan, so_far(state))))
    return found


SAMPLES = samples()


def strangers(text: str, printed: set[tuple[float, str]]) -> list[str]:
    """Amounts of a sentence that are nearly a figure's and yet not it."""
    found = []
    for number, unit in AMOUNT.findall(text):
        value, base = float(number) * IN_BASE[unit], BASE[unit]
        near = [one for one, its in printed if its == base and one and abs(value / one - 1) < TWIN]
        if near and not any(abs(value / one - 1) < 1e-9 for one in near):
            found.append(f"{number} {unit}")
    return found


def amounts(text: str) -> set[tuple[float, str]]:
    """Every amount of a text in grams and litres."""
    return {(float(number) * IN_BASE[unit], BASE[unit]) for number, unit in AMOUNT.findall(text)}


@pytest.mark.parametrize(("name", "plan", "sheet"), SAMPLES, ids=[name for name, _, _ in SAMPLES])
def test_no_sentence_names_an_amount_that_is_nearly_a_figure_s(name: str, plan: Plan, sheet: Sheet) -> None:
    """What a notice or a step says of a figure is the number that stands beside that figure's name."""
    printed = set().union(*(amounts(shown(sheet, plan, figure.id)) for figure in sheet.figures))
    said = [notice.text for notice in sheet.notices] + [step.text for step in steps(plan, sheet)]
    said = [text for text in said if REST not in text]
    assert [(text, odd) for text in said if (odd := strangers(text, printed))] == []


@pytest.mark.parametrize(("name", "plan", "sheet"), SAMPLES, ids=[name for name, _, _ in SAMPLES])
def test_the_class_card_names_the_figures_of_the_plan(name: str, plan: Plan, sheet: Sheet) -> None:
    """What is weighed out for the whole class is what the plan's own screens show."""
    whole = compute(plan)
    card = handout(fold(Session("s", CREATED, plan)), 1, datetime(2026, 5, 2, 8), evaluations=1)
    printed = {shown(whole, plan, figure.id) for figure in whole.figures}
    assert [line.whole for part in card.parts for line in part.weighed if line.whole not in printed] == []


@given(st.integers(40, 2000), st.sampled_from(["wool", "silk", "alpaca", "cotton"]), st.booleans())
def test_the_advice_names_its_figures_and_is_held_as_said(grams: int, fibre: str, spoons: bool) -> None:
    """In the stock, to sharpen, and the pH that comes of it: each the number that its figure shows then."""
    plan = plan_with(lots__a__mass=f"{grams} g", lots__a__fibre=fibre)
    plan = evolve(plan, measure=Measure.SPOONS) if spoons else plan
    sheet = compute(plan)
    for notice in (one for one in sheet.notices if one.remedies and one.figure == "vat.pH"):
        assert f"The vat would stand at pH {shown(sheet, plan, 'vat.pH')} " in notice.text
        for remedy in notice.remedies:
            held = compute(taken(plan, remedy))
            for path, _ in remedy.places:
                assert not held.value(path) or shown(held, plan, path) in remedy.label
            promised = re.search(r"for pH ([\d.]+)", remedy.label)
            assert promised is not None
            assert promised[1] == shown(held, plan, "vat.pH")


@examples(25)
@given(any_plan(), st.floats(0.05, 900), st.sampled_from(["indigo", "alkali", "reducer"]))
def test_one_amount_of_a_powder_has_one_spoon(plan: Plan, grams: float, role: str) -> None:
    """Two amounts that print as the same grams print as the same spoons, in figures and in sentences."""
    what = powder(plan, role)
    texts: dict[str, set[str]] = {}
    for much in (grams, grams * 1.01, grams * 0.99):
        mass, spoon = amount_text(evolve(plan, measure=Measure.SCALE), Dose(what, much)).split(" (")
        texts.setdefault(mass, set()).add(spoon)
    assert all(len(spoons) == 1 for spoons in texts.values())


def numbers_of_dips(plan: Plan, sheet: Sheet, lot: Lot) -> dict[str, str]:
    """How many dips a lot takes, as each screen, card and sheet says it."""
    printed = {row["id"]: row["text"] for row in rows(plan, sheet)}
    card = handout(fold(Session("s", CREATED, plan)), 1, datetime(2026, 5, 2, 8), evaluations=1)
    told = {blue.lot.id: blue.told for blue in blues(fold(Session("s", CREATED, plan)), sheet)}
    return {
        "figure": figure_text(sheet[f"dip.{lot.id}.dips"], plan).main,
        "json": printed[f"dip.{lot.id}.dips"],
        "the board's last line": dips_words(plan, sheet, lot).partition(" dip")[0],
        "class card": next(line.dips for line, lots in zip(card.dips, alike(plan, sheet), strict=True) if lot in lots),
        "card of the blue": told[lot.id].partition(" of ")[0],
    }  # fmt: skip


def dips_of_its_pieces(plan: Plan, sheet: Sheet, lot: Lot) -> str:
    """The same counted from the pieces of the board."""
    each = [piece.dips for piece in pieces(plan, sheet) if piece.lot == lot.id]
    return f"{min(each)} to {max(each)}" if min(each) < max(each) else f"{max(each)}"


def say_one_number_of_dips(plan: Plan) -> None:
    """Hold every place that names a lot's dips to the pieces on the board, and notices too."""
    sheet = compute(plan)
    for lot in plan.lots:
        wanted = dips_of_its_pieces(plan, sheet, lot)
        if not any(pin.figure == f"dip.{lot.id}.dips" for pin in plan.pins):
            said = numbers_of_dips(plan, sheet, lot)
            assert {place: said[place] for place in said if said[place] != wanted} == {} or wanted == "0"
        for notice in sheet.notices:
            if notice.figure == f"dip.{lot.id}.dips" and " at most are usual " in notice.text:
                counted = re.search(r": (?:more than )?([\d to]+) dips? in ", notice.text)
                assert counted is not None
                assert counted[1] in (wanted, "30")


@pytest.mark.parametrize(("name", "plan", "sheet"), SAMPLES, ids=[name for name, _, _ in SAMPLES])
def test_a_lot_s_dips_are_one_number_in_the_days_that_come_along(name: str, plan: Plan, sheet: Sheet) -> None:
    """On figure, JSON, board, class card and card of the blue: 3 to 5 where some pieces need fewer."""
    say_one_number_of_dips(plan)


@examples(25)
@given(any_plan())
def test_a_lot_s_dips_are_one_number(plan: Plan) -> None:
    """In any plan: the pieces on the board, each with its own, and every place that names them together."""
    say_one_number_of_dips(plan)


@given(st.integers(3, 40), st.integers(1, 12), st.sampled_from(["wool", "silk", "cotton"]), st.integers(3, 60))
def test_what_a_cure_promises_of_the_dips_is_what_they_are(litres: int, pieces_: int, fibre: str, tenths: int) -> None:
    """`18 g of indigo powder: 4 to 5 dips`: once it is taken, the lot's own figure says so."""
    plan = evolve(free_plan(), pins=(Pin("vat.fill", Amount(litres, "L")), Pin("stock.pigment", Amount(tenths, "g"))))
    plan = plan_with(plan, lots__a__fibre=fibre, lots__a__pieces=str(pieces_))
    for notice in (one for one in compute(plan).notices if one.figure == "dip.a.dips"):
        for remedy in notice.remedies:
            promised = re.search(r": (more than )?([\d to]+) dips?|, (more than )?([\d to]+) dips?", remedy.label)
            held = compute(taken(plan, remedy))
            if promised and not (promised[1] or promised[3]):
                assert (promised[2] or promised[4]) == figure_text(held["dip.a.dips"], plan).main


def test_a_great_many_pieces_have_each_its_own_dips() -> None:
    """A hundred and thirty skeins are looked at in bundles; the board knows the dips of every one."""
    plan = plan_with(free_plan(), lots__a__mass="13 kg", lots__a__pieces="130")
    sheet = compute(plan)
    assert [piece for piece, _ in sheet.piece_dips] == [f"a.{number}" for number in range(1, 131)]
    assert {dips for _, dips in sheet.piece_dips} == {piece.dips for piece in pieces(plan, sheet)}


def test_the_hint_of_the_depth_is_the_ladder() -> None:
    """Each depth that the hint names is the ladder's own: near black is one number."""
    hint = field(wool_plan(), "lots.a.depth").help
    known = {rung.name: rung.depth for rung in ladder()}
    named = re.findall(r"([a-z]+(?: black)?) ([\d.]+)(?=[, ])", hint.partition(": ")[2])
    assert len(named) >= 5
    assert [(name, depth) for name, depth in named if known.get(name) != float(depth)] == []
