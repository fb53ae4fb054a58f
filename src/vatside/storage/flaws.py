"""What is wrong with a session file, in sentences that name the place."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from typing import TYPE_CHECKING

from vatside.units import show_count

if TYPE_CHECKING:
    from cattrs import BaseValidationError

MOST_TOLD = 10
"""Problems told one by one; the rest is counted."""

Place = tuple[str | int, ...]


class Flaw(ValueError):
    """One value does not fit its place; the text says what is wrong and what would be right."""


class SessionError(Exception):
    """A file is no session we can read. `problems` holds one sentence for each thing that is wrong."""

    def __init__(self, *problems: str) -> None:
        super().__init__(*problems)
        self.problems = problems

    def __str__(self) -> str:
        return "\n".join(self.problems)


def sentences(error: Exception, place: Place) -> Iterator[str]:
    """Turn what the converter raised into one sentence a flaw."""
    for where, cause in _leaves(error, place):
        yield f"{_words(where)}: {_cause(cause)}"


def first_problems(problems: list[str]) -> tuple[str, ...]:
    """Keep the first problems and count the rest."""
    if len(problems) <= MOST_TOLD:
        return tuple(problems)

    return (*problems[:MOST_TOLD], f"and {show_count(len(problems) - MOST_TOLD, 'more problem')}")


def _leaves(error: Exception, place: Place) -> Iterator[tuple[Place, Exception]]:
    from cattrs import BaseValidationError

    if not isinstance(error, BaseValidationError):
        yield place, error
        return
    for cause, step in _causes(error):
        yield from _leaves(cause, place if step is None else (*place, step))


def _causes(error: BaseValidationError) -> Iterator[tuple[Exception, str | int | None]]:
    from cattrs import ClassValidationError, IterableValidationError

    if isinstance(error, IterableValidationError):
        items, plain = error.group_exceptions()
        yield from ((cause, note.index + 1 if isinstance(note.index, int) else None) for cause, note in items)
    elif isinstance(error, ClassValidationError):
        fields, plain = error.group_exceptions()
        yield from ((cause, note.name) for cause, note in fields)
    else:
        plain = list(error.exceptions)
    yield from ((cause, None) for cause in plain)


def _words(place: Place) -> str:
    """Join a place: `event 3, lot, mass`; a number belongs to the word before it."""
    words: list[str] = []
    for step in place:
        if isinstance(step, int) and words:
            words[-1] = f"{words[-1]} {step}"
        else:
            words.append(str(step).replace("_", " "))
    return ", ".join(words)


def _cause(cause: Exception) -> str:
    from cattrs import ForbiddenExtraKeysError

    if isinstance(cause, Flaw):
        return str(cause)
    if isinstance(cause, KeyError):
        return "is missing"
    if isinstance(cause, ForbiddenExtraKeysError):
        return f"unknown entry {', '.join(sorted(shown(key) for key in cause.extra_fields))}"
    return "does not fit its place"


def shown(value: object) -> str:
    """Quote a value of a file without letting it play tricks on the screen."""
    text = repr(value)
    return text if len(text) <= 40 else f"{text[:37]}…"


_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EFBIG: "the file may not grow any further",
    errno.EACCES: "you may not write there",
    errno.EPERM: "the system does not allow it",
    errno.EROFS: "the disk can only be read",
    errno.EIO: "the disk reports a fault",
    errno.ENOENT: "the folder or file is gone",
    errno.ENOTDIR: "a part of the path is no folder",
    errno.EISDIR: "a folder stands there",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ELOOP: "its links go round in a circle",
    errno.EEXIST: "a file of that name is there already",
    errno.EXDEV: "it lies on another disk",
    errno.EINTR: "the system interrupted it",
    errno.EMFILE: "too many files are open",
}


_REASONS_READING = {errno.EACCES: "you may not read it", errno.ENOENT: "there is no such file"}
"""What the system means by the same answers when it was only asked to read."""


def reason(error: OSError, *, reading: bool = False) -> str:
    """Say in words why the system refused to write, or to read."""
    number = error.errno or 0
    known = (_REASONS_READING.get(number) if reading else None) or _REASONS.get(number)
    return known or (error.strerror or "the system refused").lower()


def why(error: Exception, *, reading: bool = False) -> str:
    """Say in words why something could not be written or read."""
    return reason(error, reading=reading) if isinstance(error, OSError) else str(error) or "the system refused"
