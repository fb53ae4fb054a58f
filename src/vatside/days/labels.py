"""Labels: for the jar of stock that is left, and for each dyed piece."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from attrs import frozen

from vatside.days.blues import LotBlue
from vatside.days.day_record import DayRecord, day_record
from vatside.days.kept_stock import label_lines
from vatside.dips.depth import depth_name
from vatside.dips.words import span
from vatside.log.effects.pieces import name_of
from vatside.log.session import Session
from vatside.plan.measures import fibre_of, held, lot_grams, share
from vatside.units import Kind, show_mass

CARE = "Wash apart at first, by hand, cool, with mild soap; dry in the shade"
"""How a buyer keeps the blue, and her other things white. Common practice, no source."""


@frozen
class Label:
    """One label."""

    title: str
    lines: tuple[str, ...]
    hazard: bool = False
    """What it is on can hurt."""


def labels(session: Session, zone: tzinfo | None = None) -> tuple[Label, ...]:
    """Give a day's labels: the jar's, where stock is left in it, then those of all pieces, lot by lot."""
    record = day_record(session, zone)
    return (*_jar(record), *(label for blue in record.lots for label in _pieces(record, blue)))


def _jar(record: DayRecord) -> Iterator[Label]:
    lines = label_lines(record.state, record.sheet)
    if lines:
        yield Label("Indigo stock", lines, hazard=True)


def _pieces(record: DayRecord, blue: LotBlue) -> Iterator[Label]:
    lot = blue.lot
    lines = (
        f"{fibre_of(lot).name}, {_mass(record, blue)}",
        _colour(blue),
        f"Dyed {record.day}: {record.plan.title}",
        CARE,
    )
    for number in range(1, lot.pieces + 1):
        yield Label(name_of(record.state, f"{lot.id}.{number}"), lines)


def _mass(record: DayRecord, blue: LotBlue) -> str:
    """The mass of one piece: as weighed after the dyeing, else by what the lot weighed before it."""
    lot = blue.lot
    after = held(record.plan, f"finish.after.{lot.id}", Kind.MASS)
    if after is not None:
        return show_mass(after / lot.pieces)
    return f"about {show_mass(lot_grams(record.plan, lot) / lot.pieces)}"


def _colour(blue: LotBlue) -> str:
    """The depth that was read off the ladder, else the one that was wanted, and the dips that made it."""
    depth = 100 * share(blue.lot.depth) if blue.depth is None else blue.depth
    dips = f", {span(*blue.dips.numbers)} dips" if blue.dips.as_done and not blue.dips.so_far else ""
    return f"indigo, {depth_name(depth)} ({depth:.2g} %){dips}"
