"""Looking ahead from the vat as it is: what each piece will come to, and who comes out pale."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import frozen

from vatside.dips.depth import WHAT_HELPS, WHAT_IS_LEFT, depth_name, is_pale
from vatside.dips.uptake import Tank
from vatside.vat.account import Account


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


def tank_of(account: Account) -> Tank:
    """Give the vat as litres and strength of what is reduced."""
    return Tank(account.litres, max(account.indigotin_g - account.unreduced_g, 0.0) / account.litres)


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
