"""Dips that nobody wrote down: asked about, once, before what comes after them; written down as planned, if she dipped.

What each piece of a lot had is not known then: the dips stand for the lot as a whole.
"""

from __future__ import annotations

from collections.abc import Iterator

from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.dayline.tasks import template
from vatside.dips.rotation import Piece
from vatside.log.events.vat import LotDipped
from vatside.outlook.dip_board import lots_dipped, pieces_of
from vatside.outlook.hand_acts import Doing, Scene
from vatside.plan.batches import batches
from vatside.plan.measures import fibre_key
from vatside.plan.plan import Lot
from vatside.units import show_count, show_minutes
from vatside.vat.interlocks import Block


def not_dipped(scene: Scene, doing: Doing) -> Block | None:
    """The dips ticked, or fibre hung for its last airing, of which no piece was ever in the vat."""
    lots = _missing(scene, doing.subject)
    if not lots:
        return None
    one, has_vat = len(lots) == 1, scene.state.tending.account is not None
    goes_on = f"writes {'its' if one else 'their'} dips down as planned ({_words(scene, lots)}) and goes on"
    return Block(
        f"No dip of {' and '.join(lot.name for lot in lots)} is written down.",
        f"Dip {'it' if one else 'them'} on the board (d). If {'it was' if one else 'they were'} dipped without the "
        f"board, y {goes_on if has_vat else 'goes on; no vat is written down that its dips could come out of'}.",
        final=False,
        after="The dips are written down as planned." if has_vat else "",
        once=True,
    )


def dips_as_planned(scene: Scene, step: str) -> Iterator[LotDipped]:
    """Give the dips that the lots before a step were to have, round by round; none where no vat is known."""
    if scene.state.tending.account is None:
        return
    by_lot = [_pieces(scene, lot) for lot in _missing(scene, step)]
    for had in range(max((piece.dips for pieces in by_lot for piece in pieces), default=0)):
        for pieces in by_lot:
            count = sum(piece.dips > had for piece in pieces)
            if count:
                yield LotDipped(pieces[0].lot, count, pieces[0].dip_min)


def _missing(scene: Scene, step: str) -> tuple[Lot, ...]:
    """Give the lots that come before a step and of which no dip is known; none once the dips were ticked."""
    state = scene.state
    if ROTATE in state.done:
        return ()
    known = lots_dipped(state)
    return tuple(lot for lot in _lots_before(scene, step) if lot.id not in known and _pieces(scene, lot))


def _lots_before(scene: Scene, step: str) -> Iterator[Lot]:
    plan = scene.state.plan
    if step in (GENTLE, ROTATE):
        gentle = {piece.lot for piece in pieces_of(scene.state, scene.sheet) if not piece.phase}
        yield from (lot for lot in plan.lots if step == ROTATE or lot.id in gentle)
    for batch in batches(plan):
        if step.startswith(batch.id("")) and _is_first(scene, batch.id(""), step):
            yield from (lot for lot in plan.lots if fibre_key(lot) == batch.key)


def _is_first(scene: Scene, bath: str, step: str) -> bool:
    """Tell whether nothing of the finish of a fibre was begun; its wash water may be warmed at any time."""
    after = [item.id for item in scene.steps if item.id.startswith(bath) and template(item).follows != ()]
    over = {wait.step for wait in scene.state.past_waits}
    return step in after and not any(item in over or scene.begun(item) for item in after)


def _pieces(scene: Scene, lot: Lot) -> tuple[Piece, ...]:
    return tuple(piece for piece in pieces_of(scene.state, scene.sheet) if piece.lot == lot.id and piece.dips)


def _words(scene: Scene, lots: tuple[Lot, ...]) -> str:
    """Say how many dips each lot was to have, and how long."""
    longest = (max(_pieces(scene, lot), key=lambda piece: piece.dips) for lot in lots)
    return ", ".join(f"{show_count(piece.dips, 'dip')} of {show_minutes(piece.dip_min)}" for piece in longest)
