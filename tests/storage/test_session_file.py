"""The session file on a real disk: one writer, links and modes, foreign hands, and what is said about it."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, a_day, session
from tests.log.strategies import sessions
from tests.plan.plans import wool_plan
from tests.storage.memory_fs import MemoryFs

from vatside.log.events.day import NoteWritten, PlanChanged, WaitStarted
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.plain.file_contents import problems
from vatside.storage import session_file
from vatside.storage.file_format import VERSION, too_new
from vatside.storage.files import Fs, Lock, Stamp
from vatside.storage.flaws import SessionError, reason
from vatside.storage.session_file import ReadOnly, SessionFile
from vatside.storage.session_text import decode, encode
from vatside.units import Amount

NOW = VirtualClock(CREATED).now()


@pytest.fixture(name="path")
def _path(tmp_path: Path) -> Path:
    return tmp_path / "sessions" / "day.json"


@pytest.fixture(name="file")
def _file(path: Path) -> SessionFile:
    return SessionFile.create(path, wool_plan("Day"), NOW)


def note(file: SessionFile, text: str = "a note") -> None:
    """Log a note."""
    file.append(NoteWritten(text), NOW)


def on_disk(path: Path) -> list[str]:
    """The notes that a second reader finds."""
    return [note.text for note in fold(SessionFile.open(path, readonly=True).session).notes]


def aside(path: Path) -> Path:
    """Where ours is kept once the file is another program's."""
    return path.with_name("day-kept.json")


def test_a_new_session_is_on_the_disk_at_once(file: SessionFile, path: Path) -> None:
    """Creating writes a whole file, in a folder that only its owner can enter, readable by its owner alone."""
    assert decode(path.read_bytes()).session == file.session
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700


def test_an_entry_is_on_the_disk_when_append_returns(file: SessionFile, path: Path) -> None:
    """What append returned, another process can read."""
    entry = file.append(NoteWritten("½ lb"), NOW)
    assert SessionFile.open(path, readonly=True).session.entries == (entry,)
    assert (file.unsaved, file.trouble) == ((), None)


def test_the_file_itself_is_not_touched_by_an_entry(file: SessionFile, path: Path) -> None:
    """While the day goes on entries go into the journal; the file is written once, to say that they do."""
    note(file)
    before = path.read_bytes()
    assert decode(before).goes_on
    assert decode(before).session.entries == ()
    note(file)
    assert path.read_bytes() == before


def test_a_copy_without_its_journal_says_that_it_is_behind(file: SessionFile, path: Path) -> None:
    """Copied in the middle of a day, the file alone names what is missing and where that stands; so does check."""
    note(file)
    alone = path.with_name("stick.json")
    alone.write_bytes(path.read_bytes())
    opened = SessionFile.open(alone, readonly=True)
    (said,) = opened.notices
    assert said == (
        "stick.json was copied while the day went on: all that was logged stands in stick.json.journal, "
        "which is not beside it; copy both"
    )
    assert problems(alone) == (said,)
    opened.file.close()


def test_a_copy_with_its_journal_is_whole(file: SessionFile, path: Path) -> None:
    """Both files together are the session, and nothing is said."""
    note(file)
    for name in ("day.json", "day.json.journal"):
        path.with_name(name.replace("day", "stick")).write_bytes(path.with_name(name).read_bytes())
    opened = SessionFile.open(path.with_name("stick.json"), readonly=True)
    assert opened.notices == ()
    assert opened.session == file.session


def test_a_closed_day_is_whole_in_one_file(file: SessionFile, path: Path) -> None:
    """After closing, the file alone can be taken anywhere; so can one that was opened again and only looked at."""
    note(file)
    file.close()
    for readonly in (False, True):
        SessionFile.open(path, readonly=readonly).file.close()
        assert not decode(path.read_bytes()).goes_on
        assert problems(path) == ()


