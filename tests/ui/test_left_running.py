"""A wait of a scour that the plan no longer has: its pot may be hot, so it rings on, and its end is asked for."""

from __future__ import annotations

import pytest
from tests.ui.hands import Bench

from vatside.log.events.day import PlanChanged, WaitStarted


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
