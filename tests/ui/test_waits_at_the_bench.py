"""Waits on the screen: several at once, ringing until heard, never in doubt."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from shutil import copy

from tests.clocks.virtual_clock import VirtualClock
from tests.ui.hands import Bench, Hands

from vatside.log.events.day import LotAdded, StepDone
from vatside.plan.plan import Condition, Form, Lot
from vatside.plan.sheet import Stage
from vatside.storage.places import journal_path, samples_folder
from vatside.ui.widgets.lines import Lines
from vatside.units import Amount


async def own_wait(hands: Hands, text: str) -> None:
    """Start a wait of one's own."""
    await hands.press("w")
    await hands.write(text)
    await hands.press("enter")


async def two_waits(hands: Hands) -> None:
    """Begin a day with two waits running."""
    await hands.new_day()
    await hands.to("scour")
    await own_wait(hands, "10 min rinse")
    await own_wait(hands, "20 min soak the rags")


def bells(hands: Hands) -> list[float]:
    """Count the bells from now on."""
    rung: list[float] = []
    hands.app.bell = lambda: rung.append(hands.clock.elapsed)  # type: ignore[method-assign]
    return rung


async def test_a_step_starts_its_wait(bench: Bench) -> None:
    """Space on a step with a wait starts it; it counts down at the bottom edge."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("scour")
        await hands.press("space")
        await hands.later(60)
        assert "Wet out linen" in hands.screen
        assert "29:00" in hands.screen


async def test_several_waits_run_side_by_side(bench: Bench) -> None:
    """Two waits stand one below the other, the sooner above."""
    async with bench() as hands:
        await two_waits(hands)
        await hands.later(30)
        lines = hands.screen.splitlines()
        first = next(number for number, line in enumerate(lines) if "rinse" in line and "9:30" in line)
        assert "soak the rags" in lines[first + 1]
        assert "19:30" in lines[first + 1]


async def test_waits_are_seen_from_every_stage(bench: Bench) -> None:
    """Whatever is on the screen, the waits are at its bottom edge."""
    async with bench() as hands:
        await two_waits(hands)
        for stage in ("plan", "scour", "stock", "vat"):
            await hands.to(stage)
            assert "soak the rags" in hands.screen
        await hands.press("question_mark")
        assert "soak the rags" in hands.screen
        await hands.press("escape", "b")
        await hands.later(1)
        assert "soak the rags" in hands.screen


async def test_the_alarm_repeats_until_heard(bench: Bench) -> None:
    """It rings again and again, then not any more; the row stays and counts up."""
    async with bench() as hands:
        await two_waits(hands)
        rung = bells(hands)
        await hands.later(612)
        assert len(rung) >= 3
        assert "OVER" in hands.screen
        await hands.press("q")
        heard = len(rung)
        await hands.later(30)
        assert len(rung) == heard
        assert "over +0:4" in hands.screen
        assert "quiet; e ends it" in hands.screen


async def test_a_nudge_rings_too(bench: Bench) -> None:
    """A hold asks for its stir, by name, and rings until that is heard."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("scour")
        while hands.day.step_in_hand is not None and not hands.day.step_in_hand.nudges:
            await hands.press("down")
        await hands.press("space")
        [wait] = hands.desk.waits(hands.clock.now())
        rung = bells(hands)
        assert wait.nudge_left is not None
        await hands.later(wait.nudge_left + 6)
        assert len(rung) >= 2
        assert "stir slowly" in hands.screen.lower()
        await hands.press("q")
        assert "! stir slowly" not in hands.screen
        assert hands.app.screen is hands.day


async def test_longer_shorter_paused_and_ended(bench: Bench) -> None:
    """`+`, `-`, `p` and `e` act on the wait in hand, and `u` takes them back."""
    async with bench() as hands:
        await two_waits(hands)
        await hands.press("plus")
        assert "15:00" in hands.screen
        await hands.press("minus", "minus")
        assert "5:00" in hands.screen
        await hands.press("p")
        await hands.later(60)
        assert "paused" in hands.screen
        assert hands.desk.waits(hands.clock.now())[-1].left == 300
        await hands.press("p", "2", "e")
        assert [wait.label for wait in hands.desk.state.waits] == ["rinse"]
        await hands.press("u")
        assert [wait.label for wait in hands.desk.state.waits] == ["rinse", "soak the rags"]


