"""The shelf: what is owned, what a day needs of it, and what was used."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.log.makers import session
from tests.ui.hands import Bench, Hands

from vatside.bench.shelf_desk import ShelfDesk
from vatside.log.events.day import PlanChanged, StepDone
from vatside.shelf.shelf import Shelf
from vatside.shelf.shelf_file import ShelfFile
from vatside.storage.files import Fs
from vatside.storage.places import samples_folder
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import load
from vatside.ui.shelf.screen import ShelfScreen

SIZES = [(60, 20), (80, 24), (120, 40)]


def on_disk(tmp_path: Path) -> Path:
    """Write a day that has not got far into the folder of sessions."""
    path = tmp_path / "sessions" / "day.json"
    SessionFile.write_new(path, session(PlanChanged("title", "Market [b]day"))).close()
    return path


def shelf(tmp_path: Path) -> Shelf:
    """The shelf as the disk has it."""
    return ShelfFile(tmp_path / "shelf.json").shelf


async def new_bag(hands: Hands) -> None:
    """Write down 250 g of indigo, ten spoons of which weigh 26 g, for 18.50."""
    await hands.press("a")
    await hands.settle()
    await hands.press("down")
    await hands.write("AB [12]")
    await hands.press("enter")
    await hands.write("250")
    await hands.press("enter", "enter")
    await hands.write("26 g")
    await hands.press("enter", "enter")
    await hands.write("18.50")
    await hands.press("escape")


def powders(hands: Hands) -> ShelfDesk:
    """What the shelf's screen shows."""
    screen = hands.app.screen
    assert isinstance(screen, ShelfScreen)
    return screen.powders


