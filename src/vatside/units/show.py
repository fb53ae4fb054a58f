"""Amounts as a person at a stove reads them, level spoons among them, and any text kept to one line."""

from __future__ import annotations

from math import floor, isfinite, log10

from attrs import frozen

from vatside.units.amount import Amount, Kind, Spoons
from vatside.units.conversion import convert
from vatside.units.conversion import teaspoons as teaspoons_of
from vatside.units.names import KIND_OF_UNIT, PLURALS, UNITS


def plain(text: str) -> str:
    """Keep a text on one line and away from the terminal's controls."""
    return "".join(letter if letter.isprintable() else " " for letter in text)


def clean(text: str) -> str:
    """Take out what could play tricks on the screen: control characters and line breaks."""
    return "".join(letter if letter.isprintable() else "�" for letter in text)


def capital(text: str) -> str:
    """Begin a text as a sentence begins; names in it keep their letters."""
    return f"{text[:1].upper()}{text[1:]}"


def told(text: str) -> str:
    """Begin what may begin with the name of a file, told by its full stop: a file is called as it is called."""
    return text if "." in text.partition(" ")[0] else capital(text)


_FRACTION_UNITS = ("tsp", "tbsp", "cup", "fl_oz", "pint", "quart", "gal", "in")
_MOST_SPOONS = 1e6
_PARTS = {1 / 8: "1/8", 1 / 4: "1/4", 1 / 3: "1/3", 3 / 8: "3/8", 1 / 2: "1/2", 5 / 8: "5/8", 2 / 3: "2/3"} | {
    3 / 4: "3/4",
    7 / 8: "7/8",
}
_NEAR = 1e-9
_HUGE = 1e15


def plain_number(value: float, digits: int = 6) -> str:
    """Write a number with so many significant digits, whole numbers in full, without an exponent below 1e15."""
    if value == 0:
        return "0"
    if not isfinite(value) or abs(value) >= _HUGE:
        return f"{value:.{digits}g}"
    decimals = max(0, min(9, digits - 1 - floor(log10(abs(value)))))
    return trimmed(value, decimals)


def trimmed(value: float, decimals: int) -> str:
    """Write a number with at most so many decimals, without closing zeros and without a minus before 0."""
    text = f"{value:.{decimals}f}"
    if decimals:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def fraction_number(value: float) -> str | None:
    """Write a number as `1 1/2` if it is whole eighths or thirds; None if it is not, or is out of range."""
    if not 0 <= value < _MOST_SPOONS:
        return None
    whole = floor(value + _NEAR)
    rest = value - whole
    if abs(rest) <= _NEAR:
        return str(whole)
    for part, text in _PARTS.items():
        if abs(rest - part) <= _NEAR:
            return f"{whole} {text}" if whole else text
    return None


def show_amount(amount: Amount) -> str:
    """Write an amount as a person would type it; `parse_amount` reads it back."""
    if KIND_OF_UNIT.get(amount.unit) is Kind.TIME:
        return _typed_time(amount)
    number = fraction_number(amount.value) if amount.unit in _FRACTION_UNITS else None
    return with_unit(number or plain_number(amount.value), amount.unit, many=amount.value > 1)


def with_unit(number: str, unit: str, *, many: bool = False) -> str:
    """Put the printed unit after a number; units not in the list stand as they are."""
    printed = UNITS.get(unit, unit)
    return f"{number} {PLURALS.get(unit, printed) if many else printed}".rstrip()


def _typed_time(amount: Amount) -> str:
    """Write whole minutes in hours and minutes, and anything finer in the unit it was typed in."""
    minutes = convert(amount.value, amount.unit, "min")
    if amount.unit == "s" and 120 <= amount.value == round(amount.value) < _HUGE:
        whole, seconds = divmod(round(amount.value), 60)
        return f"{show_minutes(whole)} {seconds} s" if seconds else show_minutes(whole)
    if amount.unit == "s" or not 0 < minutes < _HUGE or abs(minutes - round(minutes)) > _NEAR * minutes:
        return with_unit(plain_number(amount.value), amount.unit)
    return show_minutes(minutes)


def show_count(number: int, one: str, many: str = "") -> str:
    """Write so many of a thing: `1 dip`, `2 dips`; `many` where the plural is not the word with an s."""
    return f"{number} {one if number == 1 else many or f'{one}s'}"


def show_mass(grams: float) -> str:
    """Write a mass: 0.1 g below 100 g, whole grams to 1000 g, then kg with two decimals.

    Below 0.1 g it shows 0.01 g, so that nothing real is printed as nothing.
    """
    if grams < 0:
        return f"-{show_mass(-grams)}"
    if grams == 0:
        return "0 g"
    if grams < 0.005:
        return "less than 0.01 g"
    return f"{grams:.{_decimals(grams)}f} g" if grams < 999.5 else f"{grams / 1000:.2f} kg"


def printed_grams(grams: float) -> float:
    """Give the grams that `show_mass` prints for so many, so that what follows from them follows from what is read."""
    if grams < 0.005:
        return grams
    return round(grams, _decimals(grams)) if grams < 999.5 else round(grams / 1000, 2) * 1000


def _decimals(grams: float) -> int:
    """Decimals of a mass in grams."""
    return 2 if grams < 0.095 else 1 if grams < 99.95 else 0


def show_volume(litres: float) -> str:
    """Write a volume: mL below one litre, else litres with at most two decimals."""
    millilitres = litres * 1000
    if 0 < millilitres < 0.05:
        return "less than 0.1 mL"
    if abs(millilitres) < 999.5:
        return f"{trimmed(millilitres, 1 if abs(millilitres) < 9.95 else 0)} mL"
    decimals = 2 if abs(litres) < 2.995 else 1 if abs(litres) < 99.95 else 0
    return f"{trimmed(litres, decimals)} L"


