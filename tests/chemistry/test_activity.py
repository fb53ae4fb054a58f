"""Activity coefficients: published values and a smooth hand-over."""

from __future__ import annotations

import pytest

from vatside.chemistry import water


@pytest.mark.parametrize(
    ("t_C", "published"),
    # Robinson & Stokes, Electrolyte Solutions, molal, from memory
    [(0, 0.491), (25, 0.511), (50, 0.534)],
)
def test_debye_huckel(t_C: float, published: float) -> None:
    """A has its textbook value."""
    assert water.debye_huckel(t_C) == pytest.approx(published, abs=0.004)


@pytest.mark.parametrize(
    ("molality", "davies", "pitzer"),
    # worked from the formulas apart from this program
    [
        (0.01, 0.9018, 0.9021),
        (0.05, 0.8209, 0.8202),
        (0.1, 0.7809, 0.7769),
        (0.2, 0.7461, 0.7329),
        (0.5, 0.7329, 0.6836),
    ],
)
def test_both_formulas(molality: float, davies: float, pitzer: float) -> None:
    """Davies and Pitzer give what their formulas say for lye at 25 degrees C."""
    assert 10 ** water.davies(molality, 25) == pytest.approx(davies, abs=2e-4)
    assert 10 ** water.pitzer_lye(molality, 25) == pytest.approx(pitzer, abs=2e-4)


def test_pure_water_is_ideal() -> None:
    """Without ions the coefficient and the water's activity are one."""
    assert water.log_gamma(0, 25) == water.pitzer_lye(0, 25) == water.log_water_activity(0) == 0


@pytest.mark.parametrize("t_C", [0, 25, 50, 100])
@pytest.mark.parametrize("edge", [water.HAND_OVER_FROM, water.HAND_OVER_TO, water.STRONGEST])
def test_no_step_at_the_hand_over(edge: float, t_C: float) -> None:
    """The coefficient has no jump where one formula gives way to the other."""
    below, above = water.log_gamma(edge - 1e-7, t_C), water.log_gamma(edge + 1e-7, t_C)
    assert above == pytest.approx(below, abs=1e-6)


def test_each_formula_rules_its_side() -> None:
    """Below the hand-over it is Davies, above it Pitzer."""
    assert water.log_gamma(0.15, 40) == water.davies(0.15, 40)
    assert water.log_gamma(0.25, 40) == water.pitzer_lye(0.25, 40)
