"""A vat for two fibres: it is warmed by what can be measured, and told to be weak only where it is."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.plan.plans import plan_with, told

from vatside.forms.lot_text import with_lot
from vatside.plan.paths import add_lot
from vatside.plan.plan import Plan
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
from vatside.recipe.cooling import NARROW_K
from vatside.units import Problem


def both(method: str, first: str, second: str, depth: str = "0.8 %") -> Plan:
    """Two lots in one vat."""
    plan = plan_with(None, lots__a__fibre=first, lots__a__depth="0.8 %", lots__a__mass="200 g", method=method)
    plan = add_lot(plan, new_lot(plan))
    return told(told(told(plan, "lots.b.fibre", second), "lots.b.depth", depth), "lots.b.mass", "200 g")


@pytest.mark.parametrize("method", ["dithionite-soda", "tdo-soda", "dithionite-lye"])
def test_no_vat_is_warmed_by_less_than_a_thermometer_tells(method: str) -> None:
    """Silk up to 40 °C, wool from 45: between the two it would be warmed by half a degree after every entry."""
    sheet = compute(both(method, "wool", "silk"))
    assert sheet.value("dip.warm_by", NARROW_K) >= NARROW_K


def test_a_vat_as_strong_as_is_usual_is_not_called_weak() -> None:
    """Made for medium cotton, with light linen beside it: all its stock is in, and none is asked for."""
    plan = evolve(told(told(starter_plan(), "method", "tdo-lime"), "shelf.indigo.purity", "40 %"), lots=())
    for text in ("cotton, 250 g, 3 pieces, medium", "linen, 150 g, 2 pieces, light"):
        more = with_lot(plan, text)
        assert not isinstance(more, Problem)
        plan = more
    sheet = compute(plan)
    assert sheet.value("vat.strength") == pytest.approx(0.69, abs=0.005)
    assert not any("weak for" in notice.text for notice in sheet.notices)
