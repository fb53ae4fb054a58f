"""Plays a random hand's acts against the app without a terminal, and says what went wrong."""

from __future__ import annotations

import asyncio
import os
import traceback
from collections.abc import Iterator, Sequence
from contextlib import chdir, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from unittest.mock import patch

from tests.clocks.virtual_clock import VirtualClock
from tests.random_hand.acts import KEYS, LATER, REST, SIZE, SLEEP, STEP, Act
from tests.random_hand.ways import PLAYED
from tests.ui.hands import Hands
from textual.drivers.headless_driver import HeadlessDriver
from textual.events import Resize
from textual.geometry import Size
from textual.screen import Screen

from vatside.bench.desk import Desk
from vatside.bench.replay_desk import ReplayDesk
from vatside.clocks.clock import Clock
from vatside.log.events.day import Entry
from vatside.plain.file_contents import problems
from vatside.storage.files import Fs
from vatside.storage.folder import copy_sample
from vatside.storage.places import samples_folder, themes_folder
from vatside.storage.session_text import load
from vatside.ui.app import VatsideApp
from vatside.ui.day.screen import DayScreen
from vatside.ui.driver import Keyboard
from vatside.ui.theme.choice import Looks

SECONDS = 600.0
"""How long an act may take, on a machine that others keep busy, before it counts as a hang."""
CLOCK_NOTE = "is before that of the event above"
"""A wall clock that was set back shows in the log, rightly."""


class Wrong(Exception):
    """What the hand brought about."""


class Watcher:
    """Remembers every entry that each day had, so that a lost one is seen."""

    def __init__(self) -> None:
        self.seen: dict[Path, tuple[Entry, ...]] = {}

    def look(self, desk: Desk | None) -> None:
        """Look at the day on the bench: Wrong if an entry is there no more."""
        path = desk.keeping.path if desk else None
        if desk is None or path is None or desk.keeping.readonly:
            return
        now, before = tuple(desk.state.entries), self.seen.get(path, ())
        if now[: len(before)] != before:
            raise Wrong(f"lost entry: {path.name} had {len(before)} entries and has {len(now)}")
        self.seen[path] = now

    def check(self, folder: Path) -> None:
        """Look at every file: Wrong if one does not check, or lacks an entry."""
        for path in sorted(folder.glob("*.json")):
            if path.name.startswith("."):
                continue
            found = [line for line in problems(path) if CLOCK_NOTE not in line]
            if found:
                raise Wrong(f"bad file: {path.name}: {found[0]}")
        for path, entries in self.seen.items():
            if not entries:
                continue  # begun by a first key, the file of a day may still get another name
            there = load(Fs(), path).session.entries
            if there[: len(entries)] != entries:
                raise Wrong(f"lost entry: {path.name} on the disk has {len(there)}, the screen had {len(entries)}")


def laid_out(start: str, sessions: Path, clock: Clock) -> Path | None:
    """Copy the samples into a folder, and give the one of a start; None starts in the list of days."""
    copied = {path.stem: copy_sample(path, sessions, clock.now()) for path in sorted(samples_folder().glob("*.json"))}
    return copied.get(start)


def name_of(screen: Screen[Any]) -> str:
    """Give the name by which the keys of a screen are told from those of others."""
    again = isinstance(screen, DayScreen) and isinstance(screen.desk, ReplayDesk)
    return PLAYED if again else type(screen).__name__


async def played(acts: Sequence[Act], start: str, folder: Path, seen: set[str]) -> None:
    """Play acts from a start, and note which screens were in front; Wrong with what went wrong."""
    clock = VirtualClock()
    sessions = folder / "sessions"
    file = laid_out(start, sessions, clock)
    app = VatsideApp(file, clock, sessions, looks=Looks([themes_folder()]))
    watcher = Watcher()
    async with app.run_test(size=(80, 24)) as pilot:
        hands = Hands(app, pilot, clock)
        now = [0.0]
        keyboard = Keyboard(lambda: now[0])
        await hands.settle()
        for act in acts:
            now[0] += 0.3
            _feed(hands, keyboard, "")
            if not app.is_running or app._exit:
                break
            await asyncio.wait_for(_do(act, hands, keyboard), SECONDS)
            watcher.look(app.desk)
            if app.screen_stack:
                seen.add(name_of(app.screen))
        if app.faults:
            raise app.faults[0]
        if app.is_running and not app._exit:
            now[0] += 5
            _feed(hands, keyboard, "")
            await asyncio.wait_for(_not_deaf(hands, keyboard), SECONDS)
    watcher.check(sessions)


async def _not_deaf(hands: Hands, keyboard: Keyboard) -> None:
    for _ in range(4):
        if hands.app._exit:
            return
        _feed(hands, keyboard, "\x11")
        await hands.settle()
    if not hands.app._exit:
        raise Wrong(f"deaf: ctrl+q does not leave {type(hands.app.screen).__name__}")


def _feed(hands: Hands, keyboard: Keyboard, text: str) -> None:
    events = list(keyboard.feed(text) if text else keyboard.tick())
    for event in events:
        event.set_sender(hands.app)
        hands.app.post_message(event)


def _resize(app: VatsideApp, size: Size) -> None:
    assert isinstance(app._driver, HeadlessDriver)
    app._driver._size = size
    app.post_message(Resize(size, size))


async def _do(act: Act, hands: Hands, keyboard: Keyboard) -> None:
    if act.kind == KEYS:
        _feed(hands, keyboard, act.text.replace("\x11", ""))
        await asyncio.sleep(0)
    elif act.kind == SIZE:
        _resize(hands.app, Size(int(act.one), int(act.two)))
    elif act.kind == LATER:
        await hands.later(act.one) if act.one < 60 else await hands.long_later(act.one / 60)
    elif act.kind == SLEEP:
        await hands.long_later(act.one / 60)
    elif act.kind == STEP:
        hands.clock.step_wall(act.one)
        hands.app.tick()
    if act.kind in (REST, SIZE) or len(act.text) % 2:
        await hands.settle()


@contextmanager
def at_home_in(folder: Path) -> Iterator[None]:
    """Work and be at home in a folder that is made: where the hand saves a day elsewhere, it is saved in there."""
    folder.mkdir()
    with chdir(folder), patch.dict(os.environ, HOME=str(folder), USERPROFILE=str(folder)):
        yield


def trial(acts: Sequence[Act], start: str, seen: set[str] | None = None) -> str:
    """Play acts in a folder of their own; empty if all went well, else one line for what went wrong.

    The names of the screens that were in front go into `seen`.
    """
    with TemporaryDirectory(prefix="hand-") as name, at_home_in(Path(name) / "home"):
        try:
            asyncio.run(played(acts, start, Path(name), set() if seen is None else seen))
        except Wrong as wrong:
            return str(wrong)
        except TimeoutError:
            return "hang"
        except BaseException as error:
            return _cause(error)
    return ""


def _cause(error: BaseException) -> str:
    while isinstance(error, BaseExceptionGroup):
        error = error.exceptions[0]
    where = [frame for frame in traceback.extract_tb(error.__traceback__) if "vatside" in frame.filename]
    place = f"{Path(where[-1].filename).name}:{where[-1].name}" if where else "in the library"
    return f"{type(error).__name__} at {place}: {str(error)[:100]}"
