"""Doing a day again: its plan scaled to other lots, with what turned out differently offered as the new defaults."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil, floor, log10

from attrs import evolve, frozen

from vatside.recipe.compute import compute
from vatside.recipe.fields import LONGEST_TEXT, set_value
from vatside.recipe.measures import total_grams
from vatside.recipe.plan import Lot, Plan
from vatside.recipe.sheet import Figure, Sheet, Stage
from vatside.recipe.show import figure_text, plain
from vatside.session.across.dips import Dipped, dipped
from vatside.session.across.done import Added, Waited, added, waited
from vatside.session.fitting import rows, value_problem
from vatside.session.replay import state_at, timeline
from vatside.session.session import Session
from vatside.session.standing import State
from vatside.session.state import fold
from vatside.units import Amount, show_amount, show_mass, show_minutes

WAIT_SHARE = 0.05
WAIT_MINUTES = 2.0
"""A wait that was off by no more than this share and these minutes went as planned. Ours, no source."""
AMOUNT_SHARE = 0.02
"""An amount that was off by no more than this share went as planned. Ours, no source."""
DIP_SHARE = 0.1
"""Dips and airings that were off by no more than this share went as planned. Ours, no source."""
RESULTS = ("finish.before.", "finish.after.")
"""Beginnings of figures that say what a day brought; no other day begins with them."""
OF_TOPPING_UP = (
    "stock.pigment", "stock.jars", "stock.water", "stock.alkali", "stock.reducer",
    "vat.stock", "vat.alkali", "vat.reducer",
)  # fmt: skip
"""Figures that, on a kept vat, are only what it lacked; no new vat begins with them."""
AGAIN = ", again"
LARGEST_SCALE = 1000.0
"""No day is made larger (or smaller) than this. Ours, no source."""


@frozen
class Offer:
    """Something that went differently from what the plan works out, for the next plan to take over."""

    path: str
    """The figure that it would hold."""
    label: str
    planned: str
    actual: str
    value: Amount


def offers(session: Session) -> tuple[Offer, ...]:
    """Give what differed in practice: pins held, amounts really added, real lengths of waits."""
    state = fold(session)
    plan = state.plan
    sheet = compute(evolve(plan, pins=()))
    found: dict[str, Offer] = {}
    seen = (*_held(plan, sheet), *_amounts(plan, sheet, session), *_lengths(plan, sheet, session))
    for offer in (*seen, *_dips(state, sheet)):
        found[offer.path] = offer
    known = rows(plan)
    return tuple(
        offer
        for offer in found.values()
        if _is_for_another_day(plan, offer.path) and value_problem(plan, known[offer.path], offer.value) is None
    )


def _is_for_another_day(plan: Plan, figure: str) -> bool:
    """Tell whether a held figure means the same on another day, in a new vat."""
    return not figure.startswith(RESULTS) and not (plan.kept and figure in OF_TOPPING_UP)


def _held(plan: Plan, sheet: Sheet) -> Iterator[Offer]:
    for pin in plan.pins:
        figure = _figure(sheet, pin.figure)
        if figure is not None and pin.figure in rows(plan):
            planned = figure_text(figure, plan).main
            yield Offer(pin.figure, _label(plan, pin.figure), planned, show_amount(pin.amount), pin.amount)


def _amounts(plan: Plan, sheet: Sheet, session: Session) -> Iterator[Offer]:
    """Amounts that went in before the plan changed; a pin says it better."""
    pinned = {pin.figure for pin in plan.pins}
    for item in added(session):
        figure = _figure(sheet, item.use.figure)
        if figure is None or figure.id in pinned or figure.id not in rows(plan) or not _far(item):
            continue
        planned, actual = show_mass(figure.value), show_mass(item.use.grams)
        yield Offer(figure.id, _label(plan, figure.id), planned, actual, Amount(tidy(item.use.grams), "g"))


def _far(item: Added) -> bool:
    return abs(item.use.grams - item.planned) > AMOUNT_SHARE * max(item.planned, item.use.grams)


def _lengths(plan: Plan, sheet: Sheet, session: Session) -> Iterator[Offer]:
    """Real lengths of waits; the mean where a wait was sat out for several baths."""
    by_figure: dict[str, list[Waited]] = {}
    for wait in waited(session):
        by_figure.setdefault(wait.figure, []).append(wait)
    for path, waits in by_figure.items():
        figure = _figure(sheet, path)
        if figure is None or path not in rows(plan):
            continue
        real = sum(wait.real for wait in waits) / len(waits)
        if abs(real - figure.value) > max(WAIT_MINUTES, WAIT_SHARE * figure.value):
            value = Amount(float(round(real)), "min")
            yield Offer(path, _label(plan, path), show_minutes(figure.value), show_minutes(value.value), value)


def _dips(state: State, sheet: Sheet) -> Iterator[Offer]:
    """Number and lengths of the dips and airings of each lot, as the mean of its pieces."""
    by_lot: dict[str, list[Dipped]] = {}
    for item in dipped(state):
        by_lot.setdefault(item.lot, []).append(item)
    for lot, pieces in by_lot.items():
        count = len(pieces)
        real = {
            f"dip.{lot}.dips": Amount(float(round(sum(item.dips for item in pieces) / count)), ""),
            f"dip.{lot}.dip": Amount(tidy(sum(item.dip_min for item in pieces) / count), "min"),
            f"dip.{lot}.air": Amount(tidy(sum(item.each_air_min for item in pieces) / count), "min"),
        }
        for path, value in real.items():
            figure = _figure(sheet, path)
            if figure is None or path not in rows(state.plan) or value.value <= 0:
                continue
            if abs(value.value - figure.value) > DIP_SHARE * max(figure.value, value.value):
                planned, actual = plain(figure.value, figure.unit), show_amount(value)
                yield Offer(path, _label(state.plan, path), planned, actual, value)


def _figure(sheet: Sheet, path: str) -> Figure | None:
    return next((figure for figure in sheet.figures if figure.id == path), None)


def _label(plan: Plan, path: str) -> str:
    row = rows(plan)[path]
    return f"{row.group}: {row.label}" if row.group else row.label


def repeat(session: Session, chosen: Iterable[str] = (), title: str = "", lots: tuple[Lot, ...] = ()) -> Plan:
    """Give the plan of a new day like this one, with the offers chosen by their paths held.

    With other `lots` the held amounts grow or shrink as the worked-out ones do. The date is left open, the hour
    stays. ValueError for a path that is not among the offers.
    """
    old = evolve(fold(session).plan, pins=())
    new = evolve(afresh(old, title), lots=lots or old.lots)
    before, after = compute(old), compute(new)
    known = {offer.path: offer for offer in offers(session)}
    for path in chosen:
        if path not in known:
            raise ValueError(f"{path} is not among what can be taken over")
        new = _held_if_it_fits(new, path, _scaled(known[path].value, _figure(before, path), after.value(path)))
    return new


def _scaled(value: Amount, before: Figure | None, after: float) -> Amount:
    """Temperatures, times and dips stay as they were; amounts and pots go with the fibre."""
    if before is None or before.unit not in ("g", "L", "") or before.stage is Stage.DIP:
        return value
    return scaled_pin(value, before.value, after, whole=before.unit == "")


def _held_if_it_fits(plan: Plan, path: str, value: Amount) -> Plan:
    """A pin for a bath that the new lots do not need, or beyond its range, is left away."""
    row = rows(plan).get(path)
    if row is None or value_problem(plan, row, value):
        return plan
    return set_value(plan, path, value)


def afresh(plan: Plan, title: str = "") -> Plan:
    """Give a plan for another day: a title of its own, the hour without the date, nothing weighed after, a new vat."""
    hour = plan.ready_by.rpartition("T")[2] if plan.ready_by else None
    pins = tuple(pin for pin in plan.pins if _is_for_another_day(plan, pin.figure))
    return evolve(plan, title=title.strip() or again(plan.title), ready_by=hour, pins=pins, kept=None)


def again(title: str) -> str:
    """Name the next day after the one before; no longer than a title may be."""
    plain = title.removesuffix(AGAIN)
    return plain[: LONGEST_TEXT - len(AGAIN)] + AGAIN


def scaled_lots(plan: Plan, grams: float) -> tuple[Lot, ...]:
    """Scale all lots of a plan so that they weigh `grams` (air-dry) in all; ValueError unless that makes sense.

    Pieces go along, at least one a lot.
    """
    factor = grams / total_grams(plan) if total_grams(plan) else 0.0
    if not 1 / LARGEST_SCALE <= factor <= LARGEST_SCALE:
        raise ValueError(f"{show_mass(grams)} of fibre cannot be made of {show_mass(total_grams(plan))}")
    return tuple(
        evolve(
            lot,
            mass=Amount(tidy(lot.mass.value * factor), lot.mass.unit),
            pieces=min(max(round(lot.pieces * factor), 1), 999),
        )
        for lot in plan.lots
    )


def scaled_pin(value: Amount, before: float, after: float, *, whole: bool = False) -> Amount:
    """Scale a held amount as the worked-out figure went from `before` to `after`; counts go up to a whole number."""
    factor = after / before if before > 0 and after > 0 else 1.0
    if abs(factor - 1) < 1e-9:
        return value
    if whole:
        return Amount(float(ceil(round(value.value * factor, 6))), value.unit)
    if value.unit in ("tsp", "tbsp", "cup"):
        return Amount(max(floor(value.value * factor * 8 + 0.5), 1) / 8, value.unit)
    return Amount(tidy(value.value * factor), value.unit)


def tidy(value: float) -> float:
    """Round to three digits that matter, or to what a scale shows of more."""
    if value == 0:
        return 0.0
    return round(value, max(0, 2 - floor(log10(abs(value)))))


def new_day_from(session: Session, position: float) -> Plan:
    """Give the plan as it stood at a position of a replay (seconds from the beginning), for another day."""
    return afresh(state_at(timeline(session), position).plan)
