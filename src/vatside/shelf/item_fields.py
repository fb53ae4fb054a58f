"""What can be said of an item of the shelf: how its text is read, and whether a value fits."""

from __future__ import annotations

import re
import unicodedata
from datetime import date
from math import floor

from attrs import fields_dict

from vatside.catalogue.load import materials
from vatside.forms.field import LONGEST_TEXT, Field, amount_problem, read, refused, text_problem
from vatside.forms.rows import SPOON_G
from vatside.plan.hours import day_of, is_day
from vatside.plan.measures import BY_VOLUME, POURED
from vatside.plan.plan import FieldValue
from vatside.plan.sheet import Stage
from vatside.shelf.events import Item
from vatside.units import (
    Amount,
    Kind,
    Problem,
    fits,
    parse_amount,
    show_amount,
    show_value,
    to_base,
)

MOST_MONEY = 1e6
ROUNDING = 1e-9
"""Share that a product of floats may be off."""
WEAK, STRONG = 50.0, 200.0
"""A strike below or above these, %, is asked about: lots differ less than that. Ours, no source."""
ITEM_ID = re.compile(r"[A-Za-z0-9_-]{1,32}")
_AT = Stage.PLAN

DETAILS: tuple[Field, ...] = (
    Field("material", "What it is", _AT, choices=tuple((key, item.name) for key, item in materials().items())),
    Field("lot", "Batch", _AT, optional=True, help="what you call it, or what its label says"),
    Field("mass", "Bought", _AT, Kind.MASS, "g", 0.01, 1e6, help="100 g, 1/2 lb; a bottle also 500 mL"),
    Field("purity", "Purity", _AT, Kind.PERCENT, "%", 1, 100, help="of the active substance, by the label"),
    Field("spoon_mass", "1 tsp weighs", _AT, Kind.MASS, "g", 0.1, 50, typed=SPOON_G, optional=True,
          help="weigh ten level spoons, write a tenth"),
    Field("price", "Price", _AT, Kind.NUMBER, "", 0, MOST_MONEY, decimal=True, optional=True,
          help="for all of it: 18.50, 18,50"),
    Field("bought", "Bought on", _AT, optional=True, clock=True, help="2026-05-02, 2 May, today, yesterday"),
    Field("opened", "Opened on", _AT, optional=True, clock=True,
          help="2026-05-02, 2 May, today; else the day of its first use"),
    Field("strike", "Strength", _AT, Kind.PERCENT, "%", 10, 1000,
          help="beside the batch you know: 100 % is like it; = works it out from two strips"),
)  # fmt: skip
"""The rows of an item's form."""

PRICES: tuple[Field, ...] = (
    Field("currency", "Currency", _AT, optional=True, help="the sign or letters before a price"),
    Field("kwh", "A kilowatt-hour", _AT, Kind.NUMBER, "", 0, MOST_MONEY, decimal=True, optional=True),
    Field("water", "A cubic metre of water", _AT, Kind.NUMBER, "", 0, MOST_MONEY, decimal=True, optional=True),
    Field("hour", "An hour of work", _AT, Kind.NUMBER, "", 0, MOST_MONEY, decimal=True, optional=True),
)
"""The rows of the prices' form."""

LEFT = Field("@left", "Left now", _AT, Kind.MASS, "g", 0, 1e6,
             help="weigh what is left, without the jar; what was booked before no longer counts")  # fmt: skip
"""The row of what is left in a bag."""

_ROWS = {row.path: row for row in (*DETAILS, *PRICES, LEFT)}
LONGEST_CURRENCY = 8
AS_A_DAY = "write it like 2026-05-02"


def read_detail(name: str, text: str, *, material: str = "", today: date | None = None) -> FieldValue | Problem:
    """Read what a person typed for a detail or a price; KeyError if there is none of that name.

    With a material, a mass of it may be written as the volume that was poured; with the day that is today, days
    may be written as `today`, `yesterday` and `1 Nov` (the latest one), and none that is still to come.
    """
    row, typed = _ROWS[name], text.strip()
    if not typed and name in ("lot", "currency"):
        return ""
    if typed and row.clock and today:
        day = _read_day(typed, today)
        return refused(row, day.text) if isinstance(day, Problem) else day
    value = read(row, _in_grams(typed, material) if row.kind is Kind.MASS else _bare(row, typed))
    problem = None if isinstance(value, Problem) else detail_problem(name, value)
    return Problem(problem) if problem else value


