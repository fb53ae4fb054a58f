"""Oxygen in water against gsw, and against Henry's constant of IAPWS G7-04, which rests on other measurements."""

from __future__ import annotations

import gsw
import pytest

from vatside.chemistry import ageing, water


@pytest.mark.parametrize("t_C", range(0, 41, 2))
def test_against_gsw(t_C: float) -> None:
    """Up to 40 degrees C the saturation lies within 0.005 mg/L of gsw's fit to the same data."""
    micromoles = float(gsw.O2sol_SP_pt(0.0, float(t_C)))
    published = micromoles * 31.9988e-6 * water.density(t_C)
    assert ageing.saturation(t_C) == pytest.approx(published, abs=0.005)


@pytest.mark.parametrize("t_C", [5, 10, 20, 30, 40, 45, 50, 55, 60, 70])
def test_against_henry(t_C: float) -> None:
    """From 5 to 70 degrees C the saturation lies within 2 % of IAPWS G7-04."""
    from iapws._iapws import _Henry

    oxygen_kPa = 0.20946 * (101.325 - water.vapour_pressure(t_C))
    henry_kPa = _Henry(t_C + 273.15, "O2") * 1000
    published = oxygen_kPa / henry_kPa / 18.0153 * 31.9988 * water.density(t_C) * 1000
    assert ageing.saturation(t_C) == pytest.approx(published, rel=0.02)
