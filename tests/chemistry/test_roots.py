"""The root finder."""

from __future__ import annotations

from math import exp, tanh

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry.roots import MOST_STEPS, falling_root


@given(root=st.floats(-0.99, 16.9), steepness=st.floats(0.01, 200), guess=st.floats(-5, 20))
def test_it_finds_the_crossing(root: float, steepness: float, guess: float) -> None:
    """However steep or flat, and wherever it starts, the crossing is found."""
    found = falling_root(lambda x: -tanh(steepness * (x - root)), -1, 17, guess, -1, 1e-10)
    assert found == pytest.approx(root, abs=1e-6)


def test_a_kink_does_not_hold_it_up() -> None:
    """A function that bends sharply still ends within its steps."""
    calls = []

    def bent(x: float) -> float:
        calls.append(x)
        return 0.5 if x < 3 else -exp(x)

    assert falling_root(bent, 0, 10, 9, -1, 1e-9) == pytest.approx(3, abs=1e-6)
    assert len(calls) <= MOST_STEPS


@pytest.mark.parametrize(("value", "end"), [(1.0, 10.0), (-1.0, 0.0)])
def test_without_a_crossing_it_goes_to_the_end(value: float, end: float) -> None:
    """Where nothing crosses zero the nearest end is given."""
    assert falling_root(lambda x: value, 0, 10, 5, -1, 1e-9) == pytest.approx(end, abs=1e-6)
