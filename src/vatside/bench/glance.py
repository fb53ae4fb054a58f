"""Everything on the screen that moves with the clock, as it stands at one moment: the open waits, and the whole."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from datetime import datetime
from typing import TYPE_CHECKING

from attrs import frozen

from vatside.log import waits as running
from vatside.log.waits import Moment, Wait
from vatside.plan.sheet import Stage

if TYPE_CHECKING:
    from vatside.dayline.steps import Step  # brings chemistry along, and the first screen shows no step


@frozen
class WaitView:
    """One wait as it stands at a moment."""

    id: str
    number: int
    """Which key chooses it."""
    label: str
    left: float
    """Seconds to go; negative once it is over."""
    share: float
    """How much of it has elapsed, 0 to 1."""
    paused: bool = False
    ringing: bool = False
    """Its alarm, or that of its latest nudge, sounds until someone quiets it."""
    nudge: str = ""
    """What to do at the next call, or what the ringing call asks for."""
    nudge_left: float | None = None
    """Seconds to that call; None: none to come."""
    step: str | None = None

    @property
    def over(self) -> bool:
        """Its time is up."""
        return self.left <= 0


def waits_seen(waits: Iterable[Wait], step: Callable[[str], Step | None], now: Moment) -> tuple[WaitView, ...]:
    """Give the waits, ringing ones first, then by what is left; `step` finds a step by its id."""
    views = [_seen(wait, step(wait.step) if wait.step else None, now) for wait in waits]
    return tuple(sorted(views, key=lambda view: (not view.ringing, view.paused, view.left)))


def _seen(wait: Wait, step: Step | None, now: Moment) -> WaitView:
    ring = running.ringing(wait, now)
    coming = running.next_nudge(wait, now)
    gone = running.elapsed(wait, now)
    at = gone + coming if coming is not None else 0.0
    return WaitView(
        id=wait.id,
        number=wait.number,
        label=wait.label,
        left=running.remaining(wait, now),
        share=running.elapsed_share(wait, now),
        paused=running.is_paused(wait),
        ringing=ring is not None,
        nudge=_nudge_words(wait, step, gone if ring else at, late=ring is not None),
        nudge_left=coming,
        step=wait.step,
    )


def _nudge_words(wait: Wait, step: Step | None, second: float, *, late: bool) -> str:
    """Say what the nudge at a second of the wait asks for (or, if late, the latest one before it)."""
    nudges = step.nudges if step else ()
    due = [nudge for nudge in nudges if nudge.minute * 60 <= second + 0.5]
    if due and (late or abs(due[-1].minute * 60 - second) < 1):
        return due[-1].label
    past = [minute for minute in wait.nudges if minute * 60 <= second]
    return running.nudge_words(wait, max(past) if late and past else second / 60)


@frozen
class Glance:
    """One look at the bench."""

    now: Moment
    waits: tuple[WaitView, ...]
    progress: Progress
    marks: Mapping[str, int]
    """Figures that changed a moment ago."""

    @property
    def ringing(self) -> tuple[WaitView, ...]:
        """Waits that want to be heard."""
        return tuple(wait for wait in self.waits if wait.ringing)


@frozen
class Progress:
    """How far the day has come."""

    done: AbstractSet[str]
    running: Mapping[str, WaitView]
    """Running waits by their step."""
    passed: AbstractSet[str] = frozenset()
    """Steps that nobody ticked and that have become pointless."""

    @property
    def over(self) -> AbstractSet[str]:
        """Steps of which nothing is left to do."""
        return self.done | self.passed


def next_step(steps: Sequence[Step], progress: Progress) -> Step | None:
    """Give the first step that is neither over nor running."""
    return next((item for item in steps if item.id not in progress.over and item.id not in progress.running), None)


MAKES_READY = (Stage.SCOUR, Stage.STOCK, Stage.VAT)
"""Stages whose order is the day's own; the dips and the finish follow when all three are done."""


def next_of_day(steps: Sequence[Step], progress: Progress, starts: Mapping[str, datetime]) -> Step | None:
    """Give the step to go on with: of scour, stock and vat what `starts` has soonest, else the first."""
    firsts = [
        step
        for own in dict.fromkeys((item.stage, item.group) for item in steps)
        if (step := next_step([item for item in steps if (item.stage, item.group) == own], progress))
    ]
    known = [item for item in firsts if item.stage in MAKES_READY and item.id in starts]
    return min(known, key=lambda item: starts[item.id]) if known else next(iter(firsts), None)
