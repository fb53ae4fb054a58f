"""What a day costs: powders, water, energy and, if the dyer counts it, her work; in all and for each piece."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import frozen

from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.heat import water_mass
from vatside.chemistry.water import enthalpy
from vatside.dayline.day import steps
from vatside.recipe.compute import compute
from vatside.recipe.kept import in_tub
from vatside.recipe.measures import celsius, lot_grams, powder, share
from vatside.recipe.plan import Lot, Plan
from vatside.recipe.scour import baths
from vatside.recipe.sheet import Sheet
from vatside.session.shelf.details import show_weighed
from vatside.session.shelf.shelf import Owned, Shelf
from vatside.session.shelf.source import Taken
from vatside.session.shelf.supplies import Need, needs, serves
from vatside.units import show_minutes, show_value, show_volume

KJ_PER_KWH = 3600.0


@frozen
class CostRow:
    """One thing that costs."""

    label: str
    amount: str
    money: float | None
    """In the shelf's currency; None if nobody named its price."""
    by_colour: bool = False
    """Shared out by indigotin wanted, not by weight of fibre."""


@frozen
class LotCost:
    """What one lot costs."""

    name: str
    pieces: int
    total: float
    each: float
    """For one piece."""


@frozen
class Cost:
    """What a day costs, as far as prices are known."""

    rows: tuple[CostRow, ...]
    lots: tuple[LotCost, ...]
    currency: str

    @property
    def total(self) -> float:
        """Everything that has a price."""
        return sum(row.money for row in self.rows if row.money is not None)

    @property
    def each(self) -> float:
        """For one piece, if all pieces cost the same; see `lots` for the difference that depth makes."""
        pieces = sum(lot.pieces for lot in self.lots)
        return self.total / pieces if pieces else 0.0

    @property
    def unpriced(self) -> tuple[str, ...]:
        """What is left out because nobody named its price."""
        return tuple(row.label for row in self.rows if row.money is None)

    def money(self, value: float) -> str:
        """Print an amount of money."""
        return f"{self.currency} {value:.2f}".strip()


def cost(plan: Plan, shelf: Shelf, taken: Taken | None = None) -> Cost:
    """Work out what the plan's day costs. Energy heats from the cold tap, without losses."""
    sheet = compute(plan)
    rows = (
        *(_powder_row(shelf, plan, need) for need in needs(plan, shelf, taken)),
        *_house_rows(plan, sheet, shelf),
    )
    return Cost(rows, _lots(plan, rows), shelf.prices.currency)


def _powder_row(shelf: Shelf, plan: Plan, need: Need) -> CostRow:
    price = _price(shelf, need)
    money = None if price is None else need.grams * price
    amount = show_weighed(need.material, need.grams)
    return CostRow(need.name, amount, money, by_colour=_is_pigment(plan, need.material))


def _price(shelf: Shelf, need: Need) -> float | None:
    """Price of a gram as weighed: of the bag it is weighed from, or else by what is active in the one bought last."""
    if need.bag is not None and need.bag.price_per_gram is not None:
        return need.bag.price_per_gram
    priced = [item for item in shelf.owned if serves(item, need.material)]
    active = [(item.item.bought or "", price) for item in priced if (price := _active_price(item)) is not None]
    return max(active, key=lambda pair: pair[0])[1] * need.purity if active else None


def _active_price(owned: Owned) -> float | None:
    price = owned.price_per_gram
    return price / owned.purity if price is not None and owned.purity > 0 else None


def _is_pigment(plan: Plan, material: str) -> bool:
    return powder(plan, "indigo").id == material


def _house_rows(plan: Plan, sheet: Sheet, shelf: Shelf) -> Iterator[CostRow]:
    prices = shelf.prices
    kwh, litres, minutes = energy_kwh(plan, sheet), water_litres(plan, sheet), work_minutes(plan, sheet)
    yield CostRow("Energy", show_value(kwh, "") + " kWh", None if prices.kwh is None else kwh * prices.kwh)
    yield CostRow("Water", show_volume(litres), None if prices.water is None else litres / 1000 * prices.water)
    if prices.hour is not None:
        yield CostRow("Work", show_minutes(minutes), minutes / 60 * prices.hour)


def work_minutes(plan: Plan, sheet: Sheet) -> float:
    """Minutes of hands-on work of the day's steps."""
    return sum(step.hands_min for step in steps(plan, sheet))


def water_litres(plan: Plan, sheet: Sheet) -> float:
    """Litres that come out of the taps; the finish is not in it."""
    value = sheet.value
    scour = sum(
        value(bath.id("soak_water")) + value(bath.id("baths")) * value(bath.id("load_water"))
        + value(bath.id("rinse_water"))
        for bath in baths(plan)
    )  # fmt: skip
    return scour + value("stock.water") + value("stock.bath") + value("vat.water")


def energy_kwh(plan: Plan, sheet: Sheet) -> float:
    """Energy that warms the day's water from the cold tap, kWh, without losses [Popiel1998] [Kell1975].

    Every scour bath to its hold, the first rinse of a load to its own temperature, stock, warm bath and vat, and what
    stays of a kept vat from as warm as it stands; the later rinses are taken to be cold.
    """
    cold = celsius(plan.water.cold)
    value = sheet.value
    warm = [(value("stock.water"), value("stock.start")), (value("vat.water"), value("vat.temperature"))]
    warm.append((value("stock.bath"), value("stock.bath_temperature")))
    for bath in baths(plan):
        pot = value(bath.id("load_water"))
        warm.append((pot * value(bath.id("baths")), value(bath.id("hold_temperature"))))
        warm.append((pot * value(bath.id("loads")), value(bath.id("rinse_temperature"))))
    stays = _kwh(value("vat.kept") - value("vat.surplus"), in_tub(plan).celsius, value("vat.temperature"))
    return stays + sum(_kwh(litres, cold, to) for litres, to in warm)


def _kwh(litres: float, from_C: float, to_C: float) -> float:
    try:
        heat = water_mass(litres, from_C) * (enthalpy(to_C) - enthalpy(from_C))
    except OutOfRange:
        return 0.0
    return max(heat, 0.0) / KJ_PER_KWH


def _lots(plan: Plan, rows: tuple[CostRow, ...]) -> tuple[LotCost, ...]:
    """Share the day out: pigment by the indigotin that a lot wants, everything else by its weight."""
    colour = sum(row.money or 0.0 for row in rows if row.by_colour)
    other = sum(row.money or 0.0 for row in rows if not row.by_colour)
    weights = [lot_grams(plan, lot) for lot in plan.lots]
    dyes = [lot_grams(plan, lot) * share(lot.depth) for lot in plan.lots]
    shares = zip(plan.lots, weights, dyes, strict=True)
    return tuple(_lot(lot, other * _part(weight, weights) + colour * _part(dye, dyes)) for lot, weight, dye in shares)


def _part(one: float, all_of_them: list[float]) -> float:
    total = sum(all_of_them)
    return one / total if total else 1 / len(all_of_them)


def _lot(lot: Lot, total: float) -> LotCost:
    return LotCost(lot.name, lot.pieces, total, total / max(lot.pieces, 1))
