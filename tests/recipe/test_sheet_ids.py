"""A figure is asked for by its id: one that there is nowhere is a fault of the program, not nothing."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from attrs import evolve
from tests.plan.plans import kept_vat, wool_plan

import vatside
from vatside.catalogue.load import methods, steps_of
from vatside.plan.paths import add_lot, set_value
from vatside.plan.plan import Plan, StockKept
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute
from vatside.units import Amount

MAYBE = re.compile(r'value\("([a-z]+\.[a-z_.-]+)", 0\.0\)', re.IGNORECASE)


def with_all() -> Plan:
    """Wool and cotton in one vat, made of a kept one, with a stock of another day and powder for other vats."""
    plan = wool_plan()
    plan = add_lot(plan, new_lot(plan))
    plan = set_value(plan, f"lots.{plan.lots[-1].id}.fibre", "cotton")
    jar = StockKept(Amount(0.2, "L"), Amount(1, "g"), Amount(1, "g"), Amount(0, "g"), "2026-05-01T10:00")
    return set_value(evolve(plan, kept=kept_vat(), stock_kept=jar), "stock.others", Amount(5, "g"))


@cache
def every_id() -> frozenset[str]:
    """All figures of plans that between them do everything."""
    too_warm = evolve(with_all(), kept=kept_vat(celsius=80))
    lukewarm_tap = set_value(wool_plan(), "water.hot", Amount(25, "degC"))
    plans = [evolve(plan, method=method) for plan in (lukewarm_tap, with_all(), too_warm) for method in methods()]
    return frozenset(figure.id for plan in plans for figure in compute(plan).figures)


def test_an_id_that_there_is_nowhere_is_refused() -> None:
    """It was taken for a figure of nothing: a slip in an id was a dose of nothing."""
    sheet = compute(wool_plan())
    with pytest.raises(KeyError, match=r"stock\.pigmnet"):
        sheet.value("stock.pigmnet")
    assert sheet.value("vat.stock_kept", 0.0) == 0.0
    assert "vat.stock_kept" not in sheet
    assert sheet.value("stock.pigment", 0.0) == sheet["stock.pigment"].value > 0


def test_what_a_plan_may_do_without_another_one_has() -> None:
    """Each id that is asked for with a default is a figure of some plan."""
    asked = {
        name for path in Path(vatside.__file__).parent.rglob("*.py") for name in MAYBE.findall(path.read_text("utf-8"))
    }
    assert len(asked) > 4
    assert asked <= every_id()


def test_steps_go_by_figures_that_there_are() -> None:
    """What a step needs, leaves out, puts in, works at and waits for is a figure of some plan."""
    templates = (*steps_of("dip"), *steps_of("finish"), *(item for one in methods().values() for item in one.steps))
    named = {name for item in templates for name in (*item.needs, item.unless, item.works, item.nudge_every, item.wait)}
    assert {name for name in named if "." in name} <= every_id()
