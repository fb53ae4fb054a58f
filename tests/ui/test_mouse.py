"""A mouse works too."""

from __future__ import annotations

from tests.ui.hands import Bench, Hands


async def click(hands: Hands, words: str) -> None:
    """Click on the first place where some words stand."""
    lines = hands.screen.splitlines()
    y = next(number for number, line in enumerate(lines) if words in line)
    await hands.pilot.click(offset=(lines[y].index(words) + 1, y))
    await hands.settle()


async def test_stages_can_be_clicked(bench: Bench) -> None:
    """A click on a stage's name goes there."""
    async with bench() as hands:
        await hands.new_day()
        await click(hands, "Stock")
        assert hands.day.stage.value == "stock"


async def test_a_click_takes_the_step_in_hand(bench: Bench) -> None:
    """A click on a step puts the cursor there and gives the steps the keys."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        await click(hands, "Fill 1 jar")
        assert hands.day.step_in_hand is not None
        assert hands.day.step_in_hand.id == "stock.water"


async def test_a_click_into_a_field_is_the_hand_that_types(bench: Bench) -> None:
    """The clicked field takes the keys."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.to("stock")
        await click(hands, "40 %")
        await hands.write("5")
        assert hands.day.hand == "setting"
        assert hands.day.form.at == "shelf.indigo.purity"


async def test_a_key_at_the_edge_can_be_clicked(bench: Bench) -> None:
    """The line of keys does what it says."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "right")
        await click(hands, "help")
        assert type(hands.app.screen).__name__ == "ReadingWindow"


async def test_a_key_of_a_window_can_be_clicked(bench: Bench) -> None:
    """Also those that stand in it."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "n")
        await click(hands, "Esc no")
        assert type(hands.app.screen).__name__ == "DayScreen"
