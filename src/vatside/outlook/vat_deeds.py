"""What the dyer does to a live vat, turned into the events that say it was done, and the rest of its stock.

A stock that is warmer or cooler than planned has its rest over at another time.
"""

from __future__ import annotations

from attrs import evolve

from vatside.log.effects.vat import grams
from vatside.log.events.day import Event, WaitStarted
from vatside.log.events.vat import CorrectionMade
from vatside.log.fold import State, carried_out
from vatside.log.waits import Moment, Wait, seconds_between
from vatside.outlook.vat_facts import made_event
from vatside.plan.measures import Powder, powder
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.baths import Dose
from vatside.recipe.cooling import KETTLE_C
from vatside.recipe.sizing import size_of
from vatside.recipe.stages.stock import stock_warmth, times_as_long
from vatside.units import Amount, Kind, Problem, parse_amount, show_volume, to_base
from vatside.vat.corrections import Correction
from vatside.vat.reading import Reading

MOST_TIMES = 5.0
"""An amount this many times the one worked out is more likely a slip of the keyboard: a judgement of our own."""
MOST_POWDER_G = 1000.0
"""More than this of a powder never goes into a studio's vat at once: a judgement of our own."""
LARGEST_VAT_L = 1000.0
"""More water than this does not go into a studio's vat."""


def as_weighed(what: Powder, mass_g: float) -> Amount:
    """Give an amount to the digits that are shown: a powder in g, a liquid in mL or L."""
    dose = Dose(what, mass_g)
    if dose.is_liquid:
        return as_measured(dose.millilitres / 1000)
    return Amount(round(mass_g, 2 if mass_g < 0.095 else 1 if mass_g < 99.95 else 0), "g")


def as_measured(litres: float) -> Amount:
    """Give a volume to the digits that are shown."""
    millilitres = litres * 1000
    if millilitres < 999.5:
        return Amount(round(millilitres, 1 if millilitres < 9.95 else 0), "mL")
    return Amount(round(litres, 2 if litres < 2.995 else 1), "L")


def as_proposed(correction: Correction, plan: Plan) -> CorrectionMade:
    """Give the event of a correction done as it was proposed, in amounts that a scale or a jug shows."""
    event = made_event(correction)
    return evolve(
        event,
        amount=as_weighed(powder(plan, correction.material), correction.grams) if event.amount else None,
        taken_out=_rounded(event.taken_out),
        stock=_rounded(event.stock),
        water=_rounded(event.water),
    )


def _rounded(volume: Amount | None) -> Amount | None:
    return None if volume is None else as_measured(to_base(volume, Kind.VOLUME))


def amount_of(correction: Correction, plan: Plan) -> str:
    """Name what the amount of a correction is an amount of; empty if nothing goes in."""
    if correction.does == "dilute":
        return "sharpened water"
    if correction.does == "heat":
        return "kettle water" if correction.litres else ""
    if correction.does == "stock":
        return "stock" if correction.litres else ""
    return powder(plan, correction.material).material.short.lower() if correction.grams else ""


def proposed_amount(correction: Correction, plan: Plan) -> Amount | None:
    """Give how much of `amount_of` the correction proposes: of a powder its own, not the water it is dissolved in."""
    event = as_proposed(correction, plan)
    return event.amount if correction.does not in ("dilute", "heat", "stock") else event.stock or event.water


def with_amount(correction: Correction, plan: Plan, text: str) -> CorrectionMade | Problem:
    """Give the event of a correction done with another amount, as typed, or what is wrong with it in words.

    What goes along (liquor taken out first, the reducer of sharpened water) changes with it.
    """
    proposed = as_proposed(correction, plan)
    if not amount_of(correction, plan):
        return Problem("Nothing goes in here: do it, and say so.")
    if correction.does in ("dilute", "heat", "stock"):
        return _other_volume(proposed, correction, plan, text)
    what = powder(plan, correction.material)
    amount = read_amount(what, plan, text)
    if isinstance(amount, Problem):
        return amount
    times = grams(what, amount, plan) / (grams(what, proposed.amount, plan) if proposed.amount else correction.grams)
    return _too_much(times) or evolve(proposed, amount=amount, water=_times(proposed.water, times))


def _times(volume: Amount | None, times: float) -> Amount | None:
    return None if volume is None else as_measured(times * to_base(volume, Kind.VOLUME))


def read_amount(what: Powder, plan: Plan, text: str) -> Amount | Problem:
    """Read an amount of a powder (a mass or spoons) or of a liquid (a volume); more than nothing."""
    if Dose(what, 1.0).is_liquid:
        return read_volume(plan, text, "mL")
    amount = _some(parse_amount(text, Kind.POWDER, unit="g", spoons=plan.spoons))
    if isinstance(amount, Amount) and what.grams(amount, plan.spoons) > MOST_POWDER_G:
        return Problem("That is more than a kilogram; write grams or spoons: 2 g, or 1/2 tsp.")
    return amount


