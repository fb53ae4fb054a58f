"""What the dyer wants, as events."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.plan.plans import plan_with, wool_plan

from vatside.bench import acts
from vatside.bench.commands import change, planned, put
from vatside.bench.open_day import new_day
from vatside.bench.undo import take_back
from vatside.forms.fields import field, written
from vatside.log.events.day import LotRemoved, PiecesWeighed, PinCleared, PinSet, PlanChanged
from vatside.recipe.compute import compute
from vatside.units import Amount, Problem


@pytest.mark.parametrize(
    ("now", "wanted"),
    [
        (datetime(2026, 5, 1, 10, 34), "2026-05-02T10:00"),  # past for today
        (datetime(2026, 5, 2, 6, 0), "2026-05-02T10:00"),
    ],
)
def test_a_bare_hour_means_the_next_time_it_comes_round(now: datetime, wanted: str) -> None:
    """`10:00` typed in the evening is tomorrow's."""
    assert change(wool_plan(), "ready_by", "10:00", now) == PlanChanged("ready_by", wanted)


@pytest.mark.parametrize(("text", "value"), [("2026-05-01 10:00", "2026-05-01T10:00"), ("", None)])
def test_a_dated_or_open_hour_stays(text: str, value: str | None) -> None:
    """What has a date, or no hour at all, is left alone."""
    assert change(wool_plan(), "ready_by", text, datetime(2026, 6, 1)) == PlanChanged("ready_by", value)


def test_a_depth_can_be_said_in_a_word() -> None:
    """`medium` is 0.8 % on the fibre."""
    assert change(wool_plan(), "lots.a.depth", "Medium") == PlanChanged("lots.a.depth", Amount(0.8, "%"))


@pytest.mark.parametrize(
    ("path", "value", "event"),
    [
        ("water.hot", Amount(50, "degC"), PlanChanged("water.hot", Amount(50, "degC"))),
        ("stock.pigment", Amount(4, "tsp"), PinSet("stock.pigment", Amount(4, "tsp"))),
        ("stock.pigment", None, PinCleared("stock.pigment")),
    ],
)
def test_a_value_goes_where_its_path_says(path: str, value: Amount | None, event: object) -> None:
    """A place of the plan is changed, a figure is held or freed."""
    assert put(path, value) == event


def test_a_depth_keeps_its_word_beside_the_number() -> None:
    """Written so it is read so; a number that has no word stands alone, and a changed number wins over the word."""
    plan, row = wool_plan(), field(wool_plan(), "lots.a.depth")
    named, bare = (plan_with(plan, lots__a__depth=text) for text in ("0.8 %", "0.9 %"))
    assert [written(one, row) for one in (named, bare)] == ["medium, 0.8 %", "0.9 %"]
    assert change(bare, row.path, "medium, 0.8 %") == PlanChanged(row.path, Amount(0.8, "%"))
    assert change(named, row.path, "medium, 0.7 %") == PlanChanged(row.path, Amount(0.7, "%"))


def test_a_weight_counted_in_pieces_sets_the_pieces() -> None:
    """`10x100` are ten pieces and a kilogram; half a pound and once a hundred grams say nothing of pieces."""
    event = change(wool_plan(), "lots.a.mass", "10x100")
    assert event == PiecesWeighed("lots.a.mass", Amount(1000, "g"), 10)
    assert planned(wool_plan(), event).lots[0].pieces == 10
    assert change(wool_plan(), "lots.a.mass", "1 x 100 g") == PlanChanged("lots.a.mass", Amount(100, "g"))


def test_one_undo_takes_back_weight_and_pieces(tmp_path: Path) -> None:
    """Typed letter by letter, logged once, folded as shown, and taken back as one act."""
    desk = new_day(tmp_path, VirtualClock())
    first = desk.plan
    for typed in ("1", "10", "10x", "10x1", "10x10", "10x100"):
        desk.type("lots.a.mass", typed)
    assert desk.plan.lots[0].pieces == 10
    desk.type("lots.a.mass", "100")
    assert desk.plan.lots[0].pieces == first.lots[0].pieces
    desk.type("lots.a.mass", "10x100")
    desk.leave()
    assert desk.state.plan == desk.plan
    assert take_back(desk).endswith("dry weight set to 1000 g, 10 pieces")
    assert desk.plan == first
    desk.keeping.close()


def test_no_name_is_left_without_a_piece_unsaid() -> None:
    """Who has none is told as long as there are fewer pieces than names; with a piece for each nothing is said."""
    plan = plan_with(wool_plan(), lots__a__pieces="3", lots__a__names="Asha, Ben, Kim")
    fewer = plan_with(plan, lots__a__pieces="2")
    told = [[notice.text for notice in compute(one).notices if "Kim" in notice.text] for one in (plan, fewer)]
    assert told == [[], ["Wool skeins: 3 names for 2 pieces, so there is none for Kim."]]


def test_more_pieces_than_a_lot_can_have_are_refused() -> None:
    """A weight of thousands of pieces is a slip of the keyboard, as it is in the pieces themselves."""
    refused = change(wool_plan(), "lots.a.mass", "5000 x 1 g")
    assert isinstance(refused, Problem)
    assert refused.text.startswith("Pieces: 5000 cannot be")


def test_a_refused_text_goes_with_its_row(tmp_path: Path) -> None:
    """A share of “no”, then no second fibre; a mass of “x” of a lot that is taken out: nothing is said of them."""
    desk = new_day(tmp_path, VirtualClock())
    lot = acts.add_lot(desk)
    for path, text in (("lots.a.second", "silk"), ("lots.a.second_share", "no"), (f"lots.{lot}.mass", "x")):
        desk.type(path, text)
    assert len(desk.wrong) == 2
    desk.type("lots.a.second", "")
    assert list(desk.wrong) == [f"lots.{lot}.mass"]
    desk.record(LotRemoved(lot))
    assert desk.wrong == {}
    desk.keeping.close()
