"""How far a day has come, as the day line asks it: what is done, what waits, where the pieces are, what is pointless.

Steps that nobody ticked are pointless where what happened since leaves nothing of them to do: who has a piece in the
vat has made that vat and scoured that piece, ticked or not; a vat that is gone is not dipped in. A step out of its
order alone makes nothing pointless: the lye that was passed over may still be missing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from attrs import evolve, field, frozen

from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.dayline.rounds import BETWEEN, COVER
from vatside.dayline.steps import Step
from vatside.dayline.tasks import template
from vatside.dips.entry_rule import VatWork
from vatside.dips.rotation import Piece, Place, Standing, pieces
from vatside.plan.batches import batches, baths
from vatside.plan.measures import fibre_key
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Sheet, Stage


@frozen
class Waiting:
    """A wait that runs: minutes gone and minutes left, below zero for too long."""

    gone: float
    left: float


@frozen
class Going:
    """Minutes are counted from now. A day that has not begun has nothing of all this."""

    done: Mapping[str, float] = field(factory=dict)
    """Minutes since each step was done."""
    waits: Mapping[str, Waiting] = field(factory=dict)
    """By step."""
    standings: Mapping[str, Standing] = field(factory=dict)
    """By piece; a piece that is not here has not been in."""
    worked: VatWork = field(factory=VatWork)
    """What the vat has done since its rests, its minutes counted from now, so below zero."""
    absences: tuple[tuple[int, int, int], ...] = ()
    """(from, to, people) that are not there, as when everybody stops; minutes."""

    vat_over: bool = False
    """It was let go, is kept, or was seen to stay blue: nothing more goes in today."""
    entered: int = 0
    """Entries so far, one that is in included; 0 where the log has none or lots were written down as a whole."""
    at_work: float = 0.0
    """Minutes for which the vat rests until what was done to it has worked."""

    @property
    def begun(self) -> bool:
        """Tell whether anything of the day was done; who only takes a break has not begun."""
        return bool(self.done or self.waits or self.standings)

    def later(self, minutes: int) -> Going:
        """The same for a day that begins so many minutes later, of which nothing was done."""
        left = ((max(a - minutes, 0), b - minutes, count) for a, b, count in self.absences if b > minutes)
        return evolve(self, absences=tuple(left))


NOT_BEGUN = Going()


def passed(plan: Plan, sheet: Sheet, steps: Sequence[Step], going: Going) -> frozenset[str]:
    """Give the steps that are neither done nor running, and have become pointless."""
    if not going.standings and not going.vat_over:
        return frozenset()
    found = {*_of_vat(plan, sheet, steps, going), *_of_scour(plan, steps, going), *_of_finish(plan, steps, going)}
    return frozenset((found | set(_of_wash(steps, going))) - set(going.done) - set(going.waits))


def _of_vat(plan: Plan, sheet: Sheet, steps: Sequence[Step], going: Going) -> Iterator[str]:
    """Stock, vat and what comes before the dips; of the dips those whose pieces are through."""
    stays = {COVER} if not going.vat_over else set()
    stays |= set() if going.vat_over else set(_dips_left(pieces(plan, sheet), going.standings))
    yield from (step.id for step in steps if step.stage in MAKES_DIPS and step.id not in stays)


MAKES_DIPS = (Stage.STOCK, Stage.VAT, Stage.DIP)


def _dips_left(all_pieces: Sequence[Piece], standings: Mapping[str, Standing]) -> Iterator[str]:
    left = {piece.phase for piece in all_pieces if not _is_through(piece, standings.get(piece.id, Standing()))}
    yield from [GENTLE] if 0 in left else []
    yield from [ROTATE] if left else []
    if 1 in left and not any(piece.phase and piece.id in standings for piece in all_pieces):
        yield BETWEEN


def _is_through(piece: Piece, where: Standing) -> bool:
    return where.place is Place.DONE or (where.place is not Place.IN_VAT and where.dips >= piece.dips)


def _of_scour(plan: Plan, steps: Sequence[Step], going: Going) -> Iterator[str]:
    """A bath of which fibre was in the vat, or none that was not begun can be any more.

    While a load of it may still lie in the pot, its steps stay.
    """
    for bath in baths(plan):
        own = [step for step in steps if step.id.startswith(bath.id(""))]
        begun, loads = _is_begun(own, going), sum(template(step).id == "fill" for step in own)
        in_pot = begun and loads > 1 and not all(_been_in(bath.lots, going))
        if (any(_been_in(bath.lots, going)) and not in_pot) or (going.vat_over and not begun):
            yield from (step.id for step in own)


def _been_in(lots: Sequence[Lot], going: Going) -> Iterator[bool]:
    """Tell of each piece whether it was in the vat."""
    return (f"{lot.id}.{number}" in going.standings for lot in lots for number in range(1, lot.pieces + 1))


def _is_begun(steps: Sequence[Step], going: Going) -> bool:
    return any(step.id in going.done or step.id in going.waits for step in steps)


def _of_finish(plan: Plan, steps: Sequence[Step], going: Going) -> Iterator[str]:
    """What no piece of was in a vat that is gone has no dye to be rinsed; where no dip is known, nobody knows."""
    if not going.vat_over or not going.standings or ROTATE in going.done:
        return
    for batch in batches(plan):
        own = [step for step in steps if step.id.startswith(batch.id(""))]
        lots = [lot for lot in plan.lots if fibre_key(lot) == batch.key]
        if not any(_been_in(lots, going)) and not _is_begun(own, going):
            yield from (step.id for step in own)


WASHED_BY = {"wash_each": "wash", "wash": "wash_each", "wash_heat": "wash_each"}
"""The step by which a fibre was washed the other way, at once or in parts, by the step that is pointless then."""


def _of_wash(steps: Sequence[Step], going: Going) -> Iterator[str]:
    """A wash that was begun before pot or water changed, or in a log that knows no parts, is not done the other way."""
    for step in steps:
        fibre, _, name = step.id.rpartition(".")
        other = f"{fibre}.{WASHED_BY.get(name, '')}" if step.stage is Stage.FINISH else ""
        if other in going.done or other in going.waits:
            yield step.id