@pytest.mark.parametrize("size", SIZES)
async def test_a_bag_is_written_down_by_keys(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """Mass, lot, price and the tenth of ten spoons are on the disk, and the list shows them."""
    async with bench(size=size) as hands:
        await hands.press("o")
        assert "Nothing stands here yet" in hands.screen
        await new_bag(hands)
        await hands.settle()
        assert "AB [12]" in hands.screen
        assert "250 g" in hands.screen
    [owned] = shelf(tmp_path).owned
    assert (owned.item.material, owned.left) == ("indigo", 250)
    assert owned.item.spoon_mass is not None
    assert owned.item.spoon_mass.value == 2.6
    assert owned.price_per_gram == pytest.approx(18.5 / 250)


async def test_an_untouched_new_bag_is_none(bench: Bench, tmp_path: Path) -> None:
    """Escape right away leaves the shelf empty."""
    async with bench() as hands:
        await hands.press("o", "a", "escape")
        assert shelf(tmp_path).owned == ()


async def test_a_wrong_row_is_said_and_left_out_the_second_time(bench: Bench, tmp_path: Path) -> None:
    """400 % purity: the first Escape says what would be right, the second keeps the rest."""
    async with bench() as hands:
        await hands.press("o", "a")
        await hands.press("down", "down")
        await hands.write("80")
        await hands.press("enter")
        await hands.write("400")
        await hands.press("escape")
        assert "400 % cannot be" in " ".join(hands.screen.split())
        assert shelf(tmp_path).owned == ()
        await hands.press("escape")
    assert shelf(tmp_path).owned[0].left == 80


async def test_what_is_left_is_weighed(bench: Bench, tmp_path: Path) -> None:
    """`w` and an amount; nothing at all is an amount too."""
    async with bench() as hands:
        await hands.press("o")
        await new_bag(hands)
        await hands.press("r")
        await hands.write("120 g")
        await hands.press("enter")
        assert shelf(tmp_path).owned[0].left == 120
        await hands.press("r")
        await hands.write("0")
        await hands.press("enter")
        assert shelf(tmp_path).owned[0].left == 0


async def test_a_detail_is_changed(bench: Bench, tmp_path: Path) -> None:
    """Enter opens the bag; a typed purity counts when it is left, and nothing else is noted."""
    async with bench() as hands:
        await hands.press("o")
        await new_bag(hands)
        before = len(shelf(tmp_path).noted)
        await hands.press("enter")
        await hands.settle()
        await hands.press("down", "down", "down", "down")
        await hands.write("45")
        await hands.press("escape")
        assert len(shelf(tmp_path).noted) == before + 1
        assert shelf(tmp_path).owned[0].item.purity.value == 45


async def test_finished_and_back(bench: Bench, tmp_path: Path) -> None:
    """`x` finishes a bag, once more brings it back with what was left."""
    async with bench() as hands:
        await hands.press("o")
        await new_bag(hands)
        await hands.press("x")
        assert shelf(tmp_path).owned[0].finished
        assert "Finished" in hands.screen
        await hands.press("x")
        assert shelf(tmp_path).there[0].left == 250


async def test_what_to_buy_for_the_chosen_day(bench: Bench, tmp_path: Path) -> None:
    """The list names what is missing for so many days, and how long the rest lasts."""
    path = on_disk(tmp_path)
    async with bench(size=(120, 40)) as hands:
        await hands.until(lambda: bool(hands.app.opening.listed.saved))
        hands.app.opening.parts["shelf"].choose(f"saved:{path}")
        await hands.press("o")
        await new_bag(hands)
        await hands.settle()
        assert "For “Market [b]day”" in hands.screen
        assert "buy" in hands.screen
        assert "The shelf lasts for" in hands.screen
        found = powders(hands).for_plan()
        assert found is not None
        await hands.press("plus", "plus")
        assert "For 3 days like" in hands.screen
        assert "Costs in all" in hands.screen


async def test_a_bag_is_taken_into_the_plan(bench: Bench, tmp_path: Path) -> None:
    """From the day's shelf, space brings purity and spoon into the plan as one entry, which undo takes back."""
    async with bench(file=on_disk(tmp_path)) as hands:
        await hands.press("escape", "o", "o")
        await new_bag(hands)
        await hands.press("enter")
        await hands.settle()
        await hands.press("down", "down", "down", "down")
        await hands.write("20")
        await hands.press("escape", "space")
        assert hands.kinds[-1] == "powder_taken"
        assert [entry.purity.value for entry in hands.desk.plan.shelf if entry.material == "indigo"] == [20]
        await hands.press("escape", "u")
        assert not [entry for entry in hands.desk.plan.shelf if entry.material == "indigo"]


async def test_what_was_used_is_booked_once(bench: Bench, tmp_path: Path) -> None:
    """A done step's powder leaves the shelf when the shelf is opened, and not again the next time."""
    async with bench(file=on_disk(tmp_path)) as hands:
        await hands.press("escape", "o", "o")
        await new_bag(hands)
        await hands.press("escape")
        hands.desk.record(StepDone("stock.paste"))
        used = hands.grams("stock.pigment")
        for _ in range(2):
            await hands.press("o", "o")
            await hands.settle()
            assert shelf(tmp_path).owned[0].left == pytest.approx(250 - used, abs=0.001)
            await hands.press("escape")


async def test_what_has_gone_in_is_not_to_be_bought_again(bench: Bench, tmp_path: Path) -> None:
    """All the indigo of the bag is in the jar: the day needs none any more, a second one like it does."""
    async with bench(file=on_disk(tmp_path), size=(120, 40)) as hands:
        used = hands.grams("stock.pigment")
        hands.desk.record(StepDone("stock.paste"))
        await hands.press("escape", "o", "o")
        await hands.settle()
        for days in range(2):
            line = next(line for line in hands.screen.splitlines() if "natural indigo powder" in line)
            assert (f"buy {days * used:.1f} g" if days else "all gone in") in line
            await hands.press("plus")


async def test_after_its_vat_is_gone_a_day_needs_nothing(bench: Bench, tmp_path: Path) -> None:
    """What the shelf names then is for another day like it, also from the list of days."""
    path = tmp_path / "sessions" / "day.json"
    SessionFile.write_new(path, load(Fs(), samples_folder() / "finished-day.json").session).close()
    async with bench(size=(120, 40)) as hands:
        await hands.until(lambda: bool(hands.app.opening.listed.saved))
        hands.app.opening.parts["shelf"].choose(f"saved:{path}")
        await hands.press("o")
        assert "For another day like “Panels" in hands.screen
        await hands.press("plus")
        assert "For 2 more days like “Panels" in hands.screen


async def test_leaving_books_as_well(bench: Bench, tmp_path: Path) -> None:
    """ctrl+q books what was used since."""
    async with bench(file=on_disk(tmp_path)) as hands:
        await hands.press("escape", "o", "o")
        await new_bag(hands)
        await hands.press("escape")
        hands.desk.record(StepDone("stock.paste"))
        used = hands.grams("stock.pigment")
        await hands.press("ctrl+q")
    assert shelf(tmp_path).owned[0].left == pytest.approx(250 - used, abs=0.001)


async def test_a_damaged_shelf_is_only_looked_at(bench: Bench, tmp_path: Path) -> None:
    """A shelf that cannot be read says so in the head; adding answers with the reason and the file stays."""
    (tmp_path / "shelf.json").write_text("{ not a shelf", "utf-8")
    async with bench() as hands:
        await hands.press("o")
        assert "reading only" in hands.screen.splitlines()[0]
        await hands.press("a", "down", "down")
        await hands.write("80")
        await hands.press("escape")
        assert "Reading only" in hands.screen
    assert (tmp_path / "shelf.json").read_text("utf-8") == "{ not a shelf"
