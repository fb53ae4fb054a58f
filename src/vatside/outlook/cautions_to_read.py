"""Which cautions are still to be read before something is logged: not today, or not of this danger."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from attrs import evolve, frozen

from vatside.dayline.cautions import caution
from vatside.dayline.steps import Step
from vatside.log.effects.day import REDUCER
from vatside.log.events.day import Event
from vatside.log.events.vat import CorrectionMade
from vatside.log.fold import State
from vatside.log.moment import Moment
from vatside.outlook.hand_acts import Act, Doing, Scene, dip_step, doings, steps_begun
from vatside.outlook.stands import account_now
from vatside.plan.measures import celsius
from vatside.plan.sheet import Stage
from vatside.recipe.dose import Dose
from vatside.recipe.stages.stock import LEAST_JUG_L
from vatside.vat.dosing import dissolving_litres
from vatside.vat.interlocks import Block, Care, acid, lye

DAMP = "damp-reducer"
"""The interlock of reducer whose tub was not found dry and cool."""
GLOVES = "gloves"
"""The caution before the first dip of a day."""


@frozen
class Unread:
    """Cautions that must be read before a step, a dip or an addition."""

    step: Step
    """With its cautions; one of its own where no step of the day is meant."""

    @property
    def rule(self) -> str:
        """Name the interlock that it belongs to."""
        return DAMP if self.asks_tub else "unread"

    @property
    def asks_tub(self) -> bool:
        """Tell whether the tub of reducer is to be looked into."""
        return any(item.id == REDUCER for item in self.step.cautions)


def unread(scene: Scene, events: Sequence[Event]) -> Iterator[Unread]:
    """Give what is to be read before these events."""
    for step in _to_read(scene, events):
        if not is_read(scene.state, step, scene.at):
            yield Unread(step)


def _to_read(scene: Scene, events: Sequence[Event]) -> Iterator[Step]:
    yield from steps_begun(scene, events)
    found = [doing for doing in doings(scene, events) if doing.event is not None]
    if any(doing.act is Act.DIP for doing in found) and not _gloves_on(scene):
        step = dip_step(scene)
        if step is not None:
            yield evolve(step, text=found[0].text, cautions=(*step.cautions, caution(GLOVES)))
    for doing in found:
        if doing.what is not None and doing.act in (Act.ALKALI, Act.REDUCER, Act.ACID):
            yield _addition(scene, doing)


def is_read(state: State, step: Step, at: Moment) -> bool:
    """Tell whether every caution of a step that must be read was, today and of this danger."""
    known = state.acknowledged.get(step.id, {})
    return all(_counts(known.get(item.id), item.here, at) for item in step.cautions if item.must_acknowledge)


def _counts(read: tuple[Moment, str | None] | None, here: str, at: Moment) -> bool:
    return read is not None and _day(read[0]) == _day(at) and read[1] in (None, here)


def _day(at: Moment) -> date:
    """Give the day on the wall."""
    return at.utc.astimezone().date()


def _gloves_on(scene: Scene) -> bool:
    return any(_day(read[GLOVES][0]) == _day(scene.at) for read in scene.state.acknowledged.values() if GLOVES in read)


def _addition(scene: Scene, doing: Doing) -> Step:
    """Give what goes in by hand as a step, for its cautions; what it comes to here stands in front of them."""
    event, care = doing.event, _care(scene, doing)
    named = doing.what.material.cautions if doing.what else ()
    if not isinstance(event, CorrectionMade):
        raise TypeError(f"{doing.act} is no addition")
    key = f"{event.finding}.{event.remedy}" if event.finding else event.remedy or f"added.{event.material}"
    here = () if care is None else (care.text,)
    return Step(f"care.{key}", Stage.VAT, doing.text, 0.0, cautions=tuple(caution(name, *here) for name in named))


def _care(scene: Scene, doing: Doing) -> Care | None:
    """Say what to mind of an amount that may go in."""
    found: Block | Care | None = None
    account = account_now(scene.state, scene.sheet)
    if doing.is_lye and doing.what is not None:
        water = max(dissolving_litres(Dose(doing.what, doing.grams)), LEAST_JUG_L)
        found = lye(doing.grams * doing.what.purity, water, celsius(scene.state.plan.water.cold))
    elif doing.act is Act.ACID and account is not None:
        found = acid(account, 0.0, seen_spent=scene.state.tending.seen_spent)
    return found if isinstance(found, Care) else None
