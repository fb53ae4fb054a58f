"""Bags of one shelf: told apart, taken into the plan, asked for, and struck beside each other."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from tests.log.makers import session
from tests.ui.hands import Bench, Hands

from vatside.log.events.day import PlanChanged, StepDone
from vatside.shelf.events import Item, ItemBought, ItemFinished
from vatside.shelf.shelf import Shelf
from vatside.shelf.shelf_file import ShelfFile
from vatside.storage.session_file import SessionFile
from vatside.units import Amount

LONG_AGO = datetime(2020, 1, 1, tzinfo=UTC)
BAG = Item("n", "indigo", Amount(100, "g"), Amount(24, "%"), lot="A")
OLD = Item("o", "indigo", Amount(80, "g"), Amount(40, "%"), lot="Old", price=Amount(22, ""))


def on_disk(tmp_path: Path, *items: Item) -> Path:
    """Write a day that has not got far, and a shelf."""
    path = tmp_path / "sessions" / "day.json"
    SessionFile.write_new(path, session(PlanChanged("title", "Market day"))).close()
    ShelfFile(tmp_path / "shelf.json").note([ItemBought(one) for one in items], LONG_AGO)
    return path


def shelf(tmp_path: Path) -> Shelf:
    """The shelf as the disk has it."""
    return ShelfFile(tmp_path / "shelf.json").shelf


def said(hands: Hands) -> str:
    """What stands on the screen, in one line."""
    return " ".join(hands.screen.split())


async def show_shelf(hands: Hands) -> None:
    """From the day to its shelf."""
    await hands.press("escape", "o", "o")
    await hands.settle()


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_a_bag_of_another_purity_is_taken_in_by_one_key(
    bench: Bench, tmp_path: Path, size: tuple[int, int]
) -> None:
    """The notice says what it takes, `m` takes the bag in, and then nothing is left to say."""
    async with bench(file=on_disk(tmp_path, BAG), size=size) as hands:
        await show_shelf(hands)
        assert "A counts as 24 %" in said(hands)
        await hands.press("m")
        assert [entry.purity.value for entry in hands.desk.plan.shelf if entry.material == "indigo"] == [24]
        assert "counts as 24 %" not in said(hands)
        await hands.press("m")
        assert "Plan and shelf say the same" in said(hands)
        assert hands.kinds.count("powder_taken") == 1


async def test_what_could_come_from_two_bags_is_asked_and_answered(bench: Bench, tmp_path: Path) -> None:
    """The notice asks, `j` lists both, a digit answers; the question does not come again."""
    path = on_disk(tmp_path, OLD, Item("p", "indigo", Amount(80, "g"), Amount(40, "%"), lot="Other"))
    async with bench(file=path) as hands:
        hands.desk.record(StepDone("stock.paste"))
        used = hands.grams("stock.pigment")
        await show_shelf(hands)
        assert "from which bag?" in said(hands)
        await hands.press("j")
        await hands.settle()
        assert "1 natural indigo powder, Old" in said(hands)
        await hands.press("2")
        await hands.settle()
        assert shelf(tmp_path)["p"].left == pytest.approx(80 - used, abs=0.001)
        assert shelf(tmp_path)["o"].left == 80
        assert "from which bag?" not in said(hands)


async def test_a_booking_is_put_right(bench: Bench, tmp_path: Path) -> None:
    """Booked from the plan's bag; `j` moves it to the other one, or to none."""
    async with bench(file=on_disk(tmp_path, BAG, OLD)) as hands:
        hands.desk.record(StepDone("stock.paste"))
        used = hands.grams("stock.pigment")
        await show_shelf(hands)
        assert shelf(tmp_path)["o"].left == pytest.approx(80 - used, abs=0.001)
        for key, grams in (("1", 100 - used), ("0", 100)):
            await hands.press("j")
            await hands.settle()
            await hands.press(key)
            await hands.settle()
            assert shelf(tmp_path)["n"].left == pytest.approx(grams, abs=0.001)
        assert shelf(tmp_path)["o"].left == 80


async def test_leaving_says_what_nobody_can_tell(bench: Bench, tmp_path: Path) -> None:
    """Back on the first screen, the question stands there with the way to answer it."""
    path = on_disk(tmp_path, OLD, Item("p", "indigo", Amount(80, "g"), Amount(40, "%"), lot="Other"))
    async with bench(file=path) as hands:
        hands.desk.record(StepDone("stock.paste"))
        await hands.press("escape", "b")
        await hands.settle()
        assert "From which bag: 6.5 g of natural indigo powder?" in said(hands)


async def test_two_bags_of_one_name_have_numbers(bench: Bench, tmp_path: Path) -> None:
    """In a narrow window too, where the substance gives way."""
    twin = Item("t", "indigo", Amount(50, "g"), Amount(24, "%"), lot="A")
    async with bench(file=on_disk(tmp_path, BAG, twin), size=(60, 20)) as hands:
        await show_shelf(hands)
        assert "A, bag 1" in hands.screen
        assert "A, bag 2" in hands.screen


async def test_two_strips_give_the_strike(bench: Bench, tmp_path: Path) -> None:
    """Old 2 g/L of 40 % at 0.8 %; new 3 g/L of 24 % at 0.9 %: 125 %, so it counts as 30 %. The working stands there."""
    async with bench(file=on_disk(tmp_path, BAG, OLD)) as hands:
        await show_shelf(hands)
        await hands.press("=")
        await hands.settle()
        await hands.press("down", "down", "down")
        await hands.write("0.8 %")
        await hands.press("enter")
        await hands.write("3")
        await hands.press("enter")
        await hands.write("0.9 %")
        assert "1.25 ÷ 1 = 125 %: 24 % by its label counts as 30 %" in said(hands)
        await hands.press("escape")
        await hands.settle()
        assert "strength 125 %" in said(hands)
        assert "strikes" not in said(hands)
    assert shelf(tmp_path)["n"].item.strike.value == 125


