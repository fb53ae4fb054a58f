"""What the dyer's own results say about colour and uptake, fibre group by fibre group.

A swatch of a lot that was weighed before and after says how blue so much indigotin is: it goes into the colour. Any
other swatch says how much went on: read off the ladder, it goes into the uptake. So no result counts twice, and the
pieces of one lot on one day count as one. Results of several sessions can be put together before they are fitted.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import hypot

from attrs import frozen

from vatside.catalogue.dyeing import own_results, shades
from vatside.chemistry.colour import Lab
from vatside.chemistry.shade import Fit, Sample, fit_yield
from vatside.dips.depth import Comparison, Graded, Picked, Seen, compare, seen_colour, seen_depth
from vatside.dips.own_results import OnPiece, Result, learned, result
from vatside.dips.rotation import lot_id
from vatside.dips.uptake import CameOut
from vatside.log.effects.pieces import lot_of, seen_of
from vatside.log.events.day import ColourNoted
from vatside.log.events.vat import SwatchRecorded
from vatside.log.state import State, counted
from vatside.plan.grouping import gathered
from vatside.plan.measures import clean_grams, fibre_of, share
from vatside.plan.plan import Learned, Lot, Plan
from vatside.recipe.stages.finish import WEIGHING_ERROR, can_gain, true_gain
from vatside.units import Kind, to_base


@frozen
class Swatch:
    """The colour of a piece, or of a lot whose pieces are alike, beside what the account has on it."""

    group: str
    lot: str
    seen: Seen
    on: OnPiece
    grams: float
    """Dry mass of the piece."""


@frozen
class Results:
    """One session's results, each with its fibre group."""

    colour: tuple[tuple[str, Sample], ...] = ()
    swatches: tuple[Swatch, ...] = ()


@frozen
class Fits:
    """What all results together come to, by fibre group; a group without results is not here."""

    colour: Mapping[str, Fit]
    """Colour yield, K/S for each %."""
    uptake: Mapping[str, Learned]
    """What the fibre takes up, beside the practice table."""


def swatches_of(state: State) -> dict[str, Seen]:
    """Give the latest colour of each piece or lot, by id, whichever kind of event wrote it down."""
    latest: dict[str, Seen] = {}
    for entry in counted(state):
        event = entry.event
        if isinstance(event, SwatchRecorded):
            latest[event.piece] = seen_of(event)
        elif isinstance(event, ColourNoted) and (seen := _noted(event)) is not None:
            latest[event.lot] = seen
    return latest


def _noted(event: ColourNoted) -> Seen | None:
    if event.lab:
        return Lab(*event.lab)
    depth = to_base(event.depth, Kind.PERCENT) if event.depth is not None else 0.0
    return Picked(depth) if depth > 0 else None


def results_of(state: State) -> Results:
    """Give what a session's swatches and scales say."""
    colour: list[tuple[str, Sample]] = []
    swatches: list[Swatch] = []
    for ident, seen in swatches_of(state).items():
        lot = _lot(state.plan, ident)
        if lot is None:
            continue
        group, gain = fibre_of(lot).group, _weighed_gain(state.plan, lot)
        if gain is not None:
            colour.append((group, Sample(gain, seen_colour(seen, fibre_of(lot)))))
            continue
        grams = clean_grams(state.plan, lot) / max(lot.pieces, 1)
        swatches += [Swatch(group, lot.id, seen, on, grams) for on in _on(state, ident) if on.by_table > 0]
    return Results(tuple(colour), tuple(swatches))


def _lot(plan: Plan, ident: str) -> Lot | None:
    """Give the lot of a piece, or the lot itself; None if it has left the plan."""
    for lot in plan.lots:
        if lot.id == ident:
            return lot
    try:
        return lot_of(plan, ident)[0]
    except KeyError:
        return None


def _weighed_gain(plan: Plan, lot: Lot) -> float | None:
    """Give what a lot gained by the scale, %; None where it was not weighed dyed, or gained too little or too much."""
    held = {pin.figure: to_base(pin.amount, Kind.MASS, plan.spoons) for pin in plan.pins
            if pin.figure in (f"finish.before.{lot.id}", f"finish.after.{lot.id}")}  # fmt: skip
    after = held.get(f"finish.after.{lot.id}")
    if after is None:
        return None
    gain = true_gain(held.get(f"finish.before.{lot.id}", clean_grams(plan, lot)), after)
    return gain if gain > WEIGHING_ERROR and can_gain(gain) else None


