"""The journal's bytes: cut anywhere, flipped anywhere, padded, doubled, mixed up."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.log.makers import a_day, session
from tests.log.strategies import sessions
from tests.storage.memory_fs import MemoryFs

from vatside.log.state import Session
from vatside.storage.journal import entry_record, merge, read_journal
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import encode

DAY = session(*a_day())
RECORDS = [entry_record(DAY.id, entry) for entry in DAY.entries]
JOURNAL = b"".join(RECORDS)
PATH = Path("/sessions/day.json")


def opened(journal: bytes, upto: int = 0) -> tuple[MemoryFs, int, str | None, tuple[str, ...]]:
    """Open a file that holds the first entries with a journal beside it: entries found, why read-only, notices."""
    fs = MemoryFs({PATH.name: encode(DAY.upto(upto)), f"{PATH.name}.journal": journal})
    found = SessionFile.open(PATH, fs=fs)
    assert found.session.entries == DAY.entries[: found.session.seq]
    return fs, found.session.seq, found.readonly, found.notices


def kept(fs: MemoryFs) -> bytes:
    """What was put aside as torn."""
    return b"".join(content for name, content in fs.files().items() if ".torn-" in name)


def test_a_record_is_one_line_sealed() -> None:
    """Each record is one line that names its number, its seal, its session and its event."""
    assert RECORDS[0].startswith(b'{"seq":1,"crc":"')
    assert RECORDS[0].endswith(b"}\n")
    assert all(record.count(b"\n") == 1 for record in RECORDS)


def test_a_whole_journal_is_read_whole() -> None:
    """All records come back, and nothing is torn."""
    read = read_journal(JOURNAL)
    assert [record.entry for record in read.records] == list(DAY.entries)
    assert (read.good, read.torn, read.damage) == (len(JOURNAL), b"", None)


def test_cut_at_every_byte_of_the_last_records() -> None:
    """Wherever the journal breaks off, the whole records before are there, and the rest is put aside, told, and cut."""
    start = len(b"".join(RECORDS[:-3]))
    for cut in range(start, len(JOURNAL)):
        fs, count, readonly, notices = opened(JOURNAL[:cut])
        whole = JOURNAL[:cut].count(b"\n")
        torn = JOURNAL[:cut].rpartition(b"\n")[2]
        assert (count, readonly) == (whole, None)
        assert kept(fs) == torn
        assert len(notices) == bool(torn)
        assert fs.files()[f"{PATH.name}.journal"] == JOURNAL[: cut - len(torn)]


@pytest.mark.parametrize("bit", [0, 3, 7])
def test_a_flipped_bit_anywhere_in_the_last_records(bit: int) -> None:
    """No damaged record passes for a good one; nothing before it is lost, and nothing of it is thrown away."""
    start = len(b"".join(RECORDS[:-3]))
    for place in range(start, len(JOURNAL)):
        data = bytearray(JOURNAL)
        data[place] ^= 1 << bit
        fs, count, readonly, _ = opened(bytes(data))
        hit = JOURNAL[:place].count(b"\n")
        assert hit <= count <= len(RECORDS)
        if count < len(RECORDS):
            assert readonly is not None or kept(fs) == bytes(data)[len(b"".join(RECORDS[:count])) :]
        if readonly is not None:
            assert fs.files()[f"{PATH.name}.journal"] == bytes(data)


def test_a_flip_is_always_noticed() -> None:
    """A checksum of 32 bits catches every single flipped bit of an event."""
    record = RECORDS[1]
    for place in range(record.index(b'"event"') + 8, len(record) - 2):
        for bit in range(8):
            data = bytearray(record)
            data[place] ^= 1 << bit
            assert read_journal(bytes(data)).records == ()


def test_zeros_at_the_end() -> None:
    """A file system that made room and did not fill it leaves zeros: they are put aside."""
    fs, count, readonly, notices = opened(JOURNAL + b"\0" * 4096)
    assert (count, readonly, len(notices)) == (len(RECORDS), None, 1)
    assert kept(fs) == b"\0" * 4096


def test_a_doubled_record_counts_once() -> None:
    """A record written twice is one entry."""
    _, count, readonly, _ = opened(JOURNAL + RECORDS[-1])
    assert (count, readonly) == (len(RECORDS), None)


def test_an_editors_line_ends_do_no_harm() -> None:
    """Windows line ends, put in by an editor, are read as before."""
    _, count, readonly, notices = opened(JOURNAL.replace(b"\n", b"\r\n"))
    assert (count, readonly, notices) == (len(RECORDS), None, ())


@pytest.mark.parametrize(
    ("journal", "count"),
    [
        pytest.param(b"".join(RECORDS[:4] + RECORDS[5:]), 4, id="a record missing in the middle"),
        pytest.param(b"".join(RECORDS[:4]) + b"garbage\n" + b"".join(RECORDS[5:]), 4, id="garbage in the middle"),
        pytest.param(b"\xef\xbb\xbf" + JOURNAL, 0, id="a byte-order mark"),
        pytest.param(b"".join(RECORDS[:4]) + b"\n" + b"".join(RECORDS[4:]), 4, id="an empty line in the middle"),
        pytest.param(b"".join(RECORDS[:4]) + b"x\ny\n", 4, id="several bad lines at the end"),
        pytest.param(b"".join(RECORDS[3:]), 0, id="the beginning missing"),
        pytest.param(b"".join(RECORDS[:3] + RECORDS[6:8] + RECORDS[3:6]), 3, id="records mixed up"),
        pytest.param(JOURNAL.replace(b'"session":"s1"', b'"session":"s2"'), 0, id="seals of another session"),
        pytest.param(b"".join(entry_record("s2", entry) for entry in DAY.entries), 0, id="another session"),
    ],
)
def test_damage_in_the_middle_is_looked_at_only(journal: bytes, count: int) -> None:
    """Damage that no power cut explains is never cut away: the session opens read-only, and no byte changes."""
    fs = MemoryFs({PATH.name: encode(DAY.upto(0)), f"{PATH.name}.journal": journal})
    before = fs.files()
    found = SessionFile.open(PATH, fs=fs)
    assert found.session.seq == count
    assert found.readonly is not None
    assert fs.files() == before
    found.file.close()
    assert fs.files() == before


def test_records_that_the_file_holds_already_are_passed_over() -> None:
    """A crash between writing the file and emptying the journal does no harm."""
    for upto in range(len(RECORDS) + 1):
        _, count, readonly, _ = opened(JOURNAL, upto)
        assert (count, readonly) == (len(RECORDS), None)


def test_two_stories_of_one_entry_are_told() -> None:
    """If file and journal disagree about an entry, nobody decides silently which one is right."""
    other = evolve(DAY, entries=(DAY.entries[1].__class__(1, DAY.entries[0].at, DAY.entries[5].event),))
    merged = merge(other, read_journal(JOURNAL))
    assert merged.session == other
    assert merged.damage == "the file and its journal tell entry 1 differently"


def test_a_gap_between_file_and_journal_is_told() -> None:
    """An older file put back beside a younger journal is not continued as if nothing were missing."""
    merged = merge(DAY.upto(2), read_journal(b"".join(RECORDS[5:])))
    assert merged.session == DAY.upto(2)
    assert merged.damage == "entries 3 to 5 are missing between the file and its journal"
    one = merge(DAY.upto(2), read_journal(b"".join(RECORDS[3:])))
    assert one.damage == "entry 3 is missing between the file and its journal"


@given(sessions(), st.integers(0, 30))
def test_file_and_journal_together_are_the_session(random_session: Session, upto: int) -> None:
    """However the entries are split between the two, the whole session comes back."""
    data = b"".join(entry_record(random_session.id, entry) for entry in random_session.entries)
    merged = merge(random_session.upto(upto), read_journal(data))
    assert merged.damage is None
    assert merged.session == random_session


@given(st.binary(max_size=300))
def test_any_bytes_are_borne(data: bytes) -> None:
    """Reading a journal never fails, and accounts for every byte."""
    read = read_journal(data)
    assert read.good + len(read.torn) == len(data) or read.damage


def test_random_damage_never_invents_an_entry() -> None:
    """Under any number of changed bytes, what is read is a beginning of the true log."""
    chance = random.Random(7)
    for _ in range(500):
        data = bytearray(JOURNAL)
        for _ in range(chance.randint(1, 20)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        records = read_journal(bytes(data)).records
        assert [record.entry for record in records] == list(DAY.entries[: len(records)])
