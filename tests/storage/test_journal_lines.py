"""A journal whose lines were doubled, mixed up, lost or brought in from elsewhere: nothing is dropped in silence."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st
from tests.log.makers import a_day, session
from tests.storage.memory_fs import MemoryFs

from vatside.log.events.day import NoteWritten
from vatside.storage.journal import entry_record
from vatside.storage.places import journal_path
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import decode, encode, load

PATH = Path("/day.json")
DAY = decode(encode(session(*a_day()))).session
LINES = [entry_record(DAY.id, entry) for entry in DAY.entries]
FOREIGN = [entry_record("another", entry) for entry in session(*[NoteWritten("theirs")] * 6).entries]
OTHER = [entry_record(DAY.id, entry) for entry in session(*[NoteWritten("another tale")] * 6).entries]


def disk(held: int, lines: list[bytes]) -> MemoryFs:
    """A file that holds so many entries, and a journal of these lines."""
    return MemoryFs({PATH.name: encode(DAY.upto(held), goes_on=True), journal_path(PATH).name: b"".join(lines)})


@given(st.integers(0, len(LINES)), st.lists(st.sampled_from([*LINES, *FOREIGN, *OTHER]), max_size=25))
def test_whatever_stands_in_a_journal(held: int, lines: list[bytes]) -> None:
    """What the file holds is shown; where a line of the journal is not, it is told and nothing is written."""
    fs = disk(held, lines)
    before = fs.files()
    loaded = load(fs, PATH)
    shown = loaded.session.entries
    assert shown[:held] == DAY.entries[:held]
    left_out = [line for line in lines if line not in [entry_record(DAY.id, entry) for entry in shown]]
    assert bool(loaded.damage) == bool(left_out)
    opened = SessionFile.open(PATH, fs=fs)
    assert (opened.readonly is not None) == bool(left_out)
    if left_out:
        assert fs.files() == before


@given(st.integers(0, len(LINES)), st.data())
def test_doubled_lines_are_one(held: int, data: st.DataObject) -> None:
    """A line that stands there twice, or that the file holds already, is the same entry."""
    lines = [line for line in LINES for _ in range(data.draw(st.integers(1, 3)))]
    loaded = load(disk(held, lines), PATH)
    assert loaded.session.entries == DAY.entries
    assert not loaded.damage
