"""The account of the live vat: by the clock, as it is kept for another day, and in step with a kept vat in the plan.

The state holds when its account stood so, and from that follows what stands there now. Until a kept vat is topped
up, plan and account say the same of it. Importing this registers the topping up.
"""

from __future__ import annotations

from attrs import evolve

from vatside.chemistry.heat import temperature_after
from vatside.chemistry.substances import BAKING_SODA, substance
from vatside.dips.run import cools
from vatside.forms.fields import check_change
from vatside.log.effects.day import carry_out
from vatside.log.events.day import Event
from vatside.log.events.vat import (
    CorrectionMade,
    DipEnded,
    DyeSeen,
    LotDipped,
    PHTrusted,
    ReadingTaken,
    StockTaken,
    VatCarriedOn,
    VatKept,
    VatMade,
    VatSpent,
    VatToppedUp,
    VolumeMeasured,
)
from vatside.log.persistent import AppendOnly
from vatside.log.state import Clocked, State, Stood, Tending
from vatside.log.waits import Moment, after, seconds_between
from vatside.plan.measures import species_of
from vatside.plan.paths import set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.baths import kept_bath, stock_bath
from vatside.recipe.compute import compute
from vatside.recipe.cooling import USUAL_ERROR, TimedReading, cooling, least_share, room_C
from vatside.units import Amount
from vatside.vat import account as accounts
from vatside.vat.account_changes import Keeping, aged
from vatside.vat.kept_vat import KeptVat, sourest

GO_ON = (
    ReadingTaken, DyeSeen, PHTrusted, CorrectionMade, VolumeMeasured, LotDipped, VatSpent, DipEnded, VatKept,
    StockTaken,
)  # fmt: skip
"""What happens to the vat as it stands by then."""
BEGIN = (VatMade, VatCarriedOn, VatToppedUp)
"""What says anew what stands in the tub."""
ANEW = (VatMade, VatCarriedOn)
"""What begins another vat."""
WARM_OR_COOL = (CorrectionMade, LotDipped, DipEnded)
"""What changes its temperature beside the room."""
SHOWN_EVERY_S = 60.0
"""What follows from the clock is worked out anew so often."""


def brought_up(state: State, event: Event, at: Moment) -> State:
    """Give the state with its vat as it stands when an event of the vat happens to it; as it is before others."""
    known = state.tending.clocked
    if known is None or not isinstance(event, GO_ON):
        return state
    return _at(state, known, seconds_between(known.at, at))


def standing_at(state: State, now: Moment) -> State:
    """Give the state with its vat as it stands now, to the minute; as it is where there is none."""
    known = state.tending.clocked
    if known is None:
        return state
    return _at(state, known, shown_minute(state, now) * SHOWN_EVERY_S)


def account_of(state: State, sheet: Sheet) -> accounts.Account:
    """Give the account of the vat; before it is made, the one that the plan would give. Raises `OutOfRange`."""
    return state.tending.account or accounts.planned_account(state.plan, sheet)


def shown_minute(state: State, now: Moment) -> float:
    """Give the whole minutes since the account stood so; 0 without one."""
    known = state.tending.clocked
    return 0.0 if known is None else seconds_between(known.at, now) // SHOWN_EVERY_S


def warmth_at(state: State, at: Moment) -> float | None:
    """Give how warm the vat is at a moment, degrees C [Newton]; None where there is none."""
    account, known = state.tending.account, state.tending.clocked
    if account is None or known is None:
        return None
    minutes, how = max(seconds_between(known.at, at), 0.0) / 60, keeping(state)
    return temperature_after(account.celsius, how.room, minutes, how.per_minute) if how.per_minute else account.celsius


def _at(state: State, known: Clocked, seconds: float) -> State:
    account = state.tending.account
    if account is None or seconds <= 0:
        return state
    later = gone_on(Stood(account, known, keeping(state)), seconds)
    return evolve(state, tending=evolve(state.tending, account=later.account, clocked=later.known))


