"""Calcium between the water, its anions and the solids."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry.equilibria import Ligand, share

AMOUNTS = st.floats(1e-12, 3)
CONSTANTS = st.floats(-12, 12).map(lambda exponent: 10.0**exponent)
SPREADS = st.floats(0, 12).map(lambda exponent: 10.0**exponent)
LIGANDS = st.builds(
    Ligand,
    total=st.one_of(st.just(0.0), AMOUNTS),
    spread=SPREADS,
    pairs=st.one_of(st.just(0.0), CONSTANTS),
    product=st.one_of(st.just(inf), CONSTANTS),
    ratio=st.sampled_from([1.0, 1.5]),
)


@given(
    total=AMOUNTS,
    held=st.floats(1, 50),
    ligands=st.lists(LIGANDS, max_size=4).map(tuple),
    limit=CONSTANTS,
    guess=st.one_of(st.just(0.0), CONSTANTS),
)
def test_nothing_is_lost(total: float, held: float, ligands: tuple[Ligand, ...], limit: float, guess: float) -> None:
    """Free calcium, its pairs and its solids sum to what went in, from whatever guess, and none is below zero."""
    found = share(total, held, ligands, limit, guess)
    calcium, lime = found
    dissolved = calcium * (held + sum(one.pairs * one.free(calcium) for one in ligands))
    solid = lime + sum(one.ratio * one.solid(calcium) for one in ligands)
    assert calcium > 0
    assert lime >= 0
    assert dissolved + solid == pytest.approx(total, rel=1e-6, abs=1e-9)


@given(total=AMOUNTS, held=st.floats(1, 50), ligands=st.lists(LIGANDS, max_size=4).map(tuple), limit=CONSTANTS)
def test_no_solid_is_oversaturated(total: float, held: float, ligands: tuple[Ligand, ...], limit: float) -> None:
    """Free calcium stays below lime's limit and each product below its solid's; lime lies there only at its limit."""
    calcium, lime = share(total, held, ligands, limit)
    assert calcium <= limit
    assert all(one.free(calcium) * calcium**one.ratio <= one.product * (1 + 1e-9) for one in ligands)
    if lime > 0:
        assert calcium == limit


@pytest.mark.parametrize(
    ("ligand", "free"),
    [
        # 1 mmol of calcium and 1 of anion; pairs 1000: c (1 + 1000 y) = 1, y (1 + 1000 c) = 1 (mmol), so c = 0.618
        (Ligand(0.001, 1.0, 1000.0), 0.618034e-3),
        # the product alone, 1e-8: c y = 1e-8 with as much of both gone: c = 1e-4
        (Ligand(0.001, 1.0, 0.0, 1e-8), 1e-4),
        # half the anion hidden in other forms: c (0.001 - 0.001 + c) / 2 = 1e-8
        (Ligand(0.001, 2.0, 0.0, 1e-8), 2**0.5 * 1e-4),
        # nothing binds
        (Ligand(0.001, 1.0), 1e-3),
    ],
)
def test_free_calcium_worked_by_hand(ligand: Ligand, free: float) -> None:
    """One millimole of calcium beside one millimole of an anion."""
    assert share(0.001, 1.0, (ligand,), 1.0).calcium == pytest.approx(free, rel=1e-5)