def _some(amount: Amount | Problem) -> Amount | Problem:
    if isinstance(amount, Amount) and amount.value <= 0:
        return Problem("Write how much went in, more than nothing.")
    return amount


def _other_volume(proposed: CorrectionMade, correction: Correction, plan: Plan, text: str) -> CorrectionMade | Problem:
    volume = read_volume(plan, text)
    if isinstance(volume, Problem):
        return volume
    times = to_base(volume, Kind.VOLUME, plan.spoons) / correction.litres
    if correction.does == "stock":
        return _too_much(times) or evolve(proposed, stock=volume)
    along = as_weighed(powder(plan, correction.material), times * correction.grams) if proposed.amount else None
    out = volume if proposed.taken_out else None
    return _too_much(times) or evolve(proposed, water=volume, taken_out=out, amount=along)


def read_volume(plan: Plan, text: str, unit: str = "L") -> Amount | Problem:
    """Read a volume, more than nothing and no more than a studio's vat holds; a bare number is in `unit`."""
    volume = _some(parse_amount(text, Kind.VOLUME, unit=unit, spoons=plan.spoons))
    if isinstance(volume, Amount) and to_base(volume, Kind.VOLUME, plan.spoons) > LARGEST_VAT_L:
        return Problem(f"That is more than the {LARGEST_VAT_L:.0f} L that any tub here holds.")
    return volume


def _too_much(times: float) -> Problem | None:
    if times <= MOST_TIMES:
        return None
    return Problem(f"That is {times:.0f} times what was worked out; give less, wait, and read again.")


def hot_water(volume: Amount, *, exchanged: bool) -> CorrectionMade:
    """Give the event of kettle water poured in to warm the vat, as much liquor taken out first if `exchanged`."""
    out = volume if exchanged else None
    return CorrectionMade(remedy="warm", taken_out=out, water=volume, water_temperature=Amount(KETTLE_C, "degC"))


def no_room(state: State, event: CorrectionMade) -> str:
    """Say that the tub does not hold what was poured in, and how much it has room for; empty where it does."""
    account, poured = state.tending.account, _poured_l(state.plan, event)
    if account is None or not poured:
        return ""
    out = _litres(state.plan, event.taken_out)
    holds = size_of(state.plan).tub
    room = max(holds - account.litres + out, 0.0)
    if poured <= room * 1.001:
        return ""
    return (
        f"The tub holds {show_volume(holds)} and {show_volume(account.litres)} stand in it: there is room for "
        f"{show_volume(room)}. If it is otherwise, say first how much stands in it (=)."
    )


def _poured_l(plan: Plan, event: CorrectionMade) -> float:
    return _litres(plan, event.water) + _litres(plan, event.stock)


def _litres(plan: Plan, volume: Amount | None) -> float:
    return 0.0 if volume is None else to_base(volume, Kind.VOLUME, plan.spoons)


def impossible(state: State, event: Event, at: Moment) -> str:
    """Say why something cannot have been done to the vat (more than is left, or than the tub holds); else empty."""
    full = no_room(state, event) if isinstance(event, CorrectionMade) else ""
    if full:
        return full
    try:
        carried_out(event, state, at)
    except KeyError as error:
        return f"There is no {error.args[0]} here."
    except ValueError as error:
        return str(error)
    return ""


def wait_after(correction: Correction, seq: int) -> WaitStarted | None:
    """Start the wait that follows a correction; None if none does. `seq` (of the event to come) makes its id unique."""
    if correction.wait_min <= 0:
        return None
    return WaitStarted(f"w{seq}", None, correction.wait_label or "Vat at rest", correction.wait_min)


REST = "stock.hold_warm"
"""The step in which the reducer works on the stock."""
LEAST_MIN = 1.0
"""A shift of less than this is none: ours, no source."""


def rest_of(state: State) -> Wait | None:
    """Give the wait of the stock that rests; None where it does not, or is poured already."""
    waits = (wait for wait in state.waits if wait.step == REST and wait.ended is None)
    return None if state.tending.account is not None else next(waits, None)


def longer_by(state: State, sheet: Sheet, reading: Reading, left_min: float) -> float:
    """Give the minutes by which the rest ends later at the warmth read; below zero where it ends sooner [Vuorema2008].

    What is left of it was told for the warmth read before, or for the plan's. Nothing for a reducer whose pace is not
    known, a reading without warmth, or a rest that is over.
    """
    wait = rest_of(state)
    if wait is None or reading.celsius is None or left_min <= 0:
        return 0.0
    read = [
        taken.reading.celsius for taken in state.tending.readings if seconds_between(wait.started, taken.at) >= 0
    ]  # fmt: skip
    before = next((celsius for celsius in reversed(read) if celsius is not None), sheet.value(stock_warmth(state.plan)))
    more = left_min * (times_as_long(state.plan, before, reading.celsius) - 1)
    return more if abs(more) >= LEAST_MIN else 0.0
