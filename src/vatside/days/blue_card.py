"""The same blue again: everything that made a blue on one card, and what most likely parts two of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import tzinfo

from attrs import evolve, frozen

from vatside.catalogue.load import materials
from vatside.dayline.step_uses import Use, all_uses
from vatside.days import kept_stock
from vatside.days.blues import LotBlue, blues, dip_lines, is_to_come, told_together
from vatside.days.done import added
from vatside.days.finished import finishes_done
from vatside.days.keep_vat import carried_from
from vatside.days.lot_pairs import FEW, lot_words
from vatside.days.noted import PARTS, Read, colours, last_of, part_text, readings
from vatside.log.counting import counted, happened
from vatside.log.events.day import PowderTaken
from vatside.log.events.vat import VatLetGo, VatSpent
from vatside.log.fold import State, fold
from vatside.log.session import Session
from vatside.log.sheet_so_far import sheet_of, so_far
from vatside.log.words.stock import held_words
from vatside.outlook.vat_deeds import VAT_STARTS
from vatside.plan.measures import fibre_words, method_of, powder, total_grams
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.stages.kept_vat import in_tub
from vatside.units import (
    Kind,
    show_amount,
    show_concentration,
    show_mass,
    show_percent,
    show_temperature,
    show_volume,
    to_base,
)
from vatside.units.one_line import plain
from vatside.vat.account import predict
from vatside.vat.kept_vat import KeptVat

LEAST_L = 0.1
"""A vat holds at least this much. Ours, no source."""
VAT_STEPS = ("stock.", "vat.", "correction.")
"""Beginnings of the steps whose powders make the blue."""


@frozen
class BlueCard:
    """What made a blue, as numbers for comparing and as lines for reading."""

    title: str
    day: str
    lines: tuple[tuple[str, str], ...]
    """Label and value, in the order of the day."""
    strength: float
    """Indigotin in the vat by the plan, g/L."""
    pH_worked: float | None  # noqa: N815  (chemistry's own symbol)
    """At the plan's vat temperature; None where nobody can work it out."""
    pH_read: float | None  # noqa: N815
    """As read last."""
    celsius: float
    """As read last, else as planned."""
    purity: float
    """%."""
    pigment: str
    """Material and lot."""
    vat: str
    """Method and reducer."""
    lots: tuple[LotBlue, ...]
    for_fibre: float
    """Indigotin in the vat, % on weight of fibre."""
    reducer: float
    """Pure, g/L of the vat: as it went in, else as planned."""
    finish: str
    """As it was done; empty where nothing was written down."""
    dyed: bool
    """A piece was dipped, or a colour was noted."""


def blue_card(session: Session, zone: tzinfo | None = None) -> BlueCard:
    """Put on one card what made the blue of a session; the day in `zone`, or in the machine's own."""
    state = fold(session)
    plan = state.plan
    sheet = sheet_of(state)
    taken = readings(state)
    read, warm = last_of(taken, "pH"), last_of(taken, "temperature")
    celsius = warm.celsius if warm and warm.celsius is not None else sheet.value("vat.temperature")
    lots, finish = blues(state, sheet), finishes_done(session, state, sheet)
    lines = (
        *_head(state),
        *_vat(session, sheet, taken),
        *(("Dips", words) for words in dip_lines(lots)),
        *_on_fibre(state, sheet),
        *(("Finish", f"{fibre}: {words}") for fibre, words in finish.items()),
        *_came_out(state),
        ("Stock left", "; ".join(kept_stock.label_lines(state, sheet, zone))),
    )
    return BlueCard(
        title=plan.title,
        day=f"{session.created.astimezone(zone):%Y-%m-%d}",
        lines=tuple((label, plain(value)) for label, value in lines if value),
        strength=sheet.value("vat.strength"),
        pH_worked=_known(sheet, "vat.pH"),
        pH_read=read.pH if read else None,
        celsius=celsius,
        purity=100 * powder(plan, "indigo").purity,
        pigment=_pigment(state),
        vat=f"{method_of(plan).name}; {powder(plan, 'reducer').material.name}",
        lots=lots,
        for_fibre=_share(sheet.value("vat.indigotin"), total_grams(plan)),
        reducer=_reducer(session, state, sheet),
        finish="; ".join(finish.values()),
        dyed=bool(colours(state)) or any(blue.dips.as_done for blue in lots),
    )


def _share(part: float, whole: float) -> float:
    return 100 * part / whole if whole else 0.0


def _reducer(session: Session, state: State, sheet: Sheet) -> float:
    """What stood in the tub and what went in once there is a vat; before, what the plan would put in."""
    what = powder(state.plan, "reducer")
    there = VAT_STARTS in state.done or state.tending.account is not None
    sums = _went_in(session) if there else _planned(session)
    tub, poured = in_tub(state.plan), sheet.value("vat.surplus", 0.0)
    stood = tub.reducer_g * (1 - poured / tub.litres) if tub.litres else 0.0
    return (stood + sums.get(what.id, 0.0) * what.purity) / max(sheet.value("vat.liquor"), LEAST_L)


