"""A bench to stand at: the app without a terminal, and a clock that goes only when told to."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.ui.asked_once import ask_once
from tests.ui.hands import Bench, Hands
from tests.ui.styles_once import style_once
from textual._compositor import Compositor
from textual._context import visible_screen_stack
from textual.screen import Screen

from vatside.storage.files import Fs
from vatside.storage.places import themes_folder
from vatside.ui.app import VatsideApp
from vatside.ui.opening.rows import REPLAY, SAVED
from vatside.ui.theme.choice import Looks

style_once()
ask_once()


@pytest.fixture(autouse=True)
def _true_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    """Show all colours, whatever the terminal that the tests run in can do."""
    monkeypatch.setattr("textual.constants.COLOR_SYSTEM", "truecolor")


@pytest.fixture(name="unseen", autouse=True)
def _unseen(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave out frames that no terminal shows, a third of all the time: `Hands.screen` paints whole what is looked at.

    A test marked `painted` paints every frame as in a terminal.
    """
    if request.node.get_closest_marker("painted") is None:
        monkeypatch.setattr(Compositor, "render_update", _nothing_shown)


@pytest.fixture(name="unsynced", autouse=True)
def _unsynced(monkeypatch: pytest.MonkeyPatch) -> None:
    """Wait for no disk: what a cut of the power leaves there is a fact of `tests/storage`."""
    monkeypatch.setattr(Fs, "sync", lambda fs, fd: None)
    monkeypatch.setattr(Fs, "sync_folder", lambda fs, folder: None)


@pytest.fixture(name="unlaid", autouse=True)
def _unlaid(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Lay no day line beside a day's screen, which at each event takes more than all that a test looks at.

    A test marked `laid` has it, and whoever goes to the day line itself.
    """
    if request.node.get_closest_marker("laid") is None:
        monkeypatch.setattr("vatside.ui.line.beside.ROOM", (9_999, 9_999))
        monkeypatch.setattr("vatside.ui.line.beside.QUIET_S", NEVER_S)


def _nothing_shown(compositor: Compositor, *, screen_stack: list[Screen[Any]] | None = None) -> None:
    visible_screen_stack.set(screen_stack or [])  # whoever looks sees what stands behind a window
    compositor._dirty_regions.clear()


NEVER_S = 1e6
"""Seconds that no test takes."""


@pytest.fixture(name="bench")
def _bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Bench:
    """Open the app on a folder of its own; it looks at the clock when a test says so, however slow the machine is."""
    monkeypatch.setattr("vatside.ui.app.EVERY", NEVER_S)
    monkeypatch.setattr("vatside.ui.widgets.entry.ONE_WORD", NEVER_S)  # keys come slowly where others are at work

    @asynccontextmanager
    async def opened(
        size: tuple[int, int] = (80, 24),
        file: Path | None = None,
        clock: VirtualClock | None = None,
        folder: Path | None = None,
        replay: bool = False,
        faults: int = 0,
    ) -> AsyncIterator[Hands]:
        clock = clock or VirtualClock()
        first = REPLAY if replay else SAVED
        app = VatsideApp(file, clock, folder or tmp_path / "sessions", looks=Looks([themes_folder()]), first=first)
        async with app.run_test(size=size) as pilot:
            hands = Hands(app, pilot, clock)
            wanted = "DayScreen" if file else "OpeningScreen"
            await hands.until(lambda: type(app.screen).__name__ == wanted or (file is not None and bool(app.desk)))
            await hands.settle()
            yield hands
        assert len(app.faults) == faults, app.faults

    return opened