def _on(state: State, ident: str) -> Iterator[OnPiece]:
    """Give what the account has on a piece; of a lot, one piece that stands for all: their mean is as good."""
    pieces = state.dipping.pieces
    if ident in pieces:
        yield pieces[ident].on
        return
    dyed = [where.on for piece, where in pieces.items() if lot_id(piece) == ident]
    if dyed:
        yield _mean(dyed)


def _mean(dyed: Sequence[OnPiece]) -> OnPiece:
    count = len(dyed)
    return OnPiece(
        laid=sum(on.laid for on in dyed) / count,
        rinsed=dyed[0].rinsed,
        by_table=sum(on.by_table for on in dyed) / count,
        by_more=sum(on.by_more for on in dyed) / count,
    )


def fits(results: Iterable[Results]) -> Fits:
    """Fit colour and uptake to the results of one session or of several."""
    results = tuple(results)
    colour = _fit_colours([pair for item in results for pair in item.colour])
    by_group: dict[str, list[Result]] = {}
    for item in results:
        for alike in _by_lot(item.swatches):
            lot_result = _result(alike, colour)
            if lot_result is not None:
                by_group.setdefault(alike[0].group, []).append(lot_result)
    return Fits(colour, {group: learned(group, of_group) for group, of_group in by_group.items()})


def _by_lot(swatches: Iterable[Swatch]) -> Iterable[list[Swatch]]:
    """Put the swatches of one lot on one day together."""
    by_lot = gathered(((item.group, item.lot), item) for item in swatches)
    return by_lot.values()


def _fit_colours(samples: list[tuple[str, Sample]]) -> dict[str, Fit]:
    groups = dict.fromkeys(group for group, _ in samples)
    return {
        group: fit_yield([sample for name, sample in samples if name == group], shades()[group]) for group in groups
    }


def _result(alike: Sequence[Swatch], colour: Mapping[str, Fit]) -> Result | None:
    """Give what the pieces of one lot say together; as sure as the surest of them."""
    group = alike[0].group
    got = sum(seen_depth(item.seen, group, colour.get(group)).depth for item in alike) / len(alike)
    grams = sum(item.grams for item in alike) / len(alike)
    return result(_mean([item.on for item in alike]), grams, got, min(_spread(item, colour) for item in alike))


def _spread(item: Swatch, colour: Mapping[str, Fit]) -> float:
    """Give how sure a recorded depth is: by how it was seen, and by what the colour of a depth rests on."""
    rules = own_results()
    if item.group not in colour:
        sure = rules.guessed.value
    else:
        sure = rules.measured.value if isinstance(item.seen, Lab) else rules.picked.value
    return hypot(sure, rules.graded.value) if isinstance(item.seen, Graded) else sure


def own_fits(state: State) -> Fits:
    """Fit what one session's own results say."""
    return fits([results_of(state)])


def verdicts(state: State, fitted: Fits) -> dict[str, Comparison]:
    """Hold every swatch against the depth that its lot was to have, by piece or lot id."""
    held = {}
    for ident, seen in swatches_of(state).items():
        lot = _lot(state.plan, ident)
        if lot is not None and share(lot.depth) > 0:
            fibre = fibre_of(lot)
            held[ident] = compare(seen, 100 * share(lot.depth), fibre, fitted.colour.get(fibre.group))
    return held


def came_out(state: State) -> dict[str, CameOut]:
    """Give the colour that each lot came out with: recorded of all of it, or the mean of its pieces, by lot id."""
    by_lot: dict[str, list[Comparison]] = {}
    held = verdicts(state, own_fits(state))
    for ident, verdict in held.items():
        lot = _lot(state.plan, ident)
        if lot is not None and (ident == lot.id or lot.id not in held):
            by_lot.setdefault(lot.id, []).append(verdict)
    wanted = {lot.id: 100 * share(lot.depth) for lot in state.plan.lots}
    return {lot: _came(pieces, wanted[lot]) for lot, pieces in by_lot.items()}


def _came(pieces: Sequence[Comparison], wanted: float) -> CameOut:
    """Put the pieces of a lot together; the words are those of the piece that is farthest from the depth wanted."""
    depth = sum(item.depth for item in pieces) / len(pieces)
    worst = min(pieces, key=lambda item: item.grade)
    most = "" if len(pieces) == 1 else f", of {len(pieces)} pieces at worst"
    return CameOut(depth, f"{worst.words(wanted)}{most}")
