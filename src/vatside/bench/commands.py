"""What the dyer wants done, as the events that say it was, and what is done only once its key is pressed again."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from vatside.dayline.steps import Step
from vatside.forms.fields import FieldValue, get_value, is_pin, read, set_value
from vatside.log.events import day as events
from vatside.plan.paths import WEIGHT, pieces_of, with_method
from vatside.plan.plan import Plan
from vatside.plan.sheet import Remedy
from vatside.units import Amount, Problem, times

METHOD = "method"
"""The place of the kind of vat in a plan."""


def change(plan: Plan, path: str, text: str, now: datetime | None = None) -> events.Event | Problem:
    """Read a typed text into the event that sets a field, or holds or frees a figure.

    `now` (naive local) dates an hour: the next time it comes round. KeyError if the plan has no such place.
    """
    value = read(plan, path, text, now)
    if isinstance(value, Problem):
        return value
    pieces = times(text) if path.startswith("lots.") and path.endswith(f".{WEIGHT}") else None
    if not pieces or pieces < 2:
        return put(path, value)
    many = read(plan, pieces_of(path), str(pieces))
    return many if isinstance(many, Problem) else events.PiecesWeighed(path, value, pieces)


def planned(plan: Plan, event: events.Event) -> Plan:
    """Give the plan after what was typed; the same one where everything stands there already."""
    if isinstance(event, events.MethodChosen):
        return with_method(plan, str(event.value))
    for path, value in _places(event):
        if value != get_value(plan, path):
            plan = set_value(plan, path, value)
    return plan


def _places(event: events.Event) -> Iterator[tuple[str, FieldValue]]:
    if isinstance(event, events.PlanChanged):
        yield event.path, event.value
    if isinstance(event, events.PiecesWeighed):
        yield pieces_of(event.path), event.pieces
    if isinstance(event, events.PinSet | events.PinCleared):
        yield event.figure, event.amount if isinstance(event, events.PinSet) else None


def put(path: str, value: FieldValue) -> events.Event:
    """Give the event that sets a field to a value, or holds or frees a figure."""
    if path == METHOD:
        return events.MethodChosen(path, value)
    if not is_pin(path):
        return events.PlanChanged(path, value)
    return events.PinSet(path, value) if isinstance(value, Amount) else events.PinCleared(path)


def take(remedy: Remedy) -> events.AdviceTaken:
    """Give the event that takes a remedy as a whole."""
    return events.AdviceTaken(remedy.label, tuple(events.Put(path, amount) for path, amount in remedy.places))


def start_wait(step: Step, seq: int) -> events.WaitStarted:
    """Start the wait of a step; `seq` (of the event to come) makes its id unique in the session."""
    if step.minutes is None:
        raise ValueError(f"{step.id} has no wait")
    return events.WaitStarted(
        wait=f"w{seq}",
        step=step.id,
        label=step.wait_label or step.id,
        minutes=step.minutes,
        nudges=tuple(nudge.minute for nudge in step.nudges),
        nudge_labels=tuple(nudge.label for nudge in step.nudges),
    )


def free_wait(label: str, minutes: float, seq: int) -> events.WaitStarted:
    """Start a wait that belongs to no step."""
    return events.WaitStarted(wait=f"w{seq}", step=None, label=label, minutes=minutes)


def acknowledge(step: Step) -> events.CautionAcknowledged:
    """Say that the cautions of a step were read."""
    return events.CautionAcknowledged(
        step.id, tuple(item.id for item in step.cautions), tuple(item.here for item in step.cautions)
    )


ASKS_FOR = 20.0
"""Seconds for which a second press is the answer: long enough to read two lines at the stove. Ours, no source."""


class OnceMore:
    """What was asked about last; the same again, soon enough, is a yes."""

    def __init__(self, seconds: float = ASKS_FOR) -> None:
        self._seconds = seconds
        self._what: object = None
        self._until = 0.0

    def answers(self, what: object, now: float) -> bool:
        """Tell whether this was asked about a moment ago; if not, it is asked about from now (seconds) on."""
        yes = self._what is not None and self._what == what and now < self._until
        self._what, self._until = (None, 0.0) if yes else (what, now + self._seconds)
        return yes
