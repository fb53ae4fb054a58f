"""A vat that wants a week: its fibre is not scoured on the first day, and its nights are told in one sentence."""

from __future__ import annotations

from datetime import datetime

import pytest
from tests.dayline.instances import form_of, form_of_day
from tests.dayline.line_checker import faults
from tests.plan.plans import plan_with

from vatside.dayline.day_steps import steps
from vatside.dayline.laid_day import WET_AT_MOST, LaidDay, lay_day
from vatside.dayline.warn import outlook
from vatside.plan.plan import Plan
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
