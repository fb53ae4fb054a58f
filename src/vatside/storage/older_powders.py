"""The alkali and the reducer that days of a format before 3 were given, for what of it has gone in by their log.

The kinds of vat are given other amounts by now. What went into a jar or a tub stays what it was; what had still to go
in follows the plan.
"""

from __future__ import annotations

from collections.abc import Container, Iterator

from attrs import frozen

from vatside.catalogue.load import converter, table
from vatside.plan.measures import powder
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet


@frozen
class Given:
    """Grams of the pure substance, by 0.3.0."""

    alkali: tuple[float, float]
    """Into a stock: for a litre of it, and for a gram of its dye; the larger of the two counts."""
    reducer: tuple[float, float]
    sharpen: tuple[float, float]
    """Alkali and reducer for a litre of the vat."""
    by_powder: bool = False
    """The dye is counted as powder, not as indigotin."""


def _given(method: str) -> Given | None:
    rows = table("older_powders.toml")
    return converter().structure(rows[method], Given) if method in rows else None


STEPS = {
    "stock.alkali": "stock.alkali_in", "stock.reducer": "stock.reducer_in",
    "vat.alkali": "vat.alkali_in", "vat.reducer": "vat.reducer_in",
}  # fmt: skip
"""The step that puts each in."""


def gone_in(plan: Plan, sheet: Sheet, done: Container[str]) -> Iterator[tuple[str, float]]:
    """Give the figures, and grams of product, of which the step is done; none on a kept vat, which wants what it lacks.

    The sheet is that of the plan, with the litres and the pigment that the day had.
    """
    given = _given(plan.method)
    if given is None or plan.kept is not None:
        return
    dye = sheet.value("stock.pigment" if given.by_powder else "stock.indigotin")
    roles = (("alkali", given.alkali, given.sharpen[0]), ("reducer", given.reducer, given.sharpen[1]))
    for role, (litre, gram), sharpen in roles:
        stock = max(litre * sheet.value("stock.water"), gram * dye)
        pure = {f"stock.{role}": stock, f"vat.{role}": sharpen * sheet.value("vat.liquor")}
        purity = powder(plan, role).purity
        yield from ((figure, grams / purity) for figure, grams in pure.items() if STEPS[figure] in done)
