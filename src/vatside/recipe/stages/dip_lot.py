"""The figures of one lot's dips: how long, how often, how many at once; what was planned of them stays planned.

Worked out anew after each entry, a piece at the edge of its depth would have now one dip more and now one less.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from attrs import evolve, frozen

from vatside.catalogue.dyeing import own_results, uptakes
from vatside.dips.lot import DipLot, learned_of, pieces_of
from vatside.dips.run import End, Piece, Run
from vatside.dips.uptake import SoFar, Tank
from vatside.plan.plan import Plan
from vatside.plan.sheet import Input, Working
from vatside.recipe.need import bundled
from vatside.recipe.sizing import following, size_of
from vatside.recipe.worksheet import Worksheet

NEARLY_DEEP = 0.9
"""A piece that comes to this share of its depth with its planned dips gets no more: ours."""
BARELY_DEEP = 1.0
"""One that comes to less than this share of it with fewer dips keeps those that are planned: ours."""
SAME_VAT = 0.03
"""A vat that began with a strength this near to the plan's is the plan's: ours."""

Dipping = Callable[[tuple[Piece, ...]], Run]
"""Dips pieces in thought in the vat as it is now."""


def began_with(sheet: Worksheet, lots: Sequence[DipLot], so_far: SoFar) -> Tank:
    """Give the vat before its first dip: the plan's, or what the account has with what the pieces took put back."""
    plan = Tank(sheet["vat.liquor"], sheet["vat.strength"])
    if so_far.tank is None or not so_far.tank.litres:
        return plan
    grams = so_far.tank.grams + sum(_took(item, so_far) for item in lots)
    began = Tank(so_far.tank.litres, grams / so_far.tank.litres)
    return plan if abs(began.strength - plan.strength) <= SAME_VAT * plan.strength else began


def _took(item: DipLot, so_far: SoFar) -> float:
    """Indigotin that the pieces of a lot took out of the vat, g."""
    had = [so_far.of(item.lot.id, number) for number in range(1, item.lot.pieces + 1)]
    return sum(1000 * item.piece_kg * piece.depth / 100 + piece.rinsed_g for piece in had)


def before(lots: Sequence[DipLot], entry_g: float) -> tuple[Piece, ...]:
    """Give all pieces as they were before their dips."""
    return bundled([piece for item in lots for piece in pieces_of(item, entry_g)])


def each_piece(lot: DipLot, ends: Sequence[End]) -> Iterator[tuple[str, int]]:
    """Give the dips of every piece of a lot: those that were looked at as one get what that one gets."""
    known = {end.piece.id: end.dips for end in ends}
    dips = 0
    for number in range(1, lot.lot.pieces + 1):
        piece = f"{lot.lot.id}.{number}"
        dips = known.get(piece, dips)
        yield piece, dips


def as_planned(pieces: tuple[Piece, ...], planned: Mapping[str, int], now: Dipping) -> tuple[Piece, ...]:
    """Give pieces under way with their planned dips held, where those come near enough to their depth."""
    free = {end.piece.id: end for end in now(pieces).ends}
    if all(free[piece.id].dips == planned.get(piece.id) for piece in pieces):
        return pieces
    held = tuple(_held(piece, planned) for piece in pieces)
    with_planned = {end.piece.id: end for end in now(held).ends}
    return tuple(
        kept if _bears(piece, free[piece.id], with_planned[piece.id]) else piece
        for piece, kept in zip(pieces, held, strict=True)
    )


def _held(piece: Piece, planned: Mapping[str, int]) -> Piece:
    """Hold the planned dips; not where they are more than a weak vat is given."""
    if piece.exactly is not None or not planned.get(piece.id, 0) <= piece.most:
        return piece
    return evolve(piece, exactly=max(planned.get(piece.id, 0), piece.had, piece.least))


def _bears(piece: Piece, free: End, planned: End) -> bool:
    """Tell whether the planned dips still hold: not too few by much, nor too many."""
    if free.dips > planned.dips:
        return planned.on >= NEARLY_DEEP * piece.wants
    return free.dips == planned.dips or free.on < BARELY_DEEP * piece.wants


