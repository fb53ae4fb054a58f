"""Lots from day to day: which goes beside which, made larger or smaller, shared by a class; and their uptake.

A vat is made for its fibre, and most come to the strength of their depth by themselves. Where litres or powder were
held, or the tubs left no choice, the vat is filled less or more, or the indigo is held for the liquor there is.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from math import ceil, floor, log10
from pathlib import Path

from attrs import evolve, frozen

from vatside.forms.fields import rows, value_problem
from vatside.log.colours import Results, fits, results_of
from vatside.log.fold import fold
from vatside.log.state import State
from vatside.plan.batches import batches, baths
from vatside.plan.grouping import gathered
from vatside.plan.measures import fibre_key, fibre_words, total_grams
from vatside.plan.plan import Form, Learned, Lot, Plan
from vatside.plan.sheet import Figure, Sheet, Stage
from vatside.recipe.compute import compute
from vatside.recipe.drawn_water import SLOW_HEATING
from vatside.recipe.need import need_of, room_of, tubs
from vatside.storage.flaws import SessionError
from vatside.storage.places import SAMPLE_ID
from vatside.storage.session_text import session_of
from vatside.units import Amount, show_amount, show_count, show_mass
from vatside.units.show import capital

FEW = 6
"""Lots that are told one by one; of more, those alike are told together. Ours, no source."""


@frozen
class Pairs:
    """The lots of two days, two and two."""

    both: tuple[tuple[Lot, Lot], ...]
    """In the order of the left day."""
    left: tuple[Lot, ...]
    """Those of the left day without a partner."""
    right: tuple[Lot, ...]

    def as_left(self) -> Mapping[str, str]:
        """Give what each lot of the right day goes by on the left: its partner's id, or one that nobody has there."""
        return {other.id: one.id for one, other in self.both} | {lot.id: f"+{lot.id}" for lot in self.right}


def paired(left: Sequence[Lot], right: Sequence[Lot]) -> Pairs:
    """Put lots beside each other; the same way whichever day is on the left."""
    ones, others, pairs = list(left), list(right), []
    for key in (_name, _fibre, _anything):
        for one, other in _alike(ones, others, key):
            ones.remove(one)
            others.remove(other)
            pairs.append((one, other))
    order = [lot.id for lot in left]
    return Pairs(tuple(sorted(pairs, key=lambda pair: order.index(pair[0].id))), tuple(ones), tuple(others))


def _name(lot: Lot) -> Hashable:
    return " ".join(lot.name.casefold().split())


def _fibre(lot: Lot) -> Hashable:
    return fibre_key(lot)


def _anything(_lot: Lot) -> Hashable:
    return ""


def _alike(ones: Sequence[Lot], others: Sequence[Lot], key: Callable[[Lot], Hashable]) -> list[tuple[Lot, Lot]]:
    """The first of a kind goes with the first, the second with the second."""
    waiting = gathered((key(lot), lot) for lot in others)
    return [(lot, waiting[key(lot)].pop(0)) for lot in ones if waiting.get(key(lot))]


def lot_words(lot: Lot) -> str:
    """Print a lot in a line, without its name."""
    what = f"{show_amount(lot.mass)} of {fibre_words(lot)}, {lot.pieces} × {lot.form.value}"
    return f"{what}, depth wanted {show_amount(lot.depth)}"


MOST_PIECES = 999
"""What the form takes of a lot."""
LARGEST_SCALE = 1000.0
"""No day is made larger (or smaller) than this. Ours, no source."""


def scaled_lots(plan: Plan, grams: float) -> tuple[Lot, ...]:
    """Scale all lots of a plan so that they weigh `grams` (air-dry) in all; ValueError unless that makes sense.

    Pieces stay what they are: their number changes, at least one a lot, so the mass may come to somewhat more or less.
    Loose fibre, and a single piece that stays single, are cut to measure.
    """
    factor = grams / total_grams(plan) if total_grams(plan) else 0.0
    if not 1 / LARGEST_SCALE <= factor <= LARGEST_SCALE:
        raise ValueError(f"{show_mass(grams)} of fibre cannot be made of {show_mass(total_grams(plan))}")
    lots = tuple(_scaled_lot(lot, factor) for lot in plan.lots)
    for lot in lots:
        _refuse_what_cannot_be(plan, lot)
    return lots


def _refuse_what_cannot_be(plan: Plan, lot: Lot) -> None:
    """ValueError for a lot that the form would not have let through: such a plan could not be read again."""
    problem = value_problem(plan, rows(plan)[f"lots.{lot.id}.mass"], lot.mass)
    if problem:
        raise ValueError(f"{lot.name}, {problem[:1].lower()}{problem[1:]}")


def _scaled_lot(lot: Lot, factor: float) -> Lot:
    wanted = round(lot.pieces * factor)
    pieces = min(max(wanted, 1), MOST_PIECES)
    to_measure = lot.form is Form.LOOSE or wanted > MOST_PIECES or (lot.pieces == 1 and pieces == 1)
    mass = lot.mass.value
    mass = tidy(mass * factor) if to_measure else float(f"{mass * pieces / max(lot.pieces, 1):.4g}")
    return evolve(lot, mass=Amount(mass, lot.mass.unit), pieces=pieces)


