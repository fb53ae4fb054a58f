"""`vatside check`: every problem of session files, and of files that hold a kind of vat, in words."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from vatside.plain.check_file import problems
from vatside.plain.say import Refusal, Words, tell
from vatside.storage.flaws import why
from vatside.units.one_line import plain


def run(words: Sequence[str]) -> int:
    """Print each file's problems; exit code 1 if there is any, else 0.

    A Refusal, after the others, for files that are not there.
    """
    parser = Words(prog="vatside check", add_help=False)
    parser.add_argument("files", nargs="+")
    found, gone = 0, []
    for name in parser.parse_args(list(words)).files:
        if not _is_file(Path(name)):
            gone.append(plain(name))
            continue
        lines = _problems(Path(name))
        found += len(lines)
        tell("\n".join(f"{plain(name)}: {plain(line)}" for line in lines or ("well",)))
    if gone:
        raise Refusal(f"{', '.join(gone)}: no such file.")
    return 1 if found else 0


def _problems(path: Path) -> tuple[str, ...]:
    """Give the problems of a session, or of a kind of vat."""
    if path.suffix != VAT:
        return problems(path)
    from vatside.storage.own_vats import file_problems

    try:
        return file_problems(path.stem, path.read_text("utf-8"))
    except (OSError, UnicodeDecodeError) as error:
        return (f"it cannot be read: {why(error, reading=True)}",)


VAT = ".toml"
"""Ends the name of a file that holds a kind of vat."""


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except OSError:  # a name that no file of this system can have
        return False
