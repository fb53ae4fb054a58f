"""Pieces in turn and how long a lot takes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.recipe.plans import plan_with
from vatside.recipe.turns import in_turn, throughput

from vatside.recipe.compute import compute


@pytest.mark.parametrize(
    ("air", "dip", "pieces"), [(15, 5, 4), (10, 5, 3), (14, 5, 3), (5, 10, 1), (0, 5, 1), (15, 0, 1)]
)
def test_pieces_in_turn(air: float, dip: float, pieces: int) -> None:
    """Air ÷ dip, rounded down, and one more: 15 min air and 5 min dip keep four pieces going."""
    assert in_turn(air, dip) == pieces


def test_one_piece_by_hand() -> None:
    """Three dips of 5 min with 1 min handling and 15 min air between: 3 x 6 + 2 x 15 = 48 min."""
    run = throughput([3] * 1, 1, 5, 15, 1)
    assert run.minutes == 48
    assert run.waits_for == "air"


def test_enough_pieces_keep_the_vat_busy() -> None:
    """Four pieces, three dips, 5 min dip, no handling, 15 min air: 12 x 5 = 60 min without a pause."""
    run = throughput([3] * 4, 1, 5, 15, 0)
    assert run.minutes == run.busy == 60
    assert run.waits_for == "vat"


def test_pieces_out_of_step_by_hand() -> None:
    """Two in turn with two dips left each, then one with eight; 10 min dip, no handling, 15 min air.

    2 + 2 + 8 = 12 entries. The two: each round 10 + 15 = 25 min, 50 min; the third: 7 x 25 + 10 = 185 min.
    """
    run = throughput([2, 2, 8], 1, 10, 15, 0)
    assert (run.entries, run.minutes) == (12, 50 + 185)


def test_a_piece_drops_out_of_its_turn() -> None:
    """Four in turn, 5 min dip and 15 min air; one stops after the first round: 20 + 20 + 3 x 5 = 55 min, 10 entries."""
    run = throughput([3, 1, 3, 3], 1, 5, 15, 0)
    assert (run.entries, run.minutes) == (10, 55)


def test_a_group_goes_in_as_often_as_any_of_its_pieces() -> None:
    """Two at once, the first with nothing to come: the next two make a group of three dips, the last is alone."""
    assert throughput([0, 2, 3, 1], 2, 5, 15, 0).entries == 3 + 1


def test_no_dips_take_no_time() -> None:
    """A lot that is not dipped takes no time and no entry."""
    assert throughput([0] * 5, 2, 5, 15, 1).minutes == throughput([0] * 5, 2, 5, 15, 1).entries == 0


@given(
    st.integers(1, 60), st.integers(1, 10), st.integers(1, 20), st.floats(0.5, 30), st.floats(1, 60), st.floats(0, 3)
)
def test_a_run_is_never_shorter_than_vat_or_air_allow(
    pieces: int, at_once: int, dips: int, dip: float, air: float, handling: float
) -> None:
    """Neither the vat's own time nor one piece's dips and airings can be undercut."""
    run = throughput([dips] * pieces, at_once, dip, air, handling)
    assert run.minutes >= run.busy - 1e-9
    assert run.minutes >= dips * (dip + handling) + (dips - 1) * air - 1e-9


class TestClass:
    """Ten people with 100 g of cotton each, medium at 1 %, in a vat of 15 L that takes five pieces at an entry."""

    run = throughput([4] * 10, 5, 5, 15, 1)

    def test_vat_time_by_hand(self) -> None:
        """4 dips x 2 groups x (5 + 1) min = 48 min of vat time."""
        assert self.run.groups == 2
        assert self.run.entries == 8
        assert self.run.busy == 48

    def test_air_is_the_bottleneck(self) -> None:
        """While the other group dips each airs 6 min, too short for 15: the vat waits for the air."""
        assert throughput([4] * 10, 5, 5, 6, 1).waits_for == "vat"
        assert self.run.waits_for == "air"

    def test_the_least_time_by_hand(self) -> None:
        """Three turns of 5 + 1 + 15 = 21 min, then both groups once more: 63 + 12 = 75 min."""
        assert self.run.minutes == 75

    def test_it_lies_between_the_vat_alone_and_pauses_after_each_entry(self) -> None:
        """With a pause of 5 min after each of the eight entries it would take 8 x (6 + 5) = 88 min, about 90."""
        assert 48 < self.run.minutes < 8 * (6 + 5)

    def test_the_sheet_says_the_same(self) -> None:
        """14.3 g of indigotin, 36 g of powder, five at once, eight entries, and with one short rest about 90 min."""
        sheet = compute(
            plan_with(
                lots__a__fibre="cotton", lots__a__mass="1 kg", lots__a__pieces="10", lots__a__depth="1 %",
                vat__fill="15.66 L", vat__entry="500 g", dip__a__dips="4", dip__a__dip="5 min", dip__a__air="15 min",
            )
        )  # fmt: skip
        # What the scour takes off the cotton is taken off the dye as well.
        assert sheet["stock.wanted"].value == pytest.approx(14.3, rel=0.06)
        assert sheet["stock.pigment"].value == pytest.approx(36, rel=0.06)
        assert sheet["vat.liquor"].value == pytest.approx(15.3, rel=0.03)
        assert sheet["dip.a.at_once"].value == 5
        assert sheet["dip.all_entries"].value == 8
        assert sheet["dip.minutes"].value == 75 + 12