def scaled_pin(value: Amount, before: float, after: float, *, whole: bool = False) -> Amount:
    """Scale a held amount as the worked-out figure went from `before` to `after`; counts go up to a whole number."""
    factor = after / before if before > 0 and after > 0 else 1.0
    if abs(factor - 1) < 1e-9:
        return value
    if whole:
        return Amount(float(ceil(round(value.value * factor, 6))), value.unit)
    if value.unit in ("tsp", "tbsp", "cup"):
        return Amount(max(floor(value.value * factor * 8 + 0.5), 1) / 8, value.unit)
    return Amount(tidy(value.value * factor), value.unit)


def tidy(value: float) -> float:
    """Round to three digits that matter, or to what a scale shows of more."""
    if value == 0:
        return 0.0
    return round(value, max(0, 2 - floor(log10(abs(value)))))


FILL, STRENGTH = "vat.fill", "vat.strength"
"""What is filled, fibre in, and the indigotin in it."""
SAME_SHARE = 0.005
"""Fibre or strengths that differ by no more than this share are the same. Ours, no source."""
OF_STOCK = ("stock.alkali", "stock.reducer")
"""What goes with the indigo by itself, unless it is held."""


def fibre_ratio(old: Plan, lots: Sequence[Lot]) -> float:
    """Give how much more fibre there is in some lots than in a plan; 1 where nothing is to be compared."""
    before, after = total_grams(old), total_grams(evolve(old, lots=tuple(lots)))
    ratio = after / before if before and after else 1.0
    return 1.0 if abs(ratio - 1) <= SAME_SHARE else ratio


def fill_for(old: Plan, lots: Sequence[Lot]) -> float | None:
    """Give how far to fill the vat (L) so that other lots have the liquor for each gram that those of a plan had.

    None if the fibre is as much as before, too heavy to hang in so little, or no tub of the plan holds it.
    """
    ratio = fibre_ratio(old, lots)
    filled, need = compute(old).value(FILL) * ratio, need_of(anew(old, lots))
    most = room_of(need, tubs(need)[-1]) * (1 + SAME_SHARE)
    return None if ratio == 1 or not need.least_fill <= filled <= most else filled


def anew(old: Plan, lots: Sequence[Lot]) -> Plan:
    """Give a plan for other lots in a new vat, nothing of it held."""
    return evolve(old, pins=(), kept=None, stock_kept=None, lots=tuple(lots))


def is_same(one: float, other: float) -> bool:
    """Tell whether two strengths are the same."""
    return abs(one - other) <= SAME_SHARE * max(one, other)


def held_for_strength(plan: Plan, sheet: Sheet, wanted: float) -> Iterator[tuple[str, Amount]]:
    """Give the figures and grams to hold so that a plan comes to a strength (g/L): the indigo, and what is held by it.

    Nothing for a vat without dye, or one that comes to it anyway.
    """
    there = sheet.value(STRENGTH)
    factor = wanted / there if there > 0 else 1.0
    if wanted <= 0 or is_same(wanted, there):
        return
    held = {pin.figure for pin in plan.pins}
    for figure in ("stock.pigment", *(figure for figure in OF_STOCK if figure in held)):
        yield figure, Amount(float(f"{sheet.value(figure) * factor:.4g}"), "g")


SHARED_UNITS = ("g", "L")
"""What is divided between the tables; temperatures and times are the same for all, but for those of heating."""
HEATED = ("heating", "kettle")
"""Last parts of the figures whose minutes grow with the water that is heated."""


def split_pieces(pieces: int, tables: int) -> tuple[int, ...]:
    """Give the whole pieces of each table: 4 for 3 tables are 2, 1 and 1."""
    whole, over = divmod(pieces, tables)
    return tuple(whole + (table < over) for table in range(tables))


def say_pieces(pieces: int, tables: int) -> str:
    """Say in short how many pieces the tables have: `2`, or `2 at 1 table, 1 at 2`, or `1 at 3 tables, none at 1`."""
    counts = split_pieces(pieces, tables)
    if len(set(counts)) == 1:
        return str(counts[0])
    more, fewer = counts.count(counts[0]), counts.count(counts[-1])
    return f"{counts[0]} at {show_count(more, 'table')}, {counts[-1] or 'none'} at {fewer}"


def say_uneven(lots: Sequence[tuple[str, int]], tables: int) -> Iterator[str]:
    """Say where pieces (the name of their lots, and how many) do not divide; of many lots in one line."""
    uneven = [(name, pieces) for name, pieces in lots if pieces % tables]
    if not uneven:
        return
    named = ", ".join(f"{name} ({pieces})" for name, pieces in uneven[:FEW])
    more = f" and {len(uneven) - FEW} more" if len(uneven) > FEW else ""
    yield (
        f"Pieces do not divide by {tables} tables: {named}{more}. The amounts are for an equal share of the cloth; "
        "a table with more of it takes more in proportion."
    )


