"""The live vat by the clock: the state holds when its account stood so, and from that follows what stands there now."""

from __future__ import annotations

from functools import lru_cache

from attrs import evolve

from vatside.chemistry.heat import temperature_after
from vatside.dips.run import cools
from vatside.log.events.day import Event, VatCarriedOn, VatKept, VatToppedUp
from vatside.log.events.pieces import DipEnded
from vatside.log.events.stock import StockTaken
from vatside.log.events.vat import (
    CorrectionMade,
    LotDipped,
    PHTrusted,
    ReadingTaken,
    VatMade,
    VatSpent,
    VolumeMeasured,
)
from vatside.log.growing import Grown
from vatside.log.moment import Moment, after, seconds_between
from vatside.log.state import State
from vatside.log.vat_state import Clocked, Stood, Tending
from vatside.plan.measures import powder
from vatside.recipe.cooling import USUAL_ERROR, TimedReading, cooling, least_share, room_C
from vatside.vat.account import Account
from vatside.vat.aged_account import Keeping, aged

GO_ON = (
    ReadingTaken, PHTrusted, CorrectionMade, VolumeMeasured, LotDipped, VatSpent, DipEnded, VatKept, StockTaken,
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
    found = gone_on(Stood(account, known, keeping(state)), seconds)
    return evolve(state, tending=evolve(state.tending, account=found.account, clocked=found.known))


def gone_on(vat: Stood, seconds: float) -> Stood:
    """Give the vat as it stands some seconds later, if nobody does anything to it.

    A liquor that the chemistry does not know stands as it was.
    """
    if seconds <= 0:
        return vat
    try:
        account = _aged(vat.account, seconds / 3600, vat.how)
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
    found = [temperature_after(begin, how.room, minutes, rate) for begin in begins for rate in rates]
    return min(found), max(found)


@lru_cache(maxsize=4)
def _aged(account: Account, hours: float, how: Keeping) -> Account:
    """Remembered: several screens ask for the same minute, and get the same account."""
    return aged(account, hours, how)


def keeping(state: State) -> Keeping:
    """Give how the vat stands: it cools at its own rate once its readings tell, and until then at the usual one."""
    account, known = state.tending.account, state.tending.clocked
    own = known.per_minute if known else 0.0
    usual = cools(account.litres) if account else 0.0
    reducer = powder(state.plan, "reducer").material.species
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


def _stood(state: State) -> Grown[Stood]:
    """Give how the vat has stood, with how it stands in a state that something is about to happen to."""
    tending = state.tending
    if tending.account is None or tending.clocked is None:
        return tending.stood
    return tending.stood.and_one(Stood(tending.account, tending.clocked, keeping(state)))


def _let_go(state: State, at: Moment) -> Grown[Stood]:
    """Give how a vat that is let go has stood, and last how it stood then."""
    stood = _stood(state)
    last = stood[-1]
    return stood.and_one(gone_on(last, seconds_between(last.known.at, at)))


def _as_read(found: Clocked, event: ReadingTaken, now: State) -> Clocked:
    """Take what a reading tells: how warm the vat is, and with others before it how fast it cools."""
    told = _own_rate(found, now.tending, room_C(now.plan))
    return told if event.reading.celsius is None else evolve(told, colder=0.0, warmer=0.0)


def _own_rate(found: Clocked, tending: Tending, room: float) -> Clocked:
    """Take the rate from the readings since the vat was last warmed or cooled; what they told before stays."""
    timed = [
        TimedReading(seconds_between(tending.readings[0].at, item.at) / 60, item.reading.celsius)
        for item in tending.readings[found.undisturbed :]
        if item.reading.celsius is not None
    ]
    told = cooling(timed, room) if len(timed) > 1 else None
    return evolve(found, per_minute=told.per_minute, error=told.error) if told else found
