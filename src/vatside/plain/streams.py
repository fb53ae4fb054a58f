"""The three streams a command is given: what is printed, and what becomes of it when nobody can read it."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from contextlib import suppress
from typing import TextIO

from vatside.storage.flaws import SessionError, reason
from vatside.units.show import plain


class Refusal(Exception):
    """A command cannot do what it was asked; the message is one sentence for the person who asked."""


def tell(text: str) -> None:
    """Print a text, with ? for what the terminal's alphabet does not have; Refusal if it cannot be printed.

    No control character but the line break gets through: what is printed may hold names that others chose.
    """
    if sys.stdout is None:
        raise Refusal("the output is closed: there is nowhere to print.")
    encoding = sys.stdout.encoding or "utf-8"
    lines = (line if line.isprintable() else plain(line) for line in text.split("\n"))
    try:
        print("\n".join(lines).encode(encoding, "replace").decode(encoding), flush=True)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise Refusal(f"the output takes nothing: {reason(error)}.") from None


def complain(sentence: str) -> None:
    """Say one sentence to the person who asked, without any control character."""
    if sys.stderr is None:  # `print` would take that for the standard output
        return
    try:
        print(plain(sentence), file=sys.stderr, flush=True)
    except OSError:
        _to_nowhere(sys.stderr)


def ended(name: str, act: Callable[[], int]) -> int:
    """Do what prints and give its exit code; what is refused, and what cannot be printed, is one sentence and 2."""
    keep_numbers()
    try:
        return act()
    except (Refusal, SessionError) as refusal:
        complain(f"{name}: {_one(refusal)}")
        return 2
    except BrokenPipeError:
        return 0  # the reader of the pipe has seen enough
    finally:
        for stream in (sys.stdout, sys.stderr):
            _emptied(stream)


def _one(refusal: Refusal | SessionError) -> str:
    """Give the one sentence for a refusal; a file with several problems names the first and counts the rest."""
    if isinstance(refusal, Refusal) or len(refusal.problems) == 1:
        return str(refusal)
    more = len(refusal.problems) - 1
    return f"{refusal.problems[0]}; and {more} more, which `vatside check` names"


def keep_numbers() -> None:
    """Give the numbers of closed streams away, or a session's file would get one, and a crash would write into it."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            with suppress(OSError):
                os.open(os.devnull, os.O_RDWR)  # the lowest number that is free


def _emptied(stream: TextIO | None) -> None:
    """Write out what is left; Python would try again while it ends, and complain of what nobody can read."""
    if stream is None:
        return
    try:
        stream.flush()
    except (OSError, ValueError):
        _to_nowhere(stream)


def _to_nowhere(stream: TextIO) -> None:
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
