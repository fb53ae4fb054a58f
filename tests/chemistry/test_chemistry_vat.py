"""Additions and what the reducer does: balances of dye, alkali and electrons."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry import substances
from vatside.chemistry.bath import Bath, add_grams, add_vinegar, aerate, gives_off_sulfur_dioxide, reduce, water_bath
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.liquor import solve

GRAMS = st.floats(0, 50)
REDUCER_NAMES = st.sampled_from(sorted(substances.REDUCERS))


def stock(reducer: str, grams: float, indigotin: float = 10, lye: float = 30) -> Bath:
    """A litre of stock before anything has happened in it."""
    bath = add_grams(water_bath(1, 50), "sodium hydroxide", lye)
    return add_grams(add_grams(bath, "indigotin", indigotin), reducer, grams)


def test_a_mole_of_soda_brings_two_of_sodium() -> None:
    """Soda ash and its crystals bring sodium and carbonate by the mole."""
    for name, grams in (("sodium carbonate", 105.9885), ("washing soda", 286.1414)):
        bath = add_grams(Bath(1), name, grams)
        assert (bath.sodium, bath.carbonate) == pytest.approx((2, 1))


def test_vinegar_brings_acid_and_water() -> None:
    """A litre of 5 % vinegar brings 50 g of acetic acid, 0.833 mol, and its water."""
    bath = add_vinegar(Bath(1), 1000)
    assert bath.acetate == pytest.approx(0.8326, abs=1e-4)
    assert bath.water_kg == pytest.approx(1.955)


def test_nothing_less_than_nothing_goes_in() -> None:
    """Amounts below zero and strangers are refused."""
    with pytest.raises(OutOfRange, match="amount of fructose"):
        add_grams(Bath(1), "fructose", -1)
    with pytest.raises(OutOfRange, match="amount of vinegar"):
        add_vinegar(Bath(1), -1)
    with pytest.raises(OutOfRange, match="oxygen"):
        reduce(Bath(1), -1)
    with pytest.raises(OutOfRange, match="does not know"):
        add_grams(Bath(1), "tin", 1)


@given(name=REDUCER_NAMES, grams=GRAMS, dye=GRAMS, leuco=st.floats(0, 0.1), oxygen=st.floats(0, 500))
def test_no_dye_is_lost(name: str, grams: float, dye: float, leuco: float, oxygen: float) -> None:
    """Blue and reduced indigo together stay the same, whatever reducer and air do."""
    before = evolve(stock(name, grams, dye), leuco=leuco)
    done = reduce(before, oxygen)
    assert done.indigotin + done.leuco == pytest.approx(before.indigotin + before.leuco, rel=1e-12)
    assert done.indigotin >= 0
    assert done.leuco >= 0


@given(name=REDUCER_NAMES, grams=GRAMS, dye=GRAMS, oxygen=st.floats(0, 500))
def test_electrons_balance(name: str, grams: float, dye: float, oxygen: float) -> None:
    """What the reducer gave is what indigo and oxygen took, each by its own count."""
    before, kind = stock(name, grams, dye), substances.REDUCERS[name]
    done = reduce(before, oxygen)
    used = (getattr(before, kind.total) - getattr(done, kind.total)) * kind.pure.molar_mass
    met_oxygen = min(oxygen / 1000, getattr(before, kind.total) / kind.per_oxygen * 31.9988)
    by_dye = done.leuco * 262.2635 * substances.reducer_per_gram(name)
    assert used == pytest.approx(by_dye + met_oxygen * substances.reducer_per_gram_oxygen(name), abs=1e-6)


@pytest.mark.parametrize("name", ["thiourea dioxide", "sodium dithionite", "ferrous sulfate heptahydrate"])
def test_just_enough_reduces_all(name: str) -> None:
    """The theory's amount of reducer reduces all the indigotin and leaves nothing over; half of it reduces half."""
    whole = reduce(stock(name, 10 * substances.reducer_per_gram(name)))
    half = reduce(stock(name, 5 * substances.reducer_per_gram(name)))
    assert whole.indigotin == pytest.approx(0, abs=1e-11)
    assert getattr(whole, substances.REDUCERS[name].total) == pytest.approx(0, abs=1e-11)
    assert half.leuco == pytest.approx(5 / 262.2635)


