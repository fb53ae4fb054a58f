"""What must be over, or written down, before a step or a dip, by the rows of the step tables: what comes before what.

Dips that nobody wrote down are asked about, once, before what comes after them; they are written down as planned, if
she dipped. What each piece of a lot had is not known then: the dips stand for the lot as a whole.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.dayline.steps import Step
from vatside.dayline.tasks import JOINS, held_by, template
from vatside.dips.rotation import Piece
from vatside.log.events.vat import LotDipped
from vatside.log.waits import Wait, is_over, is_paused, remaining
from vatside.outlook.dip_board import lots_dipped, pieces_of
from vatside.outlook.hand_acts import Doing, Scene
from vatside.plan.batches import batches, baths
from vatside.plan.measures import fibre_key
from vatside.plan.plan import Lot
from vatside.plan.sheet import Stage
from vatside.units import show_count, show_countdown, show_minutes
from vatside.vat.interlocks import Block

NEEDS_STAGE = dict.fromkeys(JOINS, Stage.STOCK) | {"dip.warm": Stage.VAT}
"""Steps that come after a whole other stage, too."""


def wait_needed(scene: Scene, step: Step) -> Wait | None:
    """Give a wait that is not over and that a step needs; None where there is none.

    A step that was done all the same asked for what stood before it then, so the search ends there.
    """
    open_ = {wait.step: wait for wait in scene.state.waits if wait.step and not is_over(wait, scene.at)}
    todo, seen = [step] if open_ else [], {step.id}
    while todo:
        for item in _before(scene.steps, todo.pop()):
            if item.id in open_:
                return open_[item.id]
            if item.id not in seen and (item.id not in scene.state.done or template(item).meanwhile):
                todo.append(item)
            seen.add(item.id)
    return _pot_taken(scene, step, open_)


def _before(steps: Sequence[Step], step: Step) -> Iterator[Step]:
    """Give the steps that come right before one."""
    stage = [item for item in steps if item.stage is NEEDS_STAGE.get(step.id)]
    yield from stage[-1:]
    above = _above(steps, step)
    follows = template(step).follows
    if follows is None:
        yield from above[-1:]
        return
    for name in follows:
        yield from [item for item in above if template(item).id == name][-1:]


def _above(steps: Sequence[Step], step: Step) -> Sequence[Step]:
    siblings = [item for item in steps if item.stage is step.stage and item.group == step.group]
    return siblings[: siblings.index(step)] if step in siblings else ()


def _pot_taken(scene: Scene, step: Step, open_: Mapping[str, Wait]) -> Wait | None:
    """Give the wait of what lies in the last pot, if a step fills one."""
    if not _fills_pot(step):
        return None
    there = (item for item in scene.steps if item.id in open_ and _lies_in_pot(scene.steps, item))
    waits = [open_[item.id] for item in there]
    return waits[0] if len(waits) > len(scene.state.plan.place.pots) else None


def _fills_pot(step: Step) -> bool:
    return any(thing == "pot" for thing, _, _ in held_by(step))


def _lies_in_pot(steps: Sequence[Step], step: Step) -> bool:
    """Tell whether a step lies between the filling of a pot and the step that frees it."""
    for item in reversed((*_above(steps, step), step)):
        if template(item).id in ("rinse", "last_rinse"):
            return False
        if _fills_pot(item):
            return True
    return False


def wait_runs(scene: Scene, doing: Doing) -> Block | None:
    """A step begun or done while a wait runs that it needs."""
    step = scene.step(doing.subject)
    wait = wait_needed(scene, step) if step and not template(step).meanwhile else None
    if wait is None:
        return None
    left = show_countdown(remaining(wait, scene.at))
    return Block(
        f"{wait.label} {'stands still with' if is_paused(wait) else 'has'} {left} to go.",
        "Wait for it; if it is over sooner, e on it ends it.",
        final=False,
        once=True,
    )


def scour_left(scene: Scene, doing: Doing) -> Block | None:
    """The first dip of a lot whose scour is not ticked to its end; of several loads one is enough.

    Who ticks no scour at all may have scoured on another day: she is asked before the first dip of all alone.
    """
    lot, state = doing.subject.partition(".")[0], scene.state
    bath = next((bath for bath in baths(state.plan) if any(item.id == lot for item in bath.lots)), None)
    if bath is None or lot in lots_dipped(state):
        return None
    steps = [step for step in scene.steps if step.id.startswith(bath.id(""))]
    ends = {template(step).id for step in steps[-1:]}
    if any(step.id in state.done for step in steps if template(step).id in ends):
        return None
    left = [step for step in steps if step.id not in state.done]
    if not any(scene.begun(step.id) for step in steps) and (not bath.scour.baths or _asked_before(scene)):
        return None
    words = left[0].text.partition(":")[0].partition(";")[0]
    begun = left != steps
    wanted, begins = ("wetted out", "Wet it out") if bath.unscoured else ("scoured", "Scour it")
    return Block(
        f"The {bath.called} is still to be {wanted}{' to the end' if begun else ''}; next: {words}.",
        f"{'Finish it' if begun else begins} and tick its steps. If that was done, y goes on.",
        final=False,
        once=True,
    )


def _asked_before(scene: Scene) -> bool:
    """Tell whether a lot went in already on a day that ticks no step of any scour."""
    begun = any(scene.begun(step.id) for step in scene.steps if step.stage is Stage.SCOUR)
    return bool(lots_dipped(scene.state)) and not begun


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
