"""From the first start to a saved vat, by keys alone."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.ui.hands import Bench, Hands

from vatside.log.fold import fold
from vatside.plan.starter import starter_plan
from vatside.storage.folder import SessionCard, list_sessions
from vatside.storage.session_file import SessionFile
from vatside.ui.opening import screen as opening
from vatside.ui.windows.ask import CautionWindow

UP_TO_THE_VAT = ("scour", "stock", "vat")
SIZES = [(60, 20), (80, 24), (120, 40)]


async def plan_the_day(hands: Hands) -> None:
    """Name the day, say when the vat is wanted, and weigh the lot."""
    await hands.new_day()
    await hands.write("Market day")
    await hands.press("enter")
    await hands.write("2026-05-02 18:00")
    await hands.field("lots.a.mass")
    await hands.write("1/2 lb")
    await hands.press("escape")


async def do_all(hands: Hands, stage: str) -> None:
    """Do every step of a stage as it comes, and wait out its waits."""
    await hands.to(stage)
    for _ in range(60):
        step = hands.day.step_in_hand
        if step is None or step.id in hands.desk.state.done:
            return
        await hands.press("space")
        if isinstance(hands.app.screen, CautionWindow):
            await hands.press("enter")
        running = hands.desk.waits(hands.clock.now())
        if running:
            await hands.long_later((running[0].left + 1) / 60)
            await hands.press("q", "e")


@pytest.mark.painted
@pytest.mark.parametrize("size", SIZES)
async def test_a_day_from_first_start_to_the_vat(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """At each size a day can be planned, done until the vat is ready and left, by keys alone."""
    async with bench(size=size) as hands:
        await plan_the_day(hands)
        for stage in UP_TO_THE_VAT:
            await do_all(hands, stage)
        wanted = {step.id for step in hands.desk.steps if step.stage.value in UP_TO_THE_VAT}
        assert wanted == set(hands.desk.state.done)
        await hands.press("ctrl+q")
    [card] = list_sessions(tmp_path / "sessions")
    assert (card.title, card.waits, card.problem) == ("Market day", 0, None)


async def test_what_was_typed_is_in_the_file(bench: Bench, tmp_path: Path) -> None:
    """The plan that was typed is the plan that is read back."""
    async with bench() as hands:
        await plan_the_day(hands)
        await hands.press("ctrl+q")
    [card] = list_sessions(tmp_path / "sessions")
    plan = fold(SessionFile.open(card.path, readonly=True).session).plan
    assert (plan.title, plan.ready_by, plan.lots[0].mass.unit) == ("Market day", "2026-05-02T18:00", "lb")


async def test_a_new_day_leaves_no_trace_until_something_is_entered(bench: Bench, tmp_path: Path) -> None:
    """Looking at a new day and leaving makes no file."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "right", "right", "ctrl+q")
    assert list_sessions(tmp_path / "sessions") == ()


async def test_a_long_list_shows_its_first_page_before_the_rest_is_read(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The days written to last stand there while the others are still to be read; then all do."""
    monkeypatch.setattr(opening, "PAGE", 2)
    for number in range(5):
        path = tmp_path / "sessions" / f"{number}.json"
        SessionFile.create(path, starter_plan(f"Day {number}"), VirtualClock().now()).close()
        os.utime(path, (number, number))
    shown: list[int] = []
    real = opening.OpeningScreen._show

    def show(screen: opening.OpeningScreen, saved: tuple[SessionCard, ...]) -> None:
        shown.append(len(saved))
        real(screen, saved)

    monkeypatch.setattr(opening.OpeningScreen, "_show", show)
    async with bench() as hands:
        await hands.until(lambda: all(f"Day {number}" in hands.screen for number in range(5)))
    assert shown == [2, 5]


async def test_a_day_not_begun_reopens_at_its_steps(bench: Bench, tmp_path: Path) -> None:
    """A key is a command there and no letter of the day's name; Enter goes to the first field, in view."""
    async with bench() as hands:
        await plan_the_day(hands)
        await hands.press("ctrl+q")
    [card] = list_sessions(tmp_path / "sessions")
    async with bench(file=card.path) as hands:
        assert (hands.day.stage.value, hands.day.hand) == ("plan", "doing")
        await hands.press("w", "escape")
        assert hands.desk.plan.title == "Market day"
        await hands.press("enter")
        assert (hands.day.form.at, hands.day.hand) == ("title", "setting")
        assert "Day          Market day" in hands.screen


async def test_one_comes_back_to_the_day_one_left(bench: Bench) -> None:
    """After a glance at the list, Enter opens the same day at its steps."""
    async with bench() as hands:
        await plan_the_day(hands)
        desk = hands.desk
        await hands.press("b")
        await hands.until(lambda: "Market day" in hands.screen)
        await hands.press("enter")
        await hands.until(lambda: type(hands.app.screen).__name__ == "DayScreen")
        assert hands.desk is desk
        assert hands.day.hand == "doing"


async def test_redo_by_its_key(bench: Bench) -> None:
    """What `u` took back, ctrl+y brings back, and the key line offers it only then."""
    async with bench(size=(120, 40)) as hands:
        await plan_the_day(hands)
        await hands.press("escape")
        typed = hands.desk.plan
        assert "bring back" not in hands.screen
        await hands.press("u")
        assert hands.desk.plan != typed
        await hands.later(7)
        assert "ctrl+y bring back" in hands.screen
        await hands.press("ctrl+y")
        assert hands.desk.plan == typed


async def test_x_asks_before_it_takes_out_what_was_written(bench: Bench) -> None:
    """The first press says what would go, the second does it."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "a", "enter")
        await hands.field("lots.b.mass")
        await hands.write("80 g")
        await hands.press("escape", "x")
        assert "the same key once more" in " ".join(hands.screen.split())
        assert len(hands.desk.plan.lots) == 2
        await hands.press("x")
        assert len(hands.desk.plan.lots) == 1
