"""The charge balance: what holds for every bath, and a few liquors worked by hand."""

from __future__ import annotations

from itertools import pairwise
from math import isfinite

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.chemistry.baths import BATHS, STEPS, TEMPERATURES
from tests.effort import examples

from vatside.chemistry.bath import Bath, part
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.liquor import MOST, at_25, clear, solve
from vatside.chemistry.substances import leuco_shares

many = examples(150)


@many
@given(BATHS)
def test_every_bath_has_a_balanced_liquor(bath: Bath) -> None:
    """The search always ends, inside its bracket, with the charges in balance."""
    liquor = solve(bath)
    assert -1 < liquor.pH < 17
    assert all(isfinite(ion.molality) and ion.molality >= 0 for ion in liquor.ions)
    assert abs(liquor.charge) <= 1e-8 * sum(abs(ion.charge) * ion.molality for ion in liquor.ions)


@many
@given(BATHS)
def test_the_ionic_strength_is_that_of_its_ions(bath: Bath) -> None:
    """Half the sum of z^2 m over the ions is the ionic strength that their activities were taken at."""
    liquor = solve(bath)
    again = sum(ion.charge**2 * ion.molality for ion in liquor.ions) / 2
    assert again == pytest.approx(liquor.ionic_strength)


@many
@given(BATHS, STEPS)
def test_lye_raises_the_pH(bath: Bath, more: float) -> None:
    """More sodium hydroxide, higher pH, whatever else is in the bath."""
    stronger = evolve(bath, sodium=min(bath.sodium + more, MOST["sodium"]))
    assert solve(stronger).pH >= solve(bath).pH - 1e-9


@many
@given(BATHS, STEPS)
def test_lime_never_lowers_the_pH(bath: Bath, more: float) -> None:
    """More lime never lowers the pH, dissolved or not."""
    stronger = evolve(bath, calcium=min(bath.calcium + more, MOST["calcium"]))
    assert solve(stronger).pH >= solve(bath).pH - 1e-9


@many
@given(BATHS, STEPS, st.sampled_from(["acetate", "citrate", "sulfate", "strong_anions"]))
def test_acid_lowers_the_pH(bath: Bath, more: float, acid: str) -> None:
    """More acetic, citric, sulfuric or any strong acid, lower pH.

    Over lime in brine acetate may raise it by 0.01 by thinning the charges that activities are taken from.
    """
    sourer = evolve(bath, **{acid: min(getattr(bath, acid) + more, MOST[acid])})
    before = solve(bath)
    brine = before.ionic_strength > 0.25 and before.undissolved_lime_g > 0
    assert solve(sourer).pH <= before.pH + (0.01 if brine else 1e-9)


@given(BATHS, st.floats(0.01, 1))
def test_part_of_a_bath_has_the_same_pH(bath: Bath, share: float) -> None:
    """A ladleful is as alkaline as the vat, and has its share of the lime."""
    whole, ladle = solve(bath), solve(part(bath, share))
    assert ladle.pH == pytest.approx(whole.pH, abs=1e-7)
    assert ladle.undissolved_lime_g == pytest.approx(share * whole.undissolved_lime_g, abs=1e-4)


@many
@given(BATHS, st.booleans())
def test_totals_are_kept(bath: Bath, chalk: bool) -> None:
    """Calcium, magnesium, sulfate and carbonate are all there: dissolved, in pairs or at the bottom."""
    liquor = solve(bath, chalk=chalk)
    held, lies = {ion.name: ion.molality for ion in liquor.ions}, liquor.settled
    calcium = sum(molality for name, molality in held.items() if name.startswith("calcium"))
    calcium += lies.lime + lies.gypsum + lies.chalk + 1.5 * lies.calcium_citrate
    magnesium = sum(molality for name, molality in held.items() if name.startswith("magnesium"))
    sulfate = held.get("sulfate", 0.0) + held.get("bisulfate", 0.0) + lies.gypsum
    assert calcium == pytest.approx(bath.calcium, abs=1e-7, rel=1e-6)
    assert magnesium + lies.magnesium_hydroxide == pytest.approx(bath.magnesium, abs=1e-7)
    assert sulfate == pytest.approx(bath.sulfate, abs=1e-7)
    carbonate = sum(molality for name, molality in held.items() if name.endswith(("carbonate", "carbonate 1+")))
    assert carbonate + lies.chalk + liquor.uncharged.get("carbonate", 0.0) == pytest.approx(bath.carbonate, abs=1e-7)
    assert held.get("bisulfite", 0.0) + held.get("sulfite", 0.0) <= bath.sulfite * (1 + 1e-9) + 1e-300


@given(BATHS)
def test_the_leuco_ions_are_the_shares(bath: Bath) -> None:
    """The leuco ions of the balance are those shown as shares at the liquor's pH."""
    liquor = solve(bath)
    held = {ion.name: ion.molality for ion in liquor.ions}
    assert liquor.leuco == leuco_shares(liquor.pH)
    assert held.get("leuco-indigo 1-", 0.0) == pytest.approx(liquor.leuco.mono * bath.leuco, abs=1e-9)
    assert held.get("leuco-indigo 2-", 0.0) == pytest.approx(liquor.leuco.di * bath.leuco, abs=1e-9)


@given(TEMPERATURES)
def test_pure_water_is_neutral(t_C: float) -> None:
    """In plain water hydrogen and hydroxide are even."""
    held = {ion.name: ion.molality for ion in solve(Bath(1, t_C)).ions}
    assert held["hydrogen"] == pytest.approx(held["hydroxide"], rel=1e-6)


