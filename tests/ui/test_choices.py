"""Choices: shown from their beginning, never emptied, and explained."""

from __future__ import annotations

import pytest
from tests.ui.hands import Bench, Hands
from textual import events

from vatside.log.events.day import PlanChanged
from vatside.ui.widgets.entry import Entry

LONG = "Part-worn merino and mohair of the old farm"


def line_with(hands: Hands, label: str) -> str:
    """The line of the screen that begins with a label, its mark aside."""
    return next(line for line in hands.screen.splitlines() if line[1:].startswith(label))


def words(hands: Hands) -> str:
    """The words below the form."""
    return " ".join(" ".join(row.text for row in hands.day.form.query_one("#words").rows).split())  # type: ignore[attr-defined]


def in_hand(hands: Hands) -> str:
    """The text of the field that has the cursor."""
    assert isinstance(hands.app.focused, Entry)
    return hands.app.focused.value


@pytest.mark.parametrize("held", [False, True])
async def test_a_long_choice_is_cut_at_its_end(bench: Bench, held: bool) -> None:
    """The kind of vat begins with its reducer, ends with an ellipsis and keeps its marks, in hand or not."""
    async with bench() as hands:
        await hands.new_day()
        hands.desk.record(PlanChanged("method", "tdo-soda"))
        hands.day.renew()
        await hands.settle()
        await hands.field("method" if held else "measure")
        line = line_with(hands, "Kind of vat").split("‹›")[0]
        name = line.removeprefix("▸").removeprefix(" ").removeprefix("Kind of vat").strip()
        assert name.endswith("…")
        assert "thiourea dioxide and soda ash".startswith(name[:-1])
        assert "‹›" in line_with(hands, "Kind of vat")


async def test_a_turned_choice_is_shown_from_its_beginning(bench: Bench) -> None:
    """After turning to another long name, and after a click into it, its beginning is in view."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("method")
        await hands.press("right")
        name = in_hand(hands)
        assert name[:8] in line_with(hands, "Kind of vat")
        await hands.pilot.click(Entry, offset=(0, 0))
        await hands.field("method")
        await hands.pilot.click(hands.app.focused, offset=(10, 0))
        await hands.settle()
        assert name[:8] in line_with(hands, "Kind of vat")


async def test_a_long_name_that_is_not_being_typed_ends_with_an_ellipsis(bench: Bench) -> None:
    """A lot's long name is cut with an ellipsis once the field is left, in its own row and in the switch."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("lots.a.name")
        await hands.press("ctrl+u")
        await hands.write(LONG)
        await hands.press("down")
        for label in ("Called", "Lot 1 of 1"):
            line = line_with(hands, label)
            assert "Part-worn m" in line
            assert "…" in line


@pytest.mark.parametrize("key", ["ctrl+u", "ctrl+k", "ctrl+w", "ctrl+x", "delete", "backspace"])
async def test_a_choice_cannot_be_emptied(bench: Bench, key: str) -> None:
    """Whatever deletes a text leaves a choice as it was, and a sentence names what could be chosen."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("spoons")
        await hands.press(key)
        assert in_hand(hands) == "US"
        assert hands.desk.wrong == {}
        said = words(hands)
        assert "Spoons stays US" in said
        assert "metric, old British" in said
        await hands.press("right")
        assert "stays" not in words(hands)


@pytest.mark.parametrize(
    ("text", "chosen"), [("metric", "metric"), ("old", "old British"), ("golden", "US"), ("", "US")]
)
async def test_a_text_pasted_into_a_choice_chooses_or_leaves_it(bench: Bench, text: str, chosen: str) -> None:
    """A name, or its beginning, chooses; anything else changes nothing."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("spoons")
        assert hands.app.focused is not None
        hands.app.focused.post_message(events.Paste(text))
        await hands.settle()
        assert in_hand(hands) == chosen
        assert hands.desk.wrong == {}


async def test_a_look_can_still_be_taken_back(bench: Bench) -> None:
    """In a reading ctrl+u turns a look back to not having looked."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("stock")
        await hands.press("r")
        await hands.until(lambda: isinstance(hands.app.focused, Entry))
        while getattr(hands.app.focused, "path", "") != "colour":
            await hands.press("down")
        await hands.press("right")
        assert in_hand(hands)
        await hands.press("ctrl+u")
        assert in_hand(hands) == ""


async def test_the_words_are_those_of_the_chosen(bench: Bench) -> None:
    """How the fibre comes is explained for what is chosen, not for the other choice."""
    async with bench() as hands:
        await hands.new_day()
        await hands.field("lots.a.condition")
        assert words(hands) == "clean: clean to the eye; the scour takes off what holds the dye back"
        await hands.press("right")
        assert words(hands) == "greasy: with its grease, wax or gum on"
