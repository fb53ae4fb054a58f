"""The line of one entry in the journal, sealed by a checksum."""

from __future__ import annotations

import re
from zlib import crc32

from attrs import frozen

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
    found = _RECORD.fullmatch(line)
    if found is None or _checksum(found[3], found[4]) != int(found[2], 16):
        return None
    return Sealed(int(found[1]), found[3].decode(), found[4])


def _checksum(session: bytes, event: bytes) -> int:
    return crc32(event, crc32(session))
