"""Lime and gypsum."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry.solids import dissolve

AMOUNTS = st.floats(0, 3)
LIMITS = st.floats(-12, 6).map(lambda exponent: 10.0**exponent)


@given(calcium=AMOUNTS, sulfate=AMOUNTS, held=st.floats(1, 50), lime_limit=LIMITS, product=LIMITS)
def test_nothing_is_lost(calcium: float, sulfate: float, held: float, lime_limit: float, product: float) -> None:
    """Dissolved and solid calcium and sulfate sum to what went in, and none is below zero."""
    out = dissolve(calcium, sulfate, held, lime_limit, product)
    assert min(out) >= -1e-12
    assert out.calcium * held + out.lime + out.gypsum == pytest.approx(calcium, abs=1e-9)
    assert out.sulfate + out.gypsum == pytest.approx(sulfate, abs=1e-9)


@given(calcium=AMOUNTS, sulfate=AMOUNTS, held=st.floats(1, 50), lime_limit=LIMITS, product=LIMITS)
def test_neither_solid_is_oversaturated(
    calcium: float, sulfate: float, held: float, lime_limit: float, product: float
) -> None:
    """Free calcium stays below lime's limit and the product below gypsum's, and a solid is there only at its limit."""
    out = dissolve(calcium, sulfate, held, lime_limit, product)
    assert out.calcium <= lime_limit * (1 + 1e-9)
    assert out.calcium * out.sulfate <= product * (1 + 1e-6) + 1e-12
    if out.lime > 1e-9:
        assert out.calcium == pytest.approx(lime_limit)
    if out.gypsum > 1e-6:
        assert out.calcium * out.sulfate == pytest.approx(product, rel=1e-6, abs=1e-9)
