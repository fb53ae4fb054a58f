"""Leaving a real terminal in every way there is: what was typed is in the file."""

from __future__ import annotations

import asyncio
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest
from tests.ui.hands import Bench
from tests.ui.terminal import Terminal

from vatside.storage.folder import list_sessions
from vatside.storage.places import samples_folder
from vatside.ui.base.host import SIGNALS, listen
from vatside.ui.start import refusal

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are a thing of POSIX")
ALTERNATE_SCREEN_OFF = b"\x1b[?1049l"


class InOrder(Terminal):
    """The app, that a busy machine does not keep from leaving in order: its end by force comes a minute later."""

    COMMAND: tuple[str, ...] = (
        "-c", "import sys; from vatside.__main__ import main; from vatside.ui.base import host; "
        "host.AT_LATEST += 60; sys.exit(main())",
    )  # fmt: skip


def begin(tmp_path: Path, kind: type[Terminal] = InOrder) -> Terminal:
    """Begin a day in a real terminal and give it a name, without leaving the field."""
    terminal = kind(tmp_path)
    terminal.until("None yet")
    terminal.type("a")
    terminal.until("Enter next")
    terminal.type("Market day")
    terminal.until("Market day", times=2)  # in the field, and in the head once the desk has taken it
    return terminal


def title(tmp_path: Path) -> str:
    """Give the title of the one session there is."""
    [card] = list_sessions(tmp_path / "sessions")
    assert card.problem is None
    return card.title


@pytest.mark.parametrize(
    ("leave", "code"),
    [
        (lambda terminal: terminal.type("\x11"), 0),
        *((partial(Terminal.send, number=getattr(signal, name)), 128 + getattr(signal, name)) for name in SIGNALS),
    ],
    ids=["ctrl+q", *SIGNALS],
)
def test_leaving_in_order_keeps_what_was_typed(tmp_path: Path, leave: Callable[[Terminal], None], code: int) -> None:
    """By key or by signal: the typed name is saved, the terminal is as before, and it is said where the day is."""
    terminal = begin(tmp_path)
    leave(terminal)
    assert terminal.wait() == code
    assert title(tmp_path) == "Market day"
    assert ALTERNATE_SCREEN_OFF in terminal.output
    assert terminal.is_sane
    assert str(tmp_path / "sessions") in terminal.text


def test_a_closed_window_keeps_what_was_typed(tmp_path: Path) -> None:
    """A terminal that goes away takes nothing along."""
    terminal = begin(tmp_path)
    terminal.hang_up()
    terminal.wait()
    assert title(tmp_path) == "Market day"


def test_the_hardest_way_keeps_what_was_entered(tmp_path: Path) -> None:
    """Killed right after Enter: the entered name is in the file."""
    terminal = begin(tmp_path)
    terminal.type("\r")
    terminal.until("sat 14:00")
    terminal.send(signal.SIGKILL)
    assert terminal.wait() == -signal.SIGKILL
    assert title(tmp_path) == "Market day"


@pytest.fixture(name="signals")
def _signals() -> Iterator[None]:
    """Give the signals back to the test run."""
    before = {getattr(signal, name): signal.getsignal(getattr(signal, name)) for name in SIGNALS}
    yield
    for number, handler in before.items():
        signal.signal(number, handler)


@pytest.mark.usefixtures("signals")
@pytest.mark.parametrize("name", SIGNALS)
async def test_a_signal_gets_through_a_burst(name: str) -> None:
    """However many keys wait for the loop, the signal is heard as well."""
    loop, heard, number = asyncio.get_running_loop(), asyncio.Event(), getattr(signal, name)
    told: list[int] = []

    def leave(code: int) -> None:
        told.append(code)
        heard.set()

    listen(leave)
    for _ in range(100_000):  # a pair of sockets holds a few hundred single bytes on Linux, more elsewhere
        loop.call_soon_threadsafe(int)
    signal.raise_signal(number)
    await asyncio.wait_for(heard.wait(), 60)
    assert set(told) == {128 + number}


async def test_without_a_terminal_of_its_own_it_takes_no_signal(bench: Bench) -> None:
    """Ctrl+c ends a test run, not the app in it."""
    before = [signal.getsignal(getattr(signal, name)) for name in SIGNALS]
    async with bench():
        assert [signal.getsignal(getattr(signal, name)) for name in SIGNALS] == before


