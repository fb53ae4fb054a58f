"""The folder of sessions."""

from __future__ import annotations

import os
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, a_day, session
from tests.plan.plans import wool_plan

from vatside.log import waits
from vatside.log.events.day import NoteWritten, PlanChanged, WaitStarted
from vatside.log.fold import fold
from vatside.storage import folder, places
from vatside.storage.flaws import SessionError
from vatside.storage.folder import card, copy_sample, list_sessions, new_path, slug
from vatside.storage.places import SAMPLE_ID, home
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import encode

NOW = VirtualClock(CREATED).now()


def test_a_card_says_what_is_in_the_file(tmp_path: Path) -> None:
    """Title as it is now, when it was created and something was done in it last, how much is in it."""
    path = tmp_path / "day.json"
    path.write_bytes(encode(session(*a_day())))
    found = card(path)
    assert (found.title, found.entries, found.waits, found.problem) == ("Blue Sunday", 18, 1, None)
    assert found.created == CREATED
    assert found.last == CREATED + timedelta(minutes=16), "the two entries after it are looks at the day"


def test_what_is_only_in_the_journal_counts(tmp_path: Path) -> None:
    """A session that is open, or was not closed, shows its latest title."""
    file = SessionFile.create(tmp_path / "day.json", wool_plan("Old"), NOW)
    file.append(PlanChanged("title", "New"), NOW)
    assert card(tmp_path / "day.json").title == "New"


def test_a_damaged_file_is_a_card_with_its_problem(tmp_path: Path) -> None:
    """Bad files never hide the good ones, and each says what is wrong with it."""
    (tmp_path / "good.json").write_bytes(encode(session()))
    (tmp_path / "empty.json").touch()
    (tmp_path / "broken.json").write_text("{")
    (tmp_path / "folder.json").mkdir()
    os.mkfifo(tmp_path / "pipe.json")
    (tmp_path / "nowhere.json").symlink_to(tmp_path / "gone")
    (tmp_path / "notes.txt").write_text("not listed")
    cards = list_sessions(tmp_path)
    assert {found.path.name: bool(found.problem) for found in cards} == {
        "good.json": False, "empty.json": True, "broken.json": True,
        "folder.json": True, "pipe.json": True, "nowhere.json": True,
    }  # fmt: skip
    assert cards[0].path.name == "good.json"


def test_the_latest_comes_first(tmp_path: Path) -> None:
    """Sessions are listed by when they were last written."""
    clock = VirtualClock(CREATED)
    for name in ("b", "a", "c"):
        clock.advance(1000)
        file = SessionFile.create(tmp_path / f"{name}.json", wool_plan(name), clock.now())
        file.append(NoteWritten("x"), clock.now())
        file.close()
    assert [found.title for found in list_sessions(tmp_path)] == ["c", "a", "b"]


def test_no_folder_is_no_sessions(tmp_path: Path) -> None:
    """Before the first session there is nothing to list, and listing creates nothing."""
    assert list_sessions(tmp_path / "none") == ()
    assert not (tmp_path / "none").exists()


def test_home_can_be_moved() -> None:
    """VATSIDE_HOME moves everything; without it the system's own place is taken."""
    assert home({"VATSIDE_HOME": "/srv/dye"}) == Path("/srv/dye")
    assert home({}).name == "vatside"
    assert folder.sessions_folder(Path("/x")) == Path("/x")


@pytest.mark.parametrize(
    ("title", "expected"),
    [
        ("Saturday class · 2 May", "saturday-class-2-may"),
        ("Crème brûlée", "creme-brulee"),
        ("CON", "con"),
        ("../../etc/passwd", "etc-passwd"),
        ("نيل", "session"),
        ("🧵", "session"),
        ("", "session"),
        ("a" * 300, "a" * 48),
        ("x" * 47 + " y", "x" * 47),
        ("a:b\\c|d?", "a-b-c-d"),
    ],
)
def test_slugs_are_safe_everywhere(title: str, expected: str) -> None:
    """A title of any kind becomes a name that every system takes."""
    assert slug(title) == expected


@given(st.text(max_size=200))
def test_any_title_gives_a_safe_name(title: str) -> None:
    """No title escapes the folder, is empty, is too long, or is one of the names that Windows keeps for itself."""
    path = new_path(Path("/sessions"), title, NOW, UTC)
    assert path.parent == Path("/sessions")
    assert path.name.startswith("2026-05-02-")
    assert path.name.isascii()
    assert len(path.name) < 80


