"""The events of the pieces in the dyer's words."""

from __future__ import annotations

from vatside.log.effects.pieces import name_of
from vatside.log.events.pieces import (
    DipEnded,
    DipEvent,
    DipsPlanned,
    DipStarted,
    DryMassTaken,
    PieceBack,
    PieceDone,
    PieceNamed,
    PieceTurned,
    SwatchRecorded,
    UptakeLearned,
)
from vatside.log.state import State
from vatside.units import show_amount, show_count, show_minutes


def dip_words(event: DipEvent, before: State) -> str:  # noqa: C901  (one line a kind of event)
    """Say what an event of a piece was; `before` is how things stood until then."""
    match event:
        case DryMassTaken():
            return _dry_mass(event, before)
        case SwatchRecorded():
            return f"Colour of {_name(before, event.piece)}: {_swatch(event)}"
        case PieceNamed():
            called = f"is called {event.name}" if event.name else "goes by its lot again"
            return f"{_name(before, event.piece)} {called}"
        case DipStarted():
            dips = before.dipping.pieces[event.piece].dips if event.piece in before.dipping.pieces else 0
            return f"{_name(before, event.piece)} in for {show_minutes(event.minutes)}, dip {dips + 1}"
        case DipEnded():
            return f"{_name(before, event.piece)} out, to air {show_minutes(event.air)}"
        case PieceTurned():
            return f"{_name(before, event.piece)} turned"
        case PieceDone():
            return f"{_name(before, event.piece)} has had its last dip"
        case PieceBack():
            return f"{_name(before, event.piece)} takes turns again"
        case UptakeLearned():
            return _learned(event)
        case DipsPlanned():
            return f"{_name(before, event.piece)} is to have {show_count(event.dips, 'dip')} in all"


def _learned(event: UptakeLearned) -> str:
    said = (f"{item.group} {100 * item.factor:.0f} % of the table" for item in event.learned)
    return f"Dips by your own colours: {', '.join(said)}"


def _name(before: State, piece: str) -> str:
    lots = {lot.id: lot.name for lot in before.plan.lots}
    return lots.get(piece) or name_of(before, piece)


def _swatch(event: SwatchRecorded) -> str:
    if event.lab:
        return "L* a* b* " + ", ".join(f"{number:g}" for number in event.lab)
    step = show_amount(event.step) if event.step is not None else "no step"
    if event.grade is None:
        return f"as the step of {step}"
    return f"{'darker' if event.darker else 'paler'} than the step of {step}, grade {event.grade:g}"


def _dry_mass(event: DryMassTaken, before: State) -> str:
    when = "before the vat" if event.before else "dyed and dry"
    return f"{_name(before, event.lot)} weighs {show_amount(event.mass)} {when}"
