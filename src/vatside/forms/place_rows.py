"""The rows of hands, things and hours that a day can count on; in the form only where they are not as usual."""

from __future__ import annotations

from vatside.forms.field import Field
from vatside.plan.paths import AWAY, POTS
from vatside.plan.plan import ALONE, Plan
from vatside.plan.sheet import Stage

MOST_PEOPLE, MOST_THINGS, MOST_JARS, LONGEST_LUNCH = 99, 99, 999, 240
"""Ours: more are no day at one vat."""


def place_rows(plan: Plan) -> tuple[Field, ...]:
    """Rows of the place; those are shown that say something else than one dyer at one hob."""
    place = plan.place

    def counted(name: str, label: str, most: int, low: int = 1, tip: str = "") -> Field:
        other = getattr(place, name) != getattr(ALONE, name)
        return Field(f"place.{name}", label, Stage.PLAN, whole=True, low=low, high=most, shown=other, help=tip)

    def hour(name: str, label: str, tip: str, *, optional: bool = True) -> Field:
        other = getattr(place, name) != getattr(ALONE, name)
        return Field(f"place.{name}", label, Stage.PLAN, clock=True, optional=optional, shown=other, help=tip)

    return (
        counted("people", "Pairs of hands", MOST_PEOPLE),
        counted("hobs", "Hobs", MOST_THINGS, tip="that heat at the same time"),
        counted("sinks", "Sinks", MOST_THINGS),
        Field(
            POTS, "Further pots", Stage.PLAN, optional=True, shown=bool(place.pots),
            help="beside the scour pot: 5 L, 24 L",
        ),
        Field(
            AWAY, "Away", Stage.PLAN, optional=True, shown=bool(place.away), help="1 until 10:00, 1 from 13:00 to 15:00"
        ),
        counted("bowls", "Bowls", MOST_THINGS),
        Field(
            "place.jars", "Stock jars", Stage.PLAN, whole=True, low=1, high=MOST_JARS, optional=True,
            shown=bool(place.jars),
        ),
        hour("home_by", "All done by", "17:00, sat 17:00"),
        hour("not_before", "Not before", "nobody begins before this hour: 08:30"),
        counted("lunch", "Lunch, minutes", LONGEST_LUNCH, 0, "everybody stops for so long; 0: nobody does"),
        hour("lunch_from", "Lunch from", "12:00: it begins then at the earliest", optional=False),
        hour("lunch_to", "Lunch begins by", "13:30: it begins then at the latest", optional=False),
    )  # fmt: skip
