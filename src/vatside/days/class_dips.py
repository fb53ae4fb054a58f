"""How the lots of a class are dipped, those alike together: as planned, or as it was once they were."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise
from statistics import median

from attrs import frozen

from vatside.days.blues import blues
from vatside.days.lots import say_pieces
from vatside.dips.depth import depth_name
from vatside.dips.lot import dip_order, named, span
from vatside.dips.rotation import lot_id
from vatside.log.state import State
from vatside.log.waits import seconds_between
from vatside.plan.figure_text import figure_text
from vatside.plan.grouping import gathered
from vatside.plan.measures import fibre_words, share
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.units import show_minutes
from vatside.units.show import plain


@frozen
class Dipped:
    """How a lot, or several alike, are dipped: one line of the short table."""

    lot: str
    depth: str
    pieces: str
    """Of each table."""
    dips: str
    """From the piece that gets least to the one that gets most."""
    dip: str
    air: str


def alike(plan: Plan, whole: Sheet) -> tuple[tuple[Lot, ...], ...]:
    """Put lots together whose pieces are alike and dipped alike, in the order in which they first go in."""

    def kind(lot: Lot) -> tuple[object, ...]:
        told = (figure_text(whole[f"dip.{lot.id}.{name}"], plan).main for name in ("dips", "dip", "air", "piece"))
        return fibre_words(lot), lot.form, share(lot.depth), *told

    by_kind = gathered((kind(lot), lot) for lot in dip_order(plan, whole.value("vat.strength")))
    return tuple(tuple(lots) for lots in by_kind.values())


def names(lots: Iterable[Lot]) -> str:
    """Name some lots."""
    return named([lot.name for lot in lots])


def pieces(lots: Iterable[Lot]) -> int:
    """Count their pieces."""
    return sum(lot.pieces for lot in lots)


def as_done(state: State, whole: Sheet) -> Mapping[str, tuple[str, str, str]]:
    """Give how many dips each lot had that has had them all, how long they were, and how long it aired between two."""
    if not state.dipping.pieces:
        return {}
    told = [blue for blue in blues(state, whole) if blue.dips.as_done and not blue.dips.so_far]
    return {
        blue.lot.id: (span(*blue.dips.numbers), show_minutes(blue.dips.dip_min), _aired(state, blue.lot))
        for blue in told
    }


def _aired(state: State, lot: Lot) -> str:
    """The usual time out of the vat between two dips, not after the last one; empty where nobody timed it."""
    stays = gathered((stay.piece, stay) for stay in state.dipping.entered if lot_id(stay.piece) == lot.id)
    gaps = [
        seconds_between(last.end, then.start) / 60
        for of_piece in stays.values()
        for last, then in pairwise(of_piece)
        if last.end is not None
    ]
    return show_minutes(median(gaps)) if gaps else ""


def dipped(
    plan: Plan, whole: Sheet, lots: tuple[Lot, ...], tables: int, done: Mapping[str, tuple[str, str, str]]
) -> Dipped:
    """Give the line of some lots that are alike."""
    lot = lots[0]
    dips, dip, air = done.get(lot.id) or _as_planned(plan, whole, lot)
    return Dipped(
        plain(names(lots)), depth_name(100 * share(lot.depth)), say_pieces(pieces(lots), tables), dips, dip, air
    )


def _as_planned(plan: Plan, whole: Sheet, lot: Lot) -> tuple[str, str, str]:
    minutes = [show_minutes(whole.value(f"dip.{lot.id}.{name}")) for name in ("dip", "air")]
    return figure_text(whole[f"dip.{lot.id}.dips"], plan).main, minutes[0], minutes[1]
