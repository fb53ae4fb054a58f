"""What must be over before a step or a dip, by the rows of the step tables: what comes before what, as it is laid."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from vatside.dayline.steps import Step
from vatside.dayline.tasks import JOINS, held_by, template
from vatside.log.waits import Wait, is_over, is_paused, remaining
from vatside.outlook.dip_board import lots_dipped
from vatside.outlook.hand_acts import Doing, Scene
from vatside.plan.batches import baths
from vatside.plan.sheet import Stage
from vatside.units import show_countdown
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
