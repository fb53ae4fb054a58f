"""An amount as a person types it, read into a number and a unit, or a sentence that says what is wrong."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise

from attrs import frozen

from vatside.units.amount import BASE_UNITS, Amount, Kind, Problem, Spoons
from vatside.units.conversion import convert
from vatside.units.names import EXAMPLES, KIND_OF_UNIT, KIND_WORDS, UNITS, fits, read_unit
from vatside.units.numerals import NUMBER, digits_problem, read_number, tidy
from vatside.units.show import show_amount

LARGEST = 1e9
"""No amount of a dye day comes near this; above it a key was held down."""

COLDEST = -30.0
"""Degrees C; the only amounts below zero are temperatures, and no room or tap is colder."""

_LAST_HOUR = 23
"""Beyond it, `34:10` looks like a countdown's minutes and seconds."""

_COMPOUND_KINDS = (Kind.MASS, Kind.VOLUME, Kind.POWDER, Kind.TIME, Kind.LENGTH, Kind.POWER)
_TERM = re.compile(rf"({NUMBER})\s*([^\d.,]*)", re.ASCII)
_CARBONATE = re.compile(r"(caco|hco)[3₃][⁻–-]?", re.IGNORECASE)
"""A carbonate in a unit of hardness, with the one digit that a unit may have."""
_COUNT = re.compile(rf"({NUMBER})\s*[xX]\s*(.*)", re.ASCII)
_CLOCK = re.compile(r"(\d{1,3}) ?: ?(\d\d)(?: ?(?:h|hrs?|hours?))?", re.ASCII | re.IGNORECASE)
_RATIO = re.compile(rf"({NUMBER}) ?: ?({NUMBER})", re.ASCII)


@frozen
class _Wanted:
    """What the field takes."""

    kind: Kind
    unit: str | None
    spoons: Spoons
    typed: str

    @property
    def words(self) -> str:
        return f"{KIND_WORDS[self.kind]}, such as {EXAMPLES[self.kind]}"

    @property
    def unread(self) -> Problem:
        return Problem(f"“{self.typed}” cannot be read: write {self.words}")


@frozen
class _Term:
    """One number with what was written after it."""

    written: str
    value: Fraction
    unit: str


def parse_amount(text: str, kind: Kind, *, unit: str | None = None, spoons: Spoons = Spoons.US) -> Amount | Problem:
    """Read an amount of the given kind; total: any text gives an Amount or a Problem in words.

    `unit` is taken when only a number was typed. `spoons` matters only where two spoon sizes are added up,
    as in `2 tbsp 1 tsp`. Several parts become one amount: in the first unit (`1 lb 4 oz` is 1.25 lb),
    times in the last (`1 h 30` is 90 min).
    """
    wanted = _Wanted(kind, unit, spoons, text.strip())
    plain = tidy(text)
    if isinstance(plain, Problem):
        return plain
    if not plain:
        return Problem(f"type {wanted.words}")
    if kind in (Kind.HARDNESS, Kind.ALKALINITY):
        plain = _CARBONATE.sub(r"\1", plain)
    problem = digits_problem(plain)
    if problem is not None:
        return problem
    return _read_colon(plain, wanted) if ":" in plain else _read_signed(plain, wanted)


def _read_colon(text: str, wanted: _Wanted) -> Amount | Problem:
    """Read `1:30`, which is a time for one kind and a liquor ratio for another."""
    if wanted.kind is Kind.TIME:
        return _read_clock(text)
    if wanted.kind is Kind.RATIO:
        return _read_ratio(text)
    return Problem(
        f"{text} is a time or a liquor ratio; here {KIND_WORDS[wanted.kind]} is wanted, such as {EXAMPLES[wanted.kind]}"
    )


def _read_clock(text: str) -> Amount | Problem:
    match = _CLOCK.fullmatch(text)
    if not match or int(match[2]) > 59:
        return Problem("with a colon, write hours and two digits of minutes, such as 1:30 for 1 h 30 min")
    hours, minutes = int(match[1]), int(match[2])
    if hours > _LAST_HOUR:
        return Problem(f"{text} could be minutes and seconds: write {hours} min or {hours} h {minutes} min")
    return Amount(hours * 60 + minutes, "min")


def _read_ratio(text: str) -> Amount | Problem:
    match = _RATIO.fullmatch(text)
    sides = [read_number(side) for side in match.groups()] if match else []
    numbers = [side for side in sides if isinstance(side, Fraction)]
    if len(numbers) != 2 or min(numbers) != 1:
        return Problem("write a liquor ratio as 1:30 or 30 L/kg")
    return _finished(max(numbers), "L/kg")


def _read_signed(text: str, wanted: _Wanted) -> Amount | Problem:
    if not text.startswith(("-", "–")):
        return _read_times(text, wanted)
    if wanted.kind is not Kind.TEMPERATURE:
        return Problem(f"{text} is less than nothing: write {wanted.words}")
    amount = _read_times(text[1:].lstrip(), wanted)
    if isinstance(amount, Problem):
        return amount
    cold = Amount(0.0 - amount.value, amount.unit)
    if convert(cold.value, cold.unit, "degC") < COLDEST:
        return Problem(f"{show_amount(cold)} is colder than any room: the lowest is {COLDEST:.0f} °C")
    return cold


