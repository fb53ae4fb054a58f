"""What is kept with a blue: the card of everything that made it, and the labels of its jar and pieces.

Labels are also one HTML page that stands alone: three in a row, to be cut along the lines, on A4 or Letter.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import tzinfo
from html import escape

from attrs import evolve, frozen

from vatside.catalogue.load import materials
from vatside.days import kept_stock
from vatside.days.blues import LotBlue, dip_lines, is_to_come, told_together
from vatside.days.day_record import LEAST_L, DayRecord, day_record
from vatside.days.done import PARTS, last_of, part_text
from vatside.days.keep_vat import carried_from
from vatside.days.kept_stock import label_lines
from vatside.days.lots import FEW, lot_words
from vatside.dips.depth import depth_name
from vatside.log.effects.pieces import name_of
from vatside.log.events.vat import VatLetGo, VatSpent
from vatside.log.fold import State, fold, so_far
from vatside.log.state import Session, counted
from vatside.log.words.vat import held_words
from vatside.plan.figure_text import two_digits
from vatside.plan.grouping import gathered
from vatside.plan.measures import fibre_words, held, lot_grams, method_of, powder, share
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import DANGER, Sheet
from vatside.recipe.kept import in_tub
from vatside.units import (
    Kind,
    show_amount,
    show_concentration,
    show_count,
    show_mass,
    show_percent,
    show_temperature,
    show_volume,
    to_base,
)
from vatside.units.show import plain
from vatside.vat.account import predict
from vatside.vat.kept_vat import KeptVat

Line = tuple[str, str]
"""Label and value."""


def card_lines(record: DayRecord) -> tuple[Line, ...]:
    """Give everything that made the blue of a day, in the order of the day."""
    state, sheet = record.state, record.sheet
    lines = (
        *_head(record),
        *_vat(record),
        *(("Dips", words) for words in dip_lines(record.lots)),
        *_on_fibre(state, sheet),
        *(("Finish", f"{fibre}: {words}") for fibre, words in record.finishes.items()),
        *_came_out(record),
        ("Stock left", "; ".join(kept_stock.label_lines(state, sheet, record.zone))),
    )
    return tuple((label, plain(value)) for label, value in lines if value)


def _head(record: DayRecord) -> Iterator[Line]:
    state, plan = record.state, record.plan
    for words in _fibres(plan.lots):
        yield "Fibre", words
    carried = carried_from(state)
    if carried is not None:
        yield "Kept vat", f"from “{carried.title}”: {_stood(plan, carried.vat)}"
    stock = kept_stock.origin(state)
    if stock is not None:
        yield "Kept stock", f"from “{stock.title}”: {held_words(plan.stock_kept or stock.stock, plan)}"
    yield "Vat", method_of(plan).name
    yield "Pigment", f"{record.blue['pigment'].text}, dosed as {100 * powder(plan, 'indigo').purity:.3g} % indigotin"


def _stood(plan: Plan, vat: KeptVat) -> str:
    """Say what stood in the tub: as the plan has it, which follows what was measured, else as it was kept."""
    if plan.kept is None:
        return f"{show_volume(vat.litres)} with {show_mass(vat.indigotin_g)} of indigotin"
    tub = in_tub(plan)
    alkali, reducer = f"{show_mass(tub.alkali_g)} of alkali, as lye,", f"{show_mass(tub.reducer_g)} of reducer, pure"
    return f"{show_volume(tub.litres)} with {show_mass(tub.indigotin_g)} of indigotin, {alkali} and {reducer}"


def _fibres(lots: Sequence[Lot]) -> Iterator[str]:
    """Lot by lot; of many lots, those of one fibre, form and depth together."""
    if len(lots) <= FEW:
        yield from (f"{lot.name}: {lot_words(lot)}" for lot in lots)
        return
    alike = gathered(((fibre_words(lot), lot.form.value, show_amount(lot.depth)), lot) for lot in lots)
    for (fibre, form, depth), like_lots in alike.items():
        grams = show_mass(sum(to_base(lot.mass, Kind.MASS) for lot in like_lots))
        pieces = sum(lot.pieces for lot in like_lots)
        lots_words = like_lots[0].name if len(like_lots) == 1 else f"{len(like_lots)} lots"
        yield f"{lots_words}: {grams} of {fibre}, {pieces} × {form}, depth wanted {depth}"


def _vat(record: DayRecord) -> Iterator[Line]:
    sheet, blue = record.sheet, record.blue
    litres = max(sheet.value("vat.liquor"), LEAST_L)
    went_in = record.went_in
    for material, grams in (went_in or record.planned).items():
        what = materials()[material]
        a_litre = "" if what.role == "indigo" else f", {show_concentration(grams / litres)}"
        planned = "" if went_in else " (planned)"
        yield what.role.capitalize(), f"{show_mass(grams)} of {what.name}{a_litre}{planned}"
    yield "Strength", f"{blue['strength'].text} of indigotin in {show_volume(sheet.value('vat.liquor'))}"
    warm = show_temperature(sheet.value("vat.temperature"))
    yield "Temperature", f"{warm} planned"
    yield "Temperature read", _last(record, "temperature")
    if "pH_worked" in blue:
        yield "pH worked out", f"{blue['pH_worked'].text} at {warm} planned{_by_account(record)}"
    yield "pH read", _last(record, "pH")
    for part in ("redox", "colour", "surface", "strip", "seconds"):
        yield PARTS[part], _last(record, part)


def _by_account(record: DayRecord) -> str:
    """Give the pH of what really went in, as the vat stood before it was spent or let go; empty without a vat."""
    session = record.session
    ends = [entry.seq for entry in counted(record.state) if isinstance(entry.event, VatSpent | VatLetGo)]
    before = [entry for entry in session.entries if not ends or entry.seq < ends[0]]
    account = fold(evolve(session, entries=tuple(before))).tending.account
    if account is None:
        return ""
    try:
        return f"; {predict(account).text} by what went in"
    except ValueError:
        return ""


def _last(record: DayRecord, part: str) -> str:
    reading = last_of(record.read, part)
    return part_text(reading, part) if reading else ""


def _on_fibre(state: State, sheet: Sheet) -> Iterator[Line]:
    """What is on each lot: by the account of the vat once it was dipped, and by the scale once it was weighed."""
    dipped_lots = {piece.rpartition(".")[0] for piece in state.dipping.pieces}
    weighed = {pin.figure for pin in state.plan.pins}
    on, gained = [], []
    for lot in state.plan.lots:
        if lot.id in dipped_lots:
            reaches = _short(sheet.value(f"dip.{lot.id}.reaches"))
            words = f"about {reaches} by the account of the vat"
            if is_to_come(state, sheet, lot):
                words = f"{_so_far(state, lot)}; about {reaches} planned"
            on.append((lot.name, words))
        if f"finish.after.{lot.id}" in weighed:
            gain, before = sheet.value(f"finish.gain.{lot.id}"), show_mass(sheet.value(f"finish.before.{lot.id}"))
            gained.append((lot.name, f"{_short(gain)} of {before}, weighed dry"))
    yield from (("Indigo on it", words) for words in told_together(on))
    yield from (("Gained", words) for words in told_together(gained))


def _so_far(state: State, lot: Lot) -> str:
    """Say what is on the pieces of a lot that have been in the vat, as their mean."""
    had = so_far(state).pieces
    depths = [piece.depth for key, piece in had.items() if key.rpartition(".")[0] == lot.id]
    mean = sum(depths) / len(depths) if depths else 0.0
    return f"so far about {_short(mean)} by the account of the vat, on {len(depths)} of {lot.pieces}"


def _short(percent: float) -> str:
    return show_percent(two_digits(percent))


def _came_out(record: DayRecord) -> Iterator[Line]:
    noted, lots = record.colours, record.plan.lots
    for lot in lots:
        if lot.id in noted:
            yield "Came out", f"{lot.name}: {'; '.join(noted[lot.id])}"
    missing = [lot.name for lot in lots if lot.id not in noted]
    if not noted:
        yield "Came out", "no colour was noted"
    elif missing:
        names = ", ".join(missing) if len(missing) <= FEW else f"{len(missing)} lots"
        yield "Came out", f"no colour was noted of {names}"


def card_text(record: DayRecord) -> str:
    """Print a card."""
    head = f"{plain(record.plan.title)}, {record.day}"
    return "\n".join((head, *(f"  {label:<17} {value}" for label, value in card_lines(record))))


WASH = "Wash apart at first, by hand, cool, with mild soap; dry in the shade"
"""How a buyer keeps the blue, and her other things white. Common practice, no source."""


@frozen
class Label:
    """One label."""

    title: str
    lines: tuple[str, ...]
    hazard: bool = False
    """What it is on can hurt."""

    @property
    def heading(self) -> str:
        """Its title behind sign and word of danger, where there is any."""
        return f"{DANGER.opening}{self.title}" if self.hazard else self.title


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
    what = f"{fibre_words(lot)}, {_mass(record, blue)}"
    went = {item.piece: item.dips for item in record.dipped}
    for number in range(1, lot.pieces + 1):
        piece = f"{lot.id}.{number}"
        name = name_of(record.state, piece)
        colour = _colour(blue, went.get(piece, went.get(lot.id, 0)))
        whose = what if name.startswith(lot.name) else f"{lot.name}: {what}"
        yield Label(name, (whose, colour, f"Dyed {record.day}: {record.plan.title}", WASH))


def _mass(record: DayRecord, blue: LotBlue) -> str:
    """The mass of one piece: as weighed after the dyeing, else by what the lot weighed before it."""
    lot = blue.lot
    after = held(record.plan, f"finish.after.{lot.id}", Kind.MASS)
    if after is not None:
        return show_mass(after / lot.pieces)
    return f"about {show_mass(lot_grams(record.plan, lot) / lot.pieces)}"


def _colour(blue: LotBlue, dips: int) -> str:
    """The depth that was read off the ladder, else the one that was wanted, and the dips that the piece had."""
    depth = 100 * share(blue.lot.depth) if blue.depth is None else blue.depth
    had = f", {show_count(dips, 'dip')}" if dips and not blue.dips.so_far else ""
    return f"indigo, {depth_name(depth)} ({depth:.2g} %){had}"


STYLE = """\
@page { margin: 8mm }
* { box-sizing: border-box; margin: 0; padding: 0 }
body { color: #000; background: #fff; font: 9pt/1.2 Arial, Helvetica, "Liberation Sans", sans-serif }
main { display: flex; flex-wrap: wrap }
section { width: 33.3%; min-height: 36mm; padding: 2mm; border: 0.2mm dashed #000; break-inside: avoid }
section { overflow-wrap: anywhere }
h2 { font-size: 1.25em }
.hazard { border: 1mm solid #000 }
@media screen { body { max-width: 60em; margin: 1em auto } }
"""


def label_sheet(title: str, labels: Iterable[Label]) -> str:
    """Write the page: no scripts, no files from elsewhere, every text escaped."""
    return "\n".join(
        (
            "<!DOCTYPE html>",
            '<html lang="en"><head><meta charset="utf-8">',
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">",
            '<meta name="viewport" content="width=device-width">',
            f"<title>{escape(title)}</title>",
            f"<style>\n{STYLE}</style></head><body><main>",
            *(line for label in labels for line in _section(label)),
            "</main></body></html>",
            "",
        )
    )


def _section(label: Label) -> Iterator[str]:
    yield '<section class="hazard">' if label.hazard else "<section>"
    yield f"<h2>{escape(label.heading)}</h2>"
    yield from (f"<p>{escape(line)}</p>" for line in label.lines)
    yield "</section>"
