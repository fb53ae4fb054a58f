"""What can hurt stands before the step it belongs to."""

from __future__ import annotations

import pytest
from tests.ui.hands import Bench, Hands

from vatside.log.events.day import StepDone

DRAWN = ["step_done"]
"""The log of a day whose stock has its water and nothing else."""


async def at_the_lye(hands: Hands) -> None:
    """Begin a day, draw the water and go to the step that brings the lye in."""
    await hands.new_day()
    await hands.to("stock")
    hands.desk.record(StepDone("stock.water"))
    hands.day.renew()
    while hands.day.step_in_hand is not None and hands.day.step_in_hand.id != "stock.alkali_in":
        await hands.press("down")


def acts(hands: Hands) -> list[str]:
    """The kinds of what was done; how the day was laid for it is no act."""
    return [kind for kind in hands.kinds if kind != "day_laid"]


async def test_lye_asks_before_it_goes_in(bench: Bench) -> None:
    """Space on the lye shows its cautions and does nothing yet."""
    async with bench() as hands:
        await at_the_lye(hands)
        await hands.press("space")
        assert "Lye burns skin and blinds eyes" in hands.screen
        assert "local rules and licensed" in hands.screen
        assert acts(hands) == DRAWN


async def test_one_key_says_it_was_read(bench: Bench) -> None:
    """Enter acknowledges, once the last line was seen, and the step is done."""
    async with bench() as hands:
        await at_the_lye(hands)
        await hands.press("space")
        await hands.read_on()
        assert acts(hands)[1:3] == ["caution_acknowledged", "step_done"]


async def test_space_twice_acknowledges_nothing(bench: Bench) -> None:
    """A bouncing key does not read cautions."""
    async with bench() as hands:
        await at_the_lye(hands)
        await hands.press("space", "space", "space")
        assert acts(hands) == DRAWN
        await hands.press("escape")
        assert acts(hands) == DRAWN


async def test_what_was_read_is_not_asked_again(bench: Bench) -> None:
    """Taking the step back and doing it again does not ask twice."""
    async with bench() as hands:
        await at_the_lye(hands)
        await hands.press("space")
        await hands.read_on()
        await hands.later(1)
        while hands.day.step_in_hand is None or hands.day.step_in_hand.id != "stock.alkali_in":
            await hands.press("down")
        await hands.press("space", "y")
        await hands.later(1)
        while hands.day.step_in_hand is None or hands.day.step_in_hand.id != "stock.alkali_in":
            await hands.press("down")
        await hands.press("space")
        assert type(hands.app.screen).__name__ == "DayScreen"
        assert hands.kinds.count("step_done") == 3


async def test_danger_stands_on_the_screen_in_words_and_signs(bench: Bench) -> None:
    """A jar of aluminium under lye is told in a sentence, on the stage line, and in the list."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        await hands.field("vessels.jar_stuff")
        await hands.write("alu")
        await hands.press("escape")
        assert "!! Danger:" in hands.screen
        assert "STOCK 0/7 !!" in hands.screen
        await hands.press("i")
        assert "hydrogen" in hands.screen


async def test_cautions_are_named_at_the_step(bench: Bench) -> None:
    """Whoever reads ahead sees what must be read."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        assert "! Lye burns skin" in hands.screen


async def test_leaving_works_from_a_window_as_well(bench: Bench) -> None:
    """ctrl+q over a caution leaves; nothing was acknowledged."""
    async with bench() as hands:
        await at_the_lye(hands)
        desk = hands.desk
        await hands.press("space", "ctrl+q")
        assert hands.app.desk is None
        assert not desk.state.acknowledged


async def test_the_lye_names_its_limits(bench: Bench) -> None:
    """What the lye is dissolved in, how warm it gets, how warm the jar's water may be, and where it must stop."""
    async with bench() as hands:
        await at_the_lye(hands)
        await hands.press("space")
        words = " ".join(hands.screen.replace("┃", " ").split())
        warmest = hands.grams("stock.warmest")
        assert "The jug: plastic, 50 mL of cold water; this lye brings it from 12 °C to 29 °C" in words
        assert f"water at {warmest:.0f} °C or cooler" in words
        assert "must stay below 60 °C" in words


async def at_the_reducer(hands: Hands) -> None:
    """Begin a day and go to the step that brings the reducer into the stock."""
    await hands.new_day()
    await hands.to("stock")
    while hands.day.step_in_hand is not None and hands.day.step_in_hand.id != "stock.reducer_in":
        await hands.press("down")


async def test_the_first_reducer_asks_how_its_tub_is(bench: Bench) -> None:
    """Before the first spoon of the day the tub is asked for; Enter says dry, cool and read."""
    async with bench() as hands:
        await at_the_reducer(hands)
        await hands.press("space")
        assert "The tub of reducer: dry and cool?" in hands.screen
        await hands.read_on()
        assert hands.kinds.count("step_done") == 1


@pytest.mark.parametrize(("key", "words"), [("1", "Damp reducer heats itself"), ("2", "can catch fire")])
async def test_nothing_of_a_bad_tub_goes_in(bench: Bench, key: str, words: str) -> None:
    """A damp or a warm tub is refused with what to do about it, the log says so, and the step stays open."""
    async with bench() as hands:
        await at_the_reducer(hands)
        await hands.press("space", key)
        assert words in hands.screen
        await hands.press("enter")
        assert hands.kinds == ["reducer_found"]