def _known(sheet: Sheet, figure: str) -> float | None:
    return next((row.value for row in sheet.figures if row.id == figure), None)


Line = tuple[str, str]


def _head(state: State) -> Iterator[Line]:
    plan = state.plan
    for words in _fibres(plan.lots):
        yield "Fibre", words
    carried = carried_from(state)
    if carried is not None:
        yield "Kept vat", f"from “{carried.title}”: {_stood(plan, carried.vat)}"
    stock = kept_stock.origin(state)
    if stock is not None:
        yield "Kept stock", f"from “{stock.title}”: {held_words(plan.stock_kept or stock.stock, plan)}"
    yield "Vat", method_of(plan).name
    yield "Pigment", f"{_pigment(state)}, dosed as {100 * powder(plan, 'indigo').purity:.3g} % indigotin"


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
    alike: dict[tuple[str, str, str], list[Lot]] = {}
    for lot in lots:
        alike.setdefault((fibre_words(lot), lot.form.value, show_amount(lot.depth)), []).append(lot)
    for (fibre, form, depth), some in alike.items():
        grams = show_mass(sum(to_base(lot.mass, Kind.MASS) for lot in some))
        pieces = sum(lot.pieces for lot in some)
        lots_words = some[0].name if len(some) == 1 else f"{len(some)} lots"
        yield f"{lots_words}: {grams} of {fibre}, {pieces} × {form}, depth wanted {depth}"


def _pigment(state: State) -> str:
    """Name the pigment and its lot, if it was taken from the shelf."""
    used = powder(state.plan, "indigo")
    taken = [entry.event for entry in happened(state, PowderTaken) if isinstance(entry.event, PowderTaken)]
    lots = [event.lot for event in taken if event.entry.material == used.id and event.lot]
    return f"{used.material.name}, lot {lots[-1]}" if lots else used.material.name


def _vat(session: Session, sheet: Sheet, taken: tuple[Read, ...]) -> Iterator[Line]:
    litres = max(sheet.value("vat.liquor"), LEAST_L)
    went_in = _went_in(session)
    for material, grams in (went_in or _planned(session)).items():
        what = materials()[material]
        a_litre = "" if what.role == "indigo" else f", {show_concentration(grams / litres)}"
        planned = "" if went_in else " (planned)"
        yield what.role.capitalize(), f"{show_mass(grams)} of {what.name}{a_litre}{planned}"
    volume = show_volume(sheet.value("vat.liquor"))
    yield "Strength", f"{show_concentration(sheet.value('vat.strength'))} of indigotin in {volume}"
    yield "Temperature", f"{show_temperature(sheet.value('vat.temperature'))} planned"
    yield "Temperature read", _last(taken, "temperature")
    worked = _known(sheet, "vat.pH")
    warm = show_temperature(sheet.value("vat.temperature"))
    yield "pH worked out", "" if worked is None else f"{worked:.1f} at {warm} planned{_by_account(session)}"
    yield "pH read", _last(taken, "pH")
    for part in ("redox", "colour", "surface", "strip", "seconds"):
        yield PARTS[part], _last(taken, part)


def _by_account(session: Session) -> str:
    """Give the pH of what really went in, as the vat stood before it was spent or let go; empty without a vat."""
    ends = [entry.seq for entry in counted(fold(session)) if isinstance(entry.event, VatSpent | VatLetGo)]
    before = [entry for entry in session.entries if not ends or entry.seq < ends[0]]
    account = fold(evolve(session, entries=tuple(before))).tending.account
    if account is None:
        return ""
    try:
        return f"; {predict(account).text} by what went in"
    except ValueError:
        return ""


def _last(taken: tuple[Read, ...], part: str) -> str:
    found = last_of(taken, part)
    return part_text(found, part) if found else ""


def _went_in(session: Session) -> dict[str, float]:
    """Grams of each powder that went into stock and vat, by material."""
    return _sums(item.use for item in added(session))


def _planned(session: Session) -> dict[str, float]:
    """Grams of each powder that stock and vat want, by material."""
    return _sums(all_uses(fold(session).plan))


def _sums(uses: Iterable[Use]) -> dict[str, float]:
    sums: dict[str, float] = {}
    for use in uses:
        if use.step.startswith(VAT_STEPS):
            sums[use.material] = sums.get(use.material, 0.0) + use.grams
    return sums


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
    return show_percent(float(f"{percent:.2g}"))


def _came_out(state: State) -> Iterator[Line]:
    found, lots = colours(state), state.plan.lots
    for lot in lots:
        if lot.id in found:
            yield "Came out", f"{lot.name}: {'; '.join(found[lot.id])}"
    missing = [lot.name for lot in lots if lot.id not in found]
    if not found:
        yield "Came out", "no colour was noted"
    elif missing:
        names = ", ".join(missing) if len(missing) <= FEW else f"{len(missing)} lots"
        yield "Came out", f"no colour was noted of {names}"


def card_text(card: BlueCard) -> str:
    """Print a card."""
    head = f"{plain(card.title)}, {card.day}"
    return "\n".join((head, *(f"  {label:<17} {value}" for label, value in card.lines)))
