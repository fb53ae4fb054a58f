"""What a row of a form is called where its form is not seen."""

from __future__ import annotations

from vatside.forms.field import Field
from vatside.plan.sheet import Stage


def row_name(row: Field) -> str:
    """Name a row with its group, or else with its stage: two stages have a rest.

    The plan's own rows stand for themselves.
    """
    if row.stage is Stage.SCOUR and row.group:
        return f"Scour, {row.group}: {row.label}"
    if row.group:
        return f"{row.group}: {row.label}"
    return row.label if row.stage is Stage.PLAN else f"{row.stage.value.capitalize()}: {row.label}"
