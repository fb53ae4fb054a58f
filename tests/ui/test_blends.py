"""Mixed fibre and names of persons in the form."""

from __future__ import annotations

from tests.ui.hands import Bench

from vatside.log.words.day import log_lines
from vatside.plan.measures import fibre_words


async def test_a_blend_is_two_rows_and_can_be_taken_back(bench: Bench) -> None:
    """A letter chooses the second fibre, its share is typed; `nothing` makes the lot one fibre again, and is logged."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.field("lots.a.second")
        await hands.press("s")
        assert fibre_words(hands.desk.plan.lots[0]) == "linen-silk 50/50"
        await hands.field("lots.a.second_share")
        await hands.write("30")
        assert fibre_words(hands.desk.plan.lots[0]) == "linen-silk 70/30"
        words = " ".join(hands.screen.split())
        assert "Blended with silk" in words
        assert "Share of it 30" in words
        await hands.field("lots.a.second")
        await hands.press("n", "escape")
        assert hands.desk.state.plan.lots[0].second == ""
        lines = log_lines(hands.desk.keeping.session)
        assert any(line.endswith("blended with set to silk") for line in lines)
        assert any(line.endswith("blended with set to nothing") for line in lines)


async def test_names_are_typed_in_one_row(bench: Bench) -> None:
    """The board calls the pieces by them; one name too many is said and changes nothing."""
    async with bench(size=(120, 40)) as hands:
        await hands.new_day()
        await hands.field("lots.a.names")
        await hands.write("Asha, Ben")
        await hands.to("dip")
        await hands.press("d")
        await hands.until(lambda: "Asha" in hands.screen)
        assert "Ben" in hands.screen
        await hands.press("escape")
        for _ in range(6):
            await hands.press("left")
        await hands.field("lots.a.names")
        await hands.write("A, B, C, D, E, F, G")
        assert "7 names for 6 pieces" in " ".join(hands.screen.split())
        assert hands.desk.state.plan.lots[0].names == ("Asha", "Ben")
