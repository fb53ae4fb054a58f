"""Dip and Finish are stages like the others: form, figures and steps in every size of window."""

from __future__ import annotations

import pytest
from tests.ui.hands import STANDS, Bench, Hands

from vatside.log.events.day import LotAdded, PinSet
from vatside.plan.sheet import Stage
from vatside.plan.starter import new_lot
from vatside.ui.text.form_rows import groups
from vatside.units import Amount

KEPT = ["keep_fill", "keep_feed"]
SPENT = ["use_up", "oxidise", "settle", "decant", "titrate", "neutralise", "drain"]
SIZES = [(80, 24), (60, 20), (120, 40)]


def everything(hands: Hands, region: str) -> str:
    """Give a region from top to bottom as one line of words."""
    return " ".join(" ".join(row.text for row in hands.day.parts[region].rows).split())


def of_the_vat(hands: Hands) -> list[str]:
    """The steps of Finish that are about the vat and not about a fibre."""
    parts = [step.id.split(".") for step in hands.desk.steps_in(Stage.FINISH)]
    return [part[1] for part in parts if part[0] == "finish" and len(part) == 2]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("stage", ["dip", "finish"])
async def test_the_stage_has_form_figures_and_steps(bench: Bench, stage: str, size: tuple[int, int]) -> None:
    """All three regions are filled, and each can be brought onto the screen with Tab."""
    async with bench(size=size) as hands:
        await hands.new_day()
        await hands.to(stage)
        assert stage.upper() in hands.screen
        steps = hands.desk.steps_in(Stage(stage))
        assert " ".join(steps[0].text.split()[:4]) in hands.screen
        await hands.press("enter")
        labels = [row.field.label for row in hands.day.form.rows]
        assert labels[0] in hands.screen
        await hands.press("escape", "tab")
        assert "Weigh" in hands.screen or "Wait" in hands.screen


@pytest.mark.parametrize("stage", ["dip", "finish"])
async def test_every_step_can_be_done_by_space(bench: Bench, stage: str) -> None:
    """From the first to the last step space does it, or starts its wait; only the board asks for itself.

    Of fibre that no dip is written down for it is asked once, whether it was dipped.
    """
    async with bench() as hands:
        await hands.new_day()
        await hands.to(stage)
        ids = [step.id for step in hands.desk.steps_in(Stage(stage)) if step.id != "dip.rotate"]
        for step in ids:
            await hands.later(1)
            hands.day.parts["steps"].choose(step)
            await hands.press("space")
            if type(hands.app.screen).__name__ in ("CautionWindow", "TubWindow"):
                await hands.read_on()
            if type(hands.app.screen).__name__ == "InsistWindow":
                await hands.press("y")
            if any(wait.step == step for wait in hands.desk.state.waits):
                await hands.press("e")  # what comes next would ask for it
        begun = {wait.step for wait in hands.desk.state.waits} | set(hands.desk.state.done)
        assert begun - {None} == set(ids)  # the wait to feed a kept vat is of no step


async def test_the_spent_vat_has_its_path(bench: Bench) -> None:
    """Typing no days for keeping the vat has it oxidised, titrated with acid, settled and poured away."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.to("finish")
        await hands.field("finish.keep")
        await hands.write("0 days")
        await hands.press("enter", "escape")
        words = everything(hands, "steps")
        assert of_the_vat(hands) == SPENT
        for name in SPENT:
            step = hands.desk.step(f"finish.{name}")
            assert step is not None
            assert " ".join(step.text.split()[:3]) in words


async def test_the_kept_vat_has_its_path(bench: Bench) -> None:
    """Typing days for keeping the vat turns the end of Finish into the steps of keeping it."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("finish")
        await hands.field("finish.keep")
        await hands.write("0 days")
        await hands.press("enter", "escape")
        assert of_the_vat(hands) == SPENT
        await hands.field("finish.keep")
        await hands.write("14 days")
        await hands.press("enter", "escape")
        assert of_the_vat(hands) == KEPT


async def test_two_lots_of_one_name_are_told_apart(bench: Bench) -> None:
    """The forms of Dip and of the weighings go by the lot, not by what it is called."""
    async with bench() as hands:
        await hands.new_day()
        desk = hands.desk
        lot = new_lot(desk.state.plan)
        desk.record(LotAdded(lot))
        desk.type(f"lots.{lot.id}.name", desk.plan.lots[0].name)
        desk.settle()
        ids = [item.id for item in desk.plan.lots]
        assert list(groups(desk.plan, Stage.DIP)) == ids
        assert [group for group in groups(desk.plan, Stage.FINISH) if group in ids] == ids


async def test_the_forms_speak_of_lots(bench: Bench) -> None:
    """With two lots the form of the dips turns between lots, not between baths."""
    async with bench() as hands:
        await hands.new_day()
        await hands.press("escape", "a")
        await hands.to("dip")
        await hands.press("enter")
        assert "Lot 1 of 2" in hands.screen


async def test_a_held_dip_is_what_the_board_goes_by(bench: Bench) -> None:
    """A dip held on the form is the length of the next dip."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("dip")
        await hands.field("dip.a.dip")
        await hands.write("3 min")
        hands.desk.record(*STANDS)
        await hands.press("escape", "d", "space")
        assert hands.desk.state.waits[0].minutes == 3


async def test_figures_of_dip_open_their_working(bench: Bench) -> None:
    """`=` shows how a figure of the dips came about."""
    async with bench() as hands:
        await hands.new_day()
        await hands.to("dip")
        hands.desk.record(PinSet("dip.a.dips", Amount(3, "")))
        await hands.press("=")
        assert "Source" in hands.screen
