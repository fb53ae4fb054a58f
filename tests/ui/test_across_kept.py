"""A vat that is kept and topped up, at the bench."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from tests.log.makers import session
from tests.plan.plans import kept_vat, wool_plan
from tests.ui.hands import Bench, Hands

from vatside.days.keep_vat import in_plan, kept_by
from vatside.log.events.day import StepDone
from vatside.log.events.vat import LotDipped, ReadingTaken, VatCarriedOn, VatKept, VatMade, VatToppedUp
from vatside.log.state import happened
from vatside.plan.plan import Kept
from vatside.storage.session_file import SessionFile
from vatside.units import Amount
from vatside.vat.kept_vat import KeptVat
from vatside.vat.reading import Reading

OLD = KeptVat(15, 1, "sodium hydroxide", 4, "thiourea dioxide", 0, 3, 2)


def carried_day(tmp_path: Path, kept: Kept | None = None) -> Path:
    """A day on a vat kept by another one."""
    plan = wool_plan("Blue again")
    day = session(VatCarriedOn("s0", "Monday", session().created, OLD))
    day = evolve(day, plan=evolve(plan, kept=kept or in_plan(OLD, plan, 0)))
    path = tmp_path / "sessions" / "carried.json"
    SessionFile.write_new(path, day).close()
    return path


async def do_all(hands: Hands, *steps: str) -> None:
    """Do steps by space, reading what must be read."""
    for step in steps:
        await hands.later(2)
        hands.day.parts["steps"].choose(step)
        await hands.press("space")
        while type(hands.app.screen).__name__ != "DayScreen":
            await hands.press("enter")


async def open_again(hands: Hands, step: str) -> None:
    """Open a done step again, which takes a second press."""
    await hands.later(2)
    hands.day.parts["steps"].choose(step)
    await hands.press("space", "y")
    assert step not in hands.desk.state.done


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_the_vat_stage_tops_up(bench: Bench, tmp_path: Path, size: tuple[int, int]) -> None:
    """The form shows what stands in the tub, the steps begin with skimming it, and no tub is filled.

    The tub holds 20.4 L: 15 L are there, the stock is 1 L, the wool takes the room of 0.2 L.
    """
    async with bench(size=size, file=carried_day(tmp_path)) as hands:
        await hands.to("vat")
        await hands.press("enter")
        assert "Kept, in the tub" in hands.screen
        await hands.press("escape")
        assert "Skim the kept vat" in hands.screen
        assert "Top up with 4.2 L" in " ".join(step.text for step in hands.desk.steps)


async def test_stock_in_the_tub_tops_the_account_up(bench: Bench, tmp_path: Path) -> None:
    """The step that brings the stock in says so to the log, once, and one undo takes both back."""
    async with bench(file=carried_day(tmp_path)) as hands:
        before = hands.desk.state.tending.account
        await hands.to("vat")
        await do_all(hands, "vat.stock_in")
        assert hands.kinds[-2:] == ["step_done", "vat_topped_up"]
        after = hands.desk.state.tending.account
        assert before is not None
        assert after is not None
        assert after.litres > before.litres + 4
        await do_all(hands, "vat.rest_covered")
        assert hands.kinds.count("vat_topped_up") == 1
        await hands.press("u", "u")
        assert hands.desk.state.tending.account == before


async def test_a_vat_that_wants_no_stock_is_topped_up_with_its_rest(bench: Bench, tmp_path: Path) -> None:
    """With dye enough there is no stock to bring in; the rest is what follows the water and the powders."""
    async with bench(file=carried_day(tmp_path, kept_vat(litres=15, indigotin_g=3))) as hands:
        await hands.to("vat")
        await do_all(hands, "vat.rest_covered")
        assert isinstance(hands.desk.state.entries[-1].event, VatToppedUp)


async def test_the_step_that_keeps_the_vat_keeps_it(bench: Bench, tmp_path: Path) -> None:
    """Filled, lidded and labelled, it stands in the list of days, with a week's wait; one undo takes all of it back."""
    path = tmp_path / "sessions" / "monday.json"
    SessionFile.write_new(path, session(StepDone("vat.stock_in"), VatMade())).close()
    async with bench(file=path) as hands:
        await hands.to("finish")
        await hands.field("finish.keep")
        await hands.write("14 days")
        await hands.press("enter", "escape")
        await do_all(hands, "finish.keep_fill")
        assert hands.kinds[-3:] == ["step_done", "vat_kept", "wait_started"]
        await hands.press("o", "v")
        await hands.write("in the shed")
        await hands.press("enter")
        assert hands.kinds[-2:] == ["vat_kept", "note_written"]
        assert len(hands.desk.state.waits) == 1


