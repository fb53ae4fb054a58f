"""A vat that cools below its window while it rests is warmed before the first dip, by amounts."""

from __future__ import annotations

from math import exp

import pytest
from tests.log.makers import session
from tests.plan.plans import plan_with

from vatside.catalogue.load import methods
from vatside.dayline.day_steps import steps
from vatside.dips.run import cools
from vatside.log.events.day import PlanChanged
from vatside.log.events.vat import VatMade
from vatside.log.fold import fold
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.account_changes import Keeping, aged


def rest(plan: Plan) -> str:
    """The sentence of its rest."""
    return next(step.text for step in steps(plan, compute(plan)) if step.id == "vat.rest_covered")


def test_what_it_has_cooled_to_by_hand() -> None:
    """Newton: 47 degrees in a room of 10, for the minutes of its rest; 20.2 L on 1.5 kW warm it again.

    A tub of 20 L usually loses 17 % of its warmth above the room an hour. The account, which begins with the stock in
    it, comes to the same.
    """
    held = PlanChanged("lots.a.fibre", "wool"), PlanChanged("water.room", Amount(10, "degC"))
    state = fold(session(*held, PlanChanged("method", "dithionite-lye"), VatMade()))
    sheet, made = compute(state.plan), state.tending
    minutes = sheet.value("vat.rest")
    assert sheet.value("vat.by_then") == pytest.approx(10 + 37 * exp(-0.17 * minutes / 60), abs=0.3)
    assert made.account is not None
    stood = aged(made.account, minutes / 60, Keeping("sodium dithionite", cools(made.account.litres), 10))
    assert stood.celsius == pytest.approx(sheet.value("vat.by_then"), abs=0.1)
    rise = 47 - sheet.value("vat.by_then")
    assert sheet.value("vat.warm_up") == pytest.approx(sheet.value("vat.liquor") * 4.18 * rise / 1.5 / 60, rel=0.02)


@pytest.mark.parametrize("method", sorted(methods()))
@pytest.mark.parametrize("fibre", ["linen", "wool", "silk"])
def test_it_is_within_its_window_or_it_is_told_how_to_warm_it(method: str, fibre: str) -> None:
    """45 to 50 degrees wanted and 43 by then: its rest says so, and what it takes."""
    plan = plan_with(None, method=method, lots__a__fibre=fibre)
    sheet = compute(plan)
    short = "vat.by_then" in sheet
    assert ("warm it to" in rest(plan)) is short
    if short:
        low = methods()[method].vat.warmth.of({"linen": "cellulose", "wool": "protein", "silk": "silk"}[fibre]).low
        assert low is not None
        assert sheet.value("vat.by_then") < low


def test_a_vat_at_the_warmth_of_the_room_is_left_alone() -> None:
    """Copperas works at 20 degrees, and a fermentation is warmed each day of its week."""
    for method in ("copperas-lime", "fermentation"):
        assert "warm it to" not in rest(plan_with(None, method=method, lots__a__fibre="linen"))
