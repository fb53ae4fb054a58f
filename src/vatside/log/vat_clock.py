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
from vatside.log.moment import Moment, after, seconds_between
from vatside.log.state import State
from vatside.log.vat_state import Clocked, Tending
from vatside.plan.measures import powder
from vatside.recipe.cooling import TimedReading, cooling, room_C
from vatside.vat.account import Account
from vatside.vat.aged_account import Keeping, aged

GO_ON = (
    ReadingTaken, PHTrusted, CorrectionMade, VolumeMeasured, LotDipped, VatSpent, DipEnded, VatKept, StockTaken,
)  # fmt: skip
"""What happens to the vat as it stands by then."""
BEGIN = (VatMade, VatCarriedOn, VatToppedUp)
"""What says anew what stands in the tub."""
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
    account, at = state.tending.account, after(known.at, seconds)
    if account is None or seconds <= 0:
        return state
    try:
        found = _aged(account, seconds / 3600, keeping(state))
    except ValueError:  # a liquor that the chemistry does not know stands as it was
        return state
    return evolve(state, tending=evolve(state.tending, account=found, clocked=evolve(known, at=at)))


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
        return now if tending.clocked is None else evolve(now, tending=evolve(tending, clocked=None))
    fresh = isinstance(event, BEGIN) or tending.clocked is None
    if not fresh and not isinstance(event, GO_ON) and tending.account is before.tending.account:
        return now
    old = Clocked(at) if fresh or tending.clocked is None else tending.clocked
    new = evolve(old, at=at, lid=isinstance(event, VatKept) or (old.lid and not isinstance(event, WARM_OR_COOL)))
    if isinstance(event, WARM_OR_COOL):
        new = evolve(new, undisturbed=len(tending.readings))
    new = _own_rate(new, tending, room_C(now.plan)) if isinstance(event, ReadingTaken) else new
    return evolve(now, tending=evolve(tending, clocked=new))


def _own_rate(found: Clocked, tending: Tending, room: float) -> Clocked:
    """Take the rate from the readings since the vat was last warmed or cooled; what they told before stays."""
    timed = [
        TimedReading(seconds_between(tending.readings[0].at, item.at) / 60, item.reading.celsius)
        for item in tending.readings[found.undisturbed :]
        if item.reading.celsius is not None
    ]
    told = cooling(timed, room) if len(timed) > 1 else None
    return evolve(found, per_minute=told.per_minute, error=told.error) if told else found
