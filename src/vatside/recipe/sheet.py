"""The sheet: every worked-out figure of a plan, with its working."""

from __future__ import annotations

from enum import StrEnum
from functools import cached_property

from attrs import define, field, frozen

from vatside.units import Amount, Kind


class Stage(StrEnum):
    """The parts of the job in the order of the day."""

    PLAN = "plan"
    SCOUR = "scour"
    STOCK = "stock"
    VAT = "vat"
    DIP = "dip"
    FINISH = "finish"


class Weight(StrEnum):
    """How much a notice matters."""

    NOTE = "note"
    CARE = "care"
    """Look here: the plan may not do what is wanted."""
    DANGER = "danger"
    """Someone or something can be hurt or lost."""


@frozen
class Notice:
    """A sentence about the plan that the dyer should read before weighing anything."""

    stage: Stage
    weight: Weight
    text: str
    figure: str | None = None
    """The figure it is about."""
