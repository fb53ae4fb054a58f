"""The pieces of a plan and where they are. Times are seconds, minutes where they say so.

A lot's pieces are like one another; what each is called says `recipe/piece_names.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from attrs import frozen

from vatside.dips.lot import dip_order, share_of_entry
from vatside.plan.measures import clean_grams, fibre_of, held, share
from vatside.plan.piece_names import piece_name
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.units import Kind


class Place(StrEnum):
    """Where a piece is."""

    WAITING = "waiting"
    IN_VAT = "in the vat"
    AIRING = "airing"
    DONE = "done"


@frozen
class Piece:
    """One piece of a lot, as the plan has it."""

    id: str
    """`LOT.NUMBER`, counted from 1."""
    name: str
    lot: str
    phase: int
    """0 protein and silk, 1 plant fibres: a phase ends before the next one goes in."""
    grams: float
    depth: float
    """Wanted, %."""
    dips: int
    """Planned."""
    dip_min: float
    air_min: float
    share: float
    """Of one entry: pieces that are dipped and aired alike go in together until it is full."""


@frozen
class Standing:
    """Where a piece is at one moment."""

    place: Place = Place.WAITING
    dips: int = 0
    """Begun so far, the running one included."""
    gone: float = 0.0
    """Seconds since it came there."""
    left: float | None = None
    """Seconds it is still to stay, below zero for too long already; None where nothing counts."""


def pieces(plan: Plan, sheet: Sheet, names: Mapping[str, str] | None = None) -> tuple[Piece, ...]:
    """Give every piece of the plan in the order in which they first go in; `names` by piece id."""
    given, order, dips = names or {}, dip_order(plan, sheet.value("vat.strength")), dict(sheet.piece_dips)
    return tuple(_piece(plan, sheet, lot, number, given, dips) for lot in order for number in range(1, lot.pieces + 1))


def _piece(plan: Plan, sheet: Sheet, lot: Lot, number: int, names: Mapping[str, str], dips: Mapping[str, int]) -> Piece:
    def value(name: str, least: float) -> float:
        return max(sheet.value(f"dip.{lot.id}.{name}"), least)

    piece = f"{lot.id}.{number}"
    return Piece(
        id=piece,
        name=piece_name(lot, number, names.get(piece, "")),
        lot=lot.id,
        phase=1 if fibre_of(lot).group == "cellulose" else 0,
        grams=clean_grams(plan, lot) / max(lot.pieces, 1),
        depth=100 * share(lot.depth),
        dips=dips.get(piece, round(value("dips", 0))),
        dip_min=value("dip", 0),
        air_min=value("air", 0),
        share=share_of_entry(
            value("piece", 0), sheet.value("vat.entry"), held(plan, f"dip.{lot.id}.at_once", Kind.NUMBER)
        ),
    )