async def test_strips_are_reached_from_the_bag(bench: Bench, tmp_path: Path) -> None:
    """`=` in a bag's form; leaving without colours notes nothing."""
    async with bench(file=on_disk(tmp_path, BAG, OLD)) as hands:
        await show_shelf(hands)
        await hands.press("enter")
        await hands.settle()
        await hands.press("equals_sign")
        await hands.settle()
        assert "Two strips: natural indigo powder, A" in said(hands)
        assert "dry them; write down both colours" in said(hands)
        await hands.press("escape")
    assert shelf(tmp_path)["n"].item.strike.value == 100


async def test_lye_has_no_strips(bench: Bench, tmp_path: Path) -> None:
    """Only a pigment colours."""
    async with bench(file=on_disk(tmp_path, Item("l", "lye", Amount(500, "g"), Amount(99, "%")))) as hands:
        await show_shelf(hands)
        await hands.press("=")
        assert "this is none" in said(hands)


async def test_ten_spoons_show_one(bench: Bench, tmp_path: Path) -> None:
    """26 g for ten stand as 2.6 g in the row below while the form is open."""
    async with bench(file=on_disk(tmp_path, BAG)) as hands:
        await show_shelf(hands)
        await hands.press("enter")
        await hands.settle()
        await hands.press("down", "down", "down", "down", "down")
        await hands.write("26 g")
        assert "1 tsp weighs 2.6 g" in said(hands)
        await hands.press("escape")
    spoon = shelf(tmp_path)["n"].item.spoon_mass
    assert spoon == Amount(2.6, "g")


async def test_a_bottle_is_written_down_and_weighed_by_volume(bench: Bench, tmp_path: Path) -> None:
    """300 mL of vinegar left of 1 L: 303 g."""
    bottle = Item("v", "vinegar", Amount(1010, "g"), Amount(5, "%"))
    async with bench(file=on_disk(tmp_path, bottle)) as hands:
        await show_shelf(hands)
        assert "1 L" in hands.screen
        await hands.press("r")
        await hands.write("300 mL")
        assert "300 mL left; 1 L by the book" in said(hands)
        await hands.press("enter")
    assert shelf(tmp_path)["v"].left == pytest.approx(303)


async def test_what_another_window_noted_shows(bench: Bench, tmp_path: Path) -> None:
    """The next thing done here shows the bag as finished as well."""
    async with bench(file=on_disk(tmp_path, BAG, OLD)) as hands:
        await show_shelf(hands)
        ShelfFile(tmp_path / "shelf.json").note([ItemFinished("o")], LONG_AGO)
        assert "Finished" not in hands.screen
        await hands.press("plus")
        assert "Finished" in hands.screen


async def test_a_finished_bag_goes_into_no_plan(bench: Bench, tmp_path: Path) -> None:
    """Space says that it is finished, and the plan stays."""
    async with bench(file=on_disk(tmp_path, BAG)) as hands:
        await show_shelf(hands)
        await hands.press("x", "space")
        assert "is finished; x brings it back" in said(hands)
        assert "powder_taken" not in hands.kinds


async def test_an_empty_bag_asks_whether_it_is(bench: Bench, tmp_path: Path) -> None:
    """Weighed as nothing, and not called finished."""
    async with bench(file=on_disk(tmp_path, BAG)) as hands:
        await show_shelf(hands)
        await hands.press("r")
        await hands.write("0")
        await hands.press("enter")
        assert "nothing is left by the book" in said(hands)


async def test_a_new_day_says_what_it_cannot_choose(bench: Bench, tmp_path: Path) -> None:
    """Two lots on the shelf: neither is taken unsaid."""
    ShelfFile(tmp_path / "shelf.json").note([ItemBought(BAG), ItemBought(OLD)], LONG_AGO)
    async with bench() as hands:
        await hands.press("a")
        await hands.settle()
        assert "Two bags of natural indigo powder, the plan reckons with 40 %: o, o and space say which" in said(hands)


async def test_a_day_that_broke_off_is_booked_when_it_is_left_again(bench: Bench, tmp_path: Path) -> None:
    """What was done before the power went stands in the file; opening and leaving the day books it."""
    path = tmp_path / "sessions" / "day.json"
    SessionFile.write_new(path, session(StepDone("stock.paste"))).close()
    ShelfFile(tmp_path / "shelf.json").note([ItemBought(OLD)], LONG_AGO)
    async with bench(file=path) as hands:
        used = hands.grams("stock.pigment")
        await hands.press("ctrl+q")
    assert shelf(tmp_path)["o"].left == pytest.approx(80 - used, abs=0.001)


async def test_a_new_day_reckons_with_the_bag_on_the_shelf(bench: Bench, tmp_path: Path) -> None:
    """Said once, kept with the first entry, and taken back by one key; until then there is no file."""
    ShelfFile(tmp_path / "shelf.json").note([ItemBought(BAG)], LONG_AGO)
    async with bench() as hands:
        await hands.press("a")
        await hands.settle()
        assert "From the shelf: natural indigo powder, A, 24 %" in said(hands)
        assert hands.desk.keeping.path is None
        await hands.press("escape", "u")
        assert [entry.purity.value for entry in hands.desk.plan.shelf if entry.material == "indigo"] == []
        assert hands.kinds == ["powder_taken", "undone"]
        assert hands.desk.keeping.path is not None
