"""A glance at a session file agrees with reading it in full, and touches nothing heavy."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.log.makers import a_day, session
from tests.log.strategies import sessions
from tests.storage.memory_fs import MemoryFs

from vatside.log.events.day import OF_LOOKING, ClockSlept, NoteWritten, SessionReopened, WaitEnded
from vatside.log.events.vat import DipEnded, DipStarted, PieceDone
from vatside.log.fold import fold
from vatside.log.state import Session, is_over, last_act
from vatside.storage.file_format import VERSION
from vatside.storage.glance import LOOKS, Glance, Odd, glance
from vatside.storage.journal import entry_record
from vatside.storage.session_text import encode

PATH = Path("/sessions/day.json")
DAY = session(*a_day())


def disk(whole: Session, upto: int, journal: bytes | None = None) -> MemoryFs:
    """A session of which the file holds the first entries and the journal the rest."""
    if journal is None:
        journal = b"".join(entry_record(whole.id, entry) for entry in whole.entries[upto:])
    return MemoryFs({PATH.name: encode(whole.upto(upto)), f"{PATH.name}.journal": journal})


@given(sessions(), st.integers(0, 20))
def test_a_glance_sees_what_a_fold_works_out(random: Session, upto: int) -> None:
    """Title, moments, open waits and its end are those of the fold, whatever the log and wherever it is split.

    Only where a piece went into the vat it may say that it needs a closer look.
    """
    state, act = fold(random), last_act(random.entries)
    last = act.at.utc if act else None
    waits, wanted = len(state.waits), state.plan.ready_by
    expected = Glance(state.plan.title, random.created, last, random.seq, waits, wanted, is_over(state))
    try:
        seen = glance(disk(random, upto), PATH)
    except Odd:
        assert any(isinstance(entry.event, DipStarted) for entry in random.entries)
    else:
        assert seen == expected


def test_a_look_at_a_day_does_not_make_it_the_latest() -> None:
    """Opened again later, it stands in the list by the last thing that was done in it."""
    whole = session(NoteWritten("dry"), SessionReopened(), ClockSlept(60))
    assert glance(disk(whole, 1), PATH).last == whole.entries[0].at.utc
    assert tuple(event.kind for event in OF_LOOKING) == LOOKS


def test_a_day_whose_pieces_are_all_done_is_seen_at_a_glance() -> None:
    """Once every piece has had its last dip no closer look is needed."""
    dips = (DipStarted("a.1", 5), DipEnded("a.1", 15), DipStarted("a.2", 5))
    with pytest.raises(Odd):
        glance(disk(session(*dips), 2), PATH)
    done = session(*dips, PieceDone("a.1"), DipEnded("a.2", 15), WaitEnded("a.2:air1"))
    assert glance(disk(done, 2), PATH).waits == len(fold(done).waits) == 0


@pytest.mark.parametrize(
    "journal",
    [b"torn", entry_record("other", DAY.entries[0]), entry_record("s1", DAY.entries[7])],
    ids=["torn", "another session", "a gap"],
)
def test_anything_odd_needs_a_closer_look(journal: bytes) -> None:
    """A glance never explains; it passes on what it does not understand."""
    with pytest.raises(Odd):
        glance(disk(DAY, 3, journal), PATH)


def test_a_newer_file_needs_a_closer_look() -> None:
    """What a newer version wrote is not guessed at."""
    fs = MemoryFs({PATH.name: encode(DAY).replace(b'"version": %d' % VERSION, b'"version": %d' % (VERSION + 1))})
    with pytest.raises(Odd):
        glance(fs, PATH)


def test_listing_sessions_loads_nothing_heavy(tmp_path: Path) -> None:
    """A list of sound sessions comes without pint, cattrs and the catalogue."""
    (tmp_path / "day.json").write_bytes(encode(DAY))
    code = (
        "import sys, pathlib; from vatside.storage.folder import list_sessions; "
        "print(list_sessions(pathlib.Path(sys.argv[1]))[0].title, "
        "[name for name in ('pint', 'cattrs', 'vatside.catalogue.load') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "Blue Sunday []"
