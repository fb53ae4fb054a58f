"""A lot as it comes to the dips: its times, its law of uptake, its pieces, and its dips in a short line."""

from __future__ import annotations

from collections.abc import Iterable
from math import exp, hypot, inf

from attrs import evolve, frozen

from vatside.catalogue.dyeing import Usual, own_results, usual_for
from vatside.catalogue.values import GROUPS, Fibre
from vatside.dips.run import Piece
from vatside.dips.uptake import MOST_DIPS, NOTHING, Law, SoFar, law_of
from vatside.plan.grouping import gathered
from vatside.plan.measures import clean_grams, fibre_of, held, share, species_of
from vatside.plan.plan import Learned, Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.units import Kind, show_count

FOUR_IN_FIVE = 1.28
"""Standard deviations to either side within which four in five lie (normal distribution)."""


@frozen
class DipLot:
    """A lot on its way through the dips, with what the dyer holds by hand."""

    lot: Lot
    fibre: Fibre
    grams: float
    depth: float
    """%."""
    usual: Usual
    dip: float
    """Minutes."""
    air: float
    """Minutes."""
    law: Law
    learned: Learned
    """What the factor of the law rests on."""
    at_once: int | None
    """Pieces in the vat at once, if held."""
    dips: int | None
    """Dips, if held."""

    def id(self, name: str) -> str:
        """Give the figure id of one of its quantities."""
        return f"dip.{self.lot.id}.{name}"

    @property
    def piece_kg(self) -> float:
        """Dry mass of one piece, kg."""
        return self.grams / max(self.lot.pieces, 1) / 1000

    @property
    def phase(self) -> int:
        """0 wool, hair and silk; 1 plant fibres: a phase ends before the next one goes in."""
        return int(self.fibre.group == "cellulose")

    def range(self) -> tuple[float, float]:
        """Give the factors on the law between which four days in five lie."""
        wide = FOUR_IN_FIVE * hypot(self.learned.spread, own_results().day.value)
        return exp(-wide), exp(wide)


def dip_lot(plan: Plan, lot: Lot) -> DipLot:
    """Give a lot as it comes to the dips: by catalogue and the dyer's own results, with what she holds."""
    depth, fibre = 100 * share(lot.depth), fibre_of(lot)
    usual, learned = usual_for(depth), learned_of(plan, fibre.group)

    def own(name: str, kind: Kind) -> float | None:
        return held(plan, f"dip.{lot.id}.{name}", kind)

    dip = usual.dip if (minutes := own("dip", Kind.TIME)) is None else minutes
    air, factor = own("air", Kind.TIME), own("factor", Kind.PERCENT)
    if factor is not None:
        learned = Learned(fibre.group, factor / 100, 0.0, 0)
    at_once, dips = own("at_once", Kind.NUMBER), own("dips", Kind.NUMBER)
    return DipLot(
        lot, fibre, clean_grams(plan, lot), depth, usual, dip,
        max(usual.air, dip) if air is None else air,
        law_of(fibre, dip, species_of(plan, "reducer"),
               carried=own("carried", Kind.RATIO), factor=learned.factor),
        learned,
        None if at_once is None else round(at_once),
        None if dips is None else round(dips),
    )  # fmt: skip


def law_for(plan: Plan, lot: Lot, minutes: float) -> Law:
    """Give what a lot takes in a dip of so many minutes, with what the dyer holds and has learned."""
    item = dip_lot(plan, lot)
    pull = law_of(item.fibre, minutes, species_of(plan, "reducer")).pull
    return evolve(item.law, pull=pull)


def learned_of(plan: Plan, group: str) -> Learned:
    """Give what the dyer's own results say of a group of fibres; the practice table where there are none."""
    rules = own_results()
    usual = Learned(group, rules.factor.value, rules.prior.value, 0)
    return next((item for item in plan.learned if item.group == group), usual)


def dip_lots(plan: Plan, strength: float = inf) -> tuple[DipLot, ...]:
    """Give the lots as they come to the dips of a vat (g/L), in the order in which they go in."""
    return tuple(dip_lot(plan, lot) for lot in dip_order(plan, strength))


def dip_order(plan: Plan, strength: float = inf) -> tuple[Lot, ...]:
    """Give the lots in the order in which they go in: protein first, then dark to light while the vat weakens.

    The pH is raised from group to group, not lowered. Common practice, no source.
    Light goes first into a vat (`strength` in g/L) that is right for it and too weak for the dark: stock for the dark
    can come in between. Common practice, no source.
    """
    groups = ([lot for lot in plan.lots if fibre_of(lot).group == group] for group in GROUPS)
    return tuple(lot for group in groups for lot in _by_depth(group, strength))


def _by_depth(lots: list[Lot], strength: float) -> list[Lot]:
    light = light_first(lots, strength)
    return sorted(lots, key=lambda lot: share(lot.depth) if light else -share(lot.depth))


