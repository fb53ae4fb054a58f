"""What the dips bring to other screens: the next thing to do at the vat, on the stage and in the far view."""

from __future__ import annotations

from vatside.bench.desk import Desk
from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.dips.rotation import Place
from vatside.log.waits import Moment
from vatside.outlook import dip_board
from vatside.ui.text.rows import Row, Signs


def call(desk: Desk, now: Moment, width: int) -> tuple[Row, ...]:
    """Say on the stage of the dips what to do next at the vat; nothing before the first dip and after the last."""
    if not _under_way(desk):
        return ()
    from vatside.bench.dip_acts import board
    from vatside.ui.dips.dip_rows import call_rows

    return call_rows(board(desk, now), width)


def far_call(desk: Desk, now: Moment) -> str:
    """Give the next thing to do at the vat in one line; empty while no dips are under way."""
    if not _under_way(desk):
        return ""
    from vatside.bench.dip_acts import board
    from vatside.ui.dips.dip_rows import call_line

    return call_line(board(desk, now))


def is_board(desk: Desk, step: str) -> bool:
    """Tell whether a step is done by the board: until every piece it names is done, or the dyer has ticked it."""
    if step not in (GENTLE, ROTATE) or step in desk.state.done:
        return False
    if step == GENTLE:
        return dip_board.gentle_left(desk.state, dip_board.pieces_of(desk.state, desk.sheet))
    return _some_left(desk)


def _under_way(desk: Desk) -> bool:
    """Tell whether pieces have been in the vat and some are still to come to their end, before the board is loaded."""
    return bool(desk.state.dipping.pieces) and _some_left(desk)


def _some_left(desk: Desk) -> bool:
    known, pieces = desk.state.dipping.pieces, dip_board.pieces_of(desk.state, desk.sheet)
    return any(piece.id not in known or known[piece.id].place is not Place.DONE for piece in pieces)


def ladder(desk: Desk, path: str, width: int, signs: Signs, *, painted: bool, tall: bool) -> tuple[Row, ...]:
    """Show the ladder of the lot whose depth is being set; nothing in any other field."""
    if not path.endswith(".depth"):
        return ()
    from vatside.bench import depths
    from vatside.ui.dips.dip_rows import ladder_rows

    lot = depths.lot_at(desk.plan, path)
    if lot is None:
        return ()
    lot_ladder = depths.ladder_of(lot, depths.own_colour(desk, lot), painted=painted)
    return ladder_rows(lot_ladder, width, signs, tall=tall)
