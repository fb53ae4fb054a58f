"""What is typed into a name, an amount, a reading or a note, and whether the day has what was shown of it."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from random import Random

from attrs import frozen
from tests.random_hand.ways import LIST, STOVE, keys_of
from tests.ui.terminal import Terminal

from vatside.bench.desk import Desk
from vatside.bench.open_day import open_day
from vatside.clocks.clock import SystemClock
from vatside.log.events.day import NoteWritten
from vatside.log.events.vat import ReadingTaken
from vatside.storage.folder import list_sessions


@frozen
class Typing:
    """A place to type at."""

    start: str
    way: str
    there: str
    """What is on the screen once it is come to."""
    text: Callable[[Random], str]
    kept: Callable[[Desk], str]
    """What the day has of it."""
    parts: bool = False
    """A part of the text cannot be taken for anything else on the screen."""


def _letters(random: Random) -> str:
    # Such as stand together nowhere else, so that what is shown is known from what was written.
    return "".join(random.choice("bcdfghjklmnpqrstvwxyz") for _ in range(random.randint(2, 12)))


def _amount(least: int, most: int) -> Callable[[Random], str]:
    """Give amounts of so many digits that no figure shows by chance."""
    return lambda random: f"{random.randint(least, most)}.{random.randint(1, 9)}{random.randint(1, 9)}"


def _note(desk: Desk) -> str:
    return next((one.event.text for one in reversed(desk.state.entries) if isinstance(one.event, NoteWritten)), "")


def _temperature(desk: Desk) -> str:
    taken = [one.event.reading for one in desk.state.entries if isinstance(one.event, ReadingTaken)]
    return f"{taken[-1].temperature.value:g}" if taken and taken[-1].temperature else ""


def _mass(desk: Desk) -> str:
    mass = desk.plan.lots[0].mass
    return f"{mass.value:g}" if mass else ""


TYPINGS = (
    Typing(LIST, "a", "Enter next", _letters, lambda desk: desk.plan.title, parts=True),
    Typing(LIST, "a Down Down Down Down Down Down", "1/2 lb, 227 g", _amount(300, 499), _mass),
    # From the vat: on the day the stage that it opens on takes a reading or not, by what comes first at that hour.
    Typing(STOVE, "Esc v r", "Look next", _amount(40, 49), _temperature),
    Typing(STOVE, "Esc n", "A note for the log", _letters, _note, parts=True),
)


@frozen
class Typed:
    """What was typed in a terminal."""

    at: Typing
    day: Path | None
    """What was opened; None for a new one, which is the only one."""
    shown: str
    """As much of it as was on the screen."""

    def lost(self, sessions: Path) -> str:
        """Say what was shown and is not in the day."""
        path = self.day or next((card.path for card in list_sessions(sessions)), None)
        if path is None:
            return f"lost: {self.shown!r} was shown, and there is no day" if self.shown else ""
        desk = open_day(path, SystemClock())
        kept = self.at.kept(desk)
        desk.keeping.close()
        return "" if kept.startswith(self.shown) else f"lost: {self.shown!r} was shown, {kept!r} is kept"


def typed(terminal: Terminal, at: Typing, day: Path | None, random: Random) -> Typed:
    """Go to the place and type; what is shown may be a part of it."""
    for key in keys_of(at.way):
        terminal.rest(0.1)
        terminal.write(key)
    terminal.until(at.there)
    terminal.rest(0.1)
    text = at.text(random)
    terminal.type(text)
    if not at.parts or random.random() < 0.5:
        terminal.until(text)
        return Typed(at, day, text)
    terminal.read_for(random.choice([0.02, 0.05, 0.1, 0.3]))
    shown = [text[:length] for length in range(len(text), 1, -1) if re.search(rf"\b{text[:length]}\b", terminal.text)]
    return Typed(at, day, shown[0] if shown else "")
