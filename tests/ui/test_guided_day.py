"""The whole day shown to a newcomer, from the list of days and by its command."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.ui.hands import Bench, Hands

from vatside.bench.replay_desk import GuidedDesk


def said(hands: Hands, key: str) -> str:
    """What stands above the keys, without the key itself and the number of the stop."""
    rows = hands.day.key_line.rows[:-1]
    words = " ".join(" ".join(row.text for row in rows).split())
    return re.sub(r"\d+ of \d+ ?", "", words).removeprefix(f"{key} ")


SIZES = [(60, 20), (80, 24), (120, 40)]


@pytest.mark.parametrize("size", SIZES)
async def test_stop_by_stop_to_the_end(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """Each stop says its whole sentence above the keys; at the end one goes back, and nothing was written."""
    async with bench(size=size) as hands:
        await hands.until(lambda: "Samples" in hands.screen)
        await hands.press(*["down"] * 5, "enter")
        await hands.until(lambda: type(hands.app.screen).__name__ == "DayScreen")
        desk = hands.day.desk
        assert isinstance(desk, GuidedDesk)
        for stop in desk.stops:
            assert desk.stop is stop
            assert stop.words in said(hands, stop.key)
            assert "? help" in hands.screen
            await hands.press("full_stop")
        await hands.press("b")
        assert hands.app.screen is hands.app.opening
    assert not list((tmp_path / "sessions").glob("*"))


async def test_it_runs_by_itself(bench: Bench) -> None:
    """At sixty to one the first entry, 24 s into the day, is reached in under half a second, and it stands there."""
    async with bench() as hands:
        await hands.until(lambda: "Samples" in hands.screen)
        await hands.press(*["down"] * 5, "enter")
        await hands.until(lambda: type(hands.app.screen).__name__ == "DayScreen")
        await hands.press("space")
        await hands.later(0.5)
        assert "2 of " in hands.screen
        assert "stands still" in hands.screen
