"""With the stock in the tub the vat begins as planned, and what was not ticked before it is named."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import acts, commands
from vatside.bench.desk import Desk
from vatside.bench.open_day import new_day
from vatside.log.events.day import StepDone
from vatside.plan.sheet import Stage


@pytest.fixture(name="desk")
def _desk(tmp_path: Path) -> Iterator[Desk]:
    """A new day with every step of stock and vat done, but the reducer of the stock and all from the stock on."""
    desk = new_day(tmp_path, VirtualClock())
    desk.record(*(commands.acknowledge(item) for item in desk.steps if item.cautions))
    until = [step.id for step in desk.steps].index("vat.stock_in")
    made = [step.id for step in desk.steps[:until] if step.stage in (Stage.STOCK, Stage.VAT)]
    desk.record(*(StepDone(step) for step in made if step != "stock.reducer_in"))
    yield desk
    desk.keeping.close()


def stock_in(desk: Desk) -> str:
    """Tip the stock in, and say what is said."""
    return acts.do(desk, next(step for step in desk.steps if step.id == "vat.stock_in"))


def test_a_powder_that_is_not_ticked_is_named_with_the_stock(desk: Desk) -> None:
    """The account has the reducer in it, for a step is forgotten sooner than a powder; she can tell which it was."""
    said = stock_in(desk)
    assert "Not ticked, but counted as in it: Sprinkle in " in said
    assert said.endswith("of reducer.")


def test_where_all_is_ticked_nothing_is_said(desk: Desk) -> None:
    """The usual day."""
    desk.record(StepDone("stock.reducer_in"))
    assert stock_in(desk) == "Done; u takes it back."


def test_more_fibre_changes_nothing_that_is_in(desk: Desk) -> None:
    """A guest more, once the powders are in: litres, powders and their steps stay, and the sheet says what is short."""
    names = ("stock.pigment", "stock.alkali", "stock.water", "vat.alkali", "vat.fill")
    before = {name: desk.sheet[name].value for name in names}
    desk.type("lots.a.mass", "600 g")
    desk.leave()
    assert {name: desk.sheet[name].value for name in before} == pytest.approx(before, rel=0.005)
    assert any("enough for 300 g of fibre" in notice.text for notice in desk.sheet.notices)
