"""A fault in painting, in a key or in the tick of any screen: the day comes back and says so, and its alarms ring."""

from __future__ import annotations

import asyncio
import shutil
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from tests.ui.hands import PATIENCE, Bench, Hands, key_event
from tests.ui.test_every_key import WAYS, Way, from_list
from tests.ui.test_faults import broken
from textual.screen import Screen

from vatside.log.events.day import WaitStarted
from vatside.storage.places import samples_folder
from vatside.ui.day.screen import DayScreen
from vatside.ui.guard import TRY_AGAIN
from vatside.ui.widgets.lines import Lines

SCREENS: dict[str, Way] = {
    "board": WAYS["DipScreen"],
    "vat": WAYS["VatScreen"],
    "reading": WAYS["ReadingScreen"],
    "meaning": WAYS["MeaningScreen"],
    "day line": WAYS["LineScreen"],
    "shelf": WAYS["ShelfScreen"],
    "card": from_list("g"),
    "far view": WAYS["FarScreen"],
    "replay": WAYS["DayScreen, played back"],
    "list of days": WAYS["OpeningScreen"],
}


def fail_once(node: object, name: str) -> None:
    """Break something of a node for the next time that it is asked."""

    def fails(*given: Any, **named: Any) -> Any:
        delattr(node, name)
        broken(*given, **named)

    setattr(node, name, fails)


def region_of(hands: Hands) -> Lines:
    """Give a region of the screen in front that is to be seen."""
    return next(part for part in hands.app.screen.query(Lines) if part.size.width)


def in_words(hands: Hands) -> None:
    """What asks for the words of a region."""
    region = region_of(hands)
    fail_once(region, "refill")
    region.call_later(region.refill)


def in_painting(hands: Hands) -> None:
    """What paints a line of them."""
    fail_once(region_of(hands), "render_line")
    region_of(hands).refresh()


def in_a_key(hands: Hands) -> None:
    """What a key does: F1, or where there is no help, Escape."""
    screen = hands.app.screen
    action, key = ("leave", "escape") if type(screen).__name__ in ("FarScreen", "ReadingWindow") else ("help", "f1")
    fail_once(screen, f"action_{action}")
    hands.app.post_message(key_event(key))


def in_the_tick(hands: Hands) -> None:
    """What shows the clock."""
    fail_once(hands.app.full_screens[-1], "tick")
    hands.app.call_later(hands.app.tick)


async def happened(hands: Hands, number: int) -> None:
    """Let the loop turn until so many faults are told."""
    for _ in range(PATIENCE):
        if len(hands.app.faults) >= number:
            return
        await asyncio.sleep(0.001)
    pytest.fail("no fault came about")


def is_gone(hands: Hands, screen: Screen[Any]) -> bool:
    """Tell whether another screen is in front: one that fails in painting must not be looked at."""
    return hands.app.screen is not screen


@pytest.fixture(name="day")
def _day(tmp_path: Path) -> Path:
    """Two sample days in a folder."""
    folder = tmp_path / "sessions"
    folder.mkdir()
    for sample in sorted(samples_folder().glob("*.json")):
        shutil.copy(sample, folder)
    return folder / "at-the-stove.json"


@pytest.mark.painted
@pytest.mark.parametrize("name", SCREENS)
async def test_the_day_comes_back(
    bench: Bench, day: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:  # fmt: skip
    """Each fault takes its screen alone."""
    monkeypatch.setattr("vatside.ui.guard.TRY_AGAIN", 99)  # a test makes in a second what no day sees in a year
    monkeypatch.setattr("vatside.ui.guard.GIVE_UP", 99)
    painting = in_words if list(SCREENS).index(name) % 2 else in_painting  # each takes a second: half of them one way
    faults = (painting, in_a_key, in_the_tick)
    async with bench(size=(120, 40), file=day, faults=len(faults)) as hands:
        hands.desk.record(WaitStarted("own", None, "Tea", 1))
        rung: list[bool] = []
        hands.app.bell = lambda: rung.append(True)  # type: ignore[method-assign]
        for number, fault in enumerate(faults, 1):
            await SCREENS[name](hands)
            stood = hands.app.screen
            fault(hands)
            await happened(hands, number)
            await hands.until(partial(is_gone, hands, stood))
            await hands.until(
                lambda: isinstance(hands.app.screen, DayScreen) and "Something went wrong" in hands.screen
            )
            assert hands.day.desk is hands.desk
            assert str(tmp_path / "errors.txt") in "".join(hands.screen.split())
            rung.clear()
            await hands.long_later(2)
            assert rung, fault
            await hands.press("escape", "q")
            assert hands.kinds[-1] == "alarm_quieted", fault
            hands.desk.record(WaitStarted(f"own {number}", None, "Tea", 1))


async def test_a_list_of_days_that_never_stands_leaves_the_day_alone(
    bench: Bench, day: Path, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    """Whoever goes to it is back at the day; the list that takes its place is read no sooner than it is gone to."""
    async with bench(size=(120, 40), file=day, faults=1) as hands:
        monkeypatch.setattr("vatside.ui.opening.rows.shelf_rows", broken)
        await hands.press("escape", "b")
        await hands.until(lambda: isinstance(hands.app.screen, DayScreen) and "Something went wrong" in hands.screen)
        await hands.press("n", *"still here", "enter")
        assert hands.kinds[-1] == "note_written"
        assert len(hands.app.faults) <= TRY_AGAIN
        del hands.app.faults[1:]  # the rows of the list that failed may be asked for once more before it is gone


async def test_a_far_view_that_never_stands_leaves_the_day_alone(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    """It comes up by itself for an alarm; where it cannot, it is not tried again at each look at the clock."""
    async with bench(size=(120, 40), faults=1) as hands:
        await hands.new_day()
        await hands.press("escape")
        monkeypatch.setattr("vatside.ui.day.far_view.far_rows", broken)
        hands.desk.record(WaitStarted("own", None, "Tea", 1))
        await hands.later(200)
        assert "Something went wrong" in hands.screen
        for _ in range(9):
            await hands.later(1)
        assert isinstance(hands.app.screen, DayScreen)
