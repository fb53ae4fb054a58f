"""A dozen figures of a stage, and all others behind one key."""

from __future__ import annotations

from tests.ui.hands import Bench, Hands

from vatside.plan.sheet import Stage
from vatside.recipe.worksheet import shown


def listed(hands: Hands) -> set[str]:
    """Give the figures in the region."""
    return {key for key in hands.day.parts["figures"].keys if key}


async def test_one_key_shows_all_figures_and_hides_them_again(bench: Bench) -> None:
    """A stage opens with what is weighed and drawn; z brings the rest, on every stage of the day, and takes it away."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.to("stock")
        few, every = shown(hands.desk.sheet, Stage.STOCK), hands.desk.sheet.of(Stage.STOCK)
        assert listed(hands) == {figure.id for figure in few}
        assert "Weigh and draw (z: all)" in hands.screen
        await hands.press("z")
        assert listed(hands) == {figure.id for figure in every}
        assert "All figures (z: fewer)" in hands.screen
        await hands.to("dip")
        assert listed(hands) == {figure.id for figure in hands.desk.sheet.of(Stage.DIP)}
        await hands.press("z")
        assert listed(hands) == {figure.id for figure in shown(hands.desk.sheet, Stage.DIP)}


async def test_the_working_of_a_hidden_figure_opens_from_its_field(bench: Bench) -> None:
    """`=` in a field leads to its own figure, also where that is one of the others."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.to("finish")
        hidden = {item.id for item in hands.desk.sheet.of(Stage.FINISH)} - listed(hands)
        path = next(item.path for item in hands.day.form.rows if item.path in hidden)
        await hands.field(path)
        await hands.press("=")
        assert hands.desk.sheet[path].label in hands.screen
        assert getattr(hands.app.screen, "at", "") == path
