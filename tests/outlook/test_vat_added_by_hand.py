"""What the dyer puts into a live vat of her own: how it is read, what it comes to, what is asked first."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.log.makers import session
from tests.plan.plans import plan_with, wool_plan

from vatside.log.events.day import Event
from vatside.log.events.vat import CorrectionMade, DipEnded, DipStarted, PieceDone, ReadingTaken, VatMade
from vatside.log.fold import State, fold, sheet_of
from vatside.log.words.vat import care_words
from vatside.outlook.vat_additions import addition, comes_to, doubt
from vatside.outlook.vat_deeds import no_room
from vatside.plan.sheet import Notice, Weight
from vatside.recipe.compute import compute
from vatside.units import Amount, Kind, Problem, to_base
from vatside.vat.interlocks import Block
from vatside.vat.reading import PHBy, Reading

PLAN = wool_plan()
COLD = PLAN.water.cold


def folded(*events: Event, **changes: str) -> State:
    """Give the state after these events, with some fields of the plan set."""
    return fold(evolve(session(*events), plan=plan_with(None, **changes)))


def doubted(text: str, **changes: str) -> Block | None:
    """Give the doubt about something put into the vat of a plan."""
    state, event = folded(VatMade(), **changes), addition(PLAN, text)
    assert isinstance(event, CorrectionMade)
    return doubt(state, compute(state.plan), event)


@given(st.text(max_size=20))
def test_no_text_breaks_an_addition(text: str) -> None:
    """Whatever is typed as something of her own gives an event or a sentence."""
    assert isinstance(addition(PLAN, text), CorrectionMade | Problem)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2 g lye", CorrectionMade(material="lye", amount=Amount(2, "g"))),
        ("1/2 tsp reducer", CorrectionMade(material="thiourea-dioxide", amount=Amount(0.5, "tsp"))),
        ("3 g of soda ash", CorrectionMade(material="soda-ash", amount=Amount(3, "g"))),
        ("30 mL vinegar", CorrectionMade(material="vinegar", amount=Amount(30, "mL"))),
        ("1 L water", CorrectionMade(water=Amount(1, "L"), water_temperature=COLD)),
        ("1 L cold tap water", CorrectionMade(water=Amount(1, "L"), water_temperature=COLD)),
        ("1 L hot water", CorrectionMade(water=Amount(1, "L"), water_temperature=PLAN.water.hot)),
        ("1 L kettle water", CorrectionMade(water=Amount(1, "L"), water_temperature=Amount(95, "degC"))),
        ("1 L water at 40 C", CorrectionMade(water=Amount(1, "L"), water_temperature=Amount(40, "degC"))),
        ("500 mL of stock", CorrectionMade(stock=Amount(500, "mL"))),
    ],
)
def test_additions_of_her_own(text: str, expected: CorrectionMade) -> None:
    """An amount, then what of: a role, a name, stock, or water as warm as it comes."""
    assert addition(PLAN, text) == expected


def test_a_bare_number_is_read_as_in_the_forms_and_said_with_its_unit() -> None:
    """`2 lye` is two grams, and the sentence says so."""
    event = addition(PLAN, "2 lye")
    assert isinstance(event, CorrectionMade)
    assert care_words(event, PLAN) == "Vat: 2 g of lye"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "Write how much of what"),
        ("2 g", "2 g of what?"),
        ("lye", "How much lye?"),
        ("abc", "abc does not begin with an amount"),
        ("1 tsp sugar", "No sugar is known for a vat: it can be lye"),
        ("1 g soap", "No soap is known for a vat"),
        ("1 L warm water", "How warm is it?"),
        ("1 L water at noon", "noon"),
        ("-5 g lye", "less than nothing"),
        ("2 L lye", "more than a kilogram"),
        ("5000 L water", "more than the 1000 L"),
    ],
)
def test_what_is_wrong_is_said(text: str, said: str) -> None:
    """Half of it missing, an unknown name, a volume of a powder, a lake: each has its own sentence."""
    found = addition(PLAN, text)
    assert isinstance(found, Problem)
    assert said in found.text


def test_the_tub_holds_so_much() -> None:
    """40 L do not go into the starter plan's tub; a litre does, and stock and exchanged water are counted."""
    state = folded(VatMade())
    holds = to_base(state.plan.vessels.tub.volume, Kind.VOLUME)
    assert f"The tub holds {holds:g} L" in no_room(state, CorrectionMade(water=Amount(40, "L")))
    assert no_room(state, CorrectionMade(stock=Amount(40, "L")))
    assert no_room(state, CorrectionMade(water=Amount(1, "L"))) == ""
    ten = Amount(10, "L")
    assert no_room(state, CorrectionMade(water=ten, taken_out=ten)) == ""
    assert no_room(state, CorrectionMade(water=ten))


