"""Two strips, and a new lot dosed like the old one; numbers by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.log.played import Played
from tests.plan.plans import wool_plan
from tests.shelf.shelves import item, of

from vatside.chemistry.colour import Lab
from vatside.dips.depth import Picked
from vatside.recipe.compute import compute
from vatside.shelf.events import Dyed, ItemBought, ItemChanged, read_seen, strike, struck
from vatside.shelf.supplies import taking
from vatside.units import Amount, Problem


def picked(powder: float, purity: float, depth: float) -> Dyed:
    """A strip held against the ladder."""
    return Dyed(powder, purity, Picked(depth))


def test_strips_by_the_ladder() -> None:
    """Old 2 g/L of 40 %: 0.8 g/L gave 0.8 %, 1 for each. New 3 g/L of 24 %: 0.72 g/L gave 0.9 %, 1.25 for each."""
    found = strike(picked(2, 0.40, 0.8), picked(3, 0.24, 0.9))
    assert found.factor == pytest.approx(1.25)
    assert found.percent == Amount(125.0, "%")
    assert found.working[-1] == "1.25 ÷ 1 = 125 %: 24 % by its label counts as 30 %"
    assert found.caution == ""


def test_strips_as_measured() -> None:
    """L* 42 is K/S 3.0625 from 0.8 g/L, 3.828 for each; L* 40 is 3.5003 from 0.72, 4.8615: 1.27."""
    found = strike(Dyed(2, 0.40, Lab(42, -2, -24)), Dyed(3, 0.24, Lab(40, -2, -24)))
    assert found.factor == pytest.approx(1.26994, rel=1e-4)
    assert "K/S 3.06 at L* 42; 2 g/L × 40 % = 0.8 g/L; 3.83 for each g/L" in found.working[0]


def test_strips_far_apart_ask_for_another() -> None:
    """Half as deep: the new lot, which counts as 12 %, takes 0.8 / 0.12 = 6.67 g/L to come out alike."""
    found = strike(picked(2, 0.40, 0.8), picked(2, 0.24, 0.24))
    assert "dip the new batch once more at 6.67 g/L" in found.caution


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (picked(2, 0.4, 0.8), Dyed(2, 0.4, Lab(40, -2, -24)), "cannot be compared"),
        (picked(2, 0.4, 0.0), picked(2, 0.4, 0.8), "strip"),
        (picked(0, 0.4, 0.8), picked(2, 0.4, 0.8), "strip"),
        (picked(2, 0.4, 0.1), picked(2, 0.4, 1.1), "more than ten times"),
        (picked(2, 0.4, 0.8), picked(2, 0.95, 2.85), "150 % would make it 142 % pure, more than pure dye"),
        (Dyed(2, 0.4, Lab(100, 0, 0)), Dyed(2, 0.4, Lab(40, -2, -24)), "strip"),
    ],
)
def test_strips_that_cannot_be_are_refused(old: Dyed, new: Dyed, says: str) -> None:
    """No colour, no powder, two ways of looking, ten times apart, or more than pure dye, is no comparison."""
    with pytest.raises(ValueError, match=says):
        strike(old, new)


@given(st.floats(0.1, 10), st.floats(0.1, 10))
def test_striking_back_and_forth_comes_to_one(one: float, other: float) -> None:
    """The old lot beside the new is the inverse of the new beside the old."""
    if 0.1 < one / other < 10:
        mine, yours = picked(10, 0.1, one), picked(10, 0.1, other)
        there, back = strike(mine, yours), strike(yours, mine)
        assert there.factor * back.factor == pytest.approx(1)


def test_a_stronger_lot_is_dosed_lighter_for_the_same_blue() -> None:
    """Struck at 125 %, a lot of 40 % counts as 50 %: four fifths of the powder."""
    found = struck("i1", strike(picked(2, 0.4, 0.8), picked(2, 0.4, 1.0)))
    assert found == ItemChanged("i1", "strike", Amount(125.0, "%"))
    taken = taking(wool_plan(), of(ItemBought(item("i1")), found)["i1"])
    assert taken is not None
    plain = compute(wool_plan())["stock.pigment"].value
    assert compute(Played().happen(taken).state.plan)["stock.pigment"].value == pytest.approx(plain * 0.8)


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("0.8 %", Picked(0.8)),
        ("1,4%", Picked(1.4)),
        ("Medium", Picked(0.8)),
        ("very  dark", Picked(3.0)),
        ("40 -2 -24", Lab(40, -2, -24)),
        ("40,5; -2,1; -24", Lab(40.5, -2.1, -24)),
        ("L*a*b* 40 -2 −24", Lab(40, -2, -24)),
    ],
)
def test_a_colour_is_read_as_it_is_written(text: str, seen: object) -> None:
    """Percent, a word of the ladder, or three numbers."""
    assert read_seen(text) == seen


@pytest.mark.parametrize(
    ("text", "says"), [("blue", "0.8 %, medium"), ("140 0 0", "between 0 and 100"), ("40 -2", "L*")]
)
def test_what_is_no_colour_is_explained(text: str, says: str) -> None:
    """What would be right stands in the sentence."""
    found = read_seen(text)
    assert isinstance(found, Problem)
    assert says in found.text
