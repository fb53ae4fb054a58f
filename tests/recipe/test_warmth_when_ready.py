"""A vat that cools below its window while it sharpens and rests is warmed before the first dip, by amounts."""

from __future__ import annotations

from math import exp

import pytest
from tests.plan.plans import plan_with

from vatside.catalogue.load import methods
from vatside.dayline.day_steps import steps
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute


def rest(plan: Plan) -> str:
    """The sentence of its rest."""
    return next(step.text for step in steps(plan, compute(plan)) if step.id == "vat.rest_covered")


def test_what_it_has_cooled_to_by_hand() -> None:
    """Newton: 47 degrees in a room of 20, for the minutes of sharpening and rest; 20.2 L on 1.5 kW warm it again.

    A tub of 20 L usually loses 17 % of its warmth above the room an hour.
    """
    sheet = compute(plan_with(None, method="dithionite-lye"))
    minutes = sheet.value("vat.sharpen") + sheet.value("vat.rest")
    assert sheet.value("vat.by_then") == pytest.approx(20 + 27 * exp(-0.17 * minutes / 60), abs=0.3)
    rise = 47 - sheet.value("vat.by_then")
    assert sheet.value("vat.warm_up") == pytest.approx(sheet.value("vat.liquor") * 4.18 * rise / 1.5 / 60, rel=0.02)


@pytest.mark.parametrize("method", sorted(methods()))
@pytest.mark.parametrize("fibre", ["linen", "wool", "silk"])
def test_it_is_within_its_window_or_it_is_told_how_to_warm_it(method: str, fibre: str) -> None:
    """45 to 50 degrees wanted and 43 by then: its rest says so, and what it takes."""
    plan = plan_with(None, method=method, lots__a__fibre=fibre)
    sheet = compute(plan)
    short = "vat.by_then" in sheet
    assert ("warm it then" in rest(plan)) is short
    if short:
        low = methods()[method].vat.warmth.of({"linen": "cellulose", "wool": "protein", "silk": "silk"}[fibre]).low
        assert low is not None
        assert sheet.value("vat.by_then") < low


def test_a_vat_at_the_warmth_of_the_room_is_left_alone() -> None:
    """Copperas works at 20 degrees, and a fermentation is warmed each day of its week."""
    for method in ("copperas-lime", "fermentation"):
        assert "warm it then" not in rest(plan_with(None, method=method, lots__a__fibre="linen"))
