"""What a day counts on, as the dyer sets it: hands, things and hours."""

from __future__ import annotations

from attrs import frozen

from vatside.bench import commands
from vatside.bench.desk import Desk, local
from vatside.forms.fields import field, get_value, show
from vatside.forms.place_rows import place_rows
from vatside.units import Problem

LEFT_OUT = ("place.jars", "place.lunch_to")
"""What is seldom another than it is, and has no key."""


@frozen
class PlaceRow:
    """One of them: the key that chooses it, its place in the plan, and what stands there."""

    key: str
    path: str
    label: str
    text: str
    help: str
    optional: bool

    @property
    def said(self) -> str:
        """What stands there, and else what could."""
        return self.text or "not said"


def rows(desk: Desk) -> tuple[PlaceRow, ...]:
    """All of them, as the plan has them; keys count from 1, the tenth is 0."""
    offered = [row for row in place_rows(desk.plan) if row.path not in LEFT_OUT]
    return tuple(
        PlaceRow(key, row.path, row.label, show(desk.plan, row.path), row.help, row.optional)
        for key, row in zip("1234567890", offered, strict=True)
    )


def means(desk: Desk, row: PlaceRow, text: str) -> tuple[bool, str]:
    """Say what stands in a field, or what is wrong with it."""
    event = commands.change(desk.plan, row.path, text, local(desk.clock.now()))
    return (False, event.text) if isinstance(event, Problem) else (True, row.help or "the day is laid anew")


def put(desk: Desk, row: PlaceRow, text: str) -> str:
    """Set it; say what stands there now."""
    event = commands.change(desk.plan, row.path, text, local(desk.clock.now()))
    if isinstance(event, Problem):
        return event.text
    desk.log(event)
    value = get_value(desk.plan, row.path)
    return f"{field(desk.plan, row.path).label}: {show(desk.plan, row.path) if value is not None else 'not said'}."
