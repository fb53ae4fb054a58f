"""A replay shows the day as it was, on its own clock, and changes nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import session
from tests.ui.hands import Bench, Hands

from vatside.bench.replay_desk import ReplayDesk
from vatside.days.replay import state_at_seq
from vatside.log.events.day import (
    Entry,
    NoteWritten,
    PinSet,
    PlanChanged,
    SessionReopened,
    StepDone,
    WaitEnded,
    WaitExtended,
    WaitStarted,
)
from vatside.log.events.vat import DipEnded, DipStarted, PieceDone, ReadingTaken, VatMade
from vatside.log.fold import fold, sheet_of
from vatside.recipe.compute import compute
from vatside.storage.session_file import SessionFile
from vatside.ui.past.playback import Playback
from vatside.units import Amount
from vatside.vat.reading import Reading

SIZES = [(60, 20), (80, 24), (120, 40)]


DAY = session(
    PlanChanged("title", "Blue [b]Monday"),
    PinSet("stock.pigment", Amount(12, "g")),
    StepDone("stock.water"),
    WaitStarted("w4", None, "Rinse", 10),
    NoteWritten("too cold"),
    StepDone("vat.water"),
    ReadingTaken(Reading(Amount(41, "degC"), pH=10.5)),
    WaitExtended("w4", 5),
    WaitEnded("w4"),
)
"""One event a minute."""


def on_disk(tmp_path: Path) -> Path:
    """Write the day into the folder of sessions."""
    path = tmp_path / "sessions" / "day.json"
    SessionFile.write_new(path, DAY).close()
    return path


def test_a_replay_shows_the_figures_that_the_day_showed() -> None:
    """Once pieces have been dipped, nothing but the log changes; the sheet goes by it at the end as in the day."""
    dipped = session(StepDone("vat.stock_in"), VatMade(), DipStarted("a.1", 5), DipEnded("a.1", 10), PieceDone("a.1"))
    desk = ReplayDesk(dipped, VirtualClock(dipped.created))
    while desk.state.seq < len(dipped.entries):
        desk.player_clock.player = desk.player.next_event(desk.real)
        desk.advance()
    assert desk.sheet == sheet_of(fold(dipped))
    assert desk.sheet != compute(dipped.plan)


async def to_seq(hands: Hands, seq: int) -> ReplayDesk:
    """Go on event by event up to one of them."""
    desk = replay(hands)
    while desk.state.seq < seq:
        await hands.press("full_stop")
    return desk


def replay(hands: Hands) -> ReplayDesk:
    """The desk of the replay on the screen."""
    assert isinstance(hands.day.course, Playback)
    return hands.day.course.desk


def test_a_replay_ends_with_the_last_thing_that_was_done() -> None:
    """Opened again and laid anew a week later, the day is as long as on the day itself."""
    clock = VirtualClock(DAY.created)
    clock.advance(7 * 24 * 3600)
    again = evolve(DAY, entries=(*DAY.entries, Entry(len(DAY.entries) + 1, clock.now(), SessionReopened())))
    assert ReplayDesk(again, VirtualClock()).player.line.length == 60 * len(DAY.entries)


@pytest.mark.parametrize("size", SIZES)
async def test_the_head_says_replay_speed_and_time(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """At each size the head says that it is a replay, how fast it goes, and the time of that day."""
    async with bench(size=size, file=on_disk(tmp_path), replay=True) as hands:
        desk = await to_seq(hands, 2)
        head = hands.screen.splitlines()[0]
        when = desk.clock.now().utc.astimezone()
        assert "AS IT WENT" in head
        assert "60×" in head
        assert f"{when:%H:%M:%S}" in head


@pytest.mark.parametrize("size", SIZES)
async def test_every_screen_of_a_replay_says_so(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """The vat, what its reading means, its end and the far view carry the mark as the day does."""
    async with bench(size=size, file=on_disk(tmp_path), replay=True) as hands:
        await to_seq(hands, 7)
        for keys in (("v",), ("enter",), ("escape", "v", "d")):
            await hands.press(*keys)
            await hands.until(lambda: "AS IT WENT" in hands.screen.splitlines()[0])
        await hands.press("escape", "f")
        await hands.until(lambda: "AS IT WENT" in "".join(hands.screen.splitlines()[-3:]))


async def test_the_vat_of_a_replay_offers_no_key_that_changes_it(bench: Bench, tmp_path: Path) -> None:
    """Of a past day its key line has the ways out and on; what a reading or undo would do is not offered."""
    async with bench(file=on_disk(tmp_path), replay=True, size=(120, 40)) as hands:
        await hands.press("v")
        line = hands.screen.splitlines()[-1]
        assert "Esc back" in line
        assert not any(words in line for words in ("r read", "a add", "h hot water", "k call", "u undo", "n note"))


async def test_a_touch_on_the_far_view_changes_nothing(bench: Bench, tmp_path: Path) -> None:
    """An alarm of the past cannot be quieted: the touch leads back to the replay."""
    path = tmp_path / "sessions" / "rang.json"
    rang = session(WaitStarted("w1", None, "Rinse", 1), *(NoteWritten(text) for text in "abc"))
    SessionFile.write_new(path, rang).close()
    async with bench(file=path, replay=True) as hands:
        desk = await to_seq(hands, 4)
        assert desk.glance(desk.clock.now()).ringing
        await hands.press("f")
        await hands.pilot.click()
        await hands.until(lambda: hands.app.screen is hands.day)
        assert desk.state.entries == rang.entries


async def test_every_event_shows_the_state_as_it_was(bench: Bench, tmp_path: Path) -> None:
    """Event by event, plan, pins, waits, notes and readings are those of the log up to there."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        desk = replay(hands)
        for seq in range(1, DAY.seq + 1):
            await hands.press("full_stop")
            assert desk.state == state_at_seq(DAY, seq)
            assert desk.plan == desk.state.plan


