"""The account of a vat after some time in which nothing was done to it: cooler, with less reducer, and more sour."""

from __future__ import annotations

from attrs import evolve, frozen

from vatside.chemistry.ageing import Standing, round_surface_m2, wear
from vatside.chemistry.bath import Bath, at_temperature
from vatside.chemistry.indigo import REDUCERS
from vatside.chemistry.liquor import solve
from vatside.chemistry.rates import Estimate
from vatside.chemistry.substances import moles
from vatside.chemistry.vat import reduce
from vatside.vat.account import Account, reducer_g

PH_COUNTS_H = 1 / 3
"""From so many hours on the pH is worked out for how fast the reducer falls apart; before, that takes next to none."""
ALKALINE = 10.0
"""Stands in for it until then."""


@frozen
class Keeping:
    """How a vat stands while nobody does anything to it."""

    reducer: str
    """A substance."""
    per_minute: float
    """Newton's constant: the vat's own, or the usual one."""
    room: float
    """Degrees C."""
    lid: bool = False


def aged(account: Account, hours: float, how: Keeping) -> Account:
    """Give a vat after so many hours [Newton] [Reactions].

    Its reducer falls apart and meets the air, see `vatside.chemistry.ageing.wear`, and turns to acid; air beyond that
    turns the dye blue again. Raises `OutOfRange` for less than no time.
    """
    vat = Standing(
        account.litres, _pH(account.bath, hours), account.celsius, how.room,
        how.per_minute, round_surface_m2(account.litres), how.lid,
    )  # fmt: skip
    t_C = vat.temperature(hours)
    if how.reducer not in REDUCERS:
        return evolve(account, bath=at_temperature(account.bath, t_C))
    found = wear(how.reducer, Estimate(*reducer_between(account, how.reducer)), hours, vat)
    likely = found.left.likely
    bath = reduce(with_reducer(account.bath, how.reducer, likely), found.spare_mg).bath
    return evolve(
        account,
        bath=at_temperature(bath, t_C),
        less_g=likely - min(found.left.low, likely),
        more_g=max(found.left.high, likely) - likely,
    )


def _pH(bath: Bath, hours: float) -> float:
    return min(max(solve(bath).pH, 0.0), 14.0) if hours > PH_COUNTS_H else ALKALINE


def reducer_between(account: Account, name: str) -> tuple[float, float, float]:
    """Give the least, the likely and the most of a reducer that is left, pure g."""
    likely = reducer_g(account, name)
    return max(likely - account.less_g, 0.0), likely, likely + account.more_g


def ends(account: Account, name: str) -> tuple[Account, Account]:
    """Give the account with the least and with the most reducer that it may hold."""
    if name not in REDUCERS:
        return account, account
    low, _, high = reducer_between(account, name)
    least, most = (with_reducer(account.bath, name, grams) for grams in (low, high))
    return evolve(account, bath=least), evolve(account, bath=most)


def pH_between(account: Account, name: str) -> Estimate:
    """Give the pH of a vat at its temperature, by the least, the likely and the most of a reducer that may be left.

    Raises `OutOfRange` for a liquor that the chemistry does not know.
    """
    likely = solve(account.bath).pH
    found = [solve(one.bath).pH for one in ends(account, name)]
    return Estimate(min(*found, likely), likely, max(*found, likely))


def with_reducer(bath: Bath, name: str, grams: float) -> Bath:
    """Give a bath in which so many grams of a reducer are left: the rest is spent, or what was spent is there again.

    It ends as sulfite, as long as some is left; no more comes back than is spent [Reactions].
    """
    kind = REDUCERS[name]
    products = kind.becomes("sulfite")
    gone = getattr(bath, kind.total) - moles(name, max(grams, 0.0))
    gone = max(gone, -min(getattr(bath, total) / count for total, count in products))
    changes = {total: getattr(bath, total) + count * gone for total, count in products}
    return evolve(bath, **{kind.total: getattr(bath, kind.total) - gone}, **changes)
