"""A long folder is listed without reading what has not changed, and never wrongly."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import a_day, session

from vatside.log.events.day import PlanChanged
from vatside.storage import glance
from vatside.storage.files import Fs, Stamp
from vatside.storage.folder import list_sessions
from vatside.storage.glance import NAME
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import encode


class CountingFs(Fs):
    """The real file system, counting the session files that are read."""

    def __init__(self) -> None:
        self.read_names: list[str] = []

    def read(self, path: Path) -> tuple[bytes, Stamp]:
        """Read, and remember what."""
        if path.suffix == ".json" and path.name != NAME:
            self.read_names.append(path.name)
        return super().read(path)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of three sessions, long enough to have its list."""
    monkeypatch.setattr(glance, "KEPT_FROM", 3)
    for name in ("a", "b", "c"):
        (tmp_path / f"{name}.json").write_bytes(encode(session(*a_day(), PlanChanged("title", f"Day {name}"))))
    return tmp_path


def read_again(folder: Path) -> list[str]:
    """List the folder; name the files that were read for it."""
    fs = CountingFs()
    list_sessions(folder, fs)
    return sorted(fs.read_names)


def test_a_second_look_reads_no_session(folder: Path) -> None:
    """The same cards come from the list alone."""
    first = list_sessions(folder)
    assert read_again(folder) == []
    assert list_sessions(folder) == first


def test_only_what_changed_is_read_again(folder: Path) -> None:
    """A rewritten file and a session whose journal grew are looked at; the others are not."""
    list_sessions(folder)
    (folder / "a.json").write_bytes(encode(session(PlanChanged("title", "Another"))))
    opened = SessionFile.open(folder / "b.json")
    opened.file.append(PlanChanged("title", "Later"), VirtualClock().now())
    assert read_again(folder) == ["a.json", "b.json"]
    assert {card.title for card in list_sessions(folder)} == {"Another", "Later", "Day c"}
    opened.file.close()


def test_new_and_vanished_sessions(folder: Path) -> None:
    """What is gone is not listed, and what is new is."""
    list_sessions(folder)
    (folder / "a.json").unlink()
    for name in ("d", "e"):
        (folder / f"{name}.json").write_bytes(encode(session()))
    assert sorted(card.path.stem for card in list_sessions(folder)) == ["b", "c", "d", "e"]
    assert read_again(folder) == []


def test_a_file_that_cannot_be_read_is_looked_at_every_time(folder: Path) -> None:
    """Its problem is told, and goes once it is mended."""
    (folder / "b.json").write_bytes(b"{}")
    assert [card.path.stem for card in list_sessions(folder) if card.problem] == ["b"]
    assert "b.json" in read_again(folder)


@pytest.mark.parametrize(
    "text",
    [
        "", "no JSON", "[]", "{}", "[" * 100_000, json.dumps({"format": glance.FORMAT, "rows": []}),
        json.dumps({"format": "other", "rows": {"a.json": [[], "x", "", None, 0, 0]}}),
        json.dumps({"format": glance.FORMAT, "rows": {"a.json": [[], "x", "", None, 0, 0], "b.json": 7}}),
    ],
    ids=["empty", "text", "array", "object", "nested", "rows", "other format", "rows of nonsense"],
)  # fmt: skip
def test_a_spoilt_list_is_made_anew(folder: Path, text: str) -> None:
    """Whatever stands in the list, the cards are those of the files."""
    cards = list_sessions(folder)
    (folder / NAME).write_text(text, "utf-8")
    assert list_sessions(folder) == cards
    assert read_again(folder) == []


def test_a_folder_that_takes_no_list_is_listed(folder: Path) -> None:
    """Where the list cannot be written, everything is read, and nothing is left lying about."""
    (folder / NAME).mkdir()
    assert len(list_sessions(folder)) == 3
    assert len(read_again(folder)) == 3
    assert [path.name for path in folder.iterdir() if path.name.startswith(".")] == [NAME]


def test_a_short_folder_has_no_list(tmp_path: Path) -> None:
    """A few sessions are read, and nothing is put beside them."""
    (tmp_path / "a.json").write_bytes(encode(session()))
    list_sessions(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["a.json"]


def test_a_page_holds_what_was_written_to_last(tmp_path: Path) -> None:
    """Only so many files are read, those written to last; a journal counts as its day."""
    for number in range(6):
        (tmp_path / f"{number}.json").write_bytes(encode(session(PlanChanged("title", str(number)))))
        os.utime(tmp_path / f"{number}.json", (number, number))
    journal = tmp_path / "0.json.journal"
    journal.touch()
    fs = CountingFs()
    assert {found.title for found in list_sessions(tmp_path, fs, most=2)} == {"0", "5"}
    assert sorted(fs.read_names) == ["0.json", "5.json"]
