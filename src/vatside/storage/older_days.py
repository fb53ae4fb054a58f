"""What a day of an older format went by without saying so, held in its plan, so that a day under way stays as it was.

Until format 3 a tub was filled as far as its headspace lets it, jars of stock were made up whole, and the indigo was
what the fibre takes. What followed from that at the end of the log is held now, and with it the alkali and the reducer
that have gone in by then: the kinds of vat are given other amounts by now. A figure that is gone is let go.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from math import ceil

from attrs import evolve, frozen

from vatside.catalogue.load import converter, table
from vatside.forms.fields import GONE_TAKES, is_gone, rows, value_problem
from vatside.log.events.day import Entry, PinCleared, PinSet
from vatside.log.fold import State, fold
from vatside.log.state import Session
from vatside.plan.measures import brim_litres, held, litres, method_of, powder, share
from vatside.plan.plan import Dosing, Pin, Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.recipe.kept import in_tub, missing_of
from vatside.recipe.need import need_of
from vatside.recipe.sizing import size_of
from vatside.units import Amount, Kind, show_amount

SAME_SHARE = 0.005
"""Indigo that differs by no more than this share is the same: ours."""


@frozen
class OlderDay:
    """A day as it goes on, and what is to be told of it."""

    session: Session
    gone: str = ""
    """What became of a figure that is gone; empty if it held none."""
    held: str = ""
    """What is held from now on."""


def as_planned(session: Session) -> OlderDay:
    """Give a session of a format before 3 with what it was planned with held, and the figures that are gone let go."""
    known = tuple(pin for pin in session.plan.pins if not is_gone(pin.figure))
    gone = len(known) < len(session.plan.pins) or any(_pins_gone(entry) for entry in session.entries)
    session = evolve(session, plan=evolve(session.plan, pins=known, dosing=Dosing.SPENT))
    state = _as_asked(fold(session), session)
    litres_and_dye = dict(_fitting(state.plan, _litres_and_dye(state.plan)))
    amounts = litres_and_dye | dict(_fitting(state.plan, _powders(state, litres_and_dye)))
    pins = (*(pin for pin in known if pin.figure not in amounts), *(Pin(*item) for item in amounts.items()))
    entries = tuple(_kept_held(entry, amounts) for entry in session.entries)
    return OlderDay(
        evolve(session, plan=evolve(session.plan, pins=pins), entries=entries),
        GONE_TAKES if gone else "",
        _told(amounts),
    )


def _as_asked(state: State, session: Session) -> State:
    """Leave out what the fold holds because it has gone in: by today's amounts, which were not those of the day."""
    set_by_hand = (entry.event.figure for entry in session.entries if isinstance(entry.event, PinSet))
    asked = {*set_by_hand, *(pin.figure for pin in session.plan.pins)}
    pins = tuple(pin for pin in state.plan.pins if pin.figure in asked)
    return evolve(state, plan=evolve(state.plan, pins=pins))


def _pins_gone(entry: Entry) -> bool:
    event = entry.event
    return isinstance(event, PinSet | PinCleared) and is_gone(event.figure)


def _kept_held(entry: Entry, amounts: Mapping[str, Amount]) -> Entry:
    """What was let follow the plan again followed a full tub and whole jars."""
    event = entry.event
    if isinstance(event, PinCleared) and event.figure in amounts:
        return evolve(entry, event=PinSet(event.figure, amounts[event.figure]))
    return entry


def _fitting(plan: Plan, amounts: Iterable[tuple[str, Amount]]) -> Iterator[tuple[str, Amount]]:
    """Leave out what the dyer holds herself and what the form would not take."""
    pinned = {pin.figure for pin in plan.pins}
    for figure, amount in amounts:
        row = rows(plan).get(figure)
        if figure not in pinned and row is not None and value_problem(plan, row, amount) is None:
            yield figure, amount


def _litres_and_dye(plan: Plan) -> Iterator[tuple[str, Amount]]:
    full = Amount(_round(_full(plan)), "L")
    yield "vat.fill", full
    yield "stock.water", Amount(_round(_whole_jars(plan)), "L")
    if _would_get_more(_holding(plan, {"vat.fill": full})):
        yield "stock.pigment", Amount(_round(_for_the_fibre(plan)), "g")


def _powders(state: State, amounts: Mapping[str, Amount]) -> Iterator[tuple[str, Amount]]:
    """Give the alkali and the reducer that have gone in."""
    plan = _holding(state.plan, amounts)
    yield from ((figure, Amount(_round(grams), "g")) for figure, grams in gone_in(plan, compute(plan), state.done))


def _holding(plan: Plan, amounts: Mapping[str, Amount]) -> Plan:
    """Give a plan that holds some figures which it does not hold yet."""
    pinned = {pin.figure for pin in plan.pins}
    more = (Pin(figure, amount) for figure, amount in amounts.items() if figure not in pinned)
    return evolve(plan, pins=(*plan.pins, *more))


def _would_get_more(plan: Plan) -> bool:
    """Tell whether the vat would be given more indigo today, to spare dips."""
    size = size_of(plan)
    return size.indigotin > size.needed * (1 + SAME_SHARE)


def _full(plan: Plan) -> float:
    """How far the tub is filled that leaves its headspace, L."""
    return brim_litres(plan, plan.vessels.tub) * (1 - share(plan.vessels.tub.headspace))


def _whole_jars(plan: Plan) -> float:
    """Stock in as many jars as the powder wants, L; nothing to hold on a kept vat, which wants little or none."""
    if plan.kept is not None:
        return 0.0
    jar, own = litres(plan, plan.vessels.stock_jar), held(plan, "stock.jars", Kind.NUMBER)
    most = method_of(plan).stock.pigment_limit.value * jar
    jars = max(ceil(round(_powder(plan) / most, 6)), 1) if own is None else own
    return jars * jar


def _powder(plan: Plan) -> float:
    """Indigo powder, g: as held, or else what the fibre takes."""
    pigment = powder(plan, "indigo")
    own = next((pin.amount for pin in plan.pins if pin.figure == "stock.pigment"), None)
    return _for_the_fibre(plan) if own is None else pigment.grams(own, plan.spoons)


def _for_the_fibre(plan: Plan) -> float:
    """Indigo powder that the fibre takes, less what a kept vat holds, g."""
    need = need_of(plan)
    return missing_of(need.on_fibre / need.indigo_yield, in_tub(plan).indigotin_g) / powder(plan, "indigo").purity


def _round(value: float) -> float:
    return float(f"{value:.6g}")


def _told(amounts: Mapping[str, Amount]) -> str:
    names = {"vat.fill": "filled to", "stock.water": "stock in", "stock.pigment": "powder"}
    parts = [f"{name} {_shown(amounts[figure])}" for figure, name in names.items() if figure in amounts]
    return f"this day keeps what it was planned with: {', '.join(parts)}" if parts else ""


def _shown(amount: Amount) -> str:
    return show_amount(evolve(amount, value=float(f"{amount.value:.3g}")))


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
