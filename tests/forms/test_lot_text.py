"""Lots written in one line."""

from __future__ import annotations

from itertools import permutations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import wool_plan

from vatside.forms.fields import depths, plan_problems
from vatside.forms.lot_text import places, with_lot
from vatside.plan.measures import fibre_words
from vatside.plan.plan import Condition, Form, Lot, Plan
from vatside.units import Amount, Problem

NOTHING = evolve(wool_plan(), lots=())


def lot(text: str) -> Lot:
    """Give the lot of a text, which must be understood."""
    plan = with_lot(NOTHING, text)
    assert not isinstance(plan, Problem), plan
    return plan.lots[-1]


def wrong(text: str) -> str:
    """Give what is told of a text that cannot be."""
    plan = with_lot(NOTHING, text)
    assert isinstance(plan, Problem), plan
    return plan.text


def test_parts_stand_in_any_order() -> None:
    """Whatever comes first, it is the same lot."""
    found = Lot(
        "a", "Linen", "linen", Amount(320, "g"), 4, Form.CLOTH, Condition.READY, Amount(0.8, "%")
    )  # fmt: skip
    parts = ("linen", "320 g", "4 pieces", "medium", "ready scoured", "cloth")
    assert all(lot(", ".join(order)) == found for order in permutations(parts))


@pytest.mark.parametrize(
    ("text", "words", "mass"),
    [
        ("cotton-linen 55/45, 300 g", "cotton-linen 55/45", 300),
        ("300g,cotton-linen 55/45", "cotton-linen 55/45", 300),
        ("cotton/linen 62,5 / 37,5, 0,3 kg", "cotton-linen 62.5/37.5", 0.3),
        ("Wool and Silk; 300 g", "wool-silk 50/50", 300),
        ("Linen-cotton 60 %/40 %, 300 g", "linen-cotton 60/40", 300),
        ("mohair, 300 g", "alpaca or mohair", 300),
    ],
)
def test_fibres_and_blends(text: str, words: str, mass: float) -> None:
    """A blend with shares or half and half, decimal commas, no blanks, capitals: as people write."""
    assert (fibre_words(lot(text)), lot(text).mass.value) == (words, mass)


@pytest.mark.parametrize(
    ("part", "place", "value"),
    [
        ("0.8%", "depth", Amount(0.8, "%")),
        ("0,8 %", "depth", Amount(0.8, "%")),
        ("near black", "depth", Amount(depths()["near black"], "%")),
        ("Dark blue", "depth", Amount(2, "%")),
        ("depth 1.4 %", "depth", Amount(1.4, "%")),
        ("greasy", "condition", Condition.GREASY),
        ("only rinsed", "condition", Condition.RINSED),
        ("rinsed", "condition", Condition.RINSED),
        ("garments", "form", Form.GARMENTS),
        ("loose fibre", "form", Form.LOOSE),
        ("3 skeins", "pieces", 3),
        ("3 garments", "form", Form.GARMENTS),
        ("1 piece", "pieces", 1),
        ("called Tea towels", "name", "Tea towels"),
    ],
)
def test_a_part_is_known_by_what_it_is(part: str, place: str, value: object) -> None:
    """Depths by number or word of the ladder, how it comes, how it is made up, what it is called."""
    assert getattr(lot(f"linen, {part}, 2 x 100 g"), place) == value


def test_fibre_with_its_grease_says_how_it_comes() -> None:
    """Greasy wool and raw silk need no second word."""
    assert lot("greasy wool, 1 kg").condition is Condition.GREASY
    assert lot("raw silk, 100 g").fibre == "silk"
    assert "two ways in which it comes" in wrong("raw silk, 100 g, ready scoured")


def test_names_of_persons_stand_last() -> None:
    """They have commas of their own, and are for the pieces in their order."""
    assert lot("wool, 3 skeins, 150 g, names Asha, Ben").names == ("Asha", "Ben")
    assert lot("wool, 3 skeins, 150 g, Name: Asha").names == ("Asha",)
    assert wrong("wool, 150 g, names Asha, Ben") == "Piece names: 2 names for 1 piece; one for each at most"


def test_lots_of_one_fibre_have_names_of_their_own() -> None:
    """Two linens are Linen and Linen 2."""
    plan = with_lot(NOTHING, "linen, 100 g")
    assert isinstance(plan, Plan)
    plan = with_lot(plan, "linen, 200 g")
    assert isinstance(plan, Plan)
    assert [(found.id, found.name) for found in plan.lots] == [("a", "Linen"), ("b", "Linen 2")]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "“” lacks the fibre and a mass with its unit; write for example linen, 320 g, 4 pieces, medium"),
        ("linen", "“linen” lacks a mass with its unit; write for example linen, 320 g, 4 pieces, medium"),
        ("linen, 320 g, 340 g", "has two masses"),
        ("linen, wool, 320 g", "has two fibres"),
        ("linen, 320 g, mauve", "“mauve” is no fibre, mass, number of pieces, depth, condition or form"),
        ("linen, 320", "“320” is no fibre, mass"),
        ("cotton-linen 50/30, 100 g", "the shares of “cotton-linen 50/30” come to 80 %; they make 100 %"),
        ("cotton-linen-silk, 100 g", "“cotton-linen-silk” is no blend of two fibres; write it as cotton-linen 55/45"),
        ("linen, 0.1 g", "Dry weight: 0.1 g cannot be; between 1 g and 1000 kg"),
        ("linen, 100 g, 40 %", "Depth: 40 % cannot be; between 0 % and 10 %"),
        ("linen, 100 g, 0 pieces", "Pieces: 0 cannot be"),
    ],
)
def test_what_is_wrong_is_said_with_what_is_right(text: str, said: str) -> None:
    """Parts that are not understood, missing, there twice or out of range: one sentence each."""
    assert said in wrong(text)


@given(st.text(max_size=40) | st.lists(st.sampled_from(["linen", "1 kg", "names", ",", "55/45", "-", "4 skeins", "%"]))
       .map(" ".join))  # fmt: skip
def test_any_text_gives_a_lot_that_can_be_read_again_or_a_sentence(text: str) -> None:
    """Nothing that can be written makes a plan that the form would not have let through."""
    found = with_lot(NOTHING, text)
    if isinstance(found, Problem):
        assert found.text
    else:
        assert plan_problems(found) == ()
        assert "fibre" in places(text)  # type: ignore[operator]


def test_pieces_can_be_counted_in_the_weight() -> None:
    """Ten times a hundred grams are ten pieces, unless another number is written; what is not said is clean."""
    assert (lot("wool, 10 x 100 g").pieces, lot("wool, 10 x 100 g").mass) == (10, Amount(1000, "g"))
    assert lot("wool, 10 x 100 g, 4 pieces").pieces == 4
    first = with_lot(NOTHING, "linen, 300 g, ready scoured")
    assert not isinstance(first, Problem)
    both = with_lot(first, "wool, 300 g")
    assert not isinstance(both, Problem)
    assert both.lots[1].condition is Condition.CLEAN
