"""A fault of the program in one screen takes nothing else along."""

from __future__ import annotations

import stat
from pathlib import Path
from typing import Any

import pytest
from tests.ui.hands import Bench, Hands

from vatside.storage.folder import list_sessions
from vatside.ui.base.screens import ReadingWindow
from vatside.ui.day.screen import DayScreen
from vatside.ui.guard import GIVE_UP, LARGEST, TRY_AGAIN, write_down
from vatside.ui.opening.screen import OpeningScreen


def broken(*_: Any, **__: Any) -> Any:
    """Fail as only a mistake of ours can."""
    raise RuntimeError("a fault of ours")


async def with_a_wait(hands: Hands) -> None:
    """Begin a day in which a wait runs for a minute."""
    await hands.new_day()
    await hands.press("escape", "w", *"1 min", "enter")
    assert hands.desk.state.waits


async def in_an_act(hands: Hands) -> None:
    """Break what a key does."""
    hands.day.windows.log = broken  # type: ignore[method-assign]
    await hands.press("l")


async def in_a_window(hands: Hands) -> None:
    """Break the words of a window, so that it never comes to stand."""
    hands.app.push_screen(ReadingWindow("Broken", broken))
    await hands.settle()


async def in_a_mount(hands: Hands) -> None:
    """Break a window while it is being put up."""

    class Window(ReadingWindow):
        on_mount = broken

    hands.app.push_screen(Window("Broken", lambda width: ()))
    await hands.settle()


async def in_the_app(hands: Hands) -> None:
    """Break something that runs in the app itself."""
    hands.app.call_later(broken)
    await hands.settle()


@pytest.mark.parametrize("fault", [in_an_act, in_a_window, in_a_mount, in_the_app], ids=lambda one: one.__name__)
async def test_the_day_comes_back(bench: Bench, tmp_path: Path, fault: Any) -> None:
    """Wherever it happens: the day stands again and says so, its wait goes on and rings, every key is obeyed."""
    async with bench(faults=1) as hands:
        await with_a_wait(hands)
        await fault(hands)
        await hands.until(lambda: isinstance(hands.app.screen, DayScreen) and "Something went wrong" in hands.screen)
        assert len(hands.app.screen_stack) == 2
        rung: list[bool] = []
        hands.app.bell = lambda: rung.append(True)  # type: ignore[method-assign]
        await hands.long_later(2)
        assert rung
        await hands.press("q", "n", *"still here", "enter")
        assert hands.kinds[-2:] == ["alarm_quieted", "note_written"]
        await hands.press("ctrl+q")
        assert hands.app.desk is None
    [card] = list_sessions(tmp_path / "sessions")
    assert card.problem is None


async def test_the_sentence_names_the_file_of_the_fault(bench: Bench, tmp_path: Path) -> None:
    """What happened stands in a file in the data folder, for the owner's eyes alone."""
    async with bench(faults=1, size=(120, 40)) as hands:
        await with_a_wait(hands)
        await in_an_act(hands)
        await hands.until(lambda: "Something went wrong" in hands.screen)
        path = tmp_path / "errors.txt"
        assert path.name in "".join(hands.screen.split())
    assert "RuntimeError: a fault of ours" in path.read_text()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


async def test_a_screen_that_never_stands_gives_way_to_the_list(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    """A day's screen that fails each time is not tried for ever: the list of days stands, and the wait still rings."""
    monkeypatch.setattr("vatside.ui.guard.WITHIN", 3600.0)  # a busy machine takes its time from one to the next
    async with bench(faults=TRY_AGAIN + 1) as hands:
        await with_a_wait(hands)
        monkeypatch.setattr(DayScreen, "show_form", broken)
        hands.day.call_later(broken)
        await hands.until(lambda: isinstance(hands.app.screen, OpeningScreen) and len(hands.app.faults) > TRY_AGAIN)
        await hands.settle()
        rung: list[bool] = []
        hands.app.bell = lambda: rung.append(True)  # type: ignore[method-assign]
        await hands.long_later(2)
        assert rung


async def test_faults_without_end_end_the_app() -> None:
    """The list of days, too, is tried only so often."""
    assert TRY_AGAIN < GIVE_UP


def test_the_file_of_faults_does_not_grow_for_ever(tmp_path: Path) -> None:
    """A long one is put aside, and the one before it is replaced."""
    (tmp_path / "errors.txt").write_text("x" * (LARGEST + 1))
    assert write_down(tmp_path, RuntimeError("new")) == tmp_path / "errors.txt"
    assert (tmp_path / "errors.txt").stat().st_size < 1000
    assert (tmp_path / "errors.old.txt").stat().st_size > LARGEST


def test_a_folder_that_takes_no_file_is_no_second_fault(tmp_path: Path) -> None:
    """Where nothing can be written, nothing is named."""
    (tmp_path / "taken").write_text("")
    assert write_down(tmp_path / "taken" / "folder", RuntimeError("new")) is None
