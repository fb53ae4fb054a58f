"""The plainly dangerous orders are refused, with the reason."""

from __future__ import annotations

import pytest
from tests.vat.vats import account_with, vat_with

from vatside.vat.interlocks import Block, Care, TubState, acid, lye, reducer_tub, water_onto_lye


@pytest.mark.parametrize("method", ["tdo-lye", "dithionite-lye"])
def test_no_acid_below_nine_while_reducer_lives(method: str) -> None:
    """Acid to pH 8 in a living vat is refused for good: sulphur dioxide."""
    found = acid(vat_with(method=method).account, 8)
    assert isinstance(found, Block)
    assert found.final
    assert "sulphur dioxide" in found.why
    assert "blue" in found.instead


def test_acid_above_nine_takes_saying_so_twice() -> None:
    """Down to pH 11 the refusal is not final, but it is one."""
    found = acid(vat_with().account, 11)
    assert isinstance(found, Block)
    assert not found.final


def test_acid_into_a_spent_vat_goes_with_care() -> None:
    """Once it stayed blue, or never held such a reducer, acid may go in, window open."""
    assert isinstance(acid(vat_with().account, 8, seen_spent=True), Care)
    assert isinstance(acid(account_with(sodium_hydroxide=1), 8), Care)


def test_sugar_and_iron_give_no_sulphur_dioxide() -> None:
    """A fructose or copperas vat holds no sulphur that acid would drive out."""
    for method in ("fructose-lime", "copperas-lime"):
        assert isinstance(acid(vat_with(method=method, lots__a__fibre="cotton").account, 11), Care)


def test_lye_into_cool_water() -> None:
    """8 g in a litre at 12 °C warms it by 2.1 K: nothing to say."""
    assert lye(8, 1, 12) is None
    assert lye(0, 1, 55) is None


def test_lye_into_hot_water_is_refused() -> None:
    """50 g in half a litre at 55 °C would pass 60 °C (13 K per 50 g/L, so 27 K more)."""
    found = lye(50, 0.5, 55)
    assert isinstance(found, Block)
    assert "cold" in found.instead


def test_lye_that_warms_its_water_well_is_worth_a_word() -> None:
    """50 g in half a litre at 15 °C comes to about 41 °C."""
    assert isinstance(lye(50, 0.5, 15), Care)


def test_water_onto_lye_is_always_refused() -> None:
    """The other way round there is no amount that is safe."""
    assert water_onto_lye().final


@pytest.mark.parametrize(
    ("state", "said"), [(TubState.WARM, "fire service"), (TubState.DAMP, "outdoors")]
)  # fmt: skip
def test_a_warm_or_damp_tub_is_left(state: TubState, said: str) -> None:
    """Reducer that is warm, smoking or damp is not used (ICSC 1717)."""
    found = reducer_tub(state)
    assert found is not None
    assert said in found.instead


def test_a_dry_tub_is_used() -> None:
    """Dry and cool is how it should be."""
    assert reducer_tub(TubState.DRY) is None
