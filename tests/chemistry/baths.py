"""Baths for the property tests: every strength up to the most that the liquor takes, at every temperature."""

from __future__ import annotations

from hypothesis import strategies as st

from vatside.chemistry.bath import Bath
from vatside.chemistry.liquor import MOST


def amounts(most: float) -> st.SearchStrategy[float]:
    """Moles in a kilogram of water: none, a trace or a lot."""
    return st.one_of(
        st.just(0.0),
        st.floats(0, most),
        st.floats(-9, 0).map(lambda exponent: most * 10.0**exponent),
    )


TEMPERATURES = st.one_of(st.just(25.0), st.floats(0, 100))

BATHS = st.builds(
    Bath,
    water_kg=st.just(1.0),
    temperature_C=TEMPERATURES,
    **{name: amounts(most) for name, most in MOST.items()},
)
"""A kilogram of water with anything in it."""

STEPS = st.floats(1e-4, 0.05)
"""What is added, mol."""
