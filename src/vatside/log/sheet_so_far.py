"""What the log knows and the plan does not: the pieces, the vat as it is now, the colours that came out."""

from __future__ import annotations

from functools import lru_cache

from vatside.chemistry.bath import Bath
from vatside.chemistry.neutralising import spent_and_cool
from vatside.dips.pieces import Place
from vatside.dips.so_far import CameOut, PieceSoFar, SoFar
from vatside.dips.uptake import Tank
from vatside.log.effects.pieces import lot_of
from vatside.log.events.day import ColourNoted
from vatside.log.events.vat import LotDipped
from vatside.log.pieces_state import PieceState
from vatside.log.state import State
from vatside.log.vat_state import changes_pH
from vatside.plan.measures import clean_grams
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.recipe.vat_needs import SLOPE
from vatside.vat.account import Account, Prediction, predict
from vatside.vat.forecast import tank_of

GONE = Tank(0.0, 0.0)
"""A vat that was let go."""


def sheet_of(state: State) -> Sheet:
    """Give the sheet of a session: its plan, and on from what was done."""
    return compute(state.plan, so_far(state))


def so_far(state: State) -> SoFar:
    """Give what was done to the pieces and the vat, and what came out of it."""
    pieces = pieces_so_far(state)
    return SoFar(
        _tank(state, begun=bool(pieces)),
        pieces,
        _colours(state),
        _corrected(state),
        _stands(state),
        _spent(state),
        _at_least(state),
        _gone_in(state),
    )


def pieces_so_far(state: State) -> dict[str, PieceSoFar]:
    """Give what every piece that the plan has had in the vat has had."""
    found = {piece: _piece(state.plan, piece, where) for piece, where in state.dipping.pieces.items()}
    return {piece: had for piece, had in found.items() if had is not None}


def _gone_in(state: State) -> frozenset[str]:
    """Give the figures that the steps done so far name: what was weighed, drawn and warmed."""
    if not state.done:
        return frozenset()
    from vatside.dayline.step_uses import figures_in  # late: a day that has not begun names none

    return frozenset(figure for step in state.done for figure in figures_in(state.plan, step))


def _at_least(state: State) -> dict[str, int]:
    """Give the dips that a piece has at least: those that the dyer wants, the one that it is in for included."""
    inside = {piece: where.dips for piece, where in state.dipping.pieces.items() if where.place is Place.IN_VAT}
    wanted = state.dipping.at_least
    return {piece: max(inside.get(piece, 0), wanted.get(piece, 0)) for piece in {**inside, **wanted}}


def _corrected(state: State) -> str:
    """Give the pH by the account once more went into the vat than the plan has; empty before, and without a vat."""
    account = state.tending.account
    if state.plan.kept is not None and not state.tending.topped_up:
        return ""  # what goes into a kept vat until then is written into the plan itself
    if account is None or not any(changes_pH(made.event) for made in state.tending.corrections):
        return ""
    try:
        return _predicted(account).text
    except ValueError:
        return ""


def _stands(state: State) -> float | None:
    """Give the pH in a vat into which more went than the plan has: as read since, or else by the account."""
    account, tending = state.tending.account, state.tending
    if account is None or not _corrected(state):
        return None
    taken = tending.readings[-1].reading if tending.readings else None
    put_in = any(made.readings == len(tending.readings) and changes_pH(made.event) for made in tending.corrections)
    if taken is None or taken.pH is None or put_in:
        return _predicted(account).pH
    sample_C = account.celsius if taken.sample_celsius is None else taken.sample_celsius
    return taken.pH - SLOPE * (account.celsius - sample_C)


def _spent(state: State) -> Bath | None:
    """Give the spent vat, of one into which more went than the plan has, that was dipped in, or is at its end."""
    account = state.tending.account
    if account is None or not (state.tending.seen_spent or state.dipping.pieces or _corrected(state)):
        return None
    return spent_and_cool(account.bath)


@lru_cache(maxsize=4)
def _predicted(account: Account) -> Prediction:
    """Remembered: the desk asks after every event."""
    return predict(account)


def _tank(state: State, *, begun: bool) -> Tank | None:
    if state.plan.kept is not None and not state.tending.topped_up and not begun:
        return None  # what is kept in the tub is not the vat of this day yet
    if not begun and any(isinstance(entry.event, LotDipped) for entry in state.entries):
        return None  # dips written down for a whole lot: what its pieces have is not known, so the plan stands
    if state.tending.account is not None:
        return tank_of(state.tending.account)
    return GONE if begun and state.tending.let_go is not None else None


def _piece(plan: Plan, piece: str, where: PieceState) -> PieceSoFar | None:
    """Give one piece; None if the plan no longer has it."""
    try:
        lot, _ = lot_of(plan, piece)
    except KeyError:
        return None
    grams = clean_grams(plan, lot) / max(lot.pieces, 1)
    ended = where.dips - (where.place is Place.IN_VAT)
    return PieceSoFar(where.on.depth(grams), where.on.goes, ended, where.place is Place.DONE)


def _colours(state: State) -> dict[str, CameOut]:
    """Give the colour that each lot came out with; nothing is fitted as long as none was recorded."""
    if not state.dipping.swatches and not any(isinstance(entry.event, ColourNoted) for entry in state.entries):
        return {}
    from vatside.log.colours import came_out

    return came_out(state)
