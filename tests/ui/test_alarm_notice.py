"""An alarm told outside the app: once, safely, and only where she has set it."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from tests.ui.hands import Bench

from vatside.storage.settings import Escape, Settings
from vatside.ui.alarm_notice import LONGEST, AlarmNotice, Launcher, notice_text, sequence

EVIL = "x\x1b]0;pwned\x07\x9b2J;4;1\n\\ " + "y" * 500


def test_nothing_of_a_name_is_more_than_words() -> None:
    """Whatever a wait is called, its notice is one short line without a control, a separator or an escape."""
    text = notice_text(EVIL)
    assert text.isprintable()
    assert len(text) <= LONGEST
    assert not set(";\\") & set(text)
    assert text.startswith("Vatside: x")


@pytest.mark.parametrize(
    ("how", "wanted"),
    [
        (Escape.OFF, ""),
        (Escape.OSC_9, "\x1b]9;Vatside: Stock rest is due\x07"),
        (Escape.OSC_777, "\x1b]777;notify;Vatside;Stock rest is due\x07"),
    ],
)
def test_the_sequences(how: Escape, wanted: str) -> None:
    """As the terminals that know them write of them; from memory."""
    assert sequence(how, notice_text("Stock rest"), {}) == wanted


def test_through_tmux() -> None:
    """Wrapped, with its escape doubled, as the manual of tmux has it under allow-passthrough; from memory."""
    assert sequence(Escape.OSC_9, "a", {"TMUX": "1"}) == "\x1bPtmux;\x1b\x1b]9;a\x07\x1b\\"


def test_each_wait_is_told_once_for_each_time_it_rings() -> None:
    """Not with each bell; after it was heard and is due again, again."""
    written: list[str] = []
    run: list[tuple[str, ...]] = []

    def launch(words: Sequence[str]) -> str:
        run.append(tuple(words))
        return ""

    notice = AlarmNotice(Settings(Escape.OSC_9, ("tell", "-x")), written.append, launch)
    for ringing in ({}, {"w1": "Rest"}, {"w1": "Rest"}, {"w1": "Rest", "w2": "Rest"}, {}, {"w1": "Rest"}):
        assert notice.look("bench", ringing) == ""
    assert len(written) == len(run) == 3
    assert run[0] == ("tell", "-x", "Vatside: Rest is due")


def test_a_command_runs_without_a_shell(tmp_path: Path) -> None:
    """Its last word is the notice, whole, whatever stands in it."""
    out = tmp_path / "out"
    code = "import pathlib, sys; pathlib.Path(sys.argv[1]).write_text(sys.argv[2])"
    launcher = Launcher()
    assert launcher.run([sys.executable, "-c", code, str(out), "Vatside: $(touch x) `y` is due"]) == ""
    assert [process.wait(600) for process in launcher._running] == [0]
    assert out.read_text() == "Vatside: $(touch x) `y` is due"


def test_a_command_that_there_is_not_is_said() -> None:
    """In one sentence, and nothing else happens."""
    said = Launcher().run(["/nowhere/at-all", "x"])
    assert said == "The command of settings.toml cannot be run: /nowhere/at-all: no such file or directory."


async def test_on_the_bench(bench: Bench) -> None:
    """A wait of her own that is over is told once, however often the bell sounds."""
    written: list[str] = []
    async with bench() as hands:
        hands.app.alarm_notice = AlarmNotice(Settings(Escape.OSC_9), written.append)
        await hands.new_day()
        await hands.press("escape", "w")
        await hands.write("5 min rinse")
        await hands.press("enter")
        await hands.later(290)
        assert written == []
        await hands.later(30)
        assert written == [sequence(Escape.OSC_9, "Vatside: rinse is due")]