@frozen
class Dipped:
    """A lot and what its dips come to."""

    item: DipLot
    ends: tuple[End, ...]
    """Of its pieces."""
    low: int
    """Dips of the piece that gets least, if the fibre takes as much more as it does one day in ten."""
    high: int
    """And of the one that gets most, if it takes as much less."""
    done: bool
    """Every piece has had its last dip, by the dyer's word."""

    @property
    def dips(self) -> int:
        """Most that one of its pieces gets."""
        return max((end.dips for end in self.ends), default=0)

    @property
    def fewest(self) -> int:
        """Least that one of its pieces gets."""
        return min((end.dips for end in self.ends), default=0)

    @property
    def depth(self) -> float:
        """Mean of the pieces after rinsing, %."""
        return sum(end.on * end.piece.kg for end in self.ends) / (sum(end.piece.kg for end in self.ends) or 1.0) / 10

    @property
    def rinsed_g(self) -> float:
        """What the rinses of the dips in thought take off, g."""
        return sum(end.rinsed for end in self.ends)

    @property
    def under_way(self) -> bool:
        """A piece has been in the vat."""
        return any(end.piece.had for end in self.ends)

    @property
    def brings(self) -> float:
        """Liquid that its pieces still bring in, L."""
        return self.item.law.carried * sum(end.piece.kg * (end.dips - end.piece.had) for end in self.ends)


Ends = Mapping[str, tuple[End, ...]]
"""What became of the pieces of each lot, by its id."""


def dipped(item: DipLot, runs: Sequence[Ends], so_far: SoFar) -> Dipped:
    """Give what a lot comes to: as worked out, and if it takes less or more than that."""
    middle, less, more = (ends.get(item.lot.id, ()) for ends in runs)
    low = min((end.dips for end in (*middle, *more)), default=0)
    high = max((end.dips for end in (*middle, *less)), default=0)
    lot = item.lot
    done = lot.pieces > 0 and all(so_far.of(lot.id, number).done for number in range(1, lot.pieces + 1))
    return Dipped(item, middle, low, high, done)


def work_out(sheet: Worksheet, lot: Dipped, tank: Tank) -> None:
    """Put the figures of one lot on the worksheet."""
    item = lot.item
    _times(sheet, item)
    _entry(sheet, item)
    _law(sheet, item)
    _one_dip(sheet, lot)
    _dips(sheet, lot, tank)
    _reaches(sheet, lot)
    sheet.piece_dips |= dict(each_piece(lot.item, lot.ends))


def _times(sheet: Worksheet, item: DipLot) -> None:
    rows = (("dip", "Dip for", item.usual.dip, "by depth, between the rows of the practice table", "practice"),
            ("air", "Air for", max(item.usual.air, item.dip), "by depth, at least as long as dipped", "Mairet1938"))
    for name, label, minutes, formula, source in rows:
        sheet.put(
            item.id(name), label, minutes, "min",
            sheet.worked(formula, Input("depth", item.depth, "%"), source=source), pinnable=True,
        )


def _entry(sheet: Worksheet, item: DipLot) -> None:
    pieces, piece = item.lot.pieces, 1000 * item.piece_kg
    sheet.put(
        item.id("piece"), "One piece weighs", piece, "g",
        sheet.worked("lot as it comes to the vat ÷ pieces", Input("lot", item.grams, "g"), Input("pieces", pieces, "")),
    )
    fits = int(sheet["vat.entry"] / piece + 1e-6) if piece else 1
    sheet.put(
        item.id("at_once"), "In the vat at once", min(max(fits, 1), pieces), "",
        sheet.worked("fibre at one entry ÷ one piece, rounded down, one at least; like pieces of other lots share it",
                     "vat.entry", item.id("piece"), Input("pieces", pieces, "")),
        pinnable=True,
    )


