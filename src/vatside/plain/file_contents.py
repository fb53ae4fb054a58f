"""What a file holds: `vatside check` names every problem in it, `log` and `replay --plain` tell what happened.

A file holds a session, or a kind of vat.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from os import PathLike
from pathlib import Path

from vatside.days.replay_text import replay_lines
from vatside.log.events.day import Unknown
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.log.waits import seconds_between
from vatside.log.words.day import local, log_lines
from vatside.plain.say import Refusal, Words, read_day, tell
from vatside.storage.files import Fs, plain_text
from vatside.storage.flaws import SessionError, shown, why
from vatside.storage.session_text import Loaded, load
from vatside.units import show_count
from vatside.units.show import plain

__all__ = ["log_lines", "problems"]


def problems(path: str | PathLike[str], fs: Fs | None = None) -> tuple[str, ...]:
    """Say everything that is wrong with a session file and its journal; nothing is changed."""
    try:
        loaded = load(fs or Fs(), Path(path))
    except SessionError as error:
        return error.problems
    return tuple(_problems(loaded))


def _problems(loaded: Loaded) -> Iterator[str]:
    yield from loaded.damage
    if loaded.behind:
        yield loaded.behind
    if loaded.gone:
        yield loaded.gone
    if loaded.journal.torn:
        yield f"the last record of the journal is broken off ({show_count(len(loaded.journal.torn), 'byte')})"
    yield from session_problems(loaded.session)


def session_problems(session: Session) -> Iterator[str]:
    """Say what does not fit within a session that can be read."""
    for misfit in fold(session).misfits:
        yield f"event {misfit.seq}: not carried out, {misfit.text}"
    for entry in session.entries:
        if isinstance(entry.event, Unknown):
            yield f"event {entry.seq}: {shown(entry.event.name)} is a kind that this version does not know"
    yield from _clock_problems(session)


def _clock_problems(session: Session) -> Iterator[str]:
    for before, entry in zip(session.entries, session.entries[1:], strict=False):
        if seconds_between(before.at, entry.at) < 0:
            yield f"event {entry.seq}: its time, {local(entry.at.utc)}, is before that of the event above"


def run_check(words: Sequence[str]) -> int:
    """Print each file's problems; exit code 1 if there is any, else 0.

    A Refusal, after the others, for files that are not there.
    """
    parser = Words("check")
    parser.add_argument("files", nargs="+")
    count, gone = 0, []
    for name in parser.read(words).files:
        if not _is_file(Path(name)):
            gone.append(plain(name))
            continue
        lines = _problems_in(Path(name))
        count += len(lines)
        tell("\n".join(f"{plain(name)}: {plain(line)}" for line in lines or ("well",)))
    if gone:
        raise Refusal(f"{', '.join(gone)}: no such file.")
    return 1 if count else 0


def _problems_in(path: Path) -> tuple[str, ...]:
    """Give the problems of a session, or of a kind of vat."""
    if path.suffix != VAT:
        return problems(path)
    from vatside.storage.own_vats import file_problems

    try:
        return file_problems(path.stem, plain_text(path))
    except (OSError, UnicodeDecodeError) as error:
        return (f"it cannot be read: {why(error, reading=True)}",)


VAT = ".toml"
"""Ends the name of a file that holds a kind of vat."""


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except OSError:  # a name that no file of this system can have
        return False


def run_log(words: Sequence[str]) -> int:
    """Print the log of a file; exit code 0, or a Refusal."""
    tell("\n".join(log_lines(read_day(Words("log", "file").read(words).file))))
    return 0


def run_replay(words: Sequence[str]) -> int:
    """Print the replay of a file; exit code 0, or a Refusal."""
    parser = Words("replay", "file")
    parser.add_argument("--plain", action="store_true", required=True)
    tell("\n".join(replay_lines(read_day(parser.read(words).file))))
    return 0
