"""What each lot went through in the vat and what came of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from attrs import frozen

from vatside.chemistry.colour import Lab
from vatside.days.done import measured
from vatside.days.lots import FEW
from vatside.dips.lot import span
from vatside.dips.rotation import Place
from vatside.log.events.vat import LotDipped, VatKept
from vatside.log.fold import State, so_far
from vatside.log.state import events_of, happened
from vatside.log.waits import seconds_between
from vatside.plan.grouping import gathered
from vatside.plan.measures import fibre_of
from vatside.plan.plan import Lot
from vatside.plan.sheet import Sheet
from vatside.units import show_count, show_minutes


@frozen
class Dips:
    """Dips and airings of a lot, of the piece that got most of them; among equals, of the one longest in the vat."""

    number: float
    dip_min: float
    """One dip."""
    air_min: float
    """All airings together; 0 where nobody timed them."""
    as_done: bool
    """As they were, not as planned."""
    so_far: bool = False
    """Pieces of the lot are still to be dipped."""
    fewest: float | None = None
    """Dips of the piece that gets least, where one gets fewer."""

    @property
    def numbers(self) -> tuple[float, float]:
        """Give the least and the most that a piece gets."""
        return self.number if self.fewest is None else self.fewest, self.number

    @property
    def text(self) -> str:
        """All of it in a line."""
        planned = "" if self.as_done else " (planned)"
        if not self.number:
            return f"none{planned}"
        airs = _span(show_minutes(self.air_min * (number / self.number)) for number in self.numbers)
        air = f", {airs} in the air in all" if self.air_min else ", air not timed"
        return f"{span(*self.numbers)} of {show_minutes(self.dip_min)}{air}{planned}"


@frozen
class LotBlue:
    """One lot: its dips, and the colour it came out with where one was noted."""

    lot: Lot
    dips: Dips
    told: str
    """The dips in words: of all its pieces, and what is still planned."""
    depth: float | None = None
    """Read off the ladder, %."""
    lab: Lab | None = None
    """As measured."""


def blues(state: State, sheet: Sheet) -> tuple[LotBlue, ...]:
    """Give every lot of a session, in the order of its plan."""
    went = gathered((item.lot, item) for item in dipped(state))
    depths, labs = so_far(state).colours, measured(state)
    return tuple(
        _blue(
            lot, went.get(lot.id, []), state, sheet,
            depths[lot.id].depth if lot.id in depths else None, labs.get(lot.id),
        )
        for lot in state.plan.lots
    )  # fmt: skip


def _blue(
    lot: Lot, went: Sequence[Dipped], state: State, sheet: Sheet, depth: float | None, lab: Lab | None
) -> LotBlue:
    planned = _planned(lot, sheet)
    if not went:
        return LotBlue(lot, planned, planned.text, depth, lab)
    most = max(went, key=lambda item: (item.dips, item.dip_min))
    to_come = is_to_come(state, sheet, lot)
    words = _all_of(went)
    if to_come:
        words = f"so far {words}, on {len(went)} of {show_count(lot.pieces, 'piece')}; {planned.text}"
    return LotBlue(lot, Dips(most.dips, most.dip_min, most.air_min, True, to_come), words, depth, lab)


def is_to_come(state: State, sheet: Sheet, lot: Lot) -> bool:
    """Tell whether pieces of a lot that is under way are still to be dipped; none are once the vat is kept or gone."""
    pieces = state.dipping.pieces
    ids = [f"{lot.id}.{number}" for number in range(1, lot.pieces + 1)]
    if not any(piece in pieces for piece in ids) or state.tending.let_go or any(happened(state, VatKept)):
        return False
    usual, by_piece = sheet.value(f"dip.{lot.id}.dips"), dict(sheet.piece_dips)
    return any(
        piece not in pieces
        or pieces[piece].place is Place.IN_VAT
        or (pieces[piece].place is not Place.DONE and pieces[piece].dips < by_piece.get(piece, usual))
        for piece in ids
    )


def _all_of(went: Sequence[Dipped]) -> str:
    """Say what the pieces of a lot went through, from the least to the most."""
    number = _span(f"{many}" for many in sorted(item.dips for item in went))
    minutes = _span(show_minutes(value) for value in sorted(item.dip_min for item in went))
    airs = sorted(item.air_min for item in went)
    air = f"{_span(show_minutes(value) for value in airs)} in the air in all" if airs[-1] else "air not timed"
    return f"{number} of {minutes}, {air}"


def _planned(lot: Lot, sheet: Sheet) -> Dips:
    dips = sheet[f"dip.{lot.id}.dips"]
    air = dips.value * sheet.value(f"dip.{lot.id}.air")
    return Dips(dips.value, sheet.value(f"dip.{lot.id}.dip"), air, as_done=False, fewest=dips.fewest)


def dip_lines(lot_blues: Sequence[LotBlue]) -> tuple[str, ...]:
    """Print the dips lot by lot; of many lots, those of one fibre together."""
    if len(lot_blues) <= FEW:
        return told_together((blue.lot.name, blue.told) for blue in lot_blues)
    kinds = ((fibre_of(blue.lot).name, blue.dips.as_done, blue.dips.so_far) for blue in lot_blues)
    alike = gathered(zip(kinds, (blue.dips for blue in lot_blues), strict=True))
    return tuple(_range_line(fibre, of_fibre) for (fibre, *_), of_fibre in alike.items())


def _range_line(fibre: str, of_fibre: Sequence[Dips]) -> str:
    lots = f"{show_count(len(of_fibre), 'lot')} of {fibre}"
    number = _span(f"{number:.0f}" for number in sorted(count for dips in of_fibre for count in dips.numbers))
    minutes = _span(show_minutes(value) for value in sorted(dips.dip_min for dips in of_fibre))
    air = _span(show_minutes(value) for value in sorted(dips.air_min for dips in of_fibre))
    so_far = "so far " if of_fibre[0].so_far else ""
    return (
        f"{lots}: {so_far}{number} of {minutes}, {air} in the air in all{'' if of_fibre[0].as_done else ' (planned)'}"
    )


def _span(rising: Iterable[str]) -> str:
    first, *rest = rising
    return f"{first} to {rest[-1]}" if rest and rest[-1] != first else first


def told_together(pairs: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """Print what is said of each lot, `name: words`; of many lots, those alike in one line.

    A single lot needs no name.
    """
    lines = list(pairs)
    if len(lines) == 1:
        return (lines[0][1],)
    if len(lines) <= FEW:
        return tuple(f"{name}: {words}" for name, words in lines)
    alike = gathered((words, name) for name, words in lines)
    shown = sorted(alike.items(), key=lambda item: -len(item[1]))[:FEW]
    more = len(lines) - sum(len(names) for _, names in shown)
    sentences = (f"{names[0]}: {words}" if len(names) == 1 else f"{len(names)} lots: {words}" for words, names in shown)
    return (*sentences, *((f"and {show_count(more, 'lot')} more",) if more else ()))


@frozen
class Dipped:
    """What one piece went through, or all pieces of a lot alike."""

    piece: str
    """`LOT.NUMBER`, or the lot's id."""
    lot: str
    dips: int
    """Ended ones."""
    dip_min: float
    """The mean dip, minutes."""
    air_min: float
    """All airings together that were ended, minutes; 0 where nobody timed them."""
    airings: int = 0
    """How many those are: the last one may still be going on, or nobody said when it ended."""

    @property
    def each_air_min(self) -> float:
        """The mean airing, minutes."""
        return self.air_min / self.airings if self.airings else 0.0


def dipped(state: State) -> tuple[Dipped, ...]:
    """Give what every piece went through, in the order in which they first went in."""
    return (*_pieces(state), *_lots(state))


def _pieces(state: State) -> Iterator[Dipped]:
    ended = ((item.piece, item.start, item.end) for item in state.dipping.entered if item.end is not None)
    times = gathered((piece, max(seconds_between(start, end), 0.0) / 60) for piece, start, end in ended)
    for piece, dips in times.items():
        airs = [wait.banked / 60 for wait in state.past_waits if wait.id.startswith(f"{piece}:air")]
        yield Dipped(piece, piece.rpartition(".")[0], len(dips), sum(dips) / len(dips), sum(airs), len(airs))


def _lots(state: State) -> Iterator[Dipped]:
    """Lots whose dips were written down as a whole."""
    times = gathered((event.lot, event.minutes) for event in events_of(state, LotDipped))
    for lot, dips in times.items():
        yield Dipped(lot, lot, len(dips), sum(dips) / len(dips), 0.0)