def show_temperature(celsius: float) -> str:
    """Write a temperature in whole degrees C."""
    return f"{trimmed(celsius, 0)} °C"


def show_minutes(minutes: float) -> str:
    """Write a length of time: `30 s`, `1.5 min`, `20 min`, `1 h 30 min`, `2 d 3 h`."""
    if not abs(minutes) < _HUGE:
        return f"{minutes:.6g} min"
    seconds = round(minutes * 60)
    if minutes > 0 and seconds < 60:
        return f"{max(1, seconds)} s"
    if minutes < 9.95:
        return f"{trimmed(minutes, 1)} min"
    whole = round(minutes)
    hours, rest = divmod(whole, 60)
    days, hours = divmod(hours, 24) if hours >= 48 else (0, hours)
    parts = [f"{count} {unit}" for count, unit in ((days, "d"), (hours, "h"), (rest, "min")) if count]
    return " ".join(parts)


def show_countdown(seconds: float) -> str:
    """Write seconds as `34:10` or `1:02:33`; a part of a second counts as whole, so 0:00 means over."""
    whole = max(0, -floor(-seconds))
    hours, rest = divmod(whole, 3600)
    minutes, last = divmod(rest, 60)
    return f"{hours}:{minutes:02}:{last:02}" if hours else f"{minutes}:{last:02}"


def show_percent(percent: float) -> str:
    """Write a percentage with at most three digits that matter."""
    return f"{_three_digits(percent)} %"


def show_concentration(grams_per_litre: float) -> str:
    """Write a concentration with at most three digits that matter."""
    return f"{_three_digits(grams_per_litre)} g/L"


def _three_digits(value: float) -> str:
    return plain_number(value, 3)


def show_value(value: float, unit: str) -> str:
    """Write a number in a base unit as fits its kind; another unit stands after three digits."""
    if unit == "g":
        return show_mass(value)
    if unit == "L":
        return show_volume(value)
    if unit == "degC":
        return show_temperature(value)
    if unit == "min":
        return show_minutes(value)
    return with_unit(_three_digits(value), unit)


def span(seconds: float) -> str:
    """Say a length of time the way a person does: `40 s`, `23 min`, `3 h 10 min`, `2 days 4 h`."""
    if seconds < 90:
        return f"{seconds:.0f} s"
    minutes = round(seconds / 60)
    if minutes < 60:
        return f"{minutes} min"
    hours, minutes = divmod(minutes, 60)
    if hours < 48:
        return f"{hours} h {minutes} min" if minutes else f"{hours} h"
    days, hours = divmod(hours, 24)
    return f"{days} days {hours} h" if hours else f"{days} days"


MOST_TEASPOONS = 6.0
"""Up to here one counts teaspoons; above, the larger measures come out."""

_SMALL_STEP, _MIDDLE_STEP, _LARGE_STEP = 1 / 8, 1 / 2, 1.0
"""Rounding, in teaspoons: up to `MOST_TEASPOONS`, up to half a cup, and above; from 1 1/4 tsp on it is
never out by more than 5 %."""


@frozen
class Spoonful:
    """A number of level spoons as it can be measured."""

    text: str
    teaspoons: float
    """What the text comes to, in level teaspoons."""
    error: float
    """How far that is from what was wanted, as a share of it: 0.1 is ten per cent too much."""


def spoonfuls(teaspoons: float, spoons: Spoons) -> Spoonful:
    """Round level teaspoons to spoons and cups; ValueError below zero or if not a finite number."""
    if not isfinite(teaspoons) or teaspoons < 0:
        raise ValueError(f"a number of spoons cannot be {teaspoons}")
    if teaspoons == 0:
        return Spoonful("0 tsp", 0.0, 0.0)
    if teaspoons < _SMALL_STEP / 2:
        return Spoonful("less than 1/8 tsp", 0.0, -1.0)
    parts = _parts(teaspoons, spoons)
    total = sum(count * _size(unit, spoons) for count, unit in parts)
    return Spoonful(" ".join(_part(*part) for part in parts), total, total / teaspoons - 1)


def _size(unit: str, spoons: Spoons) -> float:
    return teaspoons_of(Amount(1.0, unit), spoons)


def _parts(teaspoons: float, spoons: Spoons) -> list[tuple[float, str]]:
    """Choose the measures: teaspoons, then tablespoons, then quarter cups with spoons."""
    if _rounded(teaspoons, _SMALL_STEP) <= MOST_TEASPOONS:
        return [(_rounded(teaspoons, _SMALL_STEP), "tsp")]
    quarter = _size("cup", spoons) / 4
    if teaspoons < 2 * quarter:
        return _tablespoons(_rounded(teaspoons, _MIDDLE_STEP), spoons)
    quarters = floor(teaspoons / quarter)
    rest = _rounded(teaspoons - quarters * quarter, _LARGE_STEP)
    if rest >= quarter:
        quarters, rest = quarters + 1, 0.0
    return [(quarters / 4, "cup"), *_tablespoons(rest, spoons)]


def _tablespoons(teaspoons: float, spoons: Spoons) -> list[tuple[float, str]]:
    size = round(_size("tbsp", spoons))
    count, rest = divmod(teaspoons, size)
    return [(number, unit) for number, unit in ((count, "tbsp"), (rest, "tsp")) if number]


def _rounded(value: float, step: float) -> float:
    return floor(value / step + 0.5) * step


def _part(count: float, unit: str) -> str:
    return with_unit(fraction_number(count) or str(count), unit, many=count > 1)