def gone_on(vat: Stood, seconds: float) -> Stood:
    """Give the vat as it stands some seconds later, if nobody does anything to it.

    A liquor that the chemistry does not know stands as it was.
    """
    if seconds <= 0:
        return vat
    try:
        account = aged(vat.account, seconds / 3600, vat.how)
    except ValueError:
        return vat
    low, high = warmth_between(vat, seconds / 60)
    return evolve(
        vat,
        account=account,
        known=evolve(
            vat.known,
            at=after(vat.known.at, seconds),
            colder=max(account.celsius - low, 0.0),
            warmer=max(high - account.celsius, 0.0),
        ),
    )


def warmth_between(vat: Stood, minutes: float) -> tuple[float, float]:
    """Give how cold and how warm a vat may be some minutes later, degrees C [Newton].

    By the slowest and the fastest that it may cool, from the coldest and the warmest that it may have been.
    """
    known, how, account = vat.known, vat.how, vat.account
    error = known.error if known.per_minute else USUAL_ERROR
    rates = (how.per_minute * (1 + error), how.per_minute * least_share(error))
    begins = (account.celsius - known.colder, account.celsius + known.warmer)
    degrees = [temperature_after(begin, how.room, minutes, rate) for begin in begins for rate in rates]
    return min(degrees), max(degrees)


def keeping(state: State) -> Keeping:
    """Give how the vat stands: it cools at its own rate once its readings tell, and until then at the usual one."""
    account, known = state.tending.account, state.tending.clocked
    own = known.per_minute if known else 0.0
    usual = cools(account.litres) if account else 0.0
    reducer = species_of(state.plan, "reducer")
    return Keeping(reducer, own or usual, room_C(state.plan), known is not None and known.lid)


def clocked(before: State, now: State, event: Event, at: Moment) -> State:
    """Give the state now, after an event, with the moment at which its account stands so."""
    tending = now.tending
    if tending.account is None:
        if tending.clocked is None:
            return now
        return evolve(now, tending=evolve(tending, clocked=None, stood=_let_go(before, at)))
    fresh = isinstance(event, BEGIN) or tending.clocked is None
    if not fresh and not isinstance(event, GO_ON) and tending.account is before.tending.account:
        return now
    old = Clocked(at) if fresh or tending.clocked is None else tending.clocked
    new = evolve(old, at=at, lid=isinstance(event, VatKept) or (old.lid and not isinstance(event, WARM_OR_COOL)))
    if isinstance(event, WARM_OR_COOL):
        new = evolve(new, undisturbed=len(tending.readings))
    new = _as_read(new, event, now) if isinstance(event, ReadingTaken) else new
    stood = tending.stood if isinstance(event, ANEW) else _stood(before)
    return evolve(now, tending=evolve(tending, clocked=new, stood=stood))


def _stood(state: State) -> AppendOnly[Stood]:
    """Give how the vat has stood, with how it stands in a state that something is about to happen to."""
    tending = state.tending
    if tending.account is None or tending.clocked is None:
        return tending.stood
    return tending.stood.and_one(Stood(tending.account, tending.clocked, keeping(state)))


def _let_go(state: State, at: Moment) -> AppendOnly[Stood]:
    """Give how a vat that is let go has stood, and last how it stood then."""
    stood = _stood(state)
    last = stood[-1]
    return stood.and_one(gone_on(last, seconds_between(last.known.at, at)))


def _as_read(known: Clocked, event: ReadingTaken, now: State) -> Clocked:
    """Take what a reading tells: how warm the vat is, and with others before it how fast it cools."""
    rated = _own_rate(known, now.tending, room_C(now.plan))
    return rated if event.reading.celsius is None else evolve(rated, colder=0.0, warmer=0.0)


def _own_rate(known: Clocked, tending: Tending, room: float) -> Clocked:
    """Take the rate from the readings since the vat was last warmed or cooled; what they told before stays."""
    timed = [
        TimedReading(seconds_between(tending.readings[0].at, item.at) / 60, item.reading.celsius)
        for item in tending.readings[known.undisturbed :]
        if item.reading.celsius is not None
    ]
    measured = cooling(timed, room) if len(timed) > 1 else None
    return evolve(known, per_minute=measured.per_minute, error=measured.error) if measured else known