def test_a_name_is_the_local_day(tmp_path: Path) -> None:
    """The day in the name is the dyer's, not Greenwich's."""
    late = VirtualClock(datetime(2026, 5, 2, 23, 0, tzinfo=UTC)).now()
    assert new_path(tmp_path, "x", late, timezone(timedelta(hours=2))).name == "2026-05-03-x.json"


@pytest.mark.parametrize("left", ["2026-05-02-x.json", "2026-05-02-x.json.journal", "2026-05-02-x.json.bak"])
def test_a_taken_name_gets_a_number(tmp_path: Path, left: str) -> None:
    """A name is free only if nothing of an earlier session of that name is left."""
    (tmp_path / left).touch()
    assert new_path(tmp_path, "x", NOW, UTC).name == "2026-05-02-x-2.json"


def test_a_sample_is_opened_as_a_copy(tmp_path: Path) -> None:
    """The copy has an id of its own that says so, and its latest entry now; the sample stays as it is."""
    sample = tmp_path / "sample.json"
    day = session(NoteWritten("a"), WaitStarted("w1", None, "Hold", 60), NoteWritten("b"))
    sample.write_bytes(encode(day))
    now = VirtualClock(datetime(2027, 1, 1, tzinfo=UTC), boot="here").now()
    copy = SessionFile.open(copy_sample(sample, tmp_path / "mine", now)).session
    assert sample.read_bytes() == encode(day)
    assert copy.id != day.id
    assert copy.id.startswith(SAMPLE_ID)
    assert copy.entries[-1].at.utc == now.utc
    assert copy.created == now.utc - timedelta(minutes=3)
    assert [entry.event for entry in copy.entries] == [entry.event for entry in day.entries]
    assert waits.remaining(fold(copy).wait("w1"), now) == 59 * 60


def test_the_wanted_hour_of_a_sample_moves_along(tmp_path: Path) -> None:
    """A vat wanted two hours after the latest entry is wanted two hours from now; a bare hour stays."""
    sample = tmp_path / "sample.json"
    day = session(PlanChanged("ready_by", "2026-05-02T10:00"), PlanChanged("ready_by", "10:00"))
    sample.write_bytes(encode(evolve(day, plan=evolve(day.plan, ready_by="2026-05-02T09:00"))))
    now = VirtualClock(day.entries[-1].at.utc + timedelta(days=300, minutes=5), boot="here").now()
    copy = SessionFile.open(copy_sample(sample, tmp_path / "mine", now)).session
    assert copy.plan.ready_by == "2027-02-26T09:05"
    assert [entry.event for entry in copy.entries] == [
        PlanChanged("ready_by", "2027-02-26T10:05"),
        PlanChanged("ready_by", "10:00"),
    ]


def test_a_wanted_hour_moved_into_winter_is_as_far_away() -> None:
    """Two hours before the vat in a Berlin summer are two hours before it in winter, too."""
    day = session(NoteWritten("a"))
    summer = evolve(day, plan=evolve(day.plan, ready_by="2026-05-02T12:01"))  # 10:01 UTC; the note is from 08:01
    now = VirtualClock(datetime(2026, 12, 1, 8, 0, tzinfo=UTC)).now()
    assert folder.moved(summer, now, ZoneInfo("Europe/Berlin")).plan.ready_by == "2026-12-01T11:00"


def test_a_sample_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    """A damaged sample is a sentence, and no copy."""
    (tmp_path / "sample.json").write_text("{")
    with pytest.raises(SessionError):
        copy_sample(tmp_path / "sample.json", tmp_path / "mine", NOW)
    assert not (tmp_path / "mine").exists()


def test_shipped_folders_are_found() -> None:
    """Themes and samples are found, here in the checkout."""
    assert places.themes_folder().is_dir()
    assert places.samples_folder().is_dir()


def test_a_missing_folder_is_told() -> None:
    """What did not come along is told in words."""
    with pytest.raises(FileNotFoundError, match="install it again"):
        places.shipped("no_such_folder")


def test_every_sample_is_well() -> None:
    """Each sample session that comes along opens without a problem."""
    assert [found.problem for found in folder.samples()] == [None] * len(folder.samples())