def test_oxygen_goes_first() -> None:
    """128 mg of oxygen in 20 L takes 0.43 g of thiourea dioxide before any indigo is reduced."""
    bath = add_grams(add_grams(water_bath(20, 40), "thiourea dioxide", 0.4), "indigotin", 5)
    done = reduce(bath, 128.2)
    assert done.leuco == 0
    assert done.thiourea_dioxide == 0
    assert done.sulfate == pytest.approx(0.4 / 108.1195)


def test_air_without_reducer_turns_leuco_back() -> None:
    """A mole of oxygen turns two of leuco-indigo blue again, and gives the alkali back."""
    before = Bath(1, leuco=0.01, sodium=0.02)
    done = reduce(before, 0.002 * 31998.8)
    assert done.indigotin == pytest.approx(0.004)
    assert done.leuco == pytest.approx(0.006)
    was, now = solve(before), solve(done)
    double_ion = was.leuco.di * before.leuco - now.leuco.di * done.leuco
    assert now.hydroxide - was.hydroxide == pytest.approx(0.004 + double_ion, rel=0.01)


@pytest.mark.parametrize("name", ["thiourea dioxide", "sodium dithionite"])
def test_sulfur_ends_as_sulfite_by_indigo_and_as_sulfate_by_air(name: str) -> None:
    """No sulfur is lost: sulfite from indigo, sulfate from oxygen, the rest still reducer."""
    before, kind = stock(name, 20), substances.REDUCERS[name]
    after = reduce(before, 200)
    by_air = 0.2 / 31.9988 * kind.per_oxygen * dict(kind.with_oxygen).get("sulfite", 0.0)
    by_indigo = after.leuco * kind.per_indigotin * dict(kind.with_indigo)["sulfite"]
    assert after.sulfite == pytest.approx(by_indigo + by_air)
    assert after.sulfate == pytest.approx(0.2 / 31.9988)
    sulfur = (2 * bath.dithionite + bath.thiourea_dioxide + bath.sulfite + bath.sulfate for bath in (before, after))
    assert next(sulfur) == pytest.approx(next(sulfur))


@pytest.mark.parametrize("name", ["thiourea dioxide", "sodium dithionite", "fructose"])
@pytest.mark.parametrize("oxygen", [0.0, 150.0])
def test_the_liquor_loses_the_alkali_of_the_account(name: str, oxygen: float) -> None:
    """The charge balance knows no reactions, and still loses the hydroxide that they count."""
    before, kind = stock(name, 20), substances.REDUCERS[name]
    done = reduce(before, oxygen)
    liquor = solve(done)
    lost = (solve(before).hydroxide - liquor.hydroxide) * before.water_kg
    double_ion = (liquor.leuco.di - liquor.leuco.acid) * done.leuco
    counted = oxygen / 31998.8 * kind.hydroxide_oxygen + done.leuco * kind.hydroxide_mono
    assert lost == pytest.approx(counted + double_ion, rel=1e-4)


def test_copperas_takes_its_alkali_as_it_goes_in() -> None:
    """Iron takes alkali when it settles and when it rusts: in all what is counted for a mole of indigo."""
    before = add_grams(add_grams(water_bath(1, 50), "sodium hydroxide", 30), "indigotin", 10)
    name = "ferrous sulfate heptahydrate"
    done = reduce(add_grams(before, name, 10 * 2.12005))
    liquor = solve(done)
    lost = (solve(before).hydroxide - liquor.hydroxide) * before.water_kg
    counted = substances.REDUCERS[name].hydroxide_mono * done.leuco
    assert lost == pytest.approx(counted + liquor.leuco.di * done.leuco, rel=1e-3)


def test_reducers_are_used_in_turn() -> None:
    """With two reducers in a bath dithionite goes before thiourea dioxide."""
    done = reduce(add_grams(stock("thiourea dioxide", 5), "sodium dithionite", 5))
    assert done.dithionite == 0
    assert 0 < done.thiourea_dioxide < 5 / 108.1195


def test_aired_out_nothing_reduces() -> None:
    """Stirred in air until blue a vat holds no leuco-indigo, no reducer and no sulfite, and lost no dye."""
    live = reduce(stock("thiourea dioxide", 20))
    spent = aerate(live)
    assert gives_off_sulfur_dioxide(live)
    assert not gives_off_sulfur_dioxide(spent)
    assert spent.leuco == spent.sulfite == spent.ferrous == 0
    assert spent.indigotin == pytest.approx(live.indigotin + live.leuco)
    assert solve(spent).pH < solve(live).pH