async def test_back_again_event_by_event(bench: Bench, tmp_path: Path) -> None:
    """The comma leads to what happened before, down to the bare plan."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        desk = await to_seq(hands, 3)
        await hands.press("comma")
        assert desk.state.seq == 2
        await hands.press("comma", "comma")
        assert desk.state.entries == ()
        assert "As the day began" in hands.screen


async def test_a_held_figure_appears_when_it_was_held(bench: Bench, tmp_path: Path) -> None:
    """Before the pin the figure follows the plan, from there on it is 12 g and says held, in its stage."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        desk = await to_seq(hands, 1)
        assert desk.sheet.value("stock.pigment") != pytest.approx(12)
        await hands.press("full_stop")
        assert desk.sheet.value("stock.pigment") == pytest.approx(12)
        assert "STOCK" in hands.screen
        assert "set to" in hands.screen


async def test_what_happened_is_said(bench: Bench, tmp_path: Path) -> None:
    """The note stands on the screen with its time and its number."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        await to_seq(hands, 5)
        assert "too cold" in hands.screen
        assert f"5 of {DAY.seq}" in hands.screen


async def test_time_goes_by_as_fast_as_said(bench: Bench, tmp_path: Path) -> None:
    """At real time the rinse runs down a second in a second; 600 times is the fastest."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        desk = await to_seq(hands, 4)
        await hands.press("minus", "minus", "minus", "space")
        await hands.later(30)
        assert desk.player.speed == 1
        assert desk.waits(desk.clock.now())[0].left == pytest.approx(10 * 60 - 30)
        await hands.press(*["plus"] * 9)
        assert desk.player.speed == 600
        assert "600×" in hands.screen
        await hands.later(1)
        assert desk.state.seq == DAY.seq
        assert "at its end" in hands.screen


