"""A vat that wants a week: its fibre is not scoured on the first day, and its nights are told in one sentence."""

from __future__ import annotations

from datetime import datetime

import pytest
from tests.dayline.instances import form_of, form_of_day
from tests.dayline.line_checker import faults
from tests.plan.plans import plan_with

from vatside.dayline.day_steps import steps
from vatside.dayline.going import Going, Waiting
from vatside.dayline.held_day import shorter
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.no_sooner import WET_AT_MOST
from vatside.dayline.warn import outlook
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute

EIGHT = datetime(2026, 5, 2, 8, 0)
HOURS = [{}, {"ready_by": "2026-05-12T10:00"}, {"vat__rest": "4 d"}, {"vat__rest": "14 d"}]
"""Without a wanted hour, with one ten days on, and in vats that come to life on the fourth day and the fourteenth."""


def laid(**more: str) -> LaidDay:
    """Linen in bran and soda, begun at eight."""
    plan: Plan = plan_with(None, lots__a__fibre="linen", method="fermentation", **more)
    sheet = compute(plan)
    return lay_day(plan, sheet, steps(plan, sheet), EIGHT)


@pytest.mark.parametrize("more", HOURS)
def test_no_fibre_lies_wet_for_days(more: dict[str, str]) -> None:
    """EPA, Mold Course: wet things that are dried within one day or two grow no mould; it waits a day at most."""
    day = laid(**more)
    first = min(day.laid.starts[name] for name in day.needed.rounds)
    wet = [day.laid.starts[name] for name in day.needed.steps if name.endswith((".hang", "dip.wet"))]
    assert len(wet) == 2
    assert all(0 < first - at <= WET_AT_MOST for at in wet)
    assert not faults(form_of_day(day.needed.day), form_of(day.laid))


@pytest.mark.parametrize("more", HOURS)
def test_each_thing_that_goes_on_after_nights_is_told_once(more: dict[str, str]) -> None:
    """Seven nights of one wait are one sentence, not seven."""
    said = [text for text in outlook(laid(**more)).sentences if text.startswith("It goes on after")]
    assert 1 <= len(said) <= 2
    assert any("nights, the first of them from 22:00 to 05:00" in text for text in said)


def under_way(*scoured: str) -> LaidDay:
    """The same day on its second morning: the vat comes to life, and these steps of the scour are done."""
    plan = plan_with(None, lots__a__fibre="linen", method="fermentation")
    sheet = compute(plan)
    day = steps(plan, sheet)
    made = [step.id for step in day if step.stage in (Stage.STOCK, Stage.VAT)][:-2]
    done = dict.fromkeys((*made, *(f"scour.linen.{step}" for step in scoured)), 24 * 60.0)
    going = Going(done, {"vat.rest_covered": Waiting(24 * 60, 6 * 24 * 60)})
    return lay_day(plan, sheet, day, EIGHT, going)


def test_of_a_day_under_way_too_the_scour_waits_for_its_vat() -> None:
    """A day after the vat was covered its linen is still dry, and is scoured the day before its dips, and stays so."""
    day = under_way()
    first = min(day.laid.starts[name] for name in day.needed.rounds)
    assert 0 < first - day.laid.starts["scour.linen.hang"] <= WET_AT_MOST
    assert shorter(day, 25).laid.starts["scour.linen.hang"] == day.laid.starts["scour.linen.hang"]


def test_what_lies_in_the_pot_comes_out_of_it() -> None:
    """Half scoured, the linen is rinsed today, not in five days."""
    begun = ("soak", "fill.1", "agents.1", "heat.1", "hold.1", "fill_again.2", "agents.2", "lower.2", "hold.2")
    assert under_way(*begun).laid.starts["scour.linen.rinse"] < 12 * 60