def _in_grams(typed: str, material: str) -> str:
    """Turn the volume of a liquid that was poured into grams; anything else stays as it was typed."""
    if material not in POURED:
        return typed
    poured = parse_amount(typed, Kind.VOLUME, unit="mL" if material in BY_VOLUME else "")
    if isinstance(poured, Problem) or not fits(poured.unit, Kind.VOLUME):
        return typed
    return f"{to_base(poured, Kind.VOLUME) * 1000 * _density(material):.1f} g"


def _density(material: str) -> float:
    """g/mL."""
    return materials()[material].bulk.value


def _bare(row: Field, typed: str) -> str:
    """Leave out the sign or the letters of a currency before or after a price."""
    if row.kind is not Kind.NUMBER:
        return typed
    match = re.fullmatch(r"(?P<before>\D{0,4}?)\s*(?P<number>[\d.,½¼¾].*?)\s*(?P<after>\D{0,4}?)", typed)
    around = match["before"] + match["after"] if match else ""
    signs = all(unicodedata.category(sign) in ("Sc", "Lu", "Ll") for sign in around)
    return match["number"] if match and signs else typed


def _read_day(typed: str, today: date) -> str | Problem:
    day = day_of(typed.casefold(), today, gone=True, such_as=AS_A_DAY)
    if isinstance(day, Problem):
        return day
    return Problem(f"{typed} is still to come") if day > today else day.isoformat()


def detail_problem(name: str, value: FieldValue, *, empty: bool = False) -> str | None:
    """Say why a value does not fit a detail; None if it does. With `empty`, a mass may be nothing at all."""
    row = _ROWS.get(name)
    if row is None:
        return f"there is no {name!r} to set"
    if value is None:
        return None if row.optional and name != "lot" else f"{row.label}: nothing stands here"
    if row.kind is not None:
        return amount_problem(row, row.kind, value, low=0.0 if empty else None)
    problem = text_problem(row, value, LONGEST_CURRENCY if name == "currency" else LONGEST_TEXT)
    if problem is None and row.clock and not is_day(str(value)):
        return f"{row.label}: {value} is no day; {AS_A_DAY}"
    return problem


def fits_detail(name: str, value: FieldValue, *, empty: bool = False) -> bool:
    """Tell whether a value can stand in a detail of an item."""
    return name in fields_dict(Item) and detail_problem(name, value, empty=empty) is None


def fits_price(name: str, value: FieldValue) -> bool:
    """Tell whether a value can stand as a price."""
    return name in {row.path for row in PRICES} and detail_problem(name, value) is None


def clash(item: Item, name: str) -> str | None:
    """Say why a detail cannot stand beside the others of its item; None if it can."""
    if name in ("purity", "strike"):
        return _purer_than_pure(item)
    if name in ("bought", "opened") and item.bought and item.opened and item.opened < item.bought:
        return f"Opened on {item.opened}: that is before it was bought, {item.bought}"
    return None


def _purer_than_pure(item: Item) -> str | None:
    label, strikes = to_base(item.purity, Kind.PERCENT), to_base(item.strike, Kind.PERCENT)
    counts = label * strikes / 100
    if counts <= 100 * (1 + ROUNDING):
        return None
    return (
        f"Strength {show_amount(item.strike)}: {show_amount(item.purity)} by the label would count as "
        f"{show_value(counts, '%')}, purer than pure; at most {show_value(floor(1e4 / label), '%')}"
    )


def doubtful(strike: Amount) -> str:
    """Say what is doubtful about a strike far from that of the lot it is held against; empty if nothing is."""
    share = to_base(strike, Kind.PERCENT)
    if WEAK <= share <= STRONG:
        return ""
    much = "less than half" if share < WEAK else "more than twice"
    return f"Strength {show_amount(strike)}: {much} the colour of the batch you know. Is that what the strips said?"


def item_problem(item: Item) -> str | None:
    """Say why something cannot stand on the shelf; None if it can."""
    if not ITEM_ID.fullmatch(item.id):
        return f"{item.id!r} is no id of letters and digits"
    problems = (detail_problem(row.path, getattr(item, row.path)) for row in DETAILS)
    return next((problem for problem in problems if problem), None)
