"""Formula masses against molmass, which reads the formulas themselves."""

from __future__ import annotations

import pytest
from molmass import Formula

from vatside.chemistry.liquor import GYPSUM_MOLAR_MASS
from vatside.chemistry.substances import SUBSTANCES


@pytest.mark.parametrize("name", SUBSTANCES)
def test_molar_mass(name: str) -> None:
    """The molar mass is that of the formula within 0.001 g/mol."""
    one = SUBSTANCES[name]
    assert one.molar_mass == pytest.approx(Formula(one.formula).mass, abs=1e-3)


def test_gypsum() -> None:
    """Gypsum's molar mass is that of CaSO4(H2O)2."""
    assert Formula("CaSO4(H2O)2").mass == pytest.approx(GYPSUM_MOLAR_MASS, abs=0.01)
