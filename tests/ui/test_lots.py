"""Several lots: in, out, each with its own fibre, and no name that plays tricks."""

from __future__ import annotations

import pytest
from tests.ui.hands import Bench, Hands
from textual.events import Paste


async def second_lot(hands: Hands) -> None:
    """Begin a day and take a lot of cotton in."""
    await hands.new_day()
    await hands.press("escape", "a")
    await hands.field("lots.b.fibre")
    await hands.write("cot")


async def test_one_more_lot_with_its_own_fibre(bench: Bench) -> None:
    """A second lot has rows of its own and a bath of its own."""
    async with bench() as hands:
        await second_lot(hands)
        assert [lot.fibre for lot in hands.desk.plan.lots] == ["linen", "cotton"]
        await hands.to("scour")
        assert {step.group for step in hands.desk.steps_in(hands.day.stage)} == {"linen", "cotton"}


async def test_only_one_lot_is_on_the_form_at_a_time(bench: Bench) -> None:
    """The first row switches between lots; the form stays short."""
    async with bench() as hands:
        await second_lot(hands)
        paths = [row.path for row in hands.day.form.rows]
        assert "lots.b.mass" in paths
        assert "lots.a.mass" not in paths
        assert len(paths) <= 20
        await hands.field("@lot")
        await hands.press("left")
        assert "lots.a.mass" in [row.path for row in hands.day.form.rows]
        assert hands.day.form.at == "@lot"


async def test_a_lot_goes_out_and_comes_back(bench: Bench) -> None:
    """`-` on the lot's row takes it out, `u` at the steps brings it back."""
    async with bench() as hands:
        await second_lot(hands)
        await hands.field("@lot")
        await hands.press("minus", "minus")
        assert [lot.id for lot in hands.desk.plan.lots] == ["a"]
        await hands.press("escape", "u")
        assert [lot.fibre for lot in hands.desk.plan.lots] == ["linen", "cotton"]


async def test_a_lot_that_comes_back_is_called_by_its_name(bench: Bench) -> None:
    """What was taken back is said in the dyer's words, not by the lot's letter."""
    async with bench() as hands:
        await second_lot(hands)
        hands.desk.type("lots.b.name", "Tea towels")
        await hands.field("@lot")
        await hands.press("minus", "minus")
        await hands.press("escape", "u")
        assert "Taken back: Lot taken out: Tea towels" in hands.screen


async def test_the_last_lot_stays(bench: Bench) -> None:
    """A day without fibre is no dye day; it is said instead."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "x")
        assert len(hands.desk.plan.lots) == 1
        assert "One lot stays" in hands.screen


@pytest.mark.parametrize("name", ["[bold]big[/]", "[red", "[/]", "[@click=app.bell]x[/]", "\\[x]"])
async def test_a_name_is_never_markup(bench: Bench, name: str) -> None:
    """Brackets in a lot's name are shown as they were typed, on every screen."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.field("lots.a.name")
        await hands.write(name)
        await hands.press("escape")
        assert hands.desk.plan.lots[0].name == name
        assert name[:6] in hands.screen
        for key in ("right", "right", "right", "equals_sign", "escape", "l", "escape", "f"):
            await hands.press(key)


async def test_a_title_is_never_markup(bench: Bench) -> None:
    """Brackets in the day's name are shown in the head and on the first screen."""
    async with bench() as hands:
        await hands.new_day()
        await hands.write("[b]Day[/b]")
        await hands.press("escape")
        assert "[b]Day[/b]" in hands.screen
        await hands.press("b")
        await hands.until(lambda: "Your days" in hands.screen)
        assert "[b]Day[/b]" in hands.screen


async def test_control_characters_never_reach_the_screen(bench: Bench) -> None:
    """A pasted escape sequence loses its teeth before it is shown or kept."""
    async with bench() as hands:
        await hands.new_day()
        hands.app.post_message(Paste("a\x1b[2Jb"))
        await hands.until(lambda: hands.desk.plan.title != "A new day")
        assert hands.desk.plan.title == "a�[2Jb"
        assert "\x1b" not in hands.screen
