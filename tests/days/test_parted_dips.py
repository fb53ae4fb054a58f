"""The dips of a vat for both: two steps now, one in days of old."""

from __future__ import annotations

import pytest
from tests.log.played import Played
from tests.plan.plans import plan_of_lots, plan_with

from vatside.dayline.step_uses import all_uses
from vatside.days.done import added
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute


def both() -> Plan:
    """Give silk and cotton in a vat with little lye."""
    plan = plan_of_lots(("silk", "60 g"), ("cotton", "300 g"))
    return plan_with(plan, stock__alkali="3 g", vat__alkali="0 g")


def test_a_day_of_old_that_had_its_dips_has_both_parts() -> None:
    """The last dips done, those of the silk before them are done as well."""
    assert set(Played(both()).done("dip.rotate").state.done) == {"dip.gentle", "dip.rotate"}


def test_the_first_part_keeps_its_own_time() -> None:
    """Ticked before, it is not ticked anew."""
    day = Played(both()).done("dip.gentle")
    then = day.state.done["dip.gentle"]
    assert day.done("dip.rotate").state.done["dip.gentle"] == then


def test_cotton_alone_has_one_part() -> None:
    """Nothing is marked that is no step of the day."""
    assert set(Played(plan_of_lots(("cotton", "300 g"))).done("dip.rotate").state.done) == {"dip.rotate"}


def test_the_lye_that_raises_the_ph_is_booked_with_its_step() -> None:
    """Planned as one of the day's amounts, and used once the step is ticked."""
    grams = compute(both())["dip.alkali"].value
    (planned,) = [use for use in all_uses(both()) if use.figure == "dip.alkali"]
    (used,) = added(Played(both()).done("dip.protein_first").session)
    assert planned.material == used.use.material == "lye"
    assert planned.grams == used.use.grams == pytest.approx(grams)
