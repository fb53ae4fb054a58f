"""The board was kept and no step ticked: what the dips and the end of the vat leave to do, on every screen."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, timedelta
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import vat_acts
from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.glance import next_of_day, next_step
from vatside.bench.open_day import new_day
from vatside.dayline.day_steps import ROTATE
from vatside.dayline.day_words import deeds
from vatside.days.class_card import Handout, handout
from vatside.log.events.day import LotAdded, PinSet, PlanChanged, StepDone, WaitStarted
from vatside.log.events.vat import DipEnded, DipStarted, LotDipped, PieceDone, VatLetGo, VatMade, VatSpent
from vatside.outlook.hand_acts import Scene
from vatside.outlook.interlocks import asked
from vatside.plan.sheet import Stage
from vatside.plan.starter import new_lot
from vatside.ui.day.step_list import day_rows
from vatside.ui.text.head_rows import stage_views
from vatside.ui.text.rows import UNICODE
from vatside.units import Amount

AIR, COVER, DIP_MIN = "finish.linen.air", "dip.cover", 5.0


@pytest.fixture(name="desk")
def _desk(tmp_path: Path) -> Iterator[Desk]:
    """Two loads of linen, of one piece more than one, and a vat that is not kept."""
    desk = new_day(tmp_path, VirtualClock())
    desk.record(PlanChanged("lots.a.fibre", "linen"), PinSet("finish.keep", Amount(0, "min")), VatMade())
    yield desk
    desk.keeping.close()


def dip(desk: Desk, *lots: str) -> None:
    """Let every piece of some lots, or of all, have one dip, and tick nothing."""
    for lot in desk.plan.lots:
        for number in range(1, lot.pieces + 1) if lot.id in lots or not lots else ():
            desk.record(DipStarted(f"{lot.id}.{number}", DIP_MIN))
            desk.clock.advance(DIP_MIN * 60)  # type: ignore[attr-defined]
            desk.record(DipEnded(f"{lot.id}.{number}", 10.0))


def end(desk: Desk) -> None:
    """Have all pieces of the board done."""
    desk.record(*(PieceDone(piece) for piece in desk.state.dipping.pieces))


def next_on_screen(desk: Desk) -> str:
    """Give what the head and the far view of the day name."""
    now = desk.clock.now()
    step = next_of_day(desk.steps, desk.glance(now).progress, line_of(desk).order(now))
    return step.id if step else ""


def on_line(desk: Desk) -> list[str]:
    """Give the steps that the day line has still to come."""
    day = line_of(desk).seen(desk.clock.now()).day
    return [deed.step.id for deed in deeds(day)] if day else []


def card(desk: Desk) -> Handout:
    """Give the class card as it is now."""
    return handout(desk.state, 1, desk.clock.now().utc, UTC, 1)


def test_nothing_before_the_dips_is_next_once_a_piece_was_in(desk: Desk) -> None:
    """Scour, stock and vat ask for nothing, and of the dips the board comes next, on screen and line."""
    dip(desk)
    progress = desk.glance(desk.clock.now()).progress
    for stage in (Stage.SCOUR, Stage.STOCK, Stage.VAT):
        assert next_step(desk.steps_in(stage), progress) is None
    assert next_on_screen(desk) == ROTATE
    assert on_line(desk)[0] == ROTATE


def test_the_vat_is_covered_next_once_every_piece_is_through(desk: Desk) -> None:
    """Nobody ticks dips that the board has counted."""
    dip(desk)
    end(desk)
    assert next_on_screen(desk) == COVER
    assert {COVER, AIR} <= set(on_line(desk))


def test_of_a_vat_that_is_gone_only_the_finish_is_next(desk: Desk) -> None:
    """Spent and let go with a lot that never went in: nothing is kept wet, dipped or covered any more."""
    desk.record(LotAdded(new_lot(desk.plan)))
    dip(desk, "a")
    desk.record(VatSpent(), VatLetGo(Amount(4, "L"), None, "", None, None, "as the water company said"))
    assert next_on_screen(desk) == AIR
    assert not [step for step in on_line(desk) if not step.startswith("finish.")]


def test_the_card_of_such_a_day_has_no_hours_that_nobody_kept(desk: Desk) -> None:
    """The dips stand where they were, ticked; what was never ticked has no hour, and nothing stands behind the end."""
    dip(desk)
    end(desk)
    vat_acts.let_go(desk, "as the water company said")
    rows = card(desk).times
    assert rows[0].text.startswith("Dip and air")
    assert rows[0].done
    assert [row.text for row in rows if not row.at] == []
    assert rows[-1].text.startswith("All done")
    assert not any("wet" in row.text.lower() and "dry" not in row.text for row in rows)


def test_a_step_that_was_passed_over_is_still_next(desk: Desk) -> None:
    """The reducer ticked without the lye before it makes no lye pointless."""
    desk.record(StepDone("stock.reducer_in"))
    assert (
        next_step(desk.steps_in(Stage.STOCK), desk.glance(desk.clock.now()).progress) == desk.steps_in(Stage.STOCK)[0]
    )


def test_what_one_undo_takes_back_is_to_do_again(desk: Desk) -> None:
    """Nothing of it stands in the log: with the dip goes what it made pointless."""
    from vatside.bench.undo import take_back

    first = next_on_screen(desk)
    desk.record(DipStarted("a.1", DIP_MIN))
    assert next_on_screen(desk) != first
    take_back(desk)
    assert next_on_screen(desk) == first


def test_a_load_that_still_simmers_comes_out_of_its_pot(desk: Desk) -> None:
    """Of a scour of several loads a piece of the first was in: those begun stay to do until all pieces have been."""
    desk.record(PlanChanged("lots.a.mass", Amount(2, "kg")))
    load = [step.id for step in desk.steps if step.id.startswith("scour.linen.fill.")]
    assert len(load) > 1
    desk.record(WaitStarted("w", "scour.linen.heat.3", "Heat", 20.0))
    desk.record(DipStarted("a.1", DIP_MIN))
    assert "scour.linen.rinse.2" not in desk.passed
    assert "scour.linen.rinse.2" in on_line(desk)


def test_dips_written_down_for_a_lot_are_dips(desk: Desk) -> None:
    """Dipped without the board: the day line lays none of them again."""
    lot, dips = desk.plan.lots[0], round(desk.sheet.value("dip.a.dips"))
    desk.record(*[LotDipped("a", lot.pieces, DIP_MIN)] * dips)
    assert ROTATE not in on_line(desk)
    assert next_on_screen(desk) == COVER


def test_between_wool_and_cotton_the_ph_is_still_to_be_raised(desk: Desk) -> None:
    """All wool is done, no cotton was in: the step between them stands on the line before the next round."""
    desk.record(LotAdded(new_lot(desk.plan)), PlanChanged("lots.a.fibre", "wool"))
    other = desk.plan.lots[1].id
    desk.record(PlanChanged(f"lots.{other}.fibre", "cotton"))
    dip(desk, "a")
    end(desk)
    line = on_line(desk)
    assert line.index("dip.protein_first") < line.index(ROTATE)
    assert next_step(desk.steps_in(Stage.DIP), desk.glance(desk.clock.now()).progress).id == "dip.protein_first"  # type: ignore[union-attr]


def test_a_finished_card_says_when_was_dipped_not_how_long_it_would_take(desk: Desk) -> None:
    """From the first piece in to the last one out; each piece had one dip, so nothing is said of air between two."""
    began = desk.clock.now().utc
    dip(desk)
    desk.clock.advance(3 * 3600)  # type: ignore[attr-defined]
    end(desk)
    found = card(desk)
    minutes = DIP_MIN * sum(lot.pieces for lot in desk.plan.lots)
    assert found.dipping == f"dipped from {began:%H:%M} to {began + timedelta(minutes=minutes):%H:%M}"
    assert [line.air for line in found.dips] == [""]


def test_nothing_unticked_is_said_to_be_done(desk: Desk) -> None:
    """Scour, stock and vat are over without a tick: no ✓ on their stages, in the head or on the list of the day."""
    dip(desk)
    progress = desk.glance(desk.clock.now()).progress
    views = stage_views(desk.stages(), desk.steps, progress.done, (), progress.passed)
    assert [view.stage for view in views if view.finished and not view.passed] == []
    day = line_of(desk).seen(desk.clock.now()).day
    rows = day_rows(desk.steps, tuple(progress.done), day, 60, UNICODE, passed=progress.passed)
    assert not any(UNICODE.done in row.text for row in rows)


def test_one_answer_whether_a_vat_stands_there(tmp_path: Path) -> None:
    """A piece went in all the same: the board asks no second time, and the head says nothing of a vat being ready."""
    desk = new_day(tmp_path, VirtualClock())
    scene = Scene(desk.state, desk.sheet, desk.steps, desk.clock.now())
    assert any("No vat stands there" in f"{item}" for item in asked(scene, (DipStarted("a.1", DIP_MIN),)))
    desk.record(DipStarted("a.1", DIP_MIN))
    scene = Scene(desk.state, desk.sheet, desk.steps, desk.clock.now())
    assert not any("No vat stands there" in f"{item}" for item in asked(scene, (DipStarted("a.2", DIP_MIN),)))
    assert not desk.is_made
    desk.keeping.close()
