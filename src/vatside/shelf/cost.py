"""What a day costs: powders, water, energy and, if the dyer counts it, her work; in all and for each piece."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from attrs import frozen

from vatside.dayline.day_steps import steps
from vatside.dayline.step_uses import Use, uses
from vatside.days.done import SAID_LATER, Added, added
from vatside.days.keep_vat import carried_from, kept_by
from vatside.days.kept_stock import left, taken_by
from vatside.log.fold import fold, sheet_of
from vatside.log.state import Session, State
from vatside.plan.figure_text import show_weighed
from vatside.plan.measures import lot_grams, powder, share
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.recipe.kept import in_jar
from vatside.shelf.booking import booked
from vatside.shelf.shelf import Owned, Shelf
from vatside.shelf.supplies import Need, Taken, energy_kwh, need_of, needs, serves, water_litres, work_minutes
from vatside.shelf.supplies import taken as taken_in
from vatside.units import Kind, show_mass, show_minutes, show_value, show_volume, to_base


@frozen
class CostRow:
    """One thing that costs."""

    label: str
    amount: str
    money: float | None
    """In the shelf's currency; None if nobody named its price."""
    by_colour: bool = False
    """Shared out by indigotin wanted, not by weight of fibre."""
    went: str = ""
    """How much of it really went in; empty where all of it is by the plan."""


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
    notes: tuple[str, ...] = ()
    """What is counted as it was done, and what stands in a kept vat; sentences."""

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


def day_cost(session: Session, shelf: Shelf) -> Cost:
    """Work out what a session's day costs: what really went in, and by its plan what is still to come.

    What stands in a vat that was kept is taken off, what stood in one that it carries on from is added, both as
    pigment of the price of this day's: the pieces pay for what they took.
    """
    state = fold(session)
    plan, sheet, held = state.plan, sheet_of(state), taken_in(state)
    done = added(session)
    went, vats = _sums(item.use for item in done), tuple(_in_vats(state, sheet, shelf))
    if not went and not vats:
        return cost(plan, shelf, held)
    to_come = _to_come(done, state, sheet)
    needed = [
        (need_of(plan, shelf, held, material, went.get(material, 0.0) + to_come.get(material, 0.0)), material)
        for material in dict.fromkeys((*to_come, *went))
    ]
    rows = [_row_of_day(shelf, session, plan, need, went.get(material, 0.0)) for need, material in needed]
    rows += vats
    rows += _house_rows(plan, sheet, shelf)
    notes = (
        _counted(any(grams > 0 for grams in to_come.values())),
        *_stands("in the kept vat", _left_g(state, sheet)),
        *_stands("in the jar", jar_left_g(state, sheet)),
    )
    return Cost(tuple(rows), _lots(plan, tuple(rows)), shelf.prices.currency, notes)


def went_in(session: Session) -> dict[str, float]:
    """Grams of each material that a day really put in."""
    return _sums(item.use for item in added(session))


def _sums(used: Iterable[Use]) -> dict[str, float]:
    """Grams of each material."""
    sums: dict[str, float] = {}
    for use in used:
        sums[use.material] = sums.get(use.material, 0.0) + use.grams
    return sums


def _to_come(done: tuple[Added, ...], state: State, sheet: Sheet) -> dict[str, float]:
    """Grams of each material that steps still to be done put in."""
    gone = {*state.done, *(item.use.step for item in done)}
    gone |= set(SAID_LATER) if state.tending.let_go is not None else set()
    open_ = (step.id for step in steps(state.plan, sheet) if step.id not in gone)
    sums = _sums(use for step in open_ for use in uses(state.plan, sheet, step))
    return {material: grams for material, grams in sums.items() if grams > 0}


def _row_of_day(shelf: Shelf, session: Session, plan: Plan, need: Need, went: float) -> CostRow:
    """Grams that are booked cost what their own bag does, all others what the plan's bag does."""
    price, paid, rest = _price(shelf, need), 0.0, need.grams
    for use in booked(shelf, session.id):
        bag = next((owned for owned in shelf.owned if owned.item.id == use.item), None)
        own = bag.price_per_gram if bag is not None and bag.item.material == need.material else None
        if own is not None:
            paid, rest = paid + use.grams * own, rest - use.grams
    money = paid + max(rest, 0.0) * (price or 0.0) if price is not None or paid else None
    words = f"{show_weighed(need.material, went)} went in" if went else ""
    amount = show_weighed(need.material, need.grams)
    return CostRow(need.name, amount, money, _is_pigment(plan, need.material), words)


def _in_vats(state: State, sheet: Sheet, shelf: Shelf) -> Iterator[CostRow]:
    """The indigo that a vat brought along, and that stays in it, at the price of the day's pigment."""
    before = carried_from(state)
    for label, grams in (
        ("Indigo that stood in the vat", before.vat.indigotin_g if before else 0.0),
        ("Indigo that stays in the vat", -_left_g(state, sheet)),
        ("Indigo of the kept stock", in_jar(state.plan).indigotin_g),
        ("Indigo that stays in the jar", -jar_left_g(state, sheet)),
    ):
        if grams:
            pigment = powder(state.plan, "indigo")
            need = need_of(state.plan, shelf, taken_in(state), pigment.id, abs(grams) / pigment.purity)
            price = _price(shelf, need)
            money = None if price is None else price * grams / pigment.purity
            yield CostRow(label, show_mass(abs(grams)), money, by_colour=True)


def _left_g(state: State, sheet: Sheet) -> float:
    """Indigotin (g) that stands in the vat when it was kept, or that will in one that the day carries on from.

    0 for a vat of this day's that was not kept: its pieces pay for all of it.
    """
    if state.tending.let_go is not None:
        return 0.0
    kept = kept_by(state)
    return kept[0].vat.indigotin_g if kept else sheet.value("dip.kept") if carried_from(state) else 0.0


def jar_left_g(state: State, sheet: Sheet) -> float:
    """Give the indigotin (g) that stays in the jar, or that other days took from it; as planned before it is made."""
    if state.tending.account is None and state.tending.let_go is None:
        return sheet.value("stock.left_indigotin", 0.0)

    there = [stock for stock in (left(state), *(event.stock for _, event in taken_by(state))) if stock]
    return sum(to_base(stock.indigotin, Kind.MASS) for stock in there)


def _counted(more: bool) -> str:
    rest = ", by the plan what is still to come" if more else ""
    return f"Powders are counted as they went in{rest}; energy, water and work by the plan."


def _stands(where: str, left_g: float) -> Iterator[str]:
    if left_g:
        yield f"{show_mass(left_g)} of indigotin stand {where}: the pieces pay only for what they took."


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
