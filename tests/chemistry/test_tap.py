"""Tap water."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry.bath import Bath
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.liquor import solve
from vatside.chemistry.tap import CLASSES, PURE, UNKNOWN, TapWater, fill, of_calcium_carbonate, softened, tap_bath

WATERS = st.builds(TapWater, st.floats(0, 8), st.floats(0, 8), st.floats(0, 1))


@given(water=WATERS, litres=st.floats(0, 100))
def test_tap_water_brings_its_alkalinity_and_nothing_else(water: TapWater, litres: float) -> None:
    """The charges that no carbonate makes come to the alkalinity, and calcium with magnesium to the hardness."""
    bath = fill(Bath(1), water, litres)
    left = bath.sodium + 2 * (bath.calcium + bath.magnesium) - bath.strong_anions
    assert left == pytest.approx(litres * water.alkalinity / 1000, abs=1e-12)
    assert bath.calcium + bath.magnesium == pytest.approx(litres * water.hardness / 1000)


@pytest.mark.parametrize("name", [name for name in CLASSES if name != "pure"])
def test_tap_water_is_near_neutral(name: str) -> None:
    """From the tap at 12 degrees C every water reads between 7.2 and 7.8: what the 1.06 stands for."""
    assert 7.2 < solve(tap_bath(10, 12, CLASSES[name])).pH < 7.8


def test_a_report_in_calcium_carbonate() -> None:
    """A report's mg/L come back, and alkalinity stands at 0.8 of the hardness where it is not known."""
    water = of_calcium_carbonate(300, 250)
    assert (water.hardness_mg, water.alkalinity_mg) == pytest.approx((300, 250))
    assert of_calcium_carbonate(100).alkalinity_mg == pytest.approx(80)


def test_what_stands_for_an_unknown_water() -> None:
    """Medium, between soft and hard; pure water is pure."""
    assert UNKNOWN.waters == (CLASSES["medium"], CLASSES["soft"], CLASSES["hard"])
    assert fill(Bath(3), PURE, 3) == Bath(3)


def test_a_softener_leaves_the_alkalinity() -> None:
    """Behind a household softener there is no hardness, and as much alkalinity as before, as sodium."""
    bath = fill(Bath(1), softened(CLASSES["hard"]), 1)
    assert bath.calcium == bath.strong_anions == 0
    assert bath.sodium == pytest.approx(CLASSES["hard"].alkalinity / 1000)


@pytest.mark.parametrize(
    ("wrong", "word"),
    [((-1, 0, 0), "hardness"), ((0, -1, 0), "alkalinity"), ((0, 0, 1.1), "magnesium"), ((0, float("nan"), 0), "alkal")],
)
def test_no_water_below_nothing(wrong: tuple[float, float, float], word: str) -> None:
    """Less than nothing is refused by name."""
    with pytest.raises(OutOfRange, match=word):
        TapWater(*wrong)
