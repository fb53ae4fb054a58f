"""What comes after the dips asks about dips that nobody wrote down, once, and writes them down where they were done."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import acts, commands, dip_acts
from vatside.bench.desk import Desk, Held
from vatside.bench.open_day import new_day
from vatside.bench.undo import take_back
from vatside.dayline.day_steps import ROTATE
from vatside.dayline.steps import Step
from vatside.log.events.day import LotAdded, PlanChanged
from vatside.log.events.vat import LotDipped, PieceDone, VatMade
from vatside.log.state import happened


@pytest.fixture(name="desk")
def _desk(tmp_path: Path) -> Iterator[Desk]:
    desk = new_day(tmp_path, VirtualClock())
    desk.record(PlanChanged("lots.a.fibre", "linen"), VatMade())
    desk.record(*(commands.acknowledge(item) for item in desk.steps if item.cautions))
    yield desk
    desk.keeping.close()


AIR, RINSE, WATER = "finish.linen.air", "finish.linen.rinse", "finish.linen.wash_water"


def step_of(desk: Desk, name: str) -> Step:
    """Give a step of the day."""
    return next(step for step in desk.steps if step.id == name)


def asked(desk: Desk, name: str) -> Held | None:
    """Do a step; give what was asked first."""
    try:
        acts.do(desk, step_of(desk, name))
    except Held as held:
        return held
    return None


def yes(desk: Desk, held: Held, name: str) -> str:
    """Say that it was so, and do it again."""
    desk.all_the_same = tuple(item.answer for item in held.asked)  # type: ignore[union-attr]
    try:
        return acts.do(desk, step_of(desk, name))
    finally:
        desk.all_the_same = ()


@pytest.mark.parametrize("step", [AIR, RINSE, ROTATE])
def test_nobody_ticks_past_dips_that_were_never_written_down(desk: Desk, step: str) -> None:
    """Hung for its last airing, rinsed, or the dips ticked: it says that no dip of the lot is written down."""
    held = asked(desk, step)
    assert held is not None
    assert "No dip of Linen napkins is written down" in str(held)
    assert step not in desk.state.done


def test_the_wash_water_may_be_warmed_before_the_dips(desk: Desk) -> None:
    """It stands ready whatever was dipped."""
    assert asked(desk, WATER) is None


def test_dipped_without_the_board_its_dips_are_written_down_as_planned(desk: Desk) -> None:
    """One yes: as many dips of each piece as the sheet has, their dye out of the vat, and no second question."""
    held = asked(desk, AIR)
    assert held is not None
    planned, account = desk.sheet.value("dip.a.dips"), desk.state.tending.account
    yes(desk, held, AIR)
    dips = [entry.event for entry in happened(desk.state, LotDipped)]
    left = desk.state.tending.account
    assert len(dips) == planned
    assert account is not None
    assert left is not None
    assert left.indigotin_g < account.indigotin_g
    assert "No dip" not in str(asked(desk, RINSE))


def test_one_undo_takes_back_the_step_and_its_dips(desk: Desk) -> None:
    """They were one act."""
    held = asked(desk, RINSE)
    assert held is not None
    yes(desk, held, RINSE)
    take_back(desk)
    assert RINSE not in desk.state.done
    assert not happened(desk.state, LotDipped)


def test_pieces_said_to_be_done_ask_nothing(desk: Desk) -> None:
    """Who ended them on the board has said how it stands."""
    pieces = [line.row.piece for line in dip_acts.board(desk, desk.clock.now()).lines]
    desk.record(*(PieceDone(piece) for piece in pieces))
    assert asked(desk, AIR) is None


def test_without_a_vat_it_goes_on_and_writes_no_dips(tmp_path: Path) -> None:
    """There is nothing that dips could come out of."""
    desk = new_day(tmp_path, VirtualClock())
    desk.record(PlanChanged("lots.a.fibre", "linen"))
    desk.record(*(commands.acknowledge(item) for item in desk.steps if item.cautions))
    held = asked(desk, RINSE)
    assert held is not None
    assert "no vat is written down" in held.asked[0].block.instead  # type: ignore[union-attr]
    yes(desk, held, RINSE)
    assert RINSE in desk.state.done
    assert not happened(desk.state, LotDipped)
    desk.keeping.close()


def test_only_the_lot_that_was_never_in_is_asked_about(desk: Desk) -> None:
    """Of two fibres the one that was dipped goes on."""
    cotton = evolve(desk.state.plan.lots[0], id="b", name="Scarf", fibre="cotton")
    desk.record(LotAdded(cotton), LotDipped("b", 1, 5.0))
    assert asked(desk, "finish.cotton.rinse") is None
    assert asked(desk, RINSE) is not None
