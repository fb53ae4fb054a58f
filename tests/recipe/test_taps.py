"""Drawing water from two taps. By hand, water of any warmth weighs 1 kg/L and takes 4.18 kJ/(kg K), good to 1.5 %."""

from __future__ import annotations

import pytest
from tests.plan.plans import plan_with

from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute


def drawn(hot: str, cold: str, target: str, water: str = "10 L") -> Sheet:
    """Give a sheet whose stock bath is so much water at a target."""
    return compute(
        plan_with(
            water__hot=hot, water__cold=cold, stock__bath=water, stock__bath_temperature=target, water__hob="2 kW"
        )
    )


def litres(sheet: Sheet) -> tuple[float, float]:
    """Give what is drawn hot and cold."""
    return sheet["stock.bath_hot"].value, sheet["stock.bath_cold"].value


def test_between_the_taps() -> None:
    """10 L at 40 from 60 and 10 are 6 L hot and 4 L cold."""
    assert litres(drawn("60 C", "10 C", "40 C")) == pytest.approx((6, 4), rel=0.015)


def test_as_the_hot_tap_runs() -> None:
    """The hot tap's own warmth takes no cold water and no hob."""
    sheet = drawn("60 C", "10 C", "60 C")
    assert litres(sheet) == pytest.approx((10, 0))
    assert sheet.value("stock.bath_kettle", -1) == -1


def test_as_the_cold_tap_runs() -> None:
    """The cold tap's own warmth takes no hot water."""
    assert litres(drawn("60 C", "10 C", "10 C")) == pytest.approx((0, 10))


def test_beyond_the_hot_tap() -> None:
    """10 L at 70 from a tap of 60: all hot, then 10 x 4.18 x 10 / 2 / 60 = 3.5 min on 2 kW."""
    sheet = drawn("60 C", "10 C", "70 C")
    assert litres(sheet) == pytest.approx((10, 0), rel=0.015)
    assert sheet["stock.bath_kettle"].value == pytest.approx(10 * 4.18 * 10 / 2 / 60, rel=0.025)


def test_water_shrinks_as_it_cools() -> None:
    """10 L wanted at 70 (977.8 g/L) are 9.95 L at the tap's 60 (983.2 g/L)."""
    assert litres(drawn("60 C", "10 C", "70 C"))[0] == pytest.approx(10 * 977.8 / 983.2, rel=1e-4)


def test_half_a_degree_is_close_enough() -> None:
    """A tap of 59.6 does for 60: nobody waits for the hob."""
    assert drawn("59.6 C", "10 C", "60 C").value("stock.bath_kettle", -1) == -1


def test_below_the_cold_tap() -> None:
    """A cold tap of 25 cannot give 20: all is drawn cold, and nothing is heated."""
    sheet = drawn("60 C", "25 C", "20 C")
    assert litres(sheet) == pytest.approx((0, 10), rel=0.015)
    assert sheet.value("stock.bath_kettle", -1) == -1


@pytest.mark.parametrize(("hot", "cold"), [("15 C", "15 C"), ("10 C", "15 C")])
def test_no_hot_tap(hot: str, cold: str) -> None:
    """A hot tap no warmer than the cold one counts as none: 10 L from 15 to 40 are 10 x 4.18 x 25 / 2 / 60 min."""
    sheet = drawn(hot, cold, "40 C")
    assert litres(sheet) == pytest.approx((0, 10), rel=0.015)
    assert sheet["stock.bath_kettle"].value == pytest.approx(10 * 4.18 * 25 / 2 / 60, rel=0.015)


def test_ice_water_and_boiling_water() -> None:
    """Taps of 0 and 100 are as good as any: half and half is 50."""
    assert litres(drawn("100 C", "0 C", "50 C")) == pytest.approx((5, 5), rel=0.03)


def test_no_water() -> None:
    """No water wanted is no water drawn."""
    assert litres(drawn("60 C", "10 C", "40 C", "0 L")) == (0, 0)


def test_working_shows_what_went_in() -> None:
    """The working of a draw names water, wanted warmth and both taps."""
    working = drawn("60 C", "10 C", "40 C")["stock.bath_hot"].working
    assert [item.value for item in working.inputs] == pytest.approx([10, 40, 60, 10])
