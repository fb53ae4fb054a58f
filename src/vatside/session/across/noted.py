"""What was read of the vat during a session, and which blues came out of it."""

from __future__ import annotations

from attrs import frozen

from vatside.recipe.care.reading import Reading, looks
from vatside.session.across.done import counted
from vatside.session.care_events import ReadingTaken
from vatside.session.events import ColourNoted, Moment
from vatside.session.state import State
from vatside.units import show_amount, show_temperature

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


def colours(state: State) -> dict[str, ColourNoted]:
    """Give the colour that counts for each lot that is still in the plan."""
    events = (entry.event for entry in counted(state))
    there = {lot.id for lot in state.plan.lots}
    return {event.lot: event for event in events if isinstance(event, ColourNoted) and event.lot in there}


def colour_text(noted: ColourNoted) -> str:
    """Print a colour: the dyer's words, her depth, what was measured."""
    depth = "" if noted.depth is None else show_amount(noted.depth)
    lab = "L* a* b* " + ", ".join(f"{number:g}" for number in noted.lab) if noted.lab else ""
    return ", ".join(part for part in (noted.words, depth, lab) if part)