@pytest.mark.parametrize("term", ["dumb", ""])
def test_without_a_real_terminal_it_refuses_in_one_sentence(tmp_path: Path, term: str) -> None:
    """A pipe, or a terminal that can do nothing, gets the plain command named and no control sequence."""
    done = subprocess.run(
        [sys.executable, "-m", "vatside", "day.json"],
        env={**os.environ, "TERM": term, "VATSIDE_HOME": str(tmp_path)},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert "vatside sheet day.json" in done.stderr
    assert done.stderr.count("\n") == 1
    assert "\x1b" not in done.stdout + done.stderr


def test_a_dumb_terminal_is_refused_too(tmp_path: Path) -> None:
    """TERM=dumb behind a real terminal gets the same sentence."""
    terminal = Terminal(tmp_path, TERM="dumb")
    assert terminal.wait() == 2
    assert "vatside sheet" in terminal.text


def test_the_refusal_names_a_file(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a file the sentence says FILE."""
    monkeypatch.setenv("TERM", "dumb")
    assert "vatside sheet FILE" in refusal(None)


class TestPlaces:
    """Where nothing can be kept nothing is begun."""

    @pytest.mark.parametrize("words", [(), ("sample",)], ids=["list", "sample"])
    @pytest.mark.parametrize("place", ["/dev/null", "~nobody-of-this-name/x", "file/x", "n" * 300])
    def test_a_folder_that_cannot_be_used(self, tmp_path: Path, place: str, words: tuple[str, ...]) -> None:
        """It is one sentence before anything is painted, and the code is 2."""
        (tmp_path / "file").touch()
        terminal = Terminal(tmp_path, *words, VATSIDE_HOME=place if place[0] in "/~" else str(tmp_path / place))
        assert terminal.wait() == 2
        assert terminal.text.startswith("vatside")
        assert terminal.text.count("\n") == 1
        assert b"\x1b[?1049h" not in terminal.output

    def test_another_driver_is_not_taken(self, tmp_path: Path) -> None:
        """Whatever the environment names for other programs of the kind, the terminal is read in our own way."""
        terminal = Terminal(tmp_path, TEXTUAL_DRIVER="foo:bar")
        terminal.until("None yet")
        terminal.type("\x11")
        assert terminal.wait() == 0

    def test_a_day_of_its_own_place_needs_no_folder(self, tmp_path: Path) -> None:
        """A day that was named can be worked in where it is, if a person's files can be nowhere."""
        day = shutil.copy(samples_folder() / "at-the-stove.json", tmp_path / "day.json")
        terminal = Terminal(tmp_path, str(day), VATSIDE_HOME="/dev/null")
        terminal.until("Saturday class")
        terminal.type("\x11")
        assert terminal.wait() == 0


KINDS = [
    {"LANG": "C", "LC_ALL": "C"},
    *({"TERM": name, "COLORTERM": ""} for name in ("linux", "screen", "xterm", "vt100")),
]


@pytest.mark.parametrize("environment", KINDS, ids=str)
def test_every_kind_of_terminal_takes_a_day(tmp_path: Path, environment: dict[str, str]) -> None:
    """Whatever the terminal is called, and in the plainest locale: a day is begun, named and left."""
    terminal = Terminal(tmp_path, **environment)
    terminal.until("None yet")
    terminal.type("a")
    terminal.until("Enter next")
    terminal.type("Market day")
    terminal.until("Market day", times=2)
    terminal.type("\x11")
    assert terminal.wait() == 0
    assert title(tmp_path) == "Market day"
    assert "Traceback" not in terminal.text


def test_a_window_of_one_cell_and_back(tmp_path: Path) -> None:
    """In one column and one row the day is still there, and leaves when it is told to."""
    terminal = begin(tmp_path)
    terminal.resize(1, 1)
    terminal.read_for(0.3)
    terminal.type("\x1b\x1b[C")
    terminal.resize(80, 24)
    terminal.type("\x1b")
    terminal.until("Market day")
    terminal.type("\x11")
    assert terminal.wait() == 0
    assert title(tmp_path) == "Market day"


class WithoutAsserts(InOrder):
    """The same as Python runs it with `-O`, that is without one `assert`."""

    COMMAND = ("-O", *InOrder.COMMAND)


def test_no_assert_is_needed(tmp_path: Path) -> None:
    """Under `python -O` a plain command answers, and a day that is begun and left is on the disk."""
    words = [sys.executable, "-O", "-m", "vatside", "check", str(samples_folder() / "at-the-stove.json")]
    assert subprocess.run(words, capture_output=True, check=False).returncode == 0
    terminal = begin(tmp_path, WithoutAsserts)
    terminal.type("\x11")
    assert terminal.wait() == 0
    assert title(tmp_path) == "Market day"