def times(text: str) -> int | None:
    """Give the whole number that an amount is counted by, 10 of `10 x 100 g`; None for one that is not counted."""
    counted = _COUNT.fullmatch(text.strip())
    count = read_number(counted[1]) if counted else None
    return int(count) if isinstance(count, Fraction) and count.denominator == 1 and count > 0 else None


def _read_times(text: str, wanted: _Wanted) -> Amount | Problem:
    """Read `2 x 100 g`, or an amount without a count."""
    counted = _COUNT.fullmatch(text)
    if not counted:
        return _read_sum(text, Fraction(1), wanted)
    count = read_number(counted[1])
    if isinstance(count, Problem):
        return count
    if count == 0 or wanted.kind is Kind.TEMPERATURE:
        return Problem(f"{counted[1]} x does not count anything: write {wanted.words}")
    return _read_sum(counted[2], count, wanted)


def _read_sum(text: str, count: Fraction, wanted: _Wanted) -> Amount | Problem:
    terms = _terms(text, wanted)
    if isinstance(terms, Problem):
        return terms
    if len(terms) == 1:
        return _finished(count * terms[0].value, terms[0].unit)
    return _added(terms, count, wanted)


def _terms(text: str, wanted: _Wanted) -> list[_Term] | Problem:
    pieces = _pieces(text)
    if not pieces:
        return wanted.unread
    terms: list[_Term] = []
    for index, (written, name) in enumerate(pieces):
        later = pieces[index + 1][0] if index + 1 < len(pieces) else None
        unit = _unit_of(written, name, later, terms, wanted)
        if isinstance(unit, Problem):
            return unit
        value = read_number(written)
        if isinstance(value, Problem):
            return value
        if not fits(unit, wanted.kind):
            return _wrong_kind(value, unit, wanted)
        if not name and terms and not _are_minutes(value, terms[-1].value):
            return Problem(f"{written} cannot be the minutes after {terms[-1].written} h: write a unit after each")
        terms.append(_Term(written, value, unit))
    return terms


def _pieces(text: str) -> list[tuple[str, str]]:
    """Cut a text into numbers and what follows each; empty if anything is left over."""
    pieces, place = [], 0
    while place < len(text):
        match = _TERM.match(text, place)
        if not match:
            return []
        pieces.append((match[1], match[2].strip()))
        place = match.end()
    return pieces


def _unit_of(written: str, name: str, later: str | None, before: list[_Term], wanted: _Wanted) -> str | Problem:
    """Find the unit of one piece; `later` is the number that follows it, if one does."""
    if later is not None and name in ("-", "–", "to", "or"):
        return Problem(f"write one number, not {written} to {later}")
    if name:
        return read_unit(name, wanted.kind, wanted.unit)
    if later is not None:
        return Problem(
            f"{written} and {later} stand side by side: write one number without a space, "
            f"or a unit after each, such as {EXAMPLES[wanted.kind]}"
        )
    if not before:
        return _unit_of_bare(written, wanted)
    if before[-1].unit == "h":
        return "min"
    return Problem(f"what is the last {written}? write a unit after it")


def _unit_of_bare(written: str, wanted: _Wanted) -> str | Problem:
    if wanted.unit is not None:
        return wanted.unit
    if wanted.kind is Kind.NUMBER:
        return ""
    return Problem(f"{written} of what? write {wanted.words}")


def _are_minutes(value: Fraction, hours: Fraction) -> bool:
    return value.denominator == hours.denominator == 1 and value < 60


def _wrong_kind(value: Fraction, unit: str, wanted: _Wanted) -> Problem:
    """Say what was written and what the same number would look like here."""
    target = wanted.unit if wanted.unit and fits(wanted.unit, wanted.kind) else BASE_UNITS[wanted.kind]
    if unit == "oz" and wanted.kind is Kind.VOLUME:
        target = "fl_oz"
    have, example = Amount(float(value), unit), Amount(float(value), target)
    return Problem(
        f"{show_amount(have)} is {KIND_WORDS[KIND_OF_UNIT[unit]]}; "
        f"here {KIND_WORDS[wanted.kind]} is wanted, such as {show_amount(example)}"
    )


def _added(terms: list[_Term], count: Fraction, wanted: _Wanted) -> Amount | Problem:
    """Add the parts of `1 lb 4 oz` up, largest unit first."""
    if wanted.kind not in _COMPOUND_KINDS:
        return Problem(f"write one amount only: {wanted.words}")
    if len({KIND_OF_UNIT[term.unit] for term in terms}) > 1:
        return Problem("a mass and a number of spoons cannot be added: write one of them")
    for large, small in pairwise(terms):
        if large.unit == small.unit:
            return Problem(f"write {UNITS[small.unit]} only once")
        if convert(1.0, large.unit, small.unit, wanted.spoons) <= 1.0:
            return Problem(f"write {UNITS[small.unit]} before {UNITS[large.unit]}, or one amount only")
    unit = terms[-1 if wanted.kind is Kind.TIME else 0].unit
    sizes = (Fraction(convert(1.0, term.unit, unit, wanted.spoons)) for term in terms)
    return _finished(count * sum(size * term.value for size, term in zip(sizes, terms, strict=True)), unit)


def _finished(value: Fraction, unit: str) -> Amount | Problem:
    if value > LARGEST:
        return Problem("this number is too large for anything on a dye day")
    return Amount(float(value), unit)
