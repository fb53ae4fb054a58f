"""Plans a person could arrive at by typing into the forms, for property tests."""

from __future__ import annotations

from attrs import evolve
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy
from tests.plan.plans import kept_vat, wool_plan

from vatside.catalogue.load import fibres
from vatside.forms.fields import Field, fields, read, set_value
from vatside.plan.paths import add_lot, remove_lot
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.plan.starter import new_lot
from vatside.units import BASE_UNITS, UNITS, Kind, Problem

OTHER_UNITS: dict[Kind, tuple[str, ...]] = {
    Kind.MASS: ("oz", "lb", "kg", "mg"),
    Kind.VOLUME: ("mL", "gal", "quart", "cup", "tsp"),
    Kind.POWDER: ("tsp", "tbsp", "cup", "oz", "kg"),
    Kind.TEMPERATURE: ("°F",),
    Kind.TIME: ("s", "h", "d"),
    Kind.LENGTH: ("in", "ft", "mm", "m"),
    Kind.POWER: ("W",),
}
"""Units besides the base unit in which an amount may be typed."""


def _number(low: float, high: float) -> SearchStrategy[str]:
    ends = st.sampled_from((low, high))
    return (ends | st.floats(low, high)).map(lambda value: f"{value:.6f}")


def typed(row: Field) -> SearchStrategy[str]:
    """Texts that fit a row more often than not."""
    if row.choices:
        return st.sampled_from([key for key, _ in row.choices])
    if row.whole:
        return st.integers(int(row.low), int(row.high)).map(str)
    if row.clock:
        return st.sampled_from(("10:00", "9", "23.59", "2026-05-02 10:00", ""))
    if row.kind is None:
        return st.text(max_size=12)
    units = (UNITS[BASE_UNITS[row.kind]], *OTHER_UNITS.get(row.kind, ()))
    low, high = row.typed or (row.low, row.high)
    number = st.integers(int(low), int(high)).map(str) if row.kind is Kind.NUMBER else _number(low, high)
    amount = st.tuples(number, st.sampled_from(units)).map(" ".join)
    return amount | st.just("") if row.optional else amount


@st.composite
def any_plan(draw: DrawFn, changes: int = 12) -> Plan:
    """Draw a plan reached from the starter by adding lots and typing into any row of any form."""
    plan = wool_plan()
    if draw(st.integers(0, 3)) == 0:
        plan = evolve(plan, kept=kept_vat())
    for fibre in draw(st.lists(st.sampled_from(sorted(fibres())), max_size=3)):
        plan = add_lot(plan, new_lot(plan))
        plan = set_value(plan, f"lots.{plan.lots[-1].id}.fibre", fibre)
    for _ in range(draw(st.integers(0, changes))):
        plan = draw(_changed(plan))
    if draw(st.booleans()):
        plan = remove_lot(plan, plan.lots[0].id)
    return plan


@st.composite
def _changed(draw: DrawFn, plan: Plan) -> Plan:
    stages = [stage for stage in Stage if fields(plan, stage, hidden=True)]
    row = draw(st.sampled_from(fields(plan, draw(st.sampled_from(stages)), hidden=True)))
    value = read(plan, row.path, draw(typed(row)))
    return plan if isinstance(value, Problem) else set_value(plan, row.path, value)