def test_pure_water_has_pH_7_at_25() -> None:
    """Plain water reads half of pKw, 6.997."""
    assert solve(Bath(3, 25)).pH == pytest.approx(13.994 / 2, abs=1e-3)


def test_the_hand_over_does_not_show() -> None:
    """From 0.1 to 0.3 mol/kg of lye the pH climbs in ever smaller steps, without a kink."""
    pHs = [solve(Bath(1, 25, sodium=0.1 + 0.002 * step)).pH for step in range(101)]
    steps = [after - before for before, after in pairwise(pHs)]
    assert all(step > 0 for step in steps)
    assert all(abs(after - before) < 4e-4 for before, after in pairwise(steps))


@pytest.mark.parametrize(
    ("grams", "warm", "cool"),
    # sodium hydroxide a litre at 25 and 50 degrees C, worked with Davies apart from this program
    [(0.04, 10.98, 10.24), (0.1, 11.37, 10.63), (0.4, 11.96, 11.22), (1.0, 12.33, 11.59), (4.0, 12.89, 12.15)],
)
def test_the_same_lye_reads_lower_when_hot(grams: float, warm: float, cool: float) -> None:
    """Warmed from 25 to 50 degrees C lye reads about 0.74 lower, and at_25 gives the first number back."""
    bath = Bath(1, 50, sodium=grams / 39.997)
    assert solve(bath, 25).pH == pytest.approx(warm, abs=0.015)
    assert solve(bath).pH == pytest.approx(cool, abs=0.015)
    assert at_25(bath) == solve(bath, 25)


@pytest.mark.parametrize(
    ("t_C", "published"),
    # pH over solid lime, from the handbook solubility of Ca(OH)2 at each temperature
    [(20, 12.66), (30, 12.30), (40, 11.96), (50, 11.65), (60, 11.36)],
)
def test_lime_in_excess(t_C: float, published: float) -> None:
    """Over solid lime the pH is held, however much lies there."""
    some, plenty = Bath(1, t_C, calcium=0.05), Bath(1, t_C, calcium=1)
    assert solve(some).pH == pytest.approx(published, abs=0.03)
    assert solve(plenty).pH == pytest.approx(solve(some).pH, abs=1e-8)


def test_half_strength_lime_water() -> None:
    """Published: diluted to half, lime water saturated at 25 degrees C falls by 0.28 (Bates, Bower & Smith 1956)."""
    whole, half = solve(Bath(1, 25, calcium=0.0203)).pH, solve(Bath(2, 25, calcium=0.0203)).pH
    assert whole - half == pytest.approx(0.28, abs=0.02)


def test_a_sample_of_a_lime_vat_is_taken_clear() -> None:
    """Cooled without its sludge a lime vat reads less than lime water made at 25 degrees C."""
    vat = Bath(1, 50, calcium=0.5)
    assert at_25(vat).pH < solve(vat, 25).pH
    assert at_25(vat).undissolved_lime_g == 0


@given(BATHS)
def test_decanting_changes_no_pH(bath: Bath) -> None:
    """The clear liquor has the pH it had over its sludge, and no lime lies in it."""
    decanted = clear(bath)
    assert solve(decanted).pH == pytest.approx(solve(bath).pH, abs=1e-4)
    assert solve(decanted).undissolved_lime_g == pytest.approx(0, abs=1e-4)
    assert decanted.indigotin == decanted.ferric == 0


def test_copperas_lime_liquor_is_held_by_gypsum() -> None:
    """Sulfate in a lime vat comes down as gypsum, so that the calcium it brings costs little pH."""
    with_copperas = solve(Bath(1, 25, calcium=0.3, sulfate=0.06))
    assert with_copperas.undissolved_gypsum_g > 5
    assert solve(Bath(1, 25, calcium=0.3)).pH - with_copperas.pH < 0.1


@pytest.mark.parametrize(
    ("lye", "pH"),
    # worked by hand at 25 degrees C from pKsp 15.1 and Davies: half or nine tenths of 0.02 mol/kg of iron settle, each
    # with two hydroxides, so that 0.01 or 0.002 stays: 13.994 - (15.1 + log 0.01 - 4 x 0.0961) / 2 = 7.636, and 7.978
    [(0.02, 7.636), (0.036, 7.978)],
)
def test_ferrous_hydroxide_settles(lye: float, pH: float) -> None:
    """What lye settles of copperas leaves the iron that its solubility allows."""
    found = solve(Bath(1, 25, ferrous=0.02, sulfate=0.02, sodium=lye))
    assert found.pH == pytest.approx(pH, abs=0.01)
    assert found.settled.iron_hydroxide == pytest.approx(lye / 2, abs=1e-5)


@pytest.mark.parametrize("name", MOST)
def test_stronger_than_any_dye_liquor(name: str) -> None:
    """Past the strongest liquor there is a sentence instead of a number."""
    with pytest.raises(OutOfRange, match="stronger than any dye liquor"):
        solve(Bath(1, 25, **{name: MOST[name] * 1.01}))


@pytest.mark.parametrize("t_C", [-5, 120])
def test_only_liquid_water(t_C: float) -> None:
    """No liquor is frozen or boiled off."""
    with pytest.raises(OutOfRange, match="between 0 and 100 °C"):
        solve(Bath(1, 25), t_C)
