"""A session of ten thousand events: reading it, adding to it, playing it back."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import islice
from pathlib import Path

from tests.bench.long_log import LONG, events, long_session
from tests.bench.measure import Pairs, cpu_ms, interleaved, wall_ms
from tests.bench.run import Run, workplace
from tests.clocks.virtual_clock import VirtualClock

from vatside.days.replay import Player, forward, state_at, timeline
from vatside.log.events.day import Undone
from vatside.log.fold import State, apply, fold
from vatside.log.state import Session
from vatside.storage.files import Fs
from vatside.storage.session_file import SessionFile, tidy_after
from vatside.storage.session_text import encode, load

SPEED = 600.0
"""The fastest playback: a day of ten hours in a minute."""
FRAMES = 10
"""Looks a second that a playback takes."""
MORE = 100
"""Events that are added to see what one of them costs; fewer than lie between two tidyings."""


@contextmanager
def _long_file() -> Iterator[Path]:
    with workplace() as folder:
        path = folder / "long.json"
        path.write_bytes(encode(long_session()))
        yield path


def load_beside_json(run: Run) -> Pairs:
    """Reading a long session against Python's own reader over the same text."""
    with _long_file() as path:
        text = path.read_text("utf-8")
        return interleaved(
            run.rounds(15, 5), lambda: cpu_ms(lambda: load(Fs(), path)), lambda: cpu_ms(lambda: json.loads(text))
        )


def replay_beside_load(run: Run) -> Pairs:
    """Playing a long session from its first entry to its last, unpainted, against loading it."""
    with _long_file() as path:
        session = load(Fs(), path).session
        return interleaved(
            run.rounds(9, 3), lambda: cpu_ms(lambda: play(session)), lambda: cpu_ms(lambda: load(Fs(), path))
        )


def play(session: Session) -> State:
    """Play a session as the screen does, at the highest speed and with every look at it but no painting."""
    line = timeline(session)
    player = Player(line, speed=SPEED).play(0.0)
    state = state_at(line, 0.0)
    real = 0.0
    while not player.at_end(real):
        real += 1 / FRAMES
        state = forward(state, line, player.position(real))
    return state


def late_beside_early(run: Run) -> Pairs:
    """One more event in a session of ten thousand against one more in a session of ten, its share of tidying included.

    An undo is left out: it folds the whole log anew, which costs about as much as reading it.
    """
    with workplace() as folder:
        late, early = (_adding(folder / f"{length}.json", length) for length in (LONG, 10))
        return interleaved(run.rounds(9, 3), late, early)


def _adding(path: Path, length: int) -> Callable[[], float]:
    session = long_session(length)
    state = fold(session)
    more = [event for event in islice(events(), MORE) if not isinstance(event, Undone)]

    def add_all(file: SessionFile) -> None:
        clock, now = VirtualClock(session.entries[-1].at.utc), state
        for event in more:
            clock.advance(1.0)
            now = apply(now, file.append(event, clock.now()))

    def take() -> float:
        for left in path.parent.glob(f"{path.name}*"):
            left.unlink()
        file = SessionFile.write_new(path, session)
        return wall_ms(lambda: add_all(file)) / len(more) + wall_ms(file.close) / tidy_after(length)

    return take
