"""When things go wrong: a full disk, a second window, a damaged file, too small a window, no colours."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.ui.hands import Bench

from vatside.bench import acts
from vatside.plan.starter import starter_plan
from vatside.storage.folder import card
from vatside.storage.session_file import SessionFile


def a_file(tmp_path: Path) -> Path:
    """Write a session."""
    path = tmp_path / "sessions" / "day.json"
    SessionFile.create(path, starter_plan("Kept day"), VirtualClock().now()).close()
    return path


async def test_the_second_window_only_reads(bench: Bench, tmp_path: Path) -> None:
    """It says so, shows everything, and lets nothing be changed."""
    path = a_file(tmp_path)
    first = SessionFile.open(path).file
    async with bench(file=path) as hands:
        await hands.until(lambda: "reading only" in hands.screen)
        assert "open in another window" in hands.screen
        await hands.press("enter", "right", "space")
        assert "Reading only" in hands.screen
        assert hands.kinds == []
    first.close()


async def test_a_disk_that_refuses_loses_nothing(bench: Bench, tmp_path: Path) -> None:
    """A folder that cannot be made leaves the day in memory, says so for as long as it lasts, and `s` saves it."""
    (tmp_path / "taken").write_text("a file stands where the folder should be")
    async with bench(folder=tmp_path / "taken" / "sessions") as hands:
        await hands.new_day()
        await hands.write("Full disk")
        await hands.press("escape")
        assert "! not saved" in hands.screen
        assert hands.desk.plan.title == "Full disk"
        await hands.press("s")
        hands.app.focused.value = str(tmp_path / "elsewhere.json")  # type: ignore[union-attr]
        await hands.press("enter")
        assert "not saved" not in hands.screen
        assert SessionFile.open(tmp_path / "elsewhere.json", readonly=True).session.entries
        await hands.press("ctrl+q")


async def test_leaving_with_something_unsaved_asks_once(bench: Bench, tmp_path: Path) -> None:
    """The first ctrl+q says what is not on the disk, the second leaves."""
    (tmp_path / "taken").write_text("")
    async with bench(folder=tmp_path / "taken" / "sessions") as hands:
        await hands.new_day()
        await hands.write("Full disk")
        await hands.press("escape", "ctrl+q")
        assert "Not everything is on the disk" in hands.screen
        assert hands.app.desk is not None
        await hands.press("ctrl+q")
        assert hands.app.desk is None


async def test_the_disk_is_tried_again(bench: Bench, tmp_path: Path) -> None:
    """Once the folder can be made the day is saved by itself."""
    (tmp_path / "taken").write_text("")
    async with bench(folder=tmp_path / "taken" / "sessions") as hands:
        await hands.new_day()
        await hands.write("Full disk")
        await hands.press("escape")
        (tmp_path / "taken").unlink()
        await hands.later(7)
        assert "not saved" not in hands.screen
        assert hands.desk.keeping.path is not None


async def test_a_file_replaced_by_another_program_is_told_within_seconds(bench: Bench, tmp_path: Path) -> None:
    """It is said once, stands in the head, and leaving asks first; nothing of the day is lost."""
    path = a_file(tmp_path)
    async with bench(file=path) as hands:
        path.write_text("{}")
        await hands.later(3)
        assert "Another program changed" in hands.screen
        assert "! another program changed it; s saves elsewhere" in hands.screen
        await hands.press("escape", "ctrl+q")
        assert hands.app.desk is not None
        await hands.press("ctrl+q")
        assert path.read_text() == "{}"
    [kept] = path.parent.glob("*-kept.json")
    assert card(kept).title == "Kept day"


async def test_damaged_and_foreign_files_are_listed_with_their_problem(bench: Bench, tmp_path: Path) -> None:
    """A broken file stands in the list and says why; opening it says so and stays."""
    path = a_file(tmp_path)
    broken = path.with_name("broken.json")
    broken.write_text(path.read_text()[:200])
    async with bench() as hands:
        await hands.until(lambda: "broken" in hands.screen)
        assert "Kept day" in hands.screen
        assert "JSON" in hands.screen


async def test_no_days_yet(bench: Bench) -> None:
    """The empty list says what a new day asks for."""
    async with bench() as hands:
        await hands.until(lambda: "None yet." in hands.screen)


async def test_too_small_a_window_still_shows_what_runs(bench: Bench) -> None:
    """Below 60 columns or 20 rows there are words, the waits, and nothing half shown."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("scour")
        await hands.press("space")
        await hands.pilot.resize_terminal(50, 15)
        await hands.until(lambda: "needs 60 and 20" in " ".join(hands.screen.split()))
        assert "Wet out linen" in hands.screen
        assert "30:00" in hands.screen
        assert "Weigh" not in hands.screen
        await hands.pilot.resize_terminal(80, 24)
        await hands.until(lambda: "Weigh" in hands.screen)


@pytest.mark.parametrize("size", [(60, 20), (79, 23)])
async def test_small_windows_show_one_region_at_a_time(bench: Bench, size: tuple[int, int]) -> None:
    """Enter, Escape and Tab each bring one of form, steps and figures."""
    async with bench(size=size) as hands:
        await hands.new_day()
        await hands.press("escape", "right", "right")
        for way, title in (("enter", "━Set"), ("escape", "━Do"), ("tab", "━Weigh and draw")):
            await hands.press(way)
            assert [name for name in ("━Set", "━Weigh and draw", "━Do") if name in hands.screen] == [title]


async def test_a_wide_window_shows_all_three(bench: Bench) -> None:
    """At 120 columns form, steps and figures stand side by side."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.to("stock")
        assert all(name in hands.screen for name in ("Set", "Do", "Weigh and draw"))


async def test_without_colours_everything_is_said(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """With NO_COLOR the colourless look is taken, and what is over says so in words."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with bench() as hands:
        assert hands.app.theme == "grey-morning"
        await hands.new_day()
        await hands.to("scour")
        await hands.press("space")
        await hands.long_later(31)
        assert "OVER" in hands.screen


async def test_nothing_goes_on_behind_a_refusal(bench: Bench, tmp_path: Path) -> None:
    """What follows an act follows only where it was carried out."""
    first = SessionFile.open(a_file(tmp_path)).file
    followed: list[str] = []
    async with bench(file=first.path) as hands:
        await hands.until(lambda: "reading only" in hands.screen)
        hands.day.perform(lambda: acts.note(hands.desk, "mine"), lambda: followed.append("went on"))
        assert followed == []
    first.close()


async def test_a_stage_can_be_turned_to_in_too_small_a_window(bench: Bench) -> None:
    """The rows of the stage before are still there, and nothing falls over them; they come right with the room."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "right")
        await hands.pilot.resize_terminal(59, 1)
        await hands.press("left")
        await hands.later(1)
        await hands.pilot.resize_terminal(80, 24)
        await hands.until(lambda: "For the whole day" in hands.screen)