AT_TABLES = (Stage.SCOUR, Stage.FINISH)
"""Stages that each table goes through by itself; stock and vat are one for all."""


def shared(sheet: Sheet, tables: int) -> Sheet:
    """Give the sheet of one table: masses and volumes of scour and finish divided."""
    whole = _of_a_load(sheet)
    figures = (figure if figure.id in whole else _shared(figure, tables) for figure in sheet.figures)
    return Sheet(tuple(figures), sheet.notices)


OF_ALL_LOADS = ("liquor", "soak_water", "rinse_water", "dry_mass", "wet_mass")
"""Last parts of the figures of a scour that are for all its fibre, however many loads it goes in."""


def _of_a_load(sheet: Sheet) -> frozenset[str]:
    """Figures of fibre that goes through the pot in several loads: there is one pot, and the day is laid for it."""
    in_loads = {item.id.rpartition(".")[0] for item in sheet.figures if item.id.endswith(".loads") and item.value > 1}
    parts = ((figure.id, *figure.id.rpartition(".")[::2]) for figure in sheet.figures)
    return frozenset(name for name, of, last in parts if of in in_loads and last not in OF_ALL_LOADS)


def say_loads(plan: Plan, sheet: Sheet, tables: int) -> Iterator[str]:
    """Say which fibre the tables scour in turns."""
    for bath in baths(plan):
        loads = round(sheet.value(bath.id("loads"), 1))
        if tables > 1 and loads > 1:
            yield (
                f"{capital(bath.called)} goes through the one pot in {loads} loads, for all tables together: the "
                "amounts of its baths are for a load, not for a table."
            )


def heated(plan: Plan, sheet: Sheet, tables: int) -> Sheet:
    """Give the sheet of one table with the heating of its own pot, on a hob like the plan's; held times stay."""
    slow = {
        f"{key}.heating": (sheet.value(f"{key}.{to}", 0.0) - sheet.value(f"{key}.{start}", 0.0)) / SLOW_HEATING
        for key, start, to in _gentle(plan)
    }
    whole = _of_a_load(sheet)
    figures = (figure if figure.id in whole else _warmed(figure, tables, slow) for figure in sheet.figures)
    return evolve(sheet, figures=tuple(figures))


def _gentle(plan: Plan) -> Iterator[tuple[str, str, str]]:
    """What the figures of a slow heating begin with, and the names of those between which it rises."""
    yield from ((bath.id("")[:-1], "start", "hold_temperature") for bath in baths(plan) if bath.gentle)
    yield from ((batch.id("")[:-1], "wash_start", "wash") for batch in batches(plan) if batch.gentle)


def _warmed(figure: Figure, tables: int, slow: Mapping[str, float]) -> Figure:
    heats = figure.stage in AT_TABLES and figure.unit == "min" and figure.id.endswith(HEATED)
    if not heats or figure.pin is not None:
        return figure
    return evolve(figure, value=max(figure.value / tables, min(slow.get(figure.id, 0.0), figure.value)))


def _shared(figure: Figure, tables: int) -> Figure:
    if figure.stage not in AT_TABLES or figure.unit not in SHARED_UNITS:
        return figure
    spoons = None if figure.teaspoons is None else figure.teaspoons / tables
    parts = None if figure.parts is None else tuple(litres / tables for litres in figure.parts)
    return evolve(figure, value=figure.value / tables, teaspoons=spoons, parts=parts)


LATEST_DAYS = 60
"""Days that are read for it, the latest ones: more than a year of Saturdays. Ours."""


def learned_in(folder: Path, but: Path | None = None, *today: State) -> tuple[Learned, ...]:
    """Give what the latest days of a folder say, and those of `today`; the file `but` is left out."""
    by_group = fits(each_once((*today, *_days(folder, but)))).uptake
    return tuple(by_group.values())


def each_once(days: Iterable[State]) -> Iterator[Results]:
    """Give what each day says; of a day and its copies, which go by one id, what stands in both counts once."""
    known: dict[str, list[Results]] = {}
    for day in days:
        results, before = results_of(day), known.setdefault(day.session, [])
        yield Results(
            tuple(item for item in results.colour if not any(item in other.colour for other in before)),
            tuple(item for item in results.swatches if not any(item in other.swatches for other in before)),
        )
        before.append(results)


def _days(folder: Path, but: Path | None) -> Iterator[State]:
    """Give the latest days of a folder; a day that cannot be read says nothing, and no copy of a sample does."""
    from vatside.storage.folder import list_sessions

    cards = [card for card in list_sessions(folder) if card.path != but and card.problem is None]
    for card in cards[:LATEST_DAYS]:
        with suppress(SessionError, OSError):
            session = session_of(card.path)
            if not session.id.startswith(SAMPLE_ID):
                yield fold(session)
