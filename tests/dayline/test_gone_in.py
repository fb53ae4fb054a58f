"""What has gone into stock and vat stays what it was when the plan changes afterwards."""

from __future__ import annotations

import pytest
from tests.plan.plans import wool_plan

from vatside.dayline import step_uses
from vatside.dayline.day_steps import steps
from vatside.dayline.step_uses import as_gone_in
from vatside.plan.paths import set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute
from vatside.units import Amount

OF_STOCK = ("stock.pigment", "stock.alkali", "stock.reducer")
OF_VAT = ("vat.soda-ash", "vat.baking-soda", "vat.reducer", "vat.fill")
THREE_DIGITS = 0.005
"""Share by which an amount that is written with three digits may be off."""


def done(plan: Plan, *stages: Stage) -> list[str]:
    """Every step of some stages."""
    return [step.id for step in steps(plan, compute(plan)) if step.stage in stages]


def half(plan: Plan) -> Plan:
    """The same plan with half the wool in its first lot."""
    return set_value(plan, "lots.a.mass", Amount(plan.lots[0].mass.value / 2, plan.lots[0].mass.unit))


@pytest.mark.parametrize("figure", OF_STOCK + OF_VAT)
def test_a_powder_that_is_in_stays_what_it_was(figure: str) -> None:
    """Also the soda and the litres of a wool vat."""
    plan = wool_plan()
    now = as_gone_in(done(plan, Stage.STOCK, Stage.VAT), plan, half(plan))
    assert compute(now).value(figure) == pytest.approx(compute(plan).value(figure), rel=THREE_DIGITS)


@pytest.mark.parametrize("figure", OF_STOCK)
def test_half_the_wool_would_want_less(figure: str) -> None:
    """Or the test above would tell nothing."""
    plan = wool_plan()
    assert compute(half(plan)).value(figure) < 0.9 * compute(plan).value(figure)


def test_what_is_still_to_come_follows_the_plan() -> None:
    """With the stock made and the tub empty, the vat's own powders are those of the new plan."""
    plan = wool_plan()
    now = as_gone_in(done(plan, Stage.STOCK), plan, half(plan))
    assert {pin.figure for pin in set(now.pins) - set(plan.pins)} <= {*OF_STOCK, "stock.water"}


def test_before_anything_has_gone_in_nothing_is_held() -> None:
    """A plan that changes while the fibre is scoured is the new plan."""
    plan = wool_plan()
    assert as_gone_in(done(plan, Stage.SCOUR), plan, half(plan)) == half(plan)


def test_what_she_sets_herself_stays_so() -> None:
    """The tin held only four grams: that is what went in."""
    plan = wool_plan()
    typed = set_value(plan, "stock.pigment", Amount(4, "g"))
    now = as_gone_in(done(plan, Stage.STOCK), plan, typed)
    assert compute(now).value("stock.pigment") == 4


def test_no_sheet_is_worked_out_while_nothing_has_gone_in(monkeypatch: pytest.MonkeyPatch) -> None:
    """A long log is full of plans that change before the stock is begun."""
    plan, ticked = wool_plan(), done(wool_plan(), Stage.SCOUR)
    monkeypatch.setattr(step_uses, "compute", lambda _plan: pytest.fail("a sheet was worked out"))
    assert as_gone_in(ticked, plan, half(plan)) == half(plan)