def kept_vat(state: State) -> KeptVat | None:
    """Give the account as it is kept for another day; None if there is no vat."""
    account = state.tending.account
    if account is None:
        return None
    name = species_of(state.plan, "reducer")
    carbonate = account.bath.carbonate * substance(BAKING_SODA).molar_mass
    return KeptVat(
        litres=account.litres,
        indigotin_g=account.indigotin_g,
        alkali=account.alkali,
        alkali_g=max(accounts.free_alkali_g(account), sourest(carbonate)),
        reducer=name,
        reducer_g=accounts.reducer_g(account, name),
        carbonate_g=carbonate,
        oxidised_g=account.unreduced_g,
        salts_g=(account.bath.sulfite + account.bath.sulfate) * substance("sodium sulfate").molar_mass,
    )


COOLS = "vat.cool"
"""The step in which a vat that came out too warm is left to cool."""


@carry_out.register
def _(_event: VatToppedUp, state: State, _at: Moment) -> State:
    if state.tending.account is None:
        raise KeyError("vat")
    sheet = compute(state.plan)
    account = on_top(state.tending.account, state.plan, sheet)
    if COOLS not in state.done:
        account = accounts.warmed(account, sheet.value("vat.mixed", account.celsius))
    return evolve(state, tending=evolve(state.tending, account=account, topped_up=True))


def on_top(vat: accounts.Account, plan: Plan, sheet: Sheet) -> accounts.Account:
    """Give a kept vat with this day's water, powders and stock in it, at the temperature that the plan wants.

    What stands in the tub is what the plan says of it. OutOfRange if it cannot be.
    """
    if plan.kept is None:
        return _by_amounts_held(vat, plan, sheet)
    return evolve(accounts.planned_account(plan, sheet), trusted_g=vat.trusted_g)


def _by_amounts_held(vat: accounts.Account, plan: Plan, sheet: Sheet) -> accounts.Account:
    """Top up the vat of a day whose plan knows of no kept vat and only holds amounts, as older files do."""
    warm = sheet.value("vat.temperature", vat.celsius)
    room = sheet.value("vat.liquor") - sheet.value("vat.stock") - vat.litres
    vat = accounts.without(vat, -room) if room < 0 else accounts.with_water(vat, room, warm)
    for role in ("alkali", "reducer"):
        vat = accounts.with_powder(vat, plan, role, sheet.value(f"vat.{role}"))
    if not sheet.value("stock.water"):
        return vat
    vat = evolve(vat, stock=stock_bath(plan, sheet.value))
    return accounts.with_stock(vat, min(sheet.value("vat.stock"), vat.stock_litres))


def in_step(before: State, after: State) -> State:
    """Give the state after an event with plan and account of a kept vat saying the same, until it is topped up.

    What is typed into the form changes the account; what is done to the vat or measured changes the plan. ValueError
    if the form would not have let it through.
    """
    vat, old = after.tending.account, before.tending.account
    if after.plan.kept is None or after.tending.topped_up or vat is None or old is None:
        return after
    if after.plan is not before.plan and kept_bath(after.plan) != kept_bath(before.plan):
        return evolve(after, tending=evolve(after.tending, account=accounts.kept_account(after.plan)))
    return after if vat is old else evolve(after, plan=_as_found(before, after))


def _as_found(before: State, after: State) -> Plan:
    """Give the plan with what changed of the account."""
    plan, was = after.plan, _tub_rows(before)
    for path, amount in _tub_rows(after).items():
        if amount != was[path]:
            check_change(plan, path, amount)
            plan = set_value(plan, path, amount)
    return plan


def _tub_rows(state: State) -> dict[str, Amount]:
    """Give what stands in the tub by the account, as the form has it."""
    vat, account = kept_vat(state), state.tending.account
    assert vat is not None
    assert account is not None
    return {
        "kept.volume": _amount(vat.litres, "L"),
        "kept.temperature": _amount(account.celsius, "degC"),
        "kept.indigotin": _amount(vat.indigotin_g, "g"),
        "kept.alkali": _amount(vat.alkali_g, "g"),
        "kept.reducer": _amount(vat.reducer_g, "g"),
        "kept.carbonate": _amount(vat.carbonate_g or 0.0, "g"),
        "kept.salts": _amount(vat.salts_g or 0.0, "g"),
        "kept.oxidised": _amount(vat.oxidised_g, "g"),
    }


def _amount(value: float, unit: str) -> Amount:
    """Four digits that matter are more than a tub can be measured to."""
    return Amount(float(f"{value:.4g}"), unit)
