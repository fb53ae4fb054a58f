"""Leuco-indigo's forms, and what its reduction takes by theory."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry import substances
from vatside.chemistry.errors import OutOfRange


@pytest.mark.parametrize(
    ("pH", "acid", "mono", "di"),
    # from pKa 7.97 and 12.68 in closed form, apart from this program
    [
        (8, 0.483, 0.517, 0.000),
        (9, 0.085, 0.914, 0.000),
        (10, 0.009, 0.989, 0.002),
        (10.5, 0.003, 0.991, 0.007),
        (11, 0.001, 0.979, 0.020),
        (11.5, 0.000, 0.938, 0.062),
        (12, 0.000, 0.827, 0.173),
        (12.5, 0.000, 0.602, 0.398),
        (13, 0.000, 0.324, 0.676),
    ],
)
def test_shares(pH: float, acid: float, mono: float, di: float) -> None:
    """The forms share the dye as the two constants say."""
    shares = substances.leuco_shares(pH)
    assert (shares.acid, shares.mono, shares.di) == pytest.approx((acid, mono, di), abs=6e-4)


@given(st.floats(-2, 17))
def test_shares_are_all_there_is(pH: float) -> None:
    """The three shares sum to one at any pH."""
    shares = substances.leuco_shares(pH)
    assert shares.acid + shares.mono + shares.di == pytest.approx(1)


def test_the_single_ion_peaks_between_the_constants() -> None:
    """The single ion is most at the mean of both constants, 10.325, with 99.1 %."""
    best = max(range(80, 130), key=lambda tenth: substances.leuco_shares(tenth / 10).mono)
    assert best == 103
    assert substances.leuco_shares(10.325).mono == pytest.approx(0.991, abs=5e-4)


@pytest.mark.parametrize(
    ("name", "reducer", "mono", "di"),
    # g for 10 g of indigotin, balanced by hand
    [
        ("thiourea dioxide", 4.12, 4.58, 6.10),
        ("sodium dithionite", 6.64, 4.58, 6.10),
        ("ferrous sulfate heptahydrate", 21.2, 7.63, 9.15),
    ],
)
def test_least_amounts(name: str, reducer: float, mono: float, di: float) -> None:
    """Ten grams of indigotin take the reducer and the lye of the balanced reactions."""
    assert 10 * substances.reducer_per_gram(name) == pytest.approx(reducer, abs=0.006)
    assert 10 * substances.naoh_per_gram(name) == pytest.approx(mono, abs=0.006)
    assert 10 * substances.naoh_per_gram(name, "di") == pytest.approx(di, abs=0.006)


def test_copperas_takes_0_85_of_lime() -> None:
    """Hand-worked: 3 moles of lime for each of indigotin to the double ion, 3 x 74.093 / 262.26 = 0.85 g a gram."""
    lime = substances.naoh_per_gram("ferrous sulfate heptahydrate", "di") / substances.naoh_equivalent(
        "calcium hydroxide"
    )
    assert lime == pytest.approx(0.85, abs=0.005)


def test_only_sugar_is_an_assumption() -> None:
    """Fructose, and sugar and starch of plants, are marked as having no fixed reaction, the others are not."""
    assumed = [name for name in substances.REDUCERS if substances.reducer(name).assumed]
    assert assumed == ["fructose", "plant sugar", "fermentable starch"]


@pytest.mark.parametrize(
    ("name", "reducer", "lye"),
    # Na2S2O4 + O2 + 2 NaOH; TUD + O2 + 2 NaOH; 4 FeSO4 + O2 + 8 NaOH; g for 32 g (a mole) of oxygen
    [
        ("sodium dithionite", 174.11, 80.0),
        ("thiourea dioxide", 108.12, 80.0),
        ("ferrous sulfate heptahydrate", 4 * 278.01, 320.0),
    ],
)
def test_oxygen_takes_four_electrons(name: str, reducer: float, lye: float) -> None:
    """A mole of oxygen takes the reducer and the lye of its balanced reaction."""
    assert 31.9988 * substances.reducer_per_gram_oxygen(name) == pytest.approx(reducer, abs=0.05)
    assert 31.9988 * substances.naoh_per_gram_oxygen(name) == pytest.approx(lye, abs=0.05)


def test_soda_stands_for_a_third_of_its_weight_in_lye() -> None:
    """Hand-worked: 39.997 / 105.988 = 0.377, one hydroxide for each carbonate."""
    assert substances.naoh_equivalent("sodium carbonate") == pytest.approx(0.377, abs=5e-4)


def test_strangers_are_refused() -> None:
    """What is no reducer or no alkali is said to be none."""
    with pytest.raises(OutOfRange, match="“indigotin” is no reducer"):
        substances.reducer_per_gram("indigotin")
    with pytest.raises(OutOfRange, match="“fructose” is no alkali"):
        substances.naoh_equivalent("fructose")