def _law(sheet: Worksheet, item: DipLot) -> None:
    """What a piece takes in one dip, each part that is her own open to be held."""
    sheet.put(
        item.id("carried"), "Liquor it carries", item.fibre.held.value / 100, "L/kg",
        sheet.worked("water held after pressing by hand; spun it holds about half",
                     Input("water held", item.fibre.held.value, "%"), source=item.fibre.held.source),
        pinnable=True,
    )
    sheet.put(
        item.id("factor"), "Takes up, beside the table", 100 * learned_of(sheet.plan, item.fibre.group).factor, "%",
        _own(sheet, item), pinnable=True,
    )


def _own(sheet: Worksheet, item: DipLot) -> Working:
    learned, rules = item.learned, own_results()
    if not learned.results:
        return sheet.worked("the practice table; your own recorded colours will pull this by themselves",
                            Input("one spread", 100 * rules.prior.value, "%"), source=rules.prior.source)
    return sheet.worked("the practice table, pulled by your own recorded colours as far as they are sure",
                        Input("results", learned.results, ""), Input("one spread", 100 * learned.spread, "%"),
                        source=rules.measured.source)


def _one_dip(sheet: Worksheet, lot: Dipped) -> None:
    item, facts = lot.item, uptakes()[lot.item.fibre.group]
    first = max((end.first for end in lot.ends), default=0.0)
    sheet.put(
        item.id("first"), "One more dip lays on" if lot.under_way else "First dip lays on", first / 10, "%",
        sheet.worked("takes up × (carried × strength + pull × strength ÷ (strength + half)) × (1 − on it ÷ ceiling) − "
                     "what the rinses take off",
                     item.id("factor"), item.id("carried"),
                     Input("pull in a dip of this length, g/kg", item.law.pull, ""),
                     Input("half", item.law.half, "g/L"), Input("ceiling", item.law.ceiling / 10, "%"),
                     Input("rinsed off", 100 * item.law.rinsed, "%"), source=facts.pull.source),
        rough=True,
    )


def _dips(sheet: Worksheet, lot: Dipped, tank: Tank) -> None:
    item, had = lot.item, max((end.piece.had for end in lot.ends), default=0)
    worked = sheet.worked(
        "as many as it takes to come within 5 % of the depth while the vat weakens; under way: those it had, and as "
        "many more",
        Input("depth", item.depth, "%"), Input("vat", tank.strength, "g/L"), item.id("first"),
        Input("planned at most", item.usual.accepted_dips, ""), source="fit",
    )  # fmt: skip
    dips = lot.dips if item.dips is None or lot.under_way else _let_go(sheet.plan, item)
    between = None if lot.done else (float(lot.low), float(lot.high))
    sheet.put(
        item.id("dips"), "Dips", dips, "", worked, pinnable=not lot.done, least=had, between=between, fewest=lot.fewest
    )
    low, high = item.range()
    rows = (("dips_low", "as few as", lot.low, high), ("dips_high", "as many as", lot.high, low))
    for name, label, dips, factor in rows:
        sheet.put(
            item.id(name), label, dips, "",
            sheet.worked("the same where the fibre takes so much of what is worked out: four days in five lie between",
                         Input("takes", 100 * factor, "%"), source="fit"),
            rough=True,
        )


def _let_go(plan: Plan, item: DipLot) -> int:
    """Give the dips that a lot would get if those that are held were let go."""
    made = size_of(following(plan, item.id("dips"))).run
    return max((end.dips for end in made.ends if end.piece.id.rpartition(".")[0] == item.lot.id), default=0)


def _reaches(sheet: Worksheet, lot: Dipped) -> None:
    item = lot.item
    sheet.put(
        item.id("reaches"), "Came to" if lot.done else "Comes to", lot.depth, "%",
        sheet.worked("sum of the dips, done and to come, by the account of the vat − what the rinses take off",
                     item.id("dips"), item.id("first"), Input("rinsed off", 100 * item.law.rinsed, "%"), source="fit"),
        rough=True,
    )
