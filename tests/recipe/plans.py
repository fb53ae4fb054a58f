"""Plans for the tests: the starter with some fields set, by path."""

from __future__ import annotations

from vatside.recipe.fields import read, set_value
from vatside.recipe.plan import Plan
from vatside.recipe.starter import starter_plan
from vatside.units import Problem


def plan_with(plan: Plan | None = None, **changes: str) -> Plan:
    """Set fields of a plan (the starter by default) from typed text; `__` in a name stands for a dot."""
    plan = plan or starter_plan()
    for name, text in changes.items():
        plan = told(plan, name.replace("__", "."), text)
    return plan


def told(plan: Plan, path: str, text: str) -> Plan:
    """Set one field from typed text; the text must be understood."""
    value = read(plan, path, text)
    assert not isinstance(value, Problem), value
    return set_value(plan, path, value)