def test_tap_water_cools_the_vat() -> None:
    """Cold water is mixed by heat: a litre at 15 into 20 at 47 comes to (20 * 47 + 15) / 21, 45.5 °C."""
    state = folded(VatMade(Amount(20, "L"), Amount(47, "degC")))
    event = CorrectionMade(water=Amount(1, "L"), water_temperature=Amount(15, "degC"))
    assert comes_to(state, event).endswith("at 45 °C") or comes_to(state, event).endswith("at 46 °C")


def test_much_lye_is_doubted() -> None:
    """200 g of lye would harm hair, and is many times what any vat is made with; 2 g into a cotton vat are fine."""
    mohair = doubted("200 g lye", lots__a__fibre="alpaca or mohair")
    assert mohair is not None
    assert not mohair.final
    assert "above 10.5 alpaca or mohair is harmed" in mohair.why
    assert doubted("200 g lye", lots__a__fibre="cotton") is not None
    assert doubted("2 g lye", lots__a__fibre="cotton") is None


def test_what_lowers_the_pH_is_not_doubted_for_it() -> None:
    """A vat that stands too high for wool may have its reducer."""
    assert doubted("1 g reducer", lots__a__fibre="wool") is None


def test_much_reducer_is_doubted() -> None:
    """A kilogram of reducer is many times what sharpens the vat."""
    found = doubted("900 g reducer", lots__a__fibre="cotton")
    assert found is not None
    assert "times the reducer that the vat is made with" in found.why


def stands(*events: Event, **changes: str) -> list[Notice]:
    """Give what the sheet says of the vat's pH after these events."""
    return [notice for notice in sheet_of(folded(VatMade(), *events, **changes)).notices if notice.figure == "vat.pH"]


LYE = CorrectionMade(material="lye", amount=Amount(40, "g"))


def test_too_much_lye_by_hand_is_a_danger_to_hair() -> None:
    """The sheet that says that more went in also says whom it harms; cotton bears that much with short dips."""
    [notice] = stands(LYE, lots__a__fibre="alpaca or mohair")
    assert notice.weight is Weight.DANGER
    assert "alpaca or mohair is harmed, from 10.5 on" in notice.text
    [notice] = stands(LYE, lots__a__fibre="cotton")
    assert notice.weight is Weight.CARE
    assert "above the 11.5 that suits cotton" in notice.text


def test_a_pH_read_since_counts_for_more_than_the_account() -> None:
    """Read at 9.2 in the vat after the lye, hair is safe; what is read is what the notice goes by."""
    read = ReadingTaken(Reading(temperature=Amount(46, "degC"), pH=9.2, pH_by=PHBy.METER))
    [notice] = stands(LYE, read, lots__a__fibre="alpaca or mohair")
    assert notice.weight is Weight.NOTE
    [notice] = stands(read, LYE, lots__a__fibre="alpaca or mohair")
    assert notice.weight is Weight.DANGER


def test_fibre_that_is_done_is_not_harmed_any_more() -> None:
    """Once all of the hair has had its last dip, its limit is nobody's."""
    done = tuple(
        event for n in (1, 2) for event in (DipStarted(f"a.{n}", 10), DipEnded(f"a.{n}", 15), PieceDone(f"a.{n}"))
    )
    [notice] = stands(LYE, *done, lots__a__fibre="alpaca or mohair")
    assert notice.weight is Weight.NOTE
