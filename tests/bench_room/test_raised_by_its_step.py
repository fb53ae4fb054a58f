"""The lye between silk and cotton is in the vat once its step is ticked; account and shelf count it once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.days.test_parted_dips import both

from vatside.bench import acts, commands, dip_acts, undo
from vatside.bench.desk import Desk
from vatside.bench.open_day import new_day
from vatside.dayline.steps import Step
from vatside.days.done import added
from vatside.log.events.vat import DipEnded, DipStarted, VatMade
from vatside.outlook import dip_board
from vatside.vat.account import Account, predict


@pytest.fixture(name="desk")
def _desk(tmp_path: Path) -> Iterator[Desk]:
    """A vat for silk and cotton, as it was made."""
    desk = new_day(tmp_path, VirtualClock(), both())
    desk.record(*(commands.acknowledge(item) for item in desk.steps if item.cautions))
    desk.record(VatMade())
    yield desk
    desk.keeping.close()


def raising(desk: Desk) -> Step:
    """Give the step between the two."""
    return next(step for step in desk.steps if step.id == "dip.protein_first")


def vat(desk: Desk) -> Account:
    """Give the account, which is there."""
    assert desk.state.tending.account is not None
    return desk.state.tending.account


def test_the_last_silk_that_is_done_ticks_its_dips(desk: Desk) -> None:
    """What is raised for the cotton does not say that the silk is still to be dipped; one undo takes both back."""
    for piece in [item.id for item in dip_board.pieces_of(desk.state, desk.sheet) if not item.phase]:
        assert "dip.gentle" not in desk.state.done
        desk.record(DipStarted(piece, 10), DipEnded(piece, 3))
        dip_acts.done_or_back(desk, piece, desk.clock.now())
    assert "dip.gentle" in desk.state.done
    undo.take_back(desk)
    assert "dip.gentle" not in desk.state.done


def test_its_lye_is_in_the_account(desk: Desk) -> None:
    """As much as the step says, and the pH with it: the cotton finds what it was raised to."""
    before, grams = vat(desk), desk.sheet["dip.alkali"].value
    acts.do(desk, raising(desk))
    assert predict(vat(desk)).pH > predict(before).pH + 0.5
    [used] = [one for one in added(desk.keeping.session) if one.use.material == "lye"]
    assert used.use.grams == pytest.approx(grams)


def test_opened_again_it_is_not(desk: Desk) -> None:
    """The step taken back takes its lye back."""
    before = vat(desk)
    acts.do(desk, raising(desk))
    acts.do(desk, raising(desk))
    assert predict(vat(desk)).pH == pytest.approx(predict(before).pH, abs=0.01)
