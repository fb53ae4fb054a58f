"""The events of a live vat, of its pieces and of a stock that goes from one day to another, in the dyer's words."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.catalogue.findings import CONFIRM, rows
from vatside.catalogue.load import materials
from vatside.dips.rotation import Place
from vatside.log.effects.pieces import name_of
from vatside.log.events import vat as events
from vatside.log.state import State
from vatside.plan.figure_text import plain
from vatside.plan.measures import ROLES, powder
from vatside.plan.plan import Plan, StockKept
from vatside.recipe.kept import in_jar
from vatside.units import show_amount, show_count, show_mass, show_minutes, show_volume
from vatside.vat.kept_vat import KeptVat
from vatside.vat.reading import LOOK_NAMES, Reading, looks


def care_words(event: events.CareEvent, plan: Plan) -> str:
    """Say what an event of the vat was; `plan` is the one that stood then."""
    match event:
        case events.VatMade():
            return _vat_made(event)
        case events.ReadingTaken():
            return f"Reading: {', '.join(reading_words(event.reading)) or 'nothing'}"
        case events.PHTrusted():
            return _ph_trusted(event)
        case events.DyeSeen():
            stands = "all reduced, its reducer alive" if event.reduced else "blue, its reducer spent"
            return f"Vat: by the reading its dye is {stands}"
        case events.CorrectionMade():
            return _correction_made(event, plan)
        case events.VolumeMeasured():
            return f"Liquor measured: {show_amount(event.volume)}"
        case events.LotDipped():
            return _lot_dipped(event, plan)
        case events.VatSpent():
            return "Vat stirred in the air until it stayed blue"
        case events.VatLetGo():
            return _vat_let_go(event)


def _vat_made(event: events.VatMade) -> str:
    measured = [show_amount(item) for item in (event.volume, event.temperature) if item is not None]
    return f"Vat made: {' at '.join(measured)}" if measured else "Vat made, as planned"


def reading_words(reading: Reading) -> Iterator[str]:
    """Say each thing that was measured or seen."""
    if reading.temperature is not None:
        yield show_amount(reading.temperature)
    if reading.pH is not None:
        at = f" at {show_amount(reading.pH_temperature)}" if reading.pH_temperature is not None else ""
        yield f"pH {reading.pH:g}{at} by {reading.pH_by.value}"
    if reading.redox is not None:
        yield f"{reading.redox:g} mV"
    for name in LOOK_NAMES:
        if seen := looks(reading, name):
            yield f"{name} {' and '.join(seen)}"
    if reading.seconds is not None:
        yield f"strip turns in {reading.seconds:g} s"


def _ph_trusted(event: events.PHTrusted) -> str:
    at = f" at {show_amount(event.temperature)}" if event.temperature is not None else ""
    return f"pH {event.pH:g}{at} taken as true"


def _correction_made(event: events.CorrectionMade, plan: Plan) -> str:
    if event.remedy == CONFIRM:
        return "Vat: a sample put to cool, to read the pH once more"
    done = ", ".join(_parts(event, plan)) or _by_hand(event)
    row = rows().get(event.finding)
    what_for = f" ({row.name})" if row else ""
    insisted = ", although the tool refused" if event.insisted else ""
    return f"Vat: {done}{what_for}{insisted}"


def _by_hand(event: events.CorrectionMade) -> str:
    """Say what was done that brought nothing in: the order, to where its detail or its temperature begins."""
    there = rows()[event.finding].remedies if event.finding in rows() else ()
    order = next(
        (f"{one.wait_label}{{" if "{" in one.text else one.text for one in there if one.id == event.remedy), ""
    )
    return f"{order[:1].lower()}{order[1:].split(';')[0].split('{')[0]}" or "by hand"


def _parts(event: events.CorrectionMade, plan: Plan) -> Iterator[str]:
    if event.warmed_to is not None:
        yield f"warmed to {show_amount(event.warmed_to)}"
    if event.taken_out is not None:
        yield f"{show_amount(event.taken_out)} taken out"
    if event.amount is not None:
        yield f"{show_amount(event.amount)} of {_name(plan, event.material)}"
    if event.stock is not None:
        yield f"{show_amount(event.stock)} of stock"
    if event.water is not None:
        at = f" at {show_amount(event.water_temperature)}" if event.water_temperature is not None else ""
        yield f"{show_amount(event.water)} of water{at}"


BY_HAND = "care."
"""Before the id under which the cautions of what goes into a live vat by hand are read."""


def addition_words(key: str, plan: Plan) -> str:
    """Name what goes into a live vat by hand: `key` is its finding and remedy, `added` and powder, or its remedy."""
    what, _, detail = key.partition(".")
    if what == "added":
        return f"{_name(plan, detail)} into the vat"
    row = rows().get(what)
    return f"what goes into the vat, {row.name}" if row else "what goes into the vat"


def _name(plan: Plan, material: str) -> str:
    if material in ROLES or material in materials():
        return powder(plan, material).material.short.lower()
    return material


def _lot_dipped(event: events.LotDipped, plan: Plan) -> str:
    name = next((lot.name for lot in plan.lots if lot.id == event.lot), event.lot)
    pieces = show_count(event.pieces, "piece")
    return f"{name}: {pieces} dipped for {show_minutes(event.minutes)}"


def _vat_let_go(event: events.VatLetGo) -> str:
    before = f", pH {event.pH_before:g} before" if event.pH_before is not None else ""
    after = f", pH {event.pH_after:g} after" if event.pH_after is not None else ""
    acid = ""
    if event.acid_amount is not None:
        short = materials()[event.acid].short.lower() if event.acid in materials() else event.acid
        acid = f", {show_amount(event.acid_amount)} of {short}"
    where = f": {event.where}" if event.where else ""
    return f"Vat let go, {show_amount(event.volume)}{before}{acid}{after}{where}"


def _dip(event: events.DipStarted, before: State) -> int:
    """Count the dip; of one that is taken back the piece is still in, and it is counted already."""
    where = before.dipping.pieces.get(event.piece)
    return 1 if where is None else where.dips + (where.place is not Place.IN_VAT)


def dip_words(event: events.DipEvent, before: State) -> str:  # noqa: C901  (one line a kind of event)
    """Say what an event of a piece was; `before` is how things stood until then."""
    match event:
        case events.DryMassTaken():
            return _dry_mass(event, before)
        case events.SwatchRecorded():
            return f"Colour of {_piece_name(before, event.piece)}: {_swatch(event)}"
        case events.PieceNamed():
            called = f"is called {event.name}" if event.name else "goes by its lot again"
            return f"{_piece_name(before, event.piece)} {called}"
        case events.DipStarted():
            return f"{_piece_name(before, event.piece)} in for {show_minutes(event.minutes)}, dip {_dip(event, before)}"
        case events.DipEnded():
            return f"{_piece_name(before, event.piece)} out, to air {show_minutes(event.air)}"
        case events.PieceTurned():
            return f"{_piece_name(before, event.piece)} turned"
        case events.PieceDone():
            return f"{_piece_name(before, event.piece)} has had its last dip"
        case events.PieceBack():
            return f"{_piece_name(before, event.piece)} takes turns again"
        case events.UptakeLearned():
            return _learned(event)
        case events.DipsPlanned():
            return f"{_piece_name(before, event.piece)} is to have {show_count(event.dips, 'dip')} in all"


def _learned(event: events.UptakeLearned) -> str:
    shares = (f"{item.group} {100 * item.factor:.0f} % of the table" for item in event.learned)
    return f"Dips by your own colours: {', '.join(shares)}"


def _piece_name(before: State, piece: str) -> str:
    lots = {lot.id: lot.name for lot in before.plan.lots}
    return lots.get(piece) or name_of(before, piece)


def _swatch(event: events.SwatchRecorded) -> str:
    if event.lab:
        return "L* a* b* " + ", ".join(f"{number:g}" for number in event.lab)
    step = show_amount(event.step) if event.step is not None else "no step"
    if event.grade is None:
        return f"as the step of {step}"
    return f"{'darker' if event.darker else 'paler'} than the step of {step}, grade {event.grade:g}"


def _dry_mass(event: events.DryMassTaken, before: State) -> str:
    when = "before the vat" if event.before else "dyed and dry"
    return f"{_piece_name(before, event.lot)} weighs {show_amount(event.mass)} {when}"


def kept_words(event: events.KeptEvent) -> str:
    """Say what became of a vat between two days."""
    match event:
        case events.VatKept():
            return f"Vat kept: {_vat_words(event.vat)}"
        case events.VatCarriedOn():
            return f"Carried on from the vat of “{event.title}”: {_vat_words(event.vat)}"
        case events.VatToppedUp():
            return "Kept vat topped up, sharpened and the stock brought in, as planned"


def _vat_words(vat: KeptVat) -> str:
    return f"{show_volume(vat.litres)} with {show_mass(vat.indigotin_g)} of indigotin"


def stock_words(event: events.StockEvent, plan: Plan) -> str:
    """Say where a stock went, or whose it was."""
    if isinstance(event, events.StockTaken):
        return f"The stock in the jar went to “{event.title}”: {held_words(event.stock, plan)}"
    return f"From the jar of “{event.title}”: {held_words(event.stock, plan)}"


def held_words(stock: StockKept, plan: Plan) -> str:
    """Say how much of it there is, and how strong; a log from elsewhere can hold amounts of something else."""
    try:
        jar = in_jar(evolve(plan, stock_kept=stock))
    except ValueError:
        return "an amount that is none"
    return f"{plain(jar.litres, 'L')} of stock at {plain(jar.strength, 'g/L')}"