def test_a_copy_that_is_behind_can_be_gone_on_with(file: SessionFile, path: Path) -> None:
    """It is told when it is opened; what is logged in it then is whole like any other day."""
    note(file)
    alone = path.with_name("stick.json")
    alone.write_bytes(path.read_bytes())
    opened = SessionFile.open(alone)
    assert opened.readonly is None
    assert "copied while the day went on" in opened.notices[0]
    note(opened.file)
    opened.file.close()
    assert SessionFile.open(alone, readonly=True).notices == ()


def test_a_mark_that_is_no_mark_is_refused() -> None:
    """The head says true, or nothing."""
    text = encode(Session("a", NOW.utc, wool_plan()), goes_on=True)
    assert decode(text).goes_on
    with pytest.raises(SessionError, match="goes_on_in_journal: must be true"):
        decode(text.replace(b'"goes_on_in_journal": true', b'"goes_on_in_journal": 3'))


def test_closing_puts_everything_into_one_file(file: SessionFile, path: Path) -> None:
    """After closing, the file alone is the session, and the journal is gone."""
    note(file)
    assert file.close() is None
    assert decode(path.read_bytes()).session == file.session
    assert not path.with_name("day.json.journal").exists()


def test_closing_an_untouched_session_writes_nothing(file: SessionFile, path: Path) -> None:
    """Looking and leaving changes no byte and leaves no backup."""
    file.close()
    before = path.stat()
    SessionFile.open(path).file.close()
    assert path.stat().st_mtime_ns == before.st_mtime_ns
    assert sorted(found.name for found in path.parent.iterdir()) == ["day.json", "day.json.lock"]


