"""Looking ahead from the vat as it is: what each piece will come to, and who comes out pale."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from attrs import define, frozen

from vatside.recipe.care.account import Account
from vatside.recipe.depth import depth_name
from vatside.recipe.uptake import CLOSE_ENOUGH, Take, Tank, dip_round

PALE = 0.8
"""A piece that stays below this share of its depth comes out pale: about grade 3 on the grey scale, plain to see."""


@frozen
class Need:
    """A piece that has dips to come; pieces of one lot follow one another."""

    piece: str
    name: str
    lot: str
    kg: float
    take: Take
    has: float
    """On it already, after rinsing, %."""
    wants: float
    """%."""
    dips: int
    """At most so many more."""


@frozen
class Forecast:
    """What a piece will come to."""

    piece: str
    name: str
    reaches: float
    """%."""
    wants: float
    """%."""
    dips: int
    """How many more that takes."""

    @property
    def pale(self) -> bool:
        """It comes out visibly paler than wanted."""
        return self.wants > 0 and self.reaches < PALE * self.wants


def tank_of(account: Account) -> Tank:
    """Give the vat as litres and strength of what is reduced."""
    return Tank(account.litres, max(account.indigotin_g - account.unreduced_g, 0.0) / account.litres)


@define
class _Runner:
    """A piece on its way through the forecast."""

    need: Need
    has: float
    dips: int = 0

    @property
    def wants_more(self) -> bool:
        return self.has < CLOSE_ENOUGH * self.need.wants and self.dips < self.need.dips


def forecast(tank: Tank, needs: Iterable[Need]) -> tuple[Forecast, ...]:
    """Dip the pieces in thought: lot after lot as they come, the pieces of a lot in turn, round by round."""
    done: list[_Runner] = []
    for _, lot in groupby(needs, key=lambda need: need.lot):
        runners = [_Runner(need, need.has) for need in lot]
        done += runners
        while any(item.wants_more for item in runners):
            for item in runners:
                tank = _dip(tank, item) if item.wants_more else tank
    return tuple(Forecast(item.need.piece, item.need.name, item.has, item.need.wants, item.dips) for item in done)


def _dip(tank: Tank, item: _Runner) -> Tank:
    once = dip_round(tank, 1, item.need.kg, item.need.take)
    item.has += once.laid * (1 - item.need.take.rinsed) / 10
    item.dips += 1
    return once.tank


def pale_warning(found: Sequence[Forecast], strength: float) -> str:
    """Name the pieces that will come out pale, in one sentence; empty if none will."""
    pale = [item for item in found if item.pale]
    if not pale:
        return ""
    first = pale[0]
    more = f" and {len(pale) - 1} more" if len(pale) > 1 else ""
    comes, wanted = depth_name(first.reaches), depth_name(first.wants)
    words = f"{comes}, not {wanted}" if comes != wanted else f"paler than the {wanted} wanted"
    verb = "come" if more else "comes"
    return (
        f"{first.name}{more} {verb} out {words}: {strength:.2g} g/L is left. "
        "Bring in stock before it goes in, or want a paler blue."
    )
