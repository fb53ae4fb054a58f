"""The open waits as they stand at one moment, with what each asks for next."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from vatside.bench.wait_view import WaitView
from vatside.dayline.steps import Step
from vatside.log import waits as running
from vatside.log.moment import Moment
from vatside.log.waits import Wait


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
