"""The hand on the shelf: what is doubtful is asked, what was wrong is taken back, and the cursor stays on its bag."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from attrs import evolve
from tests.ui.hands import Bench, Hands

from vatside.shelf.events import Item, ItemBought
from vatside.shelf.shelf import Shelf
from vatside.shelf.shelf_file import ShelfFile
from vatside.units import Amount

LONG_AGO = datetime(2020, 1, 1, tzinfo=UTC)
BAG = Item("n", "indigo", Amount(100, "g"), Amount(38, "%"), lot="A")


def owning(tmp_path: Path, *items: Item) -> None:
    """Put bags on the shelf."""
    ShelfFile(tmp_path / "shelf.json").note([ItemBought(one) for one in items], LONG_AGO)


def shelf(tmp_path: Path) -> Shelf:
    """The shelf as the disk has it."""
    return ShelfFile(tmp_path / "shelf.json").shelf


def said(hands: Hands) -> str:
    """What stands on the screen, in one line."""
    return " ".join(hands.screen.split())


async def into_row(hands: Hands, downs: int, text: str) -> None:
    """Open the bag in hand and type into a row."""
    await hands.press("enter")
    await hands.settle()
    await hands.press(*["down"] * downs)
    await hands.write(text)


async def test_a_strike_purer_than_pure_is_refused(bench: Bench, tmp_path: Path) -> None:
    """523 typed for 52.3: said, left out, and neither the 5 nor the 52 that it began with is noted."""
    owning(tmp_path, BAG)
    async with bench(size=(80, 40)) as hands:
        await hands.press("o")
        await into_row(hands, 10, "523")
        await hands.press("enter")
        assert "purer than pure" in said(hands)
        await hands.press("escape")
        await hands.press("escape")
        assert shelf(tmp_path)["n"].item.strike.value == 100


async def test_a_doubtful_strike_is_asked_about_before_it_is_noted(bench: Bench, tmp_path: Path) -> None:
    """25 % waits for the second Escape."""
    owning(tmp_path, BAG)
    async with bench() as hands:
        await hands.press("o")
        await into_row(hands, 10, "25")
        await hands.press("up")
        assert shelf(tmp_path)["n"].item.strike.value == 100
        await hands.press("escape")
        assert "less than half the colour" in said(hands)
        assert shelf(tmp_path)["n"].item.strike.value == 100
        await hands.press("escape")
        await hands.settle()
        assert shelf(tmp_path)["n"].item.strike.value == 25


async def test_a_bag_with_nothing_but_its_kind_is_none(bench: Bench, tmp_path: Path) -> None:
    """One arrow and Escape: nothing is asked and nothing is kept."""
    async with bench() as hands:
        await hands.press("o", "a")
        await hands.settle()
        await hands.press("right", "escape")
        await hands.settle()
        assert "Nothing stands here yet" in hands.screen
    assert shelf(tmp_path).noted == ()


async def test_a_bag_without_a_mass_is_asked_about(bench: Bench, tmp_path: Path) -> None:
    """A lot was typed: it is not thrown away unasked, and nobody makes a mass up."""
    async with bench() as hands:
        await hands.press("o", "a")
        await hands.settle()
        await hands.press("down")
        await hands.write("A")
        await hands.press("escape")
        assert "how much? Escape once more leaves all of it out" in said(hands)
        await hands.press("escape")
    assert shelf(tmp_path).noted == ()


async def test_a_wrong_bag_is_taken_back(bench: Bench, tmp_path: Path) -> None:
    """`u` drops what was written down last, the file keeps both, and then there is nothing to take back."""
    async with bench() as hands:
        await hands.press("o", "a")
        await hands.settle()
        await hands.press("down", "down")
        await hands.write("80")
        await hands.press("escape")
        await hands.settle()
        assert len(shelf(tmp_path).owned) == 1
        await hands.press("u")
        assert "Taken back: natural indigo powder, 80.0 g, put on the shelf" in said(hands)
        assert shelf(tmp_path).owned == ()
        assert [entry.event.kind for entry in shelf(tmp_path).noted] == ["item_bought", "note_dropped"]
        await hands.press("u")
        assert "Nothing was written down" in said(hands)


async def test_the_hand_stays_on_the_bag_that_is_finished(bench: Bench, tmp_path: Path) -> None:
    """It moves below the others, its sign in view; a second press brings the same one back."""
    owning(tmp_path, *(Item(f"i{at}", "indigo", Amount(100, "g"), Amount(40, "%"), lot=f"Lot{at}") for at in range(20)))
    async with bench(size=(60, 20)) as hands:
        await hands.press("o")
        await hands.settle()
        await hands.press("down")
        assert [line for line in hands.screen.splitlines() if "▸" in line and "Lot1" in line]
        await hands.press("x")
        await hands.settle()
        assert [line for line in hands.screen.splitlines() if "▸" in line and "Lot1" in line]
        assert "Lot1 is finished; x brings it back" in said(hands)
        await hands.press("x")
        await hands.settle()
        assert [owned.item.id for owned in shelf(tmp_path).owned if owned.finished] == []
        assert [line for line in hands.screen.splitlines() if "▸" in line and "Lot1" in line]


async def test_a_bag_is_asked_about_by_its_own_name(bench: Bench, tmp_path: Path) -> None:
    """Brackets in it are no markup of the window's title, and nothing is put before them."""
    owning(tmp_path, evolve(BAG, lot="[b]A"))
    async with bench() as hands:
        await hands.press("o", "r")
        assert "What is left of natural indigo powder, [b]A?" in hands.screen


async def test_the_form_of_a_bag_has_the_room_there_is(bench: Bench, tmp_path: Path) -> None:
    """Eleven rows are in sight at once on a screen of 24, with what is wrong and the keys."""
    owning(tmp_path, BAG)
    async with bench(size=(80, 24)) as hands:
        await hands.press("o")
        await into_row(hands, 10, "523")
        await hands.press("escape")
        await hands.settle()
        assert all(row in hands.screen for row in ("Left now", "Strength", "leaves that out", "Esc back"))


async def test_what_the_app_says_stands_on_the_form_of_a_bag(bench: Bench, tmp_path: Path) -> None:
    """As on every other screen, for some seconds."""
    owning(tmp_path, BAG)
    async with bench() as hands:
        await hands.press("o", "enter")
        await hands.settle()
        hands.app.action_look()
        await hands.settle()
        assert "Look: " in hands.screen
