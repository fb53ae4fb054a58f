"""What was read of the vat during a session, and which blues came out of it."""

from __future__ import annotations

from attrs import frozen

from vatside.chemistry.colour import Lab
from vatside.dips.depth import Picked, Seen
from vatside.log.counting import counted
from vatside.log.effects.pieces import name_of
from vatside.log.events.day import ColourNoted
from vatside.log.events.pieces import SwatchRecorded
from vatside.log.events.vat import ReadingTaken
from vatside.log.fold import State
from vatside.log.moment import Moment
from vatside.units import show_amount, show_percent, show_temperature
from vatside.vat.reading import Reading, looks

PARTS = {
    "temperature": "Temperature",
    "pH": "pH",
    "redox": "Redox",
    "colour": "Liquor",
    "clarity": "Clarity",
    "surface": "On top",
    "strip": "Strip",
    "seconds": "Strip turns in",
    "smell": "Smell",
    "feel": "Feel",
    "bottom": "Bottom",
    "cloth": "Cloth",
}
"""The parts of a reading and what they are called side by side."""
LAB = 3
"""Numbers of a measured colour."""


@frozen
class Read:
    """A reading and when it was taken."""

    at: Moment
    reading: Reading


def readings(state: State) -> tuple[Read, ...]:
    """Give every reading that counts, in the order of the log."""
    return tuple(
        Read(entry.at, entry.event.reading) for entry in counted(state) if isinstance(entry.event, ReadingTaken)
    )


def last_of(taken: tuple[Read, ...], part: str) -> Reading | None:
    """Give the latest reading in which the dyer looked at one part; None if she never did."""
    return next((item.reading for item in reversed(taken) if part_text(item.reading, part)), None)


def part_text(reading: Reading, part: str) -> str:
    """Print one part of a reading; empty where the dyer did not look."""
    if part == "temperature":
        return "" if reading.celsius is None else show_temperature(reading.celsius)
    if part == "pH":
        return _pH_text(reading)
    if part == "redox":
        return "" if reading.redox is None else f"{reading.redox:.0f} mV"
    if part == "seconds":
        return "" if reading.seconds is None else f"{reading.seconds:.0f} s"
    return ", ".join(looks(reading, part))


def _pH_text(reading: Reading) -> str:
    """A pH says nothing without its temperature."""
    if reading.pH is None:
        return ""
    warm = reading.sample_celsius
    at = "temperature not noted" if warm is None else f"at {show_temperature(warm)}"
    return f"{reading.pH:.1f} {at} ({reading.pH_by.value})"


def colours(state: State) -> dict[str, tuple[str, ...]]:
    """Give what was noted of each lot's colour, by lot id: the dyer's words first, then the swatches of its pieces."""
    found: dict[str, list[str]] = {}
    words = {event.lot: event for entry in counted(state) if isinstance(event := entry.event, ColourNoted)}
    for lot, noted in words.items():
        found.setdefault(lot, []).append(_words(noted))
    for piece, seen in _swatches(state).items():
        found.setdefault(_lot_of(piece, state), []).append(_seen(piece, seen, state))
    return {lot.id: tuple(found[lot.id]) for lot in state.plan.lots if lot.id in found}


def measured(state: State) -> dict[str, Lab]:
    """Give the latest measured colour of each lot, by lot id."""
    found: dict[str, Lab] = {}
    for entry in counted(state):
        event = entry.event
        if isinstance(event, ColourNoted | SwatchRecorded) and len(event.lab) == LAB:
            lot = event.lot if isinstance(event, ColourNoted) else _lot_of(event.piece, state)
            found[lot] = Lab(*event.lab)
    return {lot.id: found[lot.id] for lot in state.plan.lots if lot.id in found}


def _swatches(state: State) -> dict[str, Seen]:
    return {item.piece: item.seen for item in state.dipping.swatches}


def _lot_of(piece: str, state: State) -> str:
    return piece if any(lot.id == piece for lot in state.plan.lots) else piece.rpartition(".")[0]


def _words(noted: ColourNoted) -> str:
    """Print a colour: the dyer's words, her depth, what was measured."""
    depth = "" if noted.depth is None else show_amount(noted.depth)
    lab = _lab_text(noted.lab) if noted.lab else ""
    return ", ".join(part for part in (noted.words, depth, lab) if part)


def _seen(piece: str, seen: Seen, state: State) -> str:
    """Print a swatch, with its piece where it is of one piece only."""
    whose = "" if _lot_of(piece, state) == piece else f"{name_of(state, piece)}: "
    if isinstance(seen, Lab):
        return whose + _lab_text((seen.L, seen.a, seen.b))
    if isinstance(seen, Picked):
        return f"{whose}as the step of {show_percent(seen.depth)}"
    side = "darker" if seen.darker else "paler"
    return f"{whose}{side} than the step of {show_percent(seen.depth)}, grade {seen.grade:g}"


def _lab_text(lab: tuple[float, ...]) -> str:
    return "L* a* b* " + ", ".join(f"{number:g}" for number in lab)