async def test_five_minutes_more_of_what_is_over(bench: Bench) -> None:
    """`+` on a wait that is over gives five minutes from now."""
    async with bench() as hands:
        await two_waits(hands)
        await hands.later(660)
        await hands.press("q", "plus")
        assert 299 <= hands.desk.waits(hands.clock.now())[0].left <= 300


async def test_ending_a_wait_finishes_its_step(bench: Bench) -> None:
    """The step is done with its wait; one `u` takes both back."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("scour")
        await hands.press("space")
        await hands.later(1)
        await hands.press("e")
        assert "scour.linen.soak" in hands.desk.state.done
        await hands.press("u")
        assert hands.desk.state.done == {}
        assert len(hands.desk.state.waits) == 1


async def test_the_cursor_goes_on_once_a_wait_is_begun(bench: Bench) -> None:
    """The sign of what space does stands on the next step; a slip of the same press begins nothing more."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("scour")
        first, second = (step.id for step in hands.desk.steps_in(hands.day.stage)[:2])
        await hands.press("space", "space")
        assert [wait.step for wait in hands.desk.state.waits] == [first]
        assert hands.day.steps.key == second
        assert not hands.desk.state.done
        pointed = [line for line in hands.screen.splitlines() if "▸" in line]
        assert [hands.desk.steps_in(hands.day.stage)[1].text[:12] in line for line in pointed] == [True]


async def test_figures_follow_the_lot_in_hand(bench: Bench) -> None:
    """Where two baths are scoured, what is weighed for the bath of the step in hand comes into view."""
    async with bench() as hands:
        await hands.new_day()
        wool = Lot("b", "Wool", "wool", Amount(200, "g"), 2, Form.SKEINS, Condition.GREASY, Amount(0.8, "%"))
        hands.desk.record(LotAdded(wool))
        hands.day.renew()
        await hands.to("scour")
        steps = hands.desk.steps_in(hands.day.stage)
        last = next(step for step in reversed(steps) if step.group)
        while hands.day.steps.key != last.id:
            await hands.press("down")
        figures = hands.day.figures
        top = figures.scroll_offset.y
        seen = [item.text for item in figures.rows[top : top + figures.size.height]]
        assert top > 0
        assert any(text.startswith(f"{last.group}:") for text in seen), seen


async def test_sleep_is_told_in_one_sentence(bench: Bench) -> None:
    """After an hour of sleep both waits are over, and the screen says why."""
    async with bench() as hands:
        await two_waits(hands)
        await hands.long_later(60)
        words = " ".join(hands.screen.split())
        assert "asleep for 1 h" in words
        assert "Over meanwhile" in words
        assert hands.screen.count("OVER") == 2


async def test_kill_and_reopen_brings_the_same_screen(bench: Bench, tmp_path: Path) -> None:
    """Whatever was on the screen when the power went is there again, waits and all."""
    clock = VirtualClock()
    async with bench(clock=clock) as hands:
        await two_waits(hands)
        await hands.press("space")
        await hands.later(100)
        before = [(wait.label, wait.left) for wait in hands.desk.waits(clock.now())]
        path = hands.desk.keeping.path
        assert path is not None
        copied = tmp_path / "killed.json"
        copy(path, copied)
        copy(journal_path(path), journal_path(copied))
    async with bench(clock=clock, file=copied) as hands:
        await hands.until(lambda: bool(hands.app.desk))
        assert [(wait.label, wait.left) for wait in hands.desk.waits(clock.now())] == before
        assert hands.day.stage.value == "scour"
        await hands.until(lambda: "soak the rags" in hands.screen)


