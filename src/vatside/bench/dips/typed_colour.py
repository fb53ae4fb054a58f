"""What the dyer types about colour, read into events."""

from __future__ import annotations

import re

from vatside.catalogue.dyeing import ladder
from vatside.forms.fields import LONGEST_TEXT
from vatside.log.effects.pieces import seen_of
from vatside.log.events.day import ColourNoted
from vatside.log.events.pieces import SwatchRecorded
from vatside.units import Amount, Kind, Problem, parse_amount

HOW = (
    "write L* a* b*, such as 35.2 -2.1 -20; or a step, such as medium or 0.8 %; or a step and a grade: medium 4 darker"
)
"""How a swatch is written down."""
WORDS = "words of your own go beside it after a comma, or alone after a semicolon"
"""Where they go."""
_NUMBER = r"[-+−]?[0-9]+(?:[.,][0-9]+)?"
_LAB = re.compile(
    rf"(?:L\*?\s*=?\s*)?({_NUMBER})[\s;/]+(?:a\*?\s*=?\s*)?({_NUMBER})[\s;/]+(?:b\*?\s*=?\s*)?({_NUMBER})"
)
_GRADED = re.compile(r"(.+?)\s+(?:grade\s+)?([1-5](?:[.,]5|-[1-5])?)\s+(darker|paler|lighter)", re.ASCII)


def record_colour(lot: str, piece: str, text: str) -> tuple[SwatchRecorded | ColourNoted, ...] | Problem:
    """Read the colour that a piece of a lot, or the lot itself, came out with; words beside it are kept for the lot.

    The swatch counts for depth and uptake; the words stand on the card. A comma divides the two, so that a number
    inside the words ("10 % too pale") is none; words alone follow a semicolon.
    """
    typed = " ".join(text.split())[:LONGEST_TEXT]
    first, semicolon, after = (part.strip() for part in typed.partition(";"))
    found, words = _apart(piece, first)
    said = tuple(ColourNoted(lot, part) for part in [", ".join(filter(None, (words, after)))] if part)
    if isinstance(found, Problem):
        return said if semicolon and not first and said else Problem(f"{found.text}; {WORDS}")
    return (found, *said)


def _apart(piece: str, typed: str) -> tuple[SwatchRecorded | Problem, str]:
    """Find the swatch that stands before the first or after the last commas, and the words on their other side."""
    parts = typed.split(", ")
    for many in range(len(parts), 0, -1):
        for shade, words in ((parts[:many], parts[many:]), (parts[-many:], parts[:-many])):
            found = record_swatch(piece, ", ".join(shade))
            if isinstance(found, SwatchRecorded):
                return found, ", ".join(words)
    return record_swatch(piece, typed), ""


def record_swatch(piece: str, text: str) -> SwatchRecorded | Problem:
    """Read a swatch of a piece (or lot): measured, picked from the ladder, or graded against a step of it."""
    typed = " ".join(text.split())
    event = _read(piece, typed)
    if event is None:
        return Problem(HOW)
    try:
        seen_of(event)
    except ValueError as error:
        return Problem(f"{error}; {HOW}")
    return event


def _read(piece: str, typed: str) -> SwatchRecorded | None:
    measured = _LAB.fullmatch(typed)
    if measured:
        return SwatchRecorded(piece, lab=tuple(_number(part) for part in measured.groups()))
    graded = _GRADED.fullmatch(typed)
    step = _step(graded[1] if graded else typed)
    if step is None:
        return None
    if graded is None:
        return SwatchRecorded(piece, step=step)
    return SwatchRecorded(piece, step=step, grade=_grade(graded[2]), darker=graded[3] == "darker")


def _number(text: str) -> float:
    return float(text.replace("−", "-").replace(",", "."))


def _grade(text: str) -> float:
    """Read 4, 4.5 or, as grey scales print it, 4-5."""
    low, dash, high = text.partition("-")
    return (float(low) + float(high)) / 2 if dash else _number(text)


def _step(text: str) -> Amount | None:
    """Read a step by its name or by its depth."""
    named = [rung for rung in ladder() if rung.name == text.casefold()]
    if named:
        return Amount(named[0].depth, "%")
    amount = parse_amount(text, Kind.PERCENT, unit="%")
    return None if isinstance(amount, Problem) else amount
