"""Another vat from the stock of a day, at the bench."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from tests.log.makers import session
from tests.recipe.test_kept_stock import for_others
from tests.ui.hands import Bench

from vatside.log.events.day import StepDone
from vatside.log.events.vat import VatMade
from vatside.storage.files import Fs
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import load


def day_with_a_jar(tmp_path: Path) -> Path:
    """A day whose vat is made, with 6 g of indigotin in the jar for other vats."""
    day = session(StepDone("stock.look"), StepDone("vat.stock_in"), VatMade())
    path = tmp_path / "sessions" / "monday.json"
    SessionFile.write_new(path, evolve(day, plan=evolve(for_others(15), title="Monday"))).close()
    return path


def last_kind(path: Path) -> str:
    """What a file's log ends with."""
    return load(Fs(), path).session.entries[-1].event.kind


async def test_a_second_vat_begins_beside_the_first(bench: Bench, tmp_path: Path) -> None:
    """The label is shown first; then a new day has the jar at hand, wants no powder, and the first one knows it."""
    path = day_with_a_jar(tmp_path)
    async with bench(file=path) as hands:
        await hands.to("finish")
        assert any("use by 1 Jun" in step.text for step in hands.desk.steps)
        await hands.press("o", "c")
        assert "CAUSTIC" in hands.screen
        assert "600 mL" in hands.screen
        await hands.press("c")
        await hands.until(lambda: hands.desk.plan.title == "Monday, again")
        assert hands.kinds == ["stock_carried_on"]
        assert hands.grams("stock.pigment") == 0
        assert hands.grams("vat.stock_kept") > 0
    assert last_kind(path) == "stock_taken"


async def test_the_list_shows_a_jar_and_begins_a_vat_from_it(bench: Bench, tmp_path: Path) -> None:
    """Enter asks first; the day that left it need not be opened by hand. Afterwards the jar is gone from the list."""
    path = day_with_a_jar(tmp_path)
    async with bench() as hands:
        await hands.until(lambda: "Kept stock" in hands.screen)
        hands.app.opening.parts["shelf"].choose(f"jar:{path}")
        await hands.press("enter", "c")
        await hands.until(lambda: hands.app.desk is not None)
        assert hands.desk.plan.stock_kept is not None
        await hands.press("escape", "escape", "q")
    assert last_kind(path) == "stock_taken"


async def test_a_jar_that_was_not_taken_is_given_back(bench: Bench, tmp_path: Path) -> None:
    """The first day says that it stands there again."""
    path = day_with_a_jar(tmp_path)
    async with bench(file=path) as hands:
        first = hands.desk
        await hands.press("escape", "o", "c", "c")
        await hands.until(lambda: hands.desk is not first)
    async with bench(file=path) as hands:
        await hands.press("escape", "o", "u")
        assert hands.kinds[-1] == "undone"
        assert hands.desk.jar is not None


@pytest.mark.parametrize("size", [(60, 20), (120, 40)])
async def test_the_jar_stands_in_the_list_at_any_size(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """What it is and whose it was."""
    day_with_a_jar(tmp_path)
    async with bench(size=size) as hands:
        await hands.until(lambda: "Kept stock: Monday" in hands.screen)


async def test_a_day_that_is_being_planned_takes_a_jar(bench: Bench, tmp_path: Path) -> None:
    """Its lots stay, its vat is made from the jar first; both logs say so, and one key takes it out of the plan."""
    path = day_with_a_jar(tmp_path)
    async with bench() as hands:
        await hands.until(lambda: "Kept stock" in hands.screen)
        await hands.new_day()
        day, powder = hands.desk.keeping.session.id, hands.grams("stock.pigment")
        await hands.press("escape", "b")
        await hands.until(lambda: len(hands.app.screen_stack) == 1)
        hands.app.opening.parts["shelf"].choose(f"jar:{path}")
        await hands.press("enter")
        await hands.until(lambda: "add it to" in hands.screen)
        await hands.press("a")
        await hands.until(lambda: hands.desk.plan.stock_kept is not None)
        assert hands.desk.keeping.session.id == day
        assert hands.grams("stock.pigment") < powder
        assert last_kind(path) == "stock_taken"
        await hands.press("escape", "u")
        assert hands.desk.plan.stock_kept is None


async def test_a_day_whose_stock_is_begun_takes_no_jar(bench: Bench, tmp_path: Path) -> None:
    """What has gone in has gone in: only a new day is offered."""
    path = day_with_a_jar(tmp_path)
    async with bench() as hands:
        await hands.until(lambda: "Kept stock" in hands.screen)
        await hands.new_day()
        hands.desk.log(StepDone("stock.look"))
        await hands.press("escape", "b")
        await hands.until(lambda: len(hands.app.screen_stack) == 1)
        hands.app.opening.parts["shelf"].choose(f"jar:{path}")
        await hands.press("enter")
        await hands.until(lambda: "begin a day" in hands.screen)
        assert "add it to" not in hands.screen