async def test_time_goes_on_while_the_program_is_closed(bench: Bench, tmp_path: Path) -> None:
    """A wait that ended meanwhile is over by as much, and it is said."""
    clock = VirtualClock()
    async with bench(clock=clock) as hands:
        await two_waits(hands)
        path = hands.desk.keeping.path
        await hands.press("ctrl+q")
    clock.advance(15 * 60)
    async with bench(clock=clock, file=path) as hands:
        await hands.until(lambda: "OVER +5:00" in hands.screen)
        assert "closed for 15 min" in hands.screen


def grounds(hands: Hands) -> set[str]:
    """The roles of the far view's words."""
    return {span.role for row in hands.app.screen.query_one("#far", Lines).rows for span in row.spans}


async def test_the_far_view_shows_and_any_key_quiets(bench: Bench) -> None:
    """Names in capitals; when one is over its block turns, and the first key only quiets."""
    async with bench() as hands:
        await two_waits(hands)
        await hands.press("f")
        assert "RINSE" in hands.screen
        assert "over" not in grounds(hands)
        await hands.later(605)
        assert "over" in grounds(hands)
        await hands.press("k")
        assert type(hands.app.screen).__name__ == "FarScreen"
        assert "over" not in grounds(hands)
        assert not any(wait.ringing for wait in hands.desk.waits(hands.clock.now()))
        await hands.press("f")
        assert hands.app.screen is hands.day


async def test_the_far_view_comes_up_by_itself_when_nobody_is_at_the_keys(bench: Bench) -> None:
    """Only once something rings and no key was pressed for two minutes; the first key quiets and goes back."""
    async with bench() as hands:
        await two_waits(hands)
        await hands.later(590)
        assert hands.app.screen is hands.day
        await hands.later(15)
        assert type(hands.app.screen).__name__ == "FarScreen"
        assert "Any key quiets and leads back; that key does no more." in hands.screen
        await hands.press("k")
        assert hands.app.screen is hands.day
        assert not hands.day.is_ringing


async def test_the_far_view_stays_away_while_keys_are_pressed(bench: Bench) -> None:
    """Who was at the keys a moment ago sees what rings."""
    async with bench() as hands:
        await two_waits(hands)
        await hands.later(550)
        await hands.press("down")
        await hands.later(60)
        assert hands.app.screen is hands.day
        await hands.later(70)
        assert type(hands.app.screen).__name__ == "FarScreen"


async def test_a_wait_without_a_length_is_asked_again(bench: Bench) -> None:
    """Words without a time start nothing and say what would be right."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape")
        await own_wait(hands, "rinse")
        assert "10 min rinse" in hands.screen
        assert hands.kinds == []


async def test_the_clock_is_not_shown_once_the_screens_are_gone(bench: Bench) -> None:
    """The timer may come once more while the app closes: with no screen left there is nothing to ring or to show."""
    async with bench() as hands:
        await two_waits(hands)
        rung = bells(hands)
    hands.clock.advance(1200)
    hands.app.tick()
    assert rung == []


async def test_the_far_view_stays_away_from_a_day_that_was_just_opened(bench: Bench, tmp_path: Path) -> None:
    """Whoever opens a day is at the keys: what rang meanwhile is seen on the day's own screen first."""
    file = tmp_path / "sessions" / "day.json"
    file.parent.mkdir()
    copy(samples_folder() / "at-the-stove.json", file)
    clock = VirtualClock(datetime(2026, 5, 2, 14, 0, tzinfo=UTC))
    clock.reboot(60)
    clock.advance(3600)
    async with bench(file=file, clock=clock) as hands:
        await hands.later(2)
        assert hands.day.is_ringing
        assert hands.app.screen is hands.day


async def test_to_end_a_wait_where_none_runs_says_so(bench: Bench) -> None:
    """Also at the last step of a stage that is done, of which nothing else is said then."""
    async with bench() as hands:
        await hands.begin(
            lambda desk: desk.record(*(StepDone(step.id) for step in desk.steps_in(Stage.STOCK))), "stock"
        )
        await hands.press("end", "e")
        assert "Nothing is running." in hands.screen
