"""The stock that a vat left in its jar: what it is, its label, and another vat from it, the same day or later."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, tzinfo
from pathlib import Path

from attrs import evolve, frozen

from vatside.dayline.step_words import label, made_of_kept
from vatside.dayline.steps import Step
from vatside.days.kept_vats import states_with
from vatside.days.repeat import afresh
from vatside.log.effects.vat import jar_of
from vatside.log.events.vat import StockCarriedOn, StockTaken, VatMade
from vatside.log.fold import State
from vatside.log.state import Tending, happened, last_event
from vatside.log.vat_account import kept_vat
from vatside.log.waits import Moment
from vatside.plan.figure_text import plain
from vatside.plan.hours import on_wall
from vatside.plan.measures import ROLES, method_of, powder, species_of
from vatside.plan.plan import Plan, StockKept
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.recipe.kept import CLINGS_L, READ_IT, in_jar, past_days
from vatside.units import Amount
from vatside.vat.account import Account

LABELLED = "finish.jar"
"""The step in which the jar that is left is closed and labelled."""
READY = ("stock.look", "stock.hold_warm", "stock.reducer_in")
"""Steps by which a stock is made; the first of them that was done tells when."""
REDUCER_LASTS_S = 24 * 3600.0
"""After a day the reducer that was left in a jar no longer counts: common practice, no source."""
WORDS = (b'"stock.others"', b'"vat.stock"', b'"vat.stock_kept"', b'"stock_carried_on"', b'"finish.jar"')
"""What a file contains whose vat may have left stock: others are not read in full for it."""


def left(state: State, zone: tzinfo | None = None) -> StockKept | None:
    """Give what stays in the jar by the account; None before the vat is made, and where no more than clings is left.

    When it was made is local time, on the wall of `zone` or the machine's own.
    """
    jar, account = jar_of(state.tending), state.tending.account
    if jar is None:
        return None
    alkali = account.alkali if account else species_of(state.plan, "alkali")
    kept = kept_vat(evolve(state, tending=Tending(Account(jar, alkali))))
    if kept is None or kept.litres <= CLINGS_L:
        return None
    indigotin, alkali_, reducer = (Amount(g, "g") for g in (kept.indigotin_g, kept.alkali_g, kept.reducer_g))
    return StockKept(Amount(kept.litres, "L"), indigotin, alkali_, reducer, made_at(state, zone))


def made_at(state: State, zone: tzinfo | None = None) -> str | None:
    """Give the local time at which the stock was made: of a kept one that stays, its own; else by the log."""
    there = state.plan.stock_kept
    if there is not None and (there.made is None or _stays(state)):
        return there.made
    moments = [state.done[step] for step in READY if step in state.done]
    moments += [entry.at for entry in happened(state, VatMade)]
    return _wall(moments[0], zone) if moments else None


def _stays(state: State) -> bool:
    """Tell whether some of the kept stock stays in its jar; where none does, what is left is this day's own."""
    brought = compute(state.plan).value("vat.stock_kept", 0.0)
    return in_jar(state.plan).litres - brought > CLINGS_L


def _wall(at: Moment, zone: tzinfo | None) -> str:
    return on_wall(at.utc, zone).replace(tzinfo=None).isoformat(timespec="minutes")


# Its label


def label_lines(state: State, sheet: Sheet, zone: tzinfo | None = None) -> tuple[str, ...]:
    """Give the label of the jar: by the account once there is one, else as planned; nothing where none is left."""
    if is_made(state):
        stock = left(state, zone)
        return stock_label(state.plan, stock) if stock else ()
    if not sheet.value("stock.left", 0.0):
        return ()
    return label(state.plan, sheet.value("stock.left"), sheet.value("stock.left_strength"), None)


def is_made(state: State) -> bool:
    """Tell whether the account knows what is in the jar: its vat was made, and perhaps is gone by now."""
    return state.tending.account is not None or state.tending.let_go is not None


def stock_label(plan: Plan, stock: StockKept) -> tuple[str, ...]:
    """Give the label of a stock that is left."""
    jar = in_jar(evolve(plan, stock_kept=stock))
    made = datetime.fromisoformat(stock.made) if stock.made and "T" in stock.made else None
    return label(plan, jar.litres, jar.strength, made)


