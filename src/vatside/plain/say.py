"""What the plain commands share: reading their words, refusing in a sentence, writing a file that is not there yet."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import NoReturn

from vatside.log.state import Session
from vatside.plain.streams import Refusal, complain, tell
from vatside.storage.files import Fs
from vatside.storage.flaws import why
from vatside.storage.session_text import loaded_of, missing_from
from vatside.storage.snapshot import keep_copy
from vatside.units.show import plain

__all__ = ["Refusal", "Words", "acidity", "read_day", "tell", "whole"]


class Words(argparse.ArgumentParser):
    """An argument parser that refuses in one sentence instead of printing its usage."""

    def error(self, message: str) -> NoReturn:
        """Refuse; `vatside --help` shows how each command is called."""
        raise Refusal(f"{message}; `vatside --help` shows how it is called.")


def whole(typed: str) -> int:
    """Read a whole number of the command line."""
    try:
        return int(typed)
    except ValueError:
        raise argparse.ArgumentTypeError(f"write a whole number, not {typed!r}") from None


def acidity(typed: str) -> float:
    """Read a pH of the command line, 0 to 14."""
    try:
        value = float(typed)
    except ValueError:
        raise argparse.ArgumentTypeError(f"write a pH such as 8.5, not {typed!r}") from None
    if not 0 <= value <= 14:
        raise argparse.ArgumentTypeError(f"a pH lies between 0 and 14, not at {typed}")
    return value


def read_day(path: str) -> Session:
    """Read a session; what is known to be missing from it is said beside what is printed. SessionError if none is."""
    loaded = loaded_of(path)
    for problem in missing_from(loaded):
        complain(f"vatside: {path}: {problem}.")
    return loaded.session


def write_new(path: Path, data: bytes, fs: Fs | None = None) -> None:
    """Write a new file; a Refusal where one is there already, or where it cannot be written."""
    fs, name = fs or Fs(), plain(str(path))
    try:
        keep_copy(fs, data, path)
    except FileExistsError:
        raise Refusal(f"{name} is there already; name a new file.") from None
    except (OSError, ValueError) as error:
        raise Refusal(f"{name} cannot be written: {why(error)}.") from None
