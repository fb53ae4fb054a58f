"""Damaged, foreign and hostile files: a session or a sentence, never a traceback, never a hang."""

from __future__ import annotations

import json
import random
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import tries
from tests.log.makers import a_day, session
from tests.log.strategies import JSON
from tests.storage.memory_fs import MemoryFs

from vatside.log.events.day import NoteWritten, Undone
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.log.words.day import log_lines
from vatside.plain.file_contents import problems
from vatside.recipe.compute import compute
from vatside.storage.flaws import SessionError
from vatside.storage.folder import card
from vatside.storage.journal import entry_record
from vatside.storage.session_file import Opened, SessionFile
from vatside.storage.session_text import decode, encode

PATH = Path("/sessions/day.json")
DAY = session(*a_day())
TEXT = encode(DAY)
RAW: dict[str, Any] = json.loads(TEXT)
JOURNAL = b"".join(entry_record(DAY.id, entry) for entry in DAY.entries)
FILES = tries(1_000)
"""Damaged files for each of three seeds."""
ODD: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 1.5, -0.0, 1e308, 10**30, 2**63, "", "x", "nan", "2026-05-02T08:00:00+00:00",
    "0001-01-01T00:00:00+00:00", "9999-12-31T23:59:59+00:00", "\ud800", "\x00", "\x1b[2J", "../../etc/passwd",
    "9**9**9**9", "é" * 500, [], [[]], [None], {}, {"value": 1, "unit": "g"}, {"value": 1, "unit": "degC"},
    {"value": "1", "unit": "g"}, {"kind": "note_written"}, [1] * 50,
)  # fmt: skip
"""Values that do not belong where they are put."""
PIECES = (b'"', b"{", b"}", b"[", b"]", b",", b"NaN", b"1e999", b"\\ud800", b"9" * 50)
"""Bytes that mean something in JSON."""


def lived_through(session: Session) -> None:
    """Everything that is done with a session that could be read."""
    state = fold(session)
    compute(state.plan)
    assert len(log_lines(session)) == len(session.entries)
    assert decode(encode(session)).session == session


def borne(data: bytes, journal: bytes | None = None) -> bool:
    """Open a file like any other; True if it was a session. Anything but a sentence fails the test."""
    files = {PATH.name: data} | ({f"{PATH.name}.journal": journal} if journal is not None else {})
    fs = MemoryFs(files)
    told = problems(PATH, fs)
    assert card(PATH, fs).path == PATH
    opened = sentence_or_session(fs)
    if isinstance(opened, SessionError):
        assert opened.problems
        assert opened.problems == told
        return False
    lived_through(opened.session)
    opened.file.close()
    return True


def sentence_or_session(fs: MemoryFs) -> Opened | SessionError:
    """Open, and give what came of it."""
    try:
        return SessionFile.open(PATH, fs=fs)
    except SessionError as error:
        return error


def damaged_bytes(chance: random.Random, data: bytes) -> bytes:
    """Change, drop, double or cut some bytes."""
    text = bytearray(data)
    for _ in range(chance.choice((1, 1, 2, 5))):
        place = chance.randrange(len(text) + 1)
        what = chance.randrange(5)
        if what == 0:
            text[place : place + 1] = bytes([chance.randrange(256)])
        elif what == 1:
            del text[place : place + chance.randrange(1, 40)]
        elif what == 2:
            text[place:place] = text[place : place + chance.randrange(1, 40)]
        elif what == 3:
            text[place:place] = chance.choice(
                (b'"', b"{", b"}", b"[", b"]", b",", b"NaN", b"1e999", b"\\ud800", b"9" * 50)
            )
        else:
            del text[place:]
        if not text:
            text = bytearray(b" ")
    return bytes(text)


def damaged_values(chance: random.Random) -> bytes:
    """Put values where they do not belong, take some away, add some, all in sound JSON."""
    raw = json.loads(TEXT)
    for _ in range(chance.choice((1, 1, 2, 4))):
        owner = _somewhere(chance, raw)
        if isinstance(owner, dict) and owner:
            key = chance.choice(list(owner))
            what = chance.randrange(4)
            if what == 0:
                del owner[key]
            elif what == 1:
                owner[chance.choice(("extra", "seq", "kind", "value", key + "_"))] = deepcopy(chance.choice(ODD))
            else:
                owner[key] = deepcopy(chance.choice(ODD))
        elif isinstance(owner, list):
            owner.insert(chance.randrange(len(owner) + 1), deepcopy(chance.choice((*ODD, *owner))))
    return json.dumps(raw).encode()


def _somewhere(chance: random.Random, value: Any) -> Any:
    """Walk down to some object or list."""
    while chance.random() < 0.75:
        inner = [item for item in _items(value) if isinstance(item, dict | list)]
        if not inner:
            break
        value = chance.choice(inner)
    return value


def _items(value: Any) -> list[Any]:
    return list(value.values()) if isinstance(value, dict) else value


@pytest.mark.long
@pytest.mark.parametrize("seed", range(3))
def test_thousands_of_damaged_files(seed: int) -> None:
    """Of thousands of damaged files each gives a session or a sentence."""
    chance = random.Random(seed)
    good = 0
    for _ in range(FILES // 2):
        good += borne(damaged_values(chance))
        good += borne(damaged_bytes(chance, TEXT), damaged_bytes(chance, JOURNAL) if chance.random() < 0.3 else None)
    assert 0 < good < FILES


def test_some_damaged_files() -> None:
    """The same with fewer files, for every run."""
    chance = random.Random(99)
    for _ in range(100):
        borne(damaged_values(chance))
        borne(damaged_bytes(chance, TEXT), damaged_bytes(chance, JOURNAL))


@given(JSON)
def test_any_json_is_borne(value: object) -> None:
    """Whatever JSON a file holds, it is told."""
    assert not borne(json.dumps(value).encode())


@given(st.dictionaries(st.sampled_from(sorted(RAW)), JSON))
def test_any_json_under_our_names_is_borne(values: dict[str, object]) -> None:
    """The same with values of any kind under the names of a session file."""
    borne(json.dumps({**RAW, **values}).encode())


@given(st.binary(max_size=200))
def test_any_bytes_are_borne(data: bytes) -> None:
    """The same for bytes that are nothing at all."""
    assert not borne(data)


@pytest.mark.parametrize("place", ["file", "journal"])
def test_cut_anywhere(place: str) -> None:
    """A file that ends early is told, a journal that ends early is continued; wherever the cut is."""
    whole = TEXT if place == "file" else JOURNAL
    for cut in range(0, len(whole) - 1, 7 if place == "file" else 13):
        if place == "file":
            assert not borne(whole[:cut])
        else:
            assert borne(encode(DAY.upto(0)), whole[:cut])


def test_a_log_of_undos_of_undos_is_borne() -> None:
    """A long chain of undos takes no unreasonable time and names what it is about."""
    long = session(NoteWritten("blue"), *(Undone(seq) for seq in range(1, 601)))
    lines = log_lines(long)
    assert lines[1].endswith("Taken back: Note: blue [taken back]")
    assert lines[-1].endswith("Brought back: Note: blue")
