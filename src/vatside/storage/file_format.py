"""The format of our files: strict JSON, moments in UTC, single values, the sealed line of a journal, the versions.

To change the format: raise `VERSION`, add the step from the version before, and put a finished file of that version
into `tests/samples`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from enum import Enum
from json import JSONDecodeError, JSONDecoder, JSONEncoder
from typing import Any
from zlib import crc32

from attrs import frozen

from vatside.plan.hours import YEARS
from vatside.storage.flaws import Flaw, SessionError, shown
from vatside.units import UNITS

DEEPEST = 50
"""Levels of nesting that an event of an unknown kind may have."""

_ENCODER = JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def dump_json(value: object) -> str:
    """Write JSON on one line; Flaw for a number that JSON does not have."""
    try:
        return _ENCODER.encode(value)
    except ValueError as error:
        raise Flaw("a number must be finite") from error


def parse_json(data: bytes) -> Any:
    """Read JSON; SessionError with one sentence for whatever is not clean JSON in UTF-8."""
    if data.startswith(b"\xef\xbb\xbf"):
        raise SessionError("the file begins with a byte-order mark: save it as plain UTF-8")
    try:
        return _DECODER.decode(data.decode("utf-8"))
    except UnicodeDecodeError as error:
        raise SessionError(f"byte {error.start + 1} is not UTF-8 text") from None
    except JSONDecodeError as error:
        raise SessionError(f"line {error.lineno}, column {error.colno}: this is not JSON, or it breaks off") from None
    except RecursionError:
        raise SessionError("the file is nested too deeply to be a session") from None
    except Flaw as error:
        raise SessionError(str(error)) from None
    except ValueError:
        raise SessionError("the file holds a number with thousands of digits") from None


def too_deep(value: object, left: int = DEEPEST) -> bool:
    """Tell whether lists and objects are nested deeper than `left` levels."""
    if isinstance(value, dict):
        value = list(value.values())
    if not isinstance(value, list):
        return False
    return left == 0 or any(too_deep(item, left - 1) for item in value)


def _no_duplicates(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    by_name = dict(pairs)
    if len(by_name) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise Flaw(f"the name {shown(twice)} stands twice in one object")
    return by_name


def _no_constant(name: str) -> Any:
    raise Flaw(f"{name} is no number that a session can hold")


_DECODER = JSONDecoder(object_pairs_hook=_no_duplicates, parse_constant=_no_constant)


def show_utc(utc: datetime) -> str:
    """Write a moment in UTC, milliseconds only where there are any."""
    if utc.microsecond and utc.microsecond % 1000 == 0:
        return utc.isoformat(timespec="milliseconds")
    return utc.isoformat()


def read_utc(raw: object, _type: object = datetime) -> datetime:
    """Read a moment; Flaw unless it is ISO text with `+00:00`."""
    try:
        moment = datetime.fromisoformat(raw if isinstance(raw, str) else "")
    except ValueError:
        raise Flaw(f"must be a time like 2026-05-02T08:01:13+00:00, not {shown(raw)}") from None
    if moment.tzinfo is not UTC and moment.tzinfo != UTC:
        raise Flaw(f"must be in UTC, ending in +00:00, not {shown(raw)}")
    if moment.year not in YEARS:
        raise Flaw(f"the year {moment.year} cannot be")
    return moment


LARGEST = 1e10
"""No quantity of a dye day is larger; so many seconds (317 years) still lead to a date that there is."""
IDENTITY = re.compile(r"[A-Za-z0-9_-]{1,64}")


def read_text_or_choice(raw: object, cls: type[str]) -> str | Enum:
    """Read text; cattrs asks the hook of str for every StrEnum as well."""
    return read_text(raw, cls) if cls is str else _choice(raw, cls)


def _choice(raw: object, cls: Any) -> Enum:
    item: Enum
    for item in cls:
        if item.value == raw and type(raw) is str:
            return item
    raise Flaw(f"must be one of {', '.join(str(item.value) for item in cls)}, not {shown(raw)}")


def read_unit(raw: object, _type: object) -> str:
    """Read the name of a unit; only those that the form knows."""
    name = read_text(raw, str)
    if name not in UNITS:
        raise Flaw(f"{shown(name)} is no unit that Vatside knows")
    return name


def encodable(text: str) -> bool:
    """Tell whether the text has no half characters (lone surrogates)."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def read_text(raw: object, _type: object) -> str:
    """Read text without half characters."""
    if not isinstance(raw, str):
        raise Flaw(f"must be text, not {shown(raw)}")
    if not raw.isascii() and not encodable(raw):
        raise Flaw("holds half a character")
    return raw


