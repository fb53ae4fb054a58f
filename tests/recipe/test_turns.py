"""Pieces in turn and how long a lot takes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.recipe.turns import in_turn, throughput


@pytest.mark.parametrize(
    ("air", "dip", "pieces"), [(15, 5, 4), (10, 5, 3), (14, 5, 3), (5, 10, 1), (0, 5, 1), (15, 0, 1)]
)
def test_pieces_in_turn(air: float, dip: float, pieces: int) -> None:
    """Air ÷ dip, rounded down, and one more: 15 min air and 5 min dip keep four pieces going."""
    assert in_turn(air, dip) == pieces


def test_one_piece_by_hand() -> None:
    """Three dips of 5 min with 1 min handling and 15 min air between: 3 x 6 + 2 x 15 = 48 min."""
    run = throughput(1, 1, 3, 5, 15, 1)
    assert run.minutes == 48
    assert run.waits_for == "air"


def test_enough_pieces_keep_the_vat_busy() -> None:
    """Four pieces, three dips, 5 min dip, no handling, 15 min air: 12 x 5 = 60 min without a pause."""
    run = throughput(4, 1, 3, 5, 15, 0)
    assert run.minutes == run.busy == 60
    assert run.waits_for == "vat"


def test_no_dips_take_no_time() -> None:
    """A lot that is not dipped takes no time and no entry."""
    assert throughput(5, 2, 0, 5, 15, 1).minutes == throughput(5, 2, 0, 5, 15, 1).entries == 0


@given(
    st.integers(1, 60), st.integers(1, 10), st.integers(1, 20), st.floats(0.5, 30), st.floats(1, 60), st.floats(0, 3)
)
def test_a_run_is_never_shorter_than_vat_or_air_allow(
    pieces: int, at_once: int, dips: int, dip: float, air: float, handling: float
) -> None:
    """Neither the vat's own time nor one piece's dips and airings can be undercut."""
    run = throughput(pieces, at_once, dips, dip, air, handling)
    assert run.minutes >= run.busy - 1e-9
    assert run.minutes >= dips * (dip + handling) + (dips - 1) * air - 1e-9