def test_the_journal_is_tidied_away_every_so_often(
    file: SessionFile, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A long day does not make an endless journal."""
    monkeypatch.setattr(session_file, "TIDY_EVERY", 10)
    file.close()
    file = SessionFile.open(path).file
    for _ in range(25):
        note(file)
    assert decode(path.read_bytes()).session.seq == 20
    assert path.with_name("day.json.journal").read_bytes().count(b"\n") == 5
    assert len(on_disk(path)) == 25


def test_the_content_before_stays_as_a_backup(file: SessionFile, path: Path) -> None:
    """Replacing the file keeps the one before."""
    note(file)
    before = path.read_bytes()
    file.close()
    assert path.with_name("day.json.bak").read_bytes() == before


def test_a_session_goes_on_after_reopening(file: SessionFile, path: Path) -> None:
    """Numbers, plan and log go on where they stopped."""
    note(file)
    file.close()
    opened = SessionFile.open(path)
    assert (opened.readonly, opened.notices) == (None, ())
    assert opened.file.append(NoteWritten("b"), NOW).seq == 2
    assert opened.file.session.id == file.session.id


def test_a_second_window_reads_only(file: SessionFile, path: Path) -> None:
    """Only one writer: the second opener sees the log so far and is told why it cannot add to it."""
    note(file)
    second = SessionFile.open(path)
    assert second.readonly == "it is open in another window"
    assert second.session.seq == 1
    with pytest.raises(ReadOnly, match="another window"):
        note(second.file)
    second.file.close()
    note(file)
    assert len(on_disk(path)) == 2


def test_a_second_process_reads_only(file: SessionFile, path: Path) -> None:
    """The same between processes."""
    code = (
        "import sys, pathlib; from vatside.storage.session_file import SessionFile; "
        "print(SessionFile.open(pathlib.Path(sys.argv[1])).readonly)"
    )
    note(file)
    done = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "it is open in another window"


def test_a_closed_session_is_free_again(file: SessionFile, path: Path) -> None:
    """Once the first window is closed, the next one writes; the first one does not any more."""
    file.close()
    assert SessionFile.open(path).readonly is None
    with pytest.raises(ReadOnly):
        note(file)


def test_a_lock_that_someone_died_with_is_free(path: Path) -> None:
    """The lock file stays behind when the holder is killed, and locks nobody out."""
    code = (
        "import sys, os, pathlib; from vatside.storage.session_file import SessionFile; "
        "from vatside.plan.starter import starter_plan; from vatside.clocks.clock import SystemClock; "
        "file = SessionFile.create(pathlib.Path(sys.argv[1]), starter_plan(), SystemClock().now()); "
        "os.kill(os.getpid(), 9)"
    )
    subprocess.run([sys.executable, "-c", code, str(path)], check=False)
    assert path.with_name("day.json.lock").exists()
    assert SessionFile.open(path).readonly is None


def test_looking_only_leaves_no_trace(file: SessionFile, path: Path) -> None:
    """Opening to look at takes no lock and writes nothing."""
    file.close()
    path.with_name("day.json.lock").unlink()
    assert SessionFile.open(path, readonly=True).readonly is not None
    assert [found.name for found in path.parent.iterdir()] == ["day.json"]


def test_nothing_is_ever_created_over_something(file: SessionFile, path: Path) -> None:
    """A name that is taken is refused, whether by this session, another file or what one left behind."""
    file.close()
    for name in ("day.json", "other.json", "left.json"):
        taken = path.with_name(name)
        if name == "other.json":
            taken.write_text("mine")
        if name == "left.json":
            taken.with_name("left.json.journal").write_text("somebody's entries\n")
        before = {found: found.read_bytes() for found in path.parent.iterdir()}
        with pytest.raises(SessionError, match="there"):
            SessionFile.create(taken, wool_plan(), NOW)
        assert {found: found.read_bytes() for found in before} == before


def test_a_link_stays_a_link(file: SessionFile, path: Path, tmp_path: Path) -> None:
    """A session opened through a link is written where the link leads."""
    file.close()
    link = tmp_path / "link.json"
    link.symlink_to(path)
    opened = SessionFile.open(link).file
    note(opened)
    opened.close()
    assert link.is_symlink()
    assert len(on_disk(path)) == 1


def test_two_names_are_one_lock(file: SessionFile, path: Path, tmp_path: Path) -> None:
    """A second window through a link is a second window."""
    link = tmp_path / "link.json"
    link.symlink_to(path)
    note(file)
    assert SessionFile.open(link).readonly == "it is open in another window"


@pytest.mark.parametrize("umask", [0o000, 0o022, 0o077, 0o777])
def test_nothing_we_make_is_open_to_others(tmp_path: Path, umask: int) -> None:
    """Whatever the umask is, the file, its journal, lock and backup and every folder above are the owner's alone."""
    path, old = tmp_path / "mine" / "sessions" / "day.json", os.umask(umask)
    try:
        file = SessionFile.create(path, wool_plan(), NOW)
        note(file)
        modes = {found.name: found.stat().st_mode & 0o777 for found in (tmp_path / "mine").rglob("*")}
        file.close()
    finally:
        os.umask(old)
    assert modes.pop("sessions") == 0o700
    assert (tmp_path / "mine").stat().st_mode & 0o777 == 0o700
    assert modes == dict.fromkeys(("day.json", "day.json.bak", "day.json.journal", "day.json.lock"), 0o600)


def test_a_files_mode_stays(file: SessionFile, path: Path) -> None:
    """Whoever let others read the file finds it so after the next save, the journal likewise."""
    file.close()
    path.chmod(0o664)
    opened = SessionFile.open(path).file
    note(opened)
    assert path.with_name("day.json.journal").stat().st_mode & 0o777 == 0o664
    opened.close()
    assert path.stat().st_mode & 0o777 == 0o664


def test_a_write_protected_file_is_respected(file: SessionFile, path: Path) -> None:
    """A file that nobody may write is only looked at, even by one who could."""
    file.close()
    path.chmod(0o444)
    assert SessionFile.open(path).readonly == "the file is write-protected"


def test_an_editors_change_is_not_written_over(file: SessionFile, path: Path) -> None:
    """If another program wrote to the file meanwhile, its content stays, ours is in the journal, and it is told."""
    note(file)
    changed = path.read_bytes().replace(b'"title":"Day"', b'"title":"Edited"')
    path.write_bytes(changed)
    note(file)
    assert file.unsaved == ()
    told = file.close()
    assert told == f"saved, but not tidied: another program changed day.json ({path})"
    assert path.read_bytes() == changed
    again = SessionFile.open(path)
    assert (again.session.plan.title, again.session.seq) == ("Edited", 2)


def test_a_journal_that_someone_else_wrote_to_is_left_alone(file: SessionFile, path: Path) -> None:
    """Where locks do not hold, a second writer's records are not cut off; ours stay in memory, and it is told."""
    note(file)
    journal = path.with_name("day.json.journal")
    with journal.open("ab") as other:
        other.write(b"from elsewhere\n")
    before = journal.read_bytes()
    note(file)
    assert len(file.unsaved) == 1
    assert file.trouble == f"not saved: another program changed day.json.journal ({path})"
    assert file.close() == f"another program changed day.json: the day as it was here is kept in {aside(path)}"
    assert journal.read_bytes() == before
    assert on_disk(aside(path)) == ["a note", "a note"]


@pytest.mark.parametrize("other", [b"{", b"", encode(Session("other", CREATED, wool_plan("Other")))])
def test_a_file_that_was_replaced_is_noticed_and_left_alone(file: SessionFile, path: Path, other: bytes) -> None:
    """It is told at the first look, what is logged after it is kept, and all of ours stands beside it at the end."""
    note(file, "before")
    file.close()
    file = SessionFile.open(path).file
    assert not file.look()
    path.write_bytes(other)
    assert file.look()
    assert file.foreign
    assert not file.look()
    note(file, "after")
    assert file.look() is False
    assert str(file.close()).endswith(f"the day as it was here is kept in {aside(path)}")
    assert path.read_bytes() == other
    assert on_disk(aside(path)) == ["before", "after"]


def test_a_file_that_was_only_touched_is_ours(file: SessionFile, path: Path) -> None:
    """A program that copies the file back as it was, or touches it, has changed nothing; the day goes on."""
    note(file, "a")
    copy = path.read_bytes()
    path.unlink()
    path.write_bytes(copy)
    assert not file.look()
    assert not file.foreign
    note(file, "b")
    assert file.close() is None
    assert on_disk(path) == ["a", "b"]


def test_a_file_put_back_to_an_earlier_state_is_noticed(file: SessionFile, path: Path) -> None:
    """An older copy of our own file lacks entries that the journal does not have: it is not ours any more."""
    earlier = path.read_bytes()
    note(file, "a")
    file.close()
    file = SessionFile.open(path).file
    path.write_bytes(earlier)
    assert file.look()
    note(file, "b")
    file.close()
    assert on_disk(aside(path)) == ["a", "b"]


def test_a_journal_deleted_while_running_is_made_anew(file: SessionFile, path: Path) -> None:
    """Entries never go into a file that nobody can find any more."""
    note(file, "a")
    path.with_name("day.json.journal").unlink()
    note(file, "b")
    note(file, "c")
    assert file.unsaved == ()
    assert on_disk(path) == ["a", "b", "c"]


def test_a_session_file_deleted_while_running_comes_back(file: SessionFile, path: Path) -> None:
    """The session on the bench outlives its file."""
    note(file, "a")
    path.unlink()
    note(file, "b")
    assert file.close() is None
    assert on_disk(path) == ["a", "b"]


def test_a_folder_deleted_while_running_is_told(file: SessionFile, path: Path, tmp_path: Path) -> None:
    """Without its folder the session stays in memory until it is saved elsewhere."""
    note(file, "a")
    for found in path.parent.iterdir():
        found.unlink()
    path.parent.rmdir()
    note(file, "b")
    assert len(file.unsaved) == 1
    assert file.trouble is not None
    assert "gone" in file.trouble
    file.save_elsewhere(tmp_path / "new" / "day.json")
    assert on_disk(tmp_path / "new" / "day.json") == ["a", "b"]


def test_a_folder_replaced_by_a_file_is_told(file: SessionFile, path: Path) -> None:
    """The same if something else stands where the folder was."""
    note(file)
    path.parent.rename(path.parent.with_name("away"))
    path.parent.write_text("a file")
    note(file)
    assert file.trouble is not None
    assert len(file.unsaved) == 1


@pytest.mark.parametrize("kind", ["folder", "pipe", "dangling", "loop", "missing", "long", "null"])
def test_what_is_no_file_is_refused_without_hanging(tmp_path: Path, kind: str) -> None:
    """A folder, a pipe, a dangling or circular link, nothing at all: one sentence each, and no waiting."""
    path = tmp_path / "day.json"
    if kind == "folder":
        path.mkdir()
    elif kind == "pipe":
        os.mkfifo(path)
    elif kind == "dangling":
        path.symlink_to(tmp_path / "nowhere.json")
    elif kind == "loop":
        path.symlink_to(path)
    elif kind == "long":
        path = tmp_path / ("x" * 300 + ".json")
    elif kind == "null":
        path = tmp_path / "a\0b.json"
    with pytest.raises(SessionError) as caught:
        SessionFile.open(path)
    assert len(caught.value.problems) == 1


def test_a_session_cannot_be_created_over_a_folder_or_a_pipe(tmp_path: Path) -> None:
    """What stands in the way is told."""
    (tmp_path / "folder.json").mkdir()
    os.mkfifo(tmp_path / "pipe.json")
    for name in ("folder.json", "pipe.json"):
        with pytest.raises(SessionError, match="there already"):
            SessionFile.create(tmp_path / name, wool_plan(), NOW)


def test_a_pipe_for_a_journal_does_not_hang(file: SessionFile, path: Path) -> None:
    """Something odd in the journal's place makes the session read-only."""
    file.close()
    os.mkfifo(path.with_name("day.json.journal"))
    assert "no plain file" in str(SessionFile.open(path).readonly)


def test_a_file_too_large_is_not_read(tmp_path: Path) -> None:
    """Beyond 50 MB nothing is read."""
    path = tmp_path / "big.json"
    with path.open("wb") as big:
        big.truncate(50_000_001)
    with pytest.raises(SessionError, match="larger than 50 MB"):
        SessionFile.open(path)


def test_a_damaged_file_shows_its_backup(file: SessionFile, path: Path) -> None:
    """If the file cannot be read, its backup is shown, to look at only, and the damaged file stays as it is."""
    note(file, "a")
    file.close()
    damaged = path.read_bytes()[:-40]
    path.write_bytes(damaged)
    opened = SessionFile.open(path)
    assert opened.readonly is not None
    assert "day.json.bak" in opened.readonly
    assert opened.session.seq == 0
    opened.file.close()
    assert path.read_bytes() == damaged


def test_a_damaged_file_can_be_saved_elsewhere(file: SessionFile, path: Path, tmp_path: Path) -> None:
    """What can still be shown of a damaged session can be carried on in a new file."""
    note(file, "a")
    file.close()
    path.write_bytes(b"broken")
    opened = SessionFile.open(path).file
    opened.save_elsewhere(tmp_path / "new.json")
    note(opened, "b")
    assert opened.close() is None
    assert on_disk(tmp_path / "new.json") == ["b"]


def test_a_file_of_a_newer_version_is_looked_at_only(tmp_path: Path) -> None:
    """A newer version that can be read is shown with the version named, and not written."""
    path = tmp_path / "new.json"
    data = encode(session(*a_day())).replace(b'"version": %d' % VERSION, b'"version": %d' % (VERSION + 1))
    path.write_bytes(data)
    opened = SessionFile.open(path)
    assert opened.readonly == too_new(VERSION + 1)
    opened.file.close()
    assert path.read_bytes() == data


def test_an_old_version_is_kept_once(file: SessionFile, path: Path) -> None:
    """Before the first save after a migration the old file is put aside under its version."""
    file.close()
    old = path.read_bytes()
    opened = SessionFile.open(path).file
    opened._version = 0
    note(opened)
    opened.close()
    assert path.with_name("day.json.bak.v0").read_bytes() == old


def test_leftovers_of_a_dead_writer_are_cleared(file: SessionFile, path: Path) -> None:
    """Temporary files of a writer that died go when the next one opens; other files stay."""
    file.close()
    left, other = path.with_name(".day.json.12.abcd1234.tmp"), path.with_name(".other.json.12.abcd1234.tmp")
    left.touch()
    other.touch()
    SessionFile.open(path).file.close()
    assert not left.exists()
    assert other.exists()


def test_several_torn_ends_are_all_kept(file: SessionFile, path: Path) -> None:
    """Each torn record gets a name of its own."""
    file.close()
    for text in ("one", "two"):
        path.with_name("day.json.journal").write_text(text)
        SessionFile.open(path).file.close()
    assert [path.with_name(f"day.json.torn-{n}").read_text() for n in (1, 2)] == ["one", "two"]


def test_an_event_that_could_not_be_read_back_is_refused(file: SessionFile, path: Path) -> None:
    """A number that JSON does not have, or a unit that nobody knows, never reaches the disk."""
    for event in (WaitStarted("w", None, "x", float("nan")), PlanChanged("lots.a.mass", Amount(1, "stone"))):
        with pytest.raises(ValueError, match=r"finite|no unit"):
            file.append(event, NOW)
    assert file.session.entries == ()
    note(file)
    assert len(on_disk(path)) == 1


def test_a_note_of_a_megabyte_is_refused(file: SessionFile, path: Path) -> None:
    """Nothing is logged that would make the file too large to be read again."""
    with pytest.raises(ValueError, match="too long"):
        note(file, "x" * 1_000_000)
    assert on_disk(path) == []


def test_half_a_character_becomes_a_question_mark(file: SessionFile, path: Path) -> None:
    """What a terminal mangled is kept as far as it can be, and memory says what the disk says."""
    entry = file.append(NoteWritten("bl\ud800ue"), NOW)
    assert entry.event == NoteWritten("bl?ue")
    assert on_disk(path) == ["bl?ue"]


@given(sessions(), st.data())
def test_any_events_logged_one_by_one_are_read_back(random: Session, data: st.DataObject) -> None:
    """Whatever is logged, with closing and opening anywhere in between, the file gives it all back."""
    fs, path = MemoryFs(), Path("/sessions/day.json")
    file = SessionFile.write_new(path, random.upto(0), fs)
    for entry in random.entries:
        assert file.append(entry.event, entry.at) == entry
        if data.draw(st.booleans()):
            assert file.close() is None
            file = SessionFile.open(path, fs=fs).file
    assert SessionFile.open(path, readonly=True, fs=fs).session == random


def test_the_reason_is_said_in_words() -> None:
    """Each common refusal of the system has words of its own, an uncommon one the system's."""
    said = {
        reason(OSError(number, os.strerror(number)))
        for number in (errno.ENOSPC, errno.EACCES, errno.EROFS, errno.EIO, errno.EDQUOT, errno.ENAMETOOLONG)
    }
    assert len(said) == 6
    assert reason(OSError(errno.ENETDOWN, "Network is down")) == "network is down"


@pytest.mark.parametrize("name", ["day.json", "day.json.journal"])
def test_a_file_that_may_not_be_read_is_said_to_be_that(file: SessionFile, path: Path, name: str) -> None:
    """The system's one word for it is about reading when we only read."""

    class Secret(Fs):
        def read(self, path: Path) -> tuple[bytes, Stamp]:
            if path.name == name:
                raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
            return super().read(path)

    file.close()
    assert problems(path, Secret())[0].endswith("cannot be read: you may not read it")


def test_a_folder_that_takes_no_lock_reads_only(file: SessionFile, path: Path) -> None:
    """Where the folder cannot be written, the session is shown and the reason told."""

    class NoLock(Fs):
        def lock(self, path: Path, mode: int = 0o600) -> Lock:
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    file.close()
    assert SessionFile.open(path, fs=NoLock()).readonly == "its folder takes no lock: you may not write there"
