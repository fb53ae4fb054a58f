"""A terminal that is gone, or takes nothing for a while, holds nobody up."""

from __future__ import annotations

import io
import threading
from collections.abc import Iterator

import pytest

from vatside.ui import driver as module
from vatside.ui.driver import Writer

LONGEST = 60.0
"""Seconds that a thread may take on a machine that others keep busy, before it counts as a hang."""


class Screen(io.StringIO):
    """A terminal that can be gone, or stand still."""

    def __init__(self) -> None:
        super().__init__()
        self.open = threading.Event()
        self.open.set()
        self.gone = False

    def write(self, text: str) -> int:
        """Take a text, once it takes any."""
        self.open.wait(LONGEST)
        if self.gone:
            raise OSError(5, "Input/output error")
        return super().write(text)


@pytest.fixture(name="told")
def _told(monkeypatch: pytest.MonkeyPatch) -> Iterator[tuple[Screen, Writer, list[str]]]:
    monkeypatch.setattr(module, "HELD_UP", LONGEST)
    monkeypatch.setattr(module, "MOST", 3)
    screen, said = Screen(), list[str]()
    writer = Writer(screen, lambda: said.append("gone"), lambda: said.append("free"))
    writer.start()
    yield screen, writer, said
    screen.open.set()
    writer.stop()


def test_everything_is_written_in_order(told: tuple[Screen, Writer, list[str]]) -> None:
    """What was taken is on the screen when it is stopped."""
    screen, writer, said = told
    for number in range(20):
        writer.write(str(number))
    writer.stop()
    assert screen.getvalue() == "".join(map(str, range(20)))
    assert said == []


def test_a_terminal_that_is_gone_is_told_once(told: tuple[Screen, Writer, list[str]]) -> None:
    """Whatever is written later is left, and nobody waits."""
    screen, writer, said = told
    screen.gone = True
    writer.write("a")
    writer.join(LONGEST)
    for _ in range(20):
        writer.write("b")
    assert said == ["gone"]


def test_a_terminal_that_stands_still_holds_nobody_up(
    told: tuple[Screen, Writer, list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What it does not take is left; once it goes on, all is to be painted anew."""
    screen, writer, said = told
    screen.open.clear()
    with monkeypatch.context() as soon:
        soon.setattr(module, "HELD_UP", 0.05)
        for _ in range(500):
            writer.write("x")
    screen.open.set()
    while not writer._queue.empty():
        writer.join(0.01)
    writer.write("y")
    writer.stop()
    assert said == ["free"]
    assert screen.getvalue().endswith("y")
    assert len(screen.getvalue()) < 20
