"""The constants at 25 degrees C, and how they move."""

from __future__ import annotations

import pytest

from vatside.chemistry.equilibria import equilibria
from vatside.chemistry.errors import OutOfRange


@pytest.mark.parametrize(
    ("acid", "published"),
    [
        ("carbonate", (6.352, 10.329)),  # Plummer & Busenberg 1982
        ("sulfite", (1.857, 7.172)),  # Goldberg et al. 2002, from memory
        ("acetate", (4.756,)),  # Harned & Ehlers 1933
        ("citrate", (3.128, 4.761, 6.396)),  # Bates & Pinching 1949
        ("leuco", (7.97, 12.68)),  # attributed to Etters, from memory
    ],
)
def test_acids_at_25(acid: str, published: tuple[float, ...]) -> None:
    """Every acid has its published constants at 25 degrees C."""
    assert getattr(equilibria(25), acid) == pytest.approx(published, abs=0.002)


@pytest.mark.parametrize(
    ("t_C", "first", "second"),
    # Harned & Davis 1943, Harned & Scholes 1941, from memory
    [(0, 6.58, 10.625), (50, 6.29, 10.17)],
)
def test_carbonate_by_temperature(t_C: float, first: float, second: float) -> None:
    """Carbonic acid's constants move as measured."""
    assert equilibria(t_C).carbonate == pytest.approx((first, second), abs=0.01)


def test_lime_dissolves_less_when_hot() -> None:
    """Lime's constant rises with the temperature."""
    assert equilibria(60).lime > equilibria(25).lime > equilibria(0).lime


def test_only_liquid_water() -> None:
    """Constants outside 0..100 degrees C are refused."""
    with pytest.raises(OutOfRange):
        equilibria(101)
