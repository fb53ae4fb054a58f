"""Looking ahead from the vat as it is: what each piece will come to, and who comes out pale."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from attrs import define, frozen

from vatside.recipe.care.account import Account
from vatside.recipe.depth import depth_name
from vatside.recipe.uptake import CLOSE_ENOUGH, WORTH_A_DIP, Take, Tank, dip_round

PALE = 0.8
"""A piece that stays below this share of its depth comes out pale: about grade 3 on the grey scale, plain to see."""


@frozen
class Need:
    """A piece that has dips to come; pieces that take turns follow one another."""

    piece: str
    name: str
    turn: str
    """Pieces of one lot that take turns have this in common."""
    kg: float
    take: Take
    has: float
    """On it already, after rinsing, %."""
    wants: float
    """%."""
    dips: int
    """To come."""


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
        return is_pale(self.reaches, self.wants)


def is_pale(reaches: float, wants: float) -> bool:
    """Tell whether a depth is visibly paler than the one wanted (both %)."""
    return wants > 0 and reaches < PALE * wants


@frozen
class Ahead:
    """How it all ends."""

    pieces: tuple[Forecast, ...]
    tank: Tank
    rinsed_g: float
    """What the rinses take off again of the dips to come, g."""


def tank_of(account: Account) -> Tank:
    """Give the vat as litres and strength of what is reduced."""
    return Tank(account.litres, max(account.indigotin_g - account.unreduced_g, 0.0) / account.litres)


@define
class _Runner:
    """A piece on its way through the forecast."""

    need: Need
    has: float
    until_deep: bool
    dips: int = 0
    rinsed_g: float = 0.0

    def goes_in(self, tank: Tank) -> bool:
        """Tell whether it is dipped once more: one that only wants its depth stops there, or where dips add little."""
        if self.dips >= self.need.dips:
            return False
        wants = self.need.wants
        return not self.until_deep or (
            self.has < CLOSE_ENOUGH * wants and gain(tank, self.need.kg, self.need.take) >= WORTH_A_DIP * wants
        )


def gain(tank: Tank, piece_kg: float, take: Take) -> float:
    """Give what one dip of a piece adds to its depth, %."""
    return dip_round(tank, 1, piece_kg, take).laid * (1 - take.rinsed) / 10


def look_ahead(tank: Tank, needs: Iterable[Need], *, until_deep: bool = False) -> Ahead:
    """Dip the pieces in thought: turn after turn as they come, the pieces of a turn round by round.

    Each is dipped as often as it is to be; `until_deep`, at most so often and no oftener than its depth takes.
    """
    done: list[_Runner] = []
    for _, turn in groupby(needs, key=lambda need: need.turn):
        runners = [_Runner(need, need.has, until_deep) for need in turn]
        done += runners
        going = runners
        while going:
            going = [item for item in going if item.goes_in(tank)]
            for item in going:
                tank = _dip(tank, item)
    found = tuple(Forecast(item.need.piece, item.need.name, item.has, item.need.wants, item.dips) for item in done)
    return Ahead(found, tank, sum(item.rinsed_g for item in done))


def _dip(tank: Tank, item: _Runner) -> Tank:
    once, rinsed = dip_round(tank, 1, item.need.kg, item.need.take), item.need.take.rinsed
    item.has += once.laid * (1 - rinsed) / 10
    item.rinsed_g += once.laid * rinsed * item.need.kg
    item.dips += 1
    return once.tank


def turn_of(lot: str, number: int, in_turn: float) -> str:
    """Name the turn of a piece of a lot, counted from 1, of whose pieces so many take turns."""
    return f"{lot}:{(number - 1) // max(round(in_turn), 1)}"


WHAT_HELPS = "Bring in stock before the next dip, dip more often, or want a paler blue."
"""Where dips are to come."""
WHAT_IS_LEFT = "The planned dips are over: one more, best after fresh stock, or leave it at that."
"""Where none are."""


def pale_warnings(found: Sequence[Forecast], strength: float) -> tuple[str, ...]:
    """Name the pieces that will miss their own depth, with what can still be done; those whose dips are over apart.

    `strength` is what the vat holds, g/L. Empty if no piece comes out pale.
    """
    pale = [item for item in found if item.pale]
    coming = f": {strength:.2g} g/L is left. {WHAT_HELPS}"
    parted = ((True, "will come out", coming), (False, "will stay", f". {WHAT_IS_LEFT}"))
    return tuple(
        f"{_miss(some, verb)}{advice}"
        for to_come, verb, advice in parted
        if (some := [item for item in pale if bool(item.dips) is to_come])
    )


def _miss(pale: Iterable[Forecast], verb: str) -> str:
    """Say of pieces what they come to in place of what was wanted, like with like."""
    alike: dict[tuple[str, str], list[Forecast]] = {}
    for item in pale:
        alike.setdefault((depth_name(item.reaches), depth_name(item.wants)), []).append(item)
    said = [(_named(some), _instead(names, some[0])) for names, some in alike.items()]
    (name, words), *others = said
    return "; ".join((f"{name} {verb} {words}", *(f"{name} {words}" for name, words in others)))


def _named(pieces: Sequence[Forecast]) -> str:
    return pieces[0].name + (f" and {len(pieces) - 1} more" if len(pieces) > 1 else "")


def _instead(names: tuple[str, str], first: Forecast) -> str:
    comes, wanted = names
    about = f"about {first.reaches:.2g} %"
    return f"{comes} ({about}), not {wanted}" if comes != wanted else f"paler ({about}) than the {wanted} wanted"
