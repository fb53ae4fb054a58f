"""The substances: names, composition, and what they bring to a bath."""

from __future__ import annotations

import pytest

from vatside.chemistry.bath import TOTALS
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.substances import SUBSTANCES, moles, substance


@pytest.mark.parametrize("name", SUBSTANCES)
def test_what_a_substance_gives_a_bath_knows(name: str) -> None:
    """Every total that a substance adds to is one of a bath's."""
    assert {total for total, _ in SUBSTANCES[name].gives} <= set(TOTALS)


def test_an_unknown_substance_is_named() -> None:
    """The refusal names the stranger and those that are known."""
    with pytest.raises(OutOfRange, match="does not know “salt”; it knows sodium hydroxide"):
        substance("salt")


def test_forty_grams_of_lye_are_a_mole() -> None:
    """Moles are grams over the molar mass."""
    assert moles("sodium hydroxide", 39.9971) == pytest.approx(1)


def test_washing_soda_is_37_percent_soda() -> None:
    """Published: the decahydrate holds 37.04 % of sodium carbonate."""
    soda, crystals = substance("sodium carbonate"), substance("washing soda")
    assert 100 * soda.molar_mass / crystals.molar_mass == pytest.approx(37.04, abs=0.01)
