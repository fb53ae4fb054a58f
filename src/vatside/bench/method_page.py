"""The page of a kind of vat: for what, how long, what it weighs and costs in a plan, what it harms, how it ends."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from vatside.catalogue.load import cautions, materials
from vatside.catalogue.values import Method
from vatside.plan.measures import method_of
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute
from vatside.shelf.cost import Cost, cost
from vatside.shelf.shelf import Shelf
from vatside.shelf.shelf_file import ShelfFile
from vatside.units import show_count, show_minutes
from vatside.units.show import capital

GROUP_WORDS = {"cellulose": "plant fibres", "silk": "silk", "protein": "wool and hair"}
"""Groups of fibre as a dyer says them, in the order in which they are named."""


def shelf_beside(sessions: Path) -> Shelf:
    """Give what is owned, beside a folder of sessions."""
    return ShelfFile(sessions.parent / "shelf.json").shelf


def method_page(plan: Plan, shelf: Shelf) -> tuple[tuple[str, str], ...]:
    """Give the page of the plan's kind of vat, as a word and what is to be said of it, line by line."""
    method, spent = method_of(plan), cost(plan, shelf)
    return (
        ("for", f"{capital(method.about)}."),
        ("suits", _suits(method)),
        ("takes", _takes(plan)),
        ("keeps", _keeps(method)),
        ("weighs", _weighs(method, spent)),
        ("costs", _costs(spent)),
        *(("harms", words) for words in _harms(method)),
        ("ends", _ends(method)),
    )


def _suits(method: Method) -> str:
    groups = (group for group in GROUP_WORDS if group in method.vat.suits)
    warm = ((group, method.vat.warmth.of(group).value) for group in groups)
    return "; ".join(f"{GROUP_WORDS[group]} at {celsius:g} °C" for group, celsius in warm) + "."


def _takes(plan: Plan) -> str:
    """The rests by which such a vat is slow or quick, as this plan has them."""
    sheet = compute(plan)
    rests = (("stock", sheet.value("stock.hold", 0)), ("vat", sheet.value("vat.rest", 0)))
    words = [f"the {name} rests {show_minutes(minutes)}" for name, minutes in rests if minutes]
    return f"{' and '.join(words).capitalize() or 'No rest'}, beside the work of hands."


def _keeps(method: Method) -> str:
    stock = show_count(round(method.stock.keeps.value), "day")
    return f"The vat {show_count(method.keeps_days, 'day')}, fed and closed; stock in its jar {stock}."


def _powders(method: Method) -> tuple[str, ...]:
    return tuple(dict.fromkeys((method.indigo, method.reducer, method.alkali)))


def _weighs(method: Method, spent: Cost) -> str:
    names = {materials()[name].name for name in _powders(method)}
    rows = (row for row in spent.rows if row.label in names)
    return "; ".join(f"{row.label} {row.amount}" for row in rows) + ", for this plan, wherever it takes them."


def _costs(spent: Cost) -> str:
    """The plan's money with such a vat, as far as the shelf has prices."""
    missing = [row.label for row in spent.rows if row.money is None]
    if len(missing) == len(spent.rows):
        return "No prices yet: the shelf takes them (o, shelf)."
    left_out = f", without {', '.join(missing)}: no price" if missing else ""
    return f"{spent.money(spent.total)} for this plan{left_out}."


def _harms(method: Method) -> Iterator[str]:
    """Each caution of its powders once, in full."""
    keys = dict.fromkeys(key for name in _powders(method) for key in materials()[name].cautions)
    yield from (f"{cautions()[key].title}. {' '.join(cautions()[key].lines)}" for key in keys)


def _ends(method: Method) -> str:
    if method.end is not None:
        return f"{method.end.no_acid} {method.end.instead}"
    return "Aired until it stays blue, brought to a mild pH with acid, then by the local rules."