async def test_it_stands_still_when_asked(bench: Bench, tmp_path: Path) -> None:
    """Paused, no time goes by on the screen."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        desk = await to_seq(hands, 2)
        before = desk.position
        await hands.later(30)
        assert desk.position == before
        assert "stands still" in hands.screen


async def test_nothing_rings_and_nothing_is_changed(bench: Bench, tmp_path: Path) -> None:
    """Every key of the day leaves the file as it was, byte for byte, and no bell sounds."""
    path = on_disk(tmp_path)
    before, names = path.read_bytes(), sorted(file.name for file in path.parent.iterdir())
    async with bench(file=path, replay=True) as hands:
        rung: list[int] = []
        hands.app.bell = lambda: rung.append(1)  # type: ignore[method-assign]
        await to_seq(hands, 4)
        await hands.press(*"euwasxrdgjonp", "tab", "enter", "escape", "equals_sign", "escape", "f", "f", "q")
        await hands.later(20)
        assert replay(hands).state.entries == DAY.entries
        assert rung == []
        assert hands.app.screen is hands.day
        await hands.press("b", "ctrl+q")
    assert path.read_bytes() == before
    assert sorted(file.name for file in path.parent.iterdir()) == names


async def test_a_key_that_changes_says_why_not(bench: Bench, tmp_path: Path) -> None:
    """`e` in a replay answers in a sentence."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        await hands.press("e")
        assert "nothing is changed" in hands.screen


async def test_jump_to_a_time(bench: Bench, tmp_path: Path) -> None:
    """A time of that day, a way further, and nonsense with what would be right."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        desk = replay(hands)
        await hands.press("enter")
        await hands.write("soon")
        assert "a time of that day like 14:30" in " ".join(hands.screen.split())
        await hands.press("ctrl+u")
        await hands.write("+2 min")
        await hands.press("enter")
        assert (desk.position, desk.state.seq) == (120, 2)
        then = desk.player.line.moment_at(400).utc.astimezone()
        await hands.press("enter")
        await hands.write(f"{then:%H:%M:%S}")
        await hands.press("enter")
        assert desk.position == 400


async def test_a_new_day_from_here(bench: Bench, tmp_path: Path) -> None:
    """`c` begins a day with the plan as it stood at that point, with its pins and without its log."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        desk = await to_seq(hands, 2)
        await hands.press("c")
        await hands.until(lambda: hands.app.desk is not None)
        assert hands.desk.plan.title == "Blue [b]Monday, again"
        assert hands.desk.plan.pins == desk.plan.pins
        assert hands.desk.state.entries == ()


async def test_the_day_goes_on_meanwhile(bench: Bench, tmp_path: Path) -> None:
    """A wait of the live day that goes over is named on the replay; q quiets it."""
    on_disk(tmp_path)
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "w")
        await hands.write("10 min dinner")
        await hands.press("enter", "b")
        await hands.until(lambda: bool(hands.app.opening.listed.saved))
        hands.app.opening.parts["shelf"].choose(f"saved:{tmp_path / 'sessions' / 'day.json'}")
        await hands.press("p")
        await hands.long_later(11)
        assert "In your own day: dinner" in hands.screen
        await hands.press("q")
        assert not any(wait.ringing for wait in hands.desk.waits(hands.clock.now()))


async def test_a_replay_from_the_command_line(bench: Bench, tmp_path: Path) -> None:
    """`vatside replay FILE` puts no day on the bench; `b` leads to the list of days."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        assert hands.app.desk is None
        await hands.press("b")
        assert hands.app.screen is hands.app.opening


async def test_no_wait_is_offered_behind_a_replay(bench: Bench, tmp_path: Path) -> None:
    """Nor on its vat, where nothing can be begun either."""
    async with bench(file=on_disk(tmp_path), replay=True) as hands:
        for keys in ((), ("v",)):
            await hands.press(*keys)
            assert "Nothing is running." in hands.screen
            assert "starts a wait" not in hands.screen
