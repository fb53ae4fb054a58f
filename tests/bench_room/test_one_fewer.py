"""One piece that stays away: what it makes of the dips is said."""

from pathlib import Path

from tests.clocks.virtual_clock import VirtualClock
from tests.dayline.test_need import plan_of

from vatside.bench.day_places import one_fewer, take_one_out
from vatside.bench.open_day import new_day
from vatside.bench.undo import take_back
from vatside.log.events.vat import DipStarted
from vatside.plan.paths import set_value


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


def test_of_pieces_that_bear_names_the_one_who_is_not_there_goes(tmp_path: Path) -> None:
    """Ben stays at home: his name goes with his piece, nobody else's does, and one undo brings him back."""
    plan = set_value(plan_of("wool, 400 g, 4 pieces, pale"), "lots.a.names", "Asha, Ben, Cleo, Dov")
    desk = new_day(tmp_path, VirtualClock(), plan)
    (ben,) = [each for each in one_fewer(desk) if each.label == "Ben"]
    assert take_one_out(desk, ben) == "Wool without Ben: 3 pieces, 300 g; u takes it back."
    assert sorted(desk.plan.lots[0].names) == ["Asha", "Cleo", "Dov"]
    take_back(desk)
    assert desk.plan == plan


def test_who_was_in_the_vat_cannot_stay_away(tmp_path: Path) -> None:
    """A piece that was in is there: the others keep their names and dips."""
    plan = set_value(plan_of("wool, 400 g, 4 pieces, pale"), "lots.a.names", "Asha, Ben, Cleo, Dov")
    desk = new_day(tmp_path, VirtualClock(), plan)
    desk.record(DipStarted("a.1", 5.0))
    assert [each.label for each in one_fewer(desk)] == ["Ben", "Cleo", "Dov"]
    take_one_out(desk, one_fewer(desk)[0])
    assert desk.plan.lots[0].names == ("Asha", "Dov", "Cleo")
