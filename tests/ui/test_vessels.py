"""The pictures of pot and tub: how high the liquor stands."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.plan.plans import plan_with
from tests.ui.hands import Bench

from vatside.plan.batches import baths
from vatside.recipe.compute import compute
from vatside.ui.text.rows import ASCII, UNICODE, Signs, cells
from vatside.ui.vat.pictures import LEAST, MOST, ROUND_IT, Level, Vessel, pot_of, tub_of, vessel_rows

ROOM = MOST + ROUND_IT
HALF = Vessel("Tub", 12, 6, 1, (Level(6, "liquor"), Level(7, "with fibre"), Level(10.2, "headspace")), 30)
"""Twelve litres to the brim and 30 cm tall, half full."""


def drawn(vessel: Vessel, width: int = 57, room: int = ROOM, signs: Signs = UNICODE) -> list[str]:
    """Give the picture as text."""
    return [item.text for item in vessel_rows(vessel, width, room, signs)]


@pytest.mark.parametrize(("signs", "full"), [(UNICODE, "█"), (ASCII, "#")])
def test_a_tub_half_full_is_drawn_half_full(signs: Signs, full: str) -> None:
    """Of six rows the lower three."""
    inside = drawn(HALF, signs=signs)[2:-1]
    assert [full in line for line in inside] == [False, False, False, True, True, True]


def test_each_height_stands_in_its_row_with_its_centimetres() -> None:
    """10.2 of 12 L are 25.5 of 30 cm, in the second row from the top; the brim is above it, 6 and 7 L below."""
    inside = drawn(HALF)[2:-1]
    assert [line.rpartition("│")[2].strip() for line in inside] == [
        "12 L 30 cm to the brim", "10.2 L 26 cm headspace", "7 L 18 cm with fibre", "6 L 15 cm liquor", "", "",
    ]  # fmt: skip


def test_heights_that_are_the_same_are_told_once() -> None:
    """With the fibre in it stands at the headspace: that is said of the fibre alone."""
    full = Vessel("Tub", 8, 6.7, 0.1, (Level(6.7, "liquor"), Level(6.8, "with fibre"), Level(6.8, "headspace")))
    assert not any("headspace" in line for line in drawn(full))


def test_the_planned_tub_stands_as_the_sheet_has_it() -> None:
    """Brim, fill and liquor are the sheet's; measured, the tub's own height counts."""
    plan = plan_with(vessels__tub__shape="round", vessels__tub__length="40 cm", vessels__tub__height="40 cm")
    sheet = compute(plan)
    tub = tub_of(plan, sheet)
    assert tub is not None
    assert tub.brim == sheet.value("vat.tub")
    assert tub.liquor + tub.fibre == pytest.approx(sheet.value("vat.fill"))
    assert tub.height_cm == 40


def test_a_tub_by_its_litres_has_no_centimetres() -> None:
    """Its height is not known."""
    plan = plan_with(vessels__tub__shape="litres")
    tub = tub_of(plan, compute(plan), 5.0)
    assert tub is not None
    assert tub.liquor == 5
    assert not any("cm" in line for line in drawn(tub))


def test_the_pot_stands_as_the_sheet_has_it() -> None:
    """As many litres of water, and with the fibre in as many per cent of the pot."""
    plan = plan_with()
    sheet, [bath] = compute(plan), baths(plan)
    pot = pot_of(plan, sheet, bath)
    assert pot is not None
    assert pot.liquor == sheet.value(bath.id("load_water"))
    assert 100 * (pot.liquor + pot.fibre) / pot.brim == pytest.approx(sheet.value(bath.id("level")))


LITRES = st.floats(0, 60)


@examples(60)
@given(
    st.lists(LITRES, min_size=1, max_size=3), st.floats(0.1, 60), st.floats(0, 5), st.sampled_from([0.0, 33.0]),
    st.integers(30, 118), st.integers(0, 12), st.sampled_from([UNICODE, ASCII]),
)  # fmt: skip
def test_any_vessel_fits(
    levels: list[float], brim: float, fibre: float, tall: float, width: int, room: int, signs: Signs
) -> None:
    """Also one that runs over: nothing is drawn outside, and every height that differs from the others is told."""
    vessel = Vessel("Pot", brim, levels[0], fibre, tuple(Level(litres, "here") for litres in levels), tall)
    rows = drawn(vessel, width, room, signs)
    assert len(rows) <= room
    assert bool(rows) == (room >= LEAST + ROUND_IT)
    assert all(cells(line) <= width for line in rows)
    if rows:
        assert any("to the brim" in line or "here" in line for line in rows)


async def test_pot_and_tub_are_on_the_screen(bench: Bench) -> None:
    """On a tall screen below the figures of the scour, and in the view of the vat."""
    async with bench(size=(120, 50)) as hands:
        await hands.new_day()
        await hands.to("scour")
        assert "Pot" in hands.screen
        assert "to the brim" in hands.screen
        await hands.to("vat")
        await hands.press("v")
        await hands.until(lambda: type(hands.app.screen).__name__ == "VatScreen")
        await hands.settle()
        assert "L with fibre" in hands.screen