def with_label(steps: Sequence[Step], state: State, sheet: Sheet) -> tuple[Step, ...]:
    """Give the steps with the label of the jar as the log knows it; without that step once another day has the jar."""
    if not any(step.id == LABELLED for step in steps) or not is_made(state):
        return tuple(steps)
    words = "; ".join(label_lines(state, sheet))
    planned = "; ".join(_planned(state.plan, sheet))
    if not words and LABELLED not in state.done:
        return tuple(step for step in steps if step.id != LABELLED)
    return tuple(
        evolve(step, text=step.text.replace(planned, words)) if step.id == LABELLED and words else step
        for step in steps
    )


def _planned(plan: Plan, sheet: Sheet) -> tuple[str, ...]:
    litres, strength = sheet.value("stock.left", 0.0), sheet.value("stock.left_strength", 0.0)
    return label(plan, litres, strength, made_of_kept(plan, sheet))


# Another vat from it


@frozen
class Taken:
    """The beginning of a session whose vat is made from the stock of another one."""

    plan: Plan
    stock: StockKept
    """All that was left, as it is now."""


def take(state: State, now: Moment, title: str = "", zone: tzinfo | None = None) -> Taken | None:
    """Give the plan of a new day with the stock that a session left; None if nothing is left.

    The first day may be under way still. After a day the reducer no longer counts.
    """
    stock = left(state, zone)
    if stock is None:
        return None
    plan = afresh(evolve(state.plan, pins=()), title)
    return Taken(plan, aged(stock, _wall(now, zone)))


def aged(stock: StockKept, now: str) -> StockKept:
    """Give a stock as it is at a local time: its reducer is not counted on after a day, or where nobody knows."""
    gone = _seconds(stock.made, now)
    spent = gone is None or gone >= REDUCER_LASTS_S
    return evolve(stock, taken=now, reducer=Amount(0.0, "g") if spent else stock.reducer)


def _seconds(made: str | None, now: str) -> float | None:
    if made is None or "T" not in made:
        return None
    return (datetime.fromisoformat(now) - datetime.fromisoformat(made)).total_seconds()


def takes(state: State, plan: Plan) -> bool:
    """Tell whether a day that is being planned can still take a stock of another plan: none in, nothing of it begun."""
    begun = any(step.startswith(("stock.", "vat.")) for step in state.done)
    same = all(powder(state.plan, role).material == powder(plan, role).material for role in ROLES)
    there = state.plan.stock_kept is not None or is_made(state)
    return same and state.plan.method == plan.method and not begun and not there


def events(old: State, taken: Taken, new: str, title: str, now: Moment) -> tuple[StockTaken, StockCarriedOn]:
    """Give what goes into the log of the day that left the stock, and into that of the new one (its id and title)."""
    return (
        StockTaken(new, title, taken.stock),
        StockCarriedOn(old.session, old.plan.title, now.utc, taken.stock),
    )


def taken_by(state: State) -> tuple[tuple[int, StockTaken], ...]:
    """Give what other days took of this one's stock, with the number of each entry."""
    entries = happened(state, StockTaken)
    return tuple((entry.seq, entry.event) for entry in entries if isinstance(entry.event, StockTaken))


def origin(state: State) -> StockCarriedOn | None:
    """Give the event that says whose stock a day's vat is made from; None if it makes its own."""
    return last_event(state, StockCarriedOn)


def age_words(plan: Plan, stock: StockKept, now: str) -> str:
    """Warn of a stock that is past its days at a local time; empty while it is not, or where nobody knows."""
    if past_days(plan, stock.made, now) is None:
        return ""
    keeps = plain(1440 * method_of(plan).stock.keeps.value, "min")
    return f"It is past the {keeps} that its kind keeps. {READ_IT}"


# Those that stand ready


@frozen
class StandingStock:
    """A stock that stands in its jar and waits for another vat."""

    path: Path
    title: str
    """What the day was called that left it."""
    plan: Plan
    stock: StockKept


def standing_stocks(paths: Iterable[Path]) -> tuple[StandingStock, ...]:
    """Give the stocks that these sessions left and no other day has taken; a file that cannot be read left none."""
    left_by = ((path, state, left(state)) for path, state in states_with(paths, WORDS))
    return tuple(StandingStock(path, state.plan.title, state.plan, stock) for path, state, stock in left_by if stock)
