"""A wait whose bath or stock is gone: its pot may be hot, so it rings on, and its end is asked for."""

from __future__ import annotations

import pytest
from tests.ui.hands import Bench

from vatside.log.events.day import PlanChanged, StepDone, WaitStarted


@pytest.mark.parametrize("condition", ["clean", "ready scoured"])
async def test_a_scour_that_is_no_more_is_asked_to_be_ended(bench: Bench, condition: str) -> None:
    """Once the cloth is said to be ready scoured its bath's wait is named; ended, nothing is said any more."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        lot = hands.desk.plan.lots[0].id
        hands.desk.record(PlanChanged(f"lots.{lot}.fibre", "cotton"))
        hands.desk.record(WaitStarted("w1", "scour.cotton.hold", "Scour cotton", 60))
        hands.desk.record(PlanChanged(f"lots.{lot}.condition", condition))

        def named() -> bool:
            return any("“Scour cotton” still runs" in notice.text for notice in hands.desk.notices)

        assert named() is (condition == "ready scoured")
        assert [wait.id for wait in hands.desk.state.waits] == ["w1"]
        await hands.press("escape")
        await hands.settle()
        await hands.press("1", "e")
        assert not hands.desk.state.waits
        assert not named()


async def test_a_stock_rest_is_asked_to_be_ended_once_the_stock_is_in_the_vat(bench: Bench) -> None:
    """A rest that nobody ended rings on beside the vat that its stock went into; ended, nothing is said any more."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        hands.desk.record(WaitStarted("w1", "stock.hold_warm", "Stock rest", 60))

        def named() -> bool:
            return any("“Stock rest” still runs" in notice.text for notice in hands.desk.notices)

        assert not named()
        hands.desk.record(StepDone("vat.stock_in"))
        assert named()
        await hands.press("escape")
        await hands.settle()
        await hands.press("1", "e")
        assert not hands.desk.state.waits
        assert not named()
