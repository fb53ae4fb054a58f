"""Doing a day again: its plan scaled to other lots, with what turned out differently offered as the new defaults."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from contextlib import suppress
from datetime import datetime, time, timedelta, tzinfo
from math import ceil
from typing import Any

from attrs import evolve, frozen

from vatside.dayline.day_steps import steps
from vatside.dayline.hours import DAY_MIN
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.line.model import NoPlanError
from vatside.days.blues import dipped
from vatside.days.done import Added, added, waited
from vatside.days.lots import FILL, STRENGTH, anew, fibre_ratio, fill_for, held_for_strength, is_same, scaled_pin, tidy
from vatside.days.replay import state_at, timeline
from vatside.forms.fields import LONGEST_TEXT, row_name, rows, set_value, value_problem
from vatside.log.fold import fold
from vatside.log.state import Session, State
from vatside.plan.figure_text import figure_text
from vatside.plan.grouping import gathered
from vatside.plan.hours import on_wall
from vatside.plan.measures import method_of, powder
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Figure, Sheet, Stage
from vatside.recipe.compute import compute
from vatside.units import Amount, show_amount, show_concentration, show_count, show_mass, show_minutes, show_volume

WAIT_SHARE = 0.05
WAIT_MINUTES = 2.0
"""A wait that was off by no more than this share and these minutes went as planned. Ours, no source."""
SAT_OUT = 0.5
"""A wait that was ended before this share of it was not sat out, and says nothing of its length. Ours, no source."""
AMOUNT_SHARE = 0.02
"""An amount that was off by no more than this share went as planned. Ours, no source."""
DIP_SHARE = 0.1
"""Dips and airings that were off by no more than this share went as planned. Ours, no source."""
RESULTS = ("finish.before.", "finish.after.")
"""Beginnings of figures that say what a day brought; no other day begins with them."""
OF_TOPPING_UP = (
    "stock.pigment", "stock.jars", "stock.water", "stock.alkali", "stock.reducer",
    "stock.others", "vat.stock", "vat.stock_kept", "vat.alkali", "vat.reducer", "vat.tub",
)  # fmt: skip
"""Figures that, on a kept vat or a kept stock, are only what it lacked, and where it stands; no new vat begins with
them."""


@frozen
class Offer:
    """Something that went differently from what the plan works out, for the next plan to take over."""

    path: str
    """The figure that it would hold."""
    label: str
    planned: str
    actual: str
    value: Amount


def offers(session: Session, lots: tuple[Lot, ...] = ()) -> tuple[Offer, ...]:
    """Give what differed in practice: pins held, amounts really added, corrections, real lengths of waits.

    For other `lots`, or after a kept vat, also what makes the same strength of them.
    """
    state = fold(session)
    plan = state.plan
    sheet = compute(evolve(plan, pins=()))
    by_path: dict[str, Offer] = {}
    seen = (*_held(plan, sheet), *_amounts(plan, sheet, session), *_corrected(plan, sheet, session))
    for offer in (*seen, *_lengths(plan, sheet, session), *_dips(state, sheet)):
        by_path[offer.path] = offer
    known = rows(plan)
    fitting = {
        offer.path: offer
        for offer in by_path.values()
        if _is_for_another_day(plan, offer.path) and value_problem(plan, known[offer.path], offer.value) is None
    }
    # What keeps the strength stands first, and its fill counts instead of one that was held.
    same = {offer.path: offer for offer in _same_strength(plan, lots or plan.lots)}
    return tuple((same | fitting | same).values())


def _is_for_another_day(plan: Plan, figure: str) -> bool:
    """Tell whether a held figure means the same on another day, in a new vat."""
    return not figure.startswith(RESULTS) and not ((plan.kept or plan.stock_kept) and figure in OF_TOPPING_UP)


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


def _corrected(plan: Plan, sheet: Sheet, session: Session) -> Iterator[Offer]:
    """Alkali, buffer and reducer with what corrections put in on top: what the vat really needed.

    Not of a vat that is fed as it lives: all of it on the first day would keep it asleep.
    """
    if method_of(plan).vat.wakes is not None:
        return
    items, held = added(session), compute(plan)
    given: dict[str, Figure] = {}
    for role in ("soda-ash", "baking-soda", "alkali", "reducer"):  # soda by its own figure, where the vat has both
        if figure := _figure(sheet, f"vat.{role}"):
            given.setdefault(powder(plan, role).id, figure)
    for material, figure in given.items():
        path = figure.id
        more = sum(item.use.grams for item in items if item.use.figure == f"correction.{material}")
        if not more:
            continue
        put_in = [item.use.grams for item in items if item.use.figure == path]
        grams = more + (sum(put_in) if put_in else held.value(path))
        planned, actual = show_mass(figure.value), f"{show_mass(grams)} with corrections"
        yield Offer(path, _label(plan, path), planned, actual, Amount(tidy(grams), "g"))


def _same_strength(plan: Plan, lots: tuple[Lot, ...]) -> Iterator[Offer]:
    """The vat filled by the fibre, where a tub holds it; and the indigo for the strength of that day.

    Neither where the vat that is made for the lots comes to that strength by itself.
    """
    if fibre_ratio(plan, lots) == 1 and plan.kept is None and plan.stock_kept is None:
        return
    held, new = compute(plan), compute(anew(plan, lots))
    was, comes = held.value(STRENGTH), new.value(STRENGTH)
    if is_same(was, comes):
        return
    filled = fill_for(plan, lots)
    if filled is not None:
        planned, actual = show_volume(new.value(FILL)), show_volume(held.value(FILL))
        value = Amount(tidy(filled), "L")
        yield Offer(FILL, "Vat: Filled by the fibre, for the same g/L", planned, actual, value)
    planned, actual = show_concentration(comes), show_concentration(was)
    yield Offer(STRENGTH, "Stock: Indigo held for the same g/L", planned, actual, Amount(was, "g/L"))


def _lengths(plan: Plan, sheet: Sheet, session: Session) -> Iterator[Offer]:
    """Real lengths of waits; the mean where a wait was sat out for several baths."""
    sat_out = (wait for wait in waited(session) if wait.real >= SAT_OUT * wait.planned)
    by_figure = gathered((wait.figure, wait) for wait in sat_out)
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
    by_lot = gathered((item.lot, item) for item in dipped(state))
    for lot, pieces in by_lot.items():
        count = len(pieces)
        real = {
            f"dip.{lot}.dips": Amount(float(round(sum(item.dips for item in pieces) / count)), ""),
            f"dip.{lot}.dip": Amount(tidy(sum(item.dip_min for item in pieces) / count), "min"),
            f"dip.{lot}.air": Amount(tidy(_mean([item.each_air_min for item in pieces if item.airings])), "min"),
        }
        for path, value in real.items():
            figure = _figure(sheet, path)
            if figure is None or path not in rows(state.plan) or value.value <= 0:
                continue
            if abs(value.value - figure.value) > DIP_SHARE * max(figure.value, value.value):
                planned, actual = (_length(length, value.unit) for length in (figure.value, value.value))
                yield Offer(path, _label(state.plan, path), planned, actual, value)


def _length(value: float, unit: str) -> str:
    """Write a length of time, or a number of dips."""
    return show_minutes(value) if unit == "min" else show_count(round(value), "dip")


def _mean(values: list[float]) -> float:
    """Give the mean; 0 of none."""
    return sum(values) / len(values) if values else 0.0


def _figure(sheet: Sheet, path: str) -> Figure | None:
    return next((figure for figure in sheet.figures if figure.id == path), None)


def _label(plan: Plan, path: str) -> str:
    return row_name(rows(plan)[path])


def repeat(session: Session, chosen: Iterable[str] = (), title: str = "", lots: tuple[Lot, ...] = ()) -> Plan:
    """Give the plan of a new day like this one, with the offers chosen by their paths held.

    Names of persons stay with the old day. With other `lots` the held amounts grow or shrink as the worked-out ones
    do. The date is left open, the hour stays. ValueError for a path that is not among the offers.
    """
    plan = fold(session).plan
    old = evolve(plan, pins=())
    new = evolve(afresh(old, title), lots=tuple(evolve(lot, names=()) for lot in lots or old.lots))
    known, wanted = {offer.path: offer for offer in offers(session, lots)}, tuple(chosen)
    for path in wanted:
        if path not in known:
            raise ValueError(f"{path} is not among what can be taken over")
    if FILL in wanted:
        new = _held_if_it_fits(new, FILL, known[FILL].value)
    before, after = compute(evolve(old, pins=tuple(pin for pin in plan.pins if pin.figure == FILL))), compute(new)
    for path in wanted:
        if path not in (FILL, STRENGTH):
            new = _held_if_it_fits(new, path, _scaled(known[path].value, path, before, after))
    if STRENGTH in wanted:
        for path, amount in held_for_strength(new, compute(new), known[STRENGTH].value.value):
            new = _held_if_it_fits(new, path, amount)
    return new


def _scaled(value: Amount, path: str, before: Sheet, after: Sheet) -> Amount:
    """Temperatures, times and dips stay as they were; amounts and pots go with the fibre.

    What went into a vat that by the plan wants none of it goes with the liquor.
    """
    figure = _figure(before, path)
    if figure is None or figure.unit not in ("g", "L", "") or figure.stage is Stage.DIP:
        return value
    was, now = figure.value, after.value(path)
    if figure.stage is Stage.VAT and not (was and now):
        was, now = before.value("vat.liquor"), after.value("vat.liquor")
    return scaled_pin(value, was, now, whole=figure.unit == "")


def _held_if_it_fits(plan: Plan, path: str, value: Amount) -> Plan:
    """A pin for a bath that the new lots do not need, or beyond its range, is left away."""
    row = rows(plan).get(path)
    if row is None or value_problem(plan, row, value):
        return plan
    return set_value(plan, path, value)


def afresh(plan: Plan, title: str = "") -> Plan:
    """Give a plan for another day: a title of its own, the hour without the date, nothing weighed after, a new vat."""
    hour = _undated(plan.ready_by)
    pins = tuple(pin for pin in plan.pins if _is_for_another_day(plan, pin.figure))
    place = evolve(
        plan.place,
        **{name: _undated(getattr(plan.place, name)) for name in ("lunch_from", "lunch_to", "not_before", "home_by")},
    )
    lots = tuple(evolve(lot, comes=_undated(lot.comes)) for lot in plan.lots)
    return evolve(
        plan, title=title.strip() or again(plan.title), ready_by=hour, pins=pins, kept=None, stock_kept=None,
        place=place, lots=lots,
    )  # fmt: skip


def _undated(hour: str | None) -> Any:
    """The clock time alone."""
    return hour.rpartition("T")[2] if hour else None


MOST_DAYS = 3
"""Days that are tried before the last of them stays, late as it is."""


def on_its_day(plan: Plan, now: datetime, zone: tzinfo | None = None) -> Plan:
    """Give the plan with its bare hour dated by the first day on which it can be met: today it may be out of reach.

    The hour at which vat and fibre are wanted, or where there is none, that by which all is to be done.
    """
    name, hour = ("ready_by", plan.ready_by) if plan.ready_by else ("place.home_by", plan.place.home_by)
    if not hour or "T" in hour:
        return plan
    sheet, wall = compute(plan), on_wall(now, zone).replace(tzinfo=None)
    todo, wanted = steps(plan, sheet), datetime.combine(wall.date(), time.fromisoformat(hour))
    wanted += timedelta(days=wanted <= wall)
    for _ in range(MOST_DAYS):
        plan = set_value(plan, name, wanted.isoformat(timespec="minutes"))
        with suppress(NoPlanError):
            wanted += timedelta(days=_days_late(lay_day(plan, sheet, todo, now, zone=zone, evaluations=1)))
    return plan


def _days_late(day: LaidDay) -> int:
    """Days by which an hour is out of reach; none where more time than the day takes is left before it begins.

    What so few orders are late by then is minutes, which the day's own search finds, and another date does not.
    """
    waits = day.soonest is not None and day.begin > day.soonest
    return 0 if waits else max(ceil(-(day.spare or 0) / DAY_MIN), 0)


def new_day_from(session: Session, position: float) -> Plan:
    """Give the plan as it stood at a position of a replay (seconds from the beginning), for another day."""
    return afresh(state_at(timeline(session), position).plan)


AGAIN = ", again"
_AGAIN = re.compile(rf"{AGAIN}(?: \d+)?$", re.ASCII)
_NUMBERED = re.compile(r" \d+$", re.ASCII)


def again(title: str) -> str:
    """Name the next day after the one before; no longer than a title may be."""
    return _AGAIN.sub("", title)[: LONGEST_TEXT - len(AGAIN)] + AGAIN


def free_title(title: str, taken: Collection[str]) -> str:
    """Give a title that no other day has, by a number behind it: `Towels, again 2`."""
    if title not in taken:
        return title
    plain, number = _NUMBERED.sub("", title), 2
    while (numbered := f"{plain[: LONGEST_TEXT - len(str(number)) - 1]} {number}") in taken:
        number += 1
    return numbered
