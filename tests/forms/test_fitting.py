"""Which plans and changes the form would have let through."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from tests.log.strategies import fitting_plans
from tests.plan.plans import wool_plan

from vatside.forms.fields import (
    Field,
    FieldValue,
    check_change,
    fields,
    get_value,
    plan_problems,
    read,
    rows,
    show,
    value_problem,
)
from vatside.plan.paths import set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.units import Amount, Problem

PLAN = wool_plan()


@given(fitting_plans())
def test_rows_that_are_kept_are_the_rows_of_the_plan(plan: Plan) -> None:
    """Rows are worked out once for all plans of a shape; no row depends on anything else."""
    assert rows(plan) == worked_out(plan)


def worked_out(plan: Plan) -> dict[str, Field]:
    """Give the rows of a plan without the ones that are kept."""
    return {row.path: row for stage in Stage for row in fields(plan, stage, hidden=True)}


OTHER_VALUES: tuple[FieldValue, ...] = (
    *(Amount(value, unit) for unit in ("g", "%", "L", "degC", "cm", "kW", "mL", "h") for value in (3, 30, 50)),
    *(2, 3, "5 L, 24 L", "12:30", "A, B"),
)
"""Something else for a row to hold, whatever it takes."""


@pytest.mark.parametrize("path", rows(PLAN))
def test_rows_that_are_kept_follow_each_change(path: str) -> None:
    """Whatever is changed in a plan whose rows are known, its rows are those of the changed plan."""
    row, plan = rows(PLAN)[path], PLAN
    for value in (*(key for key, _ in row.choices), *OTHER_VALUES):
        if value_problem(PLAN, row, value) is None:
            plan = set_value(plan, path, value)
            rows(PLAN)
            assert rows(plan) == worked_out(plan)


def test_the_starter_fits() -> None:
    """A newcomer's plan has no problems."""
    assert plan_problems(PLAN) == ()


@given(fitting_plans())
def test_what_the_form_reads_fits(plan: Plan) -> None:
    """Whatever stands in a field, its printed text read again is let through."""
    for path in rows(plan):
        text = show(plan, path)
        value = read(plan, path, text) if text else None
        if not isinstance(value, Problem) and value is not None:
            assert value_problem(plan, rows(plan)[path], value) is None


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ("lots.a.mass", Amount(1, "degC"), "must be an amount of mass"),
        ("lots.a.mass", Amount(0, "g"), "cannot be; between"),
        ("lots.a.mass", None, "nothing stands here"),
        ("lots.a.pieces", 1000, "whole number from 1 to 999"),
        ("lots.a.pieces", True, "whole number"),
        ("lots.a.fibre", "glass", "not among the choices"),
        ("title", "", "nothing stands here"),
        ("ready_by", "25:00", "is no time"),
        ("ready_by", "2026-05-02 10:00", "is no time"),
        ("stock.pigment", Amount(-1, "tsp"), "cannot be"),
    ],
)
def test_what_the_form_would_refuse_is_refused_in_words(path: str, value: FieldValue, said: str) -> None:
    """Each value that does not fit its row has its sentence."""
    with pytest.raises(ValueError, match=said):
        check_change(PLAN, path, value)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("ready_by", None),
        ("ready_by", "10:00"),
        ("ready_by", "2026-05-02T10:00"),
        ("stock.pigment", Amount(4, "tsp")),
        ("stock.pigment", Amount(9, "g")),
        ("stock.pigment", None),
        ("lots.a.mass", Amount(0.5, "lb")),
    ],
)
def test_what_the_form_lets_through_fits(path: str, value: FieldValue) -> None:
    """Empty where a row may be empty, any unit of the kind, spoons where a powder is asked for."""
    check_change(PLAN, path, value)


def test_a_place_that_is_no_row_is_no_place() -> None:
    """What the form does not show at all cannot be set, though the plan has it."""
    for path in ("lots.a.id", "lots", "pins", "vessels.tub", "shelf"):
        with pytest.raises(KeyError):
            check_change(PLAN, path, None)
    assert get_value(PLAN, "lots.a.name") == "Wool skeins"


@pytest.mark.parametrize("wanted", ["2026-02-30T10:00", "9999-12-31T10:00", "25:00"])
def test_an_hour_that_there_is_not_is_refused(wanted: str) -> None:
    """No file brings a wanted hour from which no schedule can be laid out."""
    [said] = plan_problems(evolve(PLAN, ready_by=wanted))
    assert "is no time that there is" in said


def test_a_lot_whose_id_is_none_is_told_before_its_values() -> None:
    """With a dot in the id nothing of the lot could be found by its path."""
    [said] = plan_problems(evolve(PLAN, lots=(evolve(PLAN.lots[0], id="a.b"),)))
    assert said == "lots: 'a.b' is no id of letters and digits"


@pytest.mark.parametrize(("path", "value"), [("water.hardness", Amount(300, "mg/L CaCO3")), ("lots.a.pieces", 1)])
def test_a_row_that_shows_by_a_value_follows_it(path: str, value: FieldValue) -> None:
    """Of two plans that differ in one value alone, each has its own rows, whichever is asked first."""
    for plan in (PLAN, set_value(PLAN, path, value), PLAN):
        assert rows(plan) == {row.path: row for stage in Stage for row in fields(plan, stage, hidden=True)}
