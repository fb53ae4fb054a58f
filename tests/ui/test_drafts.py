"""Every key press is kept: what was cut off in the middle of a word is there when the day is opened again."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest
from tests.random_hand.ends import trial
from tests.ui.care_hands import cotton_vat, fill, open_form
from tests.ui.hands import Bench

from vatside.forms.fields import show
from vatside.storage.folder import list_sessions


def cut_off(tmp_path: Path) -> Path:
    """Give the one day as the disk has it at this moment, in another folder: as after a process that was killed."""
    [card] = list_sessions(tmp_path / "sessions")
    shutil.copytree(tmp_path / "sessions", tmp_path / "killed")
    return tmp_path / "killed" / card.path.name


async def test_a_field_is_kept_in_the_middle_of_an_amount(bench: Bench, tmp_path: Path) -> None:
    """The amount that was shown is there, and it is said that it was kept."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("lots.a.mass")
        await hands.write("325 g")
        path = cut_off(tmp_path)
        kinds = hands.kinds
    assert kinds == []
    async with bench(file=path, folder=tmp_path / "killed", size=(120, 40)) as hands:
        assert show(hands.desk.plan, "lots.a.mass") == "325 g"
        assert "ept from when it was cut off" in hands.screen


async def test_a_new_day_has_a_file_with_its_first_key(bench: Bench, tmp_path: Path) -> None:
    """One letter of its name, and it stands in the folder; named in full, the file has the name."""
    async with bench() as hands:
        await hands.new_day()
        await hands.write("M")
        assert len(list_sessions(tmp_path / "sessions")) == 1
        await hands.write("arket day")
        await hands.press("enter")
        [card] = list_sessions(tmp_path / "sessions")
        assert "market-day" in card.path.name
        await hands.press("ctrl+q")
    assert sorted(path.suffix for path in (tmp_path / "sessions").iterdir()) == [".json", ".lock"]


async def test_what_was_taken_back_does_not_come_again(bench: Bench, tmp_path: Path) -> None:
    """A text that could not be read stands for what was there before, also after a cut."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("lots.a.mass")
        before = show(hands.desk.plan, "lots.a.mass")
        await hands.write("3 stones")
        path = cut_off(tmp_path)
    async with bench(file=path, folder=tmp_path / "killed") as hands:
        assert show(hands.desk.plan, "lots.a.mass") == before


async def test_a_clock_that_is_set_meanwhile_takes_no_draft_away(bench: Bench, tmp_path: Path) -> None:
    """What the clock writes into the log comes between a key and its entry."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("lots.a.mass")
        await hands.write("325 g")
        hands.desk.typed_at = 1e9  # still typing when the lid is opened
        await hands.long_later(30)
        assert hands.kinds == ["clock_slept"]
        path = cut_off(tmp_path)
    async with bench(file=path, folder=tmp_path / "killed") as hands:
        assert show(hands.desk.plan, "lots.a.mass") == "325 g"


async def test_a_note_is_kept_in_the_middle_of_a_word(bench: Bench, tmp_path: Path) -> None:
    """Half a note is a note."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "n")
        await hands.write("smells of amm")
        path = cut_off(tmp_path)
    async with bench(file=path, folder=tmp_path / "killed") as hands:
        assert hands.kinds[-1:] == ["note_written"]


async def test_a_reading_is_kept_row_by_row(bench: Bench, tmp_path: Path) -> None:
    """What stood in the form of a reading is written down when the day is opened again."""
    async with bench() as hands:
        await cotton_vat(hands)
        await open_form(hands)
        await fill(hands, pH="10.4")
        path = cut_off(tmp_path)
    async with bench(file=path, folder=tmp_path / "killed") as hands:
        assert hands.kinds[-1:] == ["reading_taken"]
        assert hands.desk.state.tending.readings[-1].reading.pH == pytest.approx(10.4)


async def test_a_note_is_kept_when_the_day_is_left(bench: Bench, tmp_path: Path) -> None:
    """Leaving, by key or because a signal says so, logs what stands in the window of a note."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "n")
        await hands.write("smells of amm")
        await hands.press("ctrl+q")
    [card] = list_sessions(tmp_path / "sessions")
    async with bench(file=card.path) as hands:
        assert "note_written" in hands.kinds


async def test_a_note_that_is_given_up_is_none(bench: Bench, tmp_path: Path) -> None:
    """Escape in the window of a note forgets it."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "n")
        await hands.write("smells")
        await hands.press("escape")
        path = cut_off(tmp_path)
    async with bench(file=path, folder=tmp_path / "killed") as hands:
        assert hands.kinds == []


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are a thing of POSIX")
@pytest.mark.parametrize("kind", ["gone", "stopped", "told", "killed"])
@pytest.mark.parametrize("seed", [1, 2])
def test_a_terminal_that_is_taken_away(kind: str, seed: int) -> None:
    """Taken away, stopped, told to end or killed among keys: it ends in time, and what was shown is kept."""
    assert not trial(kind, seed)