def read_whole(raw: object, _type: object) -> int:
    """Read a whole number of 10^10 at most."""
    if type(raw) is not int:
        raise Flaw(f"must be a whole number, not {shown(raw)}")
    if abs(raw) > LARGEST:
        raise Flaw("is too large to be meant")
    return raw


def read_number(raw: object, _type: object) -> float:
    """Read a finite number of 10^10 at most."""
    if type(raw) is not float and type(raw) is not int:
        raise Flaw(f"must be a number, not {shown(raw)}")
    if not abs(raw) <= LARGEST:
        raise Flaw("is too large to be meant")
    return float(raw)


def read_truth(raw: object, _type: object) -> bool:
    """Read true or false."""
    if not isinstance(raw, bool):
        raise Flaw(f"must be true or false, not {shown(raw)}")
    return raw


def read_identity(raw: object, _type: object = None) -> str:
    """Read what tells a session, or an entry of the shelf's log, from every other one."""
    if not isinstance(raw, str) or not IDENTITY.fullmatch(raw):
        raise Flaw(f"must be up to 64 plain letters, digits and dashes, not {shown(raw)}")
    return raw


_RECORD = re.compile(rb'\{"seq":(\d{1,12}),"crc":"([0-9a-f]{8})","session":"([\w-]{1,64})","event":(\{.*\})\}\r?')


@frozen
class Sealed:
    """What stands in a line whose seal holds."""

    seq: int
    session: str
    event: bytes


def seal(session: str, seq: int, event: bytes) -> bytes:
    """Write one record: the entry's own text, sealed by a checksum that covers it and the session."""
    name = session.encode()
    return b'{"seq":%d,"crc":"%08x","session":"%s","event":%s}\n' % (seq, _checksum(name, event), name, event)


def unseal(line: bytes) -> Sealed | None:
    """Read one record; None if it is none or its seal does not hold."""
    match = _RECORD.fullmatch(line)
    if match is None or _checksum(match[3], match[4]) != int(match[2], 16):
        return None
    return Sealed(int(match[1]), match[3].decode(), match[4])


def _checksum(session: bytes, event: bytes) -> int:
    return crc32(event, crc32(session))


FORMAT = "vatside-session"
VERSION = 3
PLANNED_FOR_THE_FIBRE = 3
"""From this version on litres and jars follow the fibre."""

Step = Callable[[dict[str, Any]], dict[str, Any]]

STEPS: Mapping[int, Step] = {1: lambda raw: raw, 2: lambda raw: raw}
"""The step that leads from a version to the next one, by the version it starts from.

2: a plan may stand on a kept vat, and a file may go on in its journal; a file of version 1 has neither.
3: litres follow the fibre, and a figure is gone. What that asks of a day is known once its log is read, the journal
included: `older_days` holds it then.
"""


def migrate(raw: dict[str, Any], steps: Mapping[int, Step] = STEPS, current: int = VERSION) -> dict[str, Any]:
    """Lead a session's JSON values up to the current version; newer ones pass as they are.

    SessionError if a step is missing.
    """
    version = raw["version"]
    while version < current:
        if version not in steps:
            raise SessionError(f"the file is of version {version}, which no Vatside ever wrote")
        raw = {**steps[version](raw), "version": version + 1}
        version += 1
    return raw


def check_head(raw: object, what: str = "session") -> int:
    """Give the version of what claims to be a session, or the shelf; SessionError if it is none at all."""
    if type(raw) is not dict or raw.get("format") != f"vatside-{what}":
        raise SessionError(f"this is not a Vatside {what}")
    version = raw.get("version")
    if type(version) is not int or version < 1:
        raise SessionError(f"version must be a whole number from 1, not {shown(version)}")
    return version


def too_new(version: int) -> str:
    """Say that a newer Vatside wrote it."""
    return f"a newer Vatside wrote this file (version {version}; this one writes version {VERSION})"
