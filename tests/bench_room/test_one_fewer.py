"""One piece that stays away: what it makes of the dips is said."""

from pathlib import Path

from tests.clocks.virtual_clock import VirtualClock
from tests.dayline.test_need import plan_of

from vatside.bench.day_places import one_fewer, take_one_out
from vatside.bench.open_day import new_day


def test_a_piece_fewer_that_costs_a_dip_is_told_so(tmp_path: Path) -> None:
    """The vat holds less dye in as much water: the cotton that stays takes one dip more, and the day may end later."""
    desk = new_day(tmp_path, VirtualClock(), plan_of("cotton, 500 g, 5 pieces, medium", "wool, 500 g, 4 pieces, dark"))
    lot = desk.plan.lots[0].id
    before = desk.sheet.value(f"dip.{lot}.dips")
    said = take_one_out(desk, one_fewer(desk)[0])
    after = desk.sheet.value(f"dip.{lot}.dips")
    assert after == before + 1
    weaker = f"less dye in the vat: Cotton {after:.0f} dips, not {before:.0f}"
    assert said == f"Cotton: 4 pieces, 400 g; {weaker}; u takes it back."


def test_a_piece_fewer_that_costs_none_says_no_more_than_what_is_left(tmp_path: Path) -> None:
    """Most pieces can stay away and nobody else takes another dip for it."""
    desk = new_day(tmp_path, VirtualClock(), plan_of("wool, 300 g, 3 pieces, pale"))
    assert take_one_out(desk, one_fewer(desk)[0]) == "Wool: 2 pieces, 200 g; u takes it back."