async def test_opening_the_step_that_tops_up_takes_it_back_after_a_reading(bench: Bench, tmp_path: Path) -> None:
    """The stock was not in after all: the account is as before, but as warm as read; done again, it has it once."""
    async with bench(file=carried_day(tmp_path)) as hands:
        await hands.to("vat")
        await do_all(hands, "vat.stock_in")
        topped = hands.desk.state.tending.account
        hands.desk.record(ReadingTaken(Reading(temperature=Amount(44, "degC"))))
        await open_again(hands, "vat.stock_in")
        state = hands.desk.state
        assert not state.tending.topped_up
        assert state.tending.account is not None
        assert state.tending.account.celsius == pytest.approx(44)
        assert state.misfits == ()
        await do_all(hands, "vat.stock_in")
        again = hands.desk.state.tending.account
        assert topped is not None
        assert again is not None
        assert again.indigotin_g == pytest.approx(topped.indigotin_g, rel=1e-3)
        assert len(happened(hands.desk.state, VatToppedUp)) == 1


async def test_opening_the_rest_takes_a_topping_up_without_stock_back(bench: Bench, tmp_path: Path) -> None:
    """Where no stock goes in, the rest topped it up, and the rest takes that back."""
    async with bench(file=carried_day(tmp_path, kept_vat(litres=15, indigotin_g=3))) as hands:
        await hands.to("vat")
        await do_all(hands, "vat.rest_covered")
        await hands.press("e")
        assert "vat.rest_covered" in hands.desk.state.done
        await open_again(hands, "vat.rest_covered")
        assert not hands.desk.state.tending.topped_up


async def test_opening_the_rest_after_the_stock_takes_nothing_back(bench: Bench, tmp_path: Path) -> None:
    """The stock is still in."""
    async with bench(file=carried_day(tmp_path)) as hands:
        await hands.to("vat")
        await do_all(hands, "vat.stock_in", "vat.rest_covered")
        await hands.press("e")
        await open_again(hands, "vat.rest_covered")
        assert hands.desk.state.tending.topped_up


async def test_a_topping_up_that_was_dipped_in_stays(bench: Bench, tmp_path: Path) -> None:
    """Pieces have taken dye from it; a step opened by mistake does not change what is on them."""
    async with bench(file=carried_day(tmp_path)) as hands:
        await hands.to("vat")
        await do_all(hands, "vat.stock_in")
        hands.desk.record(LotDipped("a", 1, 5))
        await open_again(hands, "vat.stock_in")
        assert hands.desk.state.tending.topped_up


async def test_opening_the_step_that_keeps_takes_the_keeping_back(bench: Bench, tmp_path: Path) -> None:
    """Not kept, no wait to feed it; done again it is kept once, and one undo of the opening brings both back."""
    path = tmp_path / "sessions" / "monday.json"
    SessionFile.write_new(path, session(StepDone("vat.stock_in"), VatMade())).close()
    async with bench(file=path) as hands:
        await hands.to("finish")
        await hands.field("finish.keep")
        await hands.write("14 days")
        await hands.press("enter", "escape")
        await do_all(hands, "finish.keep_fill")
        await open_again(hands, "finish.keep_fill")
        assert kept_by(hands.desk.state) is None
        assert hands.desk.state.waits == ()
        await hands.press("u")
        assert kept_by(hands.desk.state) is not None
        assert len(hands.desk.state.waits) == 1
        await open_again(hands, "finish.keep_fill")
        await do_all(hands, "finish.keep_fill")
        assert len(happened(hands.desk.state, VatKept)) == 1
        assert len(hands.desk.state.waits) == 1


async def test_a_vat_that_was_not_made_is_kept_by_the_plan_and_says_so(bench: Bench) -> None:
    """Before its stock is in, what would be kept is what the plan has."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "o", "v")
        await hands.until(lambda: "by the plan alone" in hands.screen)