WEAK = 0.97
"""Of the weakest vat that is usual for a depth, below which one is too weak for it: less is not told apart. Ours."""


def light_first(lots: Iterable[Lot], strength: float) -> bool:
    """Tell whether a vat (g/L) is as strong as is usual for the lightest of some lots, and too weak for the darkest."""
    depths = sorted(100 * share(lot.depth) for lot in lots)
    if not depths:
        return False
    light, dark = usual_for(depths[0]), usual_for(depths[-1])
    return light.weakest <= strength <= light.strongest and strength < WEAK * dark.weakest


def share_of_entry(piece_g: float, entry_g: float, at_once: float | None) -> float:
    """Give the share of an entry that a piece fills: by its mass, all of it at most; or where so many are held."""
    if at_once is not None:
        return 1 / max(at_once, 1)
    return min(piece_g / entry_g, 1.0) if entry_g > 0 else 1.0


def pieces_of(item: DipLot, entry_g: float, so_far: SoFar = NOTHING) -> tuple[Piece, ...]:
    """Give the pieces of a lot before their dips, or as they are by now."""
    model = Piece(
        item.lot.id, item.phase, item.law, item.piece_kg,
        share_of_entry(1000 * item.piece_kg, entry_g, item.at_once), item.dip, item.air, 10 * item.depth,
        exactly=item.dips,
    )  # fmt: skip
    return tuple(_piece(model, item, number, so_far) for number in range(1, item.lot.pieces + 1))


def _piece(model: Piece, item: DipLot, number: int, so_far: SoFar) -> Piece:
    """One piece: what it has and had; a done one gets no more, one under way a few more than usual at most."""
    piece, had = f"{item.lot.id}.{number}", so_far.of(item.lot.id, number)
    if not had.dips and not had.done and piece not in so_far.at_least:
        return model.like(piece, model.law)
    exactly = had.dips if had.done else model.exactly
    return evolve(
        model, id=piece, has=10 * had.depth, had=had.dips,
        exactly=None if exactly is None else max(exactly, had.dips, 0 if had.done else so_far.at_least.get(piece, 0)),
        least=so_far.at_least.get(piece, 0),
        most=min(had.dips + item.usual.accepted_dips, MOST_DIPS) if had.dips else MOST_DIPS,
    )  # fmt: skip


MOST_NAMED = 2
"""Of more lots than this that go by the same words, the others are counted."""


def dips_words(plan: Plan, sheet: Sheet, lot: Lot) -> str:
    """Say how many dips a lot takes, in what range, and by what: "5 dips (3 to 8), by 2 results of yours".

    What the dyer sets herself is said to be hers.
    """
    dips = dips_text(sheet, lot)
    held = {pin.figure for pin in plan.pins}
    if f"dip.{lot.id}.dips" in held:
        return f"{dips}, as you set them"
    low, high = (round(sheet.value(f"dip.{lot.id}.dips_{end}")) for end in ("low", "high"))
    range_ = f" ({low} to {high})" if low < high and not dips.startswith(f"{low} to {high} ") else ""
    if f"dip.{lot.id}.factor" in held:
        return f"{dips}{range_}, by the uptake you set"
    results = learned_of(plan, fibre_of(lot).group).results
    if not results:
        return f"{dips}{range_}, by no result of yours yet"
    return f"{dips}{range_}, by {show_count(results, 'result')} of yours"


def dips_text(sheet: Sheet, lot: Lot) -> str:
    """Say how many dips a lot takes, from the piece that gets least to the one that gets most: `3 to 5 dips`."""
    number = dips_number(sheet, lot)
    return f"{number} {'dip' if number == '1' else 'dips'}"


def dips_number(sheet: Sheet, lot: Lot) -> str:
    """Give the same without its noun; 0 where the sheet has no such lot."""
    most = sheet.value(f"dip.{lot.id}.dips")
    fewest = sheet[f"dip.{lot.id}.dips"].fewest if most else None
    return span(most if fewest is None else fewest, most)


def span(fewest: float, most: float) -> str:
    """Say how many dips pieces get: `5`, `3 to 5`."""
    return f"{fewest:.0f} to {most:.0f}" if fewest < most else f"{most:.0f}"


def dips_lines(plan: Plan, sheet: Sheet) -> tuple[str, ...]:
    """Give a line for each lot; lots of which the same is to be said share one."""
    alike = gathered((dips_words(plan, sheet, lot), lot.name) for lot in plan.lots)
    return tuple(f"{named(names)}: {words}" for words, names in alike.items())


def named(names: list[str]) -> str:
    """Name the first of many lots, and count the others."""
    first, more = names[:MOST_NAMED], len(names) - MOST_NAMED
    return f"{', '.join(first)} and {show_count(more, 'more lot', 'more lots')}" if more > 0 else ", ".join(first)
