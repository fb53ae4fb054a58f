"""What the plain commands share: reading their words, refusing in a sentence, writing a file that is not there yet."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NoReturn

from vatside.log.state import Session
from vatside.plain.streams import Refusal, complain, tell
from vatside.storage.files import Fs
from vatside.storage.flaws import why
from vatside.storage.session_text import loaded_of, missing_from
from vatside.storage.snapshot import keep_copy
from vatside.units.show import plain

__all__ = ["Refusal", "Words", "acidity", "give", "read_day", "tell", "whole"]


class Words(argparse.ArgumentParser):
    """The words that a command takes; what it does not is refused in one sentence, without printing its usage."""

    def __init__(self, command: str, *names: str, **options: Callable[[str], Any]) -> None:
        """`names` are places (`other?` may be left out) and flags (`--json`); `options` have a reader each."""
        super().__init__(prog=f"vatside {command}", add_help=False)
        for name in names:
            if name.startswith("--"):
                self.add_argument(name, action="store_true")
            else:
                self.add_argument(name.rstrip("?"), nargs="?" if name.endswith("?") else None)
        for name, read in options.items():
            self.add_argument(f"--{name}", type=read)

    def read(self, words: Sequence[str]) -> argparse.Namespace:
        """Read what was typed behind the command; Refusal if it does not take that."""
        return self.parse_args(list(words))

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


def give(text: str, output: Path | None, fs: Fs | None = None) -> int:
    """Print a text, or write it into a new file, whole or not at all; the exit code is 0, or it is a Refusal."""
    if output is None:
        tell(text.replace("\r\n", "\n").rstrip("\n"))
    else:
        write_new(output, text.encode("utf-8", "replace"), fs)
        tell(f"{plain(str(output))} written")
    return 0
