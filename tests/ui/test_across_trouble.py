"""What goes wrong is told in a sentence, lasts as long as it lasts, and loses nothing."""

from __future__ import annotations

import errno
import json
import os
from datetime import timedelta
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import session
from tests.ui.hands import Bench, Hands
from textual import events

from vatside.log.events.day import Event, NoteWritten, PlanChanged, StepDone, WaitStarted
from vatside.plan.sheet import Stage
from vatside.storage.files import Fs
from vatside.storage.other_writers import BUSY
from vatside.storage.session_file import SessionFile
from vatside.ui.day.screen import DayScreen
from vatside.ui.routes.day import unreadable_rows

DAY = (PlanChanged("title", "Market day"), NoteWritten("cold kitchen"), WaitStarted("w3", None, "Rinse", 30))


def on_disk(tmp_path: Path, *events: Event) -> Path:
    """Write a day into the folder of sessions."""
    path = tmp_path / "sessions" / "day.json"
    SessionFile.write_new(path, session(*(events or DAY))).close()
    return path


def after_day() -> VirtualClock:
    """A clock five minutes after the day's latest entry, of the same boot."""
    clock = VirtualClock()
    clock.advance(3 * 60 + 5 * 60)
    return clock


class FullDisk:
    """Makes every write fail until room is made."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.full = False
        real = Fs.write

        def write(fs: Fs, fd: int, data: bytes | memoryview) -> int:
            if self.full:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return real(fs, fd, data)

        patch.setattr(Fs, "write", write)


@pytest.fixture(name="disk")
def _disk(monkeypatch: pytest.MonkeyPatch) -> FullDisk:
    return FullDisk(monkeypatch)


async def note(hands: Hands, text: str) -> None:
    """Write a note at the steps."""
    await hands.press("escape", "n")
    await hands.write(text)
    await hands.press("enter")


def notes(path: Path) -> list[str]:
    """The notes that the disk holds."""
    opened = SessionFile.open(path, readonly=True)
    return [entry.event.text for entry in opened.session.entries if isinstance(entry.event, NoteWritten)]


# Not saved


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_a_full_disk_is_said_as_long_as_it_lasts(
    bench: Bench, tmp_path: Path, disk: FullDisk, size: tuple[int, int]
) -> None:
    """The head says not saved until there is room; then what was kept in memory is on the disk by itself."""
    path = on_disk(tmp_path)
    async with bench(size=size, file=path, clock=after_day()) as hands:
        disk.full = True
        await note(hands, "first")
        await note(hands, "second")
        await hands.later(20)
        assert "not saved" in hands.screen.splitlines()[0]
        assert notes(path) == ["cold kitchen"]
        disk.full = False
        await hands.later(6)
        assert "not saved" not in hands.screen
        assert notes(path) == ["cold kitchen", "first", "second"]


async def test_save_elsewhere_takes_a_folder(bench: Bench, tmp_path: Path, disk: FullDisk) -> None:
    """`s` and a folder: the day goes on in a file of its old name there, nothing missing."""
    path = on_disk(tmp_path)
    stick = tmp_path / "stick"
    stick.mkdir()
    async with bench(file=path, clock=after_day()) as hands:
        disk.full = True
        await note(hands, "first")
        disk.full = False
        await hands.press("s", "ctrl+u")
        await hands.write(str(stick))
        assert str(stick / "day.json")[:20] in "".join(hands.screen.split())
        await hands.press("enter")
        assert hands.desk.keeping.path == (stick / "day.json").resolve()
        await note(hands, "second")
    assert notes(stick / "day.json") == ["cold kitchen", "first", "second"]


async def test_leaving_with_something_unsaved_warns_once(bench: Bench, tmp_path: Path, disk: FullDisk) -> None:
    """The first ctrl+q says what to do, the second leaves."""
    async with bench(file=on_disk(tmp_path), clock=after_day()) as hands:
        disk.full = True
        await note(hands, "first")
        await hands.press("ctrl+q")
        assert "s saves elsewhere" in hands.screen
        assert hands.app.desk is not None
        await hands.press("ctrl+q")
        assert hands.app.desk is None


async def test_a_new_day_on_a_full_disk(bench: Bench, tmp_path: Path, disk: FullDisk) -> None:
    """A day that was never on the disk says so too, and comes to it once there is room."""
    async with bench() as hands:
        disk.full = True
        await hands.new_day()
        await note(hands, "first")
        assert "not saved" in hands.screen.splitlines()[0]
        disk.full = False
        await hands.later(6)
        [path] = (tmp_path / "sessions").glob("*.json")
        assert notes(path) == ["first"]


# Two windows, damage, newer files


async def test_a_second_window_reads_only_and_says_why(bench: Bench, tmp_path: Path) -> None:
    """What is open elsewhere can be looked at; a key that changes something answers with the reason."""
    path = on_disk(tmp_path)
    first = SessionFile.open(path)
    try:
        async with bench(file=path, clock=after_day()) as hands:
            assert "open in another window" in hands.screen.splitlines()[0]
            await note(hands, "mine")
            assert "Reading only: it is open in another window" in hands.screen
            assert notes(path) == ["cold kitchen"]
    finally:
        first.file.close()


async def test_a_second_window_shows_what_the_first_one_does(bench: Bench, tmp_path: Path) -> None:
    """What the first window logs appears in the second one within a few seconds."""
    path = on_disk(tmp_path)
    clock = after_day()
    first = SessionFile.open(path).file
    try:
        async with bench(file=path, clock=clock) as hands:
            first.append(NoteWritten("from the other side"), clock.now())
            await hands.later(4)
            assert [note.text for note in hands.desk.state.notes] == ["cold kitchen", "from the other side"]
    finally:
        first.close()


async def test_once_the_first_window_closes_one_key_goes_on_here(bench: Bench, tmp_path: Path) -> None:
    """A window says that the other one has closed; t writes from now on, at the stage that was looked at."""
    path = on_disk(tmp_path)
    clock = after_day()
    first = SessionFile.open(path).file
    async with bench(file=path, clock=clock) as hands:
        await hands.to("vat")
        first.append(NoteWritten("from the other side"), clock.now())
        first.close()
        await hands.later(4)
        await hands.until(lambda: type(hands.app.screen).__name__ == "TroubleWindow")
        await hands.press("y")
        await hands.until(lambda: hands.desk.keeping.readonly is None)
        assert hands.day.stage is Stage.VAT
        assert hands.app.second is None
        await note(hands, "mine")
        assert notes(path) == ["cold kitchen", "from the other side", "mine"]


async def test_looking_on_is_possible_and_the_way_stays_open(bench: Bench, tmp_path: Path) -> None:
    """Escape goes on looking, the head says what can be done, and nobody is asked again; o and t still go on here."""
    path = on_disk(tmp_path)
    first = SessionFile.open(path).file
    async with bench(file=path, clock=after_day()) as hands:
        first.close()
        await hands.later(4)
        await hands.until(lambda: type(hands.app.screen).__name__ == "TroubleWindow")
        await hands.press("escape")
        await hands.later(6)
        assert type(hands.app.screen).__name__ == "DayScreen"
        assert "other window closed; o, y goes on" in hands.screen.splitlines()[0]
        await hands.press("o", "y")
        await hands.until(lambda: hands.desk.keeping.readonly is None)


async def test_a_window_that_opens_the_day_again_keeps_it(bench: Bench, tmp_path: Path) -> None:
    """Closed and opened again elsewhere: this window goes on looking, and is asked anew the next time."""
    path = on_disk(tmp_path)
    first = SessionFile.open(path).file
    async with bench(file=path, clock=after_day()) as hands:
        first.close()
        await hands.later(4)
        await hands.press("escape")
        again = SessionFile.open(path)
        assert again.readonly is None
        await hands.later(4)
        assert hands.desk.keeping.readonly == BUSY
        again.file.close()
        await hands.later(4)
        await hands.until(lambda: type(hands.app.screen).__name__ == "TroubleWindow")


async def test_a_copy_without_its_journal_says_so_in_every_way(bench: Bench, tmp_path: Path) -> None:
    """Played back or opened, a file that is behind says what is missing, and is called as it is called."""
    path = on_disk(tmp_path)
    first = SessionFile.open(path).file
    first.append(NoteWritten("late"), after_day().now())
    alone = tmp_path / "stick" / "day.json"
    alone.parent.mkdir()
    alone.write_bytes(path.read_bytes())
    first.close()
    for replayed in (True, False):
        async with bench(file=alone, clock=after_day(), replay=replayed) as hands:
            await hands.until(lambda: "day.json was copied while the day went on" in " ".join(hands.screen.split()))


def damaged(path: Path) -> None:
    """Spoil a record in the middle of the journal."""
    opened = SessionFile.open(path).file
    for text in ("one", "two", "three"):
        opened.append(NoteWritten(text), after_day().now())
    journal = path.with_name("day.json.journal")
    lines = journal.read_bytes().splitlines(keepends=True)
    lines[1] = lines[1].replace(b"two", b"owt")
    opened._release()
    journal.write_bytes(b"".join(lines))


async def test_damage_is_named_and_a_copy_is_offered(bench: Bench, tmp_path: Path) -> None:
    """A damaged journal: the window says what is wrong; `c` goes on in a new file, the old one stays as it is."""
    path = on_disk(tmp_path)
    damaged(path)
    before = {file.name: file.read_bytes() for file in path.parent.iterdir()}
    async with bench(file=path, clock=after_day()) as hands:
        await hands.until(lambda: type(hands.app.screen).__name__ == "TroubleWindow")
        assert "What is wrong" in hands.screen
        assert "c go on in a copy" in hands.screen
        await hands.press("c")
        await hands.until(lambda: hands.desk.keeping.readonly is None)
        await note(hands, "goes on")
        copy = hands.desk.keeping.path
    assert copy is not None
    assert copy.name != path.name
    assert "goes on" in notes(copy)
    assert all((path.parent / name).read_bytes() == data for name, data in before.items())


async def test_a_newer_file_is_only_looked_at(bench: Bench, tmp_path: Path) -> None:
    """A file of a newer version says so; Escape leaves it open to be looked at."""
    path = on_disk(tmp_path)
    raw = json.loads(path.read_text("utf-8"))
    raw["version"] = 99
    path.write_text(json.dumps(raw), "utf-8")
    async with bench(file=path, clock=after_day()) as hands:
        await hands.until(lambda: type(hands.app.screen).__name__ == "TroubleWindow")
        assert "version 99" in " ".join(hands.screen.split())
        await hands.press("escape")
        assert isinstance(hands.app.screen, DayScreen)
        assert hands.desk.keeping.readonly


async def test_a_file_of_which_nothing_can_be_read(bench: Bench, tmp_path: Path) -> None:
    """Every problem is named in a window; behind it stands the list of days."""
    path = on_disk(tmp_path)
    path.write_text('{"format": "vatside-session", "version": 1, "id": 3, "plan": {}}', "utf-8")
    path.with_name("day.json.bak").unlink(missing_ok=True)
    async with bench() as hands:
        await hands.until(lambda: bool(hands.app.opening.listed.saved))
        hands.app.opening.parts["shelf"].choose(f"saved:{path}")
        await hands.press("enter")
        await hands.until(lambda: type(hands.app.screen).__name__ == "TroubleWindow")
        assert "This day cannot be read" in hands.screen
        await hands.press("escape")
        assert hands.app.screen is hands.app.opening
        assert "day.json" in hands.screen


# The clocks


async def test_sleep_is_told_and_logged(bench: Bench, tmp_path: Path) -> None:
    """A closed lid: how long, and which waits went over meanwhile."""
    async with bench(file=on_disk(tmp_path), clock=after_day()) as hands:
        await hands.long_later(40)
        words = " ".join(hands.screen.split())
        assert "asleep for 40 min" in words
        assert "Over meanwhile: Rinse" in words
        assert hands.kinds[-1] == "clock_slept"


async def test_a_stop_is_told_and_logged(bench: Bench, tmp_path: Path) -> None:
    """A program that was stopped says that the waits went on."""
    async with bench(file=on_disk(tmp_path), clock=after_day()) as hands:
        hands.clock.advance(120)
        hands.app.tick()
        await hands.settle()
        assert "Vatside stood still for 2 min" in " ".join(hands.screen.split())
        assert hands.kinds[-1] == "clock_slept"


@pytest.mark.parametrize(("seconds", "way"), [(3600, "forward"), (-3600, "back")])
async def test_a_set_clock_is_told_and_logged(bench: Bench, tmp_path: Path, seconds: float, way: str) -> None:
    """Setting the time of day moves no wait."""
    async with bench(file=on_disk(tmp_path), clock=after_day()) as hands:
        before = hands.desk.waits(hands.clock.now())[0].left
        hands.clock.step_wall(seconds)
        hands.app.tick()
        await hands.settle()
        assert f"The clock went {way} by 60 min" in " ".join(hands.screen.split()).replace("1 h", "60 min")
        assert hands.kinds[-1] == "clock_stepped"
        assert hands.desk.waits(hands.clock.now())[0].left == pytest.approx(before)


async def test_a_clock_set_back_over_a_restart_asks(bench: Bench, tmp_path: Path) -> None:
    """Where the clocks cannot tell, the dyer is asked how long it has been, and the wait goes by her answer."""
    clock = VirtualClock(boot="another1")
    clock.step_wall(-timedelta(days=2).total_seconds())
    async with bench(file=on_disk(tmp_path), clock=clock) as hands:
        await hands.until(lambda: type(hands.app.screen).__name__ == "AskWindow")
        assert "how long has it been" in " ".join(hands.screen.split())
        await hands.write("12 min")
        await hands.press("enter")
        assert hands.kinds[-1] == "clock_corrected"
        assert hands.desk.waits(hands.clock.now())[0].left == pytest.approx((30 - 12) * 60)


async def test_away_for_days_is_told(bench: Bench, tmp_path: Path) -> None:
    """A wait of a week counts over a restart of the machine."""
    path = on_disk(tmp_path, WaitStarted("w1", None, "Feed the vat", 7 * 24 * 60), StepDone("stock.water"))
    clock = VirtualClock(boot="another1")
    clock.step_wall(timedelta(days=8).total_seconds())
    async with bench(file=path, clock=clock) as hands:
        words = " ".join(hands.screen.split())
        assert "closed for 7 days 23 h" in words
        assert "Over: Feed the vat" in words


# Quick hands


async def test_what_is_typed_ahead_of_a_window_goes_into_it(bench: Bench, tmp_path: Path) -> None:
    """All keys at once, as a slow line delivers them: the note has every letter, and none of them did anything else."""
    async with bench(file=on_disk(tmp_path), clock=after_day()) as hands:
        await hands.press("escape")
        before = len(hands.kinds)
        for letter in "new end":
            hands.app.post_message(events.Key("space" if letter == " " else letter, letter))
        await hands.until(lambda: type(hands.app.screen).__name__ == "AskWindow")
        await hands.press("enter")
        assert hands.kinds[before:] == ["note_written"]
        assert hands.desk.state.notes[-1].text == "ew end"


async def test_a_window_that_only_looks_does_not_ring(bench: Bench, tmp_path: Path) -> None:
    """Where nobody can quiet an alarm there is none; the wait is shown as over."""
    path = on_disk(tmp_path)
    first = SessionFile.open(path).file
    try:
        async with bench(file=path, clock=after_day()) as hands:
            rung: list[int] = []
            hands.app.bell = lambda: rung.append(1)  # type: ignore[method-assign]
            await hands.long_later(60)
            assert "OVER" in hands.screen
            assert rung == []
    finally:
        first.close()


def test_a_file_is_called_by_its_own_name() -> None:
    """No capital is put in front of the name of a file: another file may be called so."""
    said = " ".join(line.text for line in unreadable_rows(Path("zinc.json"), ["zinc.json cannot be read"], 70))
    assert "zinc.json cannot be read." in said
    assert "Zinc.json" not in said
